"""What each input does to a result: its slope, the effect of a rise of ten percent, and how far the
result really could move, by what the input may be.

A rise never goes beyond what the input can be: a yield of 98 % has two points left. The live
effects are the same as figures that a workbook keeps alive: the slope is a number of the finished
costing; input, rise and effect are figures.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.analysis.ranges import Varying, bounds_of
from quoter.figures import Figure, Origin, at_most, entered, stated
from quoter.figures.graph import evaluate, gradient
from quoter.phrases import phrase
from quoter.problems import Place
from quoter.units import quantity

RISE = 0.10
NEARLY = 1e-6  # of the effect; a slope that misses it by less is that of a straight line
NOISE = 1e-12  # of the result; what floating numbers add to a difference

Slopes = Callable[[Figure], Mapping[Figure, float]]


@dataclass(frozen=True, slots=True)
class Effect:
    """An input's slope on a result (result unit per input unit as written), and what it may do.

    `rise` is the relative rise asked about, or less where the input can rise no further; `effect`
    is slope x value x rise: exact for inputs the result is linear in, a good estimate for the
    others. `low` and `high` are what the result moves by with the input at its low and its high
    value, by the slope until they are worked out anew; nothing for an exact input. `straight` says
    that the slope holds, where it was tried.
    """

    figure: Figure
    slope: float
    effect: float
    rise: float = RISE
    varying: Varying | None = None
    low: float = 0.0
    high: float = 0.0
    straight: bool | None = None

    @property
    def swing(self) -> float:
        """How far the result could move, from one end of the input's range to the other."""
        return max(self.low, self.high, 0.0) - min(self.low, self.high, 0.0)


def most_rise(figure: Figure) -> float | None:
    """How far an input can rise at most, as a part of it; None where nothing limits it."""
    most = bounds_of(figure).most
    return None if most is None or figure.value <= 0 else most / figure.value - 1


def effects_on(
    result: Figure,
    rise: float = RISE,
    slopes_of: Slopes = gradient,
    varying: Mapping[Figure, Varying] | None = None,
) -> list[Effect]:
    """Every input the result depends on, the one first that could move it most.

    Inputs that do not vary come last, by the effect of a rise.

    Args:
        result: the figure asked about
        rise: relative rise of each input in turn
        slopes_of: the slopes of a result by its inputs, where they are already known
        varying: what each input may be; none of them varies unless given
    """
    found = []
    for figure, slope in slopes_of(result).items():
        if not slope or not figure.value:
            continue
        room = most_rise(figure)
        own = rise if room is None else min(rise, room)
        known = (varying or {}).get(figure)
        low, high = 0.0, 0.0
        if known is not None:
            low, high = (
                slope * (end - figure.value) for end in (known.spread.low, known.spread.high)
            )
        found.append(Effect(figure, slope, slope * figure.value * own, own, known, low, high))
    return ranked(found)


def ranked(effects: Sequence[Effect]) -> list[Effect]:
    """The effects by what could really move the result, then by that of a rise."""
    return sorted(effects, key=lambda e: (-e.swing, -abs(e.effect), e.figure.key))


def tried(result: Figure, effects: Sequence[Effect], rise: float = RISE) -> list[Effect]:
    """The effects with each input put to its low and high value, and raised and lowered, in turn.

    Where a rise and a fall do what the slope says, the result is linear in the input near its
    value.
    """
    import numpy as np

    if not effects:
        return []
    cases = len(effects) * 4
    replaced = {}
    for number, effect in enumerate(effects):
        value = effect.figure.value
        values = np.full(cases, value)
        values[number * 4 : (number + 1) * 4] = (
            value * (1 + effect.rise),
            value * (1 - rise),
            *_ends(effect),
        )
        replaced[effect.figure] = values
    whole = np.broadcast_to(evaluate([result], replaced)[0], (cases,))
    moved = (whole - result.value).reshape(len(effects), 4)
    found = []
    for effect, (up, down, low, high) in zip(effects, moved.tolist(), strict=True):
        value = effect.figure.value
        expected = (effect.slope * value * effect.rise, -effect.slope * value * rise)
        straight = all(
            abs(got - meant) <= NEARLY * abs(meant) + NOISE * abs(result.value)
            for got, meant in zip((up, down), expected, strict=True)
        )
        if effect.varying is None:
            low = high = 0.0
        found.append(replace(effect, low=low, high=high, straight=straight))
    return found


def _ends(effect: Effect) -> tuple[float, float]:
    if effect.varying is None:
        return effect.figure.value, effect.figure.value
    return effect.varying.spread.low, effect.varying.spread.high


@dataclass(frozen=True, slots=True)
class LiveEffect:
    """An input, its slope on a result, the effect of a rise, and that as a fraction of the result.

    `low` and `high` are what the ends of its range do to the result, as numbers of the build; None
    for an input that does not vary. `straight` says that a rise and a fall, worked out anew,
    do what the slope says; of a result of nothing there is no fraction.
    """

    figure: Figure
    slope: Figure
    effect: Figure
    fraction: Figure | None
    low: Figure | None
    high: Figure | None
    straight: bool


def a_rise() -> Figure:
    """The relative rise that every input gets in turn: an input of its own."""
    text = f"{RISE:.0%}".replace("%", " %")
    return entered(
        quantity(text), "sensitivity.rise", "rise of each input in turn", Origin(Place(""), text)
    )


def slope_of(result: Figure, figure: Figure, slope: float, key: str, name: str) -> Figure:
    """The slope of a result by an input as a given number, with its unit."""
    number = Figure(slope, result.unit / figure.unit)
    place = figure.origin.place if figure.origin else None
    return stated(
        number,
        f"{key}.slope.{figure.key}",
        phrase("{name}: slope by {label}", name=name, label=figure.label),
        place,
    )


def live_effects(
    result: Figure, found: Sequence[Effect], rise: Figure, key: str, name: str
) -> tuple[LiveEffect, ...]:
    """The effects on a result as figures that stay live.

    Args:
        result: the figure asked about
        found: its effects that are told
        rise: relative rise of each input
        key: begins the figures' keys
        name: begins their labels
    """
    if any(effect.straight is None for effect in found):
        found = tried(result, found)
    return tuple(_live(result, each, rise, key, name) for each in found)


def _live(result: Figure, each: Effect, rise: Figure, key: str, name: str) -> LiveEffect:
    figure, about = (
        each.figure,
        phrase("{name}: effect of {label}", name=name, label=each.figure.label),
    )
    slope = slope_of(result, figure, each.slope, key, name)
    most = bounds_of(figure).most
    own = rise
    if most is not None and most_rise(figure) is not None:
        own = at_most(rise, Figure(most, figure.unit) / figure - 1)
    effect = (figure * slope * own).named(f"{key}.effect.{figure.key}", about)
    fraction = low = high = None
    if result.value:
        fraction = (effect / result).named(
            f"{key}.effect_fraction.{figure.key}",
            phrase("{about}, of the whole", about=about),
            "percent",
        )
    if each.varying is not None:
        number = {
            end: stated(
                Figure(value, result.unit),
                f"{key}.effect_{end}.{figure.key}",
                phrase("{about} at {end}", about=about, end=end),
            )
            for end, value in (("low", each.low), ("high", each.high))
        }
        low, high = number["low"], number["high"]
    return LiveEffect(figure, slope, effect, fraction, low, high, bool(each.straight))
