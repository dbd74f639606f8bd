"""A price, wage, rate or index against the one before it, however it was written down.

A move beyond the limit of the policy is told at the line that moved, while that is in force or
still to come. A rate whose product with the one before is near 1 is likely upside down.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_prices import price_converts
from quoter.catalogue.counting import counted_per
from quoter.catalogue.materials import Material, counted_in, price_per
from quoter.catalogue.prices import Catalogue, book_key, usual_limit
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.tables import ExchangeRow, IndexRow
from quoter.figures import Figure, money_in
from quoter.figures.graph import input_behind
from quoter.plausibility.meant import Doubts, how_to_say
from quoter.problems import Problem

SAME = 1e-9  # a move of just the limit is none beyond it
INDEX_LIMIT = 1.0  # an index of materials has doubled within a year, and rarely more
UPSIDE_DOWN = 0.2  # how far from 1 the product of a rate and one upside down may be, as a fraction


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a series: its day, where its value stands, and the size that lines compare by."""

    day: date
    record: CatalogueRecord
    name: str
    value: Figure
    size: float


def jumps(catalogue: Catalogue, doubts: Doubts) -> None:
    """Tell of every move that is larger than the policy lets pass."""
    records, limit = catalogue.records, usual_limit(catalogue.records)
    for (kind, *names), lines in _series(catalogue).items():
        ordered = sorted(lines, key=lambda line: line.day)
        before = _stated(catalogue, names, ordered[0]) if kind == "book" else None
        for line, later in zip(ordered, [*ordered[1:], None], strict=True):
            superseded = later is not None and later.day <= catalogue.as_of
            jump = None if before is None else _jump(line, before, limit, records.home or "")
            if jump is not None and superseded:
                doubts.means(line.record, line.name)  # it was, while it was in force
            elif jump is not None and not doubts.told(jump.place):
                doubts.add((line.record,), line.name, jump)
            before = line


def _series(catalogue: Catalogue) -> dict[tuple[str, ...], list[Line]]:
    """The lines of each price, rate, wage, published price and index, by kind and names."""
    records = catalogue.records
    found: dict[tuple[str, ...], list[Line]] = {}

    def add(key: tuple[str, ...], day: date, row: CatalogueRecord, name: str, size: float) -> None:
        found.setdefault(key, []).append(Line(day, row, name, getattr(row, name), size))

    for day, rows in records.price_lists.items():
        for row in rows:
            material = records.materials.get(row.material)
            if material is not None and price_converts(material, row.price):
                key = ("price", str(row.material), str(row.supplier))
                add(key, day, row, "price", row.price.value / _counted(material, row.price))
    for rate in records.exchange:
        add(("rate", str(rate.currency)), rate.date, rate, "rate", rate.rate.value)
    for wage in records.wages:
        add(("wage", str(wage.group)), wage.date, wage, "wage", wage.wage.value)
    for line in records.book:
        add(("book", *book_key(line)), line.date, line, "list_price", line.list_price.value)
    for value in records.indices:
        add(("index", str(value.index)), value.date, value, "value", value.value.value)
    return found


def _counted(material: Material, price: Figure) -> float:
    """How much of a material, as it is counted, a price is for."""
    per = price_per(price)
    return 1.0 if per == counted_in(material) else counted_per(material, per).value


def _stated(catalogue: Catalogue, names: list[str], first: Line) -> Line | None:
    """What the models' file states of a boat before any price of it is published."""
    market, model, option = names
    boat = None if market or option else catalogue.records.models.get(model)
    if boat is None:
        return None
    return Line(first.day, boat, "list_price", boat.list_price, boat.list_price.value)


def _jump(line: Line, before: Line, limit: float, home: str) -> Problem | None:
    old, new, record = before.size, line.size, line.record
    allowed = INDEX_LIMIT if isinstance(record, IndexRow) else limit
    if not old or abs(new / old - 1) - allowed <= SAME:
        return None
    told = "of the other sign than"
    if new / old > 0:
        told = f"{abs(new / old - 1) * 100:.1f} % {'more' if new > old else 'less'} than"
    what = f"{_said(line.value)} from {line.day} on, {told} the {_said(before.value)} before it"
    at = figure_place(before.value).clickable
    hint = f"{at} has that; more than {allowed * 100:g} % is worth a look"
    if isinstance(record, ExchangeRow) and abs(new * old - 1) <= UPSIDE_DOWN:
        what += ": it looks upside down"
        hint = f"write how much {record.currency} one {home} buys; {hint}"
    hint = f"{hint}; {how_to_say(record, line.name)}"
    return Problem(figure_place(line.value), "price-jump", what, hint, warning=True)


def _said(value: Figure) -> str:
    """A value as it is written, a bare amount of money with its thousands parted."""
    if value.unit.currencies == (str(value.unit),):
        return f"{money_in(value, str(value.unit)).normalize():,f} {value.unit}"
    origin = input_behind(value).origin
    return origin.text if origin is not None else f"{value.value:g} {value.unit}"
