"""The priced lines of a quote and what they come to, as rows of a sheet."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from babel import Locale
from babel.numbers import format_percent, get_currency_name

from quoter.quotes.record import Tax
from quoter.quotes.shown import Section, Shown, ShownLine
from quoter.workbook.columns import Look, minor_digits
from quoter.workbook.portrait import Piece, Portrait

Say = Callable[[str], str]

_ITEM, _QUANTITY, _TAX, _MONEY = 45.0, 12.5, 9.5, 20.0
_WHOLE = "#,##0"


def widths_of(quote: Shown) -> tuple[float, ...]:
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


class QuoteLines:
    """Writes the lines and totals of one quote below what its sheet holds already."""

    def __init__(self, quote: Shown, say: Say, sheet: Portrait) -> None:
        """`sheet` has the columns of `widths_of`."""
        self._quote = quote
        self._say = say
        self._sheet = sheet
        self._locale = Locale.parse(quote.language.replace("_", "-"), sep="-")
        self._money = money_code(quote.currency)

    def write(self) -> None:
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
            "standard": say("Standard equipment, included in the price of the boat"),
        }.get(section.kind)
        if heading:
            sheet.across(heading, "group")
        for line in section.lines:
            if section.kind == "standard":
                count = f"{line.quantity} × " if line.quantity != 1 else ""
                sheet.across(count + self._told(line), "text")
            else:
                self._line(line)

    def _told(self, line: ShownLine) -> str:
        """A line's name with what is said of it, below each other."""
        lead = {"time": line.lead_time}
        told = (
            line.name,
            line.text,
            " · ".join(line.inside),
            self._say("Lead time: %(time)s") % lead if line.lead_time else "",
        )
        return "\n".join(text for text in told if text)

    def _line(self, line: ShownLine) -> None:
        price = Piece(line.price, "number", self._money)
        amount = Piece(line.amount, "number", self._money)
        if line.amount is None:
            amount = Piece(self._say("included"), "number")
        taxed = (self._tax_mark(line.tax),) if self._quote.marks else ()
        count = Piece(line.quantity, "number", _WHOLE)
        self._sheet.add(Piece(self._told(line), "text"), count, price, *taxed, amount)

    def _tax_mark(self, tax: Tax | None) -> Piece:
        if tax is None:
            return Piece("–", "number")
        if self._quote.marks == "name":
            return Piece(tax.name, "number")
        return Piece(tax.rate, "number", exact_percent(tax.rate))

    def _sums(self) -> None:
        quote, say = self._quote, self._say
        if quote.basis in ("without one", "without several"):
            self._sum(say("Sum without tax"), quote.net)
            self._taxes(say("Tax"), say("Sum without tax"))
        self._sum(say("Total to pay"), quote.total, "sum")
        if quote.basis in ("with one", "with several"):
            self._taxes(say("Tax"), say("Total without tax"))
            self._sum(say("Total without tax"), quote.net)
        if quote.scheme:
            self._sheet.across(quote.scheme, "note")
        self._sheet.blank()

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
