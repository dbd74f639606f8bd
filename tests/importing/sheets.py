"""The sound catalogue that knows how its suppliers' files are read, and such files to read."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result
from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from quoter.cli import main
from quoter.disk import LOCK
from tests.catalogue.broken import SOUND
from tests.catalogues.written import write_catalogue

SUPPLIERS = """\
suppliers:
  - id: fjordglas
    name: Fjordglas
    currency: EUR
    freight: 3 %
    price_file:
      headings: {code: Artikelnr., price: Preis, per: Einheit}
      decimal: comma
      units:
        - {word: Rolle, means: roll}
        - {word: Stk, means: each}
        - {word: Karton, means: box}
      codes:
        - {code: FG-450, material: mat_450}
        - {code: FG-600, material: flow_600}
        - {code: HZ-10, material: resin_lam}
        - {code: GW-01, material: gel_white}
        - {code: SCH-8, material: screws}
        - {code: SCH-9, material: hinge}
  - id: westpoly
    name: Westpoly
    currency: USD
    freight: 6 %
    duty: 2 %
    price_file:
      headings:
        {code: Item No., price: Price, per: Per, currency: Cur, pack: Pack size, name: Description}
      units:
        - {word: LB, means: lb}
        - {word: US GAL, means: gal}
        - {word: DR, means: drum}
      codes:
        - {code: WP-1188, material: resin_inj}
        - {code: WP-2044, material: gel_blue}
        - {code: WP-3101-A, material: polyol}
        - {code: WP-3101-B, material: isocyanate}
      ignored: [WP-9000]
"""
CODES = {"WP-1188": "resin_inj", "WP-2044": "gel_blue"}
HEADINGS = ("Item No.", "Description", "Pack size", "Price", "Per", "Cur")


def mapped(folder: Path, changes: Mapping[str, tuple[str, str]] | None = None) -> Path:
    """The sound catalogue with its suppliers' files described, and texts changed."""
    return write_catalogue(folder, {"suppliers.yaml": SUPPLIERS}, changes, base=SOUND)


def workbook(path: Path, rows: Iterable[Iterable[Any]], title: str = "Prices") -> Path:
    """A workbook of one sheet with these rows."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = title
    for row in rows:
        sheet.append(list(row))
    book.save(path)
    return path


def sheet_of(rows: Iterable[Iterable[Any]]) -> tuple[Workbook, Worksheet]:
    """A workbook of one sheet with these rows, to be changed and saved."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Prices"
    for row in rows:
        sheet.append(list(row))
    return book, sheet


def as_text(path: Path, rows: Iterable[Iterable[Any]], mark: str) -> Path:
    """A text of these rows, cells parted by a mark."""
    lines = (mark.join("" if cell is None else str(cell) for cell in row) for row in rows)
    path.write_text("".join(f"{line}\n" for line in lines), "utf-8")
    return path


def with_results(path: Path, results: Mapping[str, str]) -> Path:
    """The workbook with the results of formulas stored, as a spreadsheet program would."""
    parts = {}
    with zipfile.ZipFile(path) as book:
        for name in book.namelist():
            parts[name] = book.read(name)
    (sheet,) = (name for name in parts if name.startswith("xl/worksheets/sheet"))
    text = parts[sheet].decode()
    for formula, result in results.items():
        without = re.compile(rf"<f>{re.escape(formula)}</f><v ?(?:/>|></v>)")
        text, count = without.subn(f"<f>{formula}</f><v>{result}</v>", text)
        assert count == 1
    parts[sheet] = text.encode()
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as book:
        for name, content in parts.items():
            book.writestr(name, content)
    path.write_bytes(whole.getvalue())
    return path


def one_line(code: str, price: str, per: str) -> str:
    """A list of one price."""
    return f"Item No.,Description,Pack size,Price,Per,Cur\n{code},,,{price},{per},USD\n"


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def bytes_in(folder: Path) -> dict[str, bytes]:
    """Every file of a folder, hidden ones included but the lock, which stays."""
    files = sorted(path for path in folder.rglob("*") if path.is_file() and path.name != LOCK)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
