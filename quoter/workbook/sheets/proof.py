"""Sheets that show the workbook can be trusted: its checks, its method and its cautions.

Every formula is told by its own docstring: method, equation, limits and source."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from quoter.figures import Figure
from quoter.pricing.controls import Control
from quoter.pricing.method import chapters
from quoter.workbook.sources import sources_in
from quoter.workbook.table import Column, Flag, Paragraphs, Row, Sheet, Table

METHOD = (
    "Material: net quantity by geometry and laminate; issued = net / (1 - loss); "
    "cost = issued x landed price. Glass is issued by nested area.",
    "Open-mould resin = glass x (1 - content) / content. Closed-mould resin fills what fibre and "
    "core leave of the cavity, at its liquid density, with gallery and catch-pot per shot.",
    "Gelcoat = area x wet film x density, issued by transfer efficiency. "
    "Foam = volume x free-rise density x packing factor, split by mix ratio.",
    "Labour: normal time = set-up / batch + fixed + rates x drivers; standard adds the allowance; "
    "expected follows the learning curve named; paid = expected / station efficiency.",
    "Overhead: station budget / practical capacity, variable and fixed apart, absorbed on the "
    "base named. Material handling on material cost; general overhead on conversion cost.",
    "Tooling: (cost + refurbishment - salvage) / pulls + upkeep, pulls being the least of life "
    "and planned pulls over the write-off years.",
    "Yield: what enters at an operation is divided by all that later pass; the difference is "
    "an element of its own, variable and fixed apart.",
    "Variable cost: material, handling, labour, tooling, variable overhead and their yield loss.",
    "Price: net = list x (1 - discount); contribution = net x (1 - provisions) - variable cost; "
    "margin = net x (1 - provisions) - full cost; recommended list price = "
    "cost / (1 - provisions - target) / (1 - discount), rounded by the policy's rule.",
    "Target cost: what the net price allows at the target margin; the gap to the full cost, and "
    "the cut that would close it in each element alone.",
    "Sensitivity: effect = value x slope x rise, the slope being the cost's derivative by the "
    "input at this build. Risk: means and deviations from low, likely and high values, added up "
    "through the slopes, beside percentiles of a simulation.",
    "Emissions: organic HAP by the point values of 40 CFR 63 Subpart VVVV, for what is laid or "
    "sprayed in an open mould.",
)
CAUTIONS = (
    "A cost estimate is no structural approval: an opening in a hull side and its framing need "
    "scantlings by a qualified person to the applicable standard.",
    "Styrene, peroxide catalyst, isocyanate foam, grinding dust and vacuum need the controls of "
    "the safety data sheets and of local law; local codes and licensed practice decide.",
    "A vacuum clamps with no more than the atmosphere, 101.3 kPa (14.7 psi).",
)


def check_sheet(controls: Sequence[Control], master: Figure) -> Sheet:
    """Every control total and limit, each OK or CHECK."""
    rows = [Row(("All checks", None, None, Flag(master)), kind="total")]
    sources = sources_in(
        control.one for control in controls if control.one is not None and control.place is None
    )
    for control in controls:
        source = str(control.place) if control.place is not None else ""
        if control.one in sources:
            source = source or sources[control.one]
        cells = (control.what, control.one, control.other, Flag(control.holds))
        rows.append(Row(cells, source))
    columns = (
        Column("Check", width=64),
        Column("One way"),
        Column("The other way"),
        Column("Result", width=10),
    )
    explained = (
        "Each total is reached two ways, each limit of the process is tested; all must be OK"
    )
    return Sheet("Checks", explained, (Table(columns, tuple(rows), title="", name="checks"),))


def proved_table(proved: Figure) -> Table:
    """Whether all checks of the workbook hold, for its first sheet."""
    columns = (Column("This workbook", width=34), Column("Result"))
    return Table(columns, (Row(("All checks", Flag(proved))),), name="proof")


def method_sheet(about: Sequence[str], method: Sequence[str] = METHOD) -> Sheet:
    """What is computed and how, and what no cost estimate can say."""
    return Sheet(
        "Method",
        "How the numbers are made, and what they do not approve",
        (
            Paragraphs(("Cautions",), "heading"),
            Paragraphs(CAUTIONS, "caution"),
            Paragraphs(("Method",), "heading"),
            Paragraphs(tuple(method)),
            Paragraphs(("This workbook",), "heading"),
            Paragraphs(tuple(about)),
            _methods(),
        ),
    )


@cache
def _methods() -> Table:
    """Every formula as its docstring tells it, the same in every workbook."""
    rows = []
    for chapter in chapters():
        rows.append(Row((chapter.title, None, None, None), kind="group"))
        rows += [Row((m.sentence, m.equation, m.limits, m.source)) for m in chapter.methods]
    columns = (
        Column("Method", width=46),
        Column("Equation", width=58),
        Column("Limits", width=38),
        Column("Source", width=42),
    )
    title = "Methods: every formula a costing can use, whether or not this one needed it"
    return Table(columns, tuple(rows), title=title, name="methods")
