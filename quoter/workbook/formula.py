"""Figure to spreadsheet formula: the text that makes a cell compute what Python computed.

A figure with an address is written as a reference, one without is written inline. Every operation
stands in parentheses, because spreadsheets bind signs and powers otherwise than Python does. Only
functions of 2007 or older occur, and none that recalculates without cause.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from quoter.figures import Figure
from quoter.figures.kernel import PLACES_BEFORE_ROUNDING
from quoter.workbook.addresses import position, ranges, span, stretches
from quoter.workbook.limits import LimitError, check_number

LONGEST = 8192  # letters a spreadsheet accepts in a formula, the leading "=" included
DEEPEST = 64  # levels of nesting it accepts
MOST_ARGUMENTS = 255
_ROWS_AT_HAND = 5000  # what a sum over whole numbers reaches at least, without being rewritten
_ROWS_OF_A_SHEET = 1_048_576
_COMPARED = {"le": "<=", "lt": "<", "eq": "="}

AddressOf = Callable[[Figure], str | None]


class FormulaTooLongError(LimitError):
    """A formula no spreadsheet would accept; `node` is the part where it went over."""

    def __init__(self, node: Figure, longest_part: Figure | None, found: str) -> None:
        """Keep the part, and the inline one under it that takes most room."""
        self.node = node
        self.longest_part = longest_part
        super().__init__(f"{found}; give a part of '{node.label or node.op}' a cell of its own")


@dataclass(slots=True)
class FormulaText:
    """What is known so far of one formula: each term's text, and the depth of the inline ones.

    The text of a figure is its address; one without is inline: written out where it is used.
    """

    text: dict[Figure, str] = field(default_factory=dict)
    depth: dict[Figure, int] = field(default_factory=dict)

    def of(self, figure: Figure) -> list[str]:
        """The texts of a figure's arguments."""
        return [self.text[arg] for arg in figure.args]


def formula(figure: Figure, address: AddressOf, longest: int = LONGEST) -> str:
    """The formula of a figure's own cell, without the leading "=".

    Raises:
        FormulaTooLongError: when it has `longest` letters or more, or over 64 levels.
    """
    written = _write(figure, address, longest)
    text = written.text[figure]
    return text[1:-1] if figure.op in _INFIX else text


def condition(figure: Figure, address: AddressOf, longest: int = LONGEST) -> str:
    """A figure as the condition of an IF: an inline comparison as such, else "is not 0".

    Raises:
        FormulaTooLongError: as `formula`.
    """
    if found := address(figure):
        return f"{found}<>0"
    return _condition(figure, _write(figure, address, longest))


def number(value: float) -> str:
    """A number as sheets read it, every digit kept.

    Raises:
        LimitError: for an infinity or what is not a number.
    """
    text = repr(float(value))
    if text.endswith(".0"):
        return text[:-2] if value else "0"
    check_number(value)
    return text.upper()


def _write(root: Figure, address: AddressOf, longest: int) -> FormulaText:
    """Text of every inline figure under `root`, arguments first; iterative, each only once."""
    written = FormulaText()
    text, depth = written.text, written.depth
    waiting = [root]
    while waiting:
        figure = waiting[-1]
        known = True
        for arg in figure.args:
            if arg not in text:
                found = address(arg)
                if found is None:
                    waiting.append(arg)
                    known = False
                else:
                    text[arg] = found
        if known:
            waiting.pop()
            if figure not in depth:
                text[figure] = SHEET[figure.op](figure, written)
                _check_size(figure, written, longest)
    return written


def _check_size(figure: Figure, written: FormulaText, longest: int) -> None:
    depths = written.depth
    inner = [depths[arg] for arg in figure.args if arg in depths]
    depth = depths[figure] = 1 + max(inner, default=0) if figure.args else 0
    length = len(written.text[figure])
    if length < longest and depth <= DEEPEST:
        return
    parts = [arg for arg in figure.args if arg in depths and arg.args]
    if length >= longest:
        largest = max(parts, key=lambda arg: len(written.text[arg]), default=None)
        raise FormulaTooLongError(figure, largest, f"a formula of {length:,} letters")
    deepest = max(parts, key=depths.__getitem__, default=None)
    raise FormulaTooLongError(figure, deepest, f"a formula of {depth} levels")


def _condition(figure: Figure, written: FormulaText) -> str:
    if figure not in written.depth:
        return f"{written.text[figure]}<>0"
    if figure.op in _COMPARED:
        return _COMPARED[figure.op].join(written.of(figure))
    if figure.op == "and" and all(_is_truth(arg, written) for arg in figure.args):
        return "AND(" + ",".join(_condition(arg, written) for arg in figure.args) + ")"
    return f"{written.text[figure]}<>0"


def _is_truth(figure: Figure, written: FormulaText) -> bool:
    """Whether an inline figure can only be 1 or 0, so that AND says the same as MIN."""
    if figure not in written.depth:
        return False
    both = figure.op == "and" and all(_is_truth(arg, written) for arg in figure.args)
    return both or figure.op in _COMPARED


Writer = Callable[[Figure, FormulaText], str]


def _infix(sign: str) -> Writer:
    return lambda figure, written: f"({sign.join(written.of(figure))})"


def _call(name: str) -> Writer:
    return lambda figure, written: f"{name}({','.join(written.of(figure))})"


def _round(name: str) -> Writer:
    def write(figure: Figure, written: FormulaText) -> str:
        tidy = f"ROUND({written.text[figure.args[0]]},{PLACES_BEFORE_ROUNDING})"
        return f"{name}({tidy},0)"

    return write


def _constant(figure: Figure, _: FormulaText) -> str:
    text = number(figure.value)
    return f"({text})" if text.startswith("-") else text


def _truth(figure: Figure, written: FormulaText) -> str:
    return f"IF({_COMPARED[figure.op].join(written.of(figure))},1,0)"


def _where(figure: Figure, written: FormulaText) -> str:
    test, yes, no = figure.args
    return f"IF({_condition(test, written)},{written.text[yes]},{written.text[no]})"


def _sum(figure: Figure, written: FormulaText) -> str:
    zero_free = [a for a in figure.args if a.op != "const" or a.value or a not in written.depth]
    return _sum_of(ranges([written.text[arg] for arg in zero_free]) or ["0"])


def _sum_of(parts: Sequence[str]) -> str:
    """A SUM of any number of parts, nested where a sheet would not take as many arguments."""
    while len(parts) > MOST_ARGUMENTS:
        groups = [parts[i : i + MOST_ARGUMENTS] for i in range(0, len(parts), MOST_ARGUMENTS)]
        parts = [f"SUM({','.join(group)})" for group in groups]
    return f"SUM({','.join(parts)})"


def _dot(figure: Figure, written: FormulaText) -> str:
    """SUMPRODUCT for each stretch where both lists run along cells, products for the rest."""
    half = len(figure.args) // 2
    texts = written.of(figure)
    pairs = list(zip(texts[:half], texts[half:], strict=True))
    at = {left: found for left, _ in pairs if (found := position(left)) is not None}
    if all(left in at for left, _ in pairs):
        pairs.sort(key=lambda pair: at[pair[0]])
    parts = []
    for stretch in stretches(pairs):
        (left, right), (left_end, right_end) = stretch[0], stretch[-1]
        if len(stretch) == 1:
            parts.append(f"({left}*{right})")
        else:
            parts.append(f"SUMPRODUCT({span(left, left_end)},{span(right, right_end)})")
    return parts[0] if len(parts) == 1 else _sum_of(parts)


def _powers(figure: Figure, written: FormulaText) -> str:
    """Sum of n^b over whole n: ROW() counts the rows and reads none of them."""
    first, last, exponent = written.of(figure)
    reach = max(_ROWS_AT_HAND, 2 * math.ceil(figure.args[1].value))
    if reach > _ROWS_OF_A_SHEET:
        raise LimitError(f"a sheet can't count to {figure.args[1].value:,.0f}")
    rows = f"ROW($1:${reach})"
    counted = f"({rows}>=({first}-0.5))*({rows}<({last}+0.5))*({rows}^{exponent})"
    # Better no number than one that leaves out what is beyond the last row.
    return f"IF({last}>{reach},NA(),SUMPRODUCT({counted}))"


_INFIX = {"add": "+", "sub": "-", "mul": "*", "div": "/", "pow": "^"}
SHEET: dict[str, Writer] = {
    "input": _constant,
    "const": _constant,
    "ref": lambda figure, written: written.text[figure.args[0]],
    **{op: _infix(sign) for op, sign in _INFIX.items()},
    "neg": lambda figure, written: f"(-{written.text[figure.args[0]]})",
    "ln": _call("LN"),
    "sum": _sum,
    "dot": _dot,
    "where": _where,
    "max": _call("MAX"),
    "min": _call("MIN"),
    "abs": _call("ABS"),
    "nearest": _round("ROUND"),
    "up": _round("ROUNDUP"),
    "down": _round("ROUNDDOWN"),
    "powers": _powers,
    **dict.fromkeys(_COMPARED, _truth),
    "and": _call("MIN"),
}
"""How each operation is written; `input` and `const` are the numbers themselves."""
