"""Quotes are put into their folder whole, under consecutive numbers, and touch nothing there."""

from __future__ import annotations

import errno
import os
from datetime import date
from pathlib import Path

import pytest

from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import FILES
from quoter.quotes.kept.store import issue, revise
from tests.quotes.made import files, hidden, made, making, put, put_revision, whole

NEXT_YEAR = date(2027, 1, 4)


def everything(folder: Path) -> dict[str, tuple[int, bytes]]:
    """All files below a folder with when they were last changed; those of the program aside."""
    return {
        path.relative_to(folder).as_posix(): (path.stat().st_mtime_ns, path.read_bytes())
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != ".lock"
    }


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


def test_the_first_quote_makes_the_folder_and_is_whole(folder: Path) -> None:
    asked: list[str] = []

    def make(number: str) -> dict[str, bytes]:
        asked.append(number)
        assert not (folder / number).exists()
        return files(made(number))

    assert issue(folder, 2026, make) == folder / "2026-0001"
    assert asked == ["2026-0001"]
    assert whole(folder) == ["2026-0001"]
    assert hidden(folder) == []


def test_two_years_count_for_themselves_however_they_mix(folder: Path) -> None:
    given = [put(folder, day) for day in [date(2026, 12, 30), NEXT_YEAR] * 3]
    assert given == ["2026-0001", "2027-0001", "2026-0002", "2027-0002", "2026-0003", "2027-0003"]
    assert whole(folder) == sorted(given)


def test_a_year_with_more_than_four_digits_goes_on(folder: Path) -> None:
    (folder / "2026-9999").mkdir(parents=True)
    assert [put(folder), put(folder)] == ["2026-10000", "2026-10001"]


def test_revisions_count_for_each_number_and_know_the_latest_record(folder: Path) -> None:
    for by in "ABC":
        put(folder, prepared_by=by)
    seen: list[tuple[int, str, str]] = []

    def make(revision: int, latest: object) -> dict[str, bytes]:
        record = made("2026-0002", revision, prepared_by=f"R{revision}")
        seen.append((revision, latest.name, latest.prepared_by))  # type: ignore[attr-defined]
        return files(record)

    paths = [revise(folder, "2026-0002", make).name for _ in range(3)]
    assert paths == ["2026-0002-R1", "2026-0002-R2", "2026-0002-R3"]
    assert seen == [(1, "2026-0002", "B"), (2, "2026-0002-R1", "R1"), (3, "2026-0002-R2", "R2")]
    assert put_revision(folder, "2026-0001") == "2026-0001-R1"
    assert put(folder) == "2026-0004"
    assert len(whole(folder)) == 8


@pytest.mark.parametrize(
    ("number", "told"),
    [
        ("2026-0003", "there is no quote 2026-0003 in {0}: did you mean '2026-0002'?"),
        ("2026-0002-R1", "name the quote by its number alone: 2026-0002"),
        ("seven", "'seven' is no number of a quote; write for example 2026-0007"),
        ("../2026-0001", "'../2026-0001' is no number of a quote; write for example 2026-0007"),
    ],
)
def test_a_revision_of_what_is_not_there_is_refused(folder: Path, number: str, told: str) -> None:
    put(folder)
    put(folder)
    with pytest.raises(QuoteError) as caught:
        put_revision(folder, number)
    assert str(caught.value) == told.format(folder)
    assert whole(folder) == ["2026-0001", "2026-0002"]


def test_a_folder_that_is_not_there_has_nothing_to_revise(folder: Path) -> None:
    with pytest.raises(QuoteError) as caught:
        put_revision(folder, "2026-0001")
    assert str(caught.value) == f"there is no folder of quotes '{folder}'; name it with --quotes"
    assert not folder.exists()


def test_a_revision_dated_before_the_one_it_follows_is_refused(folder: Path) -> None:
    put(folder, date(2026, 11, 10))
    with pytest.raises(QuoteError) as caught:
        put_revision(folder, "2026-0001", date(2026, 11, 9))
    assert str(caught.value) == (
        "the revision is dated 2026-11-09, before 2026-0001 of 2026-11-10; date it that day or "
        "later"
    )
    assert put_revision(folder, "2026-0001", NEXT_YEAR) == "2026-0001-R1"


def test_a_quote_that_can_t_be_made_takes_no_number(folder: Path) -> None:
    def fails(number: str) -> dict[str, bytes]:
        raise QuoteError(f"{number} leaves too little")

    with pytest.raises(QuoteError, match=r"^2026-0001 leaves too little$"):
        issue(folder, 2026, fails)
    assert put(folder) == "2026-0001"


@pytest.mark.parametrize(
    "wrong",
    [
        {"quote.html": b""},
        {**files(made("2026-0001")), "notes.txt": b""},
        files(made("2026-0002")),
        files(made("2026-0001", 1)),
        files(made("2026-0001", issued=NEXT_YEAR)),
        {**files(made("2026-0001")), "record.json": b"{}"},
    ],
    ids=["few", "more", "number", "revision", "year", "record"],
)
def test_files_that_are_not_that_quote_s_are_a_mistake_and_take_no_number(
    folder: Path, wrong: dict[str, bytes]
) -> None:
    with pytest.raises(ValueError, match=r"2026-0001|quote\.html|number"):
        issue(folder, 2026, lambda _: wrong)
    assert whole(folder) == []
    assert put(folder) == "2026-0001"


def test_nothing_that_stands_in_the_folder_is_touched(folder: Path) -> None:
    put(folder)
    (folder / "read me.txt").write_text("ours")
    (folder / "2026-0001" / "order.pdf").write_bytes(b"signed")
    (folder / "letters").mkdir()
    (folder / "letters" / "2026-0002").write_text("no quote")
    (folder / ".outcomes.csv.swp").write_text("an editor's")
    before = everything(folder)
    put(folder)
    put_revision(folder, "2026-0001")
    after = everything(folder)
    assert before.items() <= after.items()
    assert {Path(name).parts[0] for name in {*after} - {*before}} == {"2026-0002", "2026-0001-R1"}


@pytest.mark.parametrize("kind", ["file", "folder", "link"])
def test_whatever_has_the_name_of_a_quote_keeps_it(folder: Path, kind: str) -> None:
    put(folder)
    theirs = folder / "2026-0002"
    if kind == "file":
        theirs.write_text("years of work")
    elif kind == "folder":
        theirs.mkdir()
    else:
        theirs.symlink_to("nowhere")
    assert put(folder) == "2026-0003"
    assert os.path.lexists(theirs)


@pytest.mark.parametrize("kind", ["file", "folder", "link"])
def test_what_has_the_name_that_quotes_are_written_under_is_left_alone_and_told(
    folder: Path, tmp_path: Path, kind: str
) -> None:
    put(folder)
    theirs = folder / ".unfinished"
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "quote.html").write_text("years of work")
    if kind == "file":
        theirs.write_text("years of work")
    elif kind == "folder":
        theirs.mkdir()
        (theirs / "thesis.txt").write_text("years of work")
    else:
        theirs.symlink_to(elsewhere)
    with pytest.raises(QuoteError) as caught:
        put(folder)
    assert str(caught.value) == (
        f"{theirs} is in the way and not of this program; move it elsewhere"
    )
    kept = {"folder": theirs / "thesis.txt", "link": elsewhere / "quote.html"}.get(kind, theirs)
    assert kept.read_text() == "years of work"
    assert whole(folder) == ["2026-0001"]


def test_a_file_in_place_of_the_folder_is_told(folder: Path) -> None:
    folder.write_text("a file")
    with pytest.raises(QuoteError) as caught:
        put(folder)
    assert str(caught.value) == f"{folder} is a file; name a folder for the quotes"


FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize("call", range(len(FILES) + 1))  # its files and their folder
@pytest.mark.parametrize("fault", [FULL, KeyboardInterrupt()], ids=["error", "Ctrl-C"])
def test_a_full_disk_or_a_stop_takes_no_number_and_leaves_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch, call: int, fault: BaseException
) -> None:
    put(folder)
    left, real = call, os.fsync

    def fsync(handle: int) -> None:
        nonlocal left
        left -= 1
        if left < 0:
            raise fault
        real(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises((QuoteError, KeyboardInterrupt)) as caught:
        put(folder)
    if fault is FULL:
        told = f"can't write {folder}: No space left on device"
        assert str(caught.value) == told
    monkeypatch.undo()
    assert (whole(folder), hidden(folder)) == (["2026-0001"], [])
    assert put(folder) == "2026-0002"


def test_a_quote_that_the_disk_does_not_confirm_is_taken_back(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(folder)
    left, real = len(FILES) + 1, os.fsync  # its files and their folder, then the folder of quotes

    def fsync(handle: int) -> None:
        nonlocal left
        left -= 1
        if left < 0:
            assert (folder / "2026-0002").exists()
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        real(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(QuoteError) as caught:
        put(folder)
    assert str(caught.value) == f"can't write {folder}: Input/output error"
    monkeypatch.undo()
    assert (whole(folder), hidden(folder)) == (["2026-0001"], [])
    assert put(folder) == "2026-0002"


def test_the_disk_has_all_of_a_quote_before_it_appears(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(folder)
    done: list[str] = []
    real_sync, real_rename = os.fsync, Path.rename
    inside = {*FILES, ".unfinished"}

    def fsync(handle: int) -> None:
        done.append(Path(f"/proc/self/fd/{handle}").resolve().name)
        real_sync(handle)

    def rename(self: Path, target: Path) -> Path:
        done.append(f"{self.name} becomes {target.name}")
        return real_rename(self, target)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "rename", rename)
    put(folder)
    assert {*done[: len(inside)]} == inside
    assert done[len(FILES) :] == [".unfinished", ".unfinished becomes 2026-0002", "quotes"]


def test_a_folder_that_a_group_shares_lets_the_group_lock_it(folder: Path) -> None:
    folder.mkdir()
    folder.chmod(0o775)
    put(folder)
    assert (folder / ".lock").stat().st_mode & 0o777 == 0o664


def test_who_may_read_the_folder_may_read_a_quote(folder: Path) -> None:
    before = os.umask(0o022)
    try:
        put(folder)
    finally:
        os.umask(before)
    assert (folder / "2026-0001").stat().st_mode & 0o777 == 0o755
    assert (folder / "2026-0001" / "quote.html").stat().st_mode & 0o777 == 0o644


def test_making_is_asked_once_under_the_lock(folder: Path) -> None:
    assert issue(folder, 2026, making()).name == "2026-0001"
