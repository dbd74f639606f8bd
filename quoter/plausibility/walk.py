"""The plausibility pass: every value of a catalogue held against its usual range, then to others.

A value outside is a warning with the range, where that is from and how to say that it is meant;
only what physics forbids is an error. Equal slips are gathered where they are told.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.checks_ids import every_record, figure_place
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import CatalogueRecord
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.plausibility.cases import Cases
from quoter.plausibility.history import jumps
from quoter.plausibility.meant import Doubts, how_to_say, needless
from quoter.plausibility.relations import related
from quoter.plausibility.table import known_names, ranges_of
from quoter.plausibility.usual import Usual
from quoter.problems import Place, Problem
from quoter.units import NONE, to_base, unit


def doubts_of(catalogue: Catalogue) -> Doubts:
    """What of a catalogue's values is hard to believe, but for what is said to be meant."""
    doubts = Doubts()
    cases = Cases(catalogue.records)
    told: set[tuple[Place, str]] = set()
    for record in every_record(catalogue.records):
        for name, ranges in ranges_of(type(record)):
            for value in _figures(getattr(record, name)):
                sized = cases.sized(record, name, value)
                usual = None
                if sized is not None:
                    usual = ranges.get(sized.case) or ranges.get("")
                if sized is None or usual is None or _holds(usual, sized.size):
                    continue
                place = figure_place(value)
                if (place, name) not in told:
                    told.add((place, name))
                    doubts.add((record,), name, unusual(record, usual, value, sized.size))
                else:
                    doubts.means(record, name)
    related(catalogue, doubts)
    jumps(catalogue, doubts)
    return doubts


def left_over(catalogue: Catalogue, doubts: Doubts, *, whole: bool) -> list[Problem]:
    """What is wrong with what is said to be meant, when all that may be unusual was gone through.

    That it keeps nothing quiet is told where the `whole` was priced, as of the newest price list:
    on another day it may well do so. Nor is it told of a line that another took the place of.
    """
    found = needless(catalogue, doubts, known_names())
    newest = catalogue.as_of >= max(catalogue.records.price_lists)
    return [problem for problem in found if (whole and newest) or not problem.warning]


def _figures(value: Any) -> Iterator[Figure]:
    if isinstance(value, Figure):
        yield value
    elif isinstance(value, dict):
        yield from (inner for inner in value.values() if isinstance(inner, Figure))


def _holds(usual: Usual, size: float) -> bool:
    possible = usual.possible
    return usual.bounds.hold(size) and (possible is None or possible.hold(size))


def unusual(record: CatalogueRecord, usual: Usual, value: Figure, size: float) -> Problem:
    """That a value is outside its usual range, or beyond what physics leaves open."""
    origin = input_behind(value).origin
    written = origin.text if origin is not None else shown(usual, value.value)
    same = shown(usual, size)
    told = written if same == written else f"{written} ({same})"
    of = f" of {usual.case}" if usual.case and " " + usual.case not in f" {usual.within}" else ""
    place = figure_place(value)
    if usual.possible is not None and not usual.possible.hold(size):
        what = f"{usual.called} of {told}, and {usual.never} is possible"
        return Problem(place, "impossible", what, usual.why_never)
    what = f"{usual.called} of {told}, and {usual.within} is usual{of}"
    hint = f"{usual.source}; {how_to_say(record, usual.field)}"
    if usual.bounds.unit == NONE and value.form != "percent" and _lacks_sign(usual, size):
        hint = f"is '{value.value:g} %' meant? {hint}"
    return Problem(place, "unusual", what, hint, warning=True)


def _lacks_sign(usual: Usual, size: float) -> bool:
    in_percent = usual.within.endswith("%")
    return in_percent and usual.bounds.hold(size / 100)


def shown(usual: Usual, size: float) -> str:
    """A size in the unit that a range is written in."""
    words = usual.within.partition(" to ")[2] or usual.within.split(" ", 2)[2]
    symbol = words.partition(" ")[2]
    if symbol == "%":
        return f"{size * 100:.4g} %"
    factor = float(to_base(unit(symbol))[1]) if symbol else 1.0
    about = "about " if "EUR" in symbol else ""
    return f"{about}{size / factor:.4g} {symbol}".rstrip()
