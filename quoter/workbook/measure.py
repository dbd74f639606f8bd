"""How much room things take, without a screen to draw on: texts, rows, columns.

Widths of letters are those of the usual sans-serif faces of office documents, in thousandths of
the letter height (from memory; nearest for letters not listed), alike to a few per cent.
"""

from __future__ import annotations

import math
from functools import lru_cache

_DIGIT = 556
_LETTERS = {
    191: "'",
    222: "ijl",
    260: "|",
    278: " !,./:;I[\\]ft",
    333: "()-`r{}¹²³⁴⁵⁶⁷⁸⁹⁰",
    355: '"',
    389: "*",
    469: "^",
    500: "cksvxyzJ",
    584: "+<=>~×÷±≤≥",
    611: "FTZ",
    667: "&ABEKPSVXY",
    722: "CDHNRUw",
    778: "GOQ",
    833: "Mm",
    889: "%",
    944: "W",
    1000: "—…→▲",
    1015: "@",
}


class _Widths(dict[str, int]):
    """Width of each letter; those not listed count like a digit."""

    def __missing__(self, letter: str) -> int:
        self[letter] = _DIGIT
        return _DIGIT


_WIDTH = _Widths({letter: width for width, letters in _LETTERS.items() for letter in letters})
_BOLD = 1.08
PIXEL = 0.75
LINE = 12.75  # points from one line of the body text to the next
TALLEST = 409.5  # points of a row; spreadsheet applications have none taller (from memory)
_PIXELS_OF_A_DIGIT = 7


@lru_cache(maxsize=16384)
def digits(text: str, bold: bool = False, size: float = 10) -> float:
    """Width of a line of text, in digits of the body text (the unit of column widths)."""
    width = sum(map(_WIDTH.__getitem__, text)) / _DIGIT
    return width * (_BOLD if bold else 1) * size / 10


def longest_word(text: str, bold: bool = False) -> float:
    """Width of the longest word, in digits: a column narrower than this would break it."""
    return max((digits(word, bold) for word in text.split()), default=0.0)


@lru_cache(maxsize=16384)
def lines(text: str, room: float, bold: bool = False, size: float = 10) -> int:
    """How many lines a text needs when wrapped at words in `room` digits."""
    if "\n" not in text and digits(text, bold, size) <= room:
        return 1
    count = 0
    for paragraph in text.split("\n"):
        count += 1
        used = 0.0
        for word in paragraph.split(" "):
            width = digits(word, bold, size)
            blank = digits(" ", bold, size) if used else 0.0
            if used and used + blank + width > room:
                count += 1
                used, blank = 0.0, 0.0
            used += blank + width
            if used > room > 0:  # one word longer than the line is cut into lines
                count += int(used // room)
                used %= room
    return count


def row_height(count: int, size: float = 10) -> float:
    """Points for a row of so many lines, with a little air; in whole pixels, as sheets have it."""
    return min(math.ceil((count * LINE * size / 10 + 4) / PIXEL) * PIXEL, TALLEST)


def column_points(width: float) -> float:
    """Width on screen and paper of a column so many digits wide."""
    return int(width * _PIXELS_OF_A_DIGIT) * PIXEL
