"""What a public view accounts for: its texts, and its numbers by what they are.

A view is walked whatever it is made of. How a locale writes an amount, a percentage or a measure is
asked of Babel itself, and a number of a page is read back to its value: what the pages' own filters
write is not taken on trust.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import product
from typing import Any

from babel import Locale
from babel.numbers import (
    format_currency,
    format_percent,
    get_currency_name,
    get_currency_precision,
)
from pydantic import BaseModel

from quoter.catalogue.languages import wording_code
from quoter.figures import Figure
from quoter.figures.exact import half_up
from quoter.leaks.own import BARE, Own, own_text
from quoter.leaks.reduction import Rest, Trie, add, is_known, is_number, rests, tokens_of
from quoter.pages.money import INCH, MINUS, POUND, feet_and_inches, unit_written
from quoter.pages.money import day as long_day
from quoter.pages.public.view import Coordinates

MONEY, SHARE = "\0money", "\0share"
KILOGRAM, POUNDS = "\0kilogram", "\0pound"
METRE, FEET, INCHES = "\0metre", "\0foot", "\0inch"
MILLIMETRE = "\0millimetre"
_UNITS = {
    KILOGRAM: "mass-kilogram",
    POUNDS: "mass-pound",
    METRE: "length-meter",
    FEET: "length-foot",
    INCHES: "length-inch",
    MILLIMETRE: "length-millimeter",
}
_MEASURES = {"kg": KILOGRAM, "m": METRE, "mm": MILLIMETRE}
_DRAWN_DIGITS = (0, 1, 2)
# What plain decimals of a view are, by its field; a field of the same name elsewhere by its class.
_FIELDS = {
    **dict.fromkeys(("price", "saving", "total", "before", "now", "lowest", "difference"), MONEY),
    **dict.fromkeys(("net", "base", "amount", "subtotal"), MONEY),
    **dict.fromkeys(("extension", "allowances", "charges", "untaxed", "charged"), MONEY),
    **dict.fromkeys(("rate", "tax", "share"), SHARE),
    **dict.fromkeys(("length", "beam", "minimum_length"), METRE),
    "mass": KILOGRAM,
    "ShownLine.quantity": BARE,
    "Rate.rate": BARE,
    "ComparedModel.share": BARE,
}
_WORKED_OUT = ("difference", "share")  # properties of views that pages print
_COUNTED = "options"  # one that pages count
_APOSTROPHES = "'\u2019"
_SAMPLE = Decimal(2)
_NUMBER = re.compile(r"\d[\d.,]*")  # a currency's letters may stand right beside it
_MASS_DIGITS = (0, 1, 2)  # on pages and in data
_POUND_DIGITS = (0, 1)
_PERCENT_DIGITS = 1  # of a share that is no rate


class Allowed:
    """All that may stand in the files made from some views, in one locale and currency."""

    def __init__(
        self, views: Iterable[object], locale: Locale, currency: str, own: Own | None = None
    ) -> None:
        """Walk the views.

        Args:
            views: what a reader is shown
            locale: how numbers are written
            currency: of all amounts
            own: what the program says in the locale's language, where that is at hand
        Raises:
            TypeError: a view holds something that nobody said what it is.
        """
        self.locale, self.currency = locale, currency
        self.own = own or own_text(wording_code(locale))
        self.texts: set[str] = {""}
        self.counts: set[int] = {0, 1}
        self.coordinates: set[str] = set()  # values of attributes that place something, no texts
        self._trie: Trie = {}
        self._tries = (self._trie, self.own.phrases, self.own.shared)
        self._kinds: dict[Decimal, set[str]] = {}
        self._known: set[str] = set()
        self.pieces: tuple[set[str], set[str]] = (set(), set())  # of data known, also of scripts'
        self._struck: dict[str, str] = {}
        self._numbers: set[str] = set()  # texts of views that are but a number
        self._read: dict[str, tuple[str, ...]] = {}
        symbols = locale.number_symbols["latn"]
        self._group = str.maketrans("", "", symbols["group"] + _APOSTROPHES + "\u00a0\u202f")
        self._decimals = {symbols["decimal"], symbols.get("currencyDecimal", symbols["decimal"])}
        self._walked: set[int] = set()  # views by identity: many hold the same one
        views = tuple(views)  # which keeps them all
        for view in views:
            self._walk(view)
        self._say(get_currency_name(currency, count=2, locale=locale), str(locale))
        for form in _forms(locale, currency):
            add(self._trie, form)

    def _say(self, *texts: str) -> None:
        """Texts that may stand anywhere; what is but one number needs a place that explains it."""
        for text in texts:
            if text in self.texts:
                continue
            self.texts.add(text)
            if "\n" in text:
                self._say(*text.split("\n"))
            tokens = tokens_of(text)
            if len(tokens) == 1 and is_number(tokens[0]):
                self._numbers.add(tokens[0])
            else:
                add(self._trie, tokens)

    def add_texts(self, *texts: str) -> None:
        """What a writer of files makes of a view's texts by joining them."""
        self._say(*texts)

    def strike_out(self, text: str, secret: str) -> None:
        """Account for a text no longer, though a view holds it, because of a secret within."""
        if text not in self.texts:
            return
        self._struck[text] = secret
        self.texts.discard(text)
        node = self._trie
        for token in tokens_of(text):
            node = node.get(token, {})
        node.clear()

    def _walk(self, value: Any, what: str = "", holder: str = "") -> None:
        kind: type[object] = type(value)
        if kind is str:
            self._say(value)
        elif value is None or kind is bool:
            return
        elif kind is tuple or isinstance(value, list | dict):
            self._several(value, what, holder)
        elif kind is Coordinates:
            self.coordinates.add(value.written)
        elif kind is int:
            self.counts.add(value)
        elif kind is Decimal:
            self._number(value, _FIELDS.get(f"{holder}.{what}") or _FIELDS.get(what), what, holder)
        elif kind is date:
            self._say(value.isoformat(), long_day(value, self.locale))
        elif hasattr(value, "amount") and hasattr(value, "currency"):
            self._number(value.amount, MONEY, what, holder)
        elif hasattr(value, "amount") and hasattr(value, "unit"):
            self._number(value.amount, _MEASURES.get(value.unit), what, holder)
        elif id(value) not in self._walked:
            self._walked.add(id(value))
            for name in _PARTS.get(kind) or _parts_of(kind):
                self._walk(getattr(value, name), name, kind.__name__)
            if isinstance(getattr(kind, _COUNTED, None), property):
                self.counts.add(len(getattr(value, _COUNTED)))

    def _several(self, values: Collection[Any], what: str, holder: str) -> None:
        counted = range(len(values)) if what == "groups" else ()
        self.counts |= {len(values), len(values) + 1, *counted}
        for each in values:
            self._walk(each, what, holder)
        if isinstance(values, dict):
            self._several(tuple(values.values()), what, holder)

    def _number(self, value: Decimal, kind: str | None, what: str, holder: str) -> None:
        """A number with each of the decimals that it is written with somewhere."""
        if kind is None:
            raise TypeError(f"nobody said what the number {holder}.{what} is")
        value = abs(value)
        if kind == MONEY:
            self._is(half_up(value, get_currency_precision(self.currency)), MONEY)
        elif kind == SHARE:
            self._is(value * 100, SHARE)
            self._is(half_up(value * 100, _PERCENT_DIGITS), SHARE)
        elif kind == KILOGRAM:
            for digits in _MASS_DIGITS:
                self._is(half_up(value, digits), KILOGRAM)
            for digits in _POUND_DIGITS:
                self._is(half_up(value / POUND, digits), POUNDS)
        elif kind == METRE:
            self._is(half_up(value, 2), METRE)
            feet, rest = feet_and_inches(value)
            self._is(Decimal(feet), FEET)
            self._is(Decimal(rest), INCHES)
        elif kind == MILLIMETRE:
            ours, inches = _drawn(value)
            for length in ours:
                self._is(length, MILLIMETRE)
            for length in inches:
                self._is(length, INCHES)
        else:
            self._is(value, kind)

    def _is(self, value: Decimal, kind: str) -> None:
        self._kinds.setdefault(value, set()).add(kind)

    def holds(self, value: Decimal, kind: str) -> bool:
        """Whether a number is one of a kind, whatever its sign."""
        return kind in self._kinds.get(abs(value), ())

    def kinds(self, token: str) -> tuple[str, ...]:
        """What a number as this locale writes it, or as data has it, can be."""
        found = self._read.get(token)
        if found is None:
            kinds = {BARE} if token in self._numbers else set()
            for value in self.values(token):
                kinds |= self._kinds.get(value, set())
                if value in self.counts:
                    kinds.add(BARE)
            found = self._read[token] = tuple(kinds)
        return found

    def values(self, token: str) -> Iterator[Decimal]:
        """What a number as this locale writes it, or as data has it, may be."""
        if (value := plain_number(token)) is not None:
            yield value
        for decimal in self._decimals:
            whole, _, rest = token.partition(decimal)
            digits = whole.translate(self._group)
            if digits.isdecimal() and (rest.isdecimal() or not rest):
                yield Decimal(f"{digits}.{rest or 0}")

    def knows(self, text: str) -> bool:
        """Whether a text is nothing but what views and the program say.

        An address leads to a place of a page, and both stand in other addresses as well; cut at a
        sign that is always a token, it is known where both of its parts are.
        """
        if text in self.texts or text in self._known:
            return True
        place = max(text.rfind("#"), text.rfind("/"))
        if place > 0 and self._is_cut(text[:place]) and self._is_cut(text[place:]):
            self._known.add(text)
            return True
        return self._is_cut(text)

    def _is_cut(self, text: str) -> bool:
        """Whether a text can be cut into known sequences."""
        if text in self._known:
            return True
        known = is_known(text, self._tries, self.kinds)
        if known:
            self._known.add(text)
        return known

    def rests(self, text: str) -> Iterator[Rest]:
        """What of a text neither says."""
        if self.knows(text):
            return
        struck = [secret for whole, secret in self._struck.items() if whole in text]
        if struck:
            yield from (Rest(secret, text.find(secret)) for secret in struck)
        else:
            yield from rests(text, self._tries, self.kinds)


def drawn_readings(millimetres: Decimal) -> frozenset[Decimal]:
    """What a length of a drawing may be told as: in millimetres or inches, to a hundredth."""
    ours, inches = _drawn(millimetres)
    return ours | inches


@cache
def _drawn(millimetres: Decimal) -> tuple[frozenset[Decimal], frozenset[Decimal]]:
    """The same apart: in millimetres, in inches."""
    lengths = (millimetres, millimetres / INCH / 1000)
    ours, inches = (frozenset(half_up(each, to) for to in _DRAWN_DIGITS) for each in lengths)
    return ours, inches


_PARTS: dict[type[object], tuple[str, ...]] = {}  # what was found out already


def _parts_of(kind: type[object]) -> tuple[str, ...]:
    """What is printed of a view: its fields, and what it works out from them.

    Raises:
        TypeError: it is no view, but something else with who knows what behind it.
    """
    if is_dataclass(kind) and kind is not Figure:
        names = [each.name for each in fields(kind)]
    elif issubclass(kind, BaseModel):
        names = [*kind.model_fields]
    else:
        raise TypeError(f"a view holds a {kind.__name__}, which none may show")
    worked_out = (n for n in _WORKED_OUT if isinstance(getattr(kind, n, None), property))
    _PARTS[kind] = (*names, *worked_out)
    return _PARTS[kind]


_PLAIN = re.compile(r"-?\d+(?:\.\d+)?\Z")


def plain_number(text: str) -> Decimal | None:
    """A number as data has it: a point before its decimals, no thousands parted; else None."""
    return Decimal(text) if _PLAIN.match(text) else None


@cache
def _forms(locale: Locale, currency: str) -> tuple[list[str], ...]:
    """How a locale writes numbers of each kind, and the signs of each alone, for scripts."""
    return tuple(_written(locale, currency))


def _written(locale: Locale, currency: str) -> Iterator[list[str]]:
    symbols = locale.number_symbols["latn"]
    yield from ([sign] for sign in (symbols["group"], symbols["decimal"]) if sign.strip())
    signs = (tokens_of(symbols.get("minusSign", "-")), tokens_of(MINUS))
    yield from signs
    written = {
        MONEY: [format_currency(_SAMPLE, currency, locale=locale)],
        SHARE: [format_percent(_SAMPLE / 100, locale=locale)],
    }
    written[MONEY].append(format_currency(-_SAMPLE, currency, locale=locale))
    written[SHARE].append(format_percent(-_SAMPLE / 100, locale=locale))
    for kind, unit in _UNITS.items():
        written[kind] = [unit_written(_SAMPLE, unit, locale)]
    for minus, (kind, samples) in product(signs, written.items()):
        for sample in samples:
            tokens = [
                kind if is_number(token) else token
                for sign in tokens_of(_NUMBER.sub(r" \g<0> ", sample))
                for token in (minus if sign == "-" else [sign])
            ]
            at = tokens.index(kind)
            yield tokens
            yield [*tokens[:at], *minus, *tokens[at:]]
            yield tokens[:at]
            yield tokens[at + 1 :]
