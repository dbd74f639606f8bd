"""Where numbers come from: the catalogue lines of an input, or of those nearest to a result."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from quoter.figures import Figure
from quoter.figures.graph import in_order

MOST = 3  # places named; more would tell nobody more


class Nearest(NamedTuple):
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
    return sources_in([figure])[figure]


def sources_in(figures: Iterable[Figure]) -> dict[Figure, str]:
    """The same of several figures, which may rest on the same ones."""
    asked = list(figures)
    nearest = nearest_in(in_order(asked))
    return {figure: in_words(nearest[figure]) for figure in asked}


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
        if origin is not None and (place := str(origin.place)):
            found[figure] = Nearest(0, (place,))
        else:
            found[figure] = _of_arguments(figure, found) if figure.args else NOWHERE
    return found


def _of_arguments(figure: Figure, found: Mapping[Figure, Nearest]) -> Nearest:
    best = NOWHERE
    for arg in figure.args:
        near = found[arg]
        steps, places = near
        if arg.key and arg.args:
            steps += 1
        if steps < best.steps:
            best = near if steps == near.steps else Nearest(steps, places)
        elif steps == best.steps and places and places != best.places and len(best.places) <= MOST:
            together = tuple(dict.fromkeys(best.places + places))[: MOST + 1]
            best = Nearest(steps, together)
    return best if best.places else NOWHERE
