"""A range after a quantity: between which values it may lie, as ``4.10 EUR/kg [3.80 to 4.60]``."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Literal

from quoter.catalogue.faults import fault
from quoter.figures import Origin
from quoter.problems import quoted
from quoter.units import Quantity, UnitError, quantity

_SPREAD = re.compile(
    r"(?P<text>[^\[\]]*+)"
    r"(?P<range>\[(?P<low>\S+) to (?P<high>\S+?)(?P<shape> triangular)?\])\s*\Z"
)


def spread_in(words: str) -> tuple[str, re.Match[str] | None]:
    """The likely value, and the range that may follow it in brackets."""
    match = _SPREAD.match(words)
    if match is None and "[" in words:
        what = f"{quoted(words)} has brackets that give no range"
        raise fault(
            "bad-range", what, "write '4.10 EUR/kg [3.80 to 4.60]', or '[3.80 to 4.60 triangular]'"
        )
    return (match["text"].rstrip(), match) if match else (words, None)


def ranged(origin: Origin, found: Quantity, spread: re.Match[str]) -> Origin:
    """The origin with its range, in the unit as written; the likely value must lie within."""
    told = quoted(spread["range"])
    try:
        sign = " %" if found.percent else ""
        low, high = (quantity(spread[end] + sign).number for end in ("low", "high"))
    except UnitError:
        raise fault(
            "bad-range", f"{told} is no range", "write two numbers, '[3.80 to 4.60]'"
        ) from None
    if not low <= found.number <= high or low == high:
        what = f"{told} does not hold {quoted(origin.text)}"
        raise fault(
            "bad-range", what, "write the low end first, and the likely value between the two"
        )
    shape: Literal["three-point", "triangular"] = "triangular" if spread["shape"] else "three-point"
    return replace(origin, low=low, high=high, spread=shape)
