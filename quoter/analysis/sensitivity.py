"""What each input does to a result: its slope, and the effect of a rise of ten percent."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.figures import Figure
from quoter.figures.graph import gradient

RISE = 0.10


@dataclass(frozen=True, slots=True)
class Effect:
    """An input's slope on a result (result unit per input unit as written), and what a rise does.

    `effect` is slope x value x rise: exact for inputs the result is linear in, a good estimate
    for the others.
    """

    figure: Figure
    slope: float
    effect: float


def effects_on(result: Figure, rise: float = RISE) -> list[Effect]:
    """Every input the result depends on, the largest effect of a rise first.

    Args:
        result: the figure asked about
        rise: relative rise of each input in turn
    """
    found = [
        Effect(figure, slope, slope * figure.value * rise)
        for figure, slope in gradient(result).items()
        if slope and figure.value
    ]
    return sorted(found, key=lambda effect: (-abs(effect.effect), effect.figure.key))
