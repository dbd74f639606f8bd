"""A build where nothing has changed says so and writes nothing; whatever differs is built."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter import build
from quoter.catalogue.adding import JOURNAL
from quoter.cli import main
from quoter.publish import kept
from quoter.publish.manifest import MANIFEST, STAGING
from tests.catalogues.written import COST_CARD
from tests.publish.folders import everything

UNCHANGED = "nothing has changed since the last build; --afresh builds all the same\n"


def built(place: Path, *options: str) -> Result:
    words = ["build", place / "catalogue", "--site", place / "site", *options]
    return CliRunner().invoke(main, [str(w) for w in (*words, "--internal", place / "internal")])


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A catalogue, built."""
    shutil.copytree(COST_CARD, tmp_path / "catalogue")
    assert built(tmp_path).exit_code == 0
    return tmp_path


def edited(place: Path, name: str, old: str, new: str) -> None:
    text = (place / "catalogue" / name).read_text(encoding="utf-8")
    assert old in text
    (place / "catalogue" / name).write_text(text.replace(old, new, 1), encoding="utf-8")


def told_again(first: str) -> str:
    """What a build says where nothing has changed: its day, that it is so, and the rest."""
    day, rest = first.split("\n", 1)
    return f"{day}\n{UNCHANGED}{rest}"


def test_nothing_is_written_where_nothing_has_changed_and_all_is_said_as_before(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, first = everything(place), built(place, "--afresh")
    monkeypatch.setattr(build, "render", None)
    again = built(place)
    assert (again.exit_code, again.stdout) == (0, told_again(first.stdout))
    assert again.stderr == first.stderr
    assert everything(place) == before


def test_warnings_are_told_again(place: Path) -> None:
    edited(place, "yard.yaml", "prices_stale_after_days: ", "prices_stale_after_days: 1  # ")
    first, again = built(place, "--as-of", "2026-12-01"), built(place, "--as-of", "2026-12-01")
    assert first.exit_code == again.exit_code == 0
    assert "warning" in first.stderr
    assert (again.stdout, again.stderr) == (told_again(first.stdout), first.stderr)


def grown(place: Path) -> None:
    with (place / "catalogue" / "models.yaml").open("a") as file:
        file.write("# a remark\n")


def a_page_is_gone(place: Path) -> None:
    (place / "site" / "index.html").unlink()


def a_list_is_gone(place: Path) -> None:
    (place / "site" / MANIFEST).unlink()
    shutil.rmtree(place / "site")


def a_stopped_build(place: Path) -> None:
    (place / "internal" / STAGING).mkdir()


def a_list_cut_short(place: Path) -> None:
    manifest = place / "internal" / MANIFEST
    lines = manifest.read_text().split("\n")
    manifest.write_text("\n".join(line for line in lines if not line.startswith("# beside")))


def a_word_of_somebody(place: Path) -> None:
    """After the notes, where warnings stand."""
    manifest = place / "internal" / MANIFEST
    head, _, rest = manifest.read_text().partition("\n# beside")
    beside, _, files = rest.partition("\n")
    manifest.write_text(f"{head}\n# beside{beside}\n# warning: {{\n{files}")


def a_stopped_import(place: Path) -> None:
    (place / "catalogue" / JOURNAL).write_text("{}")


def a_folder(place: Path) -> None:
    (place / "catalogue" / "prices" / "notes").mkdir()


@pytest.mark.parametrize(
    "change",
    [
        grown,
        a_page_is_gone,
        a_list_is_gone,
        a_list_cut_short,
        a_word_of_somebody,
        a_stopped_build,
        a_folder,
    ],
)
def test_whatever_differs_is_built(place: Path, change: Callable[[Path], None]) -> None:
    change(place)
    result = built(place)
    assert (result.exit_code, UNCHANGED in result.stdout) == (0, False)
    assert UNCHANGED in built(place).stdout


def test_what_a_stopped_import_left_is_looked_at_by_a_reading_alone(place: Path) -> None:
    a_stopped_import(place)
    assert UNCHANGED not in built(place).stdout


@pytest.mark.parametrize("option", ["--strict", "--no-site", "--as-of=2026-12-01"])
def test_what_is_asked_for_otherwise_is_built(place: Path, option: str) -> None:
    words = ["build", place / "catalogue", option, "--internal", place / "internal"]
    if option != "--no-site":
        words += ["--site", place / "site"]
    first, again = (CliRunner().invoke(main, [str(word) for word in words]) for _ in range(2))
    assert UNCHANGED not in first.stdout
    assert UNCHANGED in again.stdout


def test_a_site_that_another_build_wrote_is_built(place: Path) -> None:
    other = ("build", COST_CARD, "--set", "wages=+40%", "--site", place / "site")
    words = [str(word) for word in (*other, "--internal", place / "other")]
    assert CliRunner().invoke(main, words).exit_code == 0
    assert UNCHANGED not in built(place).stdout


def test_another_program_builds(
    place: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "package"
    package.mkdir()
    (package / "formula.py").write_text("1 + 1\n")
    monkeypatch.setattr(kept, "PACKAGE", package)
    assert UNCHANGED not in built(place).stdout
    assert UNCHANGED in built(place).stdout
    (package / "formula.py").write_text("1 + 2\n")
    assert UNCHANGED not in built(place).stdout


def test_a_list_that_is_no_text_is_refused_as_ever(place: Path) -> None:
    manifest = place / "internal" / MANIFEST
    manifest.write_bytes(manifest.read_bytes().replace(b"made", b"\xff"))
    result = built(place)
    assert result.exit_code == 1
    assert f"{manifest} is damaged" in result.stderr


def test_what_was_changed_by_hand_is_refused_as_ever(place: Path) -> None:
    page = place / "internal" / "costing.json"
    page.write_bytes(b"{}")
    result = built(place)
    assert result.exit_code == 1
    assert f"{page} was changed since a build wrote it" in result.stderr


def test_quotes_within_the_public_folder_are_refused_as_ever(place: Path) -> None:
    record = place / "site" / "2026-0001" / "record.json"
    record.parent.mkdir()
    record.write_text("{}")
    result = built(place)
    assert result.exit_code == 1
    assert f"{record.parent} holds a quote with its costs" in result.stderr


def test_the_public_list_says_nothing_of_what_it_was_made_from(place: Path) -> None:
    assert b"made from" in (place / "internal" / MANIFEST).read_bytes()
    listed = (place / "site" / MANIFEST).read_text().split("\n")
    assert [line for line in listed if line.startswith("#")] == [
        "# quoter build, format 1: replaces and deletes the files listed here, and leaves all "
        "others",
        f"# `sha256sum --check {MANIFEST}` tells which of them were changed since",
    ]
