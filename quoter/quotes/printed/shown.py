"""What a customer sees of a quote: a record without its inside, its request and its source's mark.

The page and the workbook are made from this, so neither can show what it can't reach.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Literal

from babel import Locale
from babel.units import format_unit

from quoter.pages import money
from quoter.quotes.kept.party import LeadTime, Party
from quoter.quotes.kept.pictures import Picture
from quoter.quotes.kept.record import (
    BESIDES,
    Delivery,
    Deposit,
    Difference,
    LineKind,
    QuoteLine,
    Rate,
    Record,
    Tax,
)
from quoter.wording import wording
from quoter.workbook.portrait import paper_of

SectionKind = Literal[
    "boat",
    "standard",
    "options",
    "less",
    "credits",
    "discounts",
    "extras",
    "apart",
    "trade_ins",
    "delivery",
]
Basis = Literal["with one", "with several", "without one", "without several", "untaxed"]
Marks = Literal["", "rate", "name"]

_SECTIONS: dict[LineKind, SectionKind] = {
    "boat": "boat",
    "standard": "standard",
    "option": "options",
    "package": "options",
    "credit": "less",
    "discount": "less",
    "extra": "extras",
    "trade_in": "trade_ins",
    "amount_off": "less",
    "delivery": "delivery",
}
# Where there is a subtotal, it stands between credits and discounts.
_APART: dict[LineKind, SectionKind] = {
    "credit": "credits",
    "discount": "discounts",
    "amount_off": "discounts",
}


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line with its tax, if it bears one; see `quotes.kept.record.QuoteLine`."""

    name: str
    text: str
    inside: tuple[str, ...]
    quantity: int | Decimal
    price: Decimal | None
    amount: Decimal | None
    tax: Tax | None
    lead_time: str
    hours: bool = False
    condition: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Lines of one kind that follow each other; `less` holds credits and discounts.

    `extras` are of no catalogue, `apart` those that no discount comes off. `subtotal` is what all
    lines down to its end come to, shown below it where a block of another sort follows.
    """

    kind: SectionKind
    lines: tuple[ShownLine, ...]
    subtotal: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Shown:
    """A quote as its customer sees it; see `quotes.kept.record.Record`.

    `before` names the revision before this one, or the order that it changes, if there is one;
    `changes_order` that order alone. `basis` tells whether prices hold
    the tax, and how many taxes there are; `marks` what tells them apart beside each line, where
    that is needed. `offered` is what can be added, `price_list` its version. `category` is the
    code of its tax scheme; `lead_time` stands where no day is `promised`, and `ready` says either
    in words.
    """

    name: str
    number: str
    revision: int
    before: str
    changes_order: str
    issued: date
    valid_until: date
    language: str
    currency: str
    yard: Party
    customer: Party
    prepared_by: str
    title: str
    paper: str
    facts: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    subtotal: Decimal | None
    offered: tuple[ShownLine, ...]
    basis: Basis
    marks: Marks
    net: Decimal
    taxes: tuple[Tax, ...]
    scheme: str
    category: str
    total: Decimal
    deposits: tuple[Deposit, ...]
    payment: tuple[str, ...]
    terms: tuple[str, ...]
    delivery: Delivery
    reference: str
    ready: str
    promised: date | None
    lead_time: LeadTime | None
    rate: Rate | None
    surcharge: tuple[str, ...]
    note: str
    logo: Picture | None
    pictures: tuple[Picture, ...]
    changes: tuple[Difference, ...]
    price_list: str


def shown_of(record: Record) -> Shown:
    """A record as its customer sees it."""
    return Shown(
        name=record.name,
        number=record.number,
        revision=record.revision,
        before=_before(record),
        changes_order=record.changes_order,
        issued=record.issued,
        valid_until=record.valid_until,
        language=record.language,
        currency=record.currency,
        yard=record.yard,
        customer=record.customer,
        prepared_by=record.prepared_by,
        title=record.title,
        paper=record.paper,
        facts=record.facts,
        sections=_sections(record),
        subtotal=record.subtotal,
        offered=_offered(record),
        basis=_basis(record),
        marks=_marks(record),
        net=record.net,
        taxes=record.taxes,
        scheme=record.scheme.words,
        category=record.scheme.category,
        total=record.total,
        deposits=record.deposits,
        payment=record.payment,
        terms=record.terms,
        delivery=record.delivery,
        reference=record.reference,
        ready=ready_words(record),
        promised=record.promised,
        lead_time=None if record.promised else record.lead_time,
        rate=record.rate,
        surcharge=record.surcharge,
        note=record.note,
        logo=next((each for each in record.pictures if each.of == "yard"), None),
        pictures=tuple(each for each in record.pictures if each.of != "yard"),
        changes=record.changes,
        price_list=record.source.edition,
    )


def ready_words(record: Record) -> str:
    """When the boat can be there, in the quote's language; nothing where nobody said."""
    say, locale, lead = wording(record.locale), record.locale, record.lead_time
    if record.promised is not None:
        return say("Promised for {day}", day=money.day(record.promised, locale))
    if lead is None:
        return ""
    time = format_unit(lead.weeks, "duration-week", "long", locale=locale)
    if not lead.of:
        return say("About {time} after the order", time=time)
    return say("About {time} after the order; {what} takes longest", time=time, what=lead.of)


def printed_on(quote: Shown) -> str:
    """The paper of a quote; where it names none, that of its customer's country."""
    # The first letters of a currency's code are its country's (ISO 4217 takes ISO 3166's).
    return quote.paper or paper_of(locale_of(quote).territory or quote.currency[:2])


def locale_of(quote: Shown) -> Locale:
    """What its language writes numbers and days by."""
    return Locale.parse(quote.language.replace("_", "-"), sep="-")


def _before(record: Record) -> str:
    if not record.revision:
        return record.changes_order
    return record.model_copy(update={"revision": record.revision - 1}).name


def _sections(record: Record) -> tuple[Section, ...]:
    """The lines in their order, those of one kind together."""
    taxes = {tax.id: tax for tax in record.taxes}
    if record.subtotal is None:
        return tuple(_grouped(record.lines, _SECTIONS, taxes))
    kinds = {**_SECTIONS, **_APART}
    end = next(n for n, line in enumerate(record.lines) if line.kind in BESIDES)
    sold = list(_grouped(record.lines[:end], kinds, taxes))
    sold[-1] = replace(sold[-1], subtotal=record.subtotal)
    besides = _grouped(record.lines[end:], {**kinds, "extra": "apart"}, taxes)
    return (*sold, *besides)


def _grouped(
    lines: Sequence[QuoteLine], kinds: Mapping[LineKind, SectionKind], taxes: Mapping[str, Tax]
) -> Iterator[Section]:
    for kind, found in groupby(lines, lambda line: kinds[line.kind]):
        yield Section(kind, tuple(_line(line, taxes.get(line.rate)) for line in found))


def _offered(record: Record) -> tuple[ShownLine, ...]:
    taxes = {tax.id: tax for tax in record.taxes}
    return tuple(_line(line, taxes.get(line.rate)) for line in record.offered)


def _line(line: QuoteLine, tax: Tax | None) -> ShownLine:
    return ShownLine(
        name=line.name,
        text=line.text,
        inside=line.inside,
        quantity=line.quantity,
        price=line.price,
        amount=line.amount,
        tax=tax if line.amount is not None else None,
        lead_time=line.lead_time,
        hours=line.hours,
        condition=line.condition,
    )


def _basis(record: Record) -> Basis:
    if not record.taxes:
        return "untaxed"
    if record.with_tax:
        return "with one" if len(record.taxes) == 1 else "with several"
    return "without one" if len(record.taxes) == 1 else "without several"


def _marks(record: Record) -> Marks:
    """Lines say which tax they bear where there are several, or where some bear none."""
    known = {tax.id for tax in record.taxes}
    borne = {line.rate for line in record.lines if line.amount is not None}
    if not known or (len(known) == 1 and borne <= known):
        return ""
    return "rate" if len({tax.rate for tax in record.taxes}) == len(known) else "name"
