"""Find a figure of a model or option by name and tell how it was computed, as text or JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

from quoter.catalogue.settings import COMMAND_LINE
from quoter.figures import Figure, Origin
from quoter.figures.graph import in_order
from quoter.figures.trail import Step, expression
from quoter.pricing.price import Priced
from quoter.problems import nearest

Tree = TypeVar("Tree")


class UnknownFigureError(Exception):
    """Raised when no figure has the asked name; the message names the nearest."""


def find_figure(priced: Priced, name: str) -> Figure:
    """The figure called `name`: a full key, or its end after the option's own key.

    Raises:
        UnknownFigureError: with the nearest names.
    """
    roots = [priced.list_price, priced.recommended, priced.assembly.mass, priced.assembly.all_hours]
    for sale in priced.sales.values():
        roots += [sale.contribution_fraction, sale.margin_fraction, sale.breach]
    own = f"{priced.assembly.recipe.key}."
    known = {figure.key: figure for figure in in_order(roots) if figure.key}
    for key in (own + name, name):
        if key in known:
            return known[key]
    short = {key.removeprefix(own) for key in known}
    raise UnknownFigureError(f"no figure is called '{name}': {nearest(name, short)}")


def tree_lines(step: Step) -> Iterator[str]:
    """The explanation as an indented tree, a figure a line: value, formula, and where it stands."""
    return drawn(step, _line, lambda inner: inner.steps)


def drawn(
    node: Tree,
    words: Callable[[Tree], str],
    parts: Callable[[Tree], Sequence[Tree]],
    before: str = "",
    last: bool | None = None,
) -> Iterator[str]:
    """Any tree as lines, each a node in words, under what it is a part of."""
    branch = "" if last is None else "└─ " if last else "├─ "
    yield f"{before}{branch}{words(node)}"
    below = before if last is None else before + ("   " if last else "│  ")
    for index, inner in enumerate(parts(node)):
        yield from drawn(inner, words, parts, below, index == len(parts(node)) - 1)


def _line(step: Step) -> str:
    figure = step.figure
    return f"{figure.label or figure.key}: {amount(figure)}{_told(step)}"


def _told(step: Step) -> str:
    if step.figure.origin is not None:
        return f"  {written_at(step.figure.origin)}"
    if step.again:
        return "  (explained above)"
    return f"  = {step.expression}" if step.expression else ""


def written_at(origin: Origin) -> str:
    """Where a value is written, since when it holds, and its note."""
    since = f", since {origin.effective}" if origin.effective else ""
    note = f" ({origin.note})" if origin.note else ""
    place = "set on the command line" if origin.place.file == COMMAND_LINE else origin.place
    return f"[{place}{since}]{note}"


def amount(figure: Figure) -> str:
    """A value with its unit, to nine significant digits at most."""
    if figure.form == "percent":
        return f"{figure.value * 100:.6g} %"
    return f"{figure.value:.9g} {figure.unit}".rstrip()


def as_data(step: Step) -> dict[str, Any]:
    """The explanation as plain data for JSON."""
    figure, origin = step.figure, step.figure.origin
    data: dict[str, Any] = {
        "figure": figure.key,
        "label": figure.label,
        "value": figure.value,
        "unit": str(figure.unit),
    }
    if figure.args:
        data["formula"] = expression(figure)
    if origin is not None:
        data["written"] = origin.text
        data["file"], data["line"] = origin.place.file, origin.place.line
        data |= {k: v for k, v in (("since", origin.effective), ("note", origin.note)) if v}
    if step.steps:
        data["from"] = [as_data(inner) for inner in step.steps]
    return data
