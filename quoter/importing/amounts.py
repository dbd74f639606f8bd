"""Numbers as people abroad write them, exactly, and the currency that may stand beside them."""

from __future__ import annotations

import re
from decimal import Decimal

from quoter.importing.cells import CellFault, SheetCell, sound_text, squeezed
from quoter.intake import LONGEST_QUANTITY
from quoter.problems import quoted

_MARK = r"[A-Z]{3}|US\$|[€£$]|kr\.?"
_MARKED = re.compile(rf"(?P<before>{_MARK})?\s*(?P<number>.*?)\s*(?P<after>{_MARK})?\Z")
_PER = re.compile(r".*\d\s*[^\d\s/]*\s*(?P<per>(?:/|per\s)\s*[^\W\d].*)\Z", re.IGNORECASE)
# Signs that several currencies share, and those of one.
_SIGNS = {
    "€": ("EUR",),
    "£": ("GBP",),
    "US$": ("USD",),
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD"),
    "kr": ("NOK", "SEK", "DKK", "ISK"),
    "kr.": ("DKK",),
}
_THIN = str.maketrans(dict.fromkeys("\u00a0\u2009\u202f", " ") | {"\u2212": "-", "\u2019": "'"})


def is_mark_of(mark: str, currency: str) -> bool:
    """Whether a code or sign can be that of a currency."""
    return currency in _SIGNS.get(mark, (mark.upper(),))


def amount_in(cell: SheetCell, decimal: str, wanted: str) -> tuple[Decimal, str]:
    """The exact number of a cell where `wanted` belongs, and the currency mark beside it or "".

    `decimal` says whether a text has its decimals after a point or a comma.

    Raises:
        CellFault: it holds no number, or one that can be read in two ways.
    """
    if cell.kind == "number" and cell.number is not None:
        return cell.number, cell.mark
    text = sound_text(cell, wanted)
    if not text:
        raise CellFault(f"no value where {wanted} belongs", f"write {wanted}")
    if len(text) > LONGEST_QUANTITY:
        raise CellFault(f"{quoted(text)} is no number", f"at most {LONGEST_QUANTITY} digits fit")
    parted = _MARKED.match(text)
    if per := _PER.match(text):
        hint = f"leave out {quoted(per['per'])}: the catalogue says what it is per"
        raise CellFault(f"{quoted(text)} is no number alone", hint)
    if parted is None or (parted["before"] and parted["after"]):
        raise CellFault(f"{quoted(text)} is no number", "write digits, and one currency at most")
    number = number_in(parted["number"], decimal)
    return number, parted["before"] or parted["after"] or ""


def number_in(words: str, decimal: str) -> Decimal:
    """The exact number that words write, thousands parted by blanks or marks, or not.

    Raises:
        CellFault: it is none, or can be read in two ways.
    """
    text = squeezed(words.translate(_THIN))
    mark, other = (".", ",") if decimal == "point" else (",", ".")
    if re.fullmatch(rf"[+-]?(\d+(?:[{mark}]\d*)?|[{mark}]\d+)", text, re.ASCII):
        return Decimal(text.replace(mark, "."))
    grouped = re.fullmatch(
        rf"([+-]?\d{{1,3}})([ '{other}])(\d{{3}}(?:\2\d{{3}})*)([{mark}]\d+)?", text, re.ASCII
    )
    if grouped:
        whole = grouped[1] + grouped[3].replace(grouped[2], "")
        if grouped[2] == other and len(grouped[3]) == 3 and not grouped[4]:
            plain = text.replace(other, mark)
            hint = f"write {quoted(whole)} or {quoted(plain)}, whichever is meant"
            raise CellFault(f"{quoted(words)} can be read in two ways", hint)
        return Decimal(whole + (grouped[4] or "").replace(mark, "."))
    whole = rf"(?:\d*|\d{{1,3}}(?:[ '{mark}]\d{{3}})+)"
    if re.fullmatch(rf"[+-]?{whole}[{other}]\d+", text, re.ASCII):
        found, right = ("comma", "point") if mark == "." else ("point", "comma")
        hint = f"write a {right}, or say 'decimal: {found}' in the catalogue if all are like it"
        raise CellFault(f"{quoted(words)} has a {found} for its decimals", hint)
    hint = f"write digits, with a {decimal} for decimals"
    raise CellFault(f"{quoted(words)} is no number", hint)
