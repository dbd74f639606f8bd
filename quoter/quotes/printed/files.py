"""What is printed of quotes: the files of one, and the yard's page of all of them.

What a customer gets is made from the record alone and looked through before it is given.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from functools import partial

from quoter.formats import RECORD_FILE
from quoter.pages.environment import css_text, mail_link, page_environment, render, web_link
from quoter.pages.money import exact, money
from quoter.pricing.price import Pricing
from quoter.quotes.approval import limit_said, passed_said
from quoter.quotes.draft import Draft
from quoter.quotes.kept.archive import DATA, MAIL, customers_of
from quoter.quotes.kept.party import bank_rows
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import to_json
from quoter.quotes.kept.standing import ITS_STATE, STATE_WORDS, counts
from quoter.quotes.listing import NOTHING, Overview, month_table
from quoter.quotes.printed.account_book import account_book
from quoter.quotes.printed.guard import look_through_quote
from quoter.quotes.printed.mail import mail
from quoter.quotes.printed.pdf import UnprintableError, pdf_of
from quoter.quotes.printed.quotation import quotation
from quoter.quotes.printed.quote_book import quote_book
from quoter.quotes.printed.shown import printed_on, shown_of
from quoter.quotes.waiting import waiting_of
from quoter.wording import own_wording, own_words, wording
from quoter.workbook import write_book
from quoter.workbook.paper import on_paper_of

PDF = "quote.pdf"


def quote_page(record: Record) -> bytes:
    """The page as one file that needs no other; it prints to A4 and to Letter.

    Raises:
        babel.UnknownLocaleError: when the record's language is none.
    """
    return customer_page(record, "quote/quote.html", quote=shown_of(record))


def customer_page(record: Record, template: str, **views: object) -> bytes:
    """A page for the customer of a quote, in its language, from views alone."""
    environment = page_environment(record.locale, record.currency)
    environment.filters |= {
        "bank_rows": partial(bank_rows, say=wording(record.locale)),
        "css": css_text,
        "exact": partial(exact, locale=record.locale),
        "mail_link": mail_link,
        "web_link": web_link,
    }
    return render(environment, template, **views)


def why_no_pdf(record: Record) -> str:
    """Why a quote has no PDF, in a sentence; nothing where it has one."""
    try:
        pdf_of(quote_page(record), printed_on(shown_of(record)))
    except UnprintableError as fault:
        return f"it has no {PDF}: {fault}"
    return ""


def quotes_page(overview: Overview) -> bytes:
    """The yard's page of conversion and margin by month and option, and every quote."""
    kept = overview.listing.quotes
    home = kept[0].record.inside.home if kept else ""
    environment = page_environment(overview.locale, home or "EUR", own=True)
    environment.filters |= {
        "say": own_wording(overview.locale),
        "paid": partial(money, locale=overview.locale),
    }
    return render(
        environment,
        "internal/quotes.html",
        on=overview.listing.on,
        home=home,
        quotes=kept,
        today=overview.today,
        nothing=NOTHING,
        table=month_table(overview.listing),
        let_pass=[q.record for q in kept if q.record.inside.approval is not None],
        passed_said=passed_said,
        limit_said=limit_said,
        counts=[(STATE_WORDS[state], count) for state, count in counts(overview.listing).items()],
        states=STATE_WORDS,
        its_state=ITS_STATE,
        waiting=waiting_of(overview.listing, overview.records),
    )


def files_of(draft: Draft, record: Record, before: Record | None = None) -> Mapping[str, bytes]:
    """The files of a quote: those for the customer, and two for the yard.

    There is no PDF of a quote with a letter that no font of the typesetter has.

    Args:
        draft: the quote as it was worked out
        record: the quote under its number
        before: the revision before it or the order that it changes, if there is one
    Raises:
        LeakError: one for the customer says what nothing that they may see accounts for.
    """
    catalogue = draft.pricing.catalogue
    book = account_book(draft.account, draft.pricing.terms, record, on_paper_of(catalogue), before)
    files = {
        **reprinted(record, draft.pricing),
        "internal.xlsx": write_book(book, own_words(catalogue)),
    }
    return {**files, RECORD_FILE: to_json(record, files)}


def printed_again(record: Record, issued: Mapping[str, bytes]) -> dict[str, bytes]:
    """The customer's files that the quote has, as they were issued; what is gone is made anew.

    A record says all that its files say, but a later version of the program or of the typesetter
    may say it in other bytes than the customer holds.

    Args:
        record: the quote
        issued: files that still are what was issued, by name
    Raises:
        LeakError: a file says what nothing that the customer may see accounts for.
    """
    had = customers_of(record)
    kept = {name: issued[name] for name in had if name in issued}
    return kept if {*kept} == {*had} else reprinted(record) | kept


def reprinted(record: Record, pricing: Pricing | None = None) -> dict[str, bytes]:
    """The customer's files that the quote has, from the record alone.

    A quote that was issued without a PDF has none.

    Args:
        record: the quote
        pricing: to say of a leak what it is, where it is at hand
    Raises:
        LeakError: a file says what nothing that the customer may see accounts for.
    """
    had, shown = customers_of(record), shown_of(record)
    page = quote_page(record)
    files = {"quote.html": page, "quote.xlsx": quote_book(record, wording(record.locale))}
    if DATA in had:
        files[DATA] = quotation(shown)
    if PDF in had:
        with suppress(UnprintableError):
            files[PDF] = pdf_of(page, printed_on(shown))
    if MAIL in had:
        files[MAIL] = mail(shown, tuple(name for name in had if name in files))
    look_through_quote(files, record, pricing)
    return files
