"""A folder of quotes read back: every record and outcome that stands in it."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from quoter.disk import BusyError, sync, wait_for_lock
from quoter.formats import ORDER_FILE, RECORD_FILE
from quoter.intake import IntakeError, read_file
from quoter.problems import nearest, quoted
from quoter.quotes import QuoteError
from quoter.quotes.kept.numbering import (
    QuoteName,
    missing,
    named,
    names_one,
    of_folder,
    order_named,
)
from quoter.quotes.kept.outcomes import Outcome, read_outcomes
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import RecordError, changed_files, from_json

# What a new quote has. An old one has those that its own fingerprint tells of (`customers_of`).
DATA, MAIL = "quotation.xml", "mail.txt"
CUSTOMERS = ("quote.html", "quote.pdf", "quote.xlsx", DATA, MAIL)
FILES = (*CUSTOMERS, "internal.xlsx", RECORD_FILE)
# No quote has it with a letter that no font of the typesetter has.
MAY_LACK = frozenset({"quote.pdf", "order.pdf"})
_FIRST = ("quote.html", "quote.xlsx")  # of quotes of before fingerprints
ORDER_PAGE = "order.html"
ORDER_PDF = "order.pdf"
ORDER_FILES = (ORDER_PAGE, ORDER_PDF, ORDER_FILE)
OUTCOMES = "outcomes.csv"
UNFINISHED = ".unfinished"  # a quote on its way; of a run that was killed if nobody has the lock
_UNFINISHED_TABLE = re.compile(rf"\.{re.escape(OUTCOMES)}\.[a-z0-9_]{{8}}\Z")


@contextmanager
def told(folder: Path) -> Iterator[None]:
    """Tell what can't be written as the fault of the folder.

    Raises:
        QuoteError: instead of the system's error; nothing was written.
    """
    try:
        yield
    except BusyError as fault:
        raise QuoteError(str(fault)) from fault
    except OSError as fault:
        what = f"can't write {fault.filename or folder}: {fault.strerror or fault}"
        raise QuoteError(what) from fault


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Be the only writer of a folder, whose leavings of killed writers are cleared first.

    Raises:
        QuoteError: the folder can't be written to, or somebody else has been writing for minutes.
    """
    with told(folder):
        _make(folder)
        lock = wait_for_lock(folder)
    try:
        with told(folder):
            clear(folder)
        yield
    finally:
        lock.release()


def _make(folder: Path) -> None:
    """Make the folder if it is not there, and have the disk keep it."""
    try:  # not asked first: another may make it in between
        folder.mkdir(parents=True)
    except FileExistsError as fault:
        if not folder.is_dir():
            raise QuoteError(f"{folder} is a file; name a folder for the quotes") from fault
    else:
        sync(folder.parent)


def clear(folder: Path) -> None:
    """Remove what stopped writers left; to be called under the lock.

    Raises:
        QuoteError: something that is not of this program has the name of what it writes.
        OSError: it can't be removed.
    """
    aside = folder / UNFINISHED
    if os.path.lexists(aside):
        if aside.is_symlink() or not aside.is_dir() or {*_names(aside)} - {*FILES, *ORDER_FILES}:
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
    return sorted(name for entry in entries(folder) if (name := of_folder(entry)))


def _names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]


@dataclass(frozen=True, slots=True)
class Archive:
    """All that stands in a folder of quotes.

    `records` are by number and revision, `outcomes` in the order they were written. `notes` are
    sentences about what else is there or is not: worth a look, no fault.
    """

    records: tuple[Record, ...]
    outcomes: tuple[Outcome, ...]
    notes: tuple[str, ...]


def read_archive(folder: Path) -> Archive:
    """Every record and outcome of a folder.

    Raises:
        QuoteError: the folder is not there, or with each record and line that can't be read: a
            list without them would add up to too little.
    """
    # Outcomes first: a quote that appears meanwhile then is at worst one without an outcome.
    outcomes = read_outcomes(existing(folder) / OUTCOMES)
    records, faults = [], []
    for name in taken(folder):
        if not (folder / str(name)).is_dir():
            continue
        try:
            records.append(read_record(folder, name))
        except QuoteError as fault:
            faults.append(str(fault))
    if faults:
        raise QuoteError("\n".join(faults))
    notes = (
        *_notes(folder, outcomes),
        *(told for each in records for told in altered(folder, each)),
    )
    return Archive(tuple(records), outcomes, notes)


def _notes(folder: Path, outcomes: tuple[Outcome, ...]) -> Iterator[str]:
    for entry in entries(folder):
        if of_folder(entry):
            if not (folder / entry).is_dir():
                yield f"{folder / entry} is no folder of a quote, but takes its number"
        elif entry != OUTCOMES and not order_named(entry):
            yield f"{folder / entry} is no quote and was left alone"
    names = taken(folder)
    for name in missing(names):
        yield f"{name} is missing in {folder}, which has later ones"
    known = {str(name) for name in names}
    for outcome in outcomes:
        if outcome.quote not in known:
            yield f"{folder / OUTCOMES} tells of {outcome.quote}, which is not there"


@contextmanager
def reading(path: Path) -> Iterator[None]:
    """Tell what can't be read as the fault of its file.

    Raises:
        QuoteError: instead of what the file is not, or can't be.
    """
    try:
        yield
    except FileNotFoundError as fault:
        raise QuoteError(f"can't read {path}: {fault.strerror}") from fault
    except IntakeError as fault:
        raise QuoteError(f"can't read {path}: {fault}") from fault
    except RecordError as fault:
        raise QuoteError(f"{path} {fault}") from fault


def read_record(folder: Path, name: QuoteName) -> Record:
    """The record of one quote or revision, as it was issued.

    Raises:
        QuoteError: it is not there, can't be read, was changed, or is of another quote.
    """
    path = folder / str(name) / RECORD_FILE
    with reading(path):
        record = from_json(read_file(path))
    if record.name != str(name):
        raise QuoteError(f"{path} is the record of {record.name}")
    return record


def altered(folder: Path, record: Record) -> Iterator[str]:
    """A sentence for each file beside a record that is not what was issued.

    The record itself is sound, so the quote stands; the customer's files can be printed again.
    """
    found, how = _beside(folder, record)
    for name in changed_files(record, found):
        yield f"{folder / record.name / name} {how.get(name, 'was changed after it was issued')}"


def as_issued(folder: Path, record: Record) -> dict[str, bytes]:
    """The files beside a record that are what was issued, by name."""
    found, _ = _beside(folder, record)
    told = record.fingerprint.files if record.fingerprint is not None else {}
    sound = {*told} - {*changed_files(record, found)}
    return {name: content for name in sorted(sound) if (content := found.get(name)) is not None}


def _beside(folder: Path, record: Record) -> tuple[dict[str, bytes | None], dict[str, str]]:
    """What stands beside a record by name, None where it can't be read, and why it can't."""
    found: dict[str, bytes | None] = {}
    how: dict[str, str] = {}
    for name in record.fingerprint.files if record.fingerprint is not None else ():
        try:
            found[name] = (folder / record.name / name).read_bytes()
        except OSError as fault:
            found[name], how[name] = None, f"can't be read: {fault.strerror or fault}"
    return found, how


def customers_of(record: Record) -> tuple[str, ...]:
    """The names of the files that a quote's customer gets: all of them if it is on its way."""
    if record.fingerprint is not None:
        return tuple(name for name in CUSTOMERS if name in record.fingerprint.files)
    return CUSTOMERS if record.format > 1 else _FIRST


def kept(folder: Path, number: str) -> Record:
    """The record of the quote of that name, or of the newest revision of that number.

    The first issue's own name is ``2026-0007-R0``: its number alone means the newest.

    Raises:
        QuoteError: there is no such quote, or its record can't be read or was changed.
    """
    every = taken(existing(folder))
    found = [each for each in every if number in (each.own, each.number)]
    if not found:
        raise QuoteError(f"no quote {quoted(number)}: {nearest(number, map(str, every))}")
    return read_record(folder, found[-1])


def names_of(folder: Path, number: str) -> list[QuoteName]:
    """The names of a quote and its revisions, the first one first.

    Args:
        folder: of quotes
        number: as a person writes it, without a revision
    Raises:
        QuoteError: it is no number, or there is no such quote.
    """
    wanted = named(number)
    if wanted is None:
        raise QuoteError(f"{quoted(number)} is no number of a quote; write for example 2026-0007")
    if names_one(number):
        raise QuoteError(f"name the quote by its number alone: {wanted.number}")
    every = taken(folder)
    found = [name for name in every if name.first == wanted]
    if not found:
        known = [name.number for name in every]
        raise QuoteError(f"there is no quote {number} in {folder}: {nearest(number, known)}")
    return found
