"""The two doors by which an exact number leaves a figure; whoever takes money names its currency.

A third would let an amount of one currency be read as one of another: there is none, and
`tests/figures/test_exact.py` looks for it.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from quoter.figures.figure import Figure


def money_in(figure: Figure, unit: str) -> Decimal:
    """An amount of money, by the shortest digits that mean it.

    Args:
        figure: in that very unit; `pricing.exchange` brings it there
        unit: a currency, or a currency per something: ``EUR`` or ``EUR/kg``
    Raises:
        TypeError: it is in another, or no money (our fault, not the user's: the door checks).

    >>> from quoter.units import unit
    >>> money_in(Figure(1450.5, unit("EUR")), "EUR")
    Decimal('1450.5')
    """
    if str(figure.unit) != unit or not figure.unit.currencies:
        raise TypeError(f"{_told(figure)} is not in {unit}")
    return Decimal(repr(figure.value))


def plain_number(figure: Figure) -> Decimal:
    """A number that is no money, such as a fraction, a count or metres, in base units.

    Raises:
        TypeError: there is a currency in its unit.

    >>> plain_number(Figure(0.25))
    Decimal('0.25')
    """
    if figure.unit.currencies:
        raise TypeError(f"{_told(figure)} is money: say in which currency it is wanted")
    return Decimal(repr(figure.value))


def _told(figure: Figure) -> str:
    return f"{figure.label or figure.key or figure.op} = {figure.value:g} [{figure.unit}]"


def half_up(amount: Decimal, digits: int) -> Decimal:
    """The amount with `digits` decimals, halves away from zero; never minus zero.

    >>> half_up(Decimal("2.345"), 2), half_up(Decimal("-2.5"), 0), half_up(Decimal("-0.04"), 1)
    (Decimal('2.35'), Decimal('-3'), Decimal('0.0'))
    """
    rounded = amount.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    return rounded.copy_abs() if rounded.is_zero() else rounded
