"""What spreadsheet applications refuse or mangle, refused here with a plain message instead."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

LONGEST_TEXT = 32_767
LONGEST_TITLE = 31
LONGEST_NAME = 255
LONGEST_FOOTER = 255
LONGEST_LIST = 255

_NOT_IN_TITLES = "[]:*?/\\"
# What XML 1.0 has no way to write: control letters but tab, line feed and return, halves of a
# surrogate pair, and the two code points that are no letters.
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_.]*\Z")
_LIKE_A_CELL = re.compile(r"([A-Za-z]{1,3}\d{1,7}|[Rr]\d*([Cc]\d*)?|[Cc]\d*)\Z")


class LimitError(ValueError):
    """Something no spreadsheet application would take; the message says what and why."""


def check_text(text: str) -> str:
    """The text itself, when a cell can hold it.

    Raises:
        LimitError: when it is longer than 32,767 letters or holds one that XML can't.
    """
    if len(text) > LONGEST_TEXT:
        raise LimitError(
            f"a cell holds {LONGEST_TEXT:,} letters, this text has {len(text):,}: '{text[:40]}…'"
        )
    if found := _NOT_IN_XML.search(text):
        raise LimitError(f"a cell can't hold the letter U+{ord(found[0]):04X}, as in {text[:40]!a}")
    return text


def check_number(value: float) -> float:
    """The number itself, when a cell can hold it.

    Raises:
        LimitError: for an infinity or what is not a number.
    """
    if not math.isfinite(value):
        raise LimitError(f"a cell can't hold {value}")
    return value


def check_titles(titles: Iterable[str]) -> None:
    """Sheet titles: allowed letters, 31 at most, no two alike whatever their case.

    Raises:
        LimitError: for the first title that will not do.
    """
    seen: dict[str, str] = {}
    for title in titles:
        check_text(title)
        if not title or len(title) > LONGEST_TITLE:
            raise LimitError(f"a sheet's title has 1 to {LONGEST_TITLE} letters: '{title}'")
        if bad := [letter for letter in title if letter in _NOT_IN_TITLES]:
            raise LimitError(f"a sheet's title can't hold '{bad[0]}': '{title}'")
        if title[0] == "'" or title[-1] == "'":
            raise LimitError(f"a sheet's title can't begin or end with an apostrophe: {title}")
        if title.lower() == "history":
            raise LimitError(f"spreadsheets keep the sheet title '{title}' for themselves")
        if title.lower() in seen:
            raise LimitError(f"two sheets have one title: '{seen[title.lower()]}' and '{title}'")
        seen[title.lower()] = title


def check_names(names: Iterable[str]) -> None:
    """Defined names: a letter first, no blanks, not like a cell's address, no two alike.

    Raises:
        LimitError: for the first name that will not do.
    """
    seen: set[str] = set()
    for name in names:
        if len(name) > LONGEST_NAME:
            raise LimitError(
                f"a defined name has {LONGEST_NAME} letters at most: '{name[:40]}…' has {len(name)}"
            )
        if not _NAME.match(name) or name.lower() in ("true", "false"):
            raise LimitError(
                f"'{name}' is no defined name: letters, digits, '_' and '.', a letter first"
            )
        if _LIKE_A_CELL.match(name):
            raise LimitError(f"the defined name '{name}' reads like a cell's address")
        if name.lower() in seen:
            raise LimitError(f"the defined name '{name}' occurs twice")
        seen.add(name.lower())


def footer_sides(text: str, right: str) -> tuple[str, str]:
    """The left and right of a print footer as they are stored: a text, and codes of page numbers.

    All of it has 255 letters at most, its codes included. Of a text that is longer the middle is
    left out: it begins with what the workbook is of, and ends with what it was made from.
    """
    check_text(text)
    kept, left = len(text), _coded(text)
    while _units(f"&L{left}&R{right}") > LONGEST_FOOTER:
        kept -= 1
        left = _coded(f"{text[: kept - kept // 2]}…{text[len(text) - kept // 2 :]}")
    return left, right


def _coded(text: str) -> str:
    # A blank after the size: a text that begins with a digit would become part of it.
    return f"&8 {text.replace('&', '&&')}"


def _units(text: str) -> int:
    """How long a text is for a spreadsheet, which counts some letters as two."""
    return len(text.encode("utf-16-le")) // 2
