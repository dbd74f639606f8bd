"""The formulas in words, each as its own docstring tells it, by subject."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from types import ModuleType

from quoter.engineering import (
    calendar,
    closed_mould,
    core,
    cutting,
    emissions,
    gelcoat,
    geometry,
    infusion,
    labour,
    laminate,
    learning,
    losses,
    mixing,
    overhead,
    purchasing,
    spray_up,
    tooling,
    uncertainty,
    variances,
    yields,
)
from quoter.pricing import exchange, margin, repricing, surcharge

# In the order in which a cost comes about.
COSTING: tuple[ModuleType, ...] = (
    geometry,
    laminate,
    cutting,
    spray_up,
    gelcoat,
    infusion,
    closed_mould,
    core,
    mixing,
    losses,
    purchasing,
    labour,
    learning,
    yields,
    calendar,
    tooling,
    overhead,
    margin,
    emissions,
    uncertainty,
    variances,
)
# What comes after it: money of another country, a new price list, a clause for open quotes.
PRICES: tuple[ModuleType, ...] = (exchange, repricing, surcharge)
_HEADER = re.compile(r"(Args|Returns|Raises|Limits|Source):(.*)")
_ENTRY = re.compile(r"( +)\*{0,2}(\w+):(.*)")
_UNIT = re.compile(r"(.*\S)\s*\[([^\[\]]*)\]", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Measured:
    """An argument or a result in words, with its unit; 1 for a plain number."""

    name: str
    words: str
    unit: str


@dataclass(frozen=True, slots=True)
class Method:
    """A formula in words: what it gives, its equation, where it holds, and who says so."""

    name: str
    sentence: str
    equation: str
    limits: str
    source: str
    given: tuple[Measured, ...] = ()
    result: Measured | None = None
    example: str = ""


@dataclass(frozen=True, slots=True)
class Chapter:
    """The formulas of one module under the first sentence of its docstring."""

    title: str
    module: str
    methods: tuple[Method, ...]


def chapters(modules: Sequence[ModuleType] = COSTING) -> list[Chapter]:
    """Every formula of some modules, those of the costing unless others are named."""
    return [
        Chapter(_first_line(module), module.__name__, tuple(_methods_of(module)))
        for module in modules
    ]


def method_of(name: str, docstring: str) -> Method:
    """The parts of a formula's docstring."""
    sections = _sections(docstring)
    sentence, _, rest = docstring.partition("\n")
    before = rest.partition("\nArgs:")[0].splitlines()
    equation = "\n".join(line.strip() for line in before if line.startswith(" "))
    limits, source = (_flowing(sections.get(part, "")) for part in ("Limits", "Source"))
    given = tuple(_given(sections.get("Args", "")))
    result = _measured("", sections.get("Returns", ""))
    example = rest[rest.index(">>> ") :].strip() if ">>> " in rest else ""
    return Method(
        name, sentence.strip(), equation, limits, source, given, result, inspect.cleandoc(example)
    )


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


def _given(section: str) -> Iterator[Measured]:
    """Each entry; a deeper line continues the one above."""
    indent, entries = "", list[list[str]]()
    for line in section.splitlines():
        entry = _ENTRY.fullmatch(line)
        if entry and entry[1] == (indent or entry[1]):
            indent = entry[1]
            entries.append([entry[2], entry[3]])
        elif entries:
            entries[-1][1] += f"\n{line}"
    for name, words in entries:
        if (found := _measured(name, words)) is not None:
            yield found


def _measured(name: str, words: str) -> Measured | None:
    found = _UNIT.match(words)
    return Measured(name, _flowing(found[1]), found[2]) if found else None


def _flowing(text: str) -> str:
    return " ".join(text.split())
