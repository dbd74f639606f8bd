"""Every operation a figure can have, over invented inputs."""

from __future__ import annotations

from quoter.figures import (
    Figure,
    Origin,
    at_least,
    at_most,
    constant,
    dot,
    entered,
    ln,
    power_sum,
    round_down,
    round_to,
    round_up,
    total,
    where,
)
from quoter.figures.ops import absolute, both, equal, less, less_or_equal
from quoter.problems import Place
from quoter.units import quantity
from quoter.workbook import Column, Row, Sheet, Table


def given(text: str, label: str, key: str = "", line: int = 1) -> Figure:
    """The working figure of an invented catalogue value."""
    place = Place("invented/prices.csv", line, 1, key)
    origin = Origin(place, text, "2031-03-01", "invented")
    return entered(quantity(text), key, label, origin)


def every_operation() -> list[Figure]:
    """One or more figures for each operation, halves, signs and neighbours of wholes included."""
    a = given("7.25", "a", "op.a")
    b = given("2", "b", "op.b")
    c = given("-2.5", "c", "op.c")
    results = arithmetic(a, b, c) | comparisons(a, b, c) | roundings(a, c)
    return [figure.named(f"op.{name}", name) for name, figure in results.items()]


def arithmetic(a: Figure, b: Figure, c: Figure) -> dict[str, Figure]:
    eight = given("8", "eight", "op.eight")
    rate = given("-0.234465", "learning exponent", "op.rate")
    return {
        "ref": a.named("op.alias", "alias of a"),
        "add": a + b,
        "sub": 1 - a,
        "neg": -a,
        "neg, squared": (-a) ** 2,
        "mul": a * b * c,
        "div": a / (b / c),
        "pow": b**3**2,
        "pow of a pow": (b**3) ** 2,
        "ln": ln(a),
        "sum": total([a, b, c, a * b], b),
        "dot": dot([a, b, c], [b, c, a]),
        "powers": power_sum(b, eight, rate),
        "powers, square": power_sum(b, eight, b),
        "tiny": c * 1e-8,
        "large": a * 123456789.0,
    }


def comparisons(a: Figure, b: Figure, c: Figure) -> dict[str, Figure]:
    return {
        "where yes": where(less(b, a), a, b),
        "where no": where(c - c, a, b),
        "where both": where(both(less(b, a), less_or_equal(c, b)), a, b),
        "where number": where(both(b, c), a, b),
        "max": at_least(c, 0.0),
        "min": at_most(a, b),
        "le": less_or_equal(b, b),
        "lt": less(b, b),
        "eq": equal(b, c + 4.5),
        "and": both(less(b, a), less(a, b)),
    }


def roundings(a: Figure, c: Figure) -> dict[str, Figure]:
    tenth = given("0.1", "tenth", "op.tenth")
    return {
        "abs": absolute(c),
        "nearest half": round_to(c, constant(1.0)),
        "nearest half up": round_to(-c, constant(1.0)),
        "nearest cent": round_to(a / 3, constant(0.01)),
        "up, whole to nine places": round_up(tenth * 3 / tenth),
        "up": round_up(a),
        "up, negative": round_up(c),
        "down": round_down(a),
        "down, just under": round_down(3 - tenth * 1e-10),
    }


def operations_sheet() -> Sheet:
    rows = [Row((figure.label, figure)) for figure in every_operation()]
    table = Table((Column("Operation"), Column("Result")), tuple(rows))
    return Sheet("Operations", "Each operation of a figure, once or more.", (table,))
