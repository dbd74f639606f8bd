"""Nothing secret leaves in a public file: what is secret, and the search for it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache, reduce
from html import unescape
from operator import add

from quoter.catalogue.checks import every_record
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.pages.money import POUND
from quoter.pages.public.moves import moves_between, past_lists, shown_prices
from quoter.pricing.price import Priced, PricedModel, Pricing
from quoter.pricing.public import PublicPrice, price_list

SMALLEST_AMOUNT = 20  # smaller ones occur by chance everywhere, and tell nobody anything
SHORTEST_NOTE = 16  # shorter notes ("common practice") are common words, not secrets


class LeakError(Exception):
    """Raised instead of publishing when a public file holds something secret."""


@dataclass(frozen=True, slots=True)
class Secrets:
    """What must not be in a public file: numbers as people would print them, and words."""

    numbers: frozenset[str]
    words: frozenset[str]


_SPACES = "\u00a0\u202f\u2009"  # what locales put between thousands
_RUN = re.compile(rf"\d+(?:[.,'\u2019 {_SPACES}]\d+)*")
_GROUPED = re.compile(
    rf"(\d{{1,3}}([.,'\u2019 {_SPACES}])(?:\d{{2,3}}\2)*\d{{3}})(?:(?!\2)[.,](\d+))?\Z"
)
# Styles, drawings, scripts and a schema that go out as the program has them: full of numbers that
# are sizes, colours and letters' codes, and none of a catalogue; searched for words only.
_PROGRAM_S_OWN = re.compile(r"\.(?:css|svg)\Z|(?:\A|/)(?:assets/[^/]+\.js|prices\.schema\.json)\Z")
_TAG = re.compile(r"<[^<>]*>")
_DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL | re.IGNORECASE)
_SIZES = (  # attributes that say where a drawing's lines run
    *("viewBox", "transform", "d", "points", "x", "y", "width", "height", "cx", "cy", "r"),
    *("rx", "ry", "x1", "y1", "x2", "y2"),
)
_SIZE = re.compile(rf"(?<=\s)(?:{'|'.join(_SIZES)})\s*=\s*(?:\"[^\"]*\"|'[^']*')", re.IGNORECASE)
AROUND = 30  # letters told on either side of a number that is found
_PLAIN = re.compile(r"(\d+)(?:[.,](\d+))?\Z")


def numbers_in(text: str) -> Iterator[str]:
    """Every number of a text: no separators of thousands, decimals after a point.

    What can be read in two ways is given in both; a space that does not break is one way, since
    only digits of one number stand beside it. Decimals beyond those of money are given to the cent
    as well.
    """
    for run in _RUN.finditer(text):
        yield from _numbers(run[0])


@lru_cache(maxsize=100_000)
def _known_numbers(run: str) -> tuple[str, ...]:
    """The readings of a run of digits; a site has the same ones on many pages."""
    return tuple(_numbers(run))


def _numbers(run: str) -> Iterator[str]:
    grouped = _GROUPED.match(run)
    if grouped and grouped[2] in _SPACES:
        yield from _readings(run)
        return
    pieces = re.split(rf"[ {_SPACES}]", run)
    for token in dict.fromkeys((run, *pieces)):
        yield from _readings(token)


def _readings(token: str) -> Iterator[str]:
    if grouped := _GROUPED.match(token):
        whole = re.sub(r"\D", "", grouped[1])
        yield f"{whole}.{grouped[3]}" if grouped[3] else whole
    elif plain := _PLAIN.match(token):
        yield f"{plain[1]}.{plain[2]}" if plain[2] else plain[1]
        if len(plain[2] or "") > 3:
            yield str(Decimal(f"{plain[1]}.{plain[2]}").quantize(Decimal("0.01"), ROUND_HALF_UP))
    else:
        for piece in re.split(r"[.,'\u2019]", token):
            if piece.isdigit():
                yield piece


def _as_printed(value: float) -> Iterator[str]:
    """A secret amount to the cent; to the whole only where that many digits can't be by chance."""
    exact = Decimal(repr(abs(value)))
    if exact < SMALLEST_AMOUNT:
        return
    yield str(exact.quantize(Decimal("0.01"), ROUND_HALF_UP))
    whole = str(exact.quantize(Decimal(1), ROUND_HALF_UP))
    if len(whole) >= 4:
        yield whole


def secrets_of(pricing: Pricing, earlier: Sequence[Pricing] = ()) -> Secrets:
    """Every cost, margin and dealer price of a costing, every supplier and internal note.

    A number that is public in its own right (a list price, what a package saves, a tax, a mass) is
    no secret, nor is an earlier list price that the sheet compares with, or their difference.
    """
    roots: list[Figure] = []
    for model in pricing.models.values():
        for priced in _sold(model):
            roots += _secret_results(priced)
    amounts = (figure for figure in in_order(roots) if figure.key and _is_money(figure))
    numbers = {text for figure in amounts for text in _as_printed(figure.value)}
    numbers -= public_numbers(pricing, earlier)
    return Secrets(frozenset(numbers), frozenset(_secret_words(pricing)))


def public_numbers(pricing: Pricing, earlier: Sequence[Pricing] = ()) -> set[str]:
    """What a price sheet prints of its own: prices, savings, masses, sizes, numbers in its texts.

    Beyond these it holds no number that could be a secret, so that no costs meet one by chance.
    """
    found: set[str] = set()
    for model in pricing.models.values():
        for priced in _sold(model):
            mass = priced.assembly.mass.value
            found |= {*_as_printed(mass), *_as_printed(mass / float(POUND))}
    for price in _public_amounts(pricing, earlier):
        found |= set(_as_printed(float(price.amount)))
    for text in _public_texts(pricing):
        found |= set(numbers_in(text))
    return found


def _sold(model: PricedModel) -> tuple[Priced, ...]:
    return model.boat, *model.options.values(), *model.packages.values()


def _public_amounts(pricing: Pricing, earlier: Sequence[Pricing]) -> Iterator[PublicPrice]:
    """List prices in every published market, what packages save there, and how prices moved."""
    for market in pricing.catalogue.yard.markets:
        if not market.published:
            continue
        listed = price_list(pricing, market)
        yield from listed.values()
        for id, model in pricing.models.items():
            for package in model.offered_packages:
                apart = [listed[id, str(option)] for option in package.options]
                yield reduce(add, apart) - listed[id, str(package.id)]
        shown, past = shown_prices(pricing, market), past_lists(earlier, market)
        yield from shown.values()  # also boats with delivery
        for each in past:
            yield from each.prices.values()
        if past:
            yield from (move.difference for move in moves_between(shown, past).values())


def _secret_results(priced: Priced) -> Iterator[Figure]:
    """What no other figure of a costing is made from; behind these stand wages and prices."""
    yield priced.recommended
    for sale in priced.sales.values():
        yield from (sale.net, sale.contribution, sale.margin)
    waiting = [priced.assembly]
    while waiting:
        made = waiting.pop()
        yield from (made.cost, made.variable, *made.groups.values())
        waiting += [use.assembly for use in made.recipe.uses]


def _is_money(figure: Figure) -> bool:
    """Whether an amount has a currency in its unit, as a wage per hour has too."""
    return any(len(symbol) == 3 and symbol.isupper() for symbol, _ in figure.unit.parts)


def _public_texts(pricing: Pricing) -> Iterator[str]:
    yard = pricing.catalogue.yard
    yield from (str(value) for value in yard.company.model_dump().values() if value)
    edition = pricing.catalogue.edition
    yield f"{edition.version}, {edition.model_year}, {edition.valid_from}, {edition.valid_until}"
    yield from (str(term) for term in yard.price_sheet.terms)
    for model in pricing.models.values():
        sizes = f"{model.model.length.value:.2f} m, {model.model.beam.value:.2f} m"
        yield f"{model.model.name}, {model.model.text}, {sizes}"
        for priced in model.options.values():
            option = priced.option
            if option is not None:
                texts = (option.name, option.text, option.lead_time, *option.includes)
                yield ", ".join([*texts, *option.excludes])


def _secret_words(pricing: Pricing) -> Iterator[str]:
    records = pricing.catalogue.records
    yield from (str(supplier.name) for supplier in records.suppliers.values())
    told = [str(buyer.name) for buyer in pricing.terms.buyers]
    for record in every_record(records):
        told.append(str(getattr(record, "note", None) or ""))
        for name in type(record).model_fields:
            told += _written_notes(getattr(record, name))
    yield from (words for words in told if len(words) >= SHORTEST_NOTE)


def _written_notes(value: object) -> Iterator[str]:
    """The notes that stand in parentheses behind a quantity, or behind each of several."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from _written_notes(inner)
    elif isinstance(value, Figure):
        for figure in in_order([value]):
            if figure.origin is not None:
                yield figure.origin.note


def guard(files: Mapping[str, bytes], secrets: Secrets) -> None:
    """Search the public files.

    Raises:
        LeakError: naming each file and what it holds.
    """
    found = [
        f"{name}: {what}"
        for name, content in sorted(files.items())
        for what in _leaks(name, content.decode("utf-8", "replace"), secrets)
    ]
    if found:
        raise LeakError("nothing was published, since it would hold secrets:\n" + "\n".join(found))


def _leaks(name: str, text: str, secrets: Secrets) -> Iterator[str]:
    """What a file holds, also where it is written in the entities of a page or has tags within."""
    plain = unescape(text)
    amounts: dict[str, str] = {}
    if not _PROGRAM_S_OWN.search(name):
        amounts = _amounts(plain, secrets) | _amounts(text, secrets)
    for number in sorted(amounts):
        yield f"the amount {number}, in '{amounts[number]}'"
    read = _one_line(plain) + "\n" + _one_line(_TAG.sub("", plain))
    for words in sorted(secrets.words):
        sought = _one_line(words)
        if sought in read and re.search(rf"(?<!\w){re.escape(sought)}(?!\w)", read):
            yield f"the words '{words}'"


def _amounts(text: str, secrets: Secrets) -> dict[str, str]:
    """Each secret number of a text, with what stands around it where it is first."""
    searched = _DRAWING.sub(_without_sizes, text)
    found: dict[str, str] = {}
    for run in _RUN.finditer(searched):
        for number in secrets.numbers.intersection(_known_numbers(run[0])):
            around = searched[max(0, run.start() - AROUND) : run.end() + AROUND]
            found.setdefault(number, " ".join(around.split()))
    return found


def _without_sizes(drawing: re.Match[str]) -> str:
    """A drawing within a page without where its lines run; what it says stays."""
    return _TAG.sub(lambda tag: _SIZE.sub("", tag[0]), drawing[0])


def _one_line(text: str) -> str:
    return " ".join(text.split()).casefold()
