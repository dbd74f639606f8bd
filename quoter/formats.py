"""The formats of what is kept and handed on: the number of each, and JSON of them read strictly.

A number goes up when a reader of the one before would take a file for something else: a key with
another meaning, or one that can't be left out any more. An older file is read; a newer one is
refused in words, since nobody knows yet what it will mean.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import dataclass

from quoter.problems import UNPRINTABLE, quoted

DEEPEST = 50  # lists within lists; nothing of this program comes near
LONGEST_WHOLE = 30  # digits; Python itself takes a time that grows with their square


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of file: what one is called, and what each number brought, the first one first."""

    what: str
    brought: tuple[str, ...]

    @property
    def newest(self) -> int:
        """The number that is written, and the highest that is read."""
        return len(self.brought)

    def refusal(self, stated: object) -> str:
        """Why a file that states this as its format can't be read; nothing if it can."""
        if isinstance(stated, bool) or not isinstance(stated, int) or stated < 1:
            return f"the format {quoted(str(stated))} is no whole number from 1 on"
        if stated <= self.newest:
            return ""
        read = f"this program reads up to {self.newest}"
        return f"{self.what} is of format {stated}; {read}: upgrade quoter"


RECORD_FILE = "record.json"  # within the folder of each quote
ORDER_FILE = "order.json"  # within the folder of each confirmation of an order

CATALOGUE = Format("this catalogue", ("the first; a catalogue that states none is of it",))
RECORD = Format("this record", ("the first", "a fingerprint of the record and of its files"))
ORDER = Format("this order", ("the first",))
REQUEST = Format("this request", ("the first; a request that states none is of it",))
COSTING = Format("this costing.json", ("the first",))
ACTUALS = Format("what quoter actuals printed", ("the first",))
PRICES = Format("prices.json", ("the first; a file that states none is of it",))
TABLE = Format("prices.csv", ("the first; metadata that state none are of it",))


TOO_DEEP = "holds lists within lists beyond all measure"


class StrictError(ValueError):
    """Raised for a text that is no JSON anybody should read; the message goes on from its name."""


def read_json(content: bytes) -> object:
    """What a file holds, by RFC 8259, without what readers of JSON differ on.

    Args:
        content: of the file, in UTF-8
    Raises:
        StrictError: it is no JSON, or holds a key twice, a number that no computer has, a letter
            that nobody sees, or lists within lists beyond all measure.
    """
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content[: fault.start].count(b"\n") + 1
        raise StrictError(f"is not in UTF-8, see line {line}") from fault
    try:
        found = json.loads(
            text,
            object_pairs_hook=_once,
            parse_int=_whole,
            parse_float=_finite,
            parse_constant=_no_constant,
        )
    except json.JSONDecodeError as fault:
        where = f"line {fault.lineno}, column {fault.colno}"
        raise StrictError(f"can't be read as JSON, {where}: {fault.msg}") from fault
    except RecursionError as fault:
        raise StrictError(TOO_DEEP) from fault
    _look_within(found)
    return found


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    """An object, each of whose keys stands there once: readers differ on which one counts."""
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise StrictError(f"holds the key {quoted(twice)} twice")
    return found


def _whole(text: str) -> int:
    if len(text) > LONGEST_WHOLE:
        raise StrictError(f"holds the number {quoted(text)}, which nobody can mean")
    return int(text)


def _finite(text: str) -> float:
    found = float(text)
    if not math.isfinite(found):
        raise StrictError(f"holds the number {quoted(text)}, which nobody can mean")
    return found


def _no_constant(text: str) -> object:
    raise StrictError(f"holds {quoted(text)}, which is no number of JSON")


def _look_within(data: object) -> None:
    """Refuse a letter that nobody sees, by the keys that lead there, and what is too deep.

    Not by functions that call themselves: what is read may be as deep as its reader got.
    """
    waiting: list[tuple[tuple[str, ...], object]] = [((), data)]
    while waiting:
        path, value = waiting.pop()
        if len(path) > DEEPEST:
            raise StrictError(TOO_DEEP)
        inner: Iterable[tuple[object, object]] = ()
        if isinstance(value, dict):
            inner = value.items()
            texts = [*value]
        elif isinstance(value, list):
            inner, texts = enumerate(value, 1), []
        else:
            texts = [value] if isinstance(value, str) else []
        if bad := next(filter(None, map(UNPRINTABLE.search, texts)), None):
            where = f" in {'.'.join(path)}" if path else ""
            raise StrictError(f"holds an unprintable character, #x{ord(bad[0]):04x}{where}")
        waiting.extend(((*path, str(name)), each) for name, each in inner)
