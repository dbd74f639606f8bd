"""The traced number: a value that remembers the unit, label, place and expression it came from.

`figure` is the number itself, `ops` what can be done with it, `exact` the two doors by which it
leaves, `graph` re-evaluates and differentiates finished results, `trail` explains one.
"""

from __future__ import annotations

from quoter.figures.exact import money_in, plain_number
from quoter.figures.figure import Bounds, Figure, N, Origin, constant, entered, stated
from quoter.figures.ops import (
    at_least,
    at_most,
    dot,
    ln,
    power_sum,
    round_down,
    round_to,
    round_up,
    total,
    where,
)

__all__ = [
    "Bounds",
    "Figure",
    "N",
    "Origin",
    "at_least",
    "at_most",
    "constant",
    "dot",
    "entered",
    "ln",
    "money_in",
    "plain_number",
    "power_sum",
    "round_down",
    "round_to",
    "round_up",
    "stated",
    "total",
    "where",
]
