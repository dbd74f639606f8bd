"""Rows of words as columns on a terminal."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence


def columns(rows: Sequence[Sequence[str]], right: Collection[int] = ()) -> Iterator[str]:
    """Lines of equal columns, two blanks apart; those numbered in `right` end together.

    >>> list(columns([("name", "cost"), ("hatch", "9")], right={1}))
    ['name   cost', 'hatch     9']
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        cells = [
            cell.rjust(width) if n in right else cell.ljust(width)
            for n, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  ".join(cells).rstrip()
