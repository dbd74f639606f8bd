"""Every formula's units by pint: what the docstring takes and gives is what the equation does.

The example of the docstring is computed with quantities in the stated units, then again with each
in another unit of the same dimension; both must give the stated unit and the float's value.
"""

from __future__ import annotations

import math
from typing import Any

import pint
import pytest

from quoter.figures import Figure, N, ln
from quoter.units import to_base, unit
from tests.checks.formulas import FORMULAS, Formula, formula_of
from tests.checks.table import ROUNDING

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
REGISTRY.define("EUR = [money]")
REGISTRY.define("eurocent = EUR / 100")
REGISTRY.define("each = [count]")
REGISTRY.define("dozen = 12 * each")

OTHER = {"kg": "pound", "m": "foot", "h": "minute", "Pa": "psi", "EUR": "eurocent", "each": "dozen"}


def in_stated(number: float, text: str) -> Any:
    """A pint quantity in the unit a docstring states."""
    return REGISTRY.Quantity(number, _pint_unit(text))


def in_another(number: float, text: str) -> Any:
    """The same amount in another unit of the same dimension."""
    return in_stated(number, text).to(_pint_unit(text, OTHER))


def as_figure(number: float, text: str) -> Figure:
    """A Figure in the base symbols of the unit a docstring states, where a count is plain."""
    base, factor = to_base(unit(text))
    assert factor == 1, f"[{text}] is not a base unit"
    return Figure(number, base)


def _pint_unit(text: str, names: dict[str, str] | None = None) -> Any:
    result = REGISTRY.Unit("")
    for symbol, exponent in unit(text).parts:
        result = result * REGISTRY.Unit((names or {}).get(symbol, symbol)) ** exponent
    return result


def fault_of(formula: Formula) -> str:
    """What is wrong with a formula's dimensions; empty when nothing is."""
    expected = formula.function(*formula.example)
    for make in (in_stated, in_another):
        try:
            got = formula.function(*formula.with_units(make))
            value = REGISTRY.Quantity(got).to(_pint_unit(formula.returns)).magnitude
        except pint.DimensionalityError as fault:
            return str(fault)
        if not math.isclose(value, expected, rel_tol=1e-9):
            return f"gives {value:g} in other units, {expected:g} in its own"
    return ""


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_quantities_in_the_stated_units_give_the_stated_unit(formula: Formula) -> None:
    assert fault_of(formula) == ""


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_figures_in_the_stated_units_give_the_stated_unit(formula: Formula) -> None:
    got = formula.function(*formula.with_units(as_figure))
    assert got.unit == to_base(unit(formula.returns))[0]
    assert math.isclose(got.value, formula.function(*formula.example), rel_tol=ROUNDING)


def test_formulas_are_found() -> None:
    names = {formula.name for formula in FORMULAS}
    assert {"laminate.ply_thickness", "learning.unit_lot_average", "tooling.sets_needed"} <= names
    assert not any("._" in name for name in names)


def test_drivers_of_different_units_add_up_to_a_time() -> None:
    run_time = next(f.function for f in FORMULAS if f.name == "labour.run_time")
    rates = [in_stated(0.2, "h/m2"), in_stated(0.1, "h/m"), in_stated(0.05, "h/each")]
    drivers = [in_stated(2.0, "m2"), in_stated(6.0, "m"), in_stated(8.0, "each")]
    assert math.isclose(run_time(in_stated(0.5, "h"), rates, drivers).to("hour").magnitude, 1.9)


def forgets_the_area(area: N, areal_mass: N) -> N:
    """Planted.

    Args:
        area: area [m2]
        areal_mass: mass per area [kg/m2]
    Returns:
        glass mass [kg]

    >>> forgets_the_area(2.0, 3.0)
    3.0
    """
    return 0 * area / area + areal_mass


def adds_mass_to_area(area: N, mass: N) -> N:
    """Planted.

    Args:
        area: area [m2]
        mass: mass [kg]
    Returns:
        mass [kg]

    >>> adds_mass_to_area(2.0, 3.0)
    5.0
    """
    return area + mass


def states_another_unit(glass: N, glass_content: N) -> N:
    """Planted: the result's unit is not the stated one.

    Args:
        glass: glass mass [kg]
        glass_content: glass / laminate [1]
    Returns:
        resin mass [kg/m2]

    >>> states_another_unit(2.0, 0.5)
    2.0
    """
    return glass * (1 - glass_content) / glass_content


def takes_the_logarithm_of_hours(time: N) -> N:
    """Planted.

    Args:
        time: time [h]
    Returns:
        number [1]

    >>> round(takes_the_logarithm_of_hours(2.0), 3)
    0.693
    """
    return ln(time)


def hides_a_limit_in_metres(length: N) -> N:
    """Planted: takes a bare number from the value, so the result depends on the unit.

    Args:
        length: length [m]
    Returns:
        length [m]

    >>> hides_a_limit_in_metres(2.0)
    4.0
    """
    bare = getattr(length, "magnitude", length)
    return length * bare


@pytest.mark.parametrize(
    ("planted", "fault"),
    [
        (forgets_the_area, "kilogram / meter ** 2"),
        (adds_mass_to_area, "Cannot convert from 'meter ** 2'"),
        (states_another_unit, "Cannot convert from 'kilogram'"),
        (takes_the_logarithm_of_hours, "Cannot convert from 'hour'"),
        (hides_a_limit_in_metres, "gives 13.1234 in other units, 4 in its own"),
    ],
)
def test_a_wrong_formula_is_caught(planted: Any, fault: str) -> None:
    assert fault in fault_of(formula_of(planted))
