"""CSV as cells that know their line and column, so that a message can point at the very cell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from quoter.intake import LONGEST_CELL, MOST_CELLS, MOST_COLUMNS, MOST_LINES, counted
from quoter.problems import MalformedError, quoted

# With these a spreadsheet program may begin a formula: OWASP, "CSV Injection"; the last is from
# OWASP's Application Security Verification Standard 5.0, requirement 1.2.10.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0")
APOSTROPHE = "'"
# Where a cell begins, also for a program that parts cells by other marks than commas.
_BEGINS = re.compile(rf"(?P<mark>\A|[,;\t])(?P<signs>'*)(?=[{re.escape(''.join(FORMULA_STARTS))}])")
_SEPARATORS = {";": "semicolons", "\t": "tabs"}
_WITHIN = "a quote within a quoted text is written twice"
_CALLED = {",": "comma", ";": "semicolon", "\t": "tab"}


@cache
def _cell(mark: str) -> re.Pattern[str]:
    """Blanks, then a text in double quotes (one within is doubled), or anything up to a mark."""
    blank = "[ ]" if mark == "\t" else "[ \\t]"
    inside = r'"([^"]*+(?:""[^"]*+)*+)"'
    return re.compile(
        rf'{blank}*+(?:{inside}{blank}*|((?:[^"{mark}\n][^{mark}\n]*)?))(?={mark}|\n|\Z)'
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell's text without surrounding blanks, and where it begins."""

    text: str
    line: int
    column: int


def csv_rows(text: str, mark: str = ",", most: int = MOST_LINES) -> Iterator[list[Cell]]:
    """The rows that hold anything, as RFC 4180 writes them; lines end with a line feed.

    `mark` parts the cells: a comma, a semicolon or a tab. `most` lines are read.

    Raises:
        MalformedError: at the quote that is never closed, or closed in the middle of a cell; or
            where there is more than what is read.
    """
    need_few_lines(text, most)
    row: list[Cell] = []
    position, line, line_start, cells = 0, 1, 0, 0
    while position < len(text):
        found = _cell(mark).match(text, position)
        if not found:
            raise _bad_quote(text, position, line, line_start, mark)
        begin = found.start(1) - 1 if found[1] is not None else found.start(2)
        words = found[2] if found[1] is None else found[1].replace('""', '"')
        row.append(Cell(words.strip(), line, begin - line_start + 1))
        cells += 1
        if len(row) > MOST_COLUMNS or cells > MOST_CELLS or len(words) > LONGEST_CELL:
            raise _too_much(row, len(words))
        breaks = text.count("\n", position, found.end())
        if breaks:
            line, line_start = line + breaks, text.rindex("\n", position, found.end()) + 1
        position = found.end() + 1
        if text[found.end() : position] == mark:
            if position < len(text):
                continue
            row.append(Cell("", line, position - line_start + 1))
        else:
            line, line_start = line + 1, position
        if any(cell.text for cell in row):
            yield row
        row = []


def need_few_lines(text: str, most: int) -> None:
    """Refuse a table that is longer than what is read, before anything is made of it.

    Raises:
        MalformedError: it has more lines.
    """
    lines = text.count("\n") + (not text.endswith("\n"))
    if lines > most:
        what = (
            f"the file has {counted(lines)} lines, and {counted(most)} are the most that are read"
        )
        raise MalformedError("too-much", most + 1, 1, what, "keep only those that are needed")


def _too_much(row: list[Cell], length: int) -> MalformedError:
    here = row[-1].line, row[-1].column
    if length > LONGEST_CELL:
        what = f"a value of {counted(length)} characters, and {counted(LONGEST_CELL)} are the most"
        return MalformedError(
            "too-much", *here, f"{what} that are read", "look for a quote left open above"
        )
    if len(row) > MOST_COLUMNS:
        what = f"the line has more than {MOST_COLUMNS} values, which is the most that is read"
        return MalformedError("too-much", *here, what, "keep only the columns that are needed")
    what = f"the file has more than {counted(MOST_CELLS)} values up to here"
    return MalformedError(
        "too-much", *here, f"{what}, which is the most", "keep only those that are needed"
    )


def _bad_quote(text: str, position: int, line: int, line_start: int, mark: str) -> MalformedError:
    quote = text.index('"', position)
    end = re.compile(r'[^"]*+(?:""[^"]*+)*+"').match(text, quote + 1)
    column = quote - line_start + 1
    if end is None:
        hint = f"close it before the next {_CALLED[mark]}; {_WITHIN}"
        return MalformedError(
            "bad-csv", line, column, "a double quote is opened and never closed", hint
        )
    stray = quoted(text[end.end() :].partition("\n")[0].partition(mark)[0].strip())
    what = f"the text in double quotes is followed by {stray}"
    return MalformedError("bad-csv", line, column, what, _WITHIN)


def as_text(words: str) -> str:
    """Words of which no spreadsheet program makes a formula: an apostrophe stands before one.

    >>> as_text("=1+1"), as_text("'=1+1"), as_text("dear; -20 % asked")
    ("'=1+1", "''=1+1", 'dear; -20 % asked')
    """
    return _BEGINS.sub(rf"\g<mark>{APOSTROPHE}\g<signs>", words)


def as_written(cell: str) -> str:
    """The words that `as_text` made a cell of.

    >>> as_written("'=1+1"), as_written("''=1+1"), as_written("'twas")
    ('=1+1', "'=1+1", "'twas")
    """
    return _BEGINS.sub(lambda found: found["mark"] + found["signs"][1:], cell)


def other_separator(head: str) -> str:
    """What a file's first line separates its columns by instead of commas, if it does."""
    if "," in head:
        return ""
    return next((name for mark, name in _SEPARATORS.items() if mark in head), "")
