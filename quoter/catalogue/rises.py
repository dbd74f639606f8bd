"""Rises that suppliers announce on a family of materials: their state, and the raised prices."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from quoter.catalogue.counting import counted_per, per_counted
from quoter.catalogue.materials import Material, counted_in, price_per
from quoter.catalogue.prices import Catalogue, quotes
from quoter.catalogue.records import Records
from quoter.catalogue.tables import PriceRow, RiseRow
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.problems import Problems
from quoter.units import NONE


@dataclass(frozen=True, slots=True)
class AnnouncedRise:
    """A rise to come: announced or confirmed already, and not withdrawn.

    `prices` has, by material, the price in force raised by it: in the supplier's currency, and
    per what that price is per, in base units.
    """

    row: RiseRow
    prices: dict[str, Figure]


def announced_rises(catalogue: Catalogue) -> list[AnnouncedRise]:
    """What is to come as of the catalogue's day, the first to take effect first.

    Prices from the day that a rise takes effect may hold it already, so it is none any more.
    """
    return [
        AnnouncedRise(row, _raised_prices(catalogue, row))
        for row in rises_on(catalogue.records, catalogue.as_of)
        if row.state != "withdrawn" and row.effective > catalogue.as_of
    ]


def warn_overdue_rises(catalogue: Catalogue, problems: Problems) -> None:
    """Record the rises whose day has come although nobody knows what became of them."""
    for row in overdue_rises(catalogue.records, catalogue.as_of):
        what = f"announced for {row.effective} and neither confirmed nor withdrawn"
        hint = "note with 'quoter rise' what became of it; it is left out of the review"
        problems.warn(row.place, "overdue-rise", what, hint)


def overdue_rises(records: Records, day: date) -> list[RiseRow]:
    """What is still announced as of a day although it was to take effect by then."""
    rows = (row for row in rises_on(records, day) if row.state == "announced")
    return [row for row in rows if row.effective <= day]


def rises_on(records: Records, day: date) -> list[RiseRow]:
    """The newest line up to a day of each rise, by the day it takes effect."""
    newest: dict[tuple[date, str, str], RiseRow] = {}
    for row in sorted((row for row in records.rises if row.date <= day), key=lambda row: row.date):
        newest[row.effective, str(row.supplier), str(row.family)] = row
    return [newest[key] for key in sorted(newest)]


def prices_before(records: Records, supplier: str, family: str, day: date) -> dict[str, PriceRow]:
    """Material of a family -> the supplier's price that is in force the day before a day."""
    materials = records.materials
    found = quotes(records, day - timedelta(days=1))
    return {
        id: rows[0]
        for id, rows in found.items()
        if rows[0].supplier == supplier and materials[id].family == family
    }


def _raised_prices(catalogue: Catalogue, row: RiseRow) -> dict[str, Figure]:
    raised = {}
    for id, price in catalogue.prices.items():
        material = catalogue.records.materials[id]
        if price.supplier != row.supplier or material.family != row.family:
            continue
        key = f"raised.{row.supplier}.{row.family}.{row.effective}.{id}"
        words = phrase("{name}: price from {day}", name=material.name, day=row.effective)
        if row.state == "announced":
            words = phrase(
                "{name}: price from {day} if the rise is confirmed",
                name=material.name,
                day=row.effective,
            )
        raised[id] = raised_price(material, price.price, row.by).named(key, words)
    return raised


def raised_price(material: Material, price: Figure, rise: Figure) -> Figure:
    """A price after a rise by an amount, which may be per another unit, or by a percentage.

    Raises:
        ValueError: the amount's unit says nothing of the material, which checks exclude.
    """
    if rise.unit == NONE:
        return price * (1 + rise)
    per = price_per(price)
    if per == price_per(rise):
        return price + rise
    counted = per_counted(material, rise)
    in_units = counted if per == counted_in(material) else counted * counted_per(material, per)
    return price + in_units
