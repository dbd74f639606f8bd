"""A page that shows what is not so is told from one that does."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.guide.examples import CarriedOut, carry_out

PAGE = """
```console
$ quoter demo copy
copy: build it with ...
$ quoter check copy
{shown}
```

In `yard.yaml` change `target_margin: 30 %` to `target_margin: 31 %`. Under `moulds:` of
`moulds.yaml` add

```yaml
- {{id: spare, name: Spare mould, cost: 100 EUR, life: 10, pulls_per_year: 1, write_off_years: 1}}
```

```console
$ quoter check copy
```
"""


@pytest.fixture(autouse=True)
def _empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_a_page_is_carried_out_in_its_order(tmp_path: Path) -> None:
    shown = "no problems: 5 models, ... price list of 2026-11-01"
    assert carry_out(PAGE.format(shown=shown), tmp_path) == CarriedOut(3, 1, 1)
    assert "target_margin: 31 %" in (tmp_path / "copy" / "yard.yaml").read_text("utf-8")
    assert "id: spare" in (tmp_path / "copy" / "moulds.yaml").read_text("utf-8")


@pytest.mark.parametrize("shown", ["no problems: 6 models", "no problems: 5 models"])
def test_a_shown_line_that_is_not_printed_is_told(shown: str, tmp_path: Path) -> None:
    assert carry_out(PAGE.format(shown=shown), tmp_path).untrue == (shown,)


def test_a_command_that_fails_stops_the_page(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="quoter check nowhere"):
        carry_out("$ quoter check nowhere", tmp_path)


def test_a_change_needs_its_place(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="0 times"):
        carry_out("In `yard.yaml` change `no such text` to `another`.", tmp_path)
