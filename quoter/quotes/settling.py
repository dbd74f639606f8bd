"""A customer's answer is written down: won or lost, for the newest revision of its day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from quoter.catalogue.adding import replace_file, with_lines
from quoter.problems import UNPRINTABLE
from quoter.quotes.fault import QuoteError
from quoter.quotes.folder import OUTCOMES, existing, locked, told
from quoter.quotes.numbering import QuoteName, named
from quoter.quotes.outcomes import COLUMNS, Outcome, Result, as_row, last_of, read_outcomes
from quoter.quotes.reading import names_of, read_record


def settle(
    folder: Path,
    quote: str,
    result: Result,
    on: date,
    *,
    reason: str = "",
    by: str = "",
    again: bool = False,
) -> Outcome:
    """Add the outcome of a quote to the folder's table.

    Args:
        folder: of quotes
        quote: its number, or the name of its newest revision
        result: what the customer decided
        on: the day of the decision; it settles the newest revision issued until then
        reason: in words, if known
        by: who writes it down
        again: whether it may take the place of an outcome written before
    Raises:
        QuoteError: there is no such quote, it was issued later, it has an outcome already, or the
            folder can't be written to; or a text holds a letter that nobody sees.
    """
    path = existing(folder) / OUTCOMES
    if bad := UNPRINTABLE.search(reason + by):
        raise QuoteError(f"a reason or name holds an unprintable character, #x{ord(bad[0]):04x}")
    with locked(folder):
        name = _settled(folder, quote, on)
        before = last_of(read_outcomes(path)).get(str(name))
        if before is not None and not again:
            what = f"{name} is {before.result} already, since {before.date}"
            raise QuoteError(f"{what}; to say otherwise, add --again")
        outcome = Outcome(on, str(name), result, reason, by)
        with told(folder):
            content = path.read_bytes() if path.exists() else None
            try:
                longer = with_lines(content, COLUMNS, [as_row(outcome)])
            except ValueError as fault:
                raise QuoteError(f"{path}: {fault}; add it to the first line") from fault
            replace_file(path, longer)
        return outcome


def _settled(folder: Path, quote: str, on: date) -> QuoteName:
    """The revision that a decision of a day is about."""
    asked = named(quote)
    names = names_of(folder, asked.number if asked else quote)
    revision = asked if asked and asked.revision else None
    if revision and revision not in names:
        raise QuoteError(f"there is no {revision} in {folder}: the newest is {names[-1]}")
    issued = {name: read_record(folder, name).issued for name in names}
    wanted = revision or names[0]
    if issued[wanted] > on:
        what = f"{wanted} was issued on {issued[wanted]}, after {on}"
        raise QuoteError(f"{what}; an outcome comes on that day or later")
    newest = [name for name in names if issued[name] <= on][-1]
    if revision and revision != newest:
        raise QuoteError(f"{revision} was superseded by {newest}: name that, or {newest.number}")
    return newest
