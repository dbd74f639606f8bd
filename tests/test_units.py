"""Units at the door: exact factors, what can be written, and what is refused with which words."""

from __future__ import annotations

from decimal import Decimal

import pytest
from pint import UnitRegistry

from quoter.units import CONVERTED, NEWTON, NONE, Unit, UnitError, quantity, to_base, unit

# NIST Handbook 44, Appendix C, General Tables of Units of Measurement: the inch, the foot, the
# pound, the gallon and what is made of them are exact by definition.
EXACT = [
    ("lb", "kg", "0.45359237"),
    ("oz", "kg", "0.028349523125"),
    ("in", "m", "0.0254"),
    ("ft", "m", "0.3048"),
    ("yd", "m", "0.9144"),
    ("mil", "m", "0.0000254"),
    ("gal", "m3", "0.003785411784"),
    ("qt", "m3", "0.000946352946"),
    ("pt", "m3", "0.000473176473"),
    ("floz", "m3", "0.0000295735295625"),
    ("cwt", "kg", "45.359237"),
    ("lbf", "Pa m2", "4.4482216152605"),
    # The metric ones, exact by definition (SI Brochure, 9th edition, tables 7 and 8).
    ("g", "kg", "0.001"),
    ("t", "kg", "1000"),
    ("um", "m", "0.000001"),
    ("mm", "m", "0.001"),
    ("cm", "m", "0.01"),
    ("mL", "m3", "0.000001"),
    ("L", "m3", "0.001"),
    ("kg/L", "kg/m3", "1000"),
    ("g/m2", "kg/m2", "0.001"),
    ("kN", "Pa m2", "1000"),
    ("kPa", "Pa", "1000"),
    ("bar", "Pa", "100000"),
]
# The same definitions, quotients printed to ten places; psi as printed in Handbook 44.
ROUNDED = [
    ("oz/yd2", "g/m2", "33.9057474749"),
    ("oz/ft2", "g/m2", "305.1517272739"),
    ("lb/ft3", "kg/m3", "16.0184633740"),
    ("lb/gal", "kg/m3", "119.8264273169"),
    ("psi", "Pa", "6894.757293"),
    ("inHg", "Pa", "3386.389"),  # conventional, NIST Special Publication 811, B.8: 3.386 389 E+03
]


@pytest.mark.parametrize(("written", "base", "factor"), EXACT)
def test_a_factor_is_exact_by_definition(written: str, base: str, factor: str) -> None:
    assert to_base(unit(written)) == (unit(base), Decimal(factor))


@pytest.mark.parametrize(("written", "other", "printed"), ROUNDED)
def test_a_factor_agrees_with_the_printed_one(written: str, other: str, printed: str) -> None:
    (base, factor), (same, size) = to_base(unit(written)), to_base(unit(other))
    assert base == same
    assert round(factor / size, len(printed.partition(".")[2])) == Decimal(printed)


# What pint calls a symbol, where that is another name.
OF_PINT = {
    "gal": "US_liquid_gallon",
    "qt": "US_liquid_quart",
    "pt": "US_pint",
    "floz": "US_fluid_ounce",
    "cwt": "US_hundredweight",
    "mil": "thou",
    "inHg": "inch_Hg",
    "t": "tonne",
    "um": "um",
}
_BASES = {"kg": "kg", "m": "m", "h": "hour", "m3": "m**3", "Pa": "Pa", "N": "N"}


@pytest.mark.parametrize("symbol", sorted(CONVERTED))
def test_a_factor_is_that_of_pint(symbol: str) -> None:
    base, factor = to_base(unit(symbol))
    one = UnitRegistry(non_int_type=Decimal).Quantity(Decimal(1), OF_PINT.get(symbol, symbol))
    assert abs(one.to(_BASES[str(base)]).magnitude / factor - 1) < Decimal("1e-25")


def test_a_minute_and_a_second_are_parts_of_an_hour() -> None:
    # Exact by definition (SI Brochure, table 8); a sixtieth has no finite decimal.
    base, factor = to_base(unit("min"))
    assert (base, round(factor * 60, 20)) == (unit("h"), Decimal(1))
    base, factor = to_base(unit("s"))
    assert (base, round(factor * 3600, 20)) == (unit("h"), Decimal(1))


# Mat is named by oz/ft2, woven roving by oz/yd2 (common practice, no source for the naming); the
# masses follow from the exact factors above.
@pytest.mark.parametrize(
    ("named", "grams_per_square_metre"), [("1.5 oz/ft2", 457.7), ("24 oz/yd2", 813.7)]
)
def test_a_cloth_named_in_ounces_has_its_metric_mass(
    named: str, grams_per_square_metre: float
) -> None:
    found = quantity(named)
    assert round(found.number * float(found.factor) * 1000, 1) == grams_per_square_metre


def test_one_standard_atmosphere_in_three_units() -> None:
    # 101325 Pa by definition; 14.69595 psi and 29.9213 inHg (NIST Special Publication 811, B.8).
    for text in ("101.325 kPa", "14.69595 psi", "29.9213 inHg"):
        found = quantity(text)
        assert found.base == unit("Pa")
        assert found.number * float(found.factor) == pytest.approx(101325, rel=5e-6)


@pytest.mark.parametrize(
    ("text", "number", "written"),
    [
        ("450 g/m2", 450.0, "g/m2"),
        ("450 g/m²", 450.0, "g/m2"),
        ("-0.5 kg", -0.5, "kg"),
        (".5 kg", 0.5, "kg"),
        ("5. kg", 5.0, "kg"),
        ("  5   kg ", 5.0, "kg"),
        ("5\u00a0kg", 5.0, "kg"),  # as a word processor writes it
        ("010 kg", 10.0, "kg"),  # never octal
        ("3 kg m-3", 3.0, "kg/m3"),
        ("3 1/m", 3.0, "1/m"),
        ("4.10 EUR/kg", 4.1, "EUR/kg"),
        ("2 each/m2", 2.0, "each/m2"),
        ("7", 7.0, ""),
    ],
)
def test_a_quantity_is_read_as_written(text: str, number: float, written: str) -> None:
    found = quantity(text)
    assert (found.number, found.unit, found.percent) == (number, unit(written), False)


def test_a_percentage_is_a_fraction() -> None:
    found = quantity("12.5 %")
    assert (found.number, found.unit, found.percent) == (0.125, NONE, True)


def test_what_is_counted_is_a_plain_number_and_a_drum_is_a_pack() -> None:
    assert to_base(unit("pulls")) == to_base(unit("each")) == (NONE, Decimal(1))
    assert to_base(unit("drum")) == to_base(unit("box")) == (unit("pack"), Decimal(1))


def test_what_is_counted_by_number_is_that_many_and_a_carton_is_a_pack() -> None:
    assert to_base(unit("pair")) == (NONE, Decimal(2))
    assert to_base(unit("dozen")) == (NONE, Decimal(12))
    assert to_base(unit("hundred")) == to_base(unit("100")) == (NONE, Decimal(100))
    assert to_base(unit("thousand")) == to_base(unit("1000")) == (NONE, Decimal(1000))
    assert to_base(unit("cartridge")) == to_base(unit("carton")) == (unit("pack"), Decimal(1))


GENERAL = (
    "write for example kg, g/m2, oz/ft2, m, mm, ft, min, h, kg/m3, EUR/kg, USD/gal, kPa, each or %"
)
NUMBER = "write digits, with a point for decimals and no separators"
REFUSED = [
    ("450g/m2", "'450g/m2' has no space before its unit", "write '450 g/m2'"),
    ("5%", "'5%' has no space before its unit", "write '5 %'"),
    ("1,25 m", "'1,25 m' has a comma for its decimals", "write a point: '1.25 m'"),
    (
        "48,000 EUR",
        "'48,000 EUR' has a comma in its number",
        "write '48000 EUR', or a point if a decimal is meant",
    ),
    (
        "48 000 EUR",
        "'48 000 EUR' has a space within its number",
        "write '48000 EUR' if thousands are meant",
    ),
    ("1e3", "'1e3' has an exponent", "write it out: '1000'"),
    ("2.5E-2 m", "'2.5E-2 m' has an exponent", "write it out: '0.025 m'"),
    ("1e99 m", "'1e99 m' does not begin with a number", NUMBER),
    (
        "5' 14\"",
        "'5' 14\"' has 14 inches beside its feet",
        "a foot has 12: write '6 ft 2 in' or '74 in', whichever is meant",
    ),
    (
        "2 h 90 min",
        "'2 h 90 min' has 90 minutes beside its hours",
        "an hour has 60: write '3 h 30 min' or '210 min', whichever is meant",
    ),
    ("5' 4", "'5' 4' has no unit at its end", "write '5 ft 4 in' if inches are meant"),
    ("5.5 ft 4 in", "'5.5 ft 4 in' has a part of a foot and inches besides", "write '70 in'"),
    (
        "18 ft -4 in",
        "'18 ft -4 in' has a sign within its number",
        "one sign may stand before all of it, and a hyphen right before a fraction",
    ),
    (
        '3" x 4"',
        "'3\" x 4\"' has marks that give no length",
        "write feet and inches, such as '18 ft 4 in', '18' 4 1/2\"' or '3/4\"'",
    ),
    (
        "1 1/8",
        "'1 1/8' is a fraction without a unit",
        "write '1.125', or its unit: '1 1/8 in'",
    ),
    (
        "1/8/2 in",
        "'1/8/2 in' has more than one stroke in its fraction",
        "write one number over one other, such as '1/8 in'",
    ),
    ("3/2 in", "'3/2 in' has no fraction that people write", "write '1 1/2 in'"),
    (
        "1/0 in",
        "'1/0 in' has no fraction that people write",
        "write a smaller number over a larger one, up to 1000, such as '1 1/8 in'",
    ),
    (
        "1.5 1/2 in",
        "'1.5 1/2 in' has decimals and a fraction",
        "write whole numbers with a fraction, or decimals alone",
    ),
    ("3/4in", "'3/4in' has no space before its unit", "write '3/4 in'"),
    (
        "4 1/2 USD/lb",
        "'4 1/2 USD/lb' has a fraction of money",
        "write decimals: '4.5 USD/lb'",
    ),
    (
        "2 tons",
        "'2 tons' has an unknown unit 'tons'",
        "write 't' for 1000 kg, or '2000 lb' for a ton of the US",
    ),
    (
        "5 imp gal",
        "'5 imp gal' has an unknown unit 'imp'",
        "'gal' is that of the US; a British one is '4.54609 L'",
    ),
    (
        "3 USD/C",
        "'3 USD/C' has an unknown unit 'C'",
        "write '100' or 'hundred' for a hundred",
    ),
    (
        "3 USD/M",
        "'3 USD/M' has an unknown unit 'M'",
        "write 'm' for a metre, '1000' or 'thousand' for a thousand",
    ),
    ("12:30", "'12:30' does not begin with a number", NUMBER),
    ("no", "'no' does not begin with a number", NUMBER),
    ("", "'' does not begin with a number", NUMBER),
    ("450 gsm", "'450 gsm' has an unknown unit 'gsm'", "did you mean 'g/m2'?"),
    ("3 ML", "'3 ML' has an unknown unit 'ML'", "did you mean 'mL'?"),
    ("3 LBS", "'3 LBS' has an unknown unit 'LBS'", "did you mean 'lb'?"),
    ("3 sqft", "'3 sqft' has an unknown unit 'sqft'", "did you mean 'ft2'?"),
    ("5 €", "'5 €' has an unknown unit '€'", "did you mean 'EUR'?"),
    ("5 stones", "'5 stones' has an unknown unit 'stones'", GENERAL),
    ("5 m0", "'5 m0' has an unknown unit 'm0'", GENERAL),
    ("5 kg//m", "'5 kg//m' has an unknown unit 'kg//m'", GENERAL),
    (
        "9" * 13,
        "'9999999999999' is too large to be meant",
        "check its digits and its unit",
    ),
    (
        "0.0000000000001 kg",
        "'0.0000000000001 kg' is too small to be meant",
        "check its digits and its unit",
    ),
]


@pytest.mark.parametrize(("text", "what", "hint"), REFUSED)
def test_a_refusal_says_what_was_found_and_what_would_be_right(
    text: str, what: str, hint: str
) -> None:
    with pytest.raises(UnitError) as refused:
        quantity(text)
    assert (refused.value.what, refused.value.hint) == (what, hint)


def test_a_lower_case_currency_is_told_to_be_in_capitals() -> None:
    with pytest.raises(UnitError, match=r"^unknown unit 'eur'; a currency is written in capitals"):
        unit("eur")


@pytest.mark.parametrize(
    ("parts", "shown"),
    [
        ("kg/m2", "kg/m2"),
        ("1/m", "1/m"),
        ("EUR/kg", "EUR/kg"),
        ("m kg", "kg m"),
        ("Pa m2", "N"),
        ("", ""),
    ],
)
def test_a_unit_is_shown_as_people_write_it(parts: str, shown: str) -> None:
    assert str(unit(parts)) == shown


def test_units_multiply_divide_and_cancel() -> None:
    assert unit("kg/m2") * unit("m2") == unit("kg")
    assert unit("kg") / unit("kg") == NONE
    assert unit("m") ** 2 == unit("m2")
    assert unit("m") ** 0 == NONE
    assert unit("Pa") * Unit((("m", 2),)) == NEWTON
