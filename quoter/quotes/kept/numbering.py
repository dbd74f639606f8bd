"""Numbers of quotes: consecutive in each year, with revisions, taken by what stands in a folder."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

_NAME = re.compile(r"([0-9]{4})-([0-9]{4,12})(?:-R(0|[1-9][0-9]{0,5}))?\Z")


@dataclass(frozen=True, slots=True, order=True)
class QuoteName:
    """What a quote is called: ``2026-0007``, or ``2026-0007-R2`` for its second revision.

    They sort as people count: ``2026-10000`` comes after ``2026-9999``. As a number alone means
    the newest revision where somebody asks, the first issue has a name of its own as well.
    """

    year: int
    count: int
    revision: int = 0

    def __str__(self) -> str:
        """The name of its folder."""
        return f"{self.number}-R{self.revision}" if self.revision else self.number

    @property
    def number(self) -> str:
        """The number without a revision; wider than four digits when a year outgrows them."""
        return f"{self.year:04d}-{self.count:04d}"

    @property
    def own(self) -> str:
        """The name that means this revision and no later one: ``2026-0007-R0`` for the first."""
        return f"{self.number}-R{self.revision}"

    @property
    def first(self) -> QuoteName:
        """The quote it is a revision of; itself if it is none."""
        return replace(self, revision=0)


def named(text: str) -> QuoteName | None:
    """The quote that a text names, None where it is written in any other way.

    >>> named("2026-0007-R2")
    QuoteName(year=2026, count=7, revision=2)
    >>> named("2026-0007-R0") == named("2026-0007")
    True
    >>> named("2026-00007"), named("2026-7")
    (None, None)
    """
    found = _NAME.match(text)
    if not found:
        return None
    name = QuoteName(int(found[1]), int(found[2]), int(found[3] or 0))
    return name if name.count and text in (str(name), name.own) else None


def names_one(text: str) -> bool:
    """Whether a name is of one revision, and not of whichever is the newest of a number.

    >>> names_one("2026-0007-R0"), names_one("2026-0007")
    (True, False)
    """
    name = named(text)
    return name is not None and text == name.own


def of_folder(entry: str) -> QuoteName | None:
    """The quote whose folder has that name; the first issue's is its number alone.

    >>> of_folder("2026-0007-R0") is None
    True
    """
    name = named(entry)
    return name if name is not None and str(name) == entry else None


_ORDER = re.compile(r"(.{9,30})-order(?:-([1-9][0-9]{0,5}))?\Z")


@dataclass(frozen=True, slots=True, order=True)
class OrderName:
    """What the confirmation of an order is called: ``2026-0007-R1-order``, a second one
    ``2026-0007-R1-order-2``.
    """

    quote: QuoteName
    issue: int = 1

    def __str__(self) -> str:
        """The name of its folder."""
        return f"{self.quote}-order" + (f"-{self.issue}" if self.issue > 1 else "")

    @property
    def before(self) -> OrderName:
        """The confirmation before it."""
        return replace(self, issue=self.issue - 1)


def order_named(text: str) -> OrderName | None:
    """The confirmation that a text names, None where it is written in any other way.

    >>> str(order_named("2026-0007-R1-order"))
    '2026-0007-R1-order'
    >>> order_named("2026-0007-order-2")
    OrderName(quote=QuoteName(year=2026, count=7, revision=0), issue=2)
    >>> order_named("2026-0007-order-1"), order_named("2026-0007")
    (None, None)
    """
    found = _ORDER.match(text)
    quote = named(found[1]) if found else None
    if not found or quote is None:
        return None
    name = OrderName(quote, int(found[2] or 1))
    return name if str(name) == text else None


def next_number(taken: Iterable[QuoteName], year: int) -> QuoteName:
    """The number after the last one of a year; one that is missing in between stays missing.

    >>> str(next_number([QuoteName(2026, 9999), QuoteName(2025, 3)], 2026))
    '2026-10000'
    """
    return QuoteName(year, max((name.count for name in taken if name.year == year), default=0) + 1)


def next_revision(taken: Sequence[QuoteName]) -> QuoteName:
    """The revision after the last one.

    Args:
        taken: the names of one quote, one at least
    """
    last = max(taken)
    return replace(last, revision=last.revision + 1)


def missing(taken: Iterable[QuoteName]) -> Iterator[QuoteName]:
    """Quotes and revisions that come before others and are not there.

    >>> [str(name) for name in missing([QuoteName(2026, 3), QuoteName(2026, 1, 2)])]
    ['2026-0001', '2026-0001-R1', '2026-0002']
    """
    names = sorted(taken)
    there = set(names)
    for year, of_year in groupby(names, key=lambda name: name.year):
        revisions: dict[int, int] = {}
        for name in of_year:
            revisions[name.count] = max(name.revision, revisions.get(name.count, 0))
        for count in range(1, max(revisions) + 1):
            every = (QuoteName(year, count, n) for n in range(revisions.get(count, 0) + 1))
            yield from (name for name in every if name not in there)
