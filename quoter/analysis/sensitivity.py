"""What each input does to a result: its slope, and the effect of a rise of ten percent.

The live effects are the same as figures that a workbook keeps alive: the slope is a number of the
finished costing; input, rise and effect are figures.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from quoter.figures import Figure, Origin, entered, stated
from quoter.figures.graph import evaluate, gradient
from quoter.problems import Place
from quoter.units import quantity

RISE = 0.10
NEARLY = 1e-6  # of the effect; a slope that misses it by less is that of a straight line
NOISE = 1e-12  # of the result; what floating numbers add to a difference

Slopes = Callable[[Figure], Mapping[Figure, float]]


@dataclass(frozen=True, slots=True)
class Effect:
    """An input's slope on a result (result unit per input unit as written), and what a rise does.

    `effect` is slope x value x rise: exact for inputs the result is linear in, a good estimate
    for the others.
    """

    figure: Figure
    slope: float
    effect: float

    @property
    def beyond(self) -> bool:
        """Whether the input is a share that would rise beyond 100 %."""
        return self.figure.form == "percent" and self.figure.value * (1 + RISE) > 1


def effects_on(result: Figure, rise: float = RISE, slopes_of: Slopes = gradient) -> list[Effect]:
    """Every input the result depends on, the largest effect of a rise first.

    Args:
        result: the figure asked about
        rise: relative rise of each input in turn
        slopes_of: the slopes of a result by its inputs, where they are already known
    """
    found = [
        Effect(figure, slope, slope * figure.value * rise)
        for figure, slope in slopes_of(result).items()
        if slope and figure.value
    ]
    return sorted(found, key=lambda effect: (-abs(effect.effect), effect.figure.key))


@dataclass(frozen=True, slots=True)
class LiveEffect:
    """An input, its slope on a result, the effect of a rise, and that as a fraction of the result.

    `straight` says that a rise and a fall of ten percent, worked out anew, do what the slope says;
    of a result of nothing there is no fraction.
    """

    figure: Figure
    slope: Figure
    effect: Figure
    fraction: Figure | None
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
    return stated(number, f"{key}.slope.{figure.key}", f"{name}: slope by {figure.label}", place)


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
    straight = are_straight(result, found)
    effects = []
    for each, is_straight in zip(found, straight, strict=True):
        slope = slope_of(result, each.figure, each.slope, key, name)
        effect = (each.figure * slope * rise).named(
            f"{key}.effect.{each.figure.key}", f"{name}: effect of {each.figure.label}"
        )
        fraction = None
        if result.value:
            fraction = (effect / result).named(
                f"{key}.effect_fraction.{each.figure.key}",
                f"{name}: effect of {each.figure.label}, of the whole",
                "percent",
            )
        effects.append(LiveEffect(each.figure, slope, effect, fraction, is_straight))
    return tuple(effects)


def are_straight(result: Figure, effects: Sequence[Effect]) -> list[bool]:
    """Whether each input in turn, raised and lowered by ten percent, moves the result alike.

    Where both ways do what the slope says, the result is linear in the input near its value.
    """
    import numpy as np

    if not effects:
        return []
    steps = np.array([RISE, -RISE])
    cases = len(effects) * len(steps)
    replaced = {}
    for number, effect in enumerate(effects):
        values = np.full(cases, effect.figure.value)
        values[number * len(steps) : (number + 1) * len(steps)] *= 1 + steps
        replaced[effect.figure] = values
    with np.errstate(all="ignore"):  # a fraction raised past 1 may have no result at all
        whole = np.broadcast_to(evaluate([result], replaced)[0], (cases,))
    moved = (whole - result.value).reshape(len(effects), len(steps))
    expected = np.array([[e.slope * e.figure.value * step for step in steps] for e in effects])
    allowed = NEARLY * np.abs(expected) + NOISE * abs(result.value)
    return [bool(told) for told in (np.abs(moved - expected) <= allowed).all(axis=1)]
