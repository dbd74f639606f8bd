"""Folders and files of a catalogue that can't be opened are told by their names."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.problems import CatalogueError
from tests.catalogues.written import FOLDER, write_catalogue


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    return write_catalogue(tmp_path / "yard", {}, base=FOLDER / "sound")


def told(yard: Path) -> list[str]:
    with pytest.raises(CatalogueError) as fault:
        load_catalogue(yard)
    return [str(problem) for problem in fault.value.problems]


@pytest.mark.parametrize("name", ["prices", "translations"])
def test_a_folder_that_may_not_be_read_is_told(
    yard: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the system refuses somebody else's folder; who runs tests may read all."""
    (yard / name).mkdir(exist_ok=True)
    listing = Path.iterdir

    def refused(folder: Path) -> object:
        if folder.name == name:
            raise PermissionError(13, "Permission denied", str(folder))
        return listing(folder)

    monkeypatch.setattr(Path, "iterdir", refused)
    hint = "the system says: Permission denied"
    first = f"{name}: the folder can't be opened [unreadable-file]\n    {hint}"
    assert told(yard)[0] == first


def test_a_file_in_place_of_the_folder_of_prices_is_told(yard: Path) -> None:
    (yard / "prices").rename(yard / "lists")
    (yard / "prices").write_text("", encoding="utf-8")
    first = (
        "prices: the folder can't be opened [unreadable-file]\n    the system says: Not a directory"
    )
    assert told(yard) == [first]


def test_a_link_to_a_price_list_that_is_gone_is_no_empty_list(yard: Path) -> None:
    (yard / "prices" / "2026-12-01.csv").symlink_to("gone.csv")
    assert told(yard) == [
        "prices/2026-12-01.csv: the file can't be opened [unreadable-file]\n"
        "    the system says: No such file or directory"
    ]
