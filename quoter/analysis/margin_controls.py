"""Controls of a margin review: each reaches one number by two roads, and both must agree."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.analysis.margin_review import Place, Review
from quoter.analysis.margins import MarginLine
from quoter.catalogue.volumes import boats_planned, take_rates
from quoter.figures import Figure, dot, stated, total
from quoter.phrases import phrase
from quoter.pricing.controls import Control, agree, policy_controls
from quoter.pricing.price import BOAT


def margin_controls(review: Review) -> list[Control]:
    """Every control of a review."""
    found = list(policy_controls(review.pricing.terms))
    for place in review.years:
        found.append(_by_boat(review, place))
        found.append(_spent(review, place))
    if review.first in review.years:
        found.append(_fixed(review))
    return [*found, *_costs(review)]


def _words(review: Review, place: Place) -> str:
    market = next(m for m in review.pricing.catalogue.yard.markets if m.id == place[0])
    buyer = next(b for b in review.pricing.terms.buyers if b.id == place[1])
    return f"{market.name}, {buyer.name}"


def _planned(review: Review, place: Place) -> list[MarginLine]:
    return [line for line in review.lines[place[0]] if line.units is not None]


def _by_boat(review: Review, place: Place) -> Control:
    """The margin a year as boats times what an average boat of each model leaves."""
    records, (market, buyer) = review.pricing.catalogue.records, place
    models = []
    for model in review.pricing.models:
        boats, rates = boats_planned(records, model), take_rates(records, model)
        margins = {
            line.option: line.sales[buyer].margin
            for line in _planned(review, place)
            if line.model == model
        }
        if boats is None or not margins:
            continue
        each_boat = [margins[BOAT]] if BOAT in margins else []
        taken = [option for option in margins if option != BOAT]
        if taken:
            each_boat.append(dot([rates[o] for o in taken], [margins[o] for o in taken]))
        models.append(boats * total(each_boat, each_boat[0]))
    again = total(models, models[0]).named(
        f"control.review.{market}.{buyer}.boats", "margin by average boat"
    )
    words = _words(review, place)
    margin = review.years[place].margin
    what = phrase(
        "{words}: margin a year is boats times the margin of an average boat, by model", words=words
    )
    return Control(what, margin, again, agree(margin, again))


def _spent(review: Review, place: Place) -> Control:
    """The net price as what it is spent on."""
    year, (market, buyer) = review.years[place], place
    lines = _planned(review, place)
    kept = (year.net * (1 - review.pricing.terms.provisions)).named(
        f"control.review.{market}.{buyer}.kept", "net less provisions"
    )
    costs = _yearly(lines, [line.cost for line in lines])
    spent = (costs + year.margin).named(
        f"control.review.{market}.{buyer}.spent", "full cost and margin"
    )
    words = _words(review, place)
    what = phrase(
        "{words}: net a year less provisions is full cost and margin of the units planned",
        words=words,
    )
    return Control(what, kept, spent, agree(kept, spent))


def _yearly(lines: Sequence[MarginLine], amounts: Sequence[Figure]) -> Figure:
    return dot(amounts, [line.units for line in lines if line.units is not None])


def _fixed(review: Review) -> Control:
    """Contribution and margin of a year differ by the fixed cost."""
    year, lines = review.years[review.first], _planned(review, review.first)
    between = (year.contribution - year.margin).named(
        "control.review.between", "contribution less margin"
    )
    full = _yearly(lines, [line.cost for line in lines])
    variable = _yearly(lines, [line.variable for line in lines])
    fixed = (full - variable).named("control.review.fixed", "fixed cost of the units planned")
    what = phrase(
        "{review}: contribution less margin is the fixed cost", review=_words(review, review.first)
    )
    return Control(what, between, fixed, agree(between, fixed))


def _costs(review: Review) -> Iterator[Control]:
    """The stated costs against the costing's own, summed by element."""
    for id, model in review.pricing.models.items():
        own = [line.cost for line in review.at_home if line.model == id]
        if not own:
            continue
        items = (model.boat, *model.extras.values())
        groups = [group for item in items if item.sales for group in item.assembly.groups.values()]
        costing = stated(
            total(groups, own[0]), f"control.review.{id}.costing", "costs by element, of this build"
        )
        name = str(model.model.name)
        book = total(own, own[0]).named(
            f"control.review.{id}.costs", phrase("{name}: costs of all lines", name=name)
        )
        what = phrase(
            "{name}: the costs here are the costing's, summed over its cost elements", name=name
        )
        yield Control(what, book, costing, agree(book, costing), model.model.place)
