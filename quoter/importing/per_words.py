"""What a price is for, as suppliers write it: "LBS", "per 100 kg", "carton of 12 x 310 ml"."""

from __future__ import annotations

import re
import shlex
from decimal import Decimal
from typing import Protocol

from quoter.catalogue.fields import priced_per
from quoter.catalogue.received import UnitWord
from quoter.importing.cells import CellFault, SheetCell, alike, number_in, sound_text, squeezed
from quoter.problems import Place, closest, quoted
from quoter.spellings import AMBIGUOUS, MEANT, SENT_IN_TWO
from quoter.units import NONE, PACKED, SYMBOLS, UnitError, to_base, unit

# "per", in the languages that lists come in, with a currency before it or not; PE is the price's
# unit of German lists.
_PER = r"(?:/|(?<![^\W\d_])(?i:per|pro|je|par|por|PE:?)(?![^\W\d_]))"
_BEFORE = re.compile(rf"(?:(?P<mark>[A-Z]{{3}}|US\$|[€£$]|kr\.?) ?)?{_PER} ?")
# A price's cell that says what it is for after its number: "245.00 EUR / 100 kg".
_PRICED = re.compile(rf"(?P<amount>\D*\d[\d.,' ]*(?:[^\d/]*?)) ?(?P<per>{_PER}\s*\S.*)\Z")
_HEADED = re.compile(rf".*?(?P<per>{_PER}\s*\S.*)\Z")
# A number that stands alone or before its unit; the 2 of m2 belongs to the unit.
_NUMBER = re.compile(r"(?<![\w.,])(\d[\d.,']*(?<=\d)(?: 000(?!\d))*)(?!\d)")
_OF_EACH = re.compile(r"(?<=\d) ?[x×] ?(?=\d)", re.IGNORECASE)
# Words between a pack and what it holds.
_JOINING = frozenset(
    ["of", "à", "a", "á", "de", "von", "zu", "mit", "with", "av", "@", "je", "per", "x", "×"]
)
_TIMES = frozenset(("x", "×"))
_NO_CURRENCY = frozenset((*MEANT, *SYMBOLS))
MOST = Decimal(999_999)  # of anything that a price is for


class UnitWords(Protocol):
    """What says how a file is read, as far as its words for units go."""

    @property
    def units(self) -> tuple[UnitWord, ...]:
        """The file's own words."""

    @property
    def decimal(self) -> str:
        """Whether decimals stand after a point or a comma."""

    @property
    def place(self) -> Place:
        """Where it is said."""


def parted(text: str) -> tuple[str, str]:
    """A price's cell in two: the amount, and what it is for or "".

    >>> parted("245.00 EUR / 100 kg"), parted("2.19")
    (('245.00 EUR', '/ 100 kg'), ('2.19', ''))
    """
    found = _PRICED.match(text)
    return (found["amount"].strip(), found["per"]) if found else (text, "")


def said_in_heading(heading: str, file: UnitWords) -> str:
    """What a column of prices is for by its own heading, such as "EUR/100 kg"; "" if it says none.

    A heading has other words after a stroke too, and those say nothing; nor does what follows a
    number and its unit.
    """
    found = _HEADED.match(squeezed(heading))
    words = found["per"].split() if found else []
    with_number = any(map(str.isdecimal, "".join(words)))
    while words:
        try:
            return unit_in(" ".join(words), file)
        except CellFault:
            words = words[:-1] if with_number else []
    return ""


def unit_in(text: str, file: UnitWords) -> str:
    """The catalogue's unit for a word such as "LBS", "per drum", "/100 kg" or "box of 100".

    Raises:
        CellFault: the word is not known, may be two units, or leaves open how much it is.
    """
    plain = squeezed(text.replace("\u00a0", " ").replace("\u202f", " "))
    known = {alike(each.word): str(each.means) for each in file.units}
    rest = plain[before.end() :] if (before := _before(plain)) else plain
    for word in (plain, rest):
        if alike(word) in known:
            return known[alike(word)]
    symbol = _Words(text, file, known).read(rest)
    try:
        priced_per(symbol)
    except UnitError as bad:
        raise unknown_word(text, file, bad.hint) from bad
    return symbol


def numbered(number: Decimal, symbol: str) -> str | None:
    """So many of a unit; one that is a number of another, such as 112 lb, counts so.

    None where it would be none, or more than anybody means.

    >>> numbered(Decimal("100"), "kg"), numbered(Decimal("2"), "112 lb"), numbered(Decimal(1), "m")
    ('100 kg', '224 lb', 'm')
    """
    many, _, single = symbol.partition(" ")
    if single:
        if " " in single:
            return None
        number, symbol = number * Decimal(many), single
    if not 0 < number <= MOST:
        return None
    return symbol if number == 1 else f"{number.normalize():f} {symbol}"


def counted(cell: SheetCell, decimal: str, per: str) -> str:
    """So many of a unit as a cell of a column for that says, as lists do with columns PE and ME.

    Raises:
        CellFault: it holds no number above nothing, or the unit has a number of its own already.
    """
    if cell.kind == "number" and cell.number is not None:
        number = cell.number
    else:
        number = _count(sound_text(cell, "a number"), decimal)
    if number != 1 and " " in per:
        what = f"the price is per {per}, and {quoted(cell.text)} of them"
        raise CellFault("differs", what, "say in one place how many it is for")
    found = numbered(number, per)
    if found is None:
        raise CellFault("out-of-range", f"a price for {quoted(cell.text)}", f"1 to {MOST:,} fit")
    return found


def _count(written: str, decimal: str) -> Decimal:
    """A number of pieces: they come by the thousand, and are never a thousandth of one.

    Raises:
        CellFault: it is none.
    """
    mark = "," if decimal == "point" else "."
    if re.fullmatch(rf"\d{{1,3}}\{mark}000", written):
        return Decimal(written.replace(mark, ""))
    return number_in(written, decimal)


def option(word: str, code: str) -> str:
    """An option for a code, as it is typed.

    >>> option("--skip", "Q-1188"), option("--skip", "Q 1188")
    ('--skip Q-1188', "--skip 'Q 1188'")
    """
    return f"{word} {shlex.quote(code)}"


def currency_in(text: str) -> str:
    """The currency before what a price is for, such as that of "EUR/kg"; "" where there is none."""
    before = _before(squeezed(text))
    return (before["mark"] or "") if before else ""


def _before(text: str) -> re.Match[str] | None:
    """What comes before the unit: no pack or unit in capitals, such as the BOX of "BOX/12"."""
    found = _BEFORE.match(text)
    if found is None or ((found["mark"] or "").isalpha() and found["mark"].lower() in _NO_CURRENCY):
        return None
    return found


class _Words:
    """The words of what a price is for while they are read."""

    def __init__(self, text: str, file: UnitWords, known: dict[str, str]) -> None:
        self.text, self.file, self.known = text, file, known

    def read(self, rest: str) -> str:
        """A unit, a number of it, or what a pack holds.

        Raises:
            CellFault: it is none of them.
        """
        first, *others = _NUMBER.split(_OF_EACH.sub(" x ", rest))
        numbers, words = others[::2], others[1::2]
        if not numbers:
            return self._symbol(first)
        pack = self._pack(first)
        if pack is None or len(numbers) > 2:
            raise self._unknown()
        last = self._without_pack(words[-1])
        if len(numbers) == 2:
            between = self._tokens(words[0])
            inner = [word for word in between if word not in _TIMES]
            if not between or (inner and self._packed(" ".join(inner)) is None):
                raise self._unknown()
            times = self._number(numbers[0], "each")
            return self._numbered(times * self._number(numbers[1], last), last)
        if pack and last in PACKED:
            what = f"{quoted(self.text)} does not say what a {last} holds"
            hint = f"say so, such as 'carton of 12 x 310 mL', or write it under {self._home()}"
            raise CellFault("no-unit", what, hint)
        return self._numbered(self._number(numbers[0], last), last)

    def _numbered(self, number: Decimal, symbol: str) -> str:
        found = numbered(number, symbol)
        if found is None:
            raise self._unknown()
        return found

    def _number(self, written: str, symbol: str) -> Decimal:
        decimal = self.file.decimal
        pieces = symbol == "each" or to_base(unit(symbol))[0] == NONE
        return _count(written, decimal) if pieces else number_in(written, decimal)

    def _pack(self, words: str) -> str | None:
        """The pack before what it holds; "" where there is none, None for other words."""
        told = " ".join(self._tokens(words))
        return self._packed(told) if told else ""

    def _without_pack(self, words: str) -> str:
        """The unit after a number: "pcs", "kg", or the kg of "kg bag"; none is a piece."""
        told = self._tokens(words)
        if len(told) > 1 and self._packed(told[-1]) is not None:
            told = told[:-1]
        return self._symbol(" ".join(told)) if told else "each"

    def _packed(self, word: str) -> str | None:
        try:
            symbol = self._symbol(word)
        except CellFault:
            return None
        return symbol if symbol in PACKED or symbol == "pack" else None

    def _tokens(self, words: str) -> list[str]:
        """Words without those that join, at either end."""
        told = re.sub(r"[()/–-]", " ", words).split()
        while told and told[0].casefold() in _JOINING - _TIMES:
            told = told[1:]
        while told and told[-1].casefold() in _JOINING - _TIMES:
            told = told[:-1]
        return [word.casefold() if word.casefold() in _TIMES else word for word in told]

    def _symbol(self, word: str) -> str:
        """The symbol that a word stands for, else the word itself if it is one.

        A single letter is left as it is: M may be a metre or a thousand. Only a litre is written
        with either.
        """
        plain = word.replace("²", "2").replace("³", "3")
        small = squeezed(plain.replace(".", " ")).casefold()
        if alike(word) in self.known:
            return self.known[alike(word)]
        if hint := _of_two(small, plain):
            at = self._home()
            what = f"{quoted(self.text)} may be two units"
            raise CellFault("unknown-unit", what, f"{hint}: say under {at} which is meant")
        if small == "l":
            return "L"
        if found := MEANT.get(small):
            return found
        if len(small) > 1 and small in SYMBOLS:
            return SYMBOLS[small]
        try:
            unit(plain)
        except UnitError as bad:
            raise unknown_word(self.text, self.file, bad.hint if bad.likely else "") from bad
        return plain

    def _unknown(self) -> CellFault:
        return unknown_word(self.text, self.file, "")

    def _home(self) -> str:
        return f"'units' at {self.file.place.clickable}"


def _of_two(small: str, written: str) -> str:
    """What to write for a word of two meanings; "" for one that has one, as 'm' in small has."""
    if len(written) == 1:
        return ""
    return SENT_IN_TWO.get(small) or AMBIGUOUS.get(small) or ""


def unknown_word(text: str, file: UnitWords, likely: str) -> CellFault:
    """The fault of a word that is no unit, with the one that is likely meant."""
    at = f"'units' at {file.place.clickable}"
    if not text:
        return CellFault("no-unit", "no unit", f"write one that is listed under {at}")
    near = closest(text, [str(each.word) for each in file.units])
    told = f"did you mean {quoted(near)}?" if near else likely
    hint = f"say under {at} which unit it is"
    if told.endswith("?"):
        hint = and_then(told, f"new words go to {at}")
    return CellFault("unknown-unit", f"unknown unit {quoted(text)}", hint)


def and_then(hint: str, more: str) -> str:
    """A hint and where to go on from it."""
    return f"{hint} ({more})" if hint.endswith("?") else f"{hint}; {more}"
