"""What counts as a change, and when a changed file is read."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path
from threading import Event

import pytest

from quoter.preview.reading import LONGEST, Marks, catalogue_marks, template_marks, watch
from quoter.resources import templates_folder
from tests.preview.made import small

FILE = "stations.yaml"


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    (tmp_path / "elsewhere.yaml").write_text("one: link\n")
    folder = small(tmp_path)
    (folder / "translations").mkdir()
    (folder / "translations" / "de.po").write_text("")
    (folder / "rises.csv").symlink_to(tmp_path / "elsewhere.yaml")
    return folder


def later(path: Path) -> None:
    """A file written again, with the same number of letters."""
    stat = path.stat()
    os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns + 1))


def saved_by_rename(folder: Path) -> None:
    aside = folder / f".{FILE}.new"
    aside.write_text("one: other\n")
    aside.replace(folder / FILE)


def replaced(folder: Path) -> None:
    """The whole folder, as by a backup that is put back."""
    other = folder.with_name("other")
    shutil.copytree(folder, other, symlinks=True)
    (other / FILE).write_text("one: other\n")
    shutil.rmtree(folder)
    other.rename(folder)


CHANGES: dict[str, Callable[[Path], object]] = {
    "a file grows": lambda folder: (folder / FILE).write_text("one: other\n"),
    "a file is written": lambda folder: later(folder / FILE),
    "a save by rename": saved_by_rename,
    "a price list comes": lambda folder: (folder / "prices" / "2027-01-01.csv").touch(),
    "a price list goes": lambda folder: next((folder / "prices").iterdir()).unlink(),
    "a translation": lambda folder: (folder / "translations" / "de.po").write_text("#"),
    "a misspelt file": lambda folder: (folder / "statoins.yml").touch(),
    "what a link leads to": lambda folder: later(folder / "rises.csv"),
    "where a link led to goes": lambda folder: (folder.parent / "elsewhere.yaml").unlink(),
    "the folder is replaced": replaced,
    "the folder goes": shutil.rmtree,
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_change_of_the_catalogue_shows(yard: Path, change: Callable[[Path], object]) -> None:
    before = catalogue_marks(yard)
    assert before == catalogue_marks(yard)
    change(yard)
    assert catalogue_marks(yard) != before


def test_a_folder_that_is_gone_has_no_files(tmp_path: Path) -> None:
    assert catalogue_marks(tmp_path / "gone") == template_marks(tmp_path / "gone") == {}


def test_what_is_no_part_of_the_catalogue_is_no_change(yard: Path) -> None:
    before = catalogue_marks(yard)
    for name in (f"{FILE}~", f".{FILE}.swp", "4913", "README.txt"):
        (yard / name).touch()
    (yard / "quotes" / "2026-0001").mkdir(parents=True)
    (yard / "quotes" / "2026-0001" / "record.yaml").touch()
    (yard / "site").mkdir()
    (yard / "site" / "index.html").touch()
    assert catalogue_marks(yard) == before


def test_a_change_of_a_template_shows(tmp_path: Path) -> None:
    folder = tmp_path / "templates"
    shutil.copytree(templates_folder(), folder)
    before = template_marks(folder)
    assert before == template_marks(folder)
    (folder / "public" / ".index.html.swp").touch()
    assert template_marks(folder) == before
    later(folder / "public" / "sheet.css")
    assert template_marks(folder) != before


class Script(Event):
    """Looks that go as written, then the end; nobody waits in between."""

    def __init__(self, looks: str) -> None:
        super().__init__()
        self.looks, self.made = looks, 0
        self.read_after: list[int] = []

    def look(self) -> Marks:
        self.made += 1
        if self.made >= len(self.looks):
            self.set()
        return {self.looks[min(self.made, len(self.looks)) - 1]: (0, 0)}

    def read(self) -> None:
        self.read_after.append(self.made)

    def wait(self, timeout: float | None = None) -> bool:
        assert timeout is not None
        assert timeout > 0
        return self.is_set()


@pytest.mark.parametrize(
    ("looks", "read_after"),
    [
        ("A", [1]),
        ("AAAA", [1]),
        ("AABBBB", [1, 4]),  # changed, and at rest at the next look
        ("AABCDDD", [1, 6]),  # written in steps
        ("ABBB", [1, 3]),  # changed while it was read
        ("AABBCCAA", [1, 4, 6, 8]),
        ("A" + "BC" * LONGEST, [1, LONGEST + 2, 2 * LONGEST + 1]),  # never at rest
    ],
)
def test_files_are_read_at_first_and_once_they_rest_after_a_change(
    looks: str, read_after: list[int]
) -> None:
    script = Script(looks)
    watch(script.look, script.read, script)
    assert script.read_after == read_after
