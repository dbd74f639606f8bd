"""Files that would exhaust the machine, or are none: each is refused in a sentence, at once."""

from __future__ import annotations

import io
import os
import socket
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from tests.importing.sheets import HEADINGS, mapped, quoter
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


def of_many_attributes(count: int) -> bytes:
    """A workbook with one row that has very many attributes."""
    return sheet_of("<row " + " ".join(f'a{n}="1"' for n in range(count)) + "/>")


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
    "attribute.xlsx": lambda: sheet_of(f'<row r="1" x="{"y" * 40_000_000}"/>'),
    "remark.xlsx": lambda: sheet_of(f"<!--{'y' * 40_000_000}-->"),
    "attributes.xlsx": lambda: of_many_attributes(900_000),
    "deep.xlsx": lambda: sheet_of("<a>" * 900_000 + "</a>" * 900_000),
    "names.xlsx": lambda: sheet_of("".join(f"<a{n}/>" for n in range(900_000))),
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
    "short_blanks.csv": lambda: price("1" + " " * 30_000 + "x"),
    "short_digits.csv": lambda: price("1" * 30_000 + "x"),
    "short_points.csv": lambda: price("1," * 15_000),
}

# What is said of each, in part; a file that is none of these is sound.
SAID = {
    "last_column.xlsx": "Prices!XFD1 holds something, and 256 columns are the most",
    "last_row.xlsx": "no row has the headings",
    "bomb.xlsx": "unpacks to more than 50,000,000 bytes",
    "lying_bomb.xlsx": "the file is damaged, or no workbook",
    "texts.xlsx": "more than 400,000 texts",
    "parts.xlsx": "1,000 are the most",
    "same_sheet.xlsx": "more than 20,000 rows",
    "laughing.xlsx": "the file declares what no workbook does",
    "outside.xlsx": "the file declares what no workbook does",
    "long_cell.xlsx": "more than 32,767 characters",
    "attribute.xlsx": "more than 1,048,576 bytes",
    "remark.xlsx": "more than 1,048,576 bytes",
    "attributes.xlsx": "more than 1,048,576 bytes",
    "deep.xlsx": "the file is empty",
    "names.xlsx": "the file is empty",
    "lines.xlsx": "more than 20,000 rows",
    "lines.csv": "100,001 lines, and 20,000 are the most",
    "most_lines.csv": "unknown code 'XX-019998'",
    "most_lines.xlsx": "unknown code 'XX-20000'",
    "commas.csv": "more than 256 values",
    "semicolons.csv": "32,767 are the most",
    "blank_lines.csv": "9,000,001 lines, and 20,000 are the most",
    "comma_lines.csv": "1,500,001 lines, and 20,000 are the most",
    "one_quote.csv": "opened and never closed",
    "quotes.csv": "opened and never closed",
    "blanks_first.csv": "is followed by 'y'",
    "blanks.csv": "32,767 are the most",
    "digits.csv": "32,767 are the most",
    "digits_and_a_letter.csv": "32,767 are the most",
    "points.csv": "32,767 are the most",
    "signs.csv": "32,767 are the most",
    "short_blanks.csv": "'1 x' is no number",
    "short_digits.csv": "at most 200 digits fit",
    "short_points.csv": "at most 200 digits fit",
}
CHILD = """
import resource, sys
resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
from quoter.cli import main
try:
    main(sys.argv[1:])
finally:
    with open("/proc/self/status") as status:
        peak = next(line.split()[1] for line in status if line.startswith("VmHWM"))
    print(f"peak {peak}", file=sys.stderr)
"""
IMPORT = ("--supplier", "westpoly", "--effective", "2026-12-01", "--dry-run")


def run(*words: str | Path) -> tuple[int, str, int]:
    """A command in a process of its own: how it ended, what it said, its peak of memory [KB]."""
    program = [sys.executable, "-c", CHILD.replace("SECONDS", str(SECONDS))]
    ended = subprocess.run(
        [*program, *map(str, words)], capture_output=True, text=True, check=False
    )
    said, _, peak = ended.stderr.rpartition("peak ")
    return ended.returncode, said, int(peak) if peak.strip().isdecimal() else 0


def hostile_imports(most: int) -> Tried:
    """Suppliers' files: each is refused with its sentence and in little memory."""
    tried = Tried()
    with tempfile.TemporaryDirectory() as kept:
        folder = Path(kept)
        catalogue = mapped(folder / "yard")
        (folder / "sound.csv").write_bytes(price("2.10"))
        _, _, usual = run("import-prices", catalogue, folder / "sound.csv", *IMPORT)
        for name, made in [*IMPORTS.items()][::-1][:most]:
            (folder / name).write_bytes(made())
            code, said, peak = run("import-prices", catalogue, folder / name, *IMPORT)
            wanted = (1, SAID[name]) if name in SAID else (0, "")
            held = code == wanted[0] and wanted[1] in said and "Traceback" not in said
            tried.expect(held, f"{name}: ended with {code}: {said[:300]}")
            tried.expect(peak - usual < MEMORY, f"{name} took {peak - usual:,} KB")
            (folder / name).unlink()
    return tried


def write_special(folder: Path) -> Iterator[tuple[str, str, socket.socket | None]]:
    """Things in the place of a file, each with what it is called."""
    os.mkfifo(folder / "pipe")
    yield "pipe", "a pipe", None
    (folder / "folder").mkdir()
    yield "folder", "a folder", None
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind(str(folder / "socket"))
        yield "socket", "a socket", listening
    (folder / "device").symlink_to("/dev/zero")
    yield "device", "a device", None


# Files of a catalogue that something else may take the place of.
PLACES = ("yard.yaml", "materials.yaml", "wages.csv", "prices/2026-11-01.csv", "translations/de.po")


def special_files(_: int) -> Tried:
    """Pipes, sockets, devices and folders are refused by every command that reads a file."""
    tried = Tried()
    with tempfile.TemporaryDirectory() as kept:
        folder = Path(kept)
        catalogue = mapped(folder / "yard")
        (catalogue / "translations").mkdir(exist_ok=True)
        for name, words, _socket in write_special(folder):
            place = folder / name
            for command in (
                ("import-prices", catalogue, place, *IMPORT),
                ("quote", catalogue, place, "--dry-run"),
            ):
                result = quoter(*command)
                held = f"{words} where a file belongs" in result.stderr
                # That a folder is none is said by what reads the command's words already.
                held |= name == "folder" and result.exit_code == 2
                tried.expect(held, f"{command[0]} of {words}: {result.stderr[:200]}")
            for inner in PLACES:
                other = mapped(folder / f"{name}_{inner.replace('/', '_')}")
                (other / inner).unlink(missing_ok=True)
                (other / inner).parent.mkdir(exist_ok=True)
                (other / inner).symlink_to(place)
                said = quoter("check", other).stderr
                held = f"{inner}: {words} where a file belongs" in said
                tried.expect(held, f"{inner} as {words}: {said[:200]}")
    return tried


TRIALS = (
    Trial(
        "hostile imports",
        "Suppliers' files that would exhaust the machine are refused in a sentence.",
        hostile_imports,
        short=8,
        long=100,
    ),
    Trial(
        "special files",
        "Pipes, sockets, devices and folders are refused in the place of any file.",
        special_files,
        short=1,
        long=1,
    ),
)
