"""Output folders change whole or not at all, whatever goes wrong on the way."""

from __future__ import annotations

import errno
import os
import re
from pathlib import Path

import pytest

from quoter.publish import MARK, FolderError, publish

Files = dict[str, str]


def read(folder: Path) -> Files:
    """Path below the folder -> content, the mark aside."""
    files = [path for path in sorted(folder.rglob("*")) if path.is_file() and path.name != MARK]
    return {path.relative_to(folder).as_posix(): path.read_text() for path in files}


def put(outputs: dict[Path, Files], keep: tuple[Path, ...] = ()) -> None:
    publish({f: {n: t.encode() for n, t in files.items()} for f, files in outputs.items()}, keep)


def hidden(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir() if path.name.startswith("."))


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A folder published before, beside nothing else."""
    put({tmp_path / "site": {"index.html": "old", "models/a.html": "old a"}})
    return tmp_path / "site"


def test_a_new_folder_appears_with_its_files_and_the_mark(tmp_path: Path) -> None:
    put({tmp_path / "deep" / "site": {"index.html": "new", "models/a.html": "a"}})
    assert read(tmp_path / "deep" / "site") == {"index.html": "new", "models/a.html": "a"}
    assert "keep nothing of your own" in (tmp_path / "deep" / "site" / MARK).read_text()
    assert hidden(tmp_path / "deep") == []


def test_an_old_folder_is_replaced_as_a_whole(site: Path) -> None:
    put({site: {"index.html": "new"}})
    assert read(site) == {"index.html": "new"}
    assert hidden(site.parent) == []


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    put({tmp_path / "site": {"index.html": "new"}})
    assert read(tmp_path / "site") == {"index.html": "new"}


def test_a_link_to_a_folder_stays_a_link(tmp_path: Path, site: Path) -> None:
    link = tmp_path / "public"
    link.symlink_to(site)
    put({link: {"index.html": "new"}})
    assert link.is_symlink()
    assert read(site) == {"index.html": "new"}


def test_a_folder_of_someone_else_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "thesis.txt").write_text("years of work")
    with pytest.raises(FolderError) as caught:
        put({tmp_path / "site": {"index.html": "new"}})
    assert str(caught.value) == (
        f"{tmp_path / 'site'} holds files this program did not write (it has no {MARK}); "
        "name another folder, or empty it first"
    )
    assert read(tmp_path / "site") == {"thesis.txt": "years of work"}


@pytest.mark.parametrize("kind", ["new", "old"])
def test_someone_else_s_folder_where_ours_would_stand_aside_is_left_alone(
    site: Path, kind: str
) -> None:
    theirs = site.with_name(f".site.{kind}")
    theirs.mkdir()
    (theirs / "thesis.txt").write_text("years of work")
    with pytest.raises(FolderError, match=f"^{re.escape(str(theirs))} holds files"):
        put({site: {"index.html": "new"}})
    assert read(theirs) == {"thesis.txt": "years of work"}
    assert read(site)["index.html"] == "old"


def test_a_file_in_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "site").write_text("a file")
    with pytest.raises(FolderError, match=r"site is a file; name a folder to write to$"):
        put({tmp_path / "site": {"index.html": "new"}})


def test_a_refusal_of_one_folder_leaves_the_others(tmp_path: Path, site: Path) -> None:
    (tmp_path / "internal").mkdir()
    (tmp_path / "internal" / "thesis.txt").write_text("years of work")
    with pytest.raises(FolderError, match="internal holds files"):
        put({site: {"index.html": "new"}, tmp_path / "internal": {"costing.json": "{}"}})
    assert read(site)["index.html"] == "old"


@pytest.mark.parametrize(
    ("one", "other"), [("out", "out"), ("out", "out/internal"), ("out/site", "out")]
)
def test_folders_within_each_other_are_refused(tmp_path: Path, one: str, other: str) -> None:
    """Internal files inside the public folder would be uploaded with it."""
    with pytest.raises(FolderError, match=r"overlap; name two separate folders$"):
        put({tmp_path / one / ".": {"a": ""}, tmp_path / "x" / ".." / other: {"b": ""}})
    assert list(tmp_path.iterdir()) == []


def test_a_whole_disk_is_refused() -> None:
    with pytest.raises(FolderError, match=r"^/ is a whole disk; name a folder of its own$"):
        put({Path("/"): {"a": ""}})


def test_the_catalogue_is_never_replaced(site: Path) -> None:
    catalogue = site / "catalogue"
    catalogue.mkdir()
    with pytest.raises(FolderError, match=r"catalogue, which would be lost; name another$"):
        put({site: {"index.html": "new"}}, keep=(catalogue,))
    with pytest.raises(FolderError, match="which would be lost"):
        put({site: {"index.html": "new"}}, keep=(site,))
    assert read(site)["index.html"] == "old"


def broken_disk(
    monkeypatch: pytest.MonkeyPatch, method: str, name: str, fault: BaseException
) -> None:
    """From now on `method` of a path fails where its name is `name`."""
    original = getattr(Path, method)

    def failing(self: Path, *given: object) -> object:
        if self.name == name or any(getattr(path, "name", "") == name for path in given):
            raise fault
        return original(self, *given)

    monkeypatch.setattr(Path, method, failing)


FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "costing.json")


def test_a_full_disk_leaves_the_folders_as_they_were(
    tmp_path: Path, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken_disk(monkeypatch, "write_bytes", "costing.json", FULL)
    with pytest.raises(FolderError) as caught:
        put({site: {"index.html": "new"}, tmp_path / "internal": {"costing.json": "{}"}})
    assert str(caught.value) == (
        "can't write costing.json: No space left on device; the output folders are as they were"
    )
    assert read(site) == {"index.html": "old", "models/a.html": "old a"}
    assert not (tmp_path / "internal").exists()
    assert hidden(tmp_path) == []


@pytest.mark.parametrize("fault", [FULL, KeyboardInterrupt()], ids=["error", "Ctrl-C"])
@pytest.mark.parametrize("at", [".site.old", ".site.new", ".internal.old", ".internal.new"])
def test_a_swap_that_stops_anywhere_is_undone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fault: BaseException, at: str
) -> None:
    site, internal = tmp_path / "site", tmp_path / "internal"
    put({site: {"index.html": "old"}, internal: {"costing.json": "old"}})
    with monkeypatch.context() as broken:
        broken_disk(broken, "rename", at, fault)
        with pytest.raises((FolderError, KeyboardInterrupt)):
            put({site: {"index.html": "new"}, internal: {"costing.json": "new"}})
    assert (read(site), read(internal)) == ({"index.html": "old"}, {"costing.json": "old"})
    assert hidden(tmp_path) == []


def test_a_folder_that_was_new_goes_again_when_its_neighbour_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken_disk(monkeypatch, "rename", ".internal.new", FULL)
    with pytest.raises(FolderError):
        put({tmp_path / "site": {"index.html": "new"}, tmp_path / "internal": {"c": "new"}})
    assert list(tmp_path.iterdir()) == []


def test_what_a_run_killed_while_writing_left_behind_is_cleared(site: Path) -> None:
    half = site.with_name(".site.new")
    half.mkdir()
    (half / MARK).write_text("")
    (half / "half.html").write_text("<!DOC")
    put({site: {"index.html": "new"}})
    assert read(site) == {"index.html": "new"}
    assert hidden(site.parent) == []


def test_what_a_run_killed_after_the_swap_left_behind_is_cleared(site: Path) -> None:
    old = site.with_name(".site.old")
    old.mkdir()
    (old / MARK).write_text("")
    (old / "index.html").write_text("older")
    put({site: {"index.html": "new"}})
    assert read(site) == {"index.html": "new"}
    assert hidden(site.parent) == []


def test_a_run_killed_within_the_swap_is_made_good_even_if_the_next_one_fails(
    site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site.rename(site.with_name(".site.old"))
    broken_disk(monkeypatch, "write_bytes", "index.html", FULL)
    with pytest.raises(FolderError):
        put({site: {"index.html": "new"}})
    assert read(site)["index.html"] == "old"
    assert hidden(site.parent) == []
