"""What moved between two costings, by cause: figures and catalogue lines with both their values.

A bridge says how much each cause moved a cost; this says which lines of the catalogue did it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from quoter.analysis.causes import EXCHANGE, PRICES, RECIPES, WAGES, Swap, swaps_of
from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.figures.graph import in_order, inputs_of
from quoter.figures.kernel import same as close

_DATE = re.compile(r"\.\d{4}-\d\d-\d\d(?=\.|$)")
_DAY = re.compile(r", \d{4}-\d\d-\d\d(?=,|$)")
# Files of dated rows that are a cause of their own, whatever figure they enter.
_OF_FILES = {"exchange": EXCHANGE, "wages": WAGES}


@dataclass(frozen=True, slots=True)
class Moved:
    """A figure that is another on the new side, None where a side lacks it.

    `lines` are the lines of the catalogue under it that the cause is about; a line itself has none.
    """

    old: Figure | None
    new: Figure | None
    lines: tuple[Moved, ...] = ()

    @property
    def label(self) -> str:
        """What it is called, by the new side where that has it, without a row's date."""
        figure = self.old if self.new is None else self.new
        return "" if figure is None else _DAY.sub("", figure.label or figure.key)


class Moves:
    """Two costings, asked what moved the outputs of some boat, option or total."""

    def __init__(self, before: Costing, after: Costing) -> None:
        """Find the figures that differ on both sides, once."""
        sides = {False: before, True: after}
        self._swaps: dict[str, Swap] = {}
        self._figures: dict[bool, dict[str, Figure]] = {False: {}, True: {}}
        for side, costing in sides.items():
            found = swaps_of(before, after, side)
            self._swaps |= {meaning(swap.figure): swap for swap in found}
            for figure in (*_rates(costing, sides[not side]), *(swap.figure for swap in found)):
                self._figures[side][meaning(figure)] = figure

    def of(self, old: Sequence[Figure], new: Sequence[Figure]) -> dict[str, tuple[Moved, ...]]:
        """What moved some outputs, by cause.

        Args:
            old: outputs of the old side
            new: the same of the new side
        """
        found: dict[str, list[Moved]] = {}
        own: dict[bool, list[Figure]] = {}
        met: dict[str, None] = {}
        for side, outputs in ((False, old), (True, new)):
            stops = set(self._figures[side].values())
            reached = list(_until(outputs, stops))
            met |= dict.fromkeys(meaning(figure) for figure in reached if figure in stops)
            own[side] = [figure for figure in reached if figure not in stops]
        for name in met:
            for cause, moved in self._moved(name):
                found.setdefault(cause, []).append(moved)
        written = ([f for f in side if f.op == "input"] for side in (own[False], own[True]))
        recipe = [*_differences(*written), *self._built_otherwise(own[False], new)]
        found.setdefault(RECIPES, []).extend(Moved(*pair) for pair in recipe)
        return {cause: tuple(each) for cause, each in found.items() if each}

    def _built_otherwise(
        self, old: Iterable[Figure], new: Sequence[Figure]
    ) -> Iterator[tuple[Figure, Figure]]:
        """Named figures of other values though nothing under them has one: the sum is another."""
        was = {_undated(figure): figure for figure in old if figure.key}
        stops = set(self._figures[True].values())
        moved: set[Figure] = set()
        for figure in in_order(new):
            if figure in stops:
                if meaning(figure) in self._swaps:
                    moved.add(figure)
                continue
            name = _undated(figure)
            below = any(arg in moved for arg in figure.args)
            differs = figure.key and name in was and not close(was[name].value, figure.value)
            if below or differs:
                moved.add(figure)
            if differs and not below and figure.args:
                yield was[name], figure

    def _moved(self, name: str) -> Iterator[tuple[str, Moved]]:
        """What a figure that both sides have tells under each of its causes."""
        old, new = (self._figures[side].get(name) for side in (False, True))
        swap = self._swaps.get(name)
        causes = swap.causes if swap is not None else (RECIPES,)
        lines: dict[str, list[Moved]] = {}
        pairs = list(_differences(_inputs(old), _inputs(new)))
        for pair in pairs:
            lines.setdefault(_cause_of(pair, causes), []).append(Moved(*pair))
        for cause in causes if swap is not None else ():
            if swap is not None and swap.by(cause):
                inner = tuple(lines.get(cause, ()))
                whole = inner and all(_is_line(side) for side in (old, new))
                yield cause, inner[0] if whole else Moved(old, new, inner)
        for moved in lines.get(RECIPES, ()) if RECIPES not in causes or swap is None else ():
            yield RECIPES, moved


def meaning(figure: Figure) -> str:
    """A figure's key without the date of the file or row it stands in.

    >>> meaning(Figure(1.0, key="exchange.USD.2026-09-01.rate"))
    'exchange.USD.rate'
    """
    return _undated(figure).removesuffix(".working")


def _undated(figure: Figure) -> str:
    return _DATE.sub("", figure.key)


def _rates(costing: Costing, other: Costing) -> Iterator[Figure]:
    """Figures of the rates that both sides have: what is below them is not the recipe's."""
    own, theirs = costing.rates, other.rates
    yield from (figure for id, figure in own.prices.items() if id in theirs.prices)
    yield from (figure for id, figure in own.pulls.items() if id in theirs.pulls)
    for id, station in own.stations.items():
        if id in theirs.stations:
            yield station.labour
            if station.station.overhead.base == theirs.stations[id].station.overhead.base:
                yield from (station.variable, station.fixed)


def _until(outputs: Iterable[Figure], stops: set[Figure]) -> Iterator[Figure]:
    """Every figure the outputs depend on, each once, but nothing below a stop."""
    waiting = list(reversed(list(outputs)))
    seen: set[Figure] = set()
    while waiting:
        figure = waiting.pop()
        if figure in seen:
            continue
        seen.add(figure)
        yield figure
        if figure not in stops:
            waiting.extend(reversed(figure.args))


def _inputs(figure: Figure | None) -> list[Figure]:
    return [] if figure is None else inputs_of([figure])


def _is_line(figure: Figure | None) -> bool:
    """Whether a figure is a catalogue value, or its conversion to base units."""
    if figure is None:
        return True
    inputs = inputs_of([figure])
    return len(inputs) == 1 and meaning(inputs[0]) == meaning(figure)


def _differences(
    old: Iterable[Figure], new: Iterable[Figure]
) -> Iterator[tuple[Figure | None, Figure | None]]:
    """Inputs by meaning whose values differ; then what one side lacks, by what it is in its row."""
    was, now = ({meaning(figure): figure for figure in side} for side in (old, new))
    for name, figure in now.items():
        if name in was and not _same(was[name], figure):
            yield was[name], figure
    gone = [figure for name, figure in was.items() if name not in now]
    for name, figure in now.items():
        if name in was:
            continue
        twin = next((old for old in gone if _role(old) == _role(figure)), None)
        if twin is not None:
            gone.remove(twin)
        if twin is None or not _same(twin, figure):
            yield twin, figure
    yield from ((figure, None) for figure in gone)


def _same(old: Figure, new: Figure) -> bool:
    return (old.value, old.unit) == (new.value, new.unit)


def _role(figure: Figure) -> tuple[str, str]:
    """The file an input stands in, and its column or key there."""
    name = meaning(figure)
    return name.partition(".")[0], name.rpartition(".")[2]


def _cause_of(pair: tuple[Figure | None, Figure | None], causes: Sequence[str]) -> str:
    """Which of a figure's causes a line under it belongs to."""
    figure = pair[0] if pair[1] is None else pair[1]
    file = "" if figure is None else meaning(figure).partition(".")[0]
    if file in _OF_FILES and _OF_FILES[file] in causes:
        return _OF_FILES[file]
    if causes[0].startswith(PRICES):
        return RECIPES if file == "materials" else causes[0]
    return causes[-1]
