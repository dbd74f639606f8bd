"""What is printed of quotes: the files of one, and the yard's page of all of them.

What a customer gets is made from the record alone and looked through before it is given.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from quoter.formats import RECORD_FILE
from quoter.pages.environment import css_text, mail_link, page_environment, render, web_link
from quoter.pages.money import exact, money
from quoter.pricing.price import Pricing
from quoter.quotes.account_book import account_book
from quoter.quotes.approval import limit_said, passed_said
from quoter.quotes.draft import Draft
from quoter.quotes.guard import look_through_quote
from quoter.quotes.listing import NOTHING, Overview, month_table
from quoter.quotes.quote_book import quote_book
from quoter.quotes.record import Record
from quoter.quotes.record_file import to_json
from quoter.quotes.shown import shown_of
from quoter.wording import own_words, wording
from quoter.workbook import write_book
from quoter.workbook.paper import on_paper_of


def quote_page(record: Record) -> bytes:
    """The page as one file that needs no other; it prints to A4 and to Letter.

    Raises:
        babel.UnknownLocaleError: when the record's language is none.
    """
    environment = page_environment(record.locale, record.currency)
    environment.filters |= {
        "css": css_text,
        "exact": partial(exact, locale=record.locale),
        "mail_link": mail_link,
        "web_link": web_link,
    }
    return render(environment, "quote/quote.html", quote=shown_of(record))


def quotes_page(overview: Overview) -> bytes:
    """The yard's page of conversion and margin by month and option, and every quote."""
    kept = overview.listing.quotes
    home = kept[0].record.inside.home if kept else ""
    return render(
        page_environment(overview.locale, home or "EUR", own=True),
        "internal/quotes.html",
        on=overview.listing.on,
        home=home,
        quotes=kept,
        today=overview.today,
        nothing=NOTHING,
        paid={
            q.record.name: money(q.record.total, q.record.currency, overview.locale) for q in kept
        },
        table=month_table(overview.listing),
        let_pass=[q.record for q in kept if q.record.inside.approval is not None],
        passed_said=passed_said,
        limit_said=limit_said,
    )


def files_of(draft: Draft, record: Record) -> Mapping[str, bytes]:
    """The files of a quote: two for the customer, two for the yard.

    Raises:
        LeakError: one for the customer says what nothing that they may see accounts for.
    """
    catalogue = draft.pricing.catalogue
    book = account_book(draft.account, draft.pricing.terms, record, on_paper_of(catalogue))
    files = {
        **reprinted(record, draft.pricing),
        "internal.xlsx": write_book(book, own_words(catalogue)),
    }
    return {**files, RECORD_FILE: to_json(record, files)}


def reprinted(record: Record, pricing: Pricing | None = None) -> dict[str, bytes]:
    """The customer's files, from the record alone.

    Args:
        record: the quote
        pricing: to say of a leak what it is, where it is at hand
    Raises:
        LeakError: a file says what nothing that the customer may see accounts for.
    """
    book = quote_book(record, wording(record.locale))
    files = {"quote.html": quote_page(record), "quote.xlsx": book}
    look_through_quote(files, record, pricing)
    return files
