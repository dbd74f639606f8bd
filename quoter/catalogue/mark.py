"""A short mark of what a build was made from: the program, and all of the catalogue in force."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path, PurePosixPath

from quoter import __version__
from quoter.catalogue.accepted import ACCEPTED, files_before
from quoter.catalogue.adding import ACTUALS, INNER, JOURNAL, pending
from quoter.catalogue.csv_cells import csv_rows
from quoter.catalogue.fields import day_of
from quoter.catalogue.load import read_records
from quoter.intake import LARGEST_PICTURE, IntakeError, read_file
from quoter.problems import Problems

READ = ("*.yaml", "*.csv", "prices/*.csv", "translations/*.po")
_PICTURED = ("yard.yaml", "options.yaml", "models.yaml")  # what names files of pictures
_FILE = re.compile(r"""\bfile:\s*["']?([^"'#,{}\n]+?)["']?\s*(?:[,}#\n]|\Z)""")
# The column that says from when a line of a table holds.
SINCE = {
    "wages.csv": "date",
    "exchange.csv": "date",
    "price_book.csv": "date",
    "rises.csv": "date",
    "indices.csv": "date",
    "editions.csv": "valid_from",
    "accepted.csv": "date",
}


def fingerprint(folder: Path, as_of: date, settings: Mapping[str, str] | None = None) -> str:
    """Identifies the program's version and every line of a sound catalogue in force on a day.

    What is set instead of the catalogue's own, by key, is part of it. Later price lists and later
    lines of dated tables are no part of it, so that a month that is rebuilt has the mark it had; a
    value that was accepted later is what it was.
    Nor is what the yard takes for today, which the day asked about stands for, nor where the
    folder stands, or what a build writes in it.
    """
    digest = hashlib.sha256(__version__.encode())
    unfinished = _standing(folder, as_of)
    names = {path.relative_to(folder).as_posix() for one in READ for path in folder.glob(one)}
    for name in sorted(names | {*unfinished}):
        if name.startswith(f"{ACTUALS}/"):
            continue  # no price rests on what was booked
        path = folder / name
        if name.startswith("prices/") and (day_of(path.stem) or as_of) > as_of:
            continue
        content = unfinished[name] if name in unfinished else path.read_bytes()
        text = re.sub("\r\n?", "\n", content.decode("utf-8-sig"))
        lines = text.split("\n")
        if name == "yard.yaml":
            lines = [line for line in lines if not line.startswith("today:")]
        if name in SINCE:
            lines = list(_until(text, lines, SINCE[name], as_of))
            if not any(lines[1:]):
                continue  # a table of which nothing has begun yet is as if it were not there
        digest.update(f"{name}\0".encode())
        digest.update("\n".join(lines).rstrip("\n").encode() + b"\0")
    for key, value in sorted((settings or {}).items()):
        digest.update(f"{key}={value}\0".encode())
    return digest.hexdigest()[:12]


def _standing(folder: Path, as_of: date) -> dict[str, bytes]:
    """The files that are read otherwise than they stand, by name: those of a stopped writer, and
    those in which a value was another on the day."""
    unfinished, _ = pending(folder)
    if ACCEPTED not in unfinished and not (folder / ACCEPTED).exists():
        return unfinished
    records, sources = read_records(folder, Problems())
    return unfinished | files_before(sources, records.accepted, as_of)


def looked_at(folder: Path) -> Iterator[tuple[str, Path]]:
    """All that a reading of a catalogue may look at, by name: files, and folders for their names.

    Raises:
        OSError: a folder can't be read.
    """
    for place in (folder, *(folder / name for name in INNER)):
        for path in place.iterdir() if place.is_dir() else ():
            yield path.relative_to(folder).as_posix(), path
    yield from _pictures(folder)


def _pictures(folder: Path) -> Iterator[tuple[str, Path]]:
    """Files in folders of the catalogue's that it may name as pictures, by name."""
    named: set[str] = set()
    for name in _PICTURED:
        with suppress(OSError, IntakeError):
            named.update(_FILE.findall(read_file(folder / name).decode(errors="replace")))
    for name in sorted(named):
        path = PurePosixPath(name)
        inner = "/" in name and not path.is_absolute() and ".." not in path.parts
        if inner and (folder / path).is_file():
            yield path.as_posix(), folder / path


def inputs(folder: Path) -> dict[str, bytes] | None:
    """All that a reading of a catalogue may look at, by name; None where only a reading can tell.

    That is so while a writer that was stopped is to be finished, or where no file can be read.
    """
    if (folder / JOURNAL).exists():
        return None
    found: dict[str, bytes] = {}
    try:
        for name, path in looked_at(folder):
            if not path.name.startswith("."):
                found[name] = b"" if path.is_dir() else read_file(path, LARGEST_PICTURE)
    except (OSError, IntakeError):
        return None
    return found


def _until(text: str, lines: list[str], column: str, as_of: date) -> Iterator[str]:
    """The lines of a dated table without the rows that hold only later."""
    head, *rows = csv_rows(text)
    at = [cell.text for cell in head].index(column)
    starts = [*(row[0].line for row in rows), len(lines) + 1]
    later: set[int] = set()
    for row, end in zip(rows, starts[1:], strict=True):
        day = day_of(row[at].text)
        if day is not None and day > as_of:
            later |= set(range(row[0].line, end))
    yield from (line for number, line in enumerate(lines, 1) if number not in later)
