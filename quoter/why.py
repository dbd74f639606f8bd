"""Find a figure of a model or option by name and tell how it was computed, as text or JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.figures.trail import Step, expression
from quoter.pricing.price import Priced
from quoter.problems import nearest


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


def tree_lines(step: Step, before: str = "", last: bool | None = None) -> Iterator[str]:
    """The explanation as an indented tree, a figure a line: value, formula, and where it stands."""
    figure = step.figure
    branch = "" if last is None else "└─ " if last else "├─ "
    yield f"{before}{branch}{figure.label or figure.key}: {amount(figure)}{_told(step)}"
    below = before if last is None else before + ("   " if last else "│  ")
    for index, inner in enumerate(step.steps):
        yield from tree_lines(inner, below, index == len(step.steps) - 1)


def _told(step: Step) -> str:
    origin = step.figure.origin
    if origin is not None:
        since = f", since {origin.effective}" if origin.effective else ""
        note = f" ({origin.note})" if origin.note else ""
        return f"  [{origin.place}{since}]{note}"
    if step.again:
        return "  (explained above)"
    return f"  = {step.expression}" if step.expression else ""


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
