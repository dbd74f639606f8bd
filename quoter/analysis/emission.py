"""Organic HAP that open moulding gives off, for a unit and for the planned year."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.analysis.plan import NO_EMISSION, Plan
from quoter.costing.draws import Draw, Draws, base_boat_draws, draws_of
from quoter.costing.rates import Rates
from quoter.engineering.emissions import MAJOR_COMBINED_HAP, MAJOR_SINGLE_HAP
from quoter.figures import Figure, constant
from quoter.figures.ops import less
from quoter.pricing.price import Priced, PricedModel

ORGANIC_HAP = Draw("emission", "organic HAP")


@dataclass(frozen=True, slots=True)
class Threshold:
    """A yearly amount that makes a yard a major source, how much of it is used, 1 if below it."""

    what: str
    limit: Figure
    used: Figure
    below: Figure


def emissions_of(priced: PricedModel, rates: Rates) -> list[tuple[Priced, Figure]]:
    """The boat, its options and packages, each with the organic HAP of one good unit [kg].

    A base boat is stated, not built from parts: of it only the standard options count.
    """
    known: dict[str, Draws] = {}
    base = base_boat_draws(priced.model, rates, priced.boat.assembly, known)
    found = [(priced.boat, base.get(ORGANIC_HAP, NO_EMISSION))]
    for item in (priced.options | priced.packages).values():
        found.append((item, draws_of(item.assembly, known).get(ORGANIC_HAP, NO_EMISSION)))
    return found


def thresholds_of(plan: Plan) -> list[Threshold]:
    """The plan's emission a year against the thresholds of a major source."""
    limits = {
        "a single organic HAP": MAJOR_SINGLE_HAP,
        "all organic HAP together": MAJOR_COMBINED_HAP,
    }
    found = []
    for what, value in limits.items():
        key = f"plan.emission.{what.replace(' ', '_')}"
        limit = constant(value, "kg", f"threshold for {what}")
        used = (plan.emission / limit).named(f"{key}.used", f"{what}: of the threshold", "percent")
        found.append(Threshold(what, limit, used, less(plan.emission, limit)))
    return found
