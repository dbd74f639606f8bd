"""Figures as internal pages show them: exact decimals, units in words, what tells parts apart."""

from __future__ import annotations

from decimal import Decimal

from quoter.catalogue.materials import said
from quoter.figures import Figure

RAISED = str.maketrans({"2": "\N{SUPERSCRIPT TWO}", "3": "\N{SUPERSCRIPT THREE}"})


Number = Figure | float | Decimal


def decimal(number: Number) -> Decimal:
    """The value with every digit it has."""
    if isinstance(number, Decimal):
        return number
    return Decimal(repr(number.value if isinstance(number, Figure) else number))


def maybe(figure: Figure | None) -> Decimal | None:
    """The same of what may be missing."""
    return None if figure is None else decimal(figure)


def unit_words(figure: Figure) -> str:
    """A figure's unit as people write it, a piece being `each`."""
    return said(figure.unit).translate(RAISED)


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
