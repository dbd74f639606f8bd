"""Sheets of what it really took that are read: summary, months, jobs, and what was compared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from quoter.actuals.compared import KINDS, LEVELS, Actuals, Compared, Kind
from quoter.actuals.summaries import AT, in_month, names_of, summary_of
from quoter.figures import Figure, total
from quoter.phrases import capital, phrase, together
from quoter.pricing.controls import Control, agree
from quoter.problems import Place
from quoter.workbook.actuals_live import Live, assemblies_of
from quoter.workbook.sheets.proof import CAUTIONS, proved_table
from quoter.workbook.table import (
    Cell,
    Chart,
    Column,
    Contents,
    Flag,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)

HOW_TO_READ = (
    "Framed, tinted cells are yours to change: hours and material of a piece on Standards, "
    "prices, wages, rates and yields on Inputs, what was booked on Rows. Every variance, month "
    "and margin follows; the catalogue stays as it is.",
    "A variance is what was spent above standard: unfavourable is positive. Standard cost and "
    "all variances add up to the actual cost, on every line, in every month and for every job.",
    "Which rows are held against which standard is as of this build. What was booked of nothing "
    "that needs it, and what is needed and was not booked, is named on Notes.",
)
MATERIAL_KINDS: tuple[Kind, ...] = ("price", "exchange", "usage", "mix", "yield", "scrap")
LABOUR_KINDS: tuple[Kind, ...] = ("rate", "efficiency", "rework", "scrap")
VARIABLE_KINDS: tuple[Kind, ...] = ("spending", "variable efficiency", "scrap")
FIXED_KINDS: tuple[Kind, ...] = ("budget", "volume")
NAME, WHERE = 28.0, 20.0
DATE = 9.0
MOST_ROWS = 5  # that are named beside what rests on them


@dataclass(frozen=True, slots=True)
class Sums:
    """Standard, variances by kind, their sum and actual, of a month or of all; `again` is standard
    with all variances, which has to be the actual cost."""

    month: str
    standard: Figure
    kinds: Mapping[str, Figure]
    variance: Figure
    actual: Figure
    again: Figure


def sums_of(over: Live) -> list[Sums]:
    """The sums of each month, then those of all."""
    return [_sums(over, month) for month in (*over.actuals.months, "")]


def _sums(over: Live, month: str) -> Sums:
    actuals, within = over.actuals, month or "all"
    compared = [one for one in actuals.compared if month in ("", one.scope.month)]
    lines = in_month(actuals.lines, month) if month else actuals.lines
    found = summary_of(actuals, "kind", lines, within)

    def called(figure: Figure, what: str, words: str) -> Figure:
        label = together(": ", (month or phrase("All months"), words))
        return figure.named(f"actual.book.{within}.{what}", label)

    standard = total([one.standard for one in compared], over.nothing)
    standard = called(standard, "standard", phrase("standard cost"))
    actual = total([one.actual for one in compared], over.nothing)
    return Sums(
        month=month,
        standard=standard,
        kinds={each.id: each.amount for each in found.sums},
        variance=found.total,
        actual=called(actual, "actual", phrase("actual cost")),
        again=called(standard + found.total, "again", phrase("standard and variances")),
    )


def front_sheet(over: Live, sums: Sequence[Sums], found: Sequence[str], proved: Figure) -> Sheet:
    """The first sheet: what it came to in all, by kind, and what stands where."""
    whole = sums[-1]
    kinds = [kind for kind in KINDS if kind in whole.kinds]
    rows = tuple(Row((capital(KINDS[kind]), whole.kinds[kind])) for kind in kinds)
    by_kind = Table(
        (Column("Cost variance", width=34), Column("In all")),
        rows,
        title="Why it came to more or less",
        name="kinds",
    )
    came_to = Table(
        (Column("All that was compared", width=34), Column("In all")),
        (
            Row(("Standard cost", whole.standard)),
            Row(("Variances", whole.variance)),
            Row(("Actual cost", whole.actual), kind="total"),
        ),
        name="whole",
    )
    told = [
        together(" ", (capital(KINDS[kind]), f"{whole.kinds[kind].value:,.0f}")) for kind in kinds
    ]
    chart = Chart(
        title="Variances by kind",
        table="kinds",
        categories="Cost variance",
        values=("In all",),
        value_title="Above standard",
        category_title="Cost variance",
        description=phrase(
            "Bars: each kind of variance, unfavourable to the right. {kinds}",
            kinds=together("; ", told),
        ),
    )
    return Sheet(
        "Summary",
        "What jobs really took against standard: price, usage, rate, efficiency, overhead",
        (
            Paragraphs(("What this build found",), "heading"),
            Paragraphs(tuple(found)),
            proved_table(proved),
            came_to,
            by_kind,
            Paragraphs(("How to read this",), "heading"),
            Paragraphs(HOW_TO_READ),
            Paragraphs(CAUTIONS, "caution"),
            Contents(),
        ),
        charts=(chart,),
        then=lead_on("Months", "standard, variances and actual of each month"),
    )


def month_sheet(sums: Sequence[Sums]) -> Sheet:
    """Each month from its standard over the variances to what was spent."""
    kinds = [kind for kind in KINDS if kind in sums[-1].kinds]
    rows = []
    for each in sums:
        cells: list[Cell] = [each.month or phrase("All months"), each.standard]
        cells += [each.kinds.get(kind) for kind in kinds]
        holds = Flag(agree(each.again, each.actual))
        cells += [each.variance, each.actual, holds]
        rows.append(Row(tuple(cells), kind="line" if each.month else "total"))
    columns = (
        Column("Month", width=DATE),
        Column("Standard", form="bare"),
        *(Column(capital(KINDS[kind]), form="bare", over="Variances") for kind in kinds),
        Column("All variances", form="bare"),
        Column("Actual", form="bare"),
        Column("Adds up", width=8),
    )
    charts = []
    if len(sums) > 2:
        told = [f"{each.month} {each.variance.value:,.0f}" for each in sums[:-1]]
        chart = Chart(
            title="Variance by month",
            table="months",
            categories="Month",
            values=("All variances",),
            value_title="Above standard",
            category_title="Month",
            description=phrase(
                "Columns: all variances of each month. {months}", months=together("; ", told)
            ),
            kind="columns",
        )
        charts.append(chart)
    return Sheet(
        "Months",
        "Standard cost and variances of each month, which add up to what was spent",
        (Table(columns, tuple(rows), name="months"),),
        charts=tuple(charts),
        then=lead_on("Jobs", "what each job left"),
    )


def job_sheet(over: Live) -> Sheet:
    """Each job: price, standard, variances, actual cost, margins planned and left."""
    rows = []
    models = over.actuals.pricing.catalogue.records.models
    for each in over.jobs:
        job = each.job
        quoted = each.after.quoted
        cells = (
            job.number,
            str(models[job.model].name),
            quoted.name if quoted is not None else phrase("price list"),
            phrase("at work") if job.open else str(job.row.finished),
            each.price,
            each.standard,
            each.variance,
            each.cost,
            Flag(agree(each.again, each.cost)),
            each.planned,
            each.left,
            each.left_fraction,
        )
        rows.append(Row(cells, str(job.row.place)))
    columns = (
        Column("Job", width=11),
        Column("Model", width=NAME),
        Column("Sold by", width=13),
        Column("Finished", width=11),
        Column("Net price", form="bare"),
        Column("Standard cost", form="bare"),
        Column("Variances", form="bare"),
        Column("Actual cost", form="bare"),
        Column("Adds up", width=8),
        Column("Margin planned", form="bare"),
        Column("Margin left", form="bare"),
        Column("Margin left of the price"),
    )
    return Sheet(
        "Jobs",
        "What each job was sold for, should have cost, did cost, and left",
        (Table(columns, tuple(rows), name="jobs"),),
        notes=(
            "Of a job's cost that is not compared on it, such as overhead and what nothing was "
            "booked of, the standard of this build stands, as do prices and margins of quotes.",
        ),
        then=lead_on("Labour", "hours and rates of each station, job and operation"),
    )


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


def actual_controls(over: Live, sums: Sequence[Sums]) -> list[Control]:
    """What has to add up: months, jobs, and all rows of hours with all hours compared."""
    found = []
    for each in sums:
        when = each.month or phrase("All months")
        what = phrase("{month}: standard and all variances are the actual cost", month=when)
        found.append(Control(what, each.again, each.actual, agree(each.again, each.actual)))
    for account in over.jobs:
        what = phrase(
            "Job {number}: standard and all variances are the actual cost",
            number=account.job.number,
        )
        holds = agree(account.again, account.cost)
        found.append(Control(what, account.again, account.cost, holds, account.job.row.place))
    return found
