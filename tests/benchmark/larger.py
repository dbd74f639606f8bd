"""Blocks of a catalogue made larger: panels, boats, prices; each text keeps unit and remark."""

from __future__ import annotations

import re
from decimal import ROUND_CEILING, Decimal
from typing import Any

_LENGTHS = {"width", "height", "corner_radius", "perimeter", "strip", "length", "beam"}
_AREAS = {"area", "volume", "flange_area", "cavity_area", "gallery_and_catch_pot", "mass"}
_NUMBER = re.compile(r"-?[\d.]+")


def scale(content: Any, factor: Decimal, keys: tuple[str, ...] = ()) -> Any:
    """Make all lengths and areas in a block larger, in place; or the values of these keys alone."""
    if factor == 1:
        return content
    for item in content if isinstance(content, list) else ():
        scale(item, factor)
    for key, value in content.items() if isinstance(content, dict) else ():
        if isinstance(value, dict | list):
            if not keys:
                scale(value, factor)
        elif key in keys or (not keys and key in _LENGTHS | _AREAS):
            power = 1 if key in _LENGTHS else 2
            content[key] = _times(value, factor**power)
    return content


def _times(text: str, factor: Decimal) -> str:
    """The text with its first number multiplied, to five digits."""
    return _NUMBER.sub(lambda found: f"{Decimal(f'{Decimal(found[0]) * factor:.5g}'):f}", text, 1)


def rounded(price: str, factor: Decimal, step: int) -> str:
    """A larger price, rounded up to whole steps of its currency; of kroner a step has ten times."""
    amount, currency = price.split()
    step *= 10 if currency == "NOK" else 1
    larger = (Decimal(amount) * factor**2 / step).to_integral_value(ROUND_CEILING) * step
    return f"{larger} {currency}"


def marked(entry: str, mark: str) -> str:
    """A translated name with what sets it apart from others of the same name."""
    return re.sub(r'^(msg(?:id|str) "[^"]+)"$', rf'\g<1>{mark}"', entry, flags=re.MULTILINE)
