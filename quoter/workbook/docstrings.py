"""What the docstrings of the formulas tell: method, equation, limits and source of each."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from dataclasses import dataclass
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
from quoter.pricing import margin

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
    return [Chapter(_first_line(module), tuple(_methods(module))) for module in MODULES]


def method_of(name: str, docstring: str) -> Method:
    """The parts of a formula's docstring."""
    sections = _sections(docstring)
    sentence, _, rest = docstring.partition("\n")
    before = rest.partition("\nArgs:")[0].splitlines()
    equation = "\n".join(line.strip() for line in before if line.startswith(" "))
    limits, source = (_flowing(sections.get(part, "")) for part in ("Limits", "Source"))
    return Method(name, sentence.strip(), equation, limits, source)


def _methods(module: ModuleType) -> Iterator[Method]:
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
