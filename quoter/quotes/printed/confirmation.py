"""The confirmation of an order: a won quote as it was frozen, with the days that were agreed on.

It is printed from the quote's record and its own, so that it comes out to the byte however the
catalogue has moved. Nothing on it is worked out anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated

from pydantic import Field

from quoter.formats import ORDER, ORDER_FILE, RECORD_FILE
from quoter.intake import read_file
from quoter.quotes import QuoteError
from quoter.quotes.change_orders import job_of, order_of, unordered
from quoter.quotes.kept.amounts import MOST, Frozen
from quoter.quotes.kept.archive import (
    ORDER_FILES,
    ORDER_PAGE,
    ORDER_PDF,
    entries,
    existing,
    kept,
    read_record,
    reading,
)
from quoter.quotes.kept.numbering import OrderName, named, order_named
from quoter.quotes.kept.record import Fingerprint, Record
from quoter.quotes.kept.record_file import changed_files, opened, sealed
from quoter.quotes.kept.standing import list_all
from quoter.quotes.kept.store import confirm
from quoter.quotes.printed.files import customer_page
from quoter.quotes.printed.guard import look_through_quote
from quoter.quotes.printed.pdf import UnprintableError, pdf_of
from quoter.quotes.printed.shown import printed_on, shown_of


class Confirmation(Frozen):
    """What was agreed on besides the quote; see `Order` for what the customer sees of it."""

    format: int = ORDER.newest
    """Number of the format of the file."""
    quote: str
    """Name of the won quote or revision."""
    issue: Annotated[int, Field(ge=1, le=MOST)] = 1
    """1 for the first confirmation of it."""
    ordered: date
    """The day of the order: that of the outcome."""
    confirmed: date
    """The day of the confirmation."""
    delivery: date
    """The day of delivery."""
    confirmed_by: str
    """Who confirms it at the yard."""
    job: str
    """Number of the job that the boat is made under."""
    fingerprint: Fingerprint | None = None
    """By which later changes are found."""

    @property
    def name(self) -> str:
        """What its folder is called."""
        return f"{self.quote}-order" + (f"-{self.issue}" if self.issue > 1 else "")


@dataclass(frozen=True, slots=True)
class Order:
    """A confirmation as the customer sees it, beside what they see of the quote."""

    name: str
    issue: int
    ordered: date
    confirmed: date
    delivery: date
    confirmed_by: str
    job: str


def confirm_order(
    quotes: Path, number: str, delivery: date, *, on: date | None, by: str, again: bool
) -> Path:
    """Confirm the order that a number stands for, beside its quote.

    Args:
        quotes: folder of quotes
        number: of the won quote, or its name; of one that was changed, the last change order is it
        delivery: the day of delivery that is agreed on
        on: the day of the confirmation; that of the order if not given
        by: who confirms it; nobody for whoever prepared the quote
        again: whether it may take the place of an earlier confirmation, which stays as it is
    Returns:
        the folder of the confirmation
    Raises:
        QuoteError: it is not won, a day comes before the order, it was confirmed before, or the
            folder can't be written to.
        LeakError: a file says what nothing that the customer may see accounts for.
    """
    record, _ = _order(quotes, number)
    quote = named(record.name)
    if quote is None:
        raise ValueError(f"{record.name} is no name of a quote")

    def make(name: OrderName) -> dict[str, bytes]:
        found, confirmation = _agreed(quotes, number, delivery, on, by)
        if found.name != str(quote):
            raise QuoteError(f"{quote} was changed: {found.name} is the order now; confirm that")
        if name.issue > 1 and not again:
            last = read_confirmation(quotes, name.before)
            raise QuoteError(
                f"{quote} was confirmed on {last.confirmed} for delivery on {last.delivery}: "
                f"see {quotes / last.name}; to confirm it anew, add --again"
            )
        confirmation = confirmation.model_copy(update={"issue": name.issue})
        return order_files(found, confirmation)

    return confirm(quotes, quote, make)


def _order(quotes: Path, number: str) -> tuple[Record, date]:
    """The record of an order, and its day."""
    record, listing = kept(quotes, number), list_all(quotes)
    order = order_of(listing, number)
    if order is None or order.outcome is None:
        raise QuoteError(unordered(listing, record))
    return order.record, order.outcome.date


def _agreed(
    quotes: Path, number: str, delivery: date, on: date | None, by: str
) -> tuple[Record, Confirmation]:
    """An order and what is confirmed of it, whose days follow each other."""
    record, ordered = _order(quotes, number)
    day = on or ordered
    if day < ordered:
        raise QuoteError(f"{record.name} was won on {ordered}: confirm it that day or later")
    if delivery < day:
        raise QuoteError(
            f"{record.name} can't be delivered on {delivery}, before it is confirmed on {day}"
        )
    return record, Confirmation(
        quote=record.name,
        ordered=ordered,
        confirmed=day,
        delivery=delivery,
        confirmed_by=by or record.prepared_by,
        job=job_of(list_all(quotes), record),
    )


def confirmed(record: Record, confirmation: Confirmation) -> dict[str, bytes]:
    """The customer's files of an order, from the two records alone.

    There is no PDF of an order with a letter that no font of the typesetter has.

    Args:
        record: of the quote
        confirmation: of its order
    Raises:
        LeakError: a file says what nothing that the customer may see accounts for.
    """
    order = Order(
        name=record.name,
        issue=confirmation.issue,
        ordered=confirmation.ordered,
        confirmed=confirmation.confirmed,
        delivery=confirmation.delivery,
        confirmed_by=confirmation.confirmed_by,
        job=confirmation.job,
    )
    shown = shown_of(record)
    page = customer_page(record, "quote/order.html", quote=shown, order=order)
    files, told = {ORDER_PAGE: page}, confirmation.fingerprint
    if told is None or ORDER_PDF in told.files:
        with suppress(UnprintableError):
            files[ORDER_PDF] = pdf_of(page, printed_on(shown))
    look_through_quote(files, record, more=(order,))
    return files


def order_files(record: Record, confirmation: Confirmation) -> dict[str, bytes]:
    """All files of a confirmation: the customer's, and the record that they are printed from."""
    files = confirmed(record, confirmation)
    return {**files, ORDER_FILE: sealed(confirmation, files, ORDER_FILE)}


def orders_in(folder: Path) -> list[OrderName]:
    """The names of all confirmations in a folder of quotes, whole or not."""
    return sorted(name for entry in entries(folder) if (name := order_named(entry)))


def read_confirmation(folder: Path, name: OrderName) -> Confirmation:
    """The record of one confirmation, as it was written.

    Raises:
        QuoteError: it is not there, can't be read, was changed, or is of another order.
    """
    path = folder / str(name) / ORDER_FILE
    with reading(path):
        found = opened(read_file(path), Confirmation, ORDER, "confirmation")
    if found.name != str(name):
        raise QuoteError(f"{path} is of {found.name}")
    return found


def reprinted_order(quotes: Path, name: OrderName) -> dict[str, bytes]:
    """The customer's files of a confirmation as they were written; what is gone is made anew.

    Raises:
        QuoteError: there is no such confirmation, or what is kept of it was changed.
        LeakError: a file says what nothing that the customer may see accounts for.
    """
    if not (existing(quotes) / str(name)).is_dir():
        raise QuoteError(f"there is no {name} in {quotes}: write it with 'quoter confirm'")
    confirmation = read_confirmation(quotes, name)
    told = confirmation.fingerprint
    had = [file for file in (ORDER_PAGE, ORDER_PDF) if told is None or file in told.files]
    found = {file: _content(quotes / str(name) / file) for file in had}
    changed = changed_files(confirmation, found)
    kept = {file: content for file, content in found.items() if content and file not in changed}
    if told is not None and {*kept} == {*had}:
        return kept
    made = confirmed(read_record(quotes, name.quote), confirmation)
    return made if told is None else made | kept


def check_orders(quotes: Path) -> Iterator[str]:
    """A sentence for each confirmation that is not as it was written, or of no quote."""
    names = orders_in(quotes)
    for name in names:
        place = quotes / str(name)
        if not (quotes / str(name.quote) / RECORD_FILE).is_file():
            yield f"{place} confirms {name.quote}, which is not there"
        if name.issue > 1 and name.before not in names:
            yield f"{quotes / str(name.before)} is missing: there are later ones"
        try:
            found = read_confirmation(quotes, name)
        except QuoteError as fault:
            yield str(fault)
            continue
        beside = {file: _content(place / file) for file in ORDER_FILES if file != ORDER_FILE}
        for file in changed_files(found, beside):
            yield f"{place / file} was changed after it was written"


def _content(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None
