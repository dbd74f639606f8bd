"""In which units people read: metric ones, those of the US, or both beside each other.

A costing computes in kg, m, h and Pa whatever its catalogue is written in. Here is the one table of
what a reader sees instead. `Reader.shown` says a finished number in the reader's unit, for pages
and messages. `Retold` tells a whole computation in other units, for workbooks and explanations: it
is the same formulas in coherent units of the other system (lb, ft, psi), with a conversion only
where people read a unit that is not coherent, such as ounces of cloth or gallons.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cache

from quoter.figures.figure import Figure, Origin, called_as, convert, make, resting_on
from quoter.figures.graph import in_order
from quoter.units import NEWTON, NONE, Unit, to_base, unit

THIN = "thin"  # the form of a length that is read in mm or inches: a thickness, a gap, a radius
SUCTION = "suction"  # the form of a pressure that a vacuum gauge shows

CHOICES = ("metric", "US", "metric and US")  # what a yard or a market may ask for
BOTH = CHOICES[-1]
PAPERS = ("A4", "Letter")
WORKING = ".working"  # ends the key of what a written input is in base units


@dataclass(frozen=True, slots=True)
class System:
    """Units that go together: which symbols belong to it, and what a quantity is read in.

    `coherent` has a symbol for each base symbol, so that formulas hold as they are; `read` names
    another unit for what people don't read in a product of those. ``money`` stands for any
    currency. `instead` has a symbol for each that people write in another system.
    """

    name: str
    own: frozenset[str]
    coherent: Mapping[str, str]
    instead: Mapping[str, str]
    read: Mapping[str, str]
    forms: Mapping[str, str]

    def written(self, unit_of_input: Unit) -> Unit:
        """What a unit that somebody wrote would be here, symbol by symbol; its own stay."""
        return _written(self.name, unit_of_input)

    def coherent_unit(self, base: Unit) -> Unit:
        """The same dimension in this system's coherent symbols."""
        return _coherent(self.name, base)

    def unit_for(self, base: Unit, form: str = "") -> Unit:
        """The unit that a quantity of this dimension is read in.

        Args:
            base: its unit in base symbols
            form: `THIN` or `SUCTION` where that is read in another unit than its dimension
        """
        return _read_in(self.name, base, form)


_METRIC = frozenset(
    ["kg", "g", "t", "um", "mm", "cm", "m", "mL", "L", "N", "kN", "Pa", "kPa", "bar", "m3"]
)
_US = frozenset(
    ["lb", "oz", "cwt", "mil", "in", "ft", "yd", "floz", "pt", "qt", "gal", "lbf", "psi", "inHg"]
)
_OF_A_SYSTEM = _METRIC | _US

METRIC = System(
    "metric",
    _METRIC,
    {},
    {
        "lb": "kg",
        "oz": "g",
        "cwt": "kg",
        "mil": "um",
        "in": "mm",
        "ft": "m",
        "yd": "m",
        "floz": "mL",
        "pt": "L",
        "qt": "L",
        "gal": "L",
        "lbf": "N",
        "psi": "kPa",
        "inHg": "kPa",
    },
    {"m3": "L", "kg/m2": "g/m2", "money/m3": "money/L", "Pa": "kPa"},
    {THIN: "mm", SUCTION: "kPa"},
)
US = System(
    "US",
    _US,
    {"kg": "lb", "m": "ft", "Pa": "psi"},
    {
        "kg": "lb",
        "g": "oz",
        "t": "lb",
        "um": "mil",
        "mm": "in",
        "cm": "in",
        "m": "ft",
        "mL": "floz",
        "L": "gal",
        "N": "lbf",
        "kN": "lbf",
        "Pa": "psi",
        "kPa": "psi",
        "bar": "psi",
    },
    {"m3": "gal", "kg/m2": "oz/ft2", "money/m3": "money/gal", "Pa m2": "lbf"},
    {THIN: "in", SUCTION: "inHg"},
)
SYSTEMS = {system.name: system for system in (METRIC, US)}


@cache
def _coherent(name: str, base: Unit) -> Unit:
    symbols = SYSTEMS[name].coherent
    result = NONE
    for symbol, exponent in base.parts:
        result = result * Unit(((symbols.get(symbol, symbol), exponent),))
    return result


@cache
def _written(name: str, written: Unit) -> Unit:
    system = SYSTEMS[name]
    result = NONE
    for symbol, exponent in written.parts:
        own = symbol in system.own or symbol not in _OF_A_SYSTEM
        result = result * Unit(((symbol if own else system.instead[symbol], exponent),))
    return result


@cache
def _read_in(name: str, base: Unit, form: str) -> Unit:
    system = SYSTEMS[name]
    if form in system.forms:
        return unit(system.forms[form])
    if base == NEWTON and "Pa m2" not in system.read:
        return base
    currency = base.currencies[0] if base.currencies else ""
    parts = [(s, e) for s, e in base.parts if s != currency]
    told = "money" + str(Unit(tuple(parts)))[1:] if currency else str(base)
    told = "Pa m2" if base == NEWTON else told
    if told in system.read:
        return unit(system.read[told].replace("money", currency))
    return system.coherent_unit(base)


@dataclass(frozen=True, slots=True)
class Reader:
    """Who reads: the system whose units come first, and the other where both are asked for.

    Inputs show `as_written` to those who wrote them; another reader sees them in their own units.
    """

    first: System = METRIC
    beside: System | None = None
    as_written: bool = True

    @property
    def choice(self) -> str:
        """Which of `CHOICES` that is."""
        return self.first.name if self.beside is None else BOTH

    def retold(self) -> Retold:
        """Computations in the units the reader reads first."""
        return Retold(self.first, self.as_written)

    def shown(self, figure: Figure) -> Figure:
        """A finished number in the unit the reader reads it in: its value, not what made it."""
        if self.as_written and figure.op == "input":
            return figure
        return said_in(self.first, figure)

    def besides(self, figure: Figure) -> Figure | None:
        """The same in the other system where both are read; None where that is no other unit."""
        if self.beside is None:
            return None
        other = said_in(self.beside, figure)
        return None if other.unit == self.shown(figure).unit else other


METRIC_READER = Reader()


def reader_of(choice: str, as_written: bool = True) -> Reader:
    """The reader who asks for one of `CHOICES`; whoever reads both reads all as it is written."""
    if choice == BOTH:
        return Reader(METRIC, US)
    return Reader(SYSTEMS[choice], as_written=as_written)


def said_in(system: System, figure: Figure) -> Figure:
    """A finished number in a system's unit.

    An input, or what was asked for in a unit of its own, takes the like of that unit, or that of
    its form; one of the system itself stays as it is.
    """
    base, _ = to_base(figure.unit)
    target = system.written(figure.unit)
    worked_out = base == figure.unit and figure.op != "input"
    if worked_out or (figure.form in system.forms and target != figure.unit):
        target = system.unit_for(base, figure.form)
    if target == figure.unit:
        return figure
    value = _times(figure.value, _between(figure.unit, target))
    return replace(figure, value=value, unit=target, origin=_retold(figure.origin, value, target))


def _retold(origin: Origin | None, value: float, target: Unit) -> Origin | None:
    """Where a number was written, with what it says in another unit."""
    if origin is None or not origin.text:
        return origin
    return replace(origin, text=f"{value:.6g} {target}")


@dataclass
class Retold:
    """Computations told in the units of a system; a figure is told once, however often asked.

    Inputs stay as they are written, so that a price per gallon is changed per gallon. Where they
    shall not, those of another system are entered in the unit the reader would use.
    """

    system: System
    as_written: bool = True
    _working: dict[Figure, Figure] = field(default_factory=dict)
    _shown: dict[Figure, Figure] = field(default_factory=dict)

    def of(self, figure: Figure) -> Figure:
        """The figure as a reader sees it; the same object where nothing needs another unit."""
        if figure not in self._working:
            self.tell((figure,))
        return self._shown.get(figure, self._working[figure])

    def tell(self, figures: Iterable[Figure]) -> None:
        """Tell them, and all that they rest on."""
        for figure in in_order(figures, self._working):
            told = self._told(figure)
            self._working[figure] = told
            if figure.key and figure.op != "input" and not figure.key.endswith(WORKING):
                self._show(figure, told)

    def _show(self, figure: Figure, told: Figure) -> None:
        """Give a named figure a cell in the unit it is read in; what rests on it converts back."""
        base, _ = to_base(told.unit)
        coherent, target = self.system.coherent_unit(base), self.system.unit_for(base, told.form)
        if told.unit != coherent or target == coherent:
            return
        shown = called_as(convert(_unnamed(told), target, _between(coherent, target)), figure)
        self._shown[figure] = shown
        self._working[figure] = convert(shown, coherent, _between(target, coherent))

    def _told(self, figure: Figure) -> Figure:
        if figure.op == "input":
            return self._entered(figure)
        if figure.op == "const":
            return self._constant(figure)
        if is_conversion(figure):
            return self._converted(figure)
        args = [self._working[arg] for arg in figure.args]
        if all(new is old for new, old in zip(args, figure.args, strict=True)):
            return figure
        if not self.system.coherent:
            return resting_on(figure, tuple(args))
        told = make(figure.op, *args)
        if figure.unit == to_base(figure.unit)[0]:
            # An input shown per kg and a slope per lb make what was pounds a number of kg/lb.
            coherent = self.system.coherent_unit(figure.unit)
            told = converted(told, coherent)
        return called_as(told, figure)

    def _entered(self, figure: Figure) -> Figure:
        """An input; one written in another system's unit is entered in the reader's."""
        if figure.unit != to_base(figure.unit)[0]:
            return figure if self.as_written else said_in(self.system, figure)
        coherent = self.system.coherent_unit(figure.unit)
        shown = figure if self.as_written else said_in(self.system, figure)
        if shown.unit == coherent:
            return shown
        self._shown[figure] = shown
        return converted(shown, coherent)

    def _constant(self, figure: Figure) -> Figure:
        worked_out = to_base(figure.unit)[0] == figure.unit
        if self.as_written and not worked_out:
            return figure
        target = self.system.written(figure.unit)
        if target is figure.unit:
            return figure
        value = _times(figure.value, _between(figure.unit, target))
        return replace(figure, value=value, unit=target)

    def _converted(self, figure: Figure) -> Figure:
        """A conversion, from what its number is told in to what it shall be told in."""
        number = figure.args[0]
        source = self._shown.get(number, self._working[number])
        base, _ = to_base(figure.unit)
        if base == figure.unit:
            target = self.system.coherent_unit(base)
        else:
            target = self.system.written(figure.unit)
        told = converted(source, target)
        if told is source and figure.key:
            told = make("ref", source)
        return called_as(told, figure) if figure.key else told


_MEASURED = re.compile(
    r"(?<![\w.])(\d[\d,]*(?:\.\d+)?(?: (?:to|and|or) \d[\d,]*(?:\.\d+)?)*) "
    r"((?:kg|g|t|um|mm|cm|m|mL|L|N|kN|Pa|kPa|bar)[23]?(?:/(?:kg|m|L|mL)[23]?)?)(?![\w/'])"
)
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
_WARMTH = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?(?: \w+ -?\d+(?:\.\d+)?)?) ?°C(?!\w)")
_DEGREES = re.compile(r"-?\d+(?:\.\d+)?")
_TWICE = re.compile(r"(\d[\d,.]* \S+) \(\1\)")


def in_words(text: str, system: System) -> str:
    """A sentence of the program, which is written in metric units, with its measures in others.

    >>> in_words("no more than the atmosphere, 101.3 kPa (14.7 psi)", US)
    'no more than the atmosphere, 14.7 psi'
    >>> in_words("E-glass has 2540 to 2560 kg/m3; it won't 3 times", US)
    "E-glass has 159 to 160 lb/ft3; it won't 3 times"
    >>> in_words("a room at 18 to 25 °C", US)
    'a room at 64 to 77 °F'
    """
    if not system.coherent:
        return text

    def told(found: re.Match[str]) -> str:
        source = unit(found[2])
        target = system.written(source)
        ratio = _between(source, target)

        def other(number: re.Match[str]) -> str:
            digits = max(3, sum(map(str.isdigit, number[0].strip("0."))) - 1)
            size = float(number[0].replace(",", "")) * float(ratio)
            return f"{size:,.{digits}g}" if size < 10**digits else f"{size:,.0f}"

        return f"{_NUMBER.sub(other, found[1])} {target}"

    return _TWICE.sub(r"\1", _MEASURED.sub(told, _WARMTH.sub(_in_fahrenheit, text)))


def _in_fahrenheit(found: re.Match[str]) -> str:
    """Temperatures in whole degrees: a thermometer on the wall shows no more."""
    return _DEGREES.sub(lambda one: f"{float(one[0]) * 1.8 + 32:.0f}", found[1]) + " °F"


def is_conversion(figure: Figure) -> bool:
    """Whether a figure is its number in another unit, as `figure.convert` makes it."""
    if figure.op not in ("mul", "div") or figure.args[1].op != "const":
        return False
    factor = figure.args[1].unit
    return factor != NONE and to_base(factor)[0] == NONE


def converted(figure: Figure, target: Unit) -> Figure:
    """The same amount in another unit, by a formula."""
    return convert(figure, target, _between(figure.unit, target))


@cache
def _between(source: Unit, target: Unit) -> Decimal:
    """How many of the target one of the source is."""
    return to_base(source)[1] / to_base(target)[1]


def _times(value: float, ratio: Decimal) -> float:
    """A number times an exact ratio, divided by its inverse where that has fewer digits."""
    inverse = 1 / ratio
    return value / float(inverse) if inverse > ratio else value * float(ratio)


def _unnamed(figure: Figure) -> Figure:
    return replace(figure, key="", label="", form="", origin=None, by=())
