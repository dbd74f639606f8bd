"""The catalogue as of a date: the newest price, wage, rate and published price in force then."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import PurePosixPath
from typing import TypeVar

from quoter.catalogue.factory import Yard
from quoter.catalogue.records import Records
from quoter.catalogue.tables import BookRow, ExchangeRow, PriceRow, WageRow
from quoter.problems import Place, Problems

Key = TypeVar("Key", bound=Hashable)
Row = TypeVar("Row", ExchangeRow, WageRow, BookRow)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Checked records and, by id, the dated rows in force on `as_of`."""

    records: Records
    yard: Yard
    as_of: date
    price_list: date
    prices: dict[str, PriceRow]
    exchange: dict[str, ExchangeRow]
    wages: dict[str, WageRow]
    book: dict[tuple[str, str], BookRow]

    @property
    def currency(self) -> str:
        """The home currency."""
        return str(self.yard.company.currency)


def resolve(records: Records, as_of: date | None, problems: Problems) -> Catalogue | None:
    """Pick the rows in force; None when too much is missing to go on (which is recorded)."""
    if records.yard is None or not records.price_lists:
        return None
    day = as_of or max(records.price_lists)
    in_force = sorted(listed for listed in records.price_lists if listed <= day)
    if not in_force:
        first = min(records.price_lists)
        problems.add(
            Place("prices"), f"no price list is in force on {day}", f"the first is {first}"
        )
        return None
    prices = _prices(records, in_force, problems)
    exchange = _newest(records.exchange, day, lambda row: str(row.currency))
    wages = _newest(records.wages, day, lambda row: str(row.group))
    book = _newest(records.book, day, lambda row: (str(row.model), str(row.option)))
    catalogue = Catalogue(records, records.yard, day, in_force[-1], prices, exchange, wages, book)
    _need_rows(catalogue, problems)
    _warn_stale(catalogue, problems)
    return catalogue


def _prices(records: Records, lists: list[date], problems: Problems) -> dict[str, PriceRow]:
    """The newest price of each material; where several suppliers quote, of the preferred one."""
    found: dict[str, PriceRow] = {}
    for id, material in records.materials.items():
        for day in reversed(lists):
            rows = [row for row in records.price_lists[day] if row.material == id]
            if material.supplier:
                rows = [row for row in rows if row.supplier == material.supplier]
            if len(rows) > 1:
                names = " and ".join(f"'{row.supplier}'" for row in rows)
                what = f"{names} both quote '{id}' on {day}"
                problems.add(material.place, what, "say which with 'supplier:' in this material")
            if rows:
                found[id] = rows[0]
                break
    return found


def _newest(rows: list[Row], day: date, key: Callable[[Row], Key]) -> dict[Key, Row]:
    found: dict[Key, Row] = {}
    for row in sorted((row for row in rows if row.date <= day), key=lambda row: row.date):
        found[key(row)] = row
    return found


def _need_rows(catalogue: Catalogue, problems: Problems) -> None:
    records, day = catalogue.records, catalogue.as_of
    for id, material in records.materials.items():
        if id not in catalogue.prices:
            what = f"'{id}' has no price in force on {day}"
            problems.add(material.place, what, "add a line for it to a file in prices/")
    for station in records.stations.values():
        if station.wage_group not in catalogue.wages:
            what = f"wage group '{station.wage_group}' has no wage in force on {day}"
            problems.add(station.wage_group.place, what, "add a line for it to wages.csv")
    for row in catalogue.prices.values():
        supplier = records.suppliers.get(str(row.supplier))
        if supplier and supplier.currency not in (catalogue.currency, *catalogue.exchange):
            what = f"no rate for {supplier.currency} is in force on {day}"
            problems.add(supplier.place, what, "add a line for it to exchange.csv")


def _warn_stale(catalogue: Catalogue, problems: Problems) -> None:
    days = int(catalogue.yard.policy.prices_stale_after_days.value)
    limit = catalogue.as_of - timedelta(days=days)
    for id, row in catalogue.prices.items():
        since = date.fromisoformat(PurePosixPath(row.place.file).stem)
        if since < limit:
            what = f"the price of '{id}' is of {since}, older than {days} days on {catalogue.as_of}"
            problems.warn(row.place, what, "ask the supplier, or list it again")
