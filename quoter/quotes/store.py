"""Where quotes are put: a number is taken at the moment its whole quote appears, and not before.

    quotes/2026-0007/       quote.html  quote.xlsx  internal.xlsx  record.json
    quotes/2026-0007-R1/    the same of its first revision
    quotes/2026-0007-R1-order/    order.html  order.json: its order confirmed
    quotes/outcomes.csv     what became of them

A quote's folder appears by one rename, under a lock, so that no number is lost or given twice.
Nothing that stands there is ever changed, but for lines at the end of the table.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

from quoter.catalogue.adding import replace_file, with_lines
from quoter.disk import sync, write_synced
from quoter.formats import RECORD_FILE
from quoter.problems import UNPRINTABLE
from quoter.quotes import QuoteError
from quoter.quotes.archive import (
    FILES,
    ORDER_FILES,
    OUTCOMES,
    UNFINISHED,
    clear,
    entries,
    existing,
    locked,
    names_of,
    read_record,
    taken,
    told,
)
from quoter.quotes.numbering import (
    OrderName,
    QuoteName,
    named,
    next_number,
    next_revision,
    order_named,
)
from quoter.quotes.outcomes import COLUMNS, Outcome, Result, as_row, last_of, read_outcomes
from quoter.quotes.record import Record
from quoter.quotes.record_file import RecordError, changed_files, from_json

Files = Mapping[str, bytes]


def issue(folder: Path, year: int, make: Callable[[str], Files]) -> Path:
    """Put a new quote into a folder under the next number of its year.

    Args:
        folder: of quotes; made if it is not there
        year: of the day of issue
        make: the quote's files under its number, by name. Others wait for it, so it is quick; if
            it raises, the number is not taken.
    Returns:
        the folder of the quote
    Raises:
        QuoteError: the folder can't be written to.
        ValueError: the files are not those of a quote under its number and year.
    """
    with locked(folder):
        name = next_number(taken(folder), year)
        files = make(str(name))
        if _record(files, name).issued.year != year:
            raise ValueError(f"{name} was issued in another year")
        return _put(folder, name, files)


def revise(folder: Path, number: str, make: Callable[[int, Record], Files]) -> Path:
    """Put the next revision of a quote beside it.

    Args:
        folder: of quotes
        number: of the quote, without a revision
        make: the files from the number of the revision and the record of the one before it; quick,
            as for `issue`
    Returns:
        the folder of the revision
    Raises:
        QuoteError: there is no such quote, its latest record can't be read, the revision's date
            comes before it, or the folder can't be written to.
        ValueError: the files are not those of that revision.
    """
    with locked(existing(folder)):
        names = names_of(folder, number)
        latest = read_record(folder, max(names))
        name = next_revision(names)
        files = make(name.revision, latest)
        issued = _record(files, name).issued
        if issued < latest.issued:
            what = f"the revision is dated {issued}, before {latest.name} of {latest.issued}"
            raise QuoteError(f"{what}; date it that day or later")
        return _put(folder, name, files)


def confirm(folder: Path, quote: QuoteName, make: Callable[[OrderName], Files]) -> Path:
    """Put the next confirmation of an order beside its quote.

    Args:
        folder: of quotes
        quote: what is confirmed
        make: its files under its name; quick, as for `issue`; if it raises, nothing is written
    Returns:
        the folder of the confirmation
    Raises:
        QuoteError: there is no such quote, or the folder can't be written to.
        ValueError: the files are not those of a confirmation.
    """
    with locked(existing(folder)):
        names_of(folder, quote.number)
        before = [name for entry in entries(folder) if (name := order_named(entry))]
        issue = max((name.issue for name in before if name.quote == quote), default=0) + 1
        name = OrderName(quote, issue)
        files = make(name)
        if set(files) != set(ORDER_FILES):
            told = f"{', '.join(ORDER_FILES)}, not {', '.join(files)}"
            raise ValueError(f"a confirmation has {told}")
        return _put(folder, name, files)


def _record(files: Files, name: QuoteName) -> Record:
    """The record among a quote's files, which are those of its name."""
    if set(files) != set(FILES):
        raise ValueError(f"a quote has {', '.join(FILES)}, not {', '.join(files)}")
    try:
        record = from_json(files[RECORD_FILE])
    except RecordError as fault:
        raise ValueError(f"the record of {name} {fault}") from fault
    if record.name != str(name):
        raise ValueError(f"the record of {name} says {record.name}")
    if changed := changed_files(record, files):
        raise ValueError(f"the record of {name} is not of these {', '.join(changed)}")
    return record


def _put(folder: Path, name: QuoteName | OrderName, files: Files) -> Path:
    """Have a whole quote or confirmation appear by one rename, after the disk has all of it."""
    target, aside = folder / str(name), folder / UNFINISHED
    with told(folder):
        try:
            aside.mkdir()
            for file, content in sorted(files.items()):
                write_synced(aside / file, content)
            sync(aside)
            aside.rename(target)
            _confirm(target, aside)
        finally:
            clear(folder)
    return target


def _confirm(target: Path, aside: Path) -> None:
    """Have the disk keep what appeared; what it may lose is taken back while nobody knows of it."""
    try:
        sync(target.parent)
    except OSError:
        target.rename(aside)
        raise


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
