"""A folder of quotes looked through: what was changed, lost or left since it was written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import OUTCOMES, altered, entries, existing, read_record, taken
from quoter.quotes.kept.numbering import QuoteName, missing, of_folder
from quoter.quotes.kept.outcomes import Outcome, read_outcomes
from quoter.quotes.kept.record import Record
from quoter.quotes.printed.confirmation import check_orders, orders_in


@dataclass(slots=True)
class Checked:
    """How much was looked at, and in sentences what is wrong, and what is worth knowing only."""

    quotes: int = 0
    outcomes: int = 0
    faults: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def check_archive(folder: Path) -> Checked:
    """Every record, the files beside it, the numbers and the outcomes of a folder of quotes.

    Raises:
        QuoteError: the folder is not there, or can't be read.
    """
    found = Checked()
    outcomes: tuple[Outcome, ...] = ()
    try:
        outcomes = read_outcomes(existing(folder) / OUTCOMES)
    except QuoteError as fault:
        if not folder.is_dir():
            raise
        found.faults.append(str(fault))
    names = taken(folder)
    records = [record for name in names for record in _checked(folder, name, found)]
    found.faults += [
        f"{folder / str(name)} is missing: there are later ones" for name in missing(names)
    ]
    found.faults += _misplaced(folder, outcomes, names, records)
    found.faults += check_orders(folder)
    known = {OUTCOMES, *map(str, orders_in(folder))}
    others = (entry for entry in entries(folder) if entry not in known and not of_folder(entry))
    found.notes += [f"{folder / entry} is no quote and was left alone" for entry in others]
    found.quotes, found.outcomes = len(names), len(outcomes)
    return found


def _checked(folder: Path, name: QuoteName, found: Checked) -> Iterator[Record]:
    """A quote's record where it is sound, after all of the quote was looked at."""
    place = folder / str(name)
    if not place.is_dir():
        found.faults.append(f"{place} is no folder of a quote, but takes its number")
        return
    try:
        record = read_record(folder, name)
        found.faults += altered(folder, record)
    except QuoteError as fault:
        found.faults.append(str(fault))
        return
    if record.fingerprint is None:
        found.notes.append(f"{place} was written before fingerprints: nothing tells if it changed")
    yield record


def _misplaced(
    folder: Path,
    outcomes: Iterable[Outcome],
    names: Iterable[QuoteName],
    records: Iterable[Record],
) -> Iterator[str]:
    """Outcomes of quotes that are not there, or that were not issued yet."""
    there, issued = {str(name) for name in names}, {each.name: each.issued for each in records}
    for outcome in outcomes:
        told = f"{folder / OUTCOMES} tells of {outcome.quote}"
        first = issued.get(outcome.quote)
        if outcome.quote not in there:
            yield f"{told}, which is not there"
        elif first is not None and outcome.date < first:
            yield f"{told} on {outcome.date}, before it was issued on {first}"
