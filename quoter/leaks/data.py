"""Prices as data, and the data and rules of a list of options, read piece by piece."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import fields
from decimal import Decimal
from io import StringIO

from quoter.catalogue.csv_cells import as_written
from quoter.formats import PRICES, REQUEST, TABLE
from quoter.leaks.allowed import KILOGRAM, METRE, MONEY, POUNDS, SHARE, Allowed, plain_number
from quoter.leaks.own import BARE
from quoter.leaks.reduction import Rest
from quoter.pages.money import POUND
from quoter.pages.number_style import NumberStyle
from quoter.pages.public import local_table
from quoter.pages.public.build_list import word_of
from quoter.pages.public.data_table import COLUMNS, NUMBERS
from quoter.pages.public.local_table import LocalTable
from quoter.pages.script import HELPERS, letters

_PLAIN = r'[^"\\\x00-\x1f]*'
_TEXT = rf'"{_PLAIN}(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{{4}}){_PLAIN})*"'
_LEAF = rf"(?:{_TEXT}|[-+.\w]+)"
_PIECE = re.compile(rf"({_TEXT}(?:: ?{_LEAF})?|[-+.\w]+)")
_BETWEEN = re.compile(r"[ \n{}\[\],:]*\Z")
_PAIR = re.compile(rf"({_TEXT}): ?({_LEAF})\Z")
_WORDS = ("true", "false", "null")
# What the number of a key or column is, also where it stands as a text.
_KINDS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("price", "saving", "delivery"), (MONEY,)),
    **dict.fromkeys(("mass", "mass_kg"), (KILOGRAM,)),
    **dict.fromkeys(("length", "beam", "minimum_length"), (METRE,)),
    **dict.fromkeys(("rate", "tax_rate"), (SHARE,)),
    "value": (KILOGRAM, METRE),
    local_table.KILOGRAMS: (KILOGRAM,),
    local_table.POUNDS: (POUNDS,),
    **dict.fromkeys(("most", "weeks", "maxValue", "amountOfThisGood"), (BARE,)),
}
# Keys that state the format of what is handed on.
_FORMATS = {"format": PRICES, "request": REQUEST, "schema:version": TABLE}
# How numbers are written is told to a script in a few digits, as is what a pound is.
_STYLES = ("digits", "grouped_from", "whole_digits", "pounds_whole_digits")
_SIZES = frozenset({"0", "1", "2", "3", "4", "5", "99"})
_OTHER_SIZE = frozenset({"2", "3", "99"})  # of a group of thousands
_STYLE_KEYS = frozenset(each.name for each in fields(NumberStyle))

_SCRIPT = re.compile(
    r'\(function \(\) \{\n"use strict";\n'
    + re.escape(HELPERS)
    + r"(?P<rules>function check\([^{]*\{.*?\n\}\n)window\.priceList = (?P<data>\{.*\});\n"
    r"window\.priceList\.check = check;\n\}\(\)\);\n\Z",
    re.DOTALL,
)
_BOATS = re.compile(r"window\.everyBoat = (?P<data>\{.*\});\n\Z", re.DOTALL)
_RULE = re.compile(r"[A-Za-z_]\w*|\d[\w.]*|[^\s\w]", re.ASCII)
_STEP = re.compile(r"const (_[a-z]+) = ")
_RULE_SIGNS = frozenset("(){},;:=+-*/<>!?&|.")
_RULE_WORDS = {"function", "check", "const", "return", *re.findall(r"function (\w+)", HELPERS)}


def json_rests(text: str, allowed: Allowed, *, script: bool = False) -> Iterator[Rest]:
    """What of JSON nobody accounts for: every key, text and number, and what stands between.

    Args:
        text: of a file or a script element
        allowed: of what it is made from
        script: whether it tells a script how numbers are written as well
    """
    once = "\n".join(dict.fromkeys(text.split("\n")))  # no piece goes on in the next line
    if not _unknown(_PIECE.split(once), allowed, script):
        return
    parts = _PIECE.split(text)
    unknown = _unknown(parts, allowed, script)
    at, told = 0, set()
    for part in parts:
        if part in unknown and part not in told:
            told.add(part)
            yield from (Rest(each.text, at + each.start) for each in _rests(part, allowed, script))
        at += len(part)


def _unknown(parts: Sequence[str], allowed: Allowed, script: bool) -> set[str]:
    """Which parts nobody accounts for, of pieces and what stands between by turns."""
    known = allowed.pieces[script]
    fresh = set(parts[1::2]) - known
    unknown = {part for part in fresh if not _is_known(part, allowed, script)}
    known.update(fresh - unknown)
    return unknown | {part for part in set(parts[::2]) if not _BETWEEN.match(part)}


def _rests(piece: str, allowed: Allowed, script: bool) -> Iterator[Rest]:
    """What of an unknown piece is unknown: of a text under a known key only some words may be."""
    pair = _PAIR.match(piece)
    leaf = piece if pair is None else pair[2]
    if leaf[0] != '"' or (pair is not None and not _is_key(_text(pair[1]), allowed, script)):
        yield Rest(piece.strip(), 0)
        return
    found = [*allowed.rests(_text(leaf))] or [Rest(_text(leaf), 0)]
    yield from (Rest(each.text, max(piece.find(each.text), 0)) for each in found)


def _is_known(piece: str, allowed: Allowed, script: bool) -> bool:
    pair = _PAIR.match(piece)
    if pair is None:
        if piece[0] == '"':
            text = _text(piece)
            return _is_key(text, allowed, script) or allowed.knows(text)
        return piece in _WORDS or (script and piece in _OTHER_SIZE)
    key, leaf = _text(pair[1]), pair[2]
    return _is_key(key, allowed, script) and _is_leaf(key, leaf, allowed, script)


def _is_key(key: str, allowed: Allowed, script: bool) -> bool:
    return key in allowed.own.keys or (script and key in _STYLE_KEYS)


def _is_leaf(key: str, leaf: str, allowed: Allowed, script: bool) -> bool:
    if leaf in _WORDS:
        return True
    text = _text(leaf) if leaf[0] == '"' else leaf
    if key in _FORMATS:
        return text == str(_FORMATS[key].newest) or allowed.knows(text)
    if key in _KINDS and (number := plain_number(text)) is not None:
        return _is_number(number, _KINDS[key], allowed)
    if leaf[0] == '"':
        return allowed.knows(text) or (script and key == "pound" and text == str(POUND))
    return script and key in _STYLES and leaf in _SIZES


def _is_number(number: Decimal, kinds: Iterable[str], allowed: Allowed) -> bool:
    """Whether data's number is one of a kind; rates are fractions there."""
    for kind in kinds:
        if kind == BARE and number in allowed.counts:
            return True
        if allowed.holds(number * 100 if kind == SHARE else number, kind):
            return True
    return False


def _text(written: str) -> str:
    return str(json.loads(written)) if "\\" in written else written[1:-1]


def csv_rests(text: str, allowed: Allowed) -> Iterator[Rest]:
    """What of the table of prices nobody accounts for: names of columns and every cell."""
    heads, *rows = list(csv.reader(StringIO(text, newline=""))) or [[]]
    if heads != [column.name for column in COLUMNS]:
        yield Rest(text.partition("\n")[0].strip(), 0)
        return
    for row in rows:
        if len(row) != len(COLUMNS):
            yield Rest(",".join(row), max(text.find(row[0] if row else ""), 0))
            return
    told: set[str] = set()
    for column, cells in zip(COLUMNS, zip(*rows, strict=True), strict=False):
        for cell in dict.fromkeys(cells):
            if _is_cell(column.name, column.type in NUMBERS, cell, allowed):
                continue
            if cell not in told:
                told.add(cell)
                yield Rest(cell, max(text.find(cell), 0))


def local_rests(text: str, allowed: Allowed, table: LocalTable) -> Iterator[Rest]:
    """The same of the table in its reader's habit, whose heads are words of the program."""
    rows = list(csv.reader(StringIO(text, newline=""), delimiter=table.separator)) or [[]]
    for row in rows:
        if len(row) != len(table.columns):
            yield Rest(table.separator.join(row), max(text.find(row[0] if row else ""), 0))
            return
    told: set[str] = set()
    for column, (head, *cells) in zip(table.columns, zip(*rows, strict=True), strict=True):
        known = [allowed.knows(head)]
        plain = [cell.replace(table.decimal, ".") if column.number else cell for cell in cells]
        known += [_is_cell(column.number, bool(column.number), cell, allowed) for cell in plain]
        for cell, is_known in zip((head, *cells), known, strict=True):
            if not is_known and cell not in told:
                told.add(cell)
                yield Rest(cell, max(text.find(cell), 0))


def _is_cell(name: str, numeric: bool, cell: str, allowed: Allowed) -> bool:
    if numeric:
        number = plain_number(cell)
        return not cell or (number is not None and _is_number(number, _KINDS[name], allowed))
    return allowed.knows(cell) or allowed.knows(as_written(cell))


def script_rests(text: str, allowed: Allowed) -> Iterator[Rest]:
    """What of a model's script nobody accounts for: its data, and the rules of its options."""
    found = _SCRIPT.match(text)
    if found is None:
        yield Rest(text.strip(), 0)
        return
    for rest in json_rests(found["data"], allowed, script=True):
        yield Rest(rest.text, rest.start + found.start("data"))
    for rest in _rule_rests(found["rules"], allowed):
        yield Rest(rest.text, rest.start + found.start("rules"))


def boats_rests(text: str, allowed: Allowed) -> Iterator[Rest]:
    """What of the data that the first page searches nobody accounts for."""
    found = _BOATS.match(text)
    if found is None:
        yield Rest(text.strip(), 0)
        return
    for rest in json_rests(found["data"], allowed, script=True):
        yield Rest(rest.text, rest.start + found.start("data"))


def _rule_rests(rules: str, allowed: Allowed) -> Iterator[Rest]:
    """What is neither a sign, a word of the language, an option's id nor a small count.

    Steps and rules are numbered in letters, so that none of them can say anything.
    """
    steps = _STEP.findall(rules)
    numbered = {letters(count) for count in range(len(steps))}
    numbered |= {f"r_{word_of(count)}" for count in range(len(steps) + 1)}
    words = _RULE_SIGNS | _RULE_WORDS | numbered
    words |= {f"{count}{point}" for count in allowed.counts for point in ("", ".0")}
    unknown = {
        said
        for said in {*_RULE.findall(rules)} - words
        if said[:2] not in ("q_", "s_") or said[2:] not in allowed.texts
    }
    for token in _RULE.finditer(rules) if unknown else ():
        if token[0] in unknown:
            yield Rest(token[0], token.start())
