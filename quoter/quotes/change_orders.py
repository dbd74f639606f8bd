"""Which order stands for a number, and what changes it: a won quote is not revised.

What its customer wants changed is a quote of its own that names the order: a change order. Once it
is won too, it is the order, and the boat is still made under the first one's job.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from quoter.quotes import QuoteError
from quoter.quotes.archive import Kept, Listing, kept, list_quotes, read_archive
from quoter.quotes.files import files_of
from quoter.quotes.record import Record
from quoter.quotes.requote import Requote
from quoter.quotes.store import Files


def standing(quotes: Path) -> Listing:
    """How the quotes of a folder stand on the newest day that anything of them is told of.

    Raises:
        QuoteError: something in it can't be read.
    """
    archive = read_archive(quotes)  # without a clock, today is the newest day told of
    days = [each.issued for each in archive.records] + [each.date for each in archive.outcomes]
    return list_quotes(quotes, max(days, default=None))


def order_of(listing: Listing, number: str) -> Kept | None:
    """The order that a number or name stands for: what was won, as the last change order has it.

    Args:
        listing: of all quotes
        number: of a quote, or the name of a quote or revision
    """
    found, names = None, set[str]()
    for each in listing.quotes:  # by number, and a change order comes after what it changes
        record = each.record
        if number in (record.name, record.number, f"{record.number}-R{record.revision}"):
            names.add(record.name)
        elif each.state != "won" or record.changes_order not in names:
            continue
        if each.state == "won":
            names.add(record.name)
            found = each
    return found


def job_of(listing: Listing, record: Record) -> str:
    """The number of the job that an order's boat is made under: the name of the first order."""
    records = {each.record.name: each.record for each in listing.quotes}
    names = [record.name]
    while (record := records.get(record.changes_order, record)).name not in names:
        names.append(record.name)
    return names[-1]


def unordered(listing: Listing, record: Record) -> str:
    """In words that a quote is no order, and what would make it one."""
    state = next(each.state for each in listing.quotes if each.record.name == record.name)
    told = f"{record.name} is {state}, not won: write down the order with 'quoter outcome "
    return f"{told}{record.name} won --on DATE'"


def changeable(quotes: Path, number: str, on: date, *, changing: bool) -> str:
    """The name or number of what is to be changed: an order for a change order, else a quote.

    Args:
        quotes: folder of quotes
        number: of the quote, or the name of a quote or revision
        on: the day of the change
        changing: whether it is by a change order
    Raises:
        QuoteError: an order is to be revised, or a quote that is none to be changed as one.
    """
    record, order = kept(quotes, number), order_of(standing(quotes), number)
    if order is None:
        if not changing:
            return number
        raise QuoteError(
            f"{record.name} is not won, so there is no order to change: revise it with --revise"
        )
    name = order.record.name
    if not changing:
        raise QuoteError(
            f"{name} is won: an order is not revised; "
            "issue what its customer wants changed with --change-order"
        )
    since = order.outcome.date if order.outcome else order.record.issued
    if on < since:
        raise QuoteError(f"{name} was won on {since}: date its change that day or later")
    return name


def revision(found: Requote, quotes: Path, latest: Record) -> Files:
    """The files of a quote's next revision, if it is of the newest one and that is not won.

    Raises:
        QuoteError: it was revised or won in the meantime.
    """
    changeable(quotes, latest.number, found.new.issued, changing=False)
    if latest.name != found.old.name:
        raise QuoteError(f"{found.old.name} was revised: {latest.name} is the newest; requote that")
    return files_of(found.draft, found.new, found.old)


def change_order(found: Requote, quotes: Path, number: str) -> Files:
    """The files of a change order under its number, if its order is still the one in force.

    Raises:
        QuoteError: the order was changed in the meantime, or is won no more.
    """
    order = found.old.name
    now = changeable(quotes, order, found.new.issued, changing=True)
    if now != order:
        raise QuoteError(f"{order} was changed: {now} is the order now; requote that")
    own = {"number": number, "revision": 0, "changes_order": order}
    return files_of(found.draft, found.new.model_copy(update=own), found.old)
