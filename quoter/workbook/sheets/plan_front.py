"""The first sheet of the plan: the year in short, and where everything else is."""

from __future__ import annotations

from quoter.analysis.plan import Plan, Year
from quoter.figures import Figure
from quoter.pricing.price import Pricing
from quoter.workbook.sources import sources_of
from quoter.workbook.table import Column, Contents, Flag, Row, Sheet, Table, Text

HOW_TO_READ = (
    "Framed, tinted cells are yours to change: boats a year and take rates on Volumes, capacities, "
    "budgets and the calendar on Inputs. All other cells are formulas over them, or numbers of "
    "this build that say so.",
    "Money is in home currency without tax. Margins are those at the first class of buyer, "
    "{buyer}; costs are positive, overhead under-absorbed is negative where more is absorbed than "
    "budgeted.",
)
ABOUT_EMISSION = (
    "Organic HAP by the point values of 40 CFR 63 Subpart VVVV against the yearly amounts that "
    "make a major source (Table 1, footnote 1). An estimate of what options and their parts give "
    "off, not a compliance record: hulls and decks of the base boats are stated, not built up, "
    "and are not in it, nor is what tooling and cleaning give off."
)


def plan_front_sheet(pricing: Pricing, plan: Plan, year: Year, proved: Figure) -> Sheet:
    """The summary of the year."""
    buyer = str(pricing.terms.buyers[0].name)
    return Sheet(
        "Summary",
        "The planned year: boats, margin, load, materials and emissions",
        (
            Text(tuple(line.format(buyer=buyer) for line in HOW_TO_READ)),
            _models(pricing, plan, year),
            _whole(year),
            _proof(proved),
            _stations(pricing, plan, year),
            _emissions(plan, year),
            Text((ABOUT_EMISSION,)),
            Contents(),
        ),
    )


def _models(pricing: Pricing, plan: Plan, year: Year) -> Table:
    rows = [
        Row((str(pricing.models[model].model.name), boats, plan.margins[model]), sources_of(boats))
        for model, boats in plan.boats.items()
    ]
    rows.append(Row(("All models", year.boats, year.margin), kind="total"))
    columns = (
        Column("Model", width=34),
        Column("Boats a year"),
        Column("Margin a year, options included"),
    )
    return Table(columns, tuple(rows), title="Boats and margin", name="models")


def _proof(proved: Figure) -> Table:
    columns = (Column("This workbook", width=34), Column("Result"))
    return Table(columns, (Row(("All checks", Flag(proved))),), name="proof")


def _whole(year: Year) -> Table:
    found = {
        "Materials a month": year.material,
        "Paid hours a year": year.hours,
        "Overhead budgets a year": year.budget,
        "Overhead under-absorbed": year.under,
    }
    rows = tuple(Row((what, figure), sources_of(figure)) for what, figure in found.items())
    return Table((Column("The year", width=34), Column("In all")), rows, name="whole")


def _stations(pricing: Pricing, plan: Plan, year: Year) -> Table:
    rows = []
    for load in plan.stations:
        station = pricing.costing.stations[load.station]
        most = Flag(year.most_loaded[load.station], "MOST LOADED", "no", alarm="yes")
        rows.append(Row((str(station.name), load.utilisation, most), str(station.place)))
    columns = (Column("Station", width=34), Column("Utilisation"), Column("Bottleneck"))
    return Table(columns, tuple(rows), title="Stations", name="bottleneck")


def _emissions(plan: Plan, year: Year) -> Table:
    rows = tuple(
        Row(
            (
                each.what[:1].upper() + each.what[1:],
                plan.emission,
                each.limit,
                each.used,
                Flag(each.below, "below", "AT OR ABOVE"),
            ),
            "40 CFR 63 Subpart VVVV, Table 1, footnote 1",
        )
        for each in year.thresholds
    )
    columns = (
        Column("Threshold for", width=34),
        Column("Given off a year", decimals=1),
        Column("Threshold a year", decimals=0),
        Column("Used of it"),
        Column("Options and parts"),
    )
    return Table(columns, rows, title="Emissions", name="thresholds")
