"""The price list as a workbook, prices.xlsx: the boats on a sheet, then a sheet for each boat.

What stands there is what the full price list says, from the same view: values and nothing else. It
is laid out for the market's paper, and its numbers are numbers: prices in the currency's format,
masses and lengths in the units that the market reads. Feet and inches are a text, since no number
format of a cell has both.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from babel import Locale
from babel.numbers import get_currency_name

from quoter.figures.exact import half_up
from quoter.figures.readers import BOTH, METRIC, US
from quoter.pages import money
from quoter.pages.number_style import NumberStyle
from quoter.pages.public.compare import total
from quoter.pages.public.data import OPENING, caution
from quoter.pages.public.running_foot import foot_words
from quoter.pages.public.views import (
    GroupView,
    ModelView,
    OptionView,
    OtherOption,
    PackageView,
    SheetView,
    TaxView,
)
from quoter.pricing.public import PublicMeasure, PublicPrice
from quoter.wording import Wording, wording
from quoter.workbook.columns import Look, minor_digits
from quoter.workbook.limits import LONGEST_TITLE, LimitError, check_titles
from quoter.workbook.portrait import Piece, Portrait, write_portraits

MEASURES = {METRIC.name: 1, US.name: 1, BOTH: 2}  # columns of a measure, by which units are read
FROZEN = 3  # rows: the title, what it is of, the heads of the columns
_NAME, _LEAD_TIME, _MEASURE, _PRICE = 38.0, 17.0, 11.0, 17.0


def boats_widths(units: str) -> tuple[float, ...]:
    """The columns of the sheet of boats, in digits: name, length, beam, mass, price."""
    return (_NAME, *[_MEASURE] * 3 * MEASURES[units], _PRICE)


def boat_widths(units: str) -> tuple[float, ...]:
    """The columns of one boat's sheet: option, lead time, the mass it adds, price."""
    return (_NAME + _LEAD_TIME, _LEAD_TIME, *[_MEASURE] * MEASURES[units], _PRICE)


def price_book(sheet: SheetView) -> bytes:
    """The file prices.xlsx of a price sheet; the same sheet gives the same bytes anywhere.

    Raises:
        LimitError: for what spreadsheet applications refuse, saying what and why.
    """
    book = _PriceBook(sheet)
    title = foot_words(sheet)
    return write_portraits([*book.sheets()], title, title, sheet.paper, stored=True)


def sheet_titles(sheet: SheetView) -> tuple[str, ...]:
    """What the sheets are called: the boats, then each by its name if that can be a title.

    One that spreadsheet applications refuse gives way to the boat's id, or else to its number.
    """
    say = wording(_locale(sheet))
    found = [say("Boats")]
    for place, model in enumerate(sheet.models, 1):
        names = (model.name, model.id, f"{say('Boat')} {place}")
        found.append(next(name for name in names if _can_be_title(name, found)))
    return tuple(found)


def _can_be_title(name: str, others: Sequence[str]) -> bool:
    try:
        check_titles([*others, name])
    except LimitError:
        return False
    return len(name.encode("utf-16-le")) <= 2 * LONGEST_TITLE


def price_code(sheet: SheetView) -> str:
    """The number format of its prices: without decimals where every price is a whole one."""
    whole = all(price.amount == int(price.amount) for price in _prices(sheet))
    return Look(0 if whole else minor_digits(sheet.currency), sheet.currency).code


def measure_code(name: str, locale: Locale, digits: int) -> str:
    """The number format of a measure with its unit, as the reader's language has it."""
    style: NumberStyle = money.measure_style(name, locale, digits)
    before, after = (f'"{text}"' if text else "" for text in (style.before, style.after))
    return f"{before}{Look(digits).code}{after}"


def _locale(sheet: SheetView) -> Locale:
    return Locale.parse(sheet.head.tag, sep="-")


def _prices(sheet: SheetView) -> Iterator[PublicPrice]:
    if sheet.delivery is not None:
        yield sheet.delivery.price
    for model in sheet.models:
        yield model.price
        for option in model.options:
            yield option.price
            yield from (each.price for each in option.surcharges)
        yield from (package.price for package in model.packages)


@dataclass(frozen=True)
class _PriceBook:
    """The sheets of one price sheet's workbook, written from top to bottom."""

    sheet: SheetView

    @cached_property
    def _say(self) -> Wording:
        return wording(self._locale)

    @cached_property
    def _locale(self) -> Locale:
        return _locale(self.sheet)

    @cached_property
    def _code(self) -> str:
        return price_code(self.sheet)

    def sheets(self) -> Iterator[Portrait]:
        """The boats, then each of them."""
        first, *others = sheet_titles(self.sheet)
        yield self._boats(first)
        for title, model in zip(others, self.sheet.models, strict=True):
            yield self._boat(title, model)

    def _boats(self, title: str) -> Portrait:
        sheet, say = self.sheet, self._say
        page = Portrait(title, boats_widths(sheet.units), frozen=FROZEN)
        page.across(foot_words(sheet), "title")
        page.across(self._edition(), "lead")
        over = MEASURES[sheet.units]
        page.repeated = page.add(
            Piece(say("Boat"), "head_text"),
            *(Piece(say(what), "head_number", over=over) for what in ("Length", "Beam", "Weight")),
            Piece(say("Price"), "head_number"),
        )
        for model in sheet.models:
            page.add(
                Piece(model.name, "text"),
                *self._length(model.length),
                *self._length(model.beam),
                *self._mass(model.mass),
                self._price(total(sheet, model)),
            )
        if sheet.delivery is not None:
            page.across(f"{say('Each boat:')} {self._tax_words()} {self._delivered()}", "note")
        page.blank()
        self._block(page, say("About this price sheet"), [*self._about()])
        self._block(page, say("Terms"), sheet.terms)
        self._block(page, say("Contact"), [*self._contact()])
        if any(model.opened for model in sheet.models):
            self._block(page, say("Openings in the hull"), [caution(sheet)], "caution")
        return page

    def _boat(self, title: str, model: ModelView) -> Portrait:
        sheet, say = self.sheet, self._say
        page = Portrait(title, boat_widths(sheet.units), frozen=FROZEN)
        price = money.money(total(sheet, model).amount, sheet.currency, self._locale, sheet.whole)
        page.across(f"{model.name}, {price}", "title")
        page.across(self._edition(), "lead")
        page.repeated = page.add(
            Piece(say("Option"), "head_text"),
            Piece(say("Lead time"), "head_text"),
            Piece(say("Weight"), "head_number", over=MEASURES[sheet.units]),
            Piece(say("Price"), "head_number"),
        )
        for group in model.groups:
            self._group(page, group)
        if model.packages:
            page.across(say("Packages"), "group")
            for package in model.packages:
                self._package(page, package)
        if not model.options:
            page.across(say("This boat has no options."))
        if model.standard:
            first = page.row + 1
            page.across(say("Standard equipment, included in the price of the boat"), "group")
            for item in model.standard:
                page.across(item.name, "text")
                if first:
                    page.keep(first)
                first = 0
        if model.opened:
            page.blank()
            page.across(caution(sheet), "caution")
        return page

    def _group(self, page: Portrait, group: GroupView) -> None:
        first = page.row + 1
        page.across(group.name, "group")
        for place, option in enumerate(group.options):
            self._line(page, self._told(option), option.lead_time, option.mass, option.price)
            for each in option.surcharges:
                self._line(page, each.words, "", None, each.price)
            if not place:
                page.keep(first)

    def _package(self, page: Portrait, package: PackageView) -> None:
        say = self._say
        saving = money.money(
            package.saving.amount, self.sheet.currency, self._locale, self.sheet.whole
        )
        rules = [self._rule(say("Includes"), package.options)]
        if package.saving.amount:
            rules.append(f"{say('Saving')}{say(': ')}{saving}")
        self._line(page, "\n".join([package.name, *rules]), "", package.mass, package.price)

    def _line(
        self,
        page: Portrait,
        name: str,
        lead_time: str,
        mass: PublicMeasure | None,
        price: PublicPrice,
    ) -> None:
        adds = [Piece(None, "number")] * MEASURES[self.sheet.units]
        if mass is not None and mass.amount:
            adds = [*self._mass(mass)]
        page.add(Piece(name, "text"), Piece(lead_time, "text"), *adds, self._price(price))

    def _told(self, option: OptionView) -> str:
        """Its name, and below it what it can be had with and what not."""
        say = self._say
        rules = [
            self._rule(say("Only with"), option.needs),
            self._rule(say("Not together with"), option.conflicts),
            self._rule(say("In place of"), option.instead_of),
            "" if option.most is None else say("up to %(most)s on a boat") % {"most": option.most},
            self._taxed(option.tax),
        ]
        if option.kind == OPENING:
            rules.append(say("An opening in the hull needs engineering approval."))
        return "\n".join(filter(None, [option.name, *rules]))

    def _rule(self, words: str, options: Sequence[OtherOption]) -> str:
        colon, between = self._say(": "), self._say("; ")
        return f"{words}{colon}{between.join(map(self._named, options))}" if options else ""

    def _named(self, option: OtherOption) -> str:
        if option.standard:
            return f"{option.name} ({self._say('standard on this boat')})"
        if option.offered:
            return option.name
        return f"{option.name} ({self._say('not offered on this boat')})"

    def _taxed(self, tax: TaxView | None) -> str:
        return "" if tax is None else f"{money.rate(tax.rate, self._locale)} {tax.name}"

    def _price(self, price: PublicPrice) -> Piece:
        return Piece(price.amount, "number", self._code)

    def _mass(self, mass: PublicMeasure) -> Iterator[Piece]:
        """In the units that are read, with as many decimals as the pages have."""
        kilograms, units = mass.amount, self.sheet.units
        if units != US.name:
            yield self._measure("mass-kilogram", kilograms, money.mass_digits(kilograms))
        if units != METRIC.name:
            pounds = kilograms / money.POUND
            yield self._measure("mass-pound", pounds, money.pound_digits(pounds))

    def _length(self, length: PublicMeasure) -> Iterator[Piece]:
        if self.sheet.units != US.name:
            yield self._measure("length-meter", length.amount, 2)
        if self.sheet.units != METRIC.name:
            yield Piece(money.length(length.amount, self._locale, US.name), "number")

    def _measure(self, name: str, amount: Decimal, digits: int) -> Piece:
        return Piece(half_up(amount, digits), "number", measure_code(name, self._locale, digits))

    def _edition(self) -> str:
        words = self._say(
            "Model year %(year)s, valid from %(first)s until %(last)s. All prices in %(currency)s, "
            "%(tax)s."
        )
        sheet = self.sheet
        return words % {
            "year": sheet.model_year,
            "first": money.day(sheet.valid_from, self._locale),
            "last": money.day(sheet.valid_until, self._locale),
            "currency": get_currency_name(sheet.currency, count=2, locale=self._locale),
            "tax": self._tax_words(),
        }

    def _tax_words(self) -> str:
        sheet = self.sheet
        told = {"name": sheet.tax_name, "tax": money.rate(sheet.tax, self._locale)}
        if sheet.taxed and sheet.taxed_apart:
            return self._say("including %(name)s") % told
        if sheet.taxed:
            return self._say("including %(tax)s %(name)s") % told
        return self._say("without %(name)s") % told

    def _delivered(self) -> str:
        delivery = self.sheet.delivery
        if delivery is None:
            return ""
        price = money.money(delivery.price.amount, self.sheet.currency, self._locale)
        told = {"delivery": delivery.words, "price": price}
        if self.sheet.taxed:
            return self._say("and delivery, %(delivery)s, at %(price)s") % told
        return self._say("plus delivery, %(delivery)s, at %(price)s") % told

    def _about(self) -> Iterator[tuple[str, str]]:
        """Which list it is, of which market, and in what its prices are."""
        sheet, say = self.sheet, self._say
        currency = get_currency_name(sheet.currency, count=2, locale=self._locale)
        yield say("Version"), sheet.version
        yield say("Model year"), sheet.model_year
        yield say("Valid from"), money.day(sheet.valid_from, self._locale)
        yield say("Valid until"), money.day(sheet.valid_until, self._locale)
        yield say("Currency"), f"{currency} ({sheet.currency})"
        yield say("Tax"), self._tax_basis()
        apart = (f"{each.name} ({self._taxed(each.tax)})" for each in sheet.taxed_apart)
        if told := say("; ").join(apart):
            yield say("Taxed differently"), told

    def _tax_basis(self) -> str:
        sheet, say = self.sheet, self._say
        told = {"name": sheet.tax_name, "tax": money.rate(sheet.tax, self._locale)}
        if sheet.taxed and sheet.taxed_apart:
            words = say("Every price includes %(name)s, at %(tax)s unless stated otherwise.")
        elif sheet.taxed:
            words = say("Every price includes %(tax)s %(name)s.")
        elif sheet.tax:
            words = say("Prices are without %(name)s; where it is due, %(tax)s is added.")
        else:
            words = say("Prices are without %(name)s.")
        return words % told

    def _contact(self) -> Iterator[str]:
        company = self.sheet.company
        yield from filter(
            None, (company.name, company.address, company.phone, company.email, company.website)
        )
        if self.sheet.builder:
            yield self._say("Boats built by %(yard)s") % {"yard": self.sheet.builder}

    def _block(
        self,
        page: Portrait,
        heading: str,
        told: Sequence[str | tuple[str, str]],
        role: str = "plain",
    ) -> None:
        """A heading with sentences below it, or with facts by what they are, on one page."""
        if not told:
            return
        first, over = page.row + 1, len(page.widths) - 1
        page.across(heading, "heading")
        for each in told:
            if isinstance(each, str):
                page.across(each, role)
            else:
                page.add(Piece(each[0], "text"), Piece(each[1], "text", over=over))
        page.keep(first)
        page.blank()
