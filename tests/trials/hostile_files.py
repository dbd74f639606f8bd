"""Files that would exhaust the machine, or are none: each is refused in a sentence, at once."""

from __future__ import annotations

import io
import os
import resource
import socket
import subprocess
import sys
import tempfile
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tests.importing.sheets import CODES, HEADINGS, mapped
from tests.trials.trial import Trial, Tried

MEMORY = 200_000  # KB that a hostile file may take above what a sound one takes
SECONDS = 20  # far beyond what any should take, even on a machine that is busy with other things
HEAD = ",".join(HEADINGS) + "\n"
SHEET = "xl/worksheets/sheet1.xml"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
PARTS = {
    "[Content_Types].xml": (
        '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
        '<Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Override PartName="/xl/workbook.xml" ContentType='
        '"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>'
        f'<Override PartName="/{SHEET}" ContentType='
        '"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>'
        "</Types>"
    ),
    "_rels/.rels": (
        f'<Relationships xmlns="{PACKAGE}"><Relationship Id="r1" '
        f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>'
    ),
    "xl/workbook.xml": (
        f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
        '<sheet name="Prices" sheetId="1" r:id="r1"/></sheets></workbook>'
    ),
    "xl/_rels/workbook.xml.rels": (
        f'<Relationships xmlns="{PACKAGE}">'
        f'<Relationship Id="r1" Type="{OFFICE}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="r2" Type="{OFFICE}/sharedStrings" Target="sharedStrings.xml"/>'
        "</Relationships>"
    ),
}


def of_parts(parts: Mapping[str, bytes | str]) -> bytes:
    """A zip archive of these parts."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as book:
        for name, part in parts.items():
            book.writestr(name, part)
    return content.getvalue()


def sheet_of(rows: str, before: str = "") -> bytes:
    """A workbook whose only sheet has these rows, as XML."""
    sheet = f'{before}<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'
    return of_parts({**PARTS, SHEET: sheet})


def text_cell(at: str, words: str) -> str:
    """A cell that holds its own text."""
    return f'<c r="{at}" t="inlineStr"><is><t>{words}</t></is></c>'


def commas(count: int) -> bytes:
    """A text of commas alone."""
    return b"," * count


def lines_of(count: int) -> bytes:
    """A list of prices with that many lines, none of which the yard knows."""
    body = "".join(f"XX-{n:06d},Something,1 kg,{n % 97 + 1}.50,LB,USD\n" for n in range(count))
    return (HEAD + body).encode()


def workbook_of_lines(count: int) -> bytes:
    """The same list as a workbook."""
    rows = "".join(
        f'<row r="{n}">{text_cell(f"A{n}", f"XX-{n}")}{text_cell(f"B{n}", "Something")}'
        f'<c r="D{n}"><v>{n % 97 + 1}.5</v></c>{text_cell(f"E{n}", "LB")}</row>'
        for n in range(2, count + 2)
    )
    heads = "".join(text_cell(f"{'ABCDEF'[n]}1", head) for n, head in enumerate(HEADINGS))
    return sheet_of(f'<row r="1">{heads}</row>{rows}')


def in_last_column(rows: int) -> bytes:
    """A small workbook whose every row has a cell in the last column there is."""
    return sheet_of(
        "".join(f'<row r="{n}"><c r="XFD{n}"><v>1</v></c></row>' for n in range(1, rows + 1))
    )


def in_last_row() -> bytes:
    """A workbook of one cell, in the last row there is."""
    return sheet_of('<row r="1048576"><c r="A1048576"><v>1</v></c></row>')


def bomb(megabytes: int) -> bytes:
    """A workbook whose sheet unpacks to many times its size."""
    filler = f'<row><c t="inlineStr"><is><t>{"x" * 1000}</t></is></c></row>' * 1000
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{filler * megabytes}</sheetData></worksheet>'
    return of_parts({**PARTS, SHEET: sheet})


def lying_bomb(megabytes: int) -> bytes:
    """The same, whose directory says that it unpacks to nothing worth mentioning."""
    raw = bytearray(bomb(megabytes))
    start = 0
    while (start := raw.find(b"PK\x01\x02", start)) >= 0:
        if SHEET.encode() in raw[start + 46 : start + 46 + len(SHEET)]:
            raw[start + 24 : start + 28] = (5000).to_bytes(4, "little")
        start += 4
    return bytes(raw)


def of_many_texts(count: int) -> bytes:
    """A workbook with a long table of texts that no cell names."""
    texts = f'<sst xmlns="{MAIN}">{"<si><t/></si>" * count}</sst>'
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData/></worksheet>'
    return of_parts({**PARTS, SHEET: sheet, "xl/sharedStrings.xml": texts})


def of_many_parts(count: int) -> bytes:
    """A zip archive of very many empty parts."""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w") as book:
        for name, part in PARTS.items():
            book.writestr(name, part)
        for n in range(count):
            book.writestr(zipfile.ZipInfo(f"x{n}"), b"")
    return content.getvalue()


def of_same_sheet(count: int) -> bytes:
    """A workbook that names one sheet over and over."""
    sheets = "".join(f'<sheet name="S{n}" sheetId="{n + 1}" r:id="r1"/>' for n in range(count))
    book = f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>{sheets}</sheets></workbook>'
    rows = "".join(f'<row r="{n}">{text_cell(f"A{n}", "x")}</row>' for n in range(1, 2001))
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'
    return of_parts({**PARTS, "xl/workbook.xml": book, SHEET: sheet})


def laughing() -> bytes:
    """A workbook whose sheet has entities of entities of entities."""
    entities = '<!ENTITY a0 "ha">' + "".join(
        f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10)
    )
    return sheet_of(f'<row r="1">{text_cell("A1", "&a9;")}</row>', f"<!DOCTYPE w [{entities}]>")


def outside() -> bytes:
    """A workbook whose sheet asks for another file."""
    before = '<!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
    return sheet_of(f'<row r="1">{text_cell("A1", "&x;")}</row>', before)


def styled_to_the_end(rows: int, columns: int) -> bytes:
    """A sound list whose empty cells are all coloured."""
    blank = "".join(f'<c s="0" r="{letter}{{n}}"/>' for letter in "ABCDEFGHIJ"[:columns])
    filler = "".join(f'<row r="{n}">{blank.format(n=n)}</row>' for n in range(3, rows))
    heads = "".join(text_cell(f"{'ABCDEF'[n]}1", head) for n, head in enumerate(HEADINGS))
    line = text_cell("A2", "WP-1188") + '<c r="D2"><v>2.1</v></c>' + text_cell("E2", "LB")
    return sheet_of(
        f'<row r="1">{heads}</row><row r="2">{line}{text_cell("F2", "USD")}</row>{filler}'
    )


def long_cell(letters: int) -> bytes:
    """A workbook with one enormous text."""
    return sheet_of(f'<row r="1">{text_cell("A1", "x" * letters)}</row>')


def price(words: str) -> bytes:
    """A list of one price."""
    return f'{HEAD}WP-1188,,,"{words}",LB,USD\n'.encode()


IMPORTS: dict[str, Callable[[], bytes]] = {
    "last_column.xlsx": lambda: in_last_column(2000),
    "last_row.xlsx": in_last_row,
    "bomb.xlsx": lambda: bomb(300),
    "lying_bomb.xlsx": lambda: lying_bomb(300),
    "texts.xlsx": lambda: of_many_texts(3_000_000),
    "parts.xlsx": lambda: of_many_parts(60_000),
    "same_sheet.xlsx": lambda: of_same_sheet(5000),
    "laughing.xlsx": laughing,
    "outside.xlsx": outside,
    "styled.xlsx": lambda: styled_to_the_end(90_000, 10),
    "long_cell.xlsx": lambda: long_cell(20_000_000),
    "lines.xlsx": lambda: workbook_of_lines(100_000),
    "lines.csv": lambda: lines_of(100_000),
    "most_lines.csv": lambda: lines_of(19_999),
    "most_lines.xlsx": lambda: workbook_of_lines(19_999),
    "commas.csv": lambda: commas(10_000_000),
    "semicolons.csv": lambda: b";" * 10_000_000,
    "blank_lines.csv": lambda: HEAD.encode() + b"\n" * 9_000_000,
    "comma_lines.csv": lambda: HEAD.encode() + b",,,,,\n" * 1_500_000,
    "one_quote.csv": lambda: HEAD.encode() + b'"' + b"x" * 9_000_000,
    "quotes.csv": lambda: HEAD.encode() + b'"' * 9_000_001,
    "blanks_first.csv": lambda: b" " * 9_000_000 + b'"x"y',
    "blanks.csv": lambda: price("1" + " " * 200_000 + "x"),
    "digits.csv": lambda: price("1" * 1_000_000),
    "digits_and_a_letter.csv": lambda: price("1" * 1_000_000 + "x"),
    "points.csv": lambda: price("1," * 500_000),
    "signs.csv": lambda: price("1 €" * 300_000),
}
