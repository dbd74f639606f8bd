"""How quotes stand on a day: drafts, sent, expired, decided, and what took the place of what.

Nothing of it is kept: it follows from the records, the table of outcomes and the day asked about.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from pathlib import Path
from typing import Literal

from quoter.phrases import Phrase, phrase
from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import read_archive
from quoter.quotes.kept.numbering import named
from quoter.quotes.kept.outcomes import DECIDED, Outcome, chances_of, last_of
from quoter.quotes.kept.record import Record

State = Literal["draft", "sent", "expired", "won", "lost", "withdrawn", "revised"]
STATES: tuple[State, ...] = ("draft", "sent", "expired", "won", "lost", "withdrawn", "revised")
STATE_WORDS: dict[State, Phrase] = {
    "draft": phrase("Draft"),
    "sent": phrase("Sent"),
    "expired": phrase("Expired"),
    "won": phrase("Won"),
    "lost": phrase("Lost"),
    "withdrawn": phrase("Withdrawn"),
    "revised": phrase("Revised"),
}
ITS_STATE: dict[State, Phrase] = {  # of one quote, where the words before are of many
    "draft": phrase("draft"),
    "sent": phrase("sent"),
    "expired": phrase("expired"),
    "won": phrase("won"),
    "lost": phrase("lost"),
    "withdrawn": phrase("withdrawn"),
    "revised": phrase("revised"),
}
OPEN: tuple[State, ...] = ("draft", "sent")  # a customer may still take it


@dataclass(frozen=True, slots=True)
class Kept:
    """A quote or revision, how it stands, and its own outcome if it has one.

    `chance` is the line by which somebody gives its number a chance. `replaced_by` names what took
    the place of one that is revised: a revision, or a change order that was won.
    """

    record: Record
    state: State
    outcome: Outcome | None
    chance: Outcome | None = None
    replaced_by: str = ""


@dataclass(frozen=True, slots=True)
class Listing:
    """The quotes of a folder as of a day, by number and revision.

    `notes` tell in sentences what else is in the folder, or is missing.
    """

    on: date
    quotes: tuple[Kept, ...]
    notes: tuple[str, ...]


def list_quotes(folder: Path, on: date | None = None) -> Listing:
    """Every quote issued until a day, with its state on that day.

    Args:
        folder: of quotes
        on: the day; the newest day of issue if not given
    Raises:
        QuoteError: something in it can't be read, or there is no quote and no day.
    """
    archive = read_archive(folder)
    if on is None and not archive.records:
        raise QuoteError(f"there is no quote in {folder} yet")
    day = on or max(record.issued for record in archive.records)
    issued = [record for record in archive.records if record.issued <= day]
    return Listing(day, standing(issued, archive.outcomes, day), archive.notes)


def list_all(folder: Path) -> Listing:
    """Every quote as it stands on the newest day that anything of the folder is told of.

    Raises:
        QuoteError: something in it can't be read.
    """
    archive = read_archive(folder)  # without a clock, today is the newest day told of
    days = [each.issued for each in archive.records] + [each.date for each in archive.outcomes]
    return list_quotes(folder, max(days, default=None))


def order_stands(won: Outcome) -> str:
    """In words that an order is not revised, and how it is changed."""
    return (
        f"{won.quote} is won, since {won.date}: what changes now is a change order; "
        f"write 'quoter requote CATALOGUE {won.quote} --on DATE --change-order'"
    )


def standing(
    records: Sequence[Record], outcomes: tuple[Outcome, ...], on: date
) -> tuple[Kept, ...]:
    """How quotes stand on a day; a won change order takes the place of what it changes.

    Args:
        records: issued until then, by number and revision
        outcomes: in the order they were written
        on: the day
    """
    results, chances = last_of(outcomes, on), chances_of(outcomes, on)
    every = [
        each
        for number, revisions in groupby(records, key=lambda record: record.number)
        for each in _standing(list(revisions), results, chances.get(number), on)
    ]
    orders = {
        each.record.changes_order: each.record.name
        for each in every
        if each.state == "won" and each.record.changes_order
    }
    return tuple(_changed(each, orders) for each in every)


def _changed(kept: Kept, orders: Mapping[str, str]) -> Kept:
    """A won quote, revised where a change order that was won is of it."""
    record = kept.record
    by = orders.get(record.name) or orders.get(record.number)
    if kept.state != "won" or by is None:
        return kept
    return replace(kept, state="revised", replaced_by=by)


def _standing(
    revisions: list[Record], results: dict[str, Outcome], chance: Outcome | None, on: date
) -> list[Kept]:
    """A quote's revisions with their states.

    What was won stays won, until another revision is won in its place; the others of that day give
    way to it. A revision that was offered after an order, as old folders may have, stands beside
    it. A revision of a lost or withdrawn quote is open again.
    """
    names = [each.name for each in revisions]
    won = next((n for n in reversed(results) if n in names and results[n].result == "won"), "")
    kept = []
    for record, after in zip(revisions, [*names[1:], ""], strict=True):
        by = after
        if won and not after and record.issued <= results[won].date:
            by = won
        if record.name == won:
            by = ""
        state = _state(record, results.get(record.name), by, on)
        told = chance if state in OPEN else None
        kept.append(Kept(record, state, results.get(record.name), told, by))
    return kept


def _state(record: Record, outcome: Outcome | None, replaced_by: str, on: date) -> State:
    if replaced_by:
        return "revised"
    if outcome is not None and outcome.result in DECIDED:
        return outcome.result
    if record.valid_until < on:
        return "expired"
    return "draft" if outcome is None else "sent"


def counted(listing: Listing) -> Iterator[tuple[Record, Kept]]:
    """Each number once, however often it was revised: its first record, and how it stands.

    It stands as what was ordered of it, also where a change order took its place, else as its
    newest revision.
    """
    for _, found in groupby(listing.quotes, key=lambda each: each.record.number):
        revisions = list(found)
        ordered = [each for each in revisions if _ordered(each)]
        yield revisions[0].record, (ordered or revisions)[-1]


def _ordered(kept: Kept) -> bool:
    return kept.state == "won" or is_changed(kept)


def is_changed(kept: Kept) -> bool:
    """Whether it was an order, and a change order took its place."""
    by = named(kept.replaced_by)
    return by is not None and by.number != kept.record.number


def counts(listing: Listing) -> dict[State, int]:
    """How many quotes stand in each state, a number counting once: what every list says."""
    found = Counter(kept.state for _, kept in counted(listing))
    return {state: found[state] for state in STATES}
