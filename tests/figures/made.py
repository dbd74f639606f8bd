"""Figures for tests, without a catalogue behind them."""

from __future__ import annotations

from quoter.figures import Figure, Origin, entered
from quoter.problems import Place
from quoter.units import quantity


def an_input(text: str, key: str = "x", label: str = "") -> Figure:
    """The working figure of a quantity, as if written on line 7 of a file."""
    return entered(quantity(text), key, label or key, Origin(Place("parts.yaml", 7, 3), text))


def written(figure: Figure) -> Figure:
    """The input behind a working figure: what a person may replace."""
    while figure.op != "input":
        figure = figure.args[0]
    return figure
