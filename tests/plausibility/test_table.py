"""The table is whole, and each range tells what lies outside it and nothing that lies within."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import ceil, floor
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, get_args

import pytest

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.measures import Measure
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.reference import files_told
from quoter.catalogue.tables import ExchangeRow, PriceRow
from quoter.catalogue.values import Maybe
from quoter.figures.graph import input_behind
from quoter.plausibility.meant import Doubts
from quoter.plausibility.table import EXEMPT, RANGES, TABLE, ranges_of
from quoter.plausibility.usual import Usual, bounds
from quoter.plausibility.walk import Held, hold_values, values_of
from quoter.problems import Place, Problem
from tests.plausibility.whole import read_whole, scaled, whole

LOW, HIGH = "low", "high"


def measures() -> Iterator[tuple[type[CatalogueRecord], str]]:
    """Every measured key of every record, once."""
    told = {record.record: record for file in files_told().values() for record in file.records}
    for kind, record in told.items():
        for key in record.keys:
            reading = key.reading.inner if isinstance(key.reading, Maybe) else key.reading
            if isinstance(reading, Measure):
                yield kind, key.name


def test_every_measure_has_a_usual_range_or_a_reason_for_none() -> None:
    found = set(measures())
    assert len(found) > 150
    held = {pair for pair in found if dict(ranges_of(pair[0])).get(pair[1])}
    assert sorted(f"{kind.__name__}.{name}" for kind, name in found - held - {*EXEMPT}) == []
    assert held & {*EXEMPT} == set()
    assert {*EXEMPT} - found == set()
    assert all(len(why.split()) >= 5 for why in EXEMPT.values())


def test_every_range_is_of_a_measure_and_says_where_it_is_from() -> None:
    found = set(measures())
    for usual in RANGES:
        kinds = {kind for kind, name in found if name == usual.field}
        assert any(issubclass(kind, usual.record) for kind in kinds), usual
    keys = [(usual.record, usual.field, usual.case, usual.relation) for usual in TABLE]
    assert len(keys) == len(set(keys))
    assert [usual for usual in TABLE if len(usual.source) < 6 or not usual.within] == []


def test_what_is_no_range_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^no range: $"):
        bounds("")


def ends() -> Iterator[tuple[Usual, str]]:
    """Each end of each range."""
    for usual in RANGES:
        for end in (LOW, HIGH):
            if getattr(usual.bounds, end) is not None:
                yield usual, end


def _batch(usual: Usual, end: str) -> tuple[bool, str]:
    """Which catalogue an end is tried in: prices are compared by masses, so they are apart."""
    return usual.record in (PriceRow, ExchangeRow), end


@cache
def sound() -> tuple[dict[Usual, Held], list[Problem]]:
    """A value for each range of the whole catalogue, and what is told of all of them."""
    with TemporaryDirectory() as kept:
        records = read_whole(whole(Path(kept) / "yard"))
        doubts = Doubts()
        hold_values(records, doubts)
        found: dict[Usual, Held] = {}
        for held in values_of(records):
            if held.size and held.usual not in found and not _ranged(held):
                found[held.usual] = held
        return found, doubts.found


@cache
def beyond(batch: tuple[bool, str]) -> dict[Place, list[Problem]]:
    """What is told where the values of a batch lie beyond an end of their ranges."""
    end = batch[1]
    moved = []
    for usual, held in sound()[0].items():
        limit = getattr(usual.bounds, end)
        if limit is None or _batch(usual, end) != batch:
            continue
        size = limit * (0.9 if (end == LOW) == (limit > 0) else 1.1)
        whole_number = floor(size) if end == LOW else ceil(size)
        moved.append((held, float(whole_number) if _whole(usual) else size))
    with TemporaryDirectory() as kept:
        folder = whole(Path(kept) / "yard")
        scaled(folder, moved)
        doubts = Doubts()
        hold_values(read_whole(folder), doubts)
    told: dict[Place, list[Problem]] = {}
    for problem in doubts.found:
        told.setdefault(Place(problem.place.file, problem.place.line), []).append(problem)
    return told


def _ranged(held: Held) -> bool:
    """Whether a range of its own follows the value, which would have to hold it."""
    origin = input_behind(held.figure).origin
    return origin is None or origin.low is not None


def _whole(usual: Usual) -> bool:
    """Whether a measure is read as a whole number alone."""
    field = usual.record.model_fields[usual.field]
    return any(isinstance(each, Measure) and each.whole for each in _readings(field))


def _readings(field: Any) -> Iterator[object]:
    yield from field.metadata
    for inner in get_args(field.annotation):
        yield from getattr(inner, "__metadata__", ())


def _named(value: object) -> str:
    if isinstance(value, Usual):
        return f"{value.record.__name__}.{value.field}-{value.case}"
    return str(value)


def test_the_whole_catalogue_has_every_measure_and_nothing_unusual() -> None:
    values, told = sound()
    assert [_named(usual) for usual in RANGES if usual not in values] == []
    assert [str(problem) for problem in told] == []


@pytest.mark.parametrize(("usual", "end"), [*ends()], ids=_named)
def test_a_value_beyond_the_end_of_a_range_is_told_with_the_range(usual: Usual, end: str) -> None:
    held = sound()[0][usual]
    place = figure_place(held.figure)
    told = beyond(_batch(usual, end)).get(Place(place.file, place.line), [])
    named = [p for p in told if p.place.column == place.column or place.file.endswith("csv")]
    (problem,) = [p for p in named if p.what.startswith(usual.called)]
    if problem.code == "impossible":
        assert not problem.warning
        assert problem.hint == usual.why_never
        assert f"{usual.never} is possible" in problem.what
    else:
        assert problem.warning
        assert f", and {usual.within} is usual" in problem.what
        assert usual.source in problem.hint
        assert "if it is meant" in problem.hint
