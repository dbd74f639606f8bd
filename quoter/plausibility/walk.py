"""The plausibility pass: every value of a catalogue held against its usual range, then to others.

A value outside is a warning with the range, where that is from and how to say that it is meant;
only what physics forbids is an error. Equal slips are gathered where they are told.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from quoter.catalogue.checks_ids import every_record, figure_place
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.catalogue.tables import ExchangeRow
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.plausibility.cases import Cases
from quoter.plausibility.history import jumps
from quoter.plausibility.meant import Doubts, how_to_say, needless
from quoter.plausibility.relations import related
from quoter.plausibility.table import known_names, ranges_of
from quoter.plausibility.usual import Usual, shown
from quoter.problems import Place, Problem
from quoter.units import NONE


def doubts_of(catalogue: Catalogue) -> Doubts:
    """What of a catalogue's values is hard to believe, but for what is said to be meant."""
    doubts = Doubts()
    hold_values(catalogue.records, doubts)
    related(catalogue, doubts)
    jumps(catalogue, doubts)
    return doubts


def hold_values(records: Records, doubts: Doubts) -> None:
    """Tell of every single value that is outside its range, once for each line."""
    told: set[tuple[Place, str]] = set()
    for value in values_of(records):
        if _holds(value.usual, value.size):
            continue
        line = (figure_place(value.figure), value.usual.field)
        if line in told:
            doubts.means(value.record, value.usual.field)
            continue
        told.add(line)
        doubts.add((value.record,), value.usual.field, _unusual(value))


@dataclass(frozen=True, slots=True)
class Held:
    """A value of a catalogue, the range that it is held against, and its size in that unit."""

    record: CatalogueRecord
    usual: Usual
    figure: Figure
    size: float


def values_of(records: Records) -> Iterator[Held]:
    """Every value of a catalogue that has a usual range; an alias gives one more than once."""
    cases = Cases(records)
    for record in every_record(records):
        for name, ranges in ranges_of(type(record)):
            for figure in _figures(getattr(record, name)):
                sized = cases.sized(record, name, figure)
                if sized is None:
                    continue
                usual = ranges.get(sized.case) or ranges.get("")
                if usual is not None:
                    yield Held(record, usual, figure, sized.size)


def left_over(catalogue: Catalogue, doubts: Doubts, *, whole: bool) -> list[Problem]:
    """What is wrong with what is said to be meant, when all that may be unusual was gone through.

    That it keeps nothing quiet is told where the `whole` was priced as it stands, and nothing else
    is unusual: else it may well do so.
    """
    found = needless(catalogue.records, doubts, known_names())
    sure = whole and not doubts.unexplained and not catalogue.settings
    return [problem for problem in found if sure or not problem.warning]


def _figures(value: Any) -> Iterator[Figure]:
    if isinstance(value, Figure):
        yield value
    elif isinstance(value, dict):
        yield from (inner for inner in value.values() if isinstance(inner, Figure))


def _holds(usual: Usual, size: float) -> bool:
    possible = usual.possible
    return usual.bounds.hold(size) and (possible is None or possible.hold(size))


def _unusual(held: Held) -> Problem:
    """That a value is outside its usual range, or beyond what physics leaves open."""
    record, usual, value, size = held.record, held.usual, held.figure, held.size
    origin = input_behind(value).origin
    written = origin.text if origin is not None else shown(usual, value.value)
    as_usual = shown(usual, size)
    told = written if _same_number(written, as_usual) else f"{written} ({as_usual})"
    of = f" of {usual.case}" if usual.case and " " + usual.case not in f" {usual.within}" else ""
    place = figure_place(value)
    if usual.possible is not None and not usual.possible.hold(size):
        what = f"{usual.called} of {told}, and {usual.never} is possible"
        return Problem(place, "impossible", what, usual.why_never)
    what = f"{usual.called} of {told}, and {usual.within} is usual{of}"
    hint = f"{usual.source}; {how_to_say(record, usual.field)}"
    if usual.bounds.unit == NONE and value.form != "percent" and _lacks_sign(usual, size):
        hint = f"is '{value.value:g} %' meant? {hint}"
    if isinstance(record, ExchangeRow) and usual.bounds.hold(1 / size):
        hint = f"it looks upside down: write how much {record.currency} one unit buys; {hint}"
    return Problem(place, "unusual", what, hint, warning=True)


def _lacks_sign(usual: Usual, size: float) -> bool:
    in_percent = usual.within.endswith("%")
    return in_percent and usual.bounds.hold(size / 100)


def _same_number(one: str, other: str) -> bool:
    numbers = [words.partition(" ")[0] for words in (one, other)]
    return not ("%" in other and "%" not in one) and float(numbers[0]) == float(numbers[1])
