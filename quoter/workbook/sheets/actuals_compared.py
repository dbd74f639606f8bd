"""Sheets of what was compared with standard: labour, material and overhead, line by line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from quoter.actuals.compared import KINDS, LEVELS, Actuals, Compared, Kind
from quoter.actuals.summaries import AT, names_of
from quoter.figures import Figure, total
from quoter.phrases import capital, phrase, together
from quoter.problems import Place
from quoter.workbook.actuals_live import Live, assemblies_of
from quoter.workbook.table import Cell, Column, Row, Sheet, Table, lead_on

MATERIAL_KINDS: tuple[Kind, ...] = ("price", "exchange", "usage", "mix", "yield", "scrap")
LABOUR_KINDS: tuple[Kind, ...] = ("rate", "efficiency", "rework", "scrap")
VARIABLE_KINDS: tuple[Kind, ...] = ("spending", "variable efficiency", "scrap")
FIXED_KINDS: tuple[Kind, ...] = ("budget", "volume")
NAME, WHERE = 28.0, 20.0
DATE = 9.0
MOST_ROWS = 5  # that are named beside what rests on them


class _Names:
    """What people call whatever was compared."""

    def __init__(self, actuals: Actuals) -> None:
        self.part, self.station = names_of(actuals, "part"), names_of(actuals, "station")
        self.material = names_of(actuals, "material")
        self._operations = {
            f"{assembly.recipe.key}{AT}{number}": str(operation.name)
            for assembly in assemblies_of(actuals)
            for number, operation in enumerate(assembly.recipe.operations, 1)
        }

    def of_part(self, one: Compared) -> str | None:
        return self.part(one.scope.part) if one.scope.part else None

    def of_operation(self, one: Compared) -> str | None:
        scope = one.scope
        return self._operations[f"{scope.part}{AT}{scope.operation}"] if scope.operation else None

    def of_material(self, one: Compared) -> str:
        """A material, or the class of which a boat states money."""
        kind, _, id = one.scope.resource.partition(".")
        name = self.material(id)
        if name == id:
            name = phrase("{name}, in money", name=id.removeprefix("class_").replace("_", " "))
        return phrase("{name}, as bought", name=name) if kind == "bought" else name


def labour_sheet(over: Live) -> Sheet:
    """Hours: each scope that was compared, with what rate and efficiency made of it."""
    names = _Names(over.actuals)
    compared = _of(over, "labour")
    kinds = _kinds(compared, LABOUR_KINDS)
    rows = []
    for one in compared:
        scope = one.scope
        cells: list[Cell] = [
            scope.month,
            scope.job or None,
            names.station(scope.station),
            names.of_part(one),
            names.of_operation(one),
            LEVELS[scope.level],
            *_quantities(one),
            *_amounts(one, kinds),
        ]
        rows.append(Row(tuple(cells), _rows(one.rows)))
    rows += _total(compared, kinds, over.nothing, blank=10)
    columns = (
        Column("Month", width=DATE),
        Column("Job", width=11),
        Column("Station", width=WHERE),
        Column("Part", width=NAME),
        Column("Operation", width=NAME),
        Column("Compared", width=12),
        Column("Actual hours", decimals=2),
        Column("Standard hours", decimals=2),
        Column("Actual rate", decimals=2),
        Column("Standard rate", decimals=2),
        *_money(kinds),
    )
    return Sheet(
        "Labour",
        "Hours booked beside hours by standard, at the rates paid and at standard rates",
        (Table(columns, tuple(rows), name="labour", workings=True),),
        then=lead_on("Material", "quantities and prices of each material"),
    )


def material_sheet(over: Live) -> Sheet:
    """Material: each scope that was compared, with what price, usage, mix and yield made of it."""
    names = _Names(over.actuals)
    compared = [*_of(over, "material"), *_of(over, "bought")]
    kinds = _kinds(compared, MATERIAL_KINDS)
    rows = []
    for one in compared:
        scope = one.scope
        cells: list[Cell] = [
            scope.month,
            scope.job or None,
            names.of_material(one),
            names.of_part(one),
            LEVELS[scope.level],
            *_quantities(one),
            *_amounts(one, kinds),
        ]
        rows.append(Row(tuple(cells), _rows(one.rows)))
    rows += _total(compared, kinds, over.nothing, blank=9)
    columns = (
        Column("Month", width=DATE),
        Column("Job", width=11),
        Column("Material", width=NAME),
        Column("Part", width=NAME),
        Column("Compared", width=12),
        Column("Actual quantity"),
        Column("Standard quantity"),
        Column("Actual price", decimals=4),
        Column("Standard price", decimals=4),
        *_money(kinds),
    )
    return Sheet(
        "Material",
        "Material used beside what it should have been, at the prices paid and at standard prices",
        (Table(columns, tuple(rows), name="material", workings=True),),
        then=lead_on("Overhead", "spending, efficiency, budget and volume of each station"),
    )


def overhead_sheet(over: Live) -> Sheet:
    """Overhead of each station and month: spending and efficiency, budget and volume."""
    names = _Names(over.actuals)
    tables = []
    for which, title, asked in (
        ("variable", "Variable overhead", VARIABLE_KINDS),
        ("fixed", "Fixed overhead", FIXED_KINDS),
    ):
        compared = _of(over, which)
        kinds = _kinds(compared, asked)
        rows = [
            Row(
                (
                    one.scope.month,
                    names.station(one.scope.station),
                    one.actual_quantity,
                    one.standard_quantity,
                    *_amounts(one, kinds),
                ),
                _rows(one.rows),
            )
            for one in compared
        ]
        rows += _total(compared, kinds, over.nothing, blank=4)
        columns = (
            Column("Month", width=DATE),
            Column("Station", width=NAME),
            Column("Base as worked", decimals=2),
            Column("Base by standard", decimals=2),
            *_money(kinds),
        )
        tables.append(Table(columns, tuple(rows), title=title, name=which))
    return Sheet(
        "Overhead",
        "Overhead spent, budgeted and absorbed by what should have been worked",
        tuple(tables),
        notes=("Where nothing is booked as spent, variable overhead is taken at its rate.",),
        then=lead_on("Standards", "hours and material of a piece, to change"),
    )


def _of(over: Live, what: str) -> list[Compared]:
    """What was compared of a resource's kind, by month, else as it was."""
    found = [one for one in over.actuals.compared if one.scope.resource.startswith(f"{what}.")]
    return sorted(found, key=lambda one: one.scope.month)


def _kinds(compared: Sequence[Compared], asked: Sequence[Kind]) -> list[Kind]:
    """Those of some kinds that occur."""
    found = {line.kind for one in compared for line in one.lines}
    return [kind for kind in asked if kind in found]


def _quantities(one: Compared) -> list[Cell]:
    """Actual and standard quantity, then what one cost on either side."""
    actual, standard = one.actual_quantity, one.standard_quantity
    return [
        actual,
        standard,
        None if actual is None or not actual.value else one.actual / actual,
        None if standard is None or not standard.value else one.standard / standard,
    ]


def _amounts(one: Compared, kinds: Sequence[Kind]) -> list[Cell]:
    by_kind = {line.kind: line.amount for line in one.lines}
    return [one.standard, *(by_kind.get(kind) for kind in kinds), one.actual]


def _money(kinds: Sequence[Kind]) -> list[Column]:
    return [
        Column("Standard cost", form="bare"),
        *(Column(capital(KINDS[kind]), form="bare", over="Variances") for kind in kinds),
        Column("Actual cost", form="bare"),
    ]


def _total(
    compared: Sequence[Compared], kinds: Sequence[Kind], nothing: Figure, blank: int
) -> list[Row]:
    """The sums of money under a table, after so many columns; none where it has no rows."""
    if not compared:
        return []
    by_kind: dict[Kind, list[Figure]] = {kind: [] for kind in kinds}
    for one in compared:
        for line in one.lines:
            by_kind[line.kind].append(line.amount)
    sums = [total([one.standard for one in compared], nothing)]
    sums += [total(by_kind[kind], nothing) for kind in kinds]
    sums.append(total([one.actual for one in compared], nothing))
    empty: list[Cell] = [None] * (blank - 1)
    return [Row((phrase("All"), *empty, *sums), kind="total")]


def _rows(places: Iterable[Place]) -> str:
    """The rows that something rests on, by table: the first ones, and that there are others."""
    lines: dict[str, list[str]] = {}
    for place in dict.fromkeys((place.file, place.line) for place in places):
        lines.setdefault(place[0], []).append(str(place[1]))
    told = []
    for file, numbers in lines.items():
        text = f"{file}:{', '.join(numbers[:MOST_ROWS])}"
        more = len(numbers) > MOST_ROWS
        told.append(phrase("{places} and others", places=text) if more else text)
    return together("; ", told)
