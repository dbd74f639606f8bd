"""How a workbook's cells look, as far as it says what they mean: number formats, what is struck."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from openpyxl.styles.numbers import BUILTIN_FORMATS

from quoter.importing.cells import Kind, SheetCell
from quoter.importing.zip_parts import ZipParts, beyond, need_short
from quoter.intake import MOST_CELLS, counted
from quoter.problems import Place

LARGEST = 1e15  # beyond it, or where it is no number at all, nobody means a price
LONGEST_FORM = 255  # characters of a number's format, as in a spreadsheet program
# What a number's format shows as currency: a code or sign, alone or with a locale, [$EUR-409].
_SIGN = re.compile(r"\[\$([^\]\-]+)|([€£$])|\b([A-Z]{3})\b")
# What it shows that the number is for: "EUR/100 kg" or "per LB" in quotes, or after a stroke.
_FOR = re.compile(r"(/|\bper ) *([^\W\d_].*|\d.*)")
_OFF = ("0", "false")


@dataclass(frozen=True, slots=True)
class Look:
    """The number format of a cell, and whether its text is struck through."""

    form: str = "General"
    struck: bool = False


@dataclass(frozen=True, slots=True)
class SharedText:
    """A text that cells name by number, and whether any of it is struck through."""

    text: str
    struck: bool = False


class Strokes:
    """Whether any part of a text that holds something is struck through, while it is read."""

    def __init__(self) -> None:
        """Begin with nothing struck."""
        self.any = self._on = False

    def add(self, tag: str, has: Mapping[str, str] | None, text: str) -> None:
        """Take in an element of the text."""
        if tag == "r":
            self._on = False
        elif tag == "strike" and has is not None:
            self._on = has.get("val", "1") not in _OFF
        elif tag == "t" and has is None and text.strip():
            self.any |= self._on


def looks(archive: ZipParts, part: str) -> Iterator[Look]:
    """How the cells of each style look."""
    own: dict[int, str] = {}
    struck: list[bool] = []
    within = ""
    for tag, has, _ in archive.elements(part) if part else ():
        if tag in ("cellXfs", "fonts"):
            within = tag if has is not None else ""
        elif has is None:
            continue
        elif tag == "numFmt" and "numFmtId" in has:
            own[int(has["numFmtId"])] = has["formatCode"][:LONGEST_FORM]
        elif tag == "font" and within == "fonts":
            struck.append(False)
        elif tag == "strike" and within == "fonts" and struck:
            struck[-1] = has.get("val", "1") not in _OFF
        elif tag == "xf" and within == "cellXfs":
            id, font = int(has.get("numFmtId", "0")), int(has.get("fontId", "0"))
            form = own.get(id) or BUILTIN_FORMATS.get(id, "General")
            yield Look(form, 0 <= font < len(struck) and struck[font])


def shared_texts(archive: ZipParts, part: str) -> Iterator[SharedText]:
    """The texts that cells name by number, without what says how they are pronounced."""
    words: list[str] = []
    strokes = Strokes()
    spoken = False
    count = 0
    for tag, has, text in archive.elements(part) if part else ():
        strokes.add(tag, has, text)
        if tag == "rPh":
            spoken = has is not None
        elif tag == "t" and has is None and not spoken:
            words.append(text)
        elif tag == "si" and has is None:
            count += 1
            if count > MOST_CELLS:
                raise beyond(f"the workbook has more than {counted(MOST_CELLS)} texts")
            whole = "".join(words)
            need_short(len(whole))
            yield SharedText(whole, strokes.any)
            words, strokes = [], Strokes()


def number_cell(value: float, look: Look, place: Place) -> SheetCell:
    """A number to the fifteen digits that spreadsheets show, which leaves out binary noise."""
    if not -LARGEST < value < LARGEST:
        return SheetCell(str(value), place, struck=look.struck)
    number = Decimal(f"{value:.15g}")
    if number == number.to_integral_value():
        number = number.quantize(Decimal(1))
    kind: Kind = "number"
    form = look.form
    plain = re.sub(r'"[^"]*"|\\.', "", form)
    if "%" in plain:
        kind = "percentage"
        text = f"{(number * 100).normalize():f} %"
        return SheetCell(text, place, kind, number, struck=look.struck)
    # A code of digits alone may have been stored as a number that shows its leading noughts.
    text = f"{number:f}"
    if re.fullmatch("0+", form):
        text = text.zfill(len(form))
    shown = _FOR.search(_literal(form))
    per = f"{shown[1]}{shown[2]}".strip() if shown else ""
    rest = form.replace("\\", "").replace('"', " ").replace(shown[2] if shown else " ", " ")
    sign = _SIGN.search(rest)
    mark = next((part for part in sign.groups() if part), "") if sign else ""
    return SheetCell(text, place, kind, number, mark=mark.strip(), per=per, struck=look.struck)


def _literal(form: str) -> str:
    """The words of a number's format for what is above nothing: quoted, or letter by letter."""
    words = re.findall(r'"([^"]*)"|\\(.)|(;)', form)
    told = ""
    for quoted, letter, end in words:
        if end:
            break
        told += quoted or letter
    return told
