"""What the yard reads of the program's own words: found in its templates and Python code.

In Python these are phrases, and the plain texts of places that are shown: headings and titles of
workbooks, words in their rows, labels of figures. A text there that is put together in any other
way than by `phrase` can't be translated; `glued` finds it.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

# What is shown of a call: its parameters in order, those that hold words.
SHOWN: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "phrase": (("message",), ("message",)),
    "Column": (("heading",), ("heading", "unit", "over")),
    "Sheet": (
        ("title", "heading", "blocks", "charts", "notes"),
        ("title", "heading", "notes"),
    ),
    "Table": (("columns", "rows", "title", "name"), ("title",)),
    "Paragraphs": (("lines",), ("lines",)),
    "Contents": (("title",), ("title",)),
    "Chart": (
        ("title", "table", "categories", "values", "value_title", "category_title", "description"),
        ("title", "value_title", "category_title", "description"),
    ),
    "Flag": (("figure", "yes", "no"), ("yes", "no")),
    "Link": (("text",), ("text",)),
    "lead_on": (("sheet", "words"), ("words",)),
    "Row": (("cells",), ("cells",)),
    "Book": (("title", "sheets", "footer"), ("workings",)),
    "named": (("key", "label"), ("label",)),
    "stated": (("number", "key", "label"), ("label",)),
    "constant": (("value", "unit_text", "label"), ("label",)),
}


class Word(NamedTuple):
    """A text that is shown, and its line; `glued` where it is put together of pieces."""

    text: str
    line: int
    glued: bool = False


Named = Mapping[str, Sequence[ast.expr]]  # what a name stands for, wherever it is given a value


def words_in(path: Path) -> Iterator[Word]:
    """The texts that a module shows, in the order of its lines."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found = dict.fromkeys(_of_block(tree, {}))
    yield from sorted(found, key=lambda word: word.line)


def _of_block(block: ast.AST, outer: Named) -> Iterator[Word]:
    """The texts of a module, class or function; inner ones know the names of the outer."""
    inner = list(_within(block))
    named = {**outer, **_given(inner)}
    for node in inner:
        if isinstance(node, ast.Call):
            yield from _of_call(node, named)
        elif isinstance(node, _BLOCKS):
            yield from _of_block(node, named)


_BLOCKS = (ast.FunctionDef, ast.ClassDef, ast.Lambda)


def _within(block: ast.AST) -> Iterator[ast.AST]:
    """All that stands in a block, but not what stands in a block of it."""
    for node in ast.iter_child_nodes(block):
        yield node
        if not isinstance(node, _BLOCKS):
            yield from _within(node)


def _given(nodes: Sequence[ast.AST]) -> Named:
    found: dict[str, list[ast.expr]] = {}
    for node in nodes:
        if isinstance(node, ast.Assign):
            for target in node.targets:
                _name(found, target, node.value)
        elif isinstance(node, ast.AnnAssign) and node.value is not None:
            _name(found, node.target, node.value)
    return found


def _name(found: dict[str, list[ast.expr]], target: ast.expr, value: ast.expr) -> None:
    if isinstance(target, ast.Name):
        found.setdefault(target.id, []).append(value)
    elif isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
        for one, given in zip(target.elts, value.elts, strict=False):
            _name(found, one, given)


def _of_call(node: ast.Call, named: Named) -> Iterator[Word]:
    called = node.func
    name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
    parameters, shown = SHOWN.get(name, ((), ()))
    if name == "named" and len(node.args) < len(parameters):
        return  # a quote's number, not a figure's label
    given = dict(zip(parameters, node.args, strict=False))
    given |= {each.arg: each.value for each in node.keywords if each.arg}
    for parameter in shown:
        if parameter in given:
            yield from _words(given[parameter], named)


def _words(node: ast.expr, named: Named, followed: frozenset[str] = frozenset()) -> Iterator[Word]:
    """The texts of an expression that stands where words are shown."""
    parts: Sequence[ast.expr] = ()
    match node:
        case ast.Constant(value=str(text)) if any(map(str.isalpha, text)):
            yield Word(text, node.lineno)
        case ast.Tuple(elts=parts) | ast.List(elts=parts) | ast.BoolOp(values=parts):
            pass
        case ast.IfExp(body=body, orelse=other):
            parts = (body, other)
        case ast.Starred(value=value):
            parts = (value,)
        case ast.Name(id=name) if name not in followed:
            followed, parts = followed | {name}, named.get(name, ())
        case ast.JoinedStr():
            pieces = [part.value for part in node.values if isinstance(part, ast.Constant)]
            if any(map(str.isalpha, "".join(map(str, pieces)))):
                yield Word(ast.unparse(node), node.lineno, glued=True)
        case _:
            return
    for part in parts:
        yield from _words(part, named, followed)
