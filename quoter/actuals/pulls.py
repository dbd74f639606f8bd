"""Pieces that were pulled: how many entered and how many should have, and what more of them takes.

Where pulls of a part are booked, its standard is flexed to the pieces that entered, so that what
scrapped ones took is told as scrap and not as usage or as slow work. Everybody who compares flexes
here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from quoter.actuals.standards import Pieces
from quoter.catalogue.booked import PullRow
from quoter.catalogue.booked_words import month_of
from quoter.engineering.yields import flexed_quantity
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.problems import Place

NONE = constant(0.0)


@dataclass(frozen=True, slots=True)
class Pulled:
    """Pieces of a part: as many as were planned to enter for the good ones, and as many as did.

    `rows` are the lines of pulls.csv that say so; none of a part that is used in one of which they
    tell.
    """

    part: str
    planned: Figure
    entered: Figure
    rows: tuple[Place, ...]


def by_scope(
    rows: Iterable[PullRow], part_of: Callable[[PullRow], str]
) -> dict[str, dict[str, list[PullRow]]]:
    """The lines of pulls by the key of the part, of each job or of a month where none is named.

    Args:
        rows: lines of pulls.csv, none of them after the day that is asked about
        part_of: the key of the assembly that a line names; it is left out where that is empty
    """
    found: dict[str, dict[str, list[PullRow]]] = {}
    for row in rows:
        if part := part_of(row):
            scope = str(row.job or month_of(row.date))
            found.setdefault(scope, {}).setdefault(part, []).append(row)
    return found


def good_in(rows: Sequence[PullRow]) -> Figure:
    """The good pieces of some lines, one at least."""
    return total([row.good for row in rows], NONE)


def pulled(
    pieces: Sequence[Pieces], rows: Mapping[str, Sequence[PullRow]], key: str, name: str
) -> dict[str, Pulled]:
    """What entered of each part that pulls are booked of, and of the parts used in those, by key.

    The standard is of the pieces that are needed, whatever good ones were pulled: one more or less
    went to stock or came from there, and is no scrap. What enters is what is needed and what was
    scrapped; a part used in scrapped ones is needed once more.

    Args:
        pieces: needed by the standard, the parts first
        rows: lines of pulls by the part's key
        key: begins the figures' keys
        name: what they are of, such as a job
    """
    found: dict[str, Pulled] = {}
    again: dict[str, list[Figure]] = {}
    for each in reversed(pieces):
        part = each.assembly.recipe.key
        own, more = rows.get(part, ()), again.get(part, [])
        if not own and not more:
            continue
        scrapped = [row.scrapped for row in own]
        entered = each.good if own else each.entering
        entered = total([entered, *scrapped, *more], NONE)
        label = phrase("{name}: {part}, pieces that entered", name=name, part=each.assembly.name)
        entered = entered.named(f"{key}.{part}.entered", label)
        found[part] = Pulled(part, each.entering, entered, tuple(row.place for row in own))
        for use in each.assembly.recipe.uses:
            if not use.credit:
                extra = (entered - each.entering) * use.quantity
                again.setdefault(use.assembly.recipe.key, []).append(extra)
    return found


def flexed(quantity: Figure, part: str, of: Mapping[str, Pulled]) -> Figure:
    """What a part should take of something, flexed to the pieces that entered.

    Args:
        quantity: what the pieces that were planned to enter take: material, hours or money
        part: its key
        of: the parts that pulls are known of; the quantity of another one stays itself
    """
    known = of.get(part)
    if known is None or not known.planned.value:
        return quantity
    each = quantity / known.planned
    return flexed_quantity(quantity, known.entered, known.planned, each)


def rows_of(parts: Iterable[str], of: Mapping[str, Pulled]) -> tuple[Place, ...]:
    """The lines of pulls behind what some parts are flexed by."""
    return tuple(place for part in parts if part in of for place in of[part].rows)
