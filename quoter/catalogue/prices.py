"""The catalogue as of a date: the newest price, wage, rate and published price in force then."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import PurePosixPath
from typing import TypeVar

from quoter.catalogue.booked import Booked
from quoter.catalogue.day import asked_day
from quoter.catalogue.editions import Edition, edition_on, warn_edition
from quoter.catalogue.indices import look_up_indices
from quoter.catalogue.markets import Market
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.catalogue.tables import BookRow, ExchangeRow, PriceRow, WageRow
from quoter.catalogue.translations import worded
from quoter.catalogue.yard import Yard
from quoter.figures.readers import PAPERS, Reader, reader_of
from quoter.problems import Place, Problems, closest, quoted

Key = TypeVar("Key", bound=Hashable)
Row = TypeVar("Row", ExchangeRow, WageRow, BookRow)

USUAL_LIMIT = 0.15  # where the policy has no import_limit
CORRECTS = "; corrects "  # in the note of a price: what it was until its supplier corrected it


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Checked records and, by id, the dated rows in force on `as_of`; `book` by market, model
    and option, each empty for all, and without an option for the boat.

    `settings` are what the command line set instead, by key; `units` those that a reader asked
    for in place of the yard's own; `booked` is what was booked, where that was read, too. `excerpt`
    gives the line a place points at, for problems found later; `rows` reads what was booked as far
    as it can be read, for who names a text of it.
    """

    records: Records
    yard: Yard
    as_of: date
    price_list: date
    prices: dict[str, PriceRow]
    exchange: dict[str, ExchangeRow]
    wages: dict[str, WageRow]
    book: dict[tuple[str, str, str], BookRow]
    edition: Edition
    settings: Mapping[str, str] = field(default_factory=dict)
    units: str = ""
    booked: Booked | None = field(default=None, compare=False, repr=False)
    excerpt: Callable[[Place], str] = field(default=lambda _: "", compare=False, repr=False)
    picture: Callable[[Text], bytes] = field(default=lambda _: b"", compare=False, repr=False)
    rows: Callable[[], Booked] = field(default=Booked, compare=False, repr=False)

    @property
    def last_list(self) -> date | None:
        """The date of the price list before the newest one in force, if there is one."""
        earlier = [day for day in self.records.price_lists if day < self.price_list]
        return max(earlier, default=None)

    @property
    def currency(self) -> str:
        """The home currency."""
        return str(self.yard.company.currency)

    @property
    def reader(self) -> Reader:
        """In which units the yard's own pages, papers and workbooks are read."""
        return reader_of(self.units or str(self.yard.units), as_written=not self.units)

    def units_of(self, market: Market) -> str:
        """In which units a market's customers read, one of `figures.readers.CHOICES`."""
        return self.units or str(market.units or self.yard.units)

    @property
    def paper(self) -> str:
        """What the yard prints on."""
        return str(self.yard.paper or PAPERS[0])

    def paper_of(self, market: Market) -> str:
        """The paper that is stated for a market's customers; nothing where none is."""
        return str(market.paper or self.yard.paper or "")

    def worded(self, text: Text, language: str) -> str:
        """A text of the catalogue in a language, as its customers read it.

        Raises:
            CatalogueError: it has no translation into that language.
        """
        return worded(self.records, text, language)


@dataclass(frozen=True, slots=True)
class InForce:
    """The rows in force on a day, before it is known that none is missing."""

    day: date
    prices: dict[str, PriceRow]
    exchange: dict[str, ExchangeRow]
    wages: dict[str, WageRow]


def resolve(records: Records, as_of: date | None, problems: Problems) -> Catalogue | None:
    """Pick the rows in force; None when too much is missing to go on (which is recorded)."""
    if not records.price_lists:
        return None
    day = asked_day(records, as_of)
    lists = sorted(listed for listed in records.price_lists if listed <= day)
    if not lists and as_of is None:
        return None  # what `today:` says is told already
    if not lists:
        what = f"no price list is in force on {day}"
        problems.add(
            Place("prices"), "not-in-force", what, f"the first is of {min(records.price_lists)}"
        )
        return None
    found = InForce(
        day,
        _prices(records, day, problems),
        newest(records.exchange, day, rate_key),
        newest(records.wages, day, wage_key),
    )
    _need_prices(records, found, problems)
    _need_wages(records, found, problems)
    _need_rates(records, found, problems)
    look_up_indices(records, day, problems)
    warn_edition(records, day, problems)
    if records.yard is None:
        return None
    book = newest(records.book, day, book_key)
    catalogue = Catalogue(
        records=records,
        yard=records.yard,
        as_of=day,
        price_list=lists[-1],
        prices=found.prices,
        exchange=found.exchange,
        wages=found.wages,
        book=book,
        edition=edition_on(records, day),
    )
    _warn_stale(catalogue, problems)
    return catalogue


def rate_key(row: ExchangeRow) -> str:
    """What a rate is of: its currency."""
    return str(row.currency)


def wage_key(row: WageRow) -> str:
    """What a wage is of: its wage group."""
    return str(row.group)


def book_key(row: BookRow) -> tuple[str, str, str]:
    """What a published price is of: market, model and option."""
    return str(row.market), str(row.model), str(row.option)


def published(catalogue: Catalogue, market: str, model: str, option: str) -> BookRow | None:
    """The published price in force of an option on a model, or of the boat itself (option "").

    A price of the market outranks one of all markets, then one of the model one of all models.
    """
    models = (model, "") if option else (model,)
    keys = [(where, on, option) for where in (market, "") for on in models]
    return next((catalogue.book[key] for key in keys if key in catalogue.book), None)


def quotes(records: Records, day: date) -> dict[str, list[PriceRow]]:
    """Material -> its lines in the newest list up to a day that prices it.

    Where the material names its supplier, other suppliers' lines don't count. Lines of more than
    one supplier leave open which holds.
    """
    found: dict[str, list[PriceRow]] = {}
    materials = records.materials
    for listed in sorted((d for d in records.price_lists if d <= day), reverse=True):
        here: dict[str, list[PriceRow]] = {}
        for row in records.price_lists[listed]:
            material = materials.get(row.material)
            if material is not None and material.supplier in (None, row.supplier):
                here.setdefault(str(row.material), []).append(row)
        found = here | found
    return found


def newest(rows: list[Row], day: date, key: Callable[[Row], Key]) -> dict[Key, Row]:
    """The newest row up to a day, by what the rows are of."""
    found: dict[Key, Row] = {}
    for row in sorted((row for row in rows if row.date <= day), key=lambda row: row.date):
        found[key(row)] = row
    return found


def usual_limit(records: Records) -> float:
    """By how much a price may jump without being accepted, as a fraction of the old one."""
    limit = records.yard.policy.import_limit if records.yard is not None else None
    return USUAL_LIMIT if limit is None else limit.value


def corrected_from(row: PriceRow) -> str:
    """What a price was, and by which list, until it was corrected; "" if it never was.

    The price before comes first, and in parentheses where it was from, and what it corrected.
    """
    return row.note.partition(CORRECTS)[2]


def listed_on(row: PriceRow) -> date:
    """The date of the price list that a line stands in."""
    return date.fromisoformat(PurePosixPath(row.place.file).stem)


def _prices(records: Records, day: date, problems: Problems) -> dict[str, PriceRow]:
    """The newest price of each material; where several suppliers quote, of the preferred one."""
    found: dict[str, PriceRow] = {}
    told = quotes(records, day)
    for id, material in records.materials.items():
        rows = told.get(id, [])
        names = dict.fromkeys(f"'{row.supplier}'" for row in rows)
        if len(names) > 1:
            what = f"{' and '.join(names)} both quote '{id}' on {listed_on(rows[0])}"
            problems.add(
                material.place, "two-suppliers", what, "say which with 'supplier:' in this material"
            )
        if rows:
            found[id] = rows[0]
    return found


def _need_prices(records: Records, found: InForce, problems: Problems) -> None:
    """Every material has a price; one that is misspelt in a list is told there."""
    listed = {str(row.material) for rows in records.price_lists.values() for row in rows}
    misspelt = {closest(id, records.materials) for id in listed - {*records.materials}}
    for id, material in records.materials.items():
        if id in found.prices or id in misspelt or records.unread.may_hold("PriceRow", id):
            continue
        if material.supplier and material.supplier not in records.suppliers:
            continue  # an unknown supplier is told already
        others = {
            str(row.supplier)
            for rows in records.price_lists.values()
            for row in rows
            if row.material == id and row.supplier != material.supplier
        }
        what = f"'{id}' has no price in force on {found.day}"
        hint = "add a line for it to a file in prices/"
        if material.supplier and others:
            what = f"'{id}' has no price of '{material.supplier}' in force on {found.day}"
            quoting = " and ".join(sorted(map(quoted, others)))
            hint = f"{quoting} quoted it: change 'supplier:' or {hint}"
        problems.add(material.place, "not-in-force", what, hint)


def _need_wages(records: Records, found: InForce, problems: Problems) -> None:
    for station in records.stations.values():
        group = station.wage_group
        if group in found.wages or records.unread.may_hold("WageRow", str(group)):
            continue
        what = f"wage group '{group}' has no wage in force on {found.day}"
        near = closest(str(group), {str(row.group) for row in records.wages})
        hint = f"did you mean '{near}'?" if near and near != group else "add a line to wages.csv"
        problems.add(group.place, "not-in-force", what, hint)


def _need_rates(records: Records, found: InForce, problems: Problems) -> None:
    sellers = [records.suppliers.get(row.supplier) for row in found.prices.values()]
    needed = [supplier.currency for supplier in sellers if supplier is not None]
    markets = records.yard.markets if records.yard is not None else ()
    needed += [market.currency for market in markets if market.currency is not None]
    for currency in needed if records.home is not None else ():
        if currency in (records.home, *found.exchange):
            continue
        if not records.unread.may_hold("ExchangeRow", str(currency)):
            what = f"no rate for {currency} is in force on {found.day}"
            hint = f"add a line to exchange.csv with a rate in {currency}/{records.home}"
            problems.add(currency.place, "not-in-force", what, hint)


def _warn_stale(catalogue: Catalogue, problems: Problems) -> None:
    """Record prices that are old, once for each supplier who is to be asked, and rates in use."""
    days = int(catalogue.yard.policy.prices_stale_after_days.value)
    old: dict[str, list[PriceRow]] = {}
    for row in catalogue.prices.values():
        if (catalogue.as_of - listed_on(row)).days > days:
            old.setdefault(str(row.supplier), []).append(row)
    for supplier, rows in old.items():
        oldest = min(rows, key=lambda row: (listed_on(row), row.place))
        one = len(rows) == 1
        what = f"{len(rows)} price{' of' if one else 's of'} '{supplier}' {'is' if one else 'are'} "
        what += f"older than {days} days on {catalogue.as_of}, the oldest of {listed_on(oldest)}"
        names = ", ".join(sorted(str(row.material) for row in rows))
        hint = f"ask the supplier, or list {'it' if one else 'them'} again: {names}"
        problems.warn(oldest.place, "stale", what, hint)
    for currency in sorted(_currencies(catalogue) & catalogue.exchange.keys()):
        rate = catalogue.exchange[currency]
        if (catalogue.as_of - rate.date).days > days:
            what = f"the rate of {currency} is of {rate.date}, older than {days} days on "
            what += f"{catalogue.as_of}"
            problems.warn(rate.place, "stale", what, "look it up again, and add a line")


def _currencies(catalogue: Catalogue) -> set[str]:
    """Those that something in force is bought or sold in."""
    sellers = (catalogue.records.suppliers.get(row.supplier) for row in catalogue.prices.values())
    found = {str(seller.currency) for seller in sellers if seller is not None}
    return found | {str(market.currency) for market in catalogue.yard.markets if market.currency}
