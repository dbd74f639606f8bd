"""A range after a quantity: between which values it may lie, as ``4.10 EUR/kg [3.80 to 4.60]``."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Literal

from quoter.catalogue.faults import fault
from quoter.figures import Origin
from quoter.problems import quoted
from quoter.units import Quantity, UnitError, quantity

_LENGTH = r"(?:[\d ./-]+?(?: ft|')[ -]?)?[\d ./-]+?(?: in|\")|[\d ./-]+?(?: ft|')"
_END = rf"\S+?|\d+[ -]\d+/\d+|{_LENGTH}"
_SPREAD = re.compile(
    r"(?P<text>[^\[\]]*+)"
    rf"(?P<range>\[(?P<low>{_END}) to (?P<high>{_END})(?P<shape> triangular)?\])\s*\Z"
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
    low, high = (_end(spread[end], found, told) for end in ("low", "high"))
    if not low <= found.number <= high or low == high:
        what = f"{told} does not hold {quoted(origin.text)}"
        raise fault(
            "bad-range", what, "write the low end first, and the likely value between the two"
        )
    shape: Literal["three-point", "triangular"] = "triangular" if spread["shape"] else "three-point"
    return replace(origin, low=low, high=high, spread=shape)


def _end(words: str, found: Quantity, told: str) -> float:
    """An end of a range, in the unit of the likely value, which need not be written again."""
    for text in (f"{words} {'%' if found.percent else found.unit}".rstrip(), words):
        try:
            end = quantity(text)
        except UnitError:
            continue
        if (end.base, end.percent) == (found.base, found.percent):
            same = end.unit == found.unit
            return end.number if same else end.number * float(end.factor / found.factor)
    raise fault("bad-range", f"{told} is no range", "write two numbers, '[3.80 to 4.60]'")
