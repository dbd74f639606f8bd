"""Where numbers come from: the catalogue lines of an input, or of those nearest to a result."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from quoter.figures import Figure
from quoter.figures.graph import in_order

MOST = 3  # places named; more would tell nobody more


@dataclass(frozen=True, slots=True)
class Nearest:
    """The catalogue lines nearest to a figure, and how many named steps away they are."""

    steps: int
    places: tuple[str, ...]


NOWHERE = Nearest(10**9, ())


def source_of(figure: Figure) -> str:
    """Where an input was written down, and since when it holds."""
    if figure.origin is None:
        return ""
    since = f", from {figure.origin.effective}" if figure.origin.effective else ""
    return f"{figure.origin.place}{since}"


def sources_of(figure: Figure) -> str:
    """Where the inputs nearest to a figure were written down."""
    return in_words(nearest_in(in_order([figure]))[figure])


def in_words(found: Nearest) -> str:
    """The places in a cell."""
    text = ", ".join(found.places[:MOST])
    return f"{text} and others" if len(found.places) > MOST else text


def nearest_in(order: Iterable[Figure]) -> dict[Figure, Nearest]:
    """The nearest catalogue lines of figures, given in order with all that they rest on.

    A named figure is a step of its own; of lines equally near, all count.
    """
    found: dict[Figure, Nearest] = {}
    for figure in order:
        origin = figure.origin
        if origin is not None and str(origin.place):
            found[figure] = Nearest(0, (str(origin.place),))
        else:
            found[figure] = _of_arguments(figure, found)
    return found


def _of_arguments(figure: Figure, found: Mapping[Figure, Nearest]) -> Nearest:
    steps, places = NOWHERE.steps, NOWHERE.places
    for arg in figure.args:
        near = found[arg]
        away = near.steps + bool(arg.key and arg.args)
        if away < steps:
            steps, places = away, near.places
        elif away == steps and near.places and len(places) <= MOST and near.places != places:
            places = tuple(dict.fromkeys(places + near.places))[: MOST + 1]
    return Nearest(steps, places) if places else NOWHERE
