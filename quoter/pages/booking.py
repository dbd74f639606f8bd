"""Codes to book work by: a QR code with the job, the part and the operation as plain text.

The text is `job=NUMBER;part=ID;operation=NUMBER`, fields in that order, in ASCII; that of a whole
job ends after its number. A part's id is that of the costing without its kind: its colour and shape
follow after two underscores. Who books no finer than by station has `job=NUMBER;station=ID`. The
fields are columns of the table of hours.
"""

from __future__ import annotations

from dataclasses import dataclass

import segno
from markupsafe import Markup

QUIET = 4  # modules of white around a code, as its standard asks for
LEVEL = "M"  # of error correction: 15 % of a code may be dirty


@dataclass(frozen=True, slots=True)
class Code:
    """A code as a drawing, the text that it holds, and what people read beside it."""

    text: str
    drawing: Markup
    words: str = ""
    beside: str = ""


def booking_text(job: str, key: str = "", operation: int = 0) -> str:
    """What a code holds.

    >>> booking_text("2026-0007", "part.side_door__gel_blue", 3)
    'job=2026-0007;part=side_door__gel_blue;operation=3'
    >>> booking_text("2026-0007", "option.weekender_86.side_single", 1)
    'job=2026-0007;part=weekender_86.side_single;operation=1'
    """
    if not key:
        return f"job={job}"
    return f"job={job};part={key.partition('.')[2]};operation={operation}"


def station_text(job: str, station: str) -> str:
    """What the code of all work of a job at a station holds.

    >>> station_text("2026-0007", "laminating")
    'job=2026-0007;station=laminating'
    """
    return f"job={job};station={station}"


def code_of(text: str, words: str = "", beside: str = "") -> Code:
    """A code that holds a text; the same text gives the same drawing.

    Args:
        text: of ASCII
        words: what people call it
        beside: more words for people
    """
    made = segno.make(
        text, error=LEVEL, mode="byte", encoding="ascii", boost_error=False, micro=False
    )
    drawing = made.svg_inline(border=QUIET, omitsize=True, title=text, light="#fff", dark="#000")
    return Code(text, Markup(drawing), words, beside)
