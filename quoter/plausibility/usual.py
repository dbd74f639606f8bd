"""A usual range of a measure: between which values it lies in practice, and where that is from."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from quoter.catalogue.record import CatalogueRecord
from quoter.units import Quantity, Unit, quantity, to_base, unit

MEMORY = "from memory"
PRACTICE = "common practice, no source"
ISO = "ISO 12215-5:2008, widened for other resins and hands (from memory)"
_RANGE = re.compile(
    r"(?:at (?P<only>least|most) )?(?P<one>\S+)(?: to (?P<two>\S+))?(?: (?P<unit>.+))?"
)


@dataclass(frozen=True, slots=True)
class Bounds:
    """The ends of a range in base units; None where it is open. `currency` is that of money."""

    low: float | None
    high: float | None
    unit: Unit
    currency: str

    def hold(self, value: float) -> bool:
        """Whether a value lies within, its ends included."""
        slack = 1e-9 * abs(value)
        low, high = self.low, self.high
        return (low is None or value >= low - slack) and (high is None or value <= high + slack)


@dataclass(frozen=True, slots=True)
class Usual:
    """The usual range of a field of a kind of record, or of a relation that a record is held to.

    `within` is written as people read it, such as ``0.3 to 1.5 mm`` or ``at most 30 %``. Where a
    measure has ranges by kind, class or process, `case` says which this is. `never` is the range
    that physics leaves open: beyond it a value is an error, for the reason in `why_never`. A
    `relation` has words for what is compared.
    """

    record: type[CatalogueRecord]
    field: str
    within: str
    source: str
    case: str = ""
    never: str = ""
    why_never: str = ""
    relation: str = ""

    @property
    def bounds(self) -> Bounds:
        """The ends of the usual range."""
        return bounds(self.within)

    @property
    def possible(self) -> Bounds | None:
        """The ends of what physics leaves open, where they are known."""
        return bounds(self.never) if self.never else None

    @property
    def called(self) -> str:
        """The measure in words, such as ``wet thickness``."""
        return self.field.replace("_", " ")


@cache
def bounds(within: str) -> Bounds:
    """The ends of a range in words.

    >>> bounds("0.3 to 1.5 mm").high, bounds("at most 30 %").low
    (0.0015, None)
    """
    found = _RANGE.fullmatch(within)
    if found is None:
        raise ValueError(f"no range: {within}")
    one, two = (_end(found[name], found["unit"]) for name in ("one", "two"))
    if found["only"] == "most":
        one, two = None, one
    known = one or two
    if known is None:
        raise ValueError(f"no range: {within}")
    currency = next(iter(known.base.currencies), "")
    return Bounds(_number(one), _number(two), known.base, currency)


def _end(number: str | None, symbol: str | None) -> Quantity | None:
    return None if number is None else quantity(f"{number} {symbol or ''}".rstrip())


def _number(end: Quantity | None) -> float | None:
    return None if end is None else end.number * float(end.factor)


def of(
    record: type[CatalogueRecord], source: str, **within: str | dict[str, str]
) -> tuple[Usual, ...]:
    """The usual ranges of fields of a record that are from one source; by case where they differ.

    >>> [(each.field, each.case) for each in of(CatalogueRecord, MEMORY, depth={"kg": "1 to 2 kg"})]
    [('depth', 'kg')]
    """
    return tuple(
        Usual(record, field, words, source, case)
        for field, told in within.items()
        for case, words in ({"": told} if isinstance(told, str) else told).items()
    )


def shown(usual: Usual, size: float) -> str:
    """A size in the unit that a range is written in."""
    words = usual.within.partition(" to ")[2] or usual.within.split(" ", 2)[2]
    symbol = words.partition(" ")[2]
    if symbol == "%":
        return f"{size * 100:.4g} %"
    factor = float(to_base(unit(symbol))[1]) if symbol else 1.0
    return f"{in_digits(size / factor)} {symbol}".rstrip()


def in_digits(number: float) -> str:
    """A number in four digits, or in as many as its whole part has.

    >>> in_digits(100000.0), in_digits(0.01666), in_digits(12.7)
    ('100000', '0.01666', '12.7')
    """
    return f"{number:.0f}" if 1e4 <= abs(number) < 1e15 else f"{number:.4g}"
