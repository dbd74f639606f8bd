"""The sheet of risk: what each input may be and why, and how sure each cost is because of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from quoter.analysis.findings import ModelFindings
from quoter.analysis.live_risk import LiveRisk, LiveSpread, live_risk, live_spreads
from quoter.analysis.ranges import SOURCES
from quoter.analysis.risk import Risk
from quoter.figures import Figure, stated
from quoter.phrases import capital, phrase
from quoter.pricing.price import Priced
from quoter.workbook.sheets.questions import LONG
from quoter.workbook.sources import source_of
from quoter.workbook.table import Block, Column, Paragraphs, Row, Sheet, Table, UnitOf, lead_on

MONEY = 14.0  # digits of an amount
REASON = 52.0  # digits of why a range is as it is

NO_RANGES = (
    "No input behind these costs varies, so nothing can be said here about how sure they are."
)
ABOUT = (
    "Every input may be lower or higher: as written beside it in the catalogue; else by its kind, "
    "as the policy states; else by its own history; else by a range of the house, from common "
    "practice. Counts, decisions, pack sizes, tax and terms of sale are exact. The last table says "
    "of each input which it is, and why.",
    "Three-point: mean = (low + 4 x likely + high) / 6, standard deviation = (high - low) / 6. "
    "Triangular: mean = (low + likely + high) / 3, variance = (low² + likely² + high² - low x "
    "likely - low x high - likely x high) / 18.",
    "To first order, and live: an input causes a deviation s = slope x standard deviation. Inputs "
    "of a group move together: its variance = r x (sum of s)² + (1 - r) x sum of s², r being the "
    "correlation; an efficiency counts against the minutes of its station. Groups are independent: "
    "variances add up. Share of an input = s x ((1 - r) x s + r x sum of s) / variance. Mean = "
    "cost + sum of slope x (mean - likely). Slopes are numbers of this build, and so is what the "
    "many inputs bring that are not named.",
    "Simulated by this build: all inputs drawn together from their ranges, evenly "
    "stratified, each result worked out anew. P80 means that eight results in ten are below it. "
    "Contingency = P80 - full cost. Less than the floor is the chance that today's list price "
    "leaves the first class of buyer less than the floor margin. Simulated "
    "numbers do not follow a changed input; build the catalogue anew for that.",
)


def risk_sheet(asked: ModelFindings) -> Sheet:
    """How sure each cost is, what moves together, the largest causes, and every input's range."""
    sold = [(item, asked.risks[item.assembly.cost]) for item in asked.model.everything]
    blocks: tuple[Block, ...] = (Paragraphs((NO_RANGES,)),)
    spreads = live_spreads(risk for _, risk in sold)
    if spreads:
        correlations = asked.findings.ranges.correlations
        risks = [
            (
                item,
                live_risk(
                    item.assembly.cost,
                    risk,
                    spreads,
                    item.assembly.recipe.key,
                    item.assembly.name,
                    correlations,
                ),
            )
            for item, risk in sold
        ]
        known = [(item, risk) for item, risk in risks if risk is not None]
        blocks = (
            Paragraphs(ABOUT),
            _results(asked, known),
            _sources(asked, sold),
            _groups(known),
            _causes(known),
            _ranges(spreads.values()),
            _inputs(asked),
        )
    heading = phrase(
        "{name}: how sure each cost is, where inputs may be lower or higher",
        name=asked.model.model.name,
    )
    then = lead_on("Emissions", "mass added and organic HAP given off")
    return Sheet("Risk", heading, blocks, then=then)


def _results(asked: ModelFindings, known: Sequence[tuple[Priced, LiveRisk]]) -> Table:
    rows = []
    for item, risk in known:
        beyond = asked.risks[item.assembly.cost].beyond
        key, name = item.assembly.recipe.key, item.assembly.name
        floor = None
        if beyond is not None:
            label = phrase("{name}: chance of less than the floor, simulated", name=name)
            floor = stated(Figure(beyond, form="percent"), f"{key}.risk.below_floor", label)
        cells = (
            name,
            risk.result,
            risk.mean,
            risk.deviation,
            *risk.simulated.values(),
            risk.contingency,
            floor,
        )
        rows.append(Row(cells, str(item.assembly.recipe.place)))
    columns = (
        Column("Boat, option or package", width=LONG),
        Column("Full cost", width=MONEY),
        Column("Mean", width=MONEY),
        Column("Standard deviation", width=MONEY),
        Column("Mean, simulated", width=MONEY),
        Column("Standard deviation, simulated", width=MONEY),
        *(
            Column(phrase("{what}, simulated", what=what), width=MONEY)
            for what in ("P10", "P50", "P80", "P90")
        ),
        Column("Contingency to P80", width=MONEY),
        Column("Less than the floor", width=MONEY),
    )
    return Table(columns, tuple(rows), title="Costs", name="risks")


def _sources(asked: ModelFindings, sold: Sequence[tuple[Priced, Risk]]) -> Table:
    rows = []
    for item, risk in sold:
        key, name = item.assembly.recipe.key, item.assembly.name
        inputs = asked.slopes(item.assembly.cost)
        exact = sum(1 for figure in inputs if figure in asked.exact)
        cells: list[Figure | str | None] = [name]
        for source in risk.sources:
            at = f"{key}.risk.source.{source.name.replace(' ', '_')}"
            cells.append(
                _number(
                    source.inputs,
                    f"{at}.inputs",
                    phrase("{name}: ranges {name2}", name=name, name2=source.name),
                )
            )
            share = Figure(source.share, form="percent")
            cells.append(
                stated(
                    share,
                    f"{at}.share",
                    phrase("{name}: share {source}", name=name, source=source.name),
                )
            )
        cells.append(_number(exact, f"{key}.risk.exact", phrase("{name}: exact inputs", name=name)))
        rows.append(Row(tuple(cells), str(item.assembly.recipe.place)))
    columns = [Column("Boat, option or package", width=LONG)]
    for name in SOURCES:
        columns += [
            Column("Inputs", form="whole", over=phrase("Range {name}", name=name)),
            Column("Share", over=phrase("Range {name}", name=name)),
        ]
    columns.append(Column("Exact inputs", form="whole"))
    title = "Where the ranges are from, and what share of the variance they bring, in this build"
    return Table(tuple(columns), tuple(rows), title=title, name="range_sources")


def _number(value: int, key: str, label: str) -> Figure:
    return stated(Figure(float(value)), key, label)


def _groups(known: Iterable[tuple[Priced, LiveRisk]]) -> Table:
    rows = []
    for item, risk in known:
        rows.append(Row((item.assembly.name, None, None, None, None, None), kind="group"))
        for group in risk.groups:
            cells = (
                capital(group.words),
                group.correlation,
                group.whole,
                group.squares,
                group.variance,
                group.share,
            )
            rows.append(Row(cells, str(item.assembly.recipe.place)))
    columns = (
        Column("What moves together", width=LONG),
        Column("Correlation", width=MONEY),
        Column("Sum of s", width=MONEY),
        Column("Sum of s²", width=MONEY),
        Column("Variance", width=MONEY),
        Column("Share of variance", width=MONEY),
    )
    return Table(
        columns, tuple(rows), title="What moves together", name="risk_groups", workings=True
    )


def _causes(known: Iterable[tuple[Priced, LiveRisk]]) -> Table:
    rows = []
    for item, risk in known:
        rows.append(Row((item.assembly.name, None, None, None), kind="group"))
        for share in risk.shares:
            figure = share.spread.figure
            cells = (figure.label, share.slope, share.deviation, share.share)
            rows.append(Row(cells, source_of(figure)))
    columns = (
        Column("Input", width=LONG),
        Column("Slope of this build", unit=phrase("cost per unit"), width=MONEY),
        Column("Deviation s it causes", width=MONEY),
        Column("Share of variance", width=MONEY),
    )
    return Table(columns, tuple(rows), title="The largest causes", name="causes", workings=True)


def _ranges(spreads: Iterable[LiveSpread]) -> Table:
    rows = tuple(
        Row(
            (
                spread.figure.label,
                UnitOf(spread.figure),
                spread.low,
                spread.figure,
                spread.high,
                spread.varying.spread.shape,
                spread.mean,
                spread.shift,
                spread.deviation,
            ),
            source_of(spread.figure),
        )
        for spread in spreads
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
    return Table(columns, rows, title="Ranges of the largest causes", name="ranges", workings=True)


def _inputs(asked: ModelFindings) -> Table:
    """Every input: which range it has and why, or why it has none."""
    rows = [
        Row(
            (
                figure.label,
                varying.source,
                varying.reason,
                varying.group.words if varying.group else "nothing else",
            ),
            source_of(figure),
        )
        for figure, varying in asked.varying.items()
    ]
    rows += [
        Row((figure.label, "exact", reason, ""), source_of(figure))
        for figure, reason in asked.exact.items()
    ]
    columns = (
        Column("Input", width=LONG),
        Column("Range", width=MONEY),
        Column("Why", width=REASON),
        Column("Moves with", width=30),
    )
    return Table(columns, tuple(rows), title="Every input", name="all_inputs", workings=True)
