"""The folder that quotes stand in: one writer at a time, and no trace of those that were stopped.

Whoever reads needs no lock: a quote appears by one rename, and a table is replaced by another.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from quoter.disk import sync
from quoter.quotes.fault import QuoteError
from quoter.quotes.numbering import QuoteName, named

RECORD = "record.json"
FILES = ("quote.html", "quote.xlsx", "internal.xlsx", RECORD)
OUTCOMES = "outcomes.csv"
LOCK = ".lock"
UNFINISHED = ".unfinished"  # a quote on its way; of a run that was killed if nobody has the lock
_UNFINISHED_TABLE = re.compile(rf"\.{re.escape(OUTCOMES)}\.[a-z0-9_]{{8}}\Z")
PATIENCE = 120.0  # seconds; a writer needs less than one


@contextmanager
def told(folder: Path) -> Iterator[None]:
    """Tell what can't be written as the fault of the folder.

    Raises:
        QuoteError: instead of the system's error; nothing was written.
    """
    try:
        yield
    except OSError as fault:
        what = f"can't write {fault.filename or folder}: {fault.strerror or fault}"
        raise QuoteError(what) from fault


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Be the only writer of a folder, whose leavings of killed writers are cleared first.

    The system holds the lock for the process and drops it when the process ends, however it ends.

    Raises:
        QuoteError: the folder can't be written to, or somebody else has been writing for minutes.
    """
    with told(folder):
        lock = _lock(folder)
        try:
            lock.acquire()
        except Timeout as fault:
            what = f"somebody else has been writing to {folder} for {PATIENCE:g} s"
            raise QuoteError(f"{what}; try again later") from fault
    try:
        with told(folder):
            clear(folder)
        yield
    finally:
        lock.release()


def _lock(folder: Path) -> FileLock:
    """The folder's lock, for whoever may write in the folder."""
    try:  # not asked first: another may make it in between
        folder.mkdir(parents=True)
    except FileExistsError as fault:
        if not folder.is_dir():
            raise QuoteError(f"{folder} is a file; name a folder for the quotes") from fault
    else:
        sync(folder.parent)
    mode = folder.stat().st_mode & 0o666 | 0o600
    return FileLock(folder / LOCK, timeout=PATIENCE, mode=mode)


def clear(folder: Path) -> None:
    """Remove what stopped writers left; to be called under the lock.

    Raises:
        QuoteError: something that is not of this program has the name of what it writes.
        OSError: it can't be removed.
    """
    aside = folder / UNFINISHED
    if os.path.lexists(aside):
        if aside.is_symlink() or not aside.is_dir() or {*_names(aside)} - {*FILES}:
            raise QuoteError(f"{aside} is in the way and not of this program; move it elsewhere")
        shutil.rmtree(aside)
    for name in _names(folder):
        if _UNFINISHED_TABLE.match(name):
            (folder / name).unlink()


def existing(folder: Path) -> Path:
    """A folder of quotes that is there.

    Raises:
        QuoteError: it is not.
    """
    if not folder.is_dir():
        raise QuoteError(f"there is no folder of quotes '{folder}'; name it with --quotes")
    return folder


def entries(folder: Path) -> list[str]:
    """What stands in a folder and is not hidden, by name.

    Raises:
        QuoteError: the folder can't be read.
    """
    try:
        return sorted(name for name in _names(folder) if not name.startswith("."))
    except OSError as fault:
        raise QuoteError(f"can't read {folder}: {fault.strerror or fault}") from fault


def taken(folder: Path) -> list[QuoteName]:
    """Every number and revision that is taken: by whatever has that name, whole or not."""
    return sorted(name for entry in entries(folder) if (name := named(entry)))


def _names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]
