"""Organic HAP of a unit, and of the planned year against thresholds and limit of the rule.

An estimate by point values, not a compliance record.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from quoter.catalogue.yard import MouldMaterial
from quoter.costing.draws import ORGANIC_HAP, Draw, Draws, draws_of
from quoter.costing.elements import in_words
from quoter.costing.given_off import BY_HAND, Applied, given_off
from quoter.costing.quantities import GivenOff
from quoter.engineering.emissions import (
    LIMITED,
    MAJOR_COMBINED_HAP,
    MAJOR_SINGLE_HAP,
    emission_limit,
)
from quoter.figures import Figure, constant, total
from quoter.figures.ops import less, less_or_equal
from quoter.phrases import phrase, together
from quoter.pricing.price import Priced, PricedModel

# The kinds of material that the rule limits, in words.
KINDS: Mapping[str, str] = dict(
    zip(
        LIMITED,
        (
            phrase("production resin"),
            phrase("pigmented gelcoat"),
            phrase("clear gelcoat"),
            phrase("tooling resin"),
            phrase("tooling gelcoat"),
        ),
        strict=True,
    )
)
NO_EMISSION = constant(0.0, "kg")
ALL_HAP = Draw("emission", ORGANIC_HAP)
# Classes of material that give off organic HAP; what a boat states of them as cost tells no mass.
EMITTING = ("resin", "gelcoat")
TABLE_1, EQUATION_1 = "40 CFR 63 Subpart VVVV, Table 1, footnote 1", "40 CFR 63.5698, equation 1"


@dataclass(frozen=True, slots=True)
class Threshold:
    """A yearly amount of the rule, what is given off of it, how much of it is used, and 1 if the
    year keeps below it. `source` is where the rule says so."""

    what: str
    given_off: Figure
    limit: Figure
    used: Figure
    below: Figure
    source: str = TABLE_1


@dataclass(frozen=True, slots=True)
class YearEmissions:
    """What a year gives off of organic HAP [kg], in all and by substance.

    `applied` is what is applied openly of each kind of material that the rule limits. `left_out`
    says in words what a headline must not pass over.
    """

    total: Figure = NO_EMISSION
    substances: Mapping[str, Figure] = field(default_factory=dict)
    applied: Mapping[str, Figure] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()

    @property
    def scope(self) -> str:
        """What the total is of, as a headline says it."""
        words = phrase("from resin and gelcoat")
        return (
            phrase("{words}, without {value}", words=words, value=together(", ", self.left_out))
            if self.left_out
            else words
        )


def emissions_of(priced: PricedModel) -> list[tuple[Priced, Figure]]:
    """The boat, its options and packages, each with the organic HAP of one good unit [kg]."""
    known: dict[str, Draws] = {}
    return [
        (item, draws_of(item.assembly, known).get(ALL_HAP, NO_EMISSION))
        for item in (priced.boat, *priced.options.values(), *priced.packages.values())
    ]


def year_emissions(
    yearly: Mapping[Draw, Figure], names: Mapping[str, str], moulds: Sequence[MouldMaterial]
) -> YearEmissions:
    """What the draws of a year give off, and the moulds built in it.

    Args:
        yearly: what all units draw in a year
        names: of the materials, by id
        moulds: what the moulds take that are built in the year
    """
    found = [
        (moulded, _of_moulds(moulded, f"plan.emission.moulds{number}"))
        for number, moulded in enumerate(moulds, 1)
    ]
    built = [gas for _, gas in found if gas is not None]
    gas = _together("emission", yearly, (each for one in built for each in _by_name(one)))
    applied = _together("applied", yearly, ((one.limited_as, one.applied) for one in built))
    left_out = [
        phrase("{id} (HAP not told)", id=names[draw.id]) for draw in yearly if draw.kind == "untold"
    ]
    untold = [each for each, one in found if one is not None and one.total is None]
    left_out += [phrase("{name} (HAP not told)", name=each.name) for each in untold]
    stated = [draw.id for draw in yearly if draw.kind == "stated" and draw.id in EMITTING]
    left_out += [phrase("{id} that boats state as cost", id=in_words(id)) for id in stated]
    if not moulds:
        left_out.append(phrase("moulds built"))
    whole = gas.pop(ORGANIC_HAP, NO_EMISSION)
    kinds = {words: applied[kind] for kind, words in KINDS.items() if kind in applied}
    return YearEmissions(whole, gas, kinds, tuple(left_out))


def _of_moulds(material: MouldMaterial, key: str) -> GivenOff | None:
    by = Applied(str(material.applied or BY_HAND))
    kind = phrase("tooling {kind}", kind=material.kind)
    return given_off(
        material, kind, by, material.mass, key, phrase("moulds built, {name}", name=material.name)
    )


def _by_name(gas: GivenOff) -> Iterator[tuple[str, Figure]]:
    if gas.total is not None:
        yield ORGANIC_HAP, gas.total
        yield from gas.substances.items()


def _together(
    kind: str, yearly: Mapping[Draw, Figure], besides: Iterable[tuple[str, Figure]]
) -> dict[str, Figure]:
    """A year's draws of a kind by their ids, with what is not drawn by boats."""
    terms = {draw.id: [figure] for draw, figure in yearly.items() if draw.kind == kind}
    for id, amount in besides:
        terms.setdefault(id, []).append(amount)
    words = phrase("given off") if kind == "emission" else phrase("applied openly")
    return {
        id: total(amounts, NO_EMISSION).named(
            f"plan.year.{kind}.{id.replace(' ', '_')}",
            phrase("{id}, {words} in a year", id=KINDS.get(id, id), words=words),
        )
        for id, amounts in terms.items()
    }


def thresholds_of(year: YearEmissions) -> list[Threshold]:
    """A year against the thresholds of a major source: each substance alone, and all together."""
    single: dict[str, Figure] = {
        phrase("a single organic HAP, {name}", name=name): gas
        for name, gas in year.substances.items()
    }
    single = single or {phrase("a single organic HAP"): year.total}
    found = [_threshold(what, gas, MAJOR_SINGLE_HAP) for what, gas in single.items()]
    return [*found, _threshold(phrase("all organic HAP together"), year.total, MAJOR_COMBINED_HAP)]


def _threshold(what: str, gas: Figure, most: float) -> Threshold:
    limit = constant(most, "kg", phrase("threshold for {what}", what=what))
    return Threshold(what, gas, limit, _used(what, gas, limit), less(gas, limit))


def limit_of(year: YearEmissions) -> Threshold | None:
    """A year against what a major source may give off for what it applies; None for nothing."""
    if not year.applied:
        return None
    what = phrase("open moulding of a major source, for what is applied")
    masses = [year.applied.get(kind, NO_EMISSION) for kind in LIMITED]
    limit = emission_limit(*masses).named("plan.emission.limit", "emission limit of open moulding")
    used = _used(phrase("the emission limit"), year.total, limit)
    return Threshold(what, year.total, limit, used, less_or_equal(year.total, limit), EQUATION_1)


def _used(what: str, gas: Figure, limit: Figure) -> Figure:
    key = f"plan.emission.{what.replace(', ', ' ').replace(' ', '_')}.used"
    return (gas / limit).named(key, phrase("{what}: used of it", what=what), "percent")
