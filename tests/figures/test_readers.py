"""What a reader of US units sees is what a reader of metric ones sees, converted by pint."""

from __future__ import annotations

from functools import cache

import pytest
from pint import UnitRegistry

from quoter.figures import Figure, constant
from quoter.figures.graph import in_order
from quoter.figures.readers import (
    METRIC,
    THIN,
    US,
    Reader,
    Retold,
    System,
    is_conversion,
    reader_of,
)
from quoter.units import Unit, to_base, unit
from tests.demo import all_figures, results
from tests.figures.made import an_input, written
from tests.test_units import OF_PINT

REGISTRY: UnitRegistry[float] = UnitRegistry()
UNCHANGED = frozenset(("h", "pack", "min", "s", "each"))


@cache
def told() -> Retold:
    retold = Retold(US, as_written=False)
    retold.tell(results())
    return retold


def in_pint(measured: Unit) -> float:
    """What one of a unit is in kg, m and Pa; what no system owns counts as one."""
    size = 1.0
    for symbol, exponent in measured.parts:
        if symbol in METRIC.own | US.own:
            quantity = REGISTRY.Quantity(1, OF_PINT.get(symbol, symbol)).to_base_units()
            assert isinstance(quantity.magnitude, int | float)
            size *= float(quantity.magnitude) ** exponent
    return size


def test_every_figure_of_the_demonstration_says_the_same_in_us_units() -> None:
    compared = 0
    for figure in all_figures():
        other = told().of(figure)
        if figure.op == "const" and to_base(figure.unit)[0] != figure.unit:
            continue  # a factor of a conversion, which has other units to convert
        mine, theirs = figure.value * in_pint(figure.unit), other.value * in_pint(other.unit)
        assert theirs == pytest.approx(mine, rel=1e-9, abs=1e-12), (figure.key, other.unit)
        compared += bool((figure.unit.parts and mine != theirs) or figure.unit != other.unit)
    assert compared > 1000


def test_no_figure_keeps_a_metric_unit() -> None:
    metric = METRIC.own - US.own
    shown = in_order(told().of(figure) for figure in all_figures())
    kept = {
        (figure.key, str(figure.unit))
        for figure in shown
        if figure.op != "const" and any(symbol in metric for symbol, _ in figure.unit.parts)
    }
    assert kept == set()


def test_what_a_named_figure_is_called_and_where_it_was_written_stay() -> None:
    for figure in all_figures():
        if figure.key:
            other = told().of(figure)
            assert (other.key, other.label, other.by) == (figure.key, figure.label, figure.by)
            if figure.origin is not None:
                assert other.origin is not None
                assert other.origin.place == figure.origin.place


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("450 g/m2", (450, "g/m2")),
        ("1.5 oz/ft2", (1.5, "oz/ft2")),
        ("62 USD/gal", (62, "USD/gal")),
        ("26 ft", (26, "ft")),
    ],
)
def test_those_who_wrote_it_see_it_as_it_is_written(text: str, shown: tuple[float, str]) -> None:
    for system in (METRIC, US):
        seen = Retold(system).of(written(an_input(text)))
        assert (seen.value, str(seen.unit)) == shown


# An avoirdupois ounce is 28.349523125 g and a foot 0.3048 m, so that 1 oz/ft2 is 305.152 g/m2;
# a gallon of the US is 3.785411784 L: NIST Handbook 44, Appendix C.
@pytest.mark.parametrize(
    ("text", "system", "value", "shown"),
    [
        ("450 g/m2", US, 450 * 0.3048**2 / 28.349523125, "oz/ft2"),
        ("1.5 oz/ft2", METRIC, 1.5 * 28.349523125 / 0.3048**2, "g/m2"),
        ("62 USD/gal", METRIC, 62 / 3.785411784, "USD/L"),
        ("3.90 EUR/kg", US, 3.90 * 0.45359237, "EUR/lb"),
        ("9 min/m2", US, 9 * 0.3048**2, "min/ft2"),
        ("25 mm", US, 25 / 25.4, "in"),
        ("80 kPa", US, 80_000 / 6894.757293168361, "psi"),
    ],
)
def test_another_reader_sees_the_like_of_what_was_written(
    text: str, system: System, value: float, shown: str
) -> None:
    seen = Retold(system, as_written=False).of(written(an_input(text)))
    assert seen.value == pytest.approx(value, rel=1e-12)
    assert str(seen.unit) == shown
    assert seen.op == "input"


def test_a_working_formula_is_the_same_one_in_coherent_units() -> None:
    length, width = an_input("2 m", "length"), an_input("500 mm", "width")
    area = (length * width).named("area", "Area")
    other = Retold(US, as_written=False).of(area)
    assert (other.op, str(other.unit)) == ("mul", "ft2")
    assert other.value == pytest.approx(1 / 0.3048**2, rel=1e-12)
    across = other.args[1]
    assert is_conversion(across) or across.op == "ref"
    assert str(written(other.args[1]).unit) == "in"


def test_ounces_of_cloth_get_a_cell_and_the_formulas_their_pounds() -> None:
    areal = (constant(0.9, "kg") / constant(2.0, "m2")).named("areal", "Areal weight")
    mass = (areal * constant(4.0, "m2")).named("mass", "Mass")
    retold = Retold(US)
    shown, whole = retold.of(areal), retold.of(mass)
    assert (str(shown.unit), str(whole.unit)) == ("oz/ft2", "lb")
    assert whole.value == pytest.approx(1.8 / 0.45359237, rel=1e-12)
    assert shown in in_order([whole])


def test_a_thickness_is_read_in_millimetres_or_inches() -> None:
    thick = constant(0.006, "m").named("thick", "Thickness", THIN)
    assert [str(reader.shown(thick).unit) for reader in (Reader(METRIC), Reader(US))] == [
        "mm",
        "in",
    ]
    assert Reader(METRIC).shown(thick).value == pytest.approx(6)


def test_both_are_read_beside_each_other() -> None:
    reader = reader_of("metric and US")
    mass, hours = constant(2.0, "kg"), constant(2.0, "h")
    beside = reader.besides(mass)
    assert beside is not None
    assert beside.value == pytest.approx(2 / 0.45359237, rel=1e-12)
    assert reader.besides(hours) is None
    assert reader_of("US").besides(mass) is None
    assert [reader_of(choice).choice for choice in ("metric", "US", "metric and US")] == [
        "metric", "US", "metric and US"
    ]  # fmt: skip


def test_a_slope_per_unit_goes_with_the_input_it_is_about() -> None:
    """As on the sheet of sensitivities: so much money per gram of cloth, times the grams."""
    cloth = written(an_input("450 g/m2", "cloth"))
    slope = Figure(0.2, unit("EUR") / cloth.unit)
    effect = (slope * cloth).named("effect", "Effect")
    retold = Retold(US, as_written=False)
    assert str(retold.of(slope).unit) == "EUR ft2/oz"
    assert retold.of(effect).value == pytest.approx(90, rel=1e-12)
    assert str(retold.of(effect).unit) == "EUR"
