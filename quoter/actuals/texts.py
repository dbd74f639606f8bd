"""How a proposed value is written: in the unit of the present one, to digits that the data support,
with its range."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from quoter.analysis.ranges import bounds_of
from quoter.catalogue.prices import Catalogue
from quoter.figures import Figure
from quoter.units import UnitError, quantity

LEAST_DIGITS = 2  # of a value that the data hardly tell, so that it isn't rounded away
MOST_DIGITS = 4  # ... and of one that they tell exactly
_NUMBER = re.compile(r"\d+(?:\.\d+)?|\.\d+")
# What may follow a value: its range, then its note.
_AFTER = r"(?:\s*\[[^\[\]]*\])?(?:\s*\([^()]*\))?"


@dataclass(frozen=True, slots=True)
class Worded:
    """A value as it would be written, its number there, and how it was written until now.

    `scale` is 100 where it is written in per cent; numbers of figures times it are those written.
    """

    text: str
    number: float
    unit: str
    scale: float
    step: float


def unit_of(figure: Figure) -> str:
    """The unit that an input is written in; `%` for a percentage, nothing for a bare number."""
    written = figure.origin.text if figure.origin is not None else ""
    if written.endswith("%"):
        return "%"
    try:
        return str(quantity(written).unit)
    except UnitError:
        return str(figure.unit)


def present_text(catalogue: Catalogue, figure: Figure) -> str:
    """An input as it stands in its file, with its range and note."""
    origin = figure.origin
    if origin is None:
        return ""
    line = catalogue.excerpt(origin.place)
    found = re.match(re.escape(origin.text) + _AFTER, line[origin.place.column - 1 :].lstrip("'\""))
    return found[0] if found else origin.text


def worded(figure: Figure, likely: float, low: float, high: float, reach: float) -> Worded:
    """A value with its range, in words that the catalogue reads.

    Args:
        figure: the input as it is, which says the unit
        likely: the new value; like the others a number as the figure has it
        low: the least that the range holds
        high: the most
        reach: half the width of the interval that tells it: its first digit is the last written
    """
    unit = unit_of(figure)
    scale = 100.0 if unit == "%" else 1.0
    step = step_for(likely * scale, reach * scale)
    told = _rounded(likely * scale, step)
    ends = [_rounded(end * scale, step) for end in (low, high)]
    ends = [each if _may_be(figure, each / scale) else told for each in ends]
    ends = [min(ends[0], told), max(ends[1], told)]
    text = f"{_plain(told, step)}{_as_written(figure, unit)}"
    if ends[0] < ends[1]:
        text += f" [{_plain(ends[0], step)} to {_plain(ends[1], step)}]"
    return Worded(text, told, unit, scale, step)


def _may_be(figure: Figure, value: float) -> bool:
    """Whether a value may be written for an input, by the limits of its key."""
    least, most, above, below = bounds_of(figure)
    enough = least is None or value > least or (value == least and not above)
    return enough and (most is None or value < most or (value == most and not below))


def step_for(value: float, reach: float) -> float:
    """The step that a value is rounded to: a unit of the first digit of half its interval.

    Source: one digit of the uncertainty, as JCGM 100:2008, 7.2.6 allows one or two.

    >>> step_for(41.27, 3.2), step_for(41.27, 0.31), step_for(0.873, 0.9), step_for(12.0, 0.0)
    (1.0, 0.1, 0.01, 0.01)
    """
    if not value:
        return 10.0 ** math.floor(math.log10(reach)) if reach else 1.0
    size = math.floor(math.log10(abs(value)))
    place = math.floor(math.log10(reach) + 1e-9) if reach > 0 else size - MOST_DIGITS
    return 10.0 ** min(max(place, size - MOST_DIGITS + 1), size - LEAST_DIGITS + 1)


def _rounded(value: float, step: float) -> float:
    places = max(0, -round(math.log10(step)))
    exact = Decimal(repr(value)) / Decimal(repr(step))
    return round(float(exact.quantize(Decimal(1), ROUND_HALF_EVEN)) * step, places)


def _plain(value: float, step: float) -> str:
    """A number without an exponent, with the digits of its step.

    >>> _plain(41.30, 0.1), _plain(120.0, 10.0)
    ('41.3', '120')
    """
    return f"{value:.{max(0, -round(math.log10(step)))}f}"


def _as_written(figure: Figure, unit: str) -> str:
    """What stood after the number; the unit's symbol where the number was no plain one."""
    written = figure.origin.text if figure.origin is not None else ""
    found = _NUMBER.match(written)
    if found is not None:
        try:
            plain = quantity(f"1{written[found.end() :]}")
            if str(plain.unit) == str(quantity(written).unit):
                return written[found.end() :]
        except UnitError:
            pass
    return f" {unit}" if unit else ""
