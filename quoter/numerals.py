"""How people write a number before its unit: 12.5, 1 1/8, 18 ft 4 1/2 in, 18'-4", or not at all.

A fraction is a whole number over another, after the whole ones or alone. Two units may stand
together where the lesser one counts parts of the greater: feet and inches, pounds and ounces, hours
and minutes; the number is then of the lesser. Whatever can be read in two ways is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple
from unicodedata import normalize

from quoter.problems import quoted

MOST_DIGITS = 12  # before the point, or after it; beyond, nobody means it
FINEST = 1000  # the largest number that a fraction is over


class Together(NamedTuple):
    """Two units that stand together: `ratio` of the lesser are one of the greater."""

    great: str
    small: str
    ratio: int
    one: str
    many: str
    parts: str


FEET = Together("ft", "in", 12, "a foot", "feet", "inches")
TOGETHER = (
    FEET,
    Together("lb", "oz", 16, "a pound", "pounds", "ounces"),
    Together("h", "min", 60, "an hour", "hours", "minutes"),
)

_PLAIN = r"(?:\d+(?:\.\d*)?|\.\d+)"
_OVER = r"\d+/\d+"
_VALUE = rf"(?:\d+[ -]{_OVER}|{_OVER}|{_PLAIN})"
_NUMBER = re.compile(rf"[+-]?{_PLAIN}\Z", re.ASCII)
_WRITTEN = re.compile(rf"(?P<sign>[+-]?)(?P<value>{_VALUE})(?: (?P<unit>.*))?\Z", re.ASCII)
_MARKED = re.compile(
    rf"(?P<sign>[+-]?)(?:(?P<feet>{_VALUE}) ?')?(?:(?<=')[ -]?| )?(?:(?P<inches>{_VALUE}) ?\")?\Z",
    re.ASCII,
)
_PAIR = re.compile(
    rf"(?P<sign>[+-]?)(?P<great>{_VALUE}) ?(?P<one>[a-z]+|')(?:(?<=')[ -]?|[ -])"
    rf"(?P<small>{_VALUE})(?: ?(?P<other>[a-z]+|\"))?\Z",
    re.ASCII,
)
_MIXED = re.compile(r"(?:(?P<whole>\d+)[ -])?(?P<top>\d+)/(?P<bottom>\d+)\Z", re.ASCII)
_EXPONENT = re.compile(r"([+-]?[\d.]+)[eE]([+-]?\d{1,2})\Z", re.ASCII)
_GLUED = re.compile(rf"([+-]?{_VALUE})\s?([A-Za-z%€$£µ].*)\Z", re.ASCII)
_GROUPED = re.compile(r"[+-]?\d{1,3}(,\d{3})+(\.\d*)?\Z", re.ASCII)
_MARKS = str.maketrans({"\u2019": "'", "\u2032": "'", "\u201d": '"', "\u2033": '"', "\u2044": "/"})
_ONE_SIGN = re.compile("([\u00bc-\u00be\u2150-\u215e])")  # a fraction in one character
_SIGN_WITHIN = re.compile(r"(?:\A| )[+-] ?[\d.]", re.ASCII)


class UnitError(ValueError):
    """A text that is no quantity: `what` was found and, as a `hint`, what would be right.

    The `code` names the kind of problem. `likely` says that the hint is about this very text, and
    not a general one.
    """

    def __init__(self, code: str, what: str, hint: str, *, likely: bool = True) -> None:
        """Keep the parts for the message."""
        super().__init__(f"{what}; {hint}")
        self.code, self.what, self.hint, self.likely = code, what, hint, likely


@dataclass(frozen=True, slots=True)
class Numeral:
    """The exact number of a text, the words of its unit, and whether a fraction was written."""

    number: Fraction
    unit: str
    broken: bool = False


def numeral(text: str) -> Numeral:
    """The number that a text begins with, and what its unit is called.

    >>> numeral("18 ft 4 1/2 in"), numeral("1-1/8 in").number
    (Numeral(number=Fraction(441, 2), unit='in', broken=True), Fraction(9, 8))

    Raises:
        UnitError: it begins with none, or with one that can be read in two ways.
    """
    words = _tidied(text)
    if marked := _MARKED.match(words):
        if marked["feet"] and marked["inches"]:
            return _together(words, marked["sign"], marked["feet"], marked["inches"], FEET)
        for name, symbol in (("feet", "ft"), ("inches", "in")):
            if marked[name]:
                return _alone(words, marked["sign"], marked[name], symbol)
    if (pair := _PAIR.match(words)) and (known := _known_pair(words, pair)) is not None:
        return known
    written = _WRITTEN.match(words)
    if written is None or (written["unit"] or " ")[0] in "'\"":
        raise _no_number(words)
    rest = written["unit"] or ""
    _need_one_number(words, written["value"], rest)
    found = _alone(words, written["sign"], written["value"], rest)
    if found.broken and not rest:
        hint = f"write '{decimal_text(found.number)}', or its unit: '{words} in'"
        raise UnitError("no-unit", f"{quoted(words)} is a fraction without a unit", hint)
    return found


def _tidied(text: str) -> str:
    """The text with single blanks, plain marks, and fractions written out."""
    plain = _ONE_SIGN.sub(lambda sign: f" {normalize('NFKC', sign[1])} ", text)
    return " ".join(plain.translate(_MARKS).split()).replace("''", '"')


def _alone(words: str, sign: str, value: str, symbol: str) -> Numeral:
    number = _exact(words, value, symbol)
    return Numeral(-number if sign == "-" else number, symbol, "/" in value)


def _exact(words: str, value: str, symbol: str) -> Fraction:
    """A number as written, whole or broken."""
    mixed = _MIXED.match(value)
    if mixed is None:
        return Fraction(Decimal(value))
    top, bottom = int(mixed["top"]), int(mixed["bottom"])
    if not 1 < bottom <= FINEST or not 0 < top < bottom:
        what = f"{quoted(words)} has no fraction that people write"
        hint = f"write a smaller number over a larger one, up to {FINEST}, such as '1 1/8 in'"
        if 1 < bottom <= FINEST and top > bottom and top % bottom:
            number = Fraction(top, bottom) + int(mixed["whole"] or 0)
            hint = f"write '{f'{spelt(number)} {symbol}'.rstrip()}'"
        raise UnitError("not-a-number", what, hint)
    return Fraction(top, bottom) + int(mixed["whole"] or 0)


def _known_pair(words: str, pair: re.Match[str]) -> Numeral | None:
    """Two units that stand together; None for others, which are read as one unit."""
    one = "ft" if pair["one"] == "'" else pair["one"]
    other = "in" if pair["other"] == '"' else pair["other"]
    for kind in TOGETHER:
        if one != kind.great:
            continue
        if other == kind.small:
            return _together(words, pair["sign"], pair["great"], pair["small"], kind)
        if other is None:
            hint = (
                f"write '{pair['sign']}{pair['great']} {kind.great} {pair['small']} {kind.small}'"
            )
            what = f"{quoted(words)} has no unit at its end"
            raise UnitError("no-unit", what, f"{hint} if {kind.parts} are meant")
    return None


def _together(words: str, sign: str, greater: str, lesser: str, kind: Together) -> Numeral:
    """Feet and inches, or the like, as a number of the lesser."""
    whole, part = _exact(words, greater, kind.great), _exact(words, lesser, kind.small)
    number = whole * kind.ratio + part
    in_small = f"'{sign}{spelt(number)} {kind.small}'"
    if whole.denominator != 1:
        what = f"{quoted(words)} has a part of {kind.one} and {kind.parts} besides"
        raise UnitError("not-a-number", what, f"write {in_small}")
    if part >= kind.ratio:
        feet, inches = divmod(number, kind.ratio)
        carried = f"'{sign}{feet} {kind.great} {spelt(inches)} {kind.small}'"
        what = f"{quoted(words)} has {spelt(part)} {kind.parts} beside its {kind.many}"
        hint = f"{kind.one} has {kind.ratio}: write {carried} or {in_small}, whichever is meant"
        raise UnitError("not-a-number", what, hint)
    return Numeral(-number if sign == "-" else number, kind.small, "/" in lesser)


def _need_one_number(words: str, value: str, rest: str) -> None:
    """Refuse a unit that begins with a second number."""
    told = quoted(words)
    if re.match(rf"{_OVER}(?: |\Z)", rest):
        hint = "write whole numbers with a fraction, or decimals alone"
        raise UnitError("not-a-number", f"{told} has decimals and a fraction", hint)
    if re.match(r"\d[\d.]*(?: |\Z)", rest):
        hint = f"write '{value}{rest}' if thousands are meant"
        raise UnitError("not-a-number", f"{told} has a space within its number", hint)
    if _SIGN_WITHIN.search(rest):
        hint = "one sign may stand before all of it, and a hyphen right before a fraction"
        raise UnitError("not-a-number", f"{told} has a sign within its number", hint)


def _no_number(words: str) -> UnitError:
    number, _, rest = words.partition(" ")
    told, after = quoted(words), f" {rest}" if rest else ""
    written = _EXPONENT.match(number)
    if written and _NUMBER.match(written[1]) and abs(int(written[2])) <= MOST_DIGITS:
        plain = f"{Decimal(written[1]).scaleb(int(written[2])):f}"
        return UnitError(
            "not-a-number", f"{told} has an exponent", f"write it out: '{plain}{after}'"
        )
    if (glued := _GLUED.match(words)) and not written:
        return UnitError(
            "not-a-number", f"{told} has no space before its unit", f"write '{glued[1]} {glued[2]}'"
        )
    if _GROUPED.match(number):
        hint = f"write '{number.replace(',', '')}{after}', or a point if a decimal is meant"
        return UnitError("not-a-number", f"{told} has a comma in its number", hint)
    if "," in number and _NUMBER.match(number.replace(",", ".", 1)):
        hint = f"write a point: '{number.replace(',', '.')}{after}'"
        return UnitError("not-a-number", f"{told} has a comma for its decimals", hint)
    if re.search(r"\d/\d+/", words, re.ASCII):
        hint = "write one number over one other, such as '1/8 in'"
        return UnitError("not-a-number", f"{told} has more than one stroke in its fraction", hint)
    if re.match(r"[+-]?\d.*['\"]", words, re.ASCII):
        hint = "write feet and inches, such as '18 ft 4 in', '18' 4 1/2\"' or '3/4\"'"
        return UnitError("not-a-number", f"{told} has marks that give no length", hint)
    hint = "write digits, with a point for decimals and no separators"
    return UnitError("not-a-number", f"{told} does not begin with a number", hint, likely=False)


def decimal_text(number: Fraction) -> str:
    """A number in decimals; twelve digits of one that has no end.

    >>> decimal_text(Fraction(9, 8)), decimal_text(Fraction(240))
    ('1.125', '240')
    """
    text = f"{Decimal(number.numerator) / Decimal(number.denominator):.12f}"
    return text.rstrip("0").rstrip(".")


def spelt(number: Fraction) -> str:
    """A number as a tape measure says it: whole ones and a fraction, or decimals of finer ones.

    >>> spelt(Fraction(441, 2)), spelt(Fraction(3, 4)), spelt(Fraction(441, 10)), spelt(Fraction(3))
    ('220 1/2', '3/4', '44.1', '3')
    """
    whole, part = divmod(number, 1)
    if not part:
        return str(whole)
    if 10**MOST_DIGITS % part.denominator == 0 and part.denominator not in (2, 4, 8, 16, 32, 64):
        return decimal_text(number)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{whole} {fraction}" if whole else fraction
