"""Better standards that the data support, each with its evidence and its effect."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.actuals.estimates import Interval
from quoter.figures import Figure
from quoter.problems import Place


@dataclass(frozen=True, slots=True)
class Effect:
    """What a proposal does to an option (or to the boat, id ""): costs before and after, in home
    currency, and margins as fractions, None where it has no price."""

    model: str
    option: str
    cost: Figure
    new_cost: float
    margin: float | None
    new_margin: float | None


@dataclass(frozen=True, slots=True)
class Proposal:
    """One value of the catalogue, as it is and as the data would have it.

    `key` is the value's own (that of `--set` and `why`), `place` where it is written, `was` its
    text there and `text` what would be written, with unit and range. `evidence` is from the data
    alone; `likely`, in the unit as written, is drawn toward the present standard by 1 - `weight`.
    """

    key: str
    place: Place
    name: str
    was: str
    text: str
    likely: float
    unit: str
    evidence: Interval
    samples: int
    weight: float
    reason: str
    effects: tuple[Effect, ...]
