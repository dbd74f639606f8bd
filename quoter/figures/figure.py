"""`Figure`: a number that remembers how it was computed."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, Any, ClassVar, Literal, NamedTuple, NoReturn, TypeVar

from quoter.figures.kernel import KERNEL
from quoter.problems import Place
from quoter.units import NONE, Quantity, Unit, to_base, unit

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    FloatArray = npt.NDArray[np.float64]

FAULTS = (TypeError, ZeroDivisionError, ValueError, OverflowError)  # that an operation may raise

# A formula typed with N takes floats, Figures or arrays, and never a mixture.
N = TypeVar("N", float, "Figure", "FloatArray")


class Bounds(NamedTuple):
    """The least and the most that a number can be, and whether it may only come near them."""

    least: float | None = None
    most: float | None = None
    above: bool = False
    below: bool = False


ANYTHING = Bounds()


@dataclass(frozen=True, slots=True)
class Origin:
    """Where an input was written down: place, the text as written, since when, and its note.

    `low` and `high` say between which values (in the unit as written) it may lie, if given;
    `spread` is the shape of the distribution between them. `bounds` limit what may be written
    there at all.
    """

    place: Place
    text: str = ""
    effective: str = ""
    note: str = ""
    low: float | None = None
    high: float | None = None
    spread: Literal["three-point", "triangular"] = "three-point"
    bounds: Bounds = ANYTHING


class _Draft:
    """The fields of a figure while they may still be written."""

    __slots__ = ("args", "by", "form", "key", "label", "op", "origin", "unit", "value")


@dataclass(frozen=True, eq=False, slots=True)
class Figure(_Draft):
    """A value with its unit, label and the expression that made it.

    Equality is identity: one input is one cell however often it is used. A figure with a `key` asks
    for a cell and a name of its own; one without is written inline where it is used. `form` is
    "percent" for a fraction people read as a percentage. `by` are the formulas that gave it, each
    by its module and name, the innermost first.
    """

    value: float
    unit: Unit = NONE
    op: str = "const"
    args: tuple[Figure, ...] = field(default=(), repr=False)  # a graph would print for hours
    label: str = ""
    key: str = ""
    form: str = ""
    origin: Origin | None = None
    by: tuple[str, ...] = field(default=(), repr=False)
    __array_ufunc__: ClassVar[None] = None  # numpy then leaves `array * figure` to the figure

    def named(self, key: str, label: str, form: str = "") -> Figure:
        """The same number with a cell and a name of its own; a named one gets an alias."""
        op, args, origin, by = self.op, self.args, self.origin, self.by
        if self.key or op in ("input", "const"):
            op, args, origin, by = "ref", (self,), None, ()
        form = form or self.form
        return _made(self.value, self.unit, op, args, label, key, form, origin, by)

    def shown_in(self, text: str) -> Figure:
        """The same number in a unit people read, such as ``mm`` for one in metres."""
        target = unit(text)
        base, factor = to_base(target)
        if base != self.unit:
            raise TypeError(f"can't show [{self.unit}] in {text}")
        return convert(self, target, 1 / factor)

    def __add__(self, other: Figure | float) -> Figure:
        """Sum; both must have the same unit."""
        return _of_two("add", self, other)

    def __radd__(self, other: float) -> Figure:
        """Sum with a bare number on the left."""
        return _of_two("add", other, self)

    def __sub__(self, other: Figure | float) -> Figure:
        """Difference; both must have the same unit."""
        return _of_two("sub", self, other)

    def __rsub__(self, other: float) -> Figure:
        """Difference from a bare number, as in ``1 - loss``."""
        return _of_two("sub", other, self)

    def __mul__(self, other: Figure | float) -> Figure:
        """Product; the units multiply."""
        return _of_two("mul", self, other)

    def __rmul__(self, other: float) -> Figure:
        """Product with a bare number on the left."""
        return _of_two("mul", other, self)

    def __truediv__(self, other: Figure | float) -> Figure:
        """Quotient; the units divide."""
        return _of_two("div", self, other)

    def __rtruediv__(self, other: float) -> Figure:
        """A bare number divided by this."""
        return _of_two("div", other, self)

    def __pow__(self, exponent: Figure | float) -> Figure:
        """Power; a number with a unit takes constant exponents that leave it a unit: whole ones,
        and halves where every power in it is even."""
        return _of_two("pow", self, exponent)

    def __rpow__(self, base: float) -> Figure:
        """A bare number to this power."""
        return _of_two("pow", base, self)

    def __neg__(self) -> Figure:
        """The negative."""
        return make("neg", self)

    def _refuse(self, *_: object) -> NoReturn:
        raise TypeError("a Figure may be a spreadsheet formula; use where(condition, a, b)")

    __bool__ = _refuse
    __float__ = _refuse
    __lt__ = __le__ = __gt__ = __ge__ = _refuse


def _made(
    value: float,
    unit: Unit,
    op: str,
    args: tuple[Figure, ...],
    label: str = "",
    key: str = "",
    form: str = "",
    origin: Origin | None = None,
    by: tuple[str, ...] = (),
) -> Figure:
    """A figure in a third of the time that its constructor takes, since every number of a costing
    is one: written as a draft, then finished."""
    made: Any = object.__new__(_Draft)
    made.value = value
    made.unit = unit
    made.op = op
    made.args = args
    made.label = label
    made.key = key
    made.form = form
    made.origin = origin
    made.by = by
    made.__class__ = Figure
    finished: Figure = made
    return finished


def lift(number: Figure | float) -> Figure:
    """A figure as it is; a bare number of a formula as a constant without unit.

    Raises:
        TypeError: for an array or anything else that would lose its nature here.
    """
    if isinstance(number, Figure):
        return number
    if isinstance(number, int | float):
        return _made(float(number), NONE, "const", ())
    kind = type(number).__name__
    raise TypeError(f"a Figure and {kind} don't mix; evaluate the Figure's graph with it instead")


def constant(value: float, unit_text: str = "", label: str = "") -> Figure:
    """A number of the method itself (a physical constant, a conversion), with its unit."""
    return _made(value, unit(unit_text), "const", (), label)


def stated(number: Figure, key: str, label: str, place: Place | None = None) -> Figure:
    """A result as a given number: without what it was computed from, under a name of its own.

    `place` is the catalogue line it is about.
    """
    origin = None if place is None else Origin(place)
    return _made(number.value, number.unit, "const", (), label, key, number.form, origin)


def entered(quantity: Quantity, key: str, label: str, origin: Origin) -> Figure:
    """The working figure of a catalogue value: an input as written, converted to base units."""
    form = "percent" if quantity.percent else ""
    as_is = quantity.unit if quantity.factor != 1 else quantity.base
    written = _made(quantity.number, as_is, "input", (), label, key, form, origin)
    working = convert(written, quantity.base, quantity.factor)
    return working if working is written else working.named(f"{key}.working", label)


def convert(number: Figure, target: Unit, factor: Decimal) -> Figure:
    """The same amount in another unit: times `factor`, or divided by its inverse where whole."""
    if target == number.unit:
        return number
    inverse = 1 / factor
    whole = round(inverse)
    if whole and abs(inverse - whole) < whole * Decimal("1e-20"):
        return make("div", number, Figure(float(whole), number.unit / target))
    return make("mul", number, Figure(float(factor), target / number.unit))


def called_as(told: Figure, figure: Figure) -> Figure:
    """A number with the key, label, form and origin of another figure."""
    op, args, by = told.op, told.args, figure.by
    return _made(
        told.value, told.unit, op, args, figure.label, figure.key, figure.form, figure.origin, by
    )


def resting_on(figure: Figure, args: tuple[Figure, ...]) -> Figure:
    """The same figure, of arguments that are the same numbers, each made otherwise."""
    value, unit, op = figure.value, figure.unit, figure.op
    return _made(
        value, unit, op, args, figure.label, figure.key, figure.form, figure.origin, figure.by
    )


def make(op: str, *args: Figure) -> Figure:
    """Apply an operation to figures; the result remembers it.

    Raises:
        TypeError: when the units don't go together (our fault, not the user's: the door checks).
    """
    kernel = KERNEL[op]
    try:
        result = kernel.unit(args)
        value = kernel.compute(*[arg.value for arg in args])
    except FAULTS as fault:
        raise _told(op, args, fault) from fault
    return _made(float(value), result, op, args)


def _of_two(op: str, one: Figure | float, other: Figure | float) -> Figure:
    """What `make` does, for two of which one may be a bare number: most of a costing is that."""
    if type(one) is not Figure:
        one = lift(one)
    if type(other) is not Figure:
        other = lift(other)
    kernel, args = KERNEL[op], (one, other)
    try:
        result = kernel.unit(args)
        value = kernel.compute(one.value, other.value)
    except FAULTS as fault:
        raise _told(op, args, fault) from fault
    return _made(float(value), result, op, args)


def _told(op: str, args: tuple[Figure, ...], fault: Exception) -> Exception:
    """The fault with the operation and the figures it is about."""
    said = ", ".join(f"{a.label or a.key or a.op} = {a.value:g} [{a.unit}]" for a in args)
    return type(fault)(f"{op}: {fault} ({said})")
