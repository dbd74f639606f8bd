"""Which order stands for a number, and what changes it: a won quote is not revised.

What its customer wants changed is a quote of its own that names the order: a change order. Once it
is won too, it is the order, and the boat is still made under the first one's job.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import kept
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.standing import Kept, Listing, is_changed, list_all, order_stands
from quoter.quotes.kept.store import Files
from quoter.quotes.printed.files import files_of
from quoter.quotes.requote import Requote


def order_of(listing: Listing, number: str) -> Kept | None:
    """The order that a number or name stands for: what was won, as the last change order has it.

    Args:
        listing: of all quotes
        number: of a quote, or the name of a quote or revision
    """
    by_name = {each.record.name: each for each in listing.quotes}
    found = None
    for each in listing.quotes:
        asked = number in (
            each.record.name,
            each.record.number,
            f"{each.record.number}-R{each.record.revision}",
        )
        order, passed = each, set[str]()
        while asked and is_changed(order) and order.record.name not in passed:
            passed.add(order.record.name)
            order = by_name[order.replaced_by]
        if asked and order.state == "won":
            found = order
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
    found = next(each for each in listing.quotes if each.record.name == record.name)
    name, by = record.name, found.replaced_by
    if by:
        return f"{name} is revised, not won: {by} took its place, name that"
    order = f"write down the order with 'quoter outcome {name} won --on DATE'"
    state = "a draft" if found.state == "draft" else found.state
    return f"{name} is {state}, not won: {order}"


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
    record, order = kept(quotes, number), order_of(list_all(quotes), number)
    if order is None:
        if not changing:
            return number
        raise QuoteError(
            f"{record.name} is not won, so there is no order to change: revise it with --revise"
        )
    name = order.record.name
    if not changing and order.outcome is not None:
        raise QuoteError(order_stands(order.outcome))
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
    # When the boat comes is as it was confirmed, unless the request promises another day.
    own = {"number": number, "revision": 0, "changes_order": order, "lead_time": None}
    return files_of(found.draft, found.new.model_copy(update=own), found.old)
