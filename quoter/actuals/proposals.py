"""Better standards that the data support, each with its evidence and its effect.

What the data don't contradict stays as it is. A value is drawn toward the present one where data
are few: by the weight of a normal posterior whose prior is the present value, with the deviation
of its own range, or what the data show of it where that is more. The range beside it is that of a
job to come, from which the risk sheet draws: two and a half robust deviations either way, whose P80
is about that of the jobs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from quoter.actuals.better_shares import better_shares
from quoter.actuals.better_times import better_times
from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals
from quoter.actuals.drawn import Drawn, drawn
from quoter.actuals.effects import Effect, effects, effects_of
from quoter.actuals.estimates import Estimates
from quoter.actuals.evidence import Evidence
from quoter.actuals.samples import Interval
from quoter.actuals.texts import present_text, worded
from quoter.analysis.ranges import Ranges
from quoter.problems import Place

__all__ = ["Effect", "Proposal", "effects", "effects_of", "proposals"]


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


def proposals(actuals: Actuals, estimates: Estimates) -> tuple[Proposal, ...]:
    """What the data would have otherwise, in the order of the catalogue.

    Args:
        actuals: what was booked, compared
        estimates: made of it
    """
    now = _by_present_recipes(actuals)
    evidence = (estimates.evidence if now is actuals else None) or Evidence(now)
    ranges = Ranges(actuals.pricing.catalogue)
    every = [
        *better_times(evidence.works.values(), ranges),
        *better_shares(now, evidence),
    ]
    made = [told for told in (drawn(better, ranges) for better in every) if told is not None]
    worth = [each for each in (_worded(actuals, told) for told in made) if each is not None]
    worth.sort(key=lambda each: (each.place.file, each.place.line, each.place.column))
    inputs = {told.better.figure.key: told.better.figure for told in made}
    scales = [100.0 if each.unit == "%" else 1.0 for each in worth]
    changes = [
        {inputs[each.key]: each.likely / scale} for each, scale in zip(worth, scales, strict=True)
    ]
    moved = effects_of(actuals.pricing, changes)
    return tuple(replace(each, effects=told) for each, told in zip(worth, moved, strict=True))


def _by_present_recipes(actuals: Actuals) -> Actuals:
    """All jobs held against the catalogue as it is, those too that were begun before a value was
    accepted: it is the present value that is asked about."""
    if actuals.booked is None or not actuals.pricing.catalogue.records.accepted:
        return actuals
    return compare(actuals.pricing, actuals.booked)


def _worded(actuals: Actuals, told: Drawn) -> Proposal | None:
    """A proposal without its effects; None where it would be written as it is."""
    better, figure = told.better, told.better.figure
    if figure.origin is None:
        return None
    words = worded(figure, told.likely, told.low, told.high, told.reach)
    if words.number / words.scale == figure.value:
        return None
    return Proposal(
        key=figure.key,
        place=figure.origin.place,
        name=figure.label,
        was=present_text(actuals.pricing.catalogue, figure),
        text=words.text,
        likely=words.number,
        unit=words.unit,
        evidence=better.told.mapped(lambda end: end * words.scale),
        samples=better.samples,
        weight=told.weight,
        reason=better.reason,
        effects=(),
    )
