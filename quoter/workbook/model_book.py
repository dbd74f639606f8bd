"""The workbook of one model: every sheet of it, live over the inputs it rests on."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.analysis.findings import ModelFindings
from quoter.figures import Figure
from quoter.phrases import phrase
from quoter.pricing.configured import Configured, configure
from quoter.pricing.controls import assemblies_of, controls_of, master
from quoter.pricing.price import PricedModel
from quoter.workbook.addresses import shown_in
from quoter.workbook.paper import footer_of, on_paper_of
from quoter.workbook.sheets.costs import cost_sheet, element_sheet, margin_sheet
from quoter.workbook.sheets.front import front_sheet
from quoter.workbook.sheets.proof import check_sheet, method_sheet
from quoter.workbook.sheets.quantities import (
    hours_sheet,
    labour_sheet,
    part_sheet,
    takeoff_sheet,
    tooling_sheet,
)
from quoter.workbook.sheets.questions import (
    emission_sheet,
    payback_sheet,
    sensitivity_sheet,
    target_sheet,
)
from quoter.workbook.sheets.rates import input_sheet, price_sheet, station_sheet
from quoter.workbook.sheets.risk import risk_sheet
from quoter.workbook.table import MARK, Book, Sheet


def model_book(asked: ModelFindings) -> Book:
    """The workbook of one model, before it becomes a file."""
    pricing, catalogue, priced = asked.pricing, asked.pricing.catalogue, asked.model
    boat = configure(pricing.terms, priced, {})
    controls = controls_of(pricing.terms, priced, boat)
    proved = master(controls).named("control.all", "All checks hold")
    list_day = catalogue.price_list
    subtitle = phrase(
        "{name}: cost, price and margin in {currency}",
        name=priced.model.name,
        currency=catalogue.currency,
    )
    about = (
        phrase(
            "Prices as of {as_of}, newest price list of {list_day}, workbook {mark}.",
            as_of=catalogue.as_of,
            list_day=list_day,
            mark=MARK,
        ),
        phrase("Sources name the catalogue's file and line."),
    )
    names = dict(_names(priced, boat))
    front = front_sheet(priced, boat, proved, subtitle)
    shown = (front, *_sheets(asked))
    checks = check_sheet(controls, proved)
    roots = [*shown_in([*shown, checks]), *names.values()]
    return Book(
        phrase("{name}: costing", name=priced.model.name),
        (*shown, input_sheet(roots), checks, method_sheet(about, roots)),
        footer_of(str(priced.model.name), catalogue),
        catalogue.currency,
        names,
        workings_before="Checks",
        reader=catalogue.reader,
        on_paper=on_paper_of(catalogue),
    )


def _sheets(asked: ModelFindings) -> tuple[Sheet, ...]:
    """The sheets between the summary and the inputs: results first, then quantities and rates."""
    costing, priced = asked.pricing.costing, asked.model
    assemblies = assemblies_of(priced)
    used = dict.fromkeys(m.line.material for a in assemblies for m in a.materials)
    parts = [a for a in assemblies if a.recipe.key.startswith("part.")]
    return (
        cost_sheet(priced, parts),
        element_sheet(priced, costing.rates.station_names),
        margin_sheet(priced),
        target_sheet(asked),
        payback_sheet(asked),
        sensitivity_sheet(asked),
        risk_sheet(asked),
        emission_sheet(asked, assemblies),
        takeoff_sheet(assemblies, costing.rates),
        part_sheet(assemblies),
        labour_sheet(assemblies, costing),
        hours_sheet(priced, costing),
        tooling_sheet(assemblies, costing),
        price_sheet(costing, list(used)),
        station_sheet(costing),
    )


def _names(priced: PricedModel, boat: Configured) -> Iterator[tuple[str, Figure]]:
    """Defined names of key results: boat_*, option_*_* and configured_*."""
    for name, item in (("boat", priced.boat), *priced.options.items()):
        start = "boat" if name == "boat" else f"option_{name}"
        yield f"{start}_list_price", item.list_price
        yield f"{start}_recommended", item.recommended
        yield f"{start}_cost", item.assembly.cost
        yield f"{start}_variable_cost", item.assembly.variable
        yield f"{start}_mass", item.assembly.mass
        yield f"{start}_hours", item.assembly.all_hours
        for buyer, sale in item.sales.items():
            yield f"{start}_margin_{buyer}", sale.margin
    yield "configured_list_price", boat.list_price
    yield "configured_cost", boat.cost
    yield "configured_mass", boat.mass
    yield "configured_hours", boat.hours
    for buyer, sale in boat.sales.items():
        yield f"configured_margin_{buyer}", sale.margin
