"""Lines of variance added up: by kind, part, option, station, material, job, month or operation.

Every summary adds up to the total of its lines. What a line can't be allotted to stands under a
name of its own, so that nothing is lost and nothing guessed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from quoter.actuals.compared import KINDS, Actuals, Line
from quoter.catalogue.adding import ACTUALS
from quoter.figures import Figure, constant, total
from quoter.figures.graph import inputs_of
from quoter.phrases import capital, phrase, together
from quoter.problems import Place

Dimension = Literal["kind", "part", "option", "station", "material", "job", "month", "operation"]
DIMENSIONS: dict[Dimension, str] = {
    "kind": phrase("by kind"),
    "part": phrase("by part"),
    "option": phrase("by option"),
    "station": phrase("by station"),
    "material": phrase("by material"),
    "job": phrase("by job"),
    "month": phrase("by month"),
    "operation": phrase("by operation"),
}
# What a line is told under that has nothing of a dimension.
UNALLOTTED: dict[Dimension, str] = {
    "kind": phrase("of no kind"),
    "part": phrase("not booked by part"),
    "option": phrase("not of a job"),
    "station": phrase("at no station"),
    "material": phrase("work and overhead"),
    "job": phrase("not booked on a job"),
    "month": phrase("of no month"),
    "operation": phrase("not booked by operation"),
}
NONE = ""  # the id of what can't be allotted
BOAT_ITSELF = "boat"  # the id of what belongs to no option
AT = "#"  # between a part's key and an operation's number
# Of a share of a line: what it belongs to by its id, and its amount.
Share = tuple[str, Figure]


@dataclass(frozen=True, slots=True)
class Sum:
    """What lines come to that belong to one thing; its `id` is empty where they belong to none."""

    id: str
    name: str
    amount: Figure
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Summary:
    """Sums of one dimension, the largest first whichever way it goes, and their total."""

    of: Dimension
    sums: tuple[Sum, ...]
    total: Figure


@dataclass(frozen=True, slots=True)
class Trace:
    """What a line rests on: its rows of the tables, and lines of the catalogue."""

    rows: tuple[Place, ...]
    standards: tuple[Place, ...]


def summary_of(
    actuals: Actuals, of: Dimension, lines: Sequence[Line] | None = None, within: str = ""
) -> Summary:
    """Lines added up by one dimension.

    Args:
        actuals: of which they are
        of: the dimension
        lines: some of them, such as those of a month; all unless given
        within: a word for the choice, such as the month, which the sums' keys hold
    """
    chosen = actuals.lines if lines is None else lines
    shares: dict[str, list[Figure]] = {}
    resting: dict[str, list[Line]] = {}
    for line in chosen:
        for id, amount in _shares(line, of):
            shares.setdefault(id, []).append(amount)
            resting.setdefault(id, []).append(line)
    nothing = constant(0.0, actuals.pricing.catalogue.currency)
    begins, name_of = f"actual.sum{within and '.'}{within}.{of}", names_of(actuals, of)
    sums = []
    for id, amounts in shares.items():
        name = name_of(id)
        amount = total(amounts, nothing).named(
            f"{begins}.{id or 'none'}", phrase("Variance, {name}", name=name)
        )
        sums.append(Sum(id, name, amount, tuple(resting[id])))
    whole = total([each.amount for each in sums], nothing)
    label = phrase("Variances in all, {by}", by=DIMENSIONS[of])
    return Summary(of, tuple(largest_sums(sums)), whole.named(f"{begins}.total", label))


def largest_first(lines: Iterable[Line]) -> list[Line]:
    """Lines by the size of their amounts, whichever way they go; equal ones as they came."""
    return sorted(lines, key=lambda line: -abs(line.amount.value))


def largest_sums(sums: Iterable[Sum]) -> list[Sum]:
    """Sums by their size, whichever way they go; equal ones as they came."""
    return sorted(sums, key=lambda each: -abs(each.amount.value))


def in_month(lines: Iterable[Line], month: str) -> list[Line]:
    """The lines of a month such as ``2026-08``."""
    return [line for line in lines if line.scope.month == month]


def trace_of(line: Line) -> Trace:
    """What a line rests on: the rows it names, and all catalogue lines behind its amount."""
    origins = [figure.origin for figure in inputs_of([line.amount]) if figure.origin is not None]
    places = dict.fromkeys(origin.place for origin in origins)
    standards = [place for place in places if not place.file.startswith(f"{ACTUALS}/")]
    return Trace(line.rows, tuple(standards))


def _shares(line: Line, of: Dimension) -> Iterator[Share]:
    """What of a line belongs to what; by option as its owners share it, else all of it."""
    if of != "option" or not line.owners:
        yield _whole_id(line, of), line.amount
        return
    left = line.amount
    *others, last = line.owners.items()
    for owner, share in others:
        part = line.amount * constant(share)
        left = left - part
        yield owner or BOAT_ITSELF, part
    yield last[0] or BOAT_ITSELF, left


def _whole_id(line: Line, of: Dimension) -> str:
    scope = line.scope
    if of == "kind":
        return line.kind
    if of == "operation":
        return f"{scope.part}{AT}{scope.operation}" if scope.operation else NONE
    if of == "option":
        return NONE
    return str(getattr(scope, of))


def names_of(actuals: Actuals, of: Dimension) -> Callable[[str], str]:
    """What people call what has an id in a dimension."""
    records = actuals.pricing.catalogue.records
    known: dict[str, str] = {}
    if of == "kind":
        known = {kind: capital(words) for kind, words in KINDS.items()}
    elif of == "option":
        known = {id: str(option.name) for id, option in records.options.items()}
        known |= {id: str(package.name) for id, package in records.packages.items()}
        known[BOAT_ITSELF] = phrase("the boat itself")
    elif of == "station":
        known = {id: str(station.name) for id, station in records.stations.items()}
    elif of == "material":
        known = {id: str(material.name) for id, material in records.materials.items()}
    elif of == "part":
        known = {key: assembly.name for key, assembly in actuals.assemblies.items()}
    elif of == "operation":
        known = dict(_operations(actuals))
    return lambda id: known.get(id, id) if id else UNALLOTTED[of]


def _operations(actuals: Actuals) -> Iterator[tuple[str, str]]:
    for key, assembly in actuals.assemblies.items():
        for number, operation in enumerate(assembly.recipe.operations, 1):
            name = together(": ", (assembly.name, str(operation.name)))
            yield f"{key}{AT}{number}", name
