"""Sheets of what it really took that are read: summary, months, jobs, and what was compared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from quoter.actuals.compared import KINDS
from quoter.actuals.summaries import in_month, summary_of
from quoter.figures import Figure, total
from quoter.phrases import capital, phrase, together
from quoter.pricing.controls import Control, agree
from quoter.workbook.actuals_live import Live
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
NAME, DATE = 28.0, 9.0


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
