"""An amount of a shop paper with its unit: the one place that chooses what it is shown in."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from quoter.figures import Figure, constant, plain_number
from quoter.figures.graph import input_behind
from quoter.figures.readers import Reader, converted
from quoter.numerals import FINEST, spelt
from quoter.pages.figured import unit_words
from quoter.pages.paper_views import Beside
from quoter.pages.picture_views import Amount
from quoter.units import NONE
from quoter.units import unit as parse

# Decimals of what is worked out or told in another unit; what was written keeps its own.
DIGITS = {
    **{"kg": 3, "g": 1, "mL": 0, "mm": 0, "m2": 2, "m": 2, "L": 1, "kN": 1, "kPa": 1, "t/m2": 1},
    **{"lb": 3, "oz": 2, "floz": 2, "in": 2, "ft2": 2, "ft": 2, "gal": 2, "lbf": 0, "psi": 1},
    **{"inHg": 1, "lb/ft2": 0, "mil": 1},
}
OTHERS = 2
FINE = {"mL": Decimal(20), "oz": Decimal(1), "floz": Decimal(1)}  # below it, a decimal more counts
THINNEST = Decimal("0.04")  # inches; what is thinner, as a wet film is, is read in mils
_PLAIN = re.compile(
    r"[+-]?[\d.]+(?: [^\d\s][^\d'\"]*\d?)?\Z"
)  # neither a fraction nor feet and inches
_DECIMALS = re.compile(r"[+-]?\d*(?:\.(\d+))?")


def amount(reader: Reader, figure: Figure, asked: str, finer: int = 0) -> Amount:
    """A figure in a unit that people read, with as many decimals as tell on the floor.

    Args:
        reader: whose units it is told in
        figure: an amount of any kind but money
        asked: the metric unit that it is usual in, such as ``g``
        finer: how many more decimals it takes than others in its unit
    """
    shown = replace(figure.shown_in(asked), form=figure.form)
    told, other = reader.shown(shown), reader.besides(shown)
    return _worked_out(told, None if other is None else _worked_out(other, None, finer), finer)


class Row(NamedTuple):
    """Amounts of one kind under one unit, which their column says; `pieces` are counted."""

    values: tuple[Decimal, ...]
    unit: str
    digits: int
    pieces: bool
    beside: Beside | None


def row_of(reader: Reader, *amounts: Figure) -> Row:
    """Amounts in the reader's unit for what they are of, however one of them was written.

    Args:
        reader: whose unit it is
        amounts: in the same unit; the first says how many decimals pieces have
    """
    plain = [constant(each.value, str(each.unit)) for each in amounts]
    told = [reader.shown(each) for each in plain]
    other = reader.besides(constant(1.0, str(plain[0].unit)))
    beside = None
    if other is not None:
        ratio = other.value / reader.shown(constant(1.0, str(plain[0].unit))).value
        digits = DIGITS.get(str(other.unit), OTHERS)
        beside = Beside(Decimal(repr(ratio)), unit_words(other), digits)
    whole = told[0].value == round(told[0].value)
    return Row(
        values=tuple(map(plain_number, told)),
        unit=unit_words(told[0]),
        digits=DIGITS.get(str(told[0].unit), 0 if whole else OTHERS),
        pieces=told[0].unit == NONE,
        beside=beside,
    )


def as_written(reader: Reader, figure: Figure, form: str = "") -> Amount:
    """A value of the catalogue in the unit and with the decimals that it was written with; in the
    reader's where those are others.

    Args:
        reader: whose units it is told in
        figure: a value, or what was made of one by exchanging its unit
        form: `SUCTION` for what a vacuum gauge shows
    """
    found = input_behind(figure)
    found = replace(found, form=form) if form else found
    text = "" if found.origin is None else found.origin.text
    if found.form == "percent":
        return Amount(plain_number(found).scaleb(2), "%", decimals_in(text))
    told, other = reader.shown(found), reader.besides(found)
    beside = None if other is None else _worked_out(other)
    if told is not found:
        return _worked_out(told, beside)
    number, parted = plain_number(found), not _PLAIN.match(text)
    tape = spelt(Fraction(str(number)).limit_denominator(FINEST)) if parted else ""
    return Amount(number, _unit(found), decimals_in(text), beside, tape)


def _worked_out(told: Figure, beside: Amount | None = None, finer: int = 0) -> Amount:
    value, unit = plain_number(told), str(told.unit)
    if unit == "in" and 0 < value < THINNEST:
        return _worked_out(converted(told, parse("mil")), beside, finer)
    digits = DIGITS.get(unit, OTHERS) + (unit in FINE and value < FINE[unit]) + finer
    return Amount(value, _unit(told), digits, beside)


def _unit(told: Figure) -> str:
    return "" if told.unit == NONE else unit_words(told)


def percent_digits(fraction: Figure) -> int:
    """How many decimals a percentage was written with; at least those that its value has.

    What was worked out, or given as a bare fraction, has those of its value alone.
    """
    value = plain_number(fraction).scaleb(2).normalize()
    own = max(0, -int(value.as_tuple().exponent))
    found = input_behind(fraction)
    written = found.origin.text if found.form == "percent" and found.origin is not None else ""
    return max(own, decimals_in(written))


def decimals_in(text: str) -> int:
    """How many decimals the number has that a text begins with.

    >>> decimals_in("1.25 %"), decimals_in("85 kPa")
    (2, 0)
    """
    found = _DECIMALS.match(text)
    return len(found[1] or "") if found else 0
