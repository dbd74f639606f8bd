"""Figures as internal pages show them: their digits, units in words, how parts differ."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from quoter.catalogue.materials import said
from quoter.figures import Figure, money_in, plain_number

RAISED = str.maketrans({"2": "\N{SUPERSCRIPT TWO}", "3": "\N{SUPERSCRIPT THREE}"})

Number = Figure | float | Decimal


def decimal(number: Number) -> Decimal:
    """A number with every digit it has, whatever its unit: it is shown beside it."""
    if isinstance(number, Figure):
        money = number.unit.currencies
        return money_in(number, str(number.unit)) if money else plain_number(number)
    return number if isinstance(number, Decimal) else Decimal(repr(number))


def unit_words(figure: Figure) -> str:
    """A figure's unit as people write it, a piece being `each`."""
    return said(figure.unit).replace("floz", "fl oz").translate(RAISED)


def alike(figure: Figure, number: Number) -> Figure:
    """Another number of what a figure is, such as the least that an input may be."""
    return replace(
        figure, value=float(number.value if isinstance(number, Figure) else number), origin=None
    )


def digits_of(figure: Figure) -> int:
    """Decimals for a number of any size: none for a whole one, more for a small one."""
    size = abs(figure.value)
    return 0 if size == round(size) else 2 if size >= 1 else 4


def written(figure: Figure) -> str:
    """An input as the catalogue has it, or its number and unit."""
    text = figure.origin.text if figure.origin is not None else ""
    return text or f"{figure.value:g} {figure.unit}".rstrip()


def place_of(figure: Figure) -> str:
    """Where the catalogue has an input; nothing where it does not."""
    return "" if figure.origin is None else str(figure.origin.place)


def variant_of(key: str) -> str:
    """What tells a part's shapes and colours apart, in words; nothing where it has but one.

    >>> variant_of("part.deck_flange__side_step__2"), variant_of("part.seat_base")
    ('side step 2', '')
    """
    return key.partition("__")[2].replace("_", " ").replace("  ", " ")
