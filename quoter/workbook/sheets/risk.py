"""The sheet of risk: ranges of inputs, and how sure each cost is because of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from quoter.analysis.findings import ModelFindings
from quoter.analysis.risk import LiveRisk, LiveSpread, live_risk, live_spreads
from quoter.costing.assembly import Assembly
from quoter.figures import Figure
from quoter.workbook.columns import unit_of
from quoter.workbook.sheets.questions import LONG
from quoter.workbook.sources import source_of
from quoter.workbook.table import Block, Column, Paragraphs, Row, Sheet, Table

MONEY = 14.0  # digits of an amount

NO_RANGES = (
    "No input behind these costs has a low and a high value in the catalogue, so nothing can be "
    "said here about how sure they are. Give the inputs you doubt a range, as in "
    "'4.10 EUR/kg [3.80 to 4.60]', and this sheet shows what it means for each cost."
)
ABOUT = (
    "Ranges are the catalogue's; the likely value is the one on Inputs and follows it. "
    "Three-point: mean = (low + 4 x likely + high) / 6, standard deviation = (high - low) / 6. "
    "Triangular: mean = (low + likely + high) / 3, variance = (low² + likely² + high² - low x "
    "likely - low x high - likely x high) / 18.",
    "To first order, and live: mean = cost + sum of slope x (mean - likely); standard deviation = "
    "root of the sum of (slope x standard deviation)²; share of variance = each square of that sum "
    "over the whole. Inputs vary independently. The slopes are numbers of this build.",
    "Simulated by this build: all inputs drawn together from their ranges, evenly "
    "stratified, each result worked out anew. P10 means that one result in ten is below it. "
    "These numbers do not follow a changed input; build the catalogue anew for that.",
)


def risk_sheet(asked: ModelFindings) -> Sheet:
    """Low, likely and high inputs, and mean, deviation and percentiles of each cost."""
    sold = [item.assembly for item in asked.model.boat_and_options]
    spreads = live_spreads([assembly.cost for assembly in sold])
    blocks: tuple[Block, ...] = (Paragraphs((NO_RANGES,)),)
    if spreads:
        risks = [(assembly, _risk(asked, assembly, spreads)) for assembly in sold]
        known = [(assembly, risk) for assembly, risk in risks if risk is not None]
        blocks = (
            Paragraphs(ABOUT),
            _results(known),
            _ranges(spreads),
            _causes(known),
        )
    heading = (
        f"{asked.model.model.name}: how sure each cost is, where inputs may be lower or higher"
    )
    return Sheet("Risk", heading, blocks)


def _risk(
    asked: ModelFindings, assembly: Assembly, spreads: Mapping[Figure, LiveSpread]
) -> LiveRisk | None:
    cost = assembly.cost
    return live_risk(cost, asked.risks[cost], spreads, assembly.recipe.key, assembly.name)


def _ranges(spreads: Mapping[Figure, LiveSpread]) -> Table:
    rows = tuple(
        Row(
            (
                figure.label,
                unit_of(figure),
                spread.low,
                figure,
                spread.high,
                spread.shape,
                spread.mean,
                spread.shift,
                spread.deviation,
            ),
            source_of(figure),
        )
        for figure, spread in spreads.items()
    )
    columns = (
        Column("Input", width=LONG),
        Column("Unit", width=10),
        Column("Low", unit="", width=MONEY),
        Column("Likely", unit="", width=MONEY),
        Column("High", unit="", width=MONEY),
        Column("Shape", width=12),
        Column("Mean", unit="", width=MONEY),
        Column("Mean less likely", unit="", width=MONEY),
        Column("Standard deviation", unit="", width=MONEY),
    )
    return Table(columns, rows, title="Inputs with a range", name="ranges")


def _results(known: Sequence[tuple[Assembly, LiveRisk]]) -> Table:
    rows = tuple(
        Row(
            (assembly.name, risk.result, risk.mean, risk.deviation, *risk.simulated.values()),
            str(assembly.recipe.place),
        )
        for assembly, risk in known
    )
    columns = (
        Column("Boat or option", width=LONG),
        Column("Full cost", width=MONEY),
        Column("Mean", width=MONEY),
        Column("Standard deviation", width=MONEY),
        Column("Mean, simulated", width=MONEY),
        Column("Standard deviation, simulated", width=MONEY),
        *(Column(f"{what}, simulated", width=MONEY) for what in ("P10", "P50", "P90")),
    )
    return Table(columns, rows, title="Costs", name="risks")


def _causes(known: Iterable[tuple[Assembly, LiveRisk]]) -> Table:
    rows = []
    for assembly, risk in known:
        rows.append(Row((assembly.name, None, None, None), kind="group"))
        for share in risk.shares:
            spread = share.spread
            cells = (spread.figure.label, share.slope, share.deviation, share.share)
            rows.append(Row(cells, source_of(spread.figure)))
    columns = (
        Column("Input", width=LONG),
        Column("Slope of this build", unit="cost per unit", width=MONEY),
        Column("Standard deviation it causes", width=MONEY),
        Column("Share of variance", width=MONEY),
    )
    return Table(columns, tuple(rows), title="What causes it", name="causes")
