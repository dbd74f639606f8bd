"""Plain arithmetic as a page writes it: `0.90 kg / (1 - 10 %) = 1.00 kg`, worked out exactly.

Numbers may have commas between thousands, a unit or a per cent sign behind them; `x` multiplies
and `^` raises to a whole power. What stands after the first `=` must be what stands before it,
rounded half away from zero to the digits shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

_TOKEN = re.compile(
    r"\s*(?:(?P<number>\d[\d,]*(?:\.\d+)?)"
    r"(?P<unit>(?:\s(?!x\s)(?:%|[A-Za-z]+\d?(?:/[A-Za-z]+\d?)*)(?![\w.]))*)"
    r"|(?P<sign>[-+x/^()]))"
)


def faults(sum_in_words: str) -> list[str]:
    """What is wrong with a line of arithmetic; nothing if it is right.

    Raises:
        ValueError: it is no such line.
    """
    first, *others = sum_in_words.split(" = ")
    exact = value(first)
    return [
        f"{first} is {float(exact)}, not {other}"
        for other in others
        if _rounded(exact / _shown_in(other), _decimals(other)) != value(other) / _shown_in(other)
    ]


def value(words: str) -> Fraction:
    """What an expression comes to."""
    return _Reader(words).whole()


def _shown_in(words: str) -> Fraction:
    """What one of the last number shown is: a hundredth where a per cent sign follows."""
    return Fraction(1, 100) if words.rstrip().endswith("%") else Fraction(1)


def _decimals(words: str) -> int:
    last = [match["number"] for match in _TOKEN.finditer(words) if match["number"]][-1]
    return len(last.partition(".")[2])


def _rounded(exact: Fraction, decimals: int) -> Fraction:
    scale = 10**decimals
    whole = int(abs(exact) * scale + Fraction(1, 2))
    return Fraction(whole if exact >= 0 else -whole, scale)


class _Reader:
    """Reads an expression from left to right: sums of products of powers."""

    def __init__(self, words: str) -> None:
        self._tokens = list(_tokens(words))
        self._words = words

    def whole(self) -> Fraction:
        result = self._sum()
        if self._tokens:
            raise ValueError(f"{self._words!r} goes on where it should end")
        return result

    def _sum(self) -> Fraction:
        result = self._product()
        while self._next() in ("+", "-"):
            sign = 1 if self._tokens.pop(0) == "+" else -1
            result += sign * self._product()
        return result

    def _product(self) -> Fraction:
        result = self._power()
        while self._next() in ("x", "/"):
            times = self._tokens.pop(0) == "x"
            factor = self._power()
            result = result * factor if times else result / factor
        return result

    def _power(self) -> Fraction:
        base = self._one()
        if self._next() != "^":
            return base
        self._tokens.pop(0)
        return Fraction(base ** int(self._one()))

    def _one(self) -> Fraction:
        token = self._next()
        if isinstance(token, Fraction):
            self._tokens.pop(0)
            return token
        if token not in ("(", "-"):
            raise ValueError(f"{self._words!r} lacks a number")
        self._tokens.pop(0)
        if token == "-":
            return -self._one()
        inner = self._sum()
        if self._next() != ")":
            raise ValueError(f"{self._words!r} lacks a bracket")
        self._tokens.pop(0)
        return inner

    def _next(self) -> Fraction | str | None:
        return self._tokens[0] if self._tokens else None


def _tokens(words: str) -> Iterator[Fraction | str]:
    at = 0
    while at < len(words.rstrip()):
        match = _TOKEN.match(words, at)
        if match is None:
            raise ValueError(f"{words!r} holds what is no arithmetic")
        if match["sign"]:
            yield match["sign"]
        else:
            per_cent = match["unit"].strip() == "%"
            yield Fraction(match["number"].replace(",", "")) / (100 if per_cent else 1)
        at = match.end()
