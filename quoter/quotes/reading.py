"""Quotes read back from their folder; nothing is written, and no lock is needed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from quoter.intake import IntakeError, read_file
from quoter.problems import nearest, quoted
from quoter.quotes.fault import QuoteError
from quoter.quotes.folder import OUTCOMES, RECORD, entries, existing, taken
from quoter.quotes.numbering import QuoteName, missing, named
from quoter.quotes.outcomes import Outcome, read_outcomes
from quoter.quotes.record import Record, from_json


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
    return Archive(tuple(records), outcomes, tuple(_notes(folder, outcomes)))


def _notes(folder: Path, outcomes: tuple[Outcome, ...]) -> Iterator[str]:
    for entry in entries(folder):
        if named(entry):
            if not (folder / entry).is_dir():
                yield f"{folder / entry} is no folder of a quote, but takes its number"
        elif entry != OUTCOMES:
            yield f"{folder / entry} is no quote and was left alone"
    names = taken(folder)
    for name in missing(names):
        yield f"{name} is missing in {folder}, which has later ones"
    known = {str(name) for name in names}
    for outcome in outcomes:
        if outcome.quote not in known:
            yield f"{folder / OUTCOMES} tells of {outcome.quote}, which is not there"


def read_record(folder: Path, name: QuoteName) -> Record:
    """The record of one quote or revision.

    Raises:
        QuoteError: it is not there, can't be read, or is of another quote.
    """
    path = folder / str(name) / RECORD
    try:
        record = from_json(read_file(path))
    except FileNotFoundError as fault:
        raise QuoteError(f"can't read {path}: {fault.strerror}") from fault
    except IntakeError as fault:
        raise QuoteError(f"can't read {path}: {fault}") from fault
    except ValidationError as fault:
        first = fault.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(step) for step in first["loc"])
        what = f"{where}: {first['msg']}" if where else first["msg"]
        raise QuoteError(f"{path} is no record of a quote: {what}") from fault
    if record.name != str(name):
        raise QuoteError(f"{path} is the record of {record.name}")
    return record


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
    if wanted.revision:
        raise QuoteError(f"name the quote by its number alone: {wanted.number}")
    every = taken(folder)
    found = [name for name in every if name.first == wanted]
    if not found:
        known = [name.number for name in every]
        raise QuoteError(f"there is no quote {number} in {folder}: {nearest(number, known)}")
    return found
