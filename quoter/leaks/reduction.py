"""A text is cut into pieces that are known: texts of views, phrases, numbers of views in a place.

What is known stands in tries of tokens. A number is a token whatever signs it is written with, and
is followed by its kinds: what it could be by its value. So `€ 1,200` is known where a view has a
price of 1200, and `1,200` alone is not.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

# What stands between words and is nothing; other blanks are signs like any other.
BLANK = " \t\r\n\u00a0\u202f\u2009"
# A number with whatever parts its thousands anywhere, a word or an id, or a single sign.
_TOKEN = re.compile(rf"\d+(?:[.,'\u2019\u066b\u066c\u00a0\u202f\u2009]\d+)*|[^\W\d]\w*|[^{BLANK}]")
# Signs that join anything to anything, and so say nothing of what stands beside them.
_JOINING = frozenset(".,;:()/–·-+#?&'\"")

Trie = dict[Any, Any]
Kinds = Callable[[str], Iterable[str]]
Tokens = Sequence[str]
_END = 0  # the key of a trie's node where a known sequence ends; tokens are texts


def tokens_of(text: str) -> list[str]:
    """The tokens of a text.

    >>> tokens_of("From €1,234.50 on model_8")
    ['From', '€', '1,234.50', 'on', 'model_8']
    """
    return _TOKEN.findall(text)


def is_number(token: str) -> bool:
    """Whether a token is a number written in digits."""
    return token[0].isdecimal()


def says_something(tokens: Tokens) -> bool:
    """Whether there is more than signs which join anything to anything."""
    return any(token not in _JOINING for token in tokens)


def add(trie: Trie, tokens: Tokens) -> None:
    """Make a sequence known; a kind of numbers stands for any number of the kind."""
    if not tokens:
        return
    node = trie
    for token in tokens:
        node = node.setdefault(token, {})
    node[_END] = True


@dataclass(frozen=True, slots=True)
class Rest:
    """What of a text is not known, and where in the text it begins."""

    text: str
    start: int


def is_known(text: str, tries: Sequence[Trie], kinds: Kinds) -> bool:
    """Whether a text is nothing but known sequences, one after the other."""
    tokens = _TOKEN.findall(text)
    end = len(tokens)
    tokens.append("")  # no sequence has it: nothing is looked up beyond the end
    at = 0
    while at < end:  # the longest that fits, which nearly always leads to the end
        ends = _ends(tokens, at, tries, kinds)
        if not ends:
            return at > 0 and _is_reached(tokens, tries, kinds)
        at = max(ends)
    return True


def _is_reached(tokens: Tokens, tries: Sequence[Trie], kinds: Kinds) -> bool:
    """Whether any way of cutting leads to the end."""
    reached = {0}
    for start in range(len(tokens) - 1):
        if start in reached:
            reached |= _ends(tokens, start, tries, kinds)
    return len(tokens) - 1 in reached


def rests(text: str, tries: Sequence[Trie], kinds: Kinds) -> Iterator[Rest]:
    """What is left of a text when as many of its tokens as can be are known."""
    found = list(_TOKEN.finditer(text))
    tokens = [each[0] for each in found]
    best: list[tuple[int, int]] = [(0, -1)]  # how many tokens are left over, and from where
    best += [(len(tokens) + 1, -1)] * len(tokens)
    for start in range(len(tokens)):
        left = best[start][0]
        best[start + 1] = min(best[start + 1], (left + 1, start), key=lambda pair: pair[0])
        for end in _ends([*tokens, ""], start, tries, kinds):
            if left < best[end][0]:
                best[end] = left, start
    at, unknown = len(tokens), set()
    while at:
        start = best[at][1]
        if best[at][0] > best[start][0]:
            unknown.add(start)
        at = start
    yield from _joined(text, found, unknown)


def _joined(text: str, found: Sequence[re.Match[str]], unknown: set[int]) -> Iterator[Rest]:
    """Unknown tokens that stand side by side as one."""
    for first in sorted(unknown):
        if first - 1 in unknown:
            continue
        last = first
        while last + 1 in unknown:
            last += 1
        yield Rest(text[found[first].start() : found[last].end()], found[first].start())


def _ends(tokens: Tokens, start: int, tries: Sequence[Trie], kinds: Kinds) -> set[int]:
    """Where known sequences end that begin at a token."""
    found: set[int] = set()
    first = tokens[start]
    number = first[:1].isdecimal()
    ways: list[tuple[Trie | None, int]] = [
        (trie, start) for trie in tries if number or first in trie
    ]
    for node, at in ways:  # which grow: a number may be itself or any of its kinds
        while node is not None:
            if _END in node:
                found.add(at)
            token = tokens[at]
            at += 1
            if token[:1].isdecimal():
                ways += [(node[kind], at) for kind in kinds(token) if kind in node]
            node = node.get(token)
    return found
