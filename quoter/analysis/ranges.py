"""What each input behind a cost may be, and why: by a range of its own, its kind or its history.

Written beside the value comes first; then the range that the policy states for its kind; then what
the dated rows of that price, rate or wage show; at last a range of the house.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from quoter.analysis.causes import prices_of
from quoter.analysis.kinds import KIND_WORDS, Known, known_inputs
from quoter.analysis.spreads import Group, Spread, spread_of
from quoter.catalogue.certainty import (
    BASIS_WORDS,
    KINDS,
    PRICES,
    RATES,
    TIMES,
    TOGETHER,
    WAGES,
    UsualRange,
)
from quoter.catalogue.prices import Catalogue
from quoter.engineering.uncertainty import range_end
from quoter.figures import Bounds, Figure, stated
from quoter.figures.figure import ANYTHING
from quoter.figures.graph import input_behind
from quoter.phrases import Phrase, phrase, together
from quoter.problems import Place
from quoter.units import quantity

WRITTEN, KIND = phrase("as written"), phrase("by its kind")
HISTORY, HOUSE = phrase("by its history"), phrase("by the house")
SOURCES = (WRITTEN, KIND, HISTORY, HOUSE)
PRACTICE = phrase("common practice")
SEEN = {
    "fall": phrase("{label}: largest fall seen"),
    "rise": phrase("{label}: largest rise seen"),
}
FEWEST_ROWS = 3  # of a history; two moves are the least that say anything of how far moves go
UNKNOWN = phrase("of no key of the catalogue")
NOTHING = phrase("nothing, and a part of nothing is nothing")


@dataclass(frozen=True, slots=True)
class Varying:
    """An input that may be lower or higher: its range, which source it has and the reason in words.

    `below` and `above` are the parts of the likely value that the range goes by, where it is not
    written: figures, so that a workbook may change them.
    """

    figure: Figure
    spread: Spread
    source: str
    reason: str
    kind: str = ""
    group: Group | None = None
    sign: int = 1
    below: Figure | None = None
    above: Figure | None = None


@dataclass(frozen=True, slots=True)
class _Parts:
    """How far a range goes below and above, where that is from, and in words."""

    below: Figure
    above: Figure
    source: str
    reason: str


def bounds_of(figure: Figure) -> Bounds:
    """The limits of what may be written for an input."""
    return figure.origin.bounds if figure.origin is not None else ANYTHING


def lower_limit(figure: Figure) -> float | None:
    """The least that a range may reach: the input's limit, or half-way to one that is out of reach.

    A limit of nothing is none: a part of an amount is more than that.
    """
    least, _, above, _ = bounds_of(figure)
    if not least:
        return None
    return (figure.value + least) / 2 if above else least


def upper_limit(figure: Figure) -> float | None:
    """The most that a range may reach: the input's limit, or half-way to one out of reach."""
    _, most, _, below = bounds_of(figure)
    return (figure.value + most) / 2 if most is not None and below else most


def as_written(figures: Iterable[Figure]) -> dict[Figure, Varying]:
    """The inputs among the figures that have a range written beside them."""
    found = {}
    for figure in figures:
        if (spread := spread_of(figure)) is not None:
            found[figure] = _written(figure, spread)
    return found


def _written(figure: Figure, spread: Spread, known: Known | None = None) -> Varying:
    shape = " triangular" if spread.shape == "triangular" else ""
    scale, unit = (100, " %") if figure.form == "percent" else (1, "")
    written = f"[{spread.low * scale:g} to {spread.high * scale:g}{shape}]{unit}"
    reason = phrase("{written} beside it", written=written)
    return Varying(figure, spread, WRITTEN, reason, known.kind if known else "")


class Ranges:
    """The range of every input of a catalogue, each found when it is first asked for."""

    def __init__(self, catalogue: Catalogue) -> None:
        """Nothing is found yet."""
        self._catalogue = catalogue
        policy = catalogue.yard.policy.certainty
        self._together = policy.together if policy is not None else ()
        self._known = known_inputs(catalogue)
        self._usual = {
            (line.of, line.basis): line for line in (policy.ranges if policy is not None else ())
        }
        self._history = histories(catalogue)
        self._found: dict[Figure, Varying | str] = {}
        self.correlations = {name: self._correlation(name) for name in TOGETHER}

    def varying(self, inputs: Iterable[Figure]) -> dict[Figure, Varying]:
        """The inputs that vary, and what each may be."""
        return {f: found for f in inputs if isinstance(found := self._of(f), Varying)}

    def exact(self, inputs: Iterable[Figure]) -> dict[Figure, str]:
        """The inputs that do not vary, and why."""
        return {f: found for f in inputs if isinstance(found := self._of(f), str)}

    def _of(self, figure: Figure) -> Varying | str:
        if figure not in self._found:
            self._found[figure] = self._range(figure)
        return self._found[figure]

    def _range(self, figure: Figure) -> Varying | str:
        known = self._known.get(figure, Known(UNKNOWN))
        varies = known.kind in KINDS
        group = self._group(known) if varies else None
        sign = KINDS[known.kind].sign if varies else 1
        if (spread := spread_of(figure)) is not None:
            own = _written(figure, spread)
            return Varying(figure, spread, WRITTEN, own.reason, known.kind, group, sign)
        if not varies:
            return known.kind
        if not figure.value:
            return NOTHING
        parts = self._parts(figure, known)
        low = range_end(figure.value, -parts.below.value)
        high = range_end(figure.value, parts.above.value)
        least, most = lower_limit(figure), upper_limit(figure)
        low = low if least is None else max(low, least)
        high = high if most is None else min(high, most)
        return Varying(
            figure=figure,
            spread=Spread(low, figure.value, high),
            source=parts.source,
            reason=parts.reason,
            kind=known.kind,
            group=group,
            sign=sign,
            below=parts.below,
            above=parts.above,
        )

    def _group(self, known: Known) -> Group | None:
        together = KINDS[known.kind].together
        if not together:
            return None
        correlation = self.correlations[together].value
        among = known.among
        if together in (RATES, WAGES):
            words = (
                phrase("rates of exchange") if together == RATES else phrase("wages and on-costs")
            )
            return Group(together, words, correlation, together)
        if together == TIMES and among in self._catalogue.records.stations:
            name = str(self._catalogue.records.stations[among].name)
            words = phrase("times at {name}", name=name)
        else:
            words = prices_of(among).lower()
        return Group(f"{together} {among}", words, correlation, together)

    def _correlation(self, name: str) -> Figure:
        for line in self._together:
            if line.of == name:
                return line.correlation
        label = phrase("{name}, moving together", name=KIND_WORDS[name])
        return _house(f"together.{name}", label, TOGETHER[name])

    def _parts(self, figure: Figure, known: Known) -> _Parts:
        kind = KINDS[known.kind]
        basis = known.basis if kind.by_basis else ""
        told = KIND_WORDS[known.kind]
        if basis:
            told = together(" ", (told, BASIS_WORDS[basis]))
        line = self._usual.get((known.kind, basis or None)) or self._usual.get((known.kind, None))
        if line is not None:
            return _Parts(line.low, line.high, KIND, together(", ", (told, *_by(line))))
        history = self._history.get(figure)
        if history is not None and (steps := largest_steps(history)) is not None:
            key = f"{figure.key}.history"
            below, above = (
                _house(f"{key}.{way}", phrase(seen, label=figure.label), step)
                for (way, seen), step in zip(SEEN.items(), steps, strict=True)
            )
            reason = phrase(
                "{rows} dated rows; largest steps {steps}",
                rows=len(history),
                steps=_percents(*steps),
            )
            return _Parts(below, above, HISTORY, reason)
        low, high = kind.house_range(basis)
        key, label = (
            f"range.{told.replace(' ', '_')}",
            phrase("{told}, range of the house", told=told),
        )
        below, above = _house(f"{key}.low", label, low), _house(f"{key}.high", label, high)
        return _Parts(below, above, HOUSE, together(", ", (told, _percents(low, high), PRACTICE)))


def _by(line: UsualRange) -> tuple[str, str]:
    return _percents(line.low.value, line.high.value), f"{line.place.file}:{line.place.line}"


def _percents(low: float, high: float) -> Phrase:
    return phrase("{low} to {high}", low=f"-{low * 100:.3g} %", high=f"+{high * 100:.3g} %")


def _house(key: str, label: str, value: float) -> Figure:
    number = Figure(value, quantity("1").base, form="percent")
    return stated(number, key.replace(" ", "_"), label, Place(""))


def histories(catalogue: Catalogue) -> dict[Figure, Sequence[float]]:
    """Each price, rate and wage in force -> what it was on each dated row up to now, itself last.

    A price's rows are those of the same supplier, per the same unit.
    """
    records, day = catalogue.records, catalogue.as_of
    rows: dict[tuple[str, ...], list[Figure]] = {}
    for listed in sorted(each for each in records.price_lists if each <= day):
        for row in records.price_lists[listed]:
            name = (PRICES, str(row.material), str(row.supplier), str(row.price.unit))
            rows.setdefault(name, []).append(row.price)
    for rate in sorted((r for r in records.exchange if r.date <= day), key=lambda r: r.date):
        rows.setdefault((RATES, str(rate.currency)), []).append(rate.rate)
    for paid in sorted((w for w in records.wages if w.date <= day), key=lambda w: w.date):
        rows.setdefault((WAGES, str(paid.group), str(paid.wage.unit)), []).append(paid.wage)
    return {input_behind(found[-1]): [each.value for each in found] for found in rows.values()}


def largest_steps(values: Sequence[float]) -> tuple[float, float] | None:
    """The largest fall and rise from one value to the next, as parts; None where nothing is told.

    It takes three values, since one move says nothing of how far moves go. Where all moves went one
    way the other way is taken for as far: a few rows don't prove that it can't be.

    >>> [round(step, 3) for step in largest_steps([1.14, 1.105, 1.16, 1.16])]
    [0.031, 0.05]
    >>> largest_steps([100.0, 80.0, 80.0])
    (0.2, 0.25)
    """
    if len(values) < FEWEST_ROWS or min(values) <= 0:
        return None
    ratios = [new / old for old, new in pairwise(values)]
    fall, rise = 1 - min(ratios), max(ratios) - 1
    fall, rise = max(fall, 0.0), max(rise, 0.0)
    if not fall and not rise:
        return None
    return (fall or rise / (1 + rise), rise or round(fall / (1 - fall), 12))
