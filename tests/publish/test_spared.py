"""A build does the tasks whose files would differ, and leaves the files of the others."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from quoter.build import build
from tests.catalogues.written import FOLDER
from tests.publish.folders import everything


def edited(place: Path, name: str, old: str, new: str) -> None:
    path = place / "catalogue" / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def built(place: Path, *, afresh: bool = False) -> list[str]:
    """Build, and tell what was done."""
    told: list[str] = []
    site, internal = ("fresh_site", "fresh") if afresh else ("site", "internal")
    folders = place / site, place / internal
    build(place / "catalogue", *folders, say=told.append, made="a mark", afresh=afresh)
    return [words.removeprefix("writing the ") for words in told if words.startswith("writing")]


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A catalogue of two boats, built."""
    shutil.copytree(FOLDER / "small", tmp_path / "catalogue")
    assert "workbook and papers of Tern Skiff" in built(tmp_path)
    return tmp_path


def is_as_afresh(place: Path) -> bool:
    built(place, afresh=True)
    return everything(place / "site") == everything(place / "fresh_site") and everything(
        place / "internal"
    ) == everything(place / "fresh")


def test_a_note_that_nothing_shows_changes_the_data_of_costs_alone(place: Path) -> None:
    edited(place, "models.yaml", "note: loses money", "note: lost money")
    assert built(place) == ["costs as data"]
    assert is_as_afresh(place)


def test_what_one_boat_is_made_of_leaves_the_other_as_it_is(place: Path) -> None:
    edited(place, "options.yaml", "fixed: 2 h", "fixed: 3 h")  # of the side door
    done = built(place)
    assert "workbook and papers of Tern Cutter" in done
    assert "workbook and papers of Tern Skiff" not in done
    assert is_as_afresh(place)


def test_a_task_whose_file_is_gone_is_done_again(place: Path) -> None:
    (place / "internal" / "workbooks" / "skiff.xlsx").unlink()
    assert built(place) == ["workbook and papers of Tern Skiff"]
    assert is_as_afresh(place)


def test_a_build_afresh_does_all(place: Path) -> None:
    assert len(built(place, afresh=True)) > len(built(place)) == 0
