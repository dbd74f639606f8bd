"""All that a quote's customer gets, read: the page, the PDF, the workbook, the data, the letter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from itertools import islice

from quoter.leaks.allowed import MONEY, SHARE, Allowed
from quoter.leaks.books import BookKind
from quoter.leaks.guard import MOST_TOLD, NO_SUCH_FILE, Leak, leaks_in, stop_at
from quoter.leaks.known import Known
from quoter.leaks.pages import Pages
from quoter.leaks.reduction import Rest
from quoter.pricing.price import Pricing
from quoter.quotes.kept.amounts import SHARE_DECIMALS
from quoter.quotes.kept.archive import CUSTOMERS, DATA, MAIL
from quoter.quotes.kept.record import Record
from quoter.quotes.printed.guard_data import allowed_data, data_rests
from quoter.quotes.printed.pdf import pdf_of, strings_of
from quoter.quotes.printed.quotation import sums_of
from quoter.quotes.printed.quote_book import (
    CHANGES_WIDTHS,
    NOTE_APART,
    SIGNED,
    WIDTHS,
    exact_percent,
    money_code,
)
from quoter.quotes.printed.shown import printed_on, shown_of


def _codes(allowed: Allowed) -> dict[str, str]:
    """The formats of amounts and of percentages with any decimals."""
    shares = {exact_percent(Decimal(10) ** -n): SHARE for n in range(2, SHARE_DECIMALS + 1)}
    return {money_code(allowed.currency): MONEY} | shares


# A unit price and an amount are as wide as each other.
_BOOK = BookKind((WIDTHS, CHANGES_WIDTHS), _codes, len(WIDTHS) + 1, (NOTE_APART, SIGNED))


def look_through_quote(
    files: Mapping[str, bytes],
    record: Record,
    pricing: Pricing | None = None,
    more: Iterable[object] = (),
) -> None:
    """Account for every number and word of a quote's files for its customer.

    Args:
        files: the page, the PDF, the workbook, the data and the letter, by their names
        record: what they are made from; only what its customer sees accounts for anything
        pricing: to say of a leak what it is, where it is at hand
        more: other views that they are made from
    Raises:
        LeakError: naming each file, the place and what is not accounted for.
    """
    shown, known = shown_of(record), Known(pricing)
    sums = sums_of(shown)
    allowed = Allowed([shown, *more], record.locale, shown.currency)
    lines = [line for section in shown.sections for line in section.lines]
    allowed.add_texts(*(str(line.quantity) for line in (*lines, *shown.offered)), *CUSTOMERS)
    in_data = Allowed([shown, sums], record.locale, shown.currency)
    allowed_data(shown, sums, in_data)
    for each in (allowed, in_data):
        known.strike_out(each)
    leaks: list[Leak] = []
    for name, content in sorted(files.items()):
        if name.endswith(".html"):
            leaks += leaks_in(name, content, Pages(allowed).rests, known)
        elif name.endswith(".xlsx"):
            for part, rest in islice(book_rests(content, allowed), MOST_TOLD):
                leaks.append(Leak(name, rest.text, part=part, known=known.what(rest.text)))
        elif name == MAIL:
            leaks += leaks_in(name, content, allowed.rests, known)
        elif name == DATA:
            for rest in islice(data_rests(content, shown, in_data), MOST_TOLD):
                leaks.append(Leak(name, rest.text, known=known.what(rest.text)))
        elif name.endswith(".pdf"):
            page = files.get(name.replace(".pdf", ".html"), b"")
            for text in islice(_pdf_rests(content, page, printed_on(shown), allowed), MOST_TOLD):
                leaks.append(Leak(name, text, known=known.what(text)))
        else:
            leaks.append(Leak(name, NO_SUCH_FILE))
    stop_at(leaks)


def _pdf_rests(content: bytes, page: bytes, paper: str, allowed: Allowed) -> Iterator[str]:
    """What of a PDF nobody accounts for: a text it was made from, or that it is made otherwise.

    Nothing can be read out of a PDF as surely as it is put in, so it has to be what its page gives.
    """
    if not page or pdf_of(page, paper) != content:
        yield "other bytes than its page gives"
        return
    for text in strings_of(page):
        yield from (rest.text for rest in allowed.rests(text))


def book_rests(content: bytes, allowed: Allowed) -> Iterator[tuple[str, Rest]]:
    """What of a quote's workbook nobody accounts for, each with the part it is in."""
    return _BOOK.rests(content, allowed)
