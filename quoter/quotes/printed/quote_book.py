"""The customer's copy of a quote as a workbook: what its page says, as values and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from itertools import zip_longest

from babel.numbers import format_decimal, format_percent, get_currency_name

from quoter.pages import money
from quoter.quotes.kept.party import Say, bank_rows, party_rows
from quoter.quotes.kept.record import Record, Tax
from quoter.quotes.printed.shown import Section, Shown, ShownLine, locale_of, printed_on, shown_of
from quoter.workbook.columns import Look, minor_digits
from quoter.workbook.portrait import Piece, Portrait, write_portraits

CHANGES_WIDTHS = _WHAT, _VALUE = 40.0, 32.0
SIGNED = 27.0  # points of a row that is written in by hand
NOTE_APART = 4.5  # points between the facts and the note
WIDTHS = _ITEM, _QUANTITY, _TAX, _MONEY = 45.0, 12.5, 9.5, 20.0
_WHOLE = "#,##0"


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
        self._locale = locale_of(quote)
        self._money = money_code(quote.currency)
        self._sheet = Portrait(quote.name, _widths_of(quote))

    def file(self) -> bytes:
        quote, say = self._quote, self._say
        self._opening()
        self._lines()
        sheets = [self._sheet]
        # A sheet of their own: on paper every page of a sheet repeats its heading.
        self._sheet = Portrait(say("Terms"), _widths_of(quote))
        self._sheet.across(say("Quote %(number)s") % {"number": quote.name}, "title")
        self._sheet.blank()
        self._payment()
        self._clauses()
        sheets.append(self._sheet)
        if quote.before:
            sheets.append(self._changes())
        title = say("Quote %(name)s, %(yard)s") % {"name": quote.name, "yard": quote.yard.name}
        return write_portraits(sheets, title, title, printed_on(quote))

    def _opening(self) -> None:
        quote, say, sheet = self._quote, self._say, self._sheet
        sheet.across(say("Quote %(number)s") % {"number": quote.number}, "title")
        if quote.revision:
            sheet.across(say("Revision %(revision)s") % {"revision": quote.revision}, "lead")
        if quote.changes_order:
            sheet.across(say("Change to order %(order)s") % {"order": quote.changes_order}, "lead")
        sheet.blank()
        self._pair(quote.yard.name, say("Prepared for"), "heading")
        yard = [text for text in party_rows(quote.yard, say) if text != quote.yard.name]
        for left, right in zip_longest(yard, party_rows(quote.customer, say), fillvalue=""):
            self._pair(left, right, "plain")
        sheet.blank()
        for what, value in (
            (say("Issued on"), self._day(quote.issued)),
            (say("Valid until"), self._day(quote.valid_until)),
            (say("Prepared by"), quote.prepared_by),
            (say("Price sheet"), quote.price_list),
            (say("Your reference"), quote.reference),
            (say("Delivery"), quote.ready),
        ):
            if value:
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

    def _day(self, day: date) -> str:
        return money.day(day, self._locale)

    def _lines(self) -> None:
        """From the words on what prices hold to the last total."""
        quote, say, sheet = self._quote, self._say, self._sheet
        sheet.across(self._basis(), "lead")
        tax = (Piece(say("Tax"), "head_number"),) if quote.marks else ()
        sheet.repeated = sheet.add(
            Piece(say("Item"), "head_text"),
            Piece(say("Quantity"), "head_number"),
            Piece(say("Unit price"), "head_number"),
            *tax,
            Piece(say("Amount"), "head_number"),
        )
        for section in quote.sections:
            self._section(section)
        self._sums()
        self._offered()

    def _basis(self) -> str:
        quote, say = self._quote, self._say
        told: dict[str, str] = {
            "with one": say("Prices and amounts are in %(currency)s and include %(rate)s %(tax)s."),
            "with several": say(
                "Prices and amounts are in %(currency)s and include the tax named beside each."
            ),
            "without one": say(
                "Prices and amounts are in %(currency)s, without %(tax)s, which is added below."
            ),
            "without several": say(
                "Prices and amounts are in %(currency)s, without the tax named beside each, "
                "which is added below."
            ),
            "untaxed": say("Prices and amounts are in %(currency)s, without tax."),
        }
        tax = quote.taxes[0] if quote.taxes else None
        return told[quote.basis] % {
            "currency": get_currency_name(quote.currency, count=2, locale=self._locale),
            "rate": self._percent(tax.rate) if tax else "",
            "tax": tax.name if tax else "",
        }

    def _percent(self, fraction: Decimal) -> str:
        return format_percent(fraction, locale=self._locale, decimal_quantization=False)

    def _section(self, section: Section) -> None:
        say, sheet = self._say, self._sheet
        heading = {
            "options": say("Options"),
            "less": say("Credits and discounts"),
            "credits": say("Credits"),
            "discounts": say("Discounts"),
            "extras": say("Further items"),
            "apart": say("Further items, without discount"),
            "trade_ins": say("Part exchange"),
            "standard": say("Standard equipment, included in the price of the boat"),
        }.get(section.kind)
        if section.kind == "delivery" and self._quote.subtotal is not None:
            heading = say("Delivery")
        first = sheet.row + 1
        if heading:
            sheet.across(heading, "group")
        for place, line in enumerate(section.lines):
            if section.kind == "standard":
                count = f"{line.quantity} × " if line.quantity != 1 else ""
                sheet.across(count + self._told(line), "text")
            else:
                self._line(line)
            if place == 0:
                sheet.keep(first)
        if section.subtotal is not None:
            last = sheet.row
            self._sum(say("Subtotal"), section.subtotal)
            sheet.keep(last)

    def _told(self, line: ShownLine) -> str:
        """A line's name with what is said of it, below each other."""
        lead = {"time": line.lead_time}
        told = (
            line.name,
            line.text,
            " · ".join(line.inside),
            self._say("Lead time: %(time)s") % lead if line.lead_time else "",
            line.condition,
        )
        return "\n".join(text for text in told if text)

    def _line(self, line: ShownLine) -> None:
        price = Piece(line.price, "number", self._money)
        amount = Piece(line.amount, "number", self._money)
        if line.amount is None:
            amount = Piece(self._say("included"), "number")
        taxed = (self._tax_mark(line.tax),) if self._quote.marks else ()
        self._sheet.add(Piece(self._told(line), "text"), self._count(line), price, *taxed, amount)

    def _count(self, line: ShownLine) -> Piece:
        """How many; parts of one and hours as a text, since no cell's format names them."""
        if isinstance(line.quantity, int) and not line.hours:
            return Piece(line.quantity, "number", _WHOLE)
        stated = format_decimal(line.quantity, locale=self._locale, decimal_quantization=False)
        return Piece(
            self._say("%(hours)s h") % {"hours": stated} if line.hours else stated, "number"
        )

    def _tax_mark(self, tax: Tax | None) -> Piece:
        if tax is None:
            return Piece("–", "number")
        if self._quote.marks == "name":
            return Piece(tax.name, "number")
        return Piece(tax.rate, "number", exact_percent(tax.rate))

    def _sums(self) -> None:
        quote, say, last = self._quote, self._say, self._sheet.row
        if quote.basis in ("without one", "without several"):
            self._sum(say("Sum without tax"), quote.net)
            self._taxes(say("Tax"), say("Taxed amount"))
        self._sum(say("Total to pay"), quote.total, "sum")
        if quote.basis in ("with one", "with several"):
            self._taxes(say("Tax"), say("Taxed amount"))
            self._sum(say("Total without tax"), quote.net)
        if quote.scheme:
            self._sheet.across(quote.scheme, "note")
        self._sheet.keep(last)
        self._sheet.blank()

    def _offered(self) -> None:
        """What can be added, in a block of its own."""
        quote, say, sheet = self._quote, self._say, self._sheet
        if not quote.offered:
            return
        first = sheet.row + 1
        sheet.across(say("Not included; can be added"), "heading")
        sheet.across(
            say("Each at its list price before any discount; not in the totals above."), "lead"
        )
        over = len(sheet.widths) - 3
        for line in quote.offered:
            price = Piece(line.price, "number", self._money)
            amount = Piece(line.amount, "number", self._money, over=over)
            sheet.add(Piece(self._told(line), "text"), self._count(line), price, amount)
            if line is quote.offered[0]:
                sheet.keep(first)
        sheet.blank()

    def _sum(self, what: str, amount: Decimal, role: str = "total") -> None:
        spare = len(self._sheet.widths) - 3
        self._sheet.add(
            Piece(what, f"{role}_text", over=2),
            Piece(amount, f"{role}_number", self._money, over=spare + 1),
        )

    def _taxes(self, what: str, base: str) -> None:
        sheet, spare = self._sheet, len(self._sheet.widths) - 3
        sheet.add(
            Piece(what, "head_text"),
            Piece(None, "head_text"),
            Piece(base, "head_number", over=spare),
            Piece(self._say("Amount"), "head_number"),
        )
        for tax in self._quote.taxes:
            sheet.add(
                Piece(tax.name, "text"),
                Piece(tax.rate, "number", exact_percent(tax.rate)),
                Piece(tax.base, "number", self._money, over=spare),
                Piece(tax.amount, "number", self._money),
            )

    def _payment(self) -> None:
        quote, say, sheet = self._quote, self._say, self._sheet
        if not (quote.deposits or quote.payment or quote.yard.banks):
            return
        first = sheet.row + 1
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
        for bank in quote.yard.banks:
            for what, value in bank_rows(bank, say):
                self._pair(what, value, "text")
        sheet.keep(first)
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
                "The prices are based on the rate of %(day)s: 1 %(home)s = %(rate)s %(currency)s "
                "(%(source)s)."
            )
            self._clause(say("Rate of exchange"), (told % given, rate.words))
        self._clause(say("Surcharge"), quote.surcharge)
        self._clause(say("Terms"), quote.terms)
        first = self._sheet.row + 1
        self._clause(say("Openings in the hull"), (self._caution(),), "caution")
        accepted = say("To accept quote %(name)s, sign here by %(day)s.")
        given = {"name": quote.name, "day": self._day(quote.valid_until)}
        self._clause(say("Acceptance"), (accepted % given,))
        self._signatures()
        self._sheet.keep(first)

    def _caution(self) -> str:
        return self._say(
            "This quote approves no structure. Where an opening is cut in the hull, the opening, "
            "its frame and its reinforcement must be designed by a qualified person, to the "
            "standard that applies, and approved before the boat is built. Local rules may ask "
            "for more and come first."
        )

    def _clause(self, heading: str, texts: Sequence[str], role: str = "plain") -> None:
        told = [text for text in texts if text]
        if not told:
            return
        first = self._sheet.row + 1
        self._sheet.across(heading, "heading")
        for text in told:
            self._sheet.across(text, role)
        self._sheet.keep(first)
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
        title = say("What changed since quote %(before)s")
        told = say("Quote %(before)s compared with quote %(name)s, which replaces it")
        if quote.before == quote.changes_order:
            title = say("What changes in order %(before)s")
            told = say("Order %(before)s compared with quote %(name)s, which changes it")
        sheet.across(title % before, "title")
        sheet.across(told % before, "lead")
        sheet.blank()
        if not quote.changes:
            sheet.across(say("Only the dates have changed."))
            return sheet
        heads = (say("What"), say("Before"), say("Now"))
        sheet.repeated = sheet.add(*(Piece(head, "head_text") for head in heads))
        for change in quote.changes:
            cells = (change.what, change.before or "–", change.after or "–")
            sheet.add(*(Piece(text, "text") for text in cells))
        return sheet


def _widths_of(quote: Shown) -> tuple[float, ...]:
    """The columns of a quote's sheet, in digits: item, quantity, unit price, tax, amount."""
    taxed = (_TAX,) if quote.marks else ()
    return (_ITEM, _QUANTITY, _MONEY, *taxed, _MONEY)


def money_code(currency: str) -> str:
    """The number format of amounts, which names the currency."""
    return Look(minor_digits(currency), currency).code


def exact_percent(fraction: Decimal) -> str:
    """The number format that shows a fraction as it was stated: 0.081 as 8.1 %."""
    stated = (fraction * 100).normalize().as_tuple().exponent
    return Look(max(0, -int(stated)), percent=True).code
