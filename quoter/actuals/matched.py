"""Rows and what they are held against: the shapes, and how a standard is shared among rows.

A scope's rows may be of several months and of days with several rates. Its standard quantity is
shared among them in proportion to what was booked, so that each row is compared at the rates of its
own day.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from quoter.actuals.compared import Level, Scope, Unbooked
from quoter.actuals.standards import NOTHING, Owners
from quoter.catalogue.booked_words import month_of
from quoter.figures import Figure, constant, total
from quoter.problems import Place

T = TypeVar("T")
K = TypeVar("K")


@dataclass(frozen=True, slots=True)
class Entry:
    """A booked row of one resource: how much, what it cost each, and the standard of its day.

    `resource` is that of a `Scope`; fields are empty where it was booked more coarsely.
    """

    resource: str
    day: date
    reference: str
    place: Place
    quantity: Figure
    paid: Figure
    standard: Figure
    job: str = ""
    part: str = ""
    operation: int = 0
    rework: bool | None = None

    @property
    def month(self) -> str:
        """Its month."""
        return month_of(self.day)


@dataclass(frozen=True, slots=True)
class Need:
    """What a job or pulls should have taken of a resource at one operation of one part.

    `rework` is planned apart; `base` absorbs overhead; `lost` is what part of it goes into pieces
    that the plan expects to be scrapped. `flexed` is what pieces begun need as a multiple of what
    was planned, by the rows `pulls`.
    """

    resource: str
    part: str
    operation: int
    quantity: Figure
    rework: Figure | None = None
    base: Figure | None = None
    owners: Owners = field(default_factory=dict)
    lost: Figure = NOTHING
    flexed: Figure | None = None
    pulls: tuple[Place, ...] = ()

    @property
    def whole(self) -> Figure:
        """Planned rework included."""
        return self.quantity if self.rework is None else self.quantity + self.rework


@dataclass(frozen=True, slots=True)
class Matched:
    """Rows and the needs they are held against, at one level; `month` of pools only.

    While `open`, nobody knows how much of the needs is done, so that they say whose it is and no
    more.
    """

    level: Level
    resource: str
    entries: tuple[Entry, ...]
    needs: tuple[Need, ...]
    job: str = ""
    part: str = ""
    operation: int = 0
    open: bool = False

    def scope(self, month: str) -> Scope:
        """Of what its part in a month is."""
        kind, _, id = self.resource.partition(".")
        return Scope(
            resource=self.resource,
            level=self.level,
            month=month,
            job=self.job,
            part=self.part,
            operation=self.operation,
            station=id if kind == "labour" else "",
            material=id if kind == "material" else "",
        )

    @property
    def owners(self) -> dict[str, float]:
        """The share of each owner of the needs; nothing where no need is known."""
        return mixed([(need.owners, need.whole.value) for need in self.needs])

    @property
    def pulls(self) -> tuple[Place, ...]:
        """The rows of pulls that the needs rest on."""
        return tuple(dict.fromkeys(place for need in self.needs for place in need.pulls))


@dataclass(slots=True)
class Matching:
    """Everything of one kind that was booked, matched; and what was not booked at all.

    `levels` and `pools` say of which resources the same was decided: by level and jobs, by months.
    """

    matched: list[Matched] = field(default_factory=list)
    unbooked: list[Unbooked] = field(default_factory=list)
    levels: dict[tuple[Level, tuple[str, ...]], list[str]] = field(default_factory=dict)
    pools: dict[tuple[str, ...], list[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Group:
    """Rows of a scope of one month that have one and the same standard rate."""

    month: str
    standard: Figure
    entries: tuple[Entry, ...]

    def amount(self, *, rework: bool | None = None) -> Figure:
        """What was booked, of all rows or of those that say so of rework."""
        zero = Figure(0.0, self.entries[0].quantity.unit)
        asked = [e.quantity for e in self.entries if rework is None or bool(e.rework) is rework]
        return asked[0] if len(asked) == 1 else total(asked, zero)

    @property
    def by_paid(self) -> dict[Figure, Figure]:
        """How much was booked at each price or rate that was paid."""
        by_rate = grouped(self.entries, lambda entry: entry.paid)
        return {
            paid: Group(self.month, self.standard, tuple(entries)).amount()
            for paid, entries in by_rate.items()
        }


def groups_of(entries: Sequence[Entry]) -> list[Group]:
    """The groups of a scope's rows, by month."""
    by_key = grouped(entries, lambda entry: (entry.month, entry.standard))
    groups = [Group(month, rate, tuple(rows)) for (month, rate), rows in by_key.items()]
    return sorted(groups, key=lambda group: group.month)


def allotted(quantity: Figure, amounts: Sequence[Figure]) -> list[Figure]:
    """A standard quantity shared in proportion to amounts; the shares add up to it.

    What was brought back in another month counts for nothing; where nothing was booked at all, all
    have the same share.
    """
    if len(amounts) == 1:
        return [quantity]
    least = min(amount.value for amount in amounts)
    if least >= 0 and any(amount.value for amount in amounts):
        whole = total(list(amounts), amounts[0])
        return [quantity * (amount / whole) for amount in amounts]
    weights = [max(amount.value, 0.0) for amount in amounts]
    if not any(weights):
        weights = [1.0] * len(amounts)
    return [quantity * constant(weight / sum(weights)) for weight in weights]


def mixed(parts: Iterable[tuple[Owners, float]]) -> dict[str, float]:
    """The owners of several things together, each with its weight."""
    found: dict[str, float] = {}
    parts = [(owners, weight) for owners, weight in parts if owners]
    whole = sum(weight for _, weight in parts)
    for owners, weight in parts:
        for owner, share in owners.items():
            part = weight / whole if whole else 1.0 / len(parts)
            found[owner] = found.get(owner, 0.0) + share * part
    return found


def grouped(items: Iterable[T], key: Callable[[T], K]) -> dict[K, list[T]]:
    """Things by what they are of, each list in the order they come in."""
    found: dict[K, list[T]] = {}
    for item in items:
        found.setdefault(key(item), []).append(item)
    return found
