"""Sheets of rates: landed prices, stations, and every input with its place and date."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from quoter.costing.rollup import Costing
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.phrases import phrase
from quoter.workbook.table import Cell, Column, InputCell, Row, Sheet, Table, lead_on

FILES = {
    "set": phrase("Set on the command line"),
    "prices": phrase("Price lists"),
    "exchange": phrase("Exchange rates"),
    "wages": phrase("Wages"),
    "yard": phrase("Policy"),
    "stations": "Stations",
    "suppliers": phrase("Suppliers"),
    "materials": "Materials",
    "moulds": "Moulds",
    "laminates": phrase("Laminates"),
    "parts": "Parts",
    "options": "Options",
    "models": "Models",
    "price_book": phrase("Published prices"),
}


def price_sheet(costing: Costing, used: Sequence[str]) -> Sheet:
    """How each material's landed price follows from its supplier's."""
    rows = []
    for id in used:
        row = costing.catalogue.prices[id]
        supplier = costing.catalogue.records.suppliers[row.supplier]
        rate = costing.catalogue.exchange.get(supplier.currency)
        rows.append(
            Row(
                (
                    costing.rates.names[id],
                    costing.rates.classes[id].capitalize(),
                    str(supplier.name),
                    row.price,
                    rate.rate if rate else None,
                    supplier.freight,
                    supplier.duty,
                    costing.rates.prices[id],
                ),
                source=str(row.place),
            )
        )
    columns = (
        Column("Material", width=34),
        Column("Class", width=12),
        Column("Supplier", width=22),
        Column("Supplier's price"),
        Column("Exchange rate", decimals=4),
        Column("Freight"),
        Column("Duty"),
        Column("Landed price", decimals=4),
    )
    explained = (
        "What each material costs in stores: landed price = price, exchanged, with freight, and "
        "duty on both"
    )
    then = lead_on("Stations", "what an hour costs at each")
    return Sheet("Prices", explained, (Table(columns, tuple(rows), name="landed"),), then=then)


def station_sheet(costing: Costing) -> Sheet:
    """What a paid hour costs at each station, and its overhead rates."""
    rows = []
    for id, rate in costing.rates.stations.items():
        station = rate.station
        wage = costing.catalogue.wages[station.wage_group].wage
        rows.append(
            Row(
                (
                    str(costing.stations[id].name),
                    wage,
                    station.on_costs,
                    rate.labour,
                    station.efficiency,
                    station.overhead.capacity,
                    station.overhead.variable,
                    station.overhead.fixed,
                    rate.variable,
                    rate.fixed,
                    station.overhead.base_words,
                ),
                source=str(station.place),
            )
        )
    columns = (
        Column("Station", width=26),
        Column("Wage"),
        Column("On-costs"),
        Column("Labour rate"),
        Column("Efficiency"),
        Column("Practical capacity a year"),
        Column("Variable budget a year"),
        Column("Fixed budget a year"),
        Column("Variable overhead rate"),
        Column("Fixed overhead rate"),
        Column("Absorbed on", width=16),
    )
    explained = (
        "What an hour costs at each station: labour rate = wage with on-costs per paid hour; "
        "overhead rate = budget / capacity"
    )
    then = lead_on("Inputs", "every number of the catalogue behind this book, to change")
    return Sheet("Stations", explained, (Table(columns, tuple(rows), name="stations"),), then=then)


def input_sheet(roots: Iterable[Figure], files: Mapping[str, str] = FILES) -> Sheet:
    """Every catalogue value this workbook rests on, by file: the only unlocked cells.

    `files` are those whose values stand here, each with its title.
    """
    order = in_order(roots)
    working: dict[str, Figure] = {}
    by_file: dict[str, list[Figure]] = {stem: [] for stem in files}
    for figure in order:
        if figure.key.endswith(".working"):
            working[figure.key] = figure
        if figure.op == "input" and figure.origin:
            stem = figure.key.partition(".")[0]
            if stem in files:
                by_file[stem].append(figure)
    rows: list[Row] = []
    for stem, title in files.items():
        figures = sorted(by_file[stem], key=_place)
        if figures:
            rows.append(Row((title, None, None, None, None), kind="group"))
        rows += [Row(_cells(figure, working), source=_source(figure)) for figure in figures]
    explained = (
        "Change a framed value and every cost, price and margin that rests on it follows; "
        "the catalogue stays as it is"
    )
    table = Table(_COLUMNS, tuple(rows), name="inputs", workings=True)
    return Sheet("Inputs", explained, (table,), then=lead_on("Checks", "whether all still adds up"))


_COLUMNS = (
    Column("Value", width=52),
    Column("As written"),
    Column("In working units"),
    Column("In force since", width=12),
    Column("Note", width=24),
)


def _place(figure: Figure) -> tuple[str, int, int]:
    origin = figure.origin
    return (origin.place.file, origin.place.line, origin.place.column) if origin else ("", 0, 0)


def _cells(figure: Figure, working: dict[str, Figure]) -> tuple[Cell, ...]:
    origin = figure.origin
    since, note = (origin.effective, origin.note) if origin else ("", "")
    converted = working.get(f"{figure.key}.working")
    return figure.label, InputCell(figure), converted, since or None, note or None


def _source(figure: Figure) -> str:
    return str(figure.origin.place) if figure.origin else ""
