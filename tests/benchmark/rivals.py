"""What others need for the same: openpyxl for our finished cells, jinja2 for our pages, the floor.

Rivals and ours take turns within one process, so that their ratio is that of one run. The rivals
are given all that is finished: they compute no number, no formula and no layout. openpyxl writes
the cells, styles and column widths of our workbooks; a plain loop in jinja2 renders the bytes of
our public files; the floor joins the strings of our parts and zips them.
"""

from __future__ import annotations

import gc
import html
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from io import BytesIO
from pathlib import Path
from typing import Any

from jinja2 import Environment
from markupsafe import Markup, escape
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.utils import get_column_letter

from quoter.analysis.findings import Findings
from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import earlier_lists
from quoter.pricing.priced import at_last_list
from tests.benchmark.finished import FinishedBook, FinishedSheet, taken_apart
from tests.benchmark.measured import Stages, least
from tests.benchmark.stages import cells_in, priced_in
from tests.outputs import every_book

_LEVEL = 6
_TAG = re.compile(r"(<[^>]*>)")
# One source of a page: what stands there as it is, and texts that are escaped.
_PAGE = "{% for mark, text in pieces %}{{ mark }}{{ text }}{% endfor %}"


def workbooks(folder: str, rounds: int) -> dict[str, float]:
    """CPU seconds of all workbooks of a yard: ours from finished findings to bytes, theirs, and
    those of joining strings and zipping the same parts; with the count of cells.

    They take turns workbook by workbook, so that none is kept longer than it is needed.
    """
    catalogue = Path(folder)
    pricing, _ = priced_in(catalogue, Stages())
    findings = Findings(pricing, partial(at_last_list, catalogue, pricing))
    cells = sum(cells_in(book) for _, book in every_book(findings))  # asks all that is asked
    turns = [_turn(findings) for _ in range(rounds)]
    found = {name: min(turn.cpu[name] for turn in turns) for name in turns[0].cpu}
    return {**found, "cells": cells}


def _turn(findings: Findings) -> Stages:
    stages, books = Stages(), every_book(findings)
    while True:
        with stages.of("ours"):
            book = next(books, None)
        if book is None:
            return stages
        finished = taken_apart(book[1])
        pieces = in_pieces(finished.parts)
        gc.collect()
        with stages.of("openpyxl"):
            written_again(finished)
        with stages.of("floor"):
            joined_and_zipped(pieces)


def written_again(book: FinishedBook) -> bytes:
    """A finished workbook as openpyxl writes it with its best habits.

    Rows are handed over one by one and not kept, each style is made once, and one cell serves for
    all of them. It can't write a value beside a formula.
    """
    workbook = Workbook(write_only=True)
    styles: dict[int, Any] = {}
    for sheet in book.sheets:
        target = workbook.create_sheet(sheet.title)
        for number, width in sheet.widths.items():
            target.column_dimensions[get_column_letter(number)].width = width
        for style in {cell[3] for row in sheet.rows for cell in row} - styles.keys():
            cell: Any = WriteOnlyCell(target)
            for look, value in book.styles[style].items():
                setattr(cell, look, value)
            styles[style] = cell._style
        _write_rows(target, sheet, styles)
    buffer = BytesIO()
    workbook.save(buffer)
    return buffer.getvalue()


def _write_rows(target: Any, sheet: FinishedSheet, styles: Mapping[int, Any]) -> None:
    cell: Any = WriteOnlyCell(target)

    def cells(row: Sequence[tuple[int, float | str | None, bool, int]]) -> Iterator[Any]:
        before = 0
        for column, value, is_text, style in row:
            for _ in range(column - before - 1):
                yield None
            cell.value = value
            if is_text:
                cell.data_type = "s"
            cell._style = styles[style]
            yield cell
            before = column

    for row in sheet.rows:
        target.append(cells(row))


def in_pieces(parts: Mapping[str, bytes]) -> dict[str, list[str]]:
    """The parts of a file cut before each cell, for the floor to join again."""
    return {name: re.split(r"(?=<c )", part.decode()) for name, part in parts.items()}


def joined_and_zipped(parts: Mapping[str, Sequence[str]]) -> bytes:
    """Strings joined and zipped: less than this no writer can do."""
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, pieces in parts.items():
            content = "".join(pieces).encode()
            archive.writestr(zipfile.ZipInfo(name), content, zipfile.ZIP_DEFLATED, _LEVEL)
    return buffer.getvalue()


def pages(folder: str, rounds: int) -> dict[str, float]:
    """CPU seconds of all public files of a yard: ours without and with the guard, and those of a
    plain loop in jinja2 that renders the same bytes; with the count of bytes."""
    catalogue = Path(folder)
    pricing, _ = priced_in(catalogue, Stages())
    earlier = earlier_lists(catalogue, pricing)
    files = PublicSite(pricing, earlier).pages()
    made = {path: each for path, each in files.items() if not path.endswith((".xlsx", ".zip"))}
    template = Environment(autoescape=True).from_string(_PAGE)
    pieces = {path: page_pieces(content.decode()) for path, content in made.items()}

    def loop() -> dict[str, bytes]:
        return {path: template.render(pieces=each).encode() for path, each in pieces.items()}

    if loop() != made:
        raise RuntimeError("the plain loop renders other bytes than our pages have")
    shown: dict[str, Any] = {}

    def ours() -> None:
        shown["site"] = PublicSite(pricing, earlier)
        shown["files"] = shown["site"].pages()

    mine, guard, theirs = least(
        rounds, ours, lambda: SiteGuard(shown["site"]).look_through(shown["files"]), loop
    )
    size = sum(map(len, made.values()))
    return {"ours": mine, "guard": guard, "jinja2": theirs, "bytes": size}


def page_pieces(page: str) -> list[tuple[Markup, str]]:
    """A page cut at its tags: each tag as it is, and the text after it to be escaped anew.

    A text that would not be escaped to what stands there, as in a script, goes with its tag.
    """
    found = _TAG.split(page)
    pieces = [(Markup(""), found[0])] if found[0] else []
    for tag, text in zip(found[1::2], found[2::2], strict=True):
        pieces.append((Markup(tag), text))
    return [
        (mark, plain)
        if str(escape(plain := html.unescape(text))) == text
        else (Markup(f"{mark}{text}"), "")
        for mark, text in pieces
    ]
