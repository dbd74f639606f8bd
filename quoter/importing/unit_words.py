"""A supplier's word for a unit, by the supplier's own list of words or as people mean it."""

from __future__ import annotations

import re

from quoter.catalogue.fields import priced_per
from quoter.catalogue.received import PriceFile
from quoter.importing.cells import CellFault, alike
from quoter.problems import closest, quoted
from quoter.units import MEANT, SYMBOLS, UnitError

_BEFORE = re.compile(r"(?:per |/ ?)", re.IGNORECASE)


def unit_in(text: str, file: PriceFile) -> str:
    """The catalogue's unit for a word such as "LBS", "per drum" or "/kg".

    Raises:
        CellFault: the word is not known.
    """
    means = {alike(each.word): str(each.means) for each in file.units}
    begins = _BEFORE.match(text)
    plain = text[begins.end() :] if begins else text
    for word in (alike(text), alike(plain)):
        if word in means:
            return means[word]
    symbol = _meant(plain)
    try:
        priced_per(symbol)
    except UnitError as bad:
        raise _unknown(text, file, bad) from bad
    return symbol


def _meant(word: str) -> str:
    """The symbol that a word stands for, else the word itself.

    A single letter is left as it is: M may be a metre or a thousand.
    """
    small = word.lower()
    return MEANT.get(small) or (SYMBOLS.get(small) if len(word) > 1 else None) or word


def _unknown(text: str, file: PriceFile, bad: UnitError) -> CellFault:
    at = f"'units' at {file.place.clickable}"
    if not text:
        return CellFault("no unit", f"write one that is listed under {at}")
    near = closest(text, [str(each.word) for each in file.units])
    told = f"did you mean {quoted(near)}?" if near else bad.hint
    hint = f"say under {at} which unit it is"
    if told.endswith("?"):
        hint = and_then(told, f"new words go to {at}")
    return CellFault(f"unknown unit {quoted(text)}", hint)


def and_then(hint: str, more: str) -> str:
    """A hint and where to go on from it."""
    return f"{hint} ({more})" if hint.endswith("?") else f"{hint}; {more}"
