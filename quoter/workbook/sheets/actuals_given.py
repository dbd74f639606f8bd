"""Sheets of what it really took that are given: standards of a piece, rows as booked, notes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from quoter.actuals.compared import Actuals, Scope
from quoter.actuals.summaries import names_of
from quoter.figures import Figure, total
from quoter.figures.graph import in_order, inputs_of
from quoter.phrases import phrase
from quoter.pricing.controls import Control, agree
from quoter.problems import Place
from quoter.workbook.actuals_live import GivenStandard, Live
from quoter.workbook.table import (
    Cell,
    Column,
    InputCell,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)

BOOKED = "actuals"  # begins the keys of what was booked
# Tables of what was booked: title, heading of the thing, headings of the numbers by their field.
TABLES: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "hours": (phrase("Hours"), {"hours": phrase("Hours"), "wage": phrase("Wage paid")}),
    "issues": (
        phrase("Issues and returns"),
        {"quantity": phrase("Quantity"), "price": phrase("Price paid")},
    ),
    "purchases": (
        phrase("Purchases"),
        {
            "quantity": phrase("Quantity"),
            "price": phrase("Price paid"),
            "freight": phrase("Freight"),
            "rate": phrase("Rate paid"),
        },
    ),
    "pulls": (
        phrase("Pulls"),
        {"good": phrase("Good"), "scrapped": phrase("Scrapped")},
    ),
    "overhead": (phrase("Overhead spent"), {"spent": phrase("Spent")}),
    "jobs": (phrase("Boats of a job"), {"boats": phrase("Boats")}),
}
Where = tuple[str, int]  # file and line


def standard_sheet(over: Live) -> Sheet:
    """Hours and material of a piece: what a reader would rather have as standard."""
    titles = {
        "hours": phrase("Paid hours of a piece that is begun there"),
        "material": phrase("Material issued for a piece"),
        "job": phrase("Of jobs begun by the recipes of another day"),
    }
    tables = []
    for of, title in titles.items():
        own = [each for each in over.standards if each.of == of]
        tables.append(
            Table(
                _columns(of), tuple(_standards(own)), title=title, name=f"given_{of}", workings=True
            )
        )
    return Sheet(
        "Standards",
        "Standards of a piece as the recipes of this build give them: change one, and the "
        "variances of every job that has it follow",
        tuple(tables),
        notes=(
            "Hours of an operation hold set-up, allowance, learning and efficiency, and no rework; "
            "material holds its loss. Scrap by plan comes on top of both.",
        ),
        then=lead_on("Inputs", "prices, wages, rates and yields, to change"),
    )


def _columns(of: str) -> tuple[Column, ...]:
    if of == "job":
        return (Column("Standard", width=70), Column("In all"))
    if of == "hours":
        words = phrase("Operation"), phrase("Station"), phrase("Hours of a piece")
    else:
        words = phrase("Material"), phrase("Where"), phrase("Quantity of a piece")
    return (
        Column("Part", width=34),
        Column(words[0], width=34),
        Column(words[1], width=24),
        Column(words[2]),
    )


def _standards(own: Iterable[GivenStandard]) -> Iterator[Row]:
    for each in own:
        words: list[Cell] = [each.part]
        if each.of != "job":
            words += [each.what, each.where]
        yield Row((*words, InputCell(each.figure)), str(each.place))


def row_sheet(over: Live, roots: Iterable[Figure]) -> Sheet:
    """What was booked, row by row, of which something rests on."""
    compared_as = _compared_as(over.actuals)
    by_table: dict[str, dict[str, dict[str, Figure]]] = {name: {} for name in TABLES}
    for figure in inputs_of(roots):
        kind, _, rest = figure.key.partition(".")
        table, _, row = rest.partition(".")
        reference, _, field = row.rpartition(".")
        if kind == BOOKED and table in by_table:
            by_table[table].setdefault(reference, {})[field] = figure
    tables = []
    for name, (title, fields) in TABLES.items():
        used = [field for field in fields if any(field in row for row in by_table[name].values())]
        rows = sorted(by_table[name].items(), key=lambda row: _place(row[1]))
        columns = (
            Column("Reference", width=14),
            Column("Date", width=10),
            Column("Held against", width=40),
            *(Column(fields[field]) for field in used),
        )
        lines = (_row(reference, row, used, compared_as) for reference, row in rows)
        tables.append(
            Table(columns, tuple(lines), title=title, name=f"booked_{name}", workings=True)
        )
    return Sheet(
        "Rows",
        "What was booked, row by row: change one, and what rests on it follows",
        tuple(tables),
        notes=("Rows that nothing here rests on are left out: Notes says which, and why.",),
        then=lead_on("Checks", "whether all still adds up"),
    )


def _row(
    reference: str, row: Mapping[str, Figure], used: Sequence[str], compared_as: Mapping[Where, str]
) -> Row:
    first = next(iter(row.values()))
    origin = first.origin
    since, place = ("", Place("")) if origin is None else (origin.effective, origin.place)
    numbers = (InputCell(row[field]) if field in row else None for field in used)
    cells: list[Cell] = [
        reference,
        since if since[:1].isdigit() else None,
        compared_as.get((place.file, place.line)),
        *numbers,
    ]
    return Row(tuple(cells), f"{place.file}:{place.line}")


def _place(row: Mapping[str, Figure]) -> Where:
    origin = next(iter(row.values())).origin
    return ("", 0) if origin is None else (origin.place.file, origin.place.line)


def _compared_as(actuals: Actuals) -> dict[Where, str]:
    """What each row is held against: job and part, or that it was booked more coarsely."""
    part_of = names_of(actuals, "part")
    found: dict[Where, str] = {}
    for one in actuals.compared:
        words = _words(one.scope, part_of(one.scope.part))
        for place in one.rows:
            found.setdefault((place.file, place.line), words)
    return found


def _words(scope: Scope, part: str) -> str:
    if scope.job and scope.part:
        return phrase("job {number}: {part}", number=scope.job, part=part)
    if scope.job:
        return phrase("job {number}", number=scope.job)
    if scope.part:
        return phrase("{part}, pulls of the month", part=part)
    return phrase("the month")


def note_sheet(over: Live) -> Sheet:
    """What was decided on the way, and what jobs should have taken of which nothing was booked."""
    actuals = over.actuals
    stations, materials = names_of(actuals, "station"), names_of(actuals, "material")
    rows = []
    for one in actuals.unbooked:
        scope = one.scope
        kind, _, id = scope.resource.partition(".")
        name = stations(id) if kind == "labour" else materials(id)
        cells = (scope.job or scope.month, name, one.quantity, one.standard)
        rows.append(Row(cells))
    columns = (
        Column("Job or month", width=14),
        Column("Station or material", width=34),
        Column("Should have taken"),
        Column("Standard cost"),
    )
    unbooked = Table(
        columns,
        tuple(rows),
        title="Needed, and nothing booked: left out on both sides",
        name="unbooked",
    )
    return Sheet(
        "Notes",
        "What was decided in comparing, and what nobody booked",
        (unbooked, Paragraphs(("How rows were held against standards",), "heading"),
         Paragraphs(tuple(actuals.notes) or (phrase("Nothing had to be decided."),))),
        then=lead_on("Method", "how the numbers are made"),
    )  # fmt: skip


def row_controls(over: Live, roots: Sequence[Figure]) -> Iterator[Control]:
    """All hours of the rows are compared, each once."""
    of_rows = {
        figure.key.removesuffix(".working"): figure  # the working figure comes after the input
        for figure in in_order(roots)
        if figure.key.startswith(f"{BOOKED}.hours.")
        and figure.key.removesuffix(".working").endswith(".hours")
    }
    hours = list(of_rows.values())
    compared = [
        one.actual_quantity
        for one in over.actuals.compared
        if one.scope.resource.startswith("labour.") and one.actual_quantity is not None
    ]
    if hours and compared:
        booked = total(hours, hours[0])
        booked = booked.named("actual.book.rows.hours", phrase("hours of all rows"))
        held = total(compared, compared[0])
        held = held.named("actual.book.compared.hours", phrase("hours compared"))
        what = phrase("Hours of all rows are the hours compared")
        yield Control(what, booked, held, agree(booked, held))
