"""Where numbers come from: the catalogue lines of an input, or of those nearest to a result."""

from __future__ import annotations

from collections.abc import Iterable

from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.phrases import phrase

MOST = 3  # places named; more would tell nobody more


Places = tuple[str, ...]  # in the catalogue
Nearest = tuple[int, Places]  # those nearest to a figure, and how many named steps away they are

NOWHERE: Nearest = (10**9, ())


def source_of(figure: Figure) -> str:
    """Where an input was written down, and since when it holds."""
    if figure.origin is None:
        return ""
    place, since = str(figure.origin.place), figure.origin.effective
    return phrase("{place}, from {day}", place=place, day=since) if since else place


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
    _, places = found
    text = ", ".join(places[:MOST])
    return phrase("{places} and others", places=text) if len(places) > MOST else text


def nearest_in(order: Iterable[Figure]) -> dict[Figure, Nearest]:
    """The nearest catalogue lines of figures, given in order with all that they rest on.

    A named figure is a step of its own; of lines equally near, all count.
    """
    found: dict[Figure, Nearest] = {}
    for figure in order:
        origin = figure.origin
        if origin is not None and (place := str(origin.place)):
            found[figure] = (0, (place,))
            continue
        steps, places = NOWHERE
        for arg in figure.args:
            away, near = found[arg]
            if arg.key and arg.args:
                away += 1
            if away < steps:
                steps, places = away, near
            elif away == steps and near != places:
                places = _together(places, near)
        found[figure] = (steps, places) if places else NOWHERE
    return found


def _together(places: Places, more: Places) -> Places:
    if not more or len(places) > MOST:
        return places
    return tuple(dict.fromkeys(places + more))[: MOST + 1]
