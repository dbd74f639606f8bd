"""Figure to spreadsheet formula: the text that makes a cell compute what Python computed.

A figure with an address is written as a reference, one without is written inline. Every operation
stands in parentheses, because spreadsheets bind signs and powers otherwise than Python does. Only
functions of 2007 or older occur, and none that recalculates without cause.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache

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


class FormulaWriter:
    """Writes formulas with the addresses that one sheet sees, each shorter than `longest`.

    A figure without an address is inline: written out where it is used, and every time anew, which
    is quicker than to remember the text of each.
    """

    def __init__(self, address: AddressOf, longest: int = LONGEST) -> None:
        """`address` tells where a figure is, None for an inline one."""
        self._address = address
        self._longest = longest

    def formula(self, figure: Figure) -> str:
        """The formula of a figure's own cell, without the leading "=".

        Raises:
            FormulaTooLongError: when it has `longest` letters or more, or over 64 levels.
        """
        text = self._whole(figure)
        return text[1:-1] if figure.op in _INFIX else text

    def condition(self, figure: Figure) -> str:
        """A figure as the condition of an IF: an inline comparison as such, else "is not 0".

        Raises:
            FormulaTooLongError: as `formula`.
        """
        if found := self._address(figure):
            return f"{found}<>0"
        return self.test(figure, self._whole(figure))

    def _whole(self, figure: Figure) -> str:
        try:
            return self._inline(figure, 1)
        except _TooDeepError:
            raise self._fault(figure) from None

    def _inline(self, figure: Figure, level: int) -> str:
        """The text of an inline figure. Every formula of a book is written here."""
        if level > DEEPEST and figure.args:
            raise _TooDeepError
        address, texts = self._address, []
        for arg in reversed(figure.args):
            text = address(arg)
            if text is None:
                text = self._inline(arg, level + 1) if arg.args else _constant(arg)
            texts.append(text)
        texts.reverse()
        text = SHEET[figure.op](figure, texts, self)
        if len(text) >= self._longest:
            raise self._too_long(figure, texts, len(text))
        return text

    def _too_long(self, figure: Figure, texts: list[str], length: int) -> FormulaTooLongError:
        parts = {arg: text for arg, text in zip(figure.args, texts, strict=True) if arg.args}
        inline = filter(self.is_inline, parts)
        largest = max(inline, key=lambda arg: len(parts[arg]), default=None)
        return FormulaTooLongError(figure, largest, f"a formula of {length:,} letters")

    def _fault(self, root: Figure) -> FormulaTooLongError:
        """What `_inline` would find first if it could go as deep; so this is iterative."""
        text: dict[Figure, str] = {}
        depth: dict[Figure, int] = {}  # of inline figures
        waiting = [root]
        while True:
            figure = waiting[-1]
            unknown = [arg for arg in figure.args if arg not in text]
            text |= {arg: found for arg in unknown if (found := self._address(arg)) is not None}
            if inline := [arg for arg in unknown if arg not in text]:
                waiting += inline
                continue
            waiting.pop()
            if figure in depth:
                continue
            inner = [depth[arg] for arg in figure.args if arg in depth]
            depth[figure] = 1 + max(inner, default=0) if figure.args else 0
            texts = [text[arg] for arg in figure.args]
            text[figure] = SHEET[figure.op](figure, texts, self)
            if len(text[figure]) >= self._longest:
                return self._too_long(figure, texts, len(text[figure]))
            if depth[figure] > DEEPEST:
                parts = [arg for arg in figure.args if arg in depth and arg.args]
                deepest = max(parts, key=depth.__getitem__, default=None)
                found = f"a formula of {depth[figure]} levels"
                return FormulaTooLongError(figure, deepest, found)

    def is_inline(self, figure: Figure) -> bool:
        """Whether a figure has no cell of its own."""
        return self._address(figure) is None

    def test(self, figure: Figure, text: str) -> str:
        """A figure whose text is known as a condition."""
        if self.is_inline(figure):
            if figure.op in _COMPARED:
                return _COMPARED[figure.op].join(map(self._text, figure.args))
            if figure.op == "and" and all(map(self._is_truth, figure.args)):
                return f"AND({','.join(self.test(arg, self._text(arg)) for arg in figure.args)})"
        return f"{text}<>0"

    def _text(self, figure: Figure) -> str:
        return self._address(figure) or self._inline(figure, 1)

    def _is_truth(self, figure: Figure) -> bool:
        """Whether an inline figure can only be 1 or 0, so that AND says the same as MIN."""
        if not self.is_inline(figure):
            return False
        both = figure.op == "and" and all(map(self._is_truth, figure.args))
        return both or figure.op in _COMPARED


class _TooDeepError(Exception):
    """Inline figures are nested deeper than a sheet takes."""


@lru_cache(maxsize=32768)  # a figure is shown, and its number written, on several sheets
def number(value: float) -> str:
    """A number as sheets read it, every digit kept.

    Raises:
        LimitError: for an infinity or what is not a number.
    """
    text = repr(float(value))
    if text[-2:] == ".0":
        return text[:-2] if value else "0"
    if "e" in text or "n" in text:  # 1e-05, nan, inf
        check_number(value)
        return text.upper()
    return text


Writer = Callable[[Figure, Sequence[str], FormulaWriter], str]
"""Writes a figure from the texts of its arguments."""


def _infix(sign: str) -> Writer:
    return lambda _, texts, __: f"({sign.join(texts)})"


def _call(name: str) -> Writer:
    return lambda _, texts, __: f"{name}({','.join(texts)})"


def _round(name: str) -> Writer:
    return lambda _, texts, __: f"{name}(ROUND({texts[0]},{PLACES_BEFORE_ROUNDING}),0)"


def _constant(figure: Figure, *_: object) -> str:
    text = number(figure.value)
    return f"({text})" if text[0] == "-" else text


def _truth(figure: Figure, texts: Sequence[str], _: FormulaWriter) -> str:
    return f"IF({_COMPARED[figure.op].join(texts)},1,0)"


def _where(figure: Figure, texts: Sequence[str], writer: FormulaWriter) -> str:
    test, yes, no = texts
    return f"IF({writer.test(figure.args[0], test)},{yes},{no})"


def _sum(figure: Figure, texts: Sequence[str], writer: FormulaWriter) -> str:
    zero_free = [
        text
        for arg, text in zip(figure.args, texts, strict=True)
        if arg.op != "const" or arg.value or not writer.is_inline(arg)
    ]
    return _sum_of(ranges(zero_free) or ["0"])


def _sum_of(parts: Sequence[str]) -> str:
    """A SUM of any number of parts, nested where a sheet would not take as many arguments."""
    while len(parts) > MOST_ARGUMENTS:
        groups = [parts[i : i + MOST_ARGUMENTS] for i in range(0, len(parts), MOST_ARGUMENTS)]
        parts = [f"SUM({','.join(group)})" for group in groups]
    return f"SUM({','.join(parts)})"


def _dot(_: Figure, texts: Sequence[str], __: FormulaWriter) -> str:
    """SUMPRODUCT for each stretch where both lists run along cells, products for the rest."""
    half = len(texts) // 2
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


def _powers(figure: Figure, texts: Sequence[str], _: FormulaWriter) -> str:
    """Sum of n^b over whole n: ROW() counts the rows and reads none of them."""
    first, last, exponent = texts
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
    "ref": lambda _, texts, __: texts[0],
    **{op: _infix(sign) for op, sign in _INFIX.items()},
    "neg": lambda _, texts, __: f"(-{texts[0]})",
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
