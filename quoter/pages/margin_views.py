"""What the margin review shows of each line, year and proposal, as exact decimals and words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quoter.analysis.margins import Line, Year, year_of
from quoter.catalogue.factory import Repricing
from quoter.pages.figured import decimal, maybe
from quoter.pricing.markets import BOAT
from quoter.pricing.price import Pricing
from quoter.pricing.proposals import Proposal, proposals_of, reason

POINTS = Decimal(100)


@dataclass(frozen=True, slots=True)
class LineRow:
    """A boat, option or package in one market, as sold to one class of buyer.

    `number` tells which line of the scripts' data it is; `link` leads to the page that explains
    it; `lost` is the margin lost since the last list, in percentage points; `below` names the
    classes of buyer below the floor.
    """

    number: int
    model_id: str
    model: str
    name: str
    link: str
    basis: str
    list_price: Decimal
    cost: Decimal
    contribution: Decimal
    contribution_fraction: Decimal
    margin: Decimal
    margin_fraction: Decimal
    last: Decimal | None
    lost: Decimal | None
    below: tuple[str, ...]
    units: Decimal | None
    yearly: Decimal | None


@dataclass(frozen=True, slots=True)
class YearRow:
    """The planned year of a model or of all, sold to one class of buyer in one market."""

    id: str
    name: str
    net: Decimal
    contribution: Decimal
    margin: Decimal
    fraction: Decimal


@dataclass(frozen=True, slots=True)
class Everywhere:
    """The planned year's margin fraction in a market, by class of buyer."""

    id: str
    market: str
    fractions: tuple[Decimal | None, ...]


@dataclass(frozen=True, slots=True)
class ProposalRow:
    """A published price and what the policy would have it be, in the market's currency."""

    what: str
    models: str
    market: str
    currency: str
    published: Decimal | None
    wanted: Decimal
    proposed: Decimal
    change: Decimal | None
    before: tuple[Decimal, ...]
    after: tuple[Decimal, ...]
    why: str


def line_rows(pricing: Pricing, lines: Sequence[Line], buyer: str) -> list[LineRow]:
    """The lines of one market, sold to one class of buyer."""
    return [_line(pricing, number, line, buyer) for number, line in enumerate(lines)]


def _line(pricing: Pricing, number: int, line: Line, buyer: str) -> LineRow:
    sale, lost = line.sales[buyer], line.erosion(buyer)
    was = None if line.last is None else line.last.margins.get(buyer)
    boat = line.option == BOAT
    return LineRow(
        number=number,
        model_id=line.model,
        model=line.model_name,
        name="Boat with standard equipment" if boat else line.name,
        link=_link(pricing, line),
        basis=line.basis,
        list_price=decimal(line.list_price),
        cost=decimal(line.cost),
        contribution=decimal(sale.contribution),
        contribution_fraction=decimal(sale.contribution_fraction),
        margin=decimal(sale.margin),
        margin_fraction=decimal(sale.margin_fraction),
        last=None if was is None else Decimal(repr(was)),
        lost=None if lost is None else Decimal(repr(lost)) * POINTS,
        below=tuple(str(s.buyer.name) for s in line.sales.values() if s.breach.value),
        units=maybe(line.units),
        yearly=maybe(line.yearly(buyer)),
    )


def _link(pricing: Pricing, line: Line) -> str:
    """The page of an option; the boat's and packages' numbers stand on the page of costs."""
    if line.option in pricing.models[line.model].options:
        return f"{line.model}/{line.option}.html"
    return f"costs.html#model-{line.model}"


def year_rows(pricing: Pricing, lines: Sequence[Line], buyer: str) -> list[YearRow]:
    """The planned year of each model, then of all, over the lines of one market."""
    found = []
    for id, model in pricing.models.items():
        own = [line for line in lines if line.model == id]
        year = year_of(own, buyer, f"year.{id}", str(model.model.name))
        if year is not None:
            found.append(_year(id, str(model.model.name), year))
    whole = year_of(lines, buyer, "year", "All models")
    return found if whole is None else [*found, _year("", "All models", whole)]


def _year(id: str, name: str, year: Year) -> YearRow:
    numbers = (year.net, year.contribution, year.margin, year.fraction)
    net, contribution, margin, fraction = map(decimal, numbers)
    return YearRow(id, name, net, contribution, margin, fraction)


def everywhere(pricing: Pricing, lines: Iterable[Line]) -> list[Everywhere]:
    """The planned year's margin in every market at every class of buyer."""
    every = list(lines)
    rows = []
    for market in pricing.catalogue.yard.markets:
        own = [line for line in every if line.market == market.id]
        years = [year_of(own, str(b.id), "year", "All models") for b in pricing.terms.buyers]
        fractions = tuple(None if year is None else decimal(year.fraction) for year in years)
        rows.append(Everywhere(str(market.id), str(market.name), fractions))
    return rows


def proposal_rows(pricing: Pricing) -> list[ProposalRow]:
    """Every price that the policy would publish anew or for the first time."""
    rule = pricing.catalogue.yard.policy.repricing
    if rule is None:
        return []
    found = [each for each in proposals_of(pricing, rule) if each.changes]
    found.sort(key=lambda each: each.published is None)
    return [_proposal(pricing, rule, each) for each in found]


def _proposal(pricing: Pricing, rule: Repricing, each: Proposal) -> ProposalRow:
    market, model, option = each.line
    markets = {str(m.id): str(m.name) for m in pricing.catalogue.yard.markets}
    change = None
    if each.published is not None and each.published.value:
        change = decimal(each.proposed) / decimal(each.published) - 1
    return ProposalRow(
        what=each.name if option else "Boat with standard equipment",
        models=str(pricing.models[model].model.name) if model else "all models",
        market=markets[market] if market else "all",
        currency=each.currency,
        published=maybe(each.published),
        wanted=decimal(each.wanted),
        proposed=decimal(each.proposed),
        change=change,
        before=_ends([decimal(on.before.first) for on in each.covered if on.before is not None]),
        after=_ends([decimal(on.after.first) for on in each.covered]),
        why=reason(each, rule),
    )


def _ends(margins: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """The lowest and the highest, or the one that there is."""
    return tuple(sorted({min(margins), max(margins)})) if margins else ()
