"""Markdown: written for tables, read for pages and for a terminal."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from markdown_it import MarkdownIt
from markdown_it.token import Token

_NAMED = re.compile(r"[^\w]+")


def cell(words: str) -> str:
    """Words as they may stand in a cell of a table.

    >>> cell("a | b")
    'a \\\\| b'
    """
    return " ".join(words.split()).replace("|", "\\|")


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A pipe table; what its cells hold is Markdown already."""
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def anchor(words: str) -> str:
    """The name of a heading within its page.

    >>> anchor("What if?"), anchor("no-unit")
    ('what-if', 'no-unit')
    """
    return _NAMED.sub("-", words.lower()).strip("-")


def reader() -> MarkdownIt:
    """A reader of CommonMark with tables, to which HTML is but words."""
    return MarkdownIt("commonmark", {"html": False, "xhtmlOut": False}).enable("table")


_reader = cache(reader)  # of those who only read


def title_of(text: str) -> str:
    """The words of the first heading."""
    return plain(text.partition("\n")[0].removeprefix("# "))


def summary_of(text: str) -> str:
    """The first paragraph, without marks."""
    return plain(text.split("\n\n")[1])


def plain(text: str) -> str:
    """Markdown's words alone, on one line."""
    return " ".join(" ".join(_words(_reader().parse(text))).split())


def _words(tokens: Iterable[Token]) -> Iterable[str]:
    for token in tokens:
        if token.type == "inline":
            yield "".join(_inline(token.children or ()))
        elif token.type in ("fence", "code_block"):
            yield token.content


def _inline(tokens: Iterable[Token]) -> Iterable[str]:
    for token in tokens:
        yield " " if token.type in ("softbreak", "hardbreak") else token.content


def links_of(text: str) -> list[str]:
    """Where the links of a text lead, as they are written."""
    inside = (child for token in _reader().parse(text) for child in token.children or ())
    return [str(token.attrs["href"]) for token in inside if token.type == "link_open"]
