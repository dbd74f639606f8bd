"""Sheets that show the workbook can be trusted: its checks, its method and its cautions.

Every formula is told by its own docstring: method, equation, limits and source."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from types import ModuleType

from quoter.engineering import (
    closed_mould,
    core,
    emissions,
    gelcoat,
    geometry,
    labour,
    laminate,
    learning,
    losses,
    overhead,
    purchasing,
    tooling,
    yields,
)
from quoter.figures import Figure
from quoter.pricing import margin
from quoter.pricing.controls import Control
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


# In the order in which a cost comes about.
MODULES: tuple[ModuleType, ...] = (
    geometry,
    laminate,
    gelcoat,
    closed_mould,
    core,
    losses,
    purchasing,
    labour,
    learning,
    yields,
    tooling,
    overhead,
    margin,
    emissions,
)
_HEADER = re.compile(r"(Args|Returns|Raises|Limits|Source):(.*)")


@dataclass(frozen=True, slots=True)
class Method:
    """A formula in words: what it gives, its equation, where it holds, and who says so."""

    name: str
    sentence: str
    equation: str
    limits: str
    source: str


@dataclass(frozen=True, slots=True)
class Chapter:
    """The formulas of one module under the first sentence of its docstring."""

    title: str
    methods: tuple[Method, ...]


def chapters() -> list[Chapter]:
    """Every formula of the costing, by subject."""
    return [Chapter(_first_line(module), tuple(_methods_of(module))) for module in MODULES]


def method_of(name: str, docstring: str) -> Method:
    """The parts of a formula's docstring."""
    sections = _sections(docstring)
    sentence, _, rest = docstring.partition("\n")
    before = rest.partition("\nArgs:")[0].splitlines()
    equation = "\n".join(line.strip() for line in before if line.startswith(" "))
    limits, source = (_flowing(sections.get(part, "")) for part in ("Limits", "Source"))
    return Method(name, sentence.strip(), equation, limits, source)


def _methods_of(module: ModuleType) -> Iterator[Method]:
    for name, function in vars(module).items():
        own = inspect.isfunction(function) and function.__module__ == module.__name__
        if own and not name.startswith("_"):
            yield method_of(name, inspect.getdoc(function) or "")


def _first_line(module: ModuleType) -> str:
    """The title of a module: its docstring up to the first full stop."""
    words = _flowing((inspect.getdoc(module) or "").partition("\n\n")[0])
    return words.partition(". ")[0].rstrip(".")


def _sections(docstring: str) -> dict[str, str]:
    """The text under each header, up to the next header or unindented line."""
    found: dict[str, list[str]] = {}
    inside: list[str] | None = None
    for line in docstring.splitlines():
        if header := _HEADER.fullmatch(line):
            inside = found.setdefault(header[1], [header[2]])
        elif inside is not None and line.startswith(" "):
            inside.append(line)
        else:
            inside = None
    return {name: "\n".join(lines) for name, lines in found.items()}


def _flowing(text: str) -> str:
    return " ".join(text.split())
