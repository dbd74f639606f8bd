"""The customer's copy of a quote as a workbook: what its page says, as values and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import zip_longest

from babel import Locale
from babel.dates import format_date
from babel.numbers import format_decimal

from quoter.quotes.record import Party, Record
from quoter.quotes.shown import Shown, shown_of
from quoter.workbook.portrait import Piece, Portrait, write_portraits
from quoter.workbook.quote_lines import QuoteLines, Say, exact_percent, money_code, widths_of

CHANGES_WIDTHS = _WHAT, _VALUE = 40.0, 32.0
SIGNED = 27.0  # points of a row that is written in by hand
NOTE_APART = 4.5  # points between the facts and the note


def quote_book(record: Record, say: Say) -> bytes:
    """The file; the same record gives the same bytes.

    Args:
        record: the quote
        say: the wording in the record's language for that of the templates

    Raises:
        LimitError: for what spreadsheet applications refuse, saying what and why.
    """
    return _QuoteBook(shown_of(record), say).file()


class _QuoteBook:
    """The sheets of one quote, written from top to bottom."""

    def __init__(self, quote: Shown, say: Say) -> None:
        self._quote = quote
        self._say = say
        self._locale = Locale.parse(quote.language.replace("_", "-"), sep="-")
        self._money = money_code(quote.currency)
        self._sheet = Portrait(quote.name, widths_of(quote))

    def file(self) -> bytes:
        quote, say = self._quote, self._say
        self._opening()
        QuoteLines(quote, say, self._sheet).write()
        sheets = [self._sheet]
        # A sheet of their own: on paper every page of a sheet repeats its heading.
        self._sheet = Portrait(say("Terms"), widths_of(quote))
        self._sheet.across(say("Quote %(number)s") % {"number": quote.name}, "title")
        self._sheet.blank()
        self._payment()
        self._clauses()
        sheets.append(self._sheet)
        if quote.revision:
            sheets.append(self._changes())
        title = say("Quote %(name)s, %(yard)s") % {"name": quote.name, "yard": quote.yard.name}
        # The first letters of a currency's code are its country's (ISO 4217 takes ISO 3166's).
        territory = self._locale.territory or quote.currency[:2]
        return write_portraits(sheets, title, title, territory)

    def _opening(self) -> None:
        quote, say, sheet = self._quote, self._say, self._sheet
        sheet.across(say("Quote %(number)s") % {"number": quote.number}, "title")
        if quote.revision:
            sheet.across(say("Revision %(revision)s") % {"revision": quote.revision}, "lead")
        sheet.blank()
        self._pair(quote.yard.name, say("Prepared for"), "heading")
        yard = [text for text in self._party(quote.yard) if text != quote.yard.name]
        for left, right in zip_longest(yard, self._party(quote.customer), fillvalue=""):
            self._pair(left, right, "plain")
        sheet.blank()
        for what, value in (
            (say("Issued on"), self._day(quote.issued)),
            (say("Valid until"), self._day(quote.valid_until)),
            (say("Prepared by"), quote.prepared_by),
            (say("Price list"), quote.price_list),
        ):
            self._pair(what, value, "text")
        sheet.blank()
        sheet.across(quote.title, "heading")
        for what, value in quote.facts:
            self._pair(what, value, "text")
        if quote.note:
            sheet.blank(NOTE_APART)
            for paragraph in quote.note.strip().split("\n"):
                sheet.across(paragraph)
        sheet.blank()

    def _pair(self, left: str, right: str, role: str) -> None:
        self._sheet.add(Piece(left, role), Piece(right, role, over=len(self._sheet.widths) - 1))

    def _party(self, who: Party) -> list[str]:
        number = {"number": who.tax_number}
        told = (
            who.company or who.name,
            who.name if who.company else "",
            *who.address,
            who.country,
            self._say("Tax number %(number)s") % number if who.tax_number else "",
            who.phone,
            who.email,
            who.website,
        )
        return [text for text in told if text]

    def _day(self, day: date) -> str:
        return format_date(day, "long", locale=self._locale)

    def _payment(self) -> None:
        quote, say, sheet = self._quote, self._say, self._sheet
        if not (quote.deposits or quote.payment):
            return
        sheet.across(say("Payment"), "heading")
        if quote.deposits:
            over = len(sheet.widths) - 2
            sheet.add(
                Piece(say("Due"), "head_text"),
                Piece(say("Share"), "head_number"),
                Piece(say("Amount"), "head_number", over=over),
            )
            for part in quote.deposits:
                sheet.add(
                    Piece(part.due, "text"),
                    Piece(part.share, "number", exact_percent(part.share)),
                    Piece(part.amount, "number", self._money, over=over),
                )
        for text in quote.payment:
            sheet.across(text)
        sheet.blank()

    def _clauses(self) -> None:
        quote, say = self._quote, self._say
        delivery = quote.delivery
        named = {"term": delivery.term, "place": delivery.place, "edition": delivery.edition}
        self._clause(
            say("Delivery"), (say("%(term)s %(place)s, %(edition)s") % named, delivery.words)
        )
        if quote.rate:
            rate = quote.rate
            given = {
                "home": rate.home,
                "currency": rate.currency,
                "rate": format_decimal(rate.rate, locale=self._locale, decimal_quantization=False),
                "day": self._day(rate.day),
                "source": rate.source,
            }
            told = say(
                "The prices rest on the rate of %(day)s: 1 %(home)s = %(rate)s %(currency)s "
                "(%(source)s)."
            )
            self._clause(say("Rate of exchange"), (told % given, rate.words))
        self._clause(say("Surcharge"), quote.surcharge)
        self._clause(say("Terms"), quote.terms)
        self._clause(say("Openings in the hull"), (self._caution(),), "caution")
        accepted = say("Quote %(name)s is accepted by signing here until %(day)s.")
        given = {"name": quote.name, "day": self._day(quote.valid_until)}
        self._clause(say("Acceptance"), (accepted % given,))
        self._signatures()

    def _caution(self) -> str:
        return self._say(
            "This quote approves no structure. Where an opening is cut in the hull, the opening, "
            "its frame and its reinforcement must have scantlings by a qualified person, to the "
            "standard that applies, and be approved before the boat is built. Local rules may ask "
            "for more; they decide."
        )

    def _clause(self, heading: str, texts: Sequence[str], role: str = "plain") -> None:
        told = [text for text in texts if text]
        if not told:
            return
        self._sheet.across(heading, "heading")
        for text in told:
            self._sheet.across(text, role)
        self._sheet.blank()

    def _signatures(self) -> None:
        quote, say = self._quote, self._say
        self._pair(quote.customer.company or quote.customer.name, quote.yard.name, "total_text")
        for what in (say("Place and date"), say("Name"), say("Signature")):
            self._pair(what, what, "text")
            self._sheet.heights[self._sheet.row] = SIGNED

    def _changes(self) -> Portrait:
        quote, say = self._quote, self._say
        sheet = Portrait(say("Changes"), (_WHAT, _VALUE, _VALUE))
        before = {"before": quote.before, "name": quote.name}
        sheet.across(say("What changed since quote %(before)s") % before, "title")
        told = say("Quote %(before)s beside quote %(name)s, which takes its place")
        sheet.across(told % before, "lead")
        sheet.blank()
        if not quote.changes:
            sheet.across(say("Nothing a customer sees has changed but the dates."))
            return sheet
        heads = (say("What"), say("Before"), say("Now"))
        sheet.repeated = sheet.add(*(Piece(head, "head_text") for head in heads))
        for change in quote.changes:
            cells = (change.what, change.before or "–", change.after or "–")
            sheet.add(*(Piece(text, "text") for text in cells))
        return sheet
