"""A request file read and held against the catalogue: every fault of it at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.languages import locale_named
from quoter.catalogue.markets import DealerClass, Market
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.quoting import Chosen, DeliveryTerm, QuotePolicy, Request, TaxScheme
from quoter.catalogue.reading import read, refuse_newer
from quoter.catalogue.source import Block, Items, Sources, Text
from quoter.formats import REQUEST
from quoter.pricing.configured import Configured, configure
from quoter.pricing.markets import currency_of
from quoter.pricing.packaged import holding
from quoter.pricing.pairs import PairCount
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.rules import Rule
from quoter.problems import CatalogueError, Place, Problem, Problems, nearest, quoted
from quoter.quotes.delivering import delivery_faults, delivery_of
from quoter.quotes.offered import offered_faults
from quoter.quotes.own_lines import no_rate, own_faults

R = TypeVar("R", Market, DealerClass, TaxScheme)
NO_POLICY = "the yard has no policy for quotes"
POLICY_HINT = "add 'quotes:' to yard.yaml; look at the demonstration catalogue's"


class RequestError(CatalogueError):
    """What is wrong with a request, whose places are in its file and not in the catalogue's."""


@dataclass(frozen=True, slots=True)
class Wish:
    """A sound request: what it names, found in the catalogue.

    `written` is the file as it stands with what the command line says instead, and the class of
    buyer also where nobody named it; so the same request can be read again. `chosen` is how many of
    each option and package, the colour among them; `boat` the boat as chosen.
    """

    request: Request
    written: dict[str, object]
    policy: QuotePolicy
    prepared_by: str
    market: Market
    buyer: DealerClass
    model: PricedModel
    scheme: TaxScheme
    delivery: DeliveryTerm
    chosen: dict[str, int]
    boat: Configured = field(compare=False)

    @property
    def surcharged(self) -> tuple[PairCount, ...]:
        """The pairs of an option and a hull colour on this boat that ask a surcharge."""
        return charged_pairs(self.boat)


def charged_pairs(boat: Configured) -> tuple[PairCount, ...]:
    """The pairs of an option and a hull colour on a boat that ask a surcharge."""
    charged = (pair for pair in boat.pairs if pair.of.surcharge is not None)
    return tuple(pair for pair in charged if pair.count.value)


@dataclass(frozen=True, slots=True)
class Asked:
    """A request as it was read, before it is held against a catalogue."""

    request: Request
    written: dict[str, object]
    excerpt: Callable[[Place], str]


def read_request(
    path: Path, said: Mapping[str, Text] | None = None, known: Mapping[str, str] | None = None
) -> Asked:
    """A request file.

    Args:
        path: of the file
        said: values by key that outrank the file's own: what the command line says
        known: values by key for what the file leaves out
    Raises:
        RequestError: with every fault of it, at its place.
    """
    problems = Problems()
    sources = Sources(path.parent, problems)
    raw = sources.yaml(path.name)
    if raw is None and not problems.errors:
        problems.add(Place(path.name), "no-file", "the file is missing", "name the request's file")
    if raw is not None:
        lacking = {key: value for key, value in (known or {}).items() if key not in raw}
        told = {key: Text.at(value, Place(path.name), key) for key, value in lacking.items()}
        told |= said or {}
        raw.update((Text.at(key, value.place), value) for key, value in told.items())
    return _read(sources, raw)


def recorded_request(data: Mapping[str, object], name: str) -> Asked:
    """The request that a quote's record keeps.

    Args:
        data: as `Asked.written` was
        name: of the file it is in
    Raises:
        RequestError: it is no request of this version any more.
    """
    sources = Sources(Path(), Problems())
    block = _blocks(data, Place(name, 1, 1), "")
    return _read(sources, block if isinstance(block, Block) else None)


def _read(sources: Sources, raw: Block | None) -> Asked:
    refuse_newer(sources, REQUEST, raw)
    request = read(sources, Request, raw) if raw is not None else None
    _stop_if_any(sources.problems, sources.excerpt)
    if request is None or raw is None:
        raise RuntimeError("the request can't be read, but no problem was found")
    return Asked(request, plain(raw), sources.excerpt)


def _stop_if_any(problems: Problems, excerpt: Callable[[Place], str]) -> None:
    problems.quote(excerpt)
    if problems.errors:
        raise RequestError(problems.errors)


def _blocks(data: object, place: Place, key: str) -> object:
    """Plain data as a reader of YAML would give it."""
    if isinstance(data, Mapping):
        block = Block.at(place)
        for name, value in data.items():
            block[Text.at(str(name), place)] = _blocks(value, place, f"{key}.{name}".strip("."))
        return block
    if isinstance(data, list):
        items = Items(_blocks(item, place, f"{key}.{n}") for n, item in enumerate(data, 1))
        items.place = place
        return items
    return Text.at(str(data), replace(place, key=key.rpartition(".")[2]), key)


def sound_wish(asked: Asked, pricing: Pricing) -> Wish:
    """A request held against the priced catalogue.

    Raises:
        RequestError: with everything in it that the catalogue does not have or allow.
        CatalogueError: the yard has no policy for quotes.
    """
    yard = pricing.catalogue.yard
    if yard.quotes is None:
        raise CatalogueError([Problem(yard.place, "not-set-up", NO_POLICY, POLICY_HINT)])
    problems = Problems()
    found = wish_of(asked.request, asked.written, pricing, yard.quotes, problems)
    _stop_if_any(problems, asked.excerpt)
    if found is None:
        raise RuntimeError("the request can't be used, but no problem was found")
    return found


def plain(raw: object) -> dict[str, object]:
    """A block as plain data: what a record keeps of the request."""
    if isinstance(raw, Block):
        return {str(key): _plain(value) for key, value in raw.items()}
    raise TypeError("a request is a block of keys")


def _plain(raw: object) -> object:
    if isinstance(raw, Block):
        return plain(raw)
    return [_plain(item) for item in raw] if isinstance(raw, Items) else str(raw)


def wish_of(
    request: Request,
    written: dict[str, object],
    pricing: Pricing,
    policy: QuotePolicy,
    problems: Problems,
) -> Wish | None:
    """What a request names, found in the catalogue; None with every fault recorded."""
    yard = pricing.catalogue.yard
    market = _named(request.market, "market", yard.markets, problems)
    buyer = _buyer(request, market, yard.dealer_classes, problems)
    scheme: TaxScheme | None = policy.schemes[0]
    if request.scheme is not None:
        scheme = _named(request.scheme, "tax scheme", policy.schemes, problems)
    model = pricing.models.get(request.model)
    if model is None:
        what = f"unknown model {quoted(request.model)}"
        problems.add(
            request.model.place, "unknown-id", what, nearest(request.model, pricing.models)
        )
        return None
    chosen = chosen_of(request.options, request.colour, model, problems)
    problems.extend(_dates(request))
    problems.extend(_language(request))
    problems.extend(delivery_faults(request.delivery, policy))
    problems.extend(offered_faults(request.offered, chosen, model))
    by = _prepared_by(request, problems)
    if market is not None:
        problems.extend(_shown_elsewhere(request, market, currency_of(pricing.catalogue, market)))
        problems.extend(_own_faults(request, market, pricing.catalogue))
    if problems.errors or market is None or buyer is None or scheme is None:
        return None
    boat = configure(pricing.terms, model, chosen)
    problems.extend(broken_rules(request.options, request.place, model, boat))
    kept = {**written, "buyer": str(buyer.id)}
    return Wish(
        request=request,
        written=kept,
        policy=policy,
        prepared_by=by,
        market=market,
        buyer=buyer,
        model=model,
        scheme=scheme,
        delivery=delivery_of(request.delivery, policy),
        chosen=chosen,
        boat=boat,
    )


def _named(id: Text, kind: str, records: Iterable[R], problems: Problems) -> R | None:
    known = {str(record.id): record for record in records}
    if id in known:
        return known[id]
    problems.add(id.place, "unknown-id", f"unknown {kind} {quoted(id)}", nearest(id, known))
    return None


def _buyer(
    request: Request, market: Market | None, classes: Sequence[DealerClass], problems: Problems
) -> DealerClass | None:
    """The class that is named, or else a safe one for the market."""
    if request.buyer is not None:
        return _named(request.buyer, "dealer class", classes, problems)
    return None if market is None else unnamed_buyer(market, classes)


def _prepared_by(request: Request, problems: Problems) -> str:
    """Who answers for the quote at the yard; a customer's file can't know."""
    if request.prepared_by is None:
        hint = "write 'prepared_by', or add --by NAME"
        problems.add(request.place, "missing-key", "nobody is named who prepares the quote", hint)
    return str(request.prepared_by or "")


def _shown_elsewhere(request: Request, market: Market, currency: str) -> Iterator[Problem]:
    """A total in another currency than the market's was not shown on its price sheet."""
    shown = request.shown_total
    if shown is not None and str(shown.unit) != currency:
        what = f"{shown.unit} in the market '{market.id}', which sells in {currency}"
        hint = f"write the shown total in {currency}, or name the market it was shown in"
        yield Problem(figure_place(shown), "wrong-currency", what, hint)


def _own_faults(request: Request, market: Market, catalogue: Catalogue) -> Iterator[Problem]:
    """What is wrong with amounts that the request states, its delivery's among them."""
    currency = currency_of(catalogue, market)
    if request.delivery is not None and request.delivery.price is not None:
        yield from no_rate(request.delivery.price, currency, catalogue)
    taxes = {str(tax.id): tax for tax in market.other_taxes}
    yield from own_faults(request, catalogue, currency, taxes)


def chosen_of(
    options: Iterable[Chosen], colour: Text | None, model: PricedModel, problems: Problems
) -> dict[str, int]:
    """How many of each option and package, with what can't be chosen recorded."""
    found: dict[str, int] = {}
    wanted = [(each.option, _quantity(each)) for each in options]
    if colour is not None:
        wanted.append((colour, 1))
        problems.extend(_colour_faults(colour, model))
    for id, quantity in wanted:
        if id in found:
            problems.add(
                id.place,
                "written-twice",
                f"{quoted(id)} is chosen twice",
                "write its quantity once",
            )
        elif id in model.extras:
            found[str(id)] = quantity
        else:
            problems.add(id.place, "not-offered", *_not_offered(id, model))
    return found


def _quantity(chosen: Chosen) -> int:
    return 1 if chosen.quantity is None else int(chosen.quantity.value)


def _not_offered(id: Text, model: PricedModel) -> tuple[str, str]:
    name = model.model.name
    if id in model.options:
        called = model.options[id].assembly.name
        return f"{called} is standard on the {name}", "leave it out: the boat's price includes it"
    return f"the {name} can't be had with {quoted(id)}", nearest(id, model.extras)


def _colour_faults(colour: Text, model: PricedModel) -> Iterator[Problem]:
    item = model.options.get(colour)
    if item is not None and item.option is not None and item.option.kind != "colour":
        what = f"{item.assembly.name} is no colour"
        colours = [
            id
            for id, o in model.options.items()
            if o.option is not None and o.option.kind == "colour"
        ]
        yield Problem(colour.place, "not-offered", what, nearest(colour, colours))


def _dates(request: Request) -> Iterator[Problem]:
    if request.valid_until is not None and request.valid_until < request.date:
        what = f"the quote ends on {request.valid_until}, before it is issued on {request.date}"
        yield Problem(request.place, "date-order", what, "expected a day after the issue")
    if request.delivery_date is not None and request.delivery_date < request.date:
        what = (
            f"delivery is promised for {request.delivery_date}, before the quote's {request.date}"
        )
        yield Problem(request.place, "date-order", what, "expected a day after the issue")


def _language(request: Request) -> Iterator[Problem]:
    try:
        if request.language is not None:
            locale_named(request.language)
    except CatalogueError as unknown:
        yield from unknown.problems


def broken_rules(
    options: Iterable[Chosen], elsewhere: Place, model: PricedModel, boat: Configured
) -> Iterator[Problem]:
    """Each rule that the selection breaks, in words, at the option it is about."""
    places = {str(chosen.option): chosen.option.place for chosen in options}
    chosen = {id: int(count.value) for id, count in boat.quantities.items()}
    for rule in boat.rules:
        if not rule.holds.value:
            place = places.get(rule.option, elsewhere)
            what, hint = _breach(rule, model, chosen)
            yield Problem(place, "broken-rule", what, hint)


def _breach(rule: Rule, model: PricedModel, chosen: Mapping[str, int]) -> tuple[str, str]:
    """What is wrong, with every side of it named, and what would be right."""
    hint = "change the selection: add what is needed, or drop one"
    if rule.kind == "one of":
        there = [id for id in rule.others if chosen.get(id) or holding(model, id, chosen)]
        names = " and ".join(str(model.options[id].assembly.name) for id in there)
        return f"{rule.words}; this one has {names}", hint
    holders = holding(model, rule.option, chosen) if rule.kind == "most" else ()
    if not holders:
        return rule.words, hint
    name, called = model.options[rule.option].assembly.name, "', '".join(holders)
    within = f"the package{'s' if len(holders) > 1 else ''} '{called}'"
    if rule.most == 1 and chosen.get(rule.option):
        return f"{name} is in {within} already", "leave one of the two out"
    return f"{rule.words}, and {within} hold{'' if len(holders) > 1 else 's'} it as well", hint


def unnamed_buyer(market: Market, classes: Sequence[DealerClass]) -> DealerClass:
    """The class that a request is priced for where neither it nor the command names one.

    Where the market's lists show tax, it is the first class of consumers. Elsewhere, or if there
    is none, it is the class with the smallest discount, the first of those that are equal.

    Args:
        market: whose price sheet was looked at
        classes: the yard's, in its order
    """
    if market.prices == "with tax":
        consumers = [each for each in classes if each.consumer]
        if consumers:
            return consumers[0]
    return min(classes, key=lambda each: each.discount.value)
