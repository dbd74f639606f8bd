"""The printed page: A4 on its side, the sheet made to fit its width. Lengths in points."""

from __future__ import annotations

from collections.abc import Sequence

INCH = 72.0
MARGIN_SIDE = 0.45 * INCH
MARGIN_TOP = 0.5 * INCH
MARGIN_BOTTOM = 0.65 * INCH
FOOTER_FROM_EDGE = 0.3 * INCH
A4_LONG, A4_SHORT = 841.9, 595.3
_PIXELS_OF_A_DIGIT, _PIXELS_OF_A_COLUMN, _PIXEL = 7, 5, 0.75
# Applications differ by a few points in where they end a page.
_SAFETY = 0.95


def column_points(width: float) -> float:
    """Width on screen and paper of a column so many digits wide."""
    return int(width * _PIXELS_OF_A_DIGIT + _PIXELS_OF_A_COLUMN) * _PIXEL


def page_height(widths: Sequence[float]) -> float:
    """Points of rows that fit on a page once the columns are shrunk to its width."""
    total = sum(column_points(width) for width in widths)
    shrink = min(1.0, (A4_LONG - 2 * MARGIN_SIDE) / total)
    return (A4_SHORT - MARGIN_TOP - MARGIN_BOTTOM) / shrink * _SAFETY


def left_on_page(heights: Sequence[float], repeated: float, page: float) -> float:
    """Points left on the last page under these rows; later pages begin with repeated ones."""
    used = 0.0
    for height in heights:
        if used + height > page:
            used = repeated
        used += height
    return page - used
