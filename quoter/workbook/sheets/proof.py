"""Sheets that show the workbook can be trusted: its checks, its method and its cautions.

Every formula is told by its own docstring: method, equation, limits and source."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from functools import cache
from typing import NamedTuple

from quoter.figures import Figure
from quoter.figures.formulas import formulas_behind
from quoter.phrases import phrase
from quoter.pricing.controls import Control
from quoter.pricing.method import COSTING, PRICES, Chapter, chapters
from quoter.workbook.sources import sources_in
from quoter.workbook.table import (
    Column,
    Flag,
    Link,
    Measured,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)


class Told(NamedTuple):
    """What is told of a method; where a module of formulas is named, one of it must be in use."""

    words: str
    by: str = ""


# Methods of a costing, each with the modules of formulas that make it.
METHOD: tuple[Told, ...] = (
    Told(
        phrase(
            "Material: net quantity by geometry and laminate; issued = net / (1 - loss); "
            "cost = issued x landed price. Glass is issued by nested area."
        ),
        "purchasing",
    ),
    Told(
        phrase(
            "On top of landed cost come handling, and where stated order freight and minimum "
            "orders, stock held, and the disposal of what is issued less what stays in the part; "
            "what a batch uses up is shared by its units, what is spent once by the units planned."
        ),
        "purchasing",
    ),
    Told(phrase("Open-mould resin = glass x (1 - content) / content."), "laminate"),
    Told(
        phrase(
            "Closed-mould resin fills what gelcoat, fibre and core leave of the cavity, at its "
            "liquid density, with gallery and catch-pot per shot."
        ),
        "closed_mould",
    ),
    Told(
        phrase(
            "Sprayed laminate: glass by the passes of the gun or by its thickness; glass and "
            "resin are issued with overspray, glass issued = net / (1 - overspray) / (1 - loss)."
        ),
        "spray_up",
    ),
    Told(
        phrase(
            "Infused resin = glass x (1 - content) / content at the target of the dry kit, with "
            "what core, flow medium, lines and pot take; what is used again bears its share of "
            "each pull."
        ),
        "infusion",
    ),
    Told(phrase("Gelcoat = area x wet film x density, issued by transfer efficiency."), "gelcoat"),
    Told(phrase("Foam = volume x free-rise density x packing factor, split by mix ratio."), "core"),
    Told(
        phrase(
            "Labour: normal time = set-up / batch + fixed + rates x drivers; standard adds the "
            "allowance; paid = expected / station efficiency."
        ),
        "labour",
    ),
    Told(
        phrase("Expected time follows the learning curve named, over the planned units."),
        "learning",
    ),
    Told(
        phrase(
            "Overhead: station budget / practical capacity, variable and fixed apart, absorbed on "
            "the base named. Material handling on material cost; general overhead on conversion "
            "cost."
        ),
        "overhead",
    ),
    Told(
        phrase(
            "Tooling: (cost + refurbishment - salvage) / pulls + upkeep, pulls being the least of "
            "life and planned pulls over the write-off years."
        ),
        "tooling",
    ),
    Told(
        phrase(
            "Yield: what enters at an operation is divided by all that later pass; the difference "
            "is an element of its own, variable and fixed apart."
        ),
        "yields",
    ),
    Told(
        phrase(
            "Variable cost: material with all that comes on top, labour, tooling, variable "
            "overhead and their yield loss."
        )
    ),
    Told(
        phrase(
            "Price: net = list x (1 - discount); contribution = net x (1 - provisions) - variable "
            "cost; margin = net x (1 - provisions) - full cost; recommended list price = "
            "cost / (1 - provisions - target) / (1 - discount), rounded by the policy's rule."
        ),
        "margin",
    ),
    Told(
        phrase(
            "Target cost: what the net price allows at the target margin; the gap to the full "
            "cost, and the cut that would close it in each element alone."
        )
    ),
    Told(
        phrase(
            "Sensitivity: effect = value x slope x rise, the slope being the cost's derivative by "
            "the input at this build. Risk: means and deviations from low, likely and high "
            "values, added up through the slopes, beside percentiles of a simulation."
        )
    ),
    Told(
        phrase(
            "Emissions: organic HAP by the point values of 40 CFR 63 Subpart VVVV, for what is "
            "laid or sprayed in an open mould."
        ),
        "emissions",
    ),
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
    table = Table(columns, tuple(rows), name="checks", workings=True)
    then = lead_on("Method", "how the numbers are made")
    return Sheet("Checks", explained, (table,), then=then)


def proved_table(proved: Figure) -> Table:
    """Whether all checks of the workbook hold, for its first sheet."""
    columns = (Column("This workbook", width=34), Column("Result"))
    return Table(columns, (Row(("All checks", Flag(proved))),), name="proof")


def method_sheet(
    about: Sequence[str], shown: Iterable[Figure], method: Sequence[Told] = METHOD
) -> Sheet:
    """What is computed and how, and what no cost estimate can say.

    Of the formulas it has those that are behind what the book has `shown`, and no others.
    """
    used = formulas_behind(shown)
    modules = {name.rpartition(".")[0].rpartition(".")[2] for name in used}
    told = [told.words for told in method if not told.by or told.by in modules]
    return Sheet(
        "Method",
        "How the numbers are made, and what they do not approve",
        (
            Paragraphs(("Cautions",), "heading"),
            Paragraphs(CAUTIONS, "caution"),
            Paragraphs(("Method",), "heading"),
            Paragraphs(tuple(told)),
            Paragraphs(("This workbook",), "heading"),
            Paragraphs(tuple(about)),
            _methods(used),
        ),
        then=Link("Back to Summary.", "Summary"),
    )


def _methods(used: Container[str]) -> Table:
    """The formulas in use, each as its docstring tells it."""
    rows = []
    for chapter in _chapters():
        methods = [m for m in chapter.methods if f"{chapter.module}.{m.name}" in used]
        if methods:
            rows.append(Row((phrase(chapter.title), None, None, None), kind="group"))
            rows += [
                Row(
                    (
                        phrase(m.sentence),
                        phrase(m.equation),
                        Measured(phrase(m.limits)),
                        Measured(phrase(m.source)),
                    )
                )
                for m in methods
            ]
    columns = (
        Column("Method", width=46),
        Column("Equation", width=58),
        Column("Limits", width=38),
        Column("Source", width=42),
    )
    title = "Methods: every formula that this workbook uses"
    return Table(columns, tuple(rows), title=title, name="methods", workings=True)


@cache
def _chapters() -> tuple[Chapter, ...]:
    return tuple(chapters((*COSTING, *PRICES)))
