"""What a customer may see of a sample quote and what not, and a search for the latter."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from quoter.pricing.price import rounded_amount
from quoter.quotes.kept.record import Record
from tests.accounted import numbers_in
from tests.quotes.samples import SECRET_WORDS, inside_of


def hidden_from_customers(of: Record) -> tuple[set[str], set[str]]:
    """Numbers as people and files write them, and words, that only the yard may see."""
    numbers: set[str] = set()
    words = {*SECRET_WORDS, of.inside.buyer, of.source.mark, of.source.version}
    inside = of.inside.model_dump(exclude={"lines": {"__all__": {"quantity", "name", "id"}}})
    for value in _leaves(inside):
        if isinstance(value, Decimal):
            shown = value * 100 if value < 1 else value
            numbers |= {str(value), str(shown), str(rounded_amount(shown, "USD"))}
            if value >= 1000:
                numbers.add(str(rounded_amount(value, "JPY")))
    return numbers, words


def _leaves(value: object) -> list[object]:
    if isinstance(value, dict):
        return [leaf for inner in value.values() for leaf in _leaves(inner)]
    if isinstance(value, list | tuple):
        return [leaf for inner in value for leaf in _leaves(inner)]
    return [value]


def found_in(text: str, of: Record) -> list[str]:
    """What of a quote's secrets a text holds."""
    numbers, words = hidden_from_customers(of)
    leaked = sorted(numbers.intersection(numbers_in(text)))
    return leaked + sorted(word for word in words if word.casefold() in text.casefold())


def with_another_inside(of: Record) -> Record:
    """The same quote to its customer, with everything different that only the yard sees."""
    other = inside_of(of.lines[:1]).model_copy(update={"home": "JPY", "approval": None})
    source = of.source.model_copy(
        update={
            "mark": "0",
            "as_of": date(2020, 1, 1),
            "price_list": date(2020, 1, 1),
            "version": "9",
        }
    )
    changed = {"inside": other, "request": {}, "market": "x", "model": "x", "source": source}
    return of.model_copy(update=changed)


def texts_of(of: Record) -> list[str]:
    """Every text of a quote that its customer has to find, as the record has it."""
    yard, customer = of.yard, of.customer
    texts = [of.title, of.prepared_by, of.note, of.source.edition, of.scheme.words]
    texts += [part for fact in of.facts for part in fact]
    for each in of.lines:
        texts += [each.name, each.text, *each.inside, each.lead_time]
    for who in (yard, customer):
        texts += [who.name, who.company, *who.address, who.country, who.email, who.phone]
        texts += [who.website, who.tax_number]
    texts += [*of.payment, *of.terms, *of.surcharge, *(part.due for part in of.deposits)]
    texts += [of.delivery.term, of.delivery.place, of.delivery.edition, of.delivery.words]
    if of.rate is not None:
        texts += [of.rate.currency, of.rate.home, of.rate.source, of.rate.words]
    texts += [text for change in of.changes for text in (change.what, change.before, change.after)]
    return [text for text in dict.fromkeys(texts) if text]
