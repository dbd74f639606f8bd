"""Explain a figure: its expression in words and the named figures and inputs it was made from."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from quoter.figures.figure import Figure
from quoter.phrases import phrase

_SIGNS = {"add": "+", "sub": "-", "mul": "×", "div": "÷", "pow": "^", "le": "≤", "lt": "<"}
_SIGNS |= {"eq": "=", "and": phrase("and")}
_BRACKET = re.compile("[()]")
_CALLS = {
    "max": phrase("larger of"),
    "min": phrase("smaller of"),
    "abs": phrase("magnitude of"),
    "nearest": phrase("nearest whole of"),
    "up": phrase("next whole of"),
    "down": phrase("whole part of"),
    "ln": phrase("ln"),
    "powers": phrase("sum of powers of"),
}


@dataclass(frozen=True, slots=True)
class Step:
    """A named figure, how it was computed, and the steps it rests on.

    `again` marks a figure already explained above; its own steps are not repeated.
    """

    figure: Figure
    expression: str
    steps: tuple[Step, ...]
    again: bool = False


def is_stop(figure: Figure) -> bool:
    """Whether a figure is shown on a line of its own: it has a name or stands in the catalogue."""
    return bool(figure.key) or figure.op == "input"


def explain(figure: Figure, depth: int = 99) -> Step:
    """The tree from a figure down to catalogue lines, at most `depth` named levels deep."""
    return _explain(figure, depth, set())


def _explain(figure: Figure, depth: int, seen: set[Figure]) -> Step:
    if figure in seen and figure.args:
        return Step(figure, "", (), again=True)
    seen.add(figure)
    parts = named_parts(figure)
    below = tuple(_explain(part, depth - 1, seen) for part in parts) if depth > 0 else ()
    return Step(figure, expression(figure), below)


def named_parts(figure: Figure) -> list[Figure]:
    """The nearest named figures and inputs under one, each once, in the order of the expression."""
    found: dict[Figure, None] = {}
    waiting = list(reversed(figure.args))
    seen: set[Figure] = set()
    while waiting:
        part = waiting.pop()
        if is_stop(part):
            found[part] = None
        elif part not in seen:
            seen.add(part)
            waiting.extend(reversed(part.args))
    return list(found)


def expression(figure: Figure, say: Callable[[str], str] = str) -> str:
    """The formula in words, as ``area × thickness ÷ (1 - loss)``; empty for an input.

    `say` says labels and the words between them in the reader's language.
    """
    if not figure.args:
        return ""
    words: dict[Figure, str] = {}
    waiting = [figure]
    while waiting:
        inner = waiting[-1]
        missing = [a for a in inner.args if a.args and not is_stop(a) and a not in words]
        if missing:
            waiting.extend(missing)
        else:
            words[waiting.pop()] = _words(inner, words, say)
    return _unbracketed(words[figure])


def _unbracketed(text: str) -> str:
    return text[1:-1] if text.startswith("(") and _closes_at_end(text) else text


def _closes_at_end(text: str) -> bool:
    depth = 0
    for bracket in _BRACKET.finditer(text):
        depth += 1 if bracket[0] == "(" else -1
        if not depth:
            return bracket.end() == len(text)
    return False


def _term(figure: Figure, words: Mapping[Figure, str], say: Callable[[str], str]) -> str:
    if is_stop(figure):
        return say(figure.label)
    if figure.op == "const":
        return f"{figure.value:.12g}" + (f" {figure.unit}" if str(figure.unit) else "")
    return words[figure]


def _words(figure: Figure, words: Mapping[Figure, str], say: Callable[[str], str]) -> str:
    terms = [_term(arg, words, say) for arg in figure.args]
    op = figure.op
    if op == "ref":
        return terms[0]
    if op == "neg":
        return f"-{terms[0]}"
    if op == "sum":
        return "(" + " + ".join(terms) + ")"
    if op == "dot":
        half = len(terms) // 2
        pairs = zip(terms[:half], terms[half:], strict=True)
        return "(" + " + ".join(f"{a} × {b}" for a, b in pairs) + ")"
    if op == "where":
        one, test, other = terms[1], _unbracketed(terms[0]), terms[2]
        return say(phrase("({one} if {test}, else {other})", one=one, test=test, other=other))
    if op in _SIGNS:
        return f"({terms[0]} {say(_SIGNS[op])} {terms[1]})"
    return f"{say(_CALLS[op])} ({', '.join(_unbracketed(term) for term in terms)})"
