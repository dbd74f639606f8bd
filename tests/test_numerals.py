"""Feet and inches, fractions and what else stands for a number: read exactly, or refused."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from quoter.guide.topics import HERE
from quoter.numerals import FINEST, decimal_text, spelt
from quoter.units import UnitError, quantity, unit


# A foot has 12 inches and a pound 16 ounces: NIST Handbook 44, Appendix C.
@pytest.mark.parametrize(
    ("text", "number", "written"),
    [
        ("18 ft 4 in", 220.0, "in"),
        ("18' 4\"", 220.0, "in"),
        ("18'-4\"", 220.0, "in"),
        ("18'4\"", 220.0, "in"),
        ("18\u2032 4\u2033", 220.0, "in"),
        ("18\u2019 4\u201d", 220.0, "in"),
        ("18 ft 4 1/2 in", 220.5, "in"),
        ("18'-4-1/2\"", 220.5, "in"),
        ("18 ft 4.5 in", 220.5, "in"),
        ("0 ft 11 63/64 in", 11.984375, "in"),
        ("-18 ft 4 in", -220.0, "in"),
        ("+5' 0\"", 60.0, "in"),
        ("5'", 5.0, "ft"),
        ("26 '", 26.0, "ft"),
        ('24 "', 24.0, "in"),
        ("5''", 5.0, "in"),  # two single marks
        ("1 1/8 in", 1.125, "in"),
        ("1-1/8 in", 1.125, "in"),
        ("1\u215b in", 1.125, "in"),
        ('3/4"', 0.75, "in"),
        ("\u00be in", 0.75, "in"),
        ("-1 1/2 in", -1.5, "in"),
        ("5 1/2 ft", 5.5, "ft"),
        ("1 1/2 oz/ft2", 1.5, "oz/ft2"),
        ("1/3 gal", 1 / 3, "gal"),
        ("5 lb 4 oz", 84.0, "oz"),
        ("1 h 30 min", 90.0, "min"),
        ("4 fl oz", 4.0, "floz"),
        ("4 fl. oz", 4.0, "floz"),
        ("12.50 USD/fl oz", 12.5, "USD/floz"),
        ("12.50 USD/100", 12.5, "USD/hundred"),
        ("12.50 USD/100 each", 12.5, "USD/hundred"),
        ("12.50 USD/1000 pcs", 12.5, "USD/thousand"),
        ("38 USD/100 m", 38.0, "USD/hundred/m"),
    ],
)
def test_feet_inches_and_fractions_are_read_as_written(
    text: str, number: float, written: str
) -> None:
    found = quantity(text)
    assert (found.number, found.unit) == (number, unit(written))


def test_a_percentage_may_have_a_fraction() -> None:
    assert (quantity("1 1/4 %").number, quantity("1 1/4 %").percent) == (0.0125, True)


# The same lengths by pint, in metres: feet and inches, and each fraction of a tape measure.
@pytest.mark.parametrize(("feet", "inches"), [(18, 4), (0, 11), (5, 0), (31, 7)])
def test_feet_and_inches_are_those_of_pint(feet: int, inches: int) -> None:
    pint: UnitRegistry[Decimal] = UnitRegistry(non_int_type=Decimal)
    length = pint.Quantity(Decimal(feet), "ft") + pint.Quantity(Decimal(inches), "inch")
    found = quantity(f"{feet} ft {inches} in")
    ours = Decimal(found.number) * found.factor
    assert abs(ours / length.to("m").magnitude - 1) < Decimal("1e-25")


EVERY_64TH = [Fraction(top, 64) for top in range(1, 64)]


@pytest.mark.parametrize("fraction", EVERY_64TH, ids=str)
def test_every_fraction_of_a_tape_measure_is_exact(fraction: Fraction) -> None:
    for text in (
        f"7 {fraction} in",
        f"7-{fraction} in",
        f'7 {fraction}"',
        f"7 {spelt(fraction)} in",
    ):
        assert Fraction(quantity(text).number) == 7 + fraction


SOME = st.fractions(min_value=0, max_value=400, max_denominator=64)


@given(st.integers(0, 400), SOME, st.sampled_from(["", "-"]), st.sampled_from(["ft in", "lb oz"]))
def test_what_a_refusal_tells_to_write_is_read(
    whole: int, part: Fraction, sign: str, names: str
) -> None:
    great, small = names.split()
    ratio = {"in": 12, "oz": 16}[small]
    text = f"{sign}{whole} {great} {spelt(part)} {small}"
    meant = (-1 if sign else 1) * float(whole * ratio + part)
    try:
        assert quantity(text).number == pytest.approx(meant, abs=1e-9)
    except UnitError as refused:
        assert part >= ratio
        told = re.findall(r"'([^']+)'", refused.hint)
        assert len(told) == 2
        for each in told:
            assert quantity(each).number == pytest.approx(meant, abs=1e-9)


@given(st.fractions(min_value=-400, max_value=400, max_denominator=FINEST))
def test_a_number_that_is_spelt_reads_back(number: Fraction) -> None:
    sign = "-" if number < 0 else ""
    assert quantity(f"{sign}{spelt(abs(number))} in").number == pytest.approx(
        float(number), abs=1e-9
    )
    assert quantity(f"{decimal_text(number)} in").number == pytest.approx(float(number), abs=1e-9)


def rows_of_the_guide(head: str) -> list[list[list[str]]]:
    """The quoted words of each cell of a table of the guide that begins with a head."""
    page = (HERE / "units.md").read_text(encoding="utf-8")
    table = page.partition(f"| {head} |")[2].partition("\n\n")[0].splitlines()[2:]
    return [[re.findall(r"`([^`]+)`", cell) for cell in row.strip("|").split("|")] for row in table]


def test_what_the_guide_shows_as_read_is_read() -> None:
    rows = rows_of_the_guide("written")
    assert len(rows) == 6
    for ways, (worked,) in rows:
        expected = float(worked.rpartition(" = ")[2].split()[0])
        assert [quantity(way).number for way in ways] == [expected] * len(ways)


def test_what_the_guide_shows_as_refused_is_refused_and_what_is_right_is_read() -> None:
    rows = rows_of_the_guide("refused")
    assert len(rows) == 6
    for (refused,), _, right in rows:
        with pytest.raises(UnitError):
            quantity(refused)
        for each in right:
            quantity(each)
