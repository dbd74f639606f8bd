"""The workbook of the planned year: live over volumes, resting on stated amounts per unit."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.analysis.findings import Findings
from quoter.analysis.plan import Plan, Year
from quoter.analysis.plan_controls import plan_controls
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.controls import master
from quoter.workbook.addresses import shown_in
from quoter.workbook.paper import footer_of, on_paper_of
from quoter.workbook.sheets.moulds import mould_sheet
from quoter.workbook.sheets.plan import (
    demand_sheet,
    draw_sheet,
    material_need_sheet,
    plan_front_sheet,
    station_load_sheet,
    volume_sheet,
)
from quoter.workbook.sheets.proof import Told, check_sheet, method_sheet
from quoter.workbook.sheets.rates import input_sheet
from quoter.workbook.table import MARK, Book

METHOD = (
    phrase(
        "Units a year = boats a year x take rate; what a year draws = units a year x what one good "
        "unit draws, scrap and rework included; a month is a twelfth of the year."
    ),
    phrase(
        "Mould: hours by the clock = work in the mould, shared by the crew, + cure + nights and "
        "weekends in which neither goes on; pulls one set can give = open weeks x 168 h / hours by "
        "the clock x availability; sets needed = pulls / pulls of one set, rounded up."
    ),
    phrase(
        "Station: utilisation = load / practical capacity, on the base its overhead is absorbed "
        "on; absorbed = budget / capacity x load; under-absorbed = budget - absorbed."
    ),
    phrase(
        "Overtime = hours above the normal ones, up to the most there may be; a second shift "
        "takes the rest; premium = hours x labour rate x what is paid on top. It is in no unit's "
        "cost and in no margin of this book."
    ),
    phrase(
        "Margin a year = boats x margin of the boat + units x margin of each option, at the first "
        "class of buyer."
    ),
)


def plan_book(findings: Findings) -> Book:
    """The workbook of the plan, before it becomes a file."""
    pricing, plan, year = findings.pricing, findings.plan, findings.year
    costing, catalogue = pricing.costing, pricing.catalogue
    controls = plan_controls(pricing, plan, year)
    proved = master(controls).named("control.all", "All checks hold")
    shown = (
        plan_front_sheet(pricing, plan, year, proved),
        volume_sheet(pricing, plan),
        demand_sheet(pricing, plan),
        mould_sheet(plan, year),
        station_load_sheet(costing, plan, year),
        material_need_sheet(costing, plan, year),
        draw_sheet(costing, plan),
    )
    checks = check_sheet(controls, proved)
    names = dict(_names(plan, year))
    roots = [*shown_in([*shown, checks]), *names.values()]
    company, list_day = catalogue.yard.company.name, catalogue.price_list
    about = (
        phrase(
            "Live over boats a year, take rates, capacities, budgets, planned pulls and closed "
            "weeks. Amounts, waits for shifts, margins and landed prices per unit are numbers of "
            "this build: they do not follow a change here. For a changed recipe, price or wage "
            "build the catalogue anew; the workbook of each model shows how they come about."
        ),
        phrase(
            "Prices as of {as_of}, newest price list of {list_day}, workbook {mark}.",
            as_of=catalogue.as_of,
            list_day=list_day,
            mark=MARK,
        ),
        phrase("Sources name the catalogue's file and line."),
    )
    return Book(
        phrase("{company}: planned year", company=company),
        (
            *shown,
            input_sheet(roots),
            checks,
            method_sheet(about, roots, [Told(words) for words in METHOD]),
        ),
        footer_of(phrase("planned year"), catalogue),
        catalogue.currency,
        names,
        workings_before="Checks",
        reader=catalogue.reader,
        on_paper=on_paper_of(catalogue),
    )


def _names(plan: Plan, year: Year) -> Iterator[tuple[str, Figure]]:
    """Defined names of key results: year_*, model_*, station_* and mould_*."""
    yield "year_boats", year.boats
    yield "year_margin", year.margin
    yield "year_hours", year.hours
    yield "year_material_month", year.material
    if plan.emissions.total.args:
        yield "year_emission", plan.emissions.total
    for model, margin in plan.margins.items():
        yield f"model_{model}_margin", margin
    for load in plan.stations:
        yield f"station_{load.station}_hours", load.hours
        yield f"station_{load.station}_utilisation", load.utilisation
        yield f"station_{load.station}_under", load.under
    for pulled in plan.moulds:
        yield f"mould_{pulled.mould.id}_pulls", pulled.pulls
        if pulled.sets is not None:
            yield f"mould_{pulled.mould.id}_sets", pulled.sets
