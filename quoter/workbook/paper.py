"""The printed page: A4 on its side, the sheet made to fit its width. Lengths in points."""

from __future__ import annotations

from collections.abc import Sequence

INCH = 72.0
MARGIN_SIDE = 0.45 * INCH
MARGIN_TOP = 0.5 * INCH
MARGIN_BOTTOM = 0.65 * INCH
FOOTER_FROM_EDGE = 0.3 * INCH
A4_LONG, A4_SHORT = 841.9, 595.3
_PIXELS_OF_A_DIGIT, _PIXEL = 7, 0.75
# Applications differ in how wide a digit is and round how far they shrink, so in where a page ends.
_PERHAPS = (0.98, 1.0, 1.02, 1.04, 1.06, 1.08, 1.1)


def column_points(width: float) -> float:
    """Width on screen and paper of a column so many digits wide."""
    return int(width * _PIXELS_OF_A_DIGIT) * _PIXEL


def page_heights(widths: Sequence[float]) -> list[float]:
    """Points of rows that may fit on a page once the columns are shrunk to its width."""
    total = sum(column_points(width) for width in widths)
    shrink = min(1.0, (A4_LONG - 2 * MARGIN_SIDE) / total)
    whole = (A4_SHORT - MARGIN_TOP - MARGIN_BOTTOM) / shrink
    return [whole * part for part in _PERHAPS]


def blank_before(
    heights: Sequence[float], repeated: float, block: float, pages: Sequence[float]
) -> float:
    """Points to leave empty under these rows so that no page ends within the block below them.

    Holds for every page height that may be. Nothing for a block longer than a page.
    """
    if repeated + block > min(pages):
        return 0.0
    blank = 0.0
    for _ in pages:  # what one page height asks for may not do for another
        left = [_left(heights, repeated, page, blank) for page in pages]
        if not (short := [points for points in left if points < block]):
            break
        blank += max(short) + 0.75
    return blank


def _left(heights: Sequence[float], repeated: float, page: float, blank: float) -> float:
    """Points left on the last page under the rows; later pages begin with repeated ones."""
    used = 0.0
    for height in heights:
        if used + height > page:
            used = repeated
        used += height
    spilled = used + blank - page
    return -spilled if spilled <= 0 else page - repeated - spilled
