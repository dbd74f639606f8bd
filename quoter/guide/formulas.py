"""The reference of formulas: each as its docstring tells it, and what of the program uses it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache

from quoter.guide.markdown import cell, table
from quoter.pricing.method import COSTING, PRICES, Chapter, Method, chapters
from quoter.resources import PACKAGE

BY_HAND = "nothing that the program shows; it is there for a check by hand"


def formulas_topic() -> str:
    """Every formula with its equation, units, limits, source, example and use, as Markdown."""
    parts = [
        "# Formulas",
        "Every formula that a cost or a price is made by: what it gives, its equation, units, "
        "limits and source, and which part of the program uses it. The sheet Method of a workbook "
        "lists those that it uses. A fraction has the unit 1; "
        "money is in home currency.",
    ]
    for chapter in all_chapters():
        parts.append(f"## {chapter.title}")
        for method in chapter.methods:
            parts += _told(chapter, method)
    return "\n\n".join(parts) + "\n"


@cache
def all_chapters() -> list[Chapter]:
    """The formulas of the costing, then those of prices."""
    return chapters((*COSTING, *PRICES))


def _told(chapter: Chapter, method: Method) -> Iterator[str]:
    yield f"### {method.name}"
    yield method.sentence
    yield f"```text\n{method.equation}\n```"
    rows = [[f"`{each.name}`", cell(each.words), f"`{each.unit}`"] for each in method.given]
    if method.result is not None:
        rows.append(["gives", cell(method.result.words), f"`{method.result.unit}`"])
    yield table(["name", "what it is", "unit"], rows)
    yield f"Holds for: {method.limits}  \nSource: {method.source}"
    used = _users().get((chapter.module, method.name), [BY_HAND])
    yield f"Used by: {'; '.join(used)}."
    yield f"```pycon\n{method.example}\n```"


@cache
def _users() -> dict[tuple[str, str], list[str]]:
    """Module and name of each formula -> what the modules are about that call it."""
    found: dict[tuple[str, str], list[str]] = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        own = ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)
        for formula in dict.fromkeys(_called(tree, own)):
            told = f"{_about(tree)} (`{path.relative_to(PACKAGE.parent).as_posix()}`)"
            found.setdefault(formula, []).append(told)
    return found


def _called(tree: ast.Module, own: str) -> Iterator[tuple[str, str]]:
    """Module and name of whatever a module has from another one, or of its own, and uses."""
    modules: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                modules[alias.asname or alias.name] = f"{node.module}.{alias.name}"
                yield node.module, alias.name
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield own, node.id
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            yield modules.get(node.value.id, ""), node.attr


def _about(tree: ast.Module) -> str:
    words = " ".join((ast.get_docstring(tree) or "").split("\n\n")[0].split())
    return words.partition(". ")[0].rstrip(".")


def formula_names() -> list[str]:
    """The names by which a formula can be asked for."""
    return [method.name for chapter in all_chapters() for method in chapter.methods]


def formula_text(name: str) -> str:
    """One formula as Markdown; several where modules have one of the same name."""
    told = [
        "\n\n".join(_told(chapter, method))
        for chapter in all_chapters()
        for method in chapter.methods
        if method.name == name
    ]
    return "\n\n".join(told) + "\n"
