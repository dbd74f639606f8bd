"""Figure to JavaScript: the text of a function that computes what Python computed.

As in a workbook, a formula is not written a second time: the page's calculator is the traced graph
of the one Python has, a line for each step. Nothing here is newer than the other scripts'.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from string import ascii_lowercase

from quoter.figures import Figure
from quoter.figures.graph import LEAVES, in_order
from quoter.figures.kernel import NEARLY, PLACES_BEFORE_ROUNDING

# What JavaScript has no word for: the kernel's roundings and comparisons, by the same rules.
HELPERS = f"""\
function larger(a, b) {{ return a >= b ? a : b; }}
function smaller(a, b) {{ return a <= b ? a : b; }}
function same(a, b) {{ return Math.abs(a - b) <= {NEARLY!r} * larger(Math.abs(a), Math.abs(b)); }}
function rounded(value, whole, shift) {{
  const tidy = Number(value.toFixed({PLACES_BEFORE_ROUNDING}));
  return (tidy < 0 ? -1 : 1) * whole(Math.abs(tidy) + shift) + 0;
}}
function nearest(value) {{ return rounded(value, Math.floor, 0.5); }}
function up(value) {{ return rounded(value, Math.ceil, 0); }}
function down(value) {{ return rounded(value, Math.floor, 0); }}
function powers(first, last, exponent) {{
  let sum = 0;
  for (let n = Math.round(first); n <= Math.round(last); n += 1) {{ sum += Math.pow(n, exponent); }}
  return sum;
}}
"""

Writer = Callable[[Sequence[str]], str]


class ScriptError(Exception):
    """Raised when a graph can't be written as JavaScript; the message says why."""


def script_function(
    name: str, inputs: Mapping[str, Figure], outputs: Mapping[str, Figure], remarks: bool = True
) -> str:
    """A function declaration that computes the outputs anew from other values of the inputs.

    Args:
        name: of the function
        inputs: figures to replace, by the name of the function's argument, in order
        outputs: what it returns, by the name in the object that it returns
        remarks: whether named steps say what they are; without, names of steps have no digits
    Returns:
        JavaScript that needs `HELPERS` beside it; money and counts are plain numbers
    Raises:
        ScriptError: an infinite number, or a name that is no word of JavaScript.
    """
    for word in (name, *inputs, *outputs):
        if not (word.isascii() and word.isidentifier()):
            raise ScriptError(f"'{word}' can't be a name in JavaScript")
    known = {figure: word for word, figure in inputs.items()}
    lines: list[str] = []
    for figure in in_order(outputs.values()):
        if figure in known:
            continue
        if figure.op in LEAVES:
            known[figure] = number(figure.value)
            continue
        text = SCRIPT[figure.op]([known[arg] for arg in figure.args])
        step = f"step{len(lines) + 1}" if remarks else letters(len(lines))
        known[figure] = step
        lines.append(f"  const {known[figure]} = {text};{_remark(figure) if remarks else ''}\n")
    found = ", ".join(f"{word}: {known[figure]}" for word, figure in outputs.items())
    head = f"function {name}({', '.join(inputs)}) {{\n"
    return f"{head}{''.join(lines)}  return {{{found}}};\n}}\n"


def letters(count: int) -> str:
    """A word for each count: after an underscore, since no argument begins with one.

    >>> letters(0), letters(27)
    ('_a', '_bb')
    """
    found = ""
    while True:
        count, digit = divmod(count, len(ascii_lowercase))
        found = ascii_lowercase[digit] + found
        if not count:
            return f"_{found}"


def number(value: float) -> str:
    """A number as JavaScript reads it, every digit kept.

    Raises:
        ScriptError: for an infinity or what is not a number.

    >>> number(0.1), number(-2.0), number(1e-05)
    ('0.1', '(-2.0)', '1e-05')
    """
    if not math.isfinite(value):
        raise ScriptError(f"{value} is no number that a page can compute with")
    text = repr(float(value))
    return f"({text})" if text.startswith("-") else text


def _remark(figure: Figure) -> str:
    """What a named step is called, on its line; nothing in it can end the line's comment."""
    return f" // {' '.join(figure.label.split())}" if figure.label else ""


def _infix(sign: str) -> Writer:
    return lambda terms: f" {sign} ".join(terms)


def _call(name: str) -> Writer:
    return lambda terms: f"{name}({', '.join(terms)})"


def _dot(terms: Sequence[str]) -> str:
    half = len(terms) // 2
    return " + ".join(f"{a} * {b}" for a, b in zip(terms[:half], terms[half:], strict=True))


SCRIPT: dict[str, Writer] = {
    "ref": lambda terms: terms[0],
    "add": _infix("+"),
    "sub": _infix("-"),
    "neg": lambda terms: f"-{terms[0]}",
    "mul": _infix("*"),
    "div": _infix("/"),
    "pow": _call("Math.pow"),
    "ln": _call("Math.log"),
    "sum": _infix("+"),
    "dot": _dot,
    "where": lambda terms: f"{terms[0]} !== 0 ? {terms[1]} : {terms[2]}",
    "max": _call("larger"),
    "min": _call("smaller"),
    "abs": _call("Math.abs"),
    "nearest": _call("nearest"),
    "up": _call("up"),
    "down": _call("down"),
    "powers": _call("powers"),
    "le": lambda terms: f"{terms[0]} <= {terms[1]} || {_call('same')(terms)} ? 1 : 0",
    "lt": lambda terms: f"{terms[0]} < {terms[1]} && !{_call('same')(terms)} ? 1 : 0",
    "eq": lambda terms: f"{_call('same')(terms)} ? 1 : 0",
    "and": _call("smaller"),
}
"""How each operation is written, given its arguments as words or numbers."""
