"""A file with many faults has every one told by row and column, and nothing is written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.importing.faulty import CHANGES, write_faulty, write_faulty_text, write_odd_kinds
from tests.importing.sheets import HEADINGS, bytes_in, mapped, quoter, workbook

A_DOZEN = """\
december.xlsx, Prices!C4: a pack of 'resin_inj' holds '480 LB', not '220 kg' [differs]
    correct 'pack' at materials.yaml:30:11, or ask the supplier
december.xlsx, Prices!A5: unknown code 'WP-2O44' (Deep blue) [unknown-code]
    did you mean 'WP-2044'? (new codes go to 'codes' or 'ignored' at suppliers.yaml:33:11)
december.xlsx, Prices!D6: a line without a price [no-value]
    ask the supplier; --skip WP-2001 keeps the old price
december.xlsx, Prices!D7: no price, but 'on request' [no-value]
    ask the supplier; --skip WP-4001 keeps the old price
december.xlsx, Prices!A8: a second line of the code 'WP-1188' [written-twice]
    the first is at december.xlsx, Prices!A4: keep one of them
december.xlsx, Prices!D9: '-2.4' is below nothing [zero-amount]
    write the price, or take the line out; --skip WP-4002 keeps the old price
december.xlsx, Prices!D10: a price of nothing [zero-amount]
    write the price, or take the line out; --skip WP-4003 keeps the old price
december.xlsx, Prices!F11: the price is in 'EUR' [wrong-currency]
    'westpoly' sells in USD: write it so, or correct the supplier at suppliers.yaml:22:15
december.xlsx, Prices!E12: unknown unit 'F T' [unknown-unit]
    say under 'units' at suppliers.yaml:26:7 which unit it is
december.xlsx, Prices!E13: 'wax' can't be priced per m3 [wrong-unit]
    price it per kg, or give the material a 'density'
december.xlsx, Prices!C14: a pack of 'screws' in kg, the material in each [wrong-unit]
    write the pack in each
december.xlsx, Prices!A15: 'hinge' is bought of 'fjordglas' [differs]
    list the code under 'ignored', or change 'supplier:' at materials.yaml:64:85
december.xlsx, Prices!D16: 'polyol' would cost 3.9 USD/lb, 34.5 % more than the \
2.90 USD/lb in force [price-jump]
    the limit is 15 %: check it, and use --accept WP-3101-A if it is meant
december.xlsx, Prices!D17: the cell holds a formula without a result [unreadable-cell]
    open the file in a spreadsheet program and save it there
december.xlsx, Prices!A18: a price without a code [no-value]
    write the code, or take the price out
december.xlsx, Prices!A19: unknown code 'WP-8000' (New resin) [unknown-code]
    did you mean 'WP-9000'? (new codes go to 'codes' or 'ignored' at suppliers.yaml:33:11)
16 problems; nothing was written
"""
ODD_KINDS = """\
odd.xlsx, Prices!D2: '2026-02-10' is a date where a price belongs [unreadable-cell]
    write a price, and format the cell for it
odd.xlsx, Prices!D3: '48 %' is a percentage where a price belongs [unreadable-cell]
    write a price, and format the cell for it
odd.xlsx, Prices!D4: 'TRUE' is a truth value where a price belongs [unreadable-cell]
    write a price, and format the cell for it
odd.xlsx, Prices!D5: the cell holds the error #DIV/0! [unreadable-cell]
    write a price instead
odd.xlsx, Prices!D6: the price is in '€' [wrong-currency]
    'westpoly' sells in USD: write it so, or correct the supplier at suppliers.yaml:22:15
odd.xlsx, Prices!A7: '2026-11-04' is a date where a code belongs [unreadable-cell]
    write a code, and format the cell for it
6 problems; nothing was written
"""
TEXT = """\
faulty.csv:3:26: '2,11' has a comma for its decimals [not-a-number]
    WP-1188;Injection resin;;2,11;LB;USD
                             ^
    write a point, or say 'decimal: comma' in the catalogue if all are like it
faulty.csv:4:9: an unprintable character, #x07 [unprintable]
    WP-2044;Deep� blue;;48.50 EUR;US GAL;
            ^
    remove it
faulty.csv:4:21: the price is in 'EUR' [wrong-currency]
    WP-2044;Deep� blue;;48.50 EUR;US GAL;
                        ^
    'westpoly' sells in USD: write it so, or correct the supplier at suppliers.yaml:22:15
faulty.csv:4:38: no currency [wrong-currency]
    WP-2044;Deep� blue;;48.50 EUR;US GAL;
                                         ^
    'westpoly' sells in USD: write it so, or correct the supplier at suppliers.yaml:22:15
faulty.csv:5:36: the line has 7 values for 6 headings [bad-csv]
    WP-3101-A;Component A;;2.90;LB;USD;surplus
                                       ^
    put a value that holds the mark between the columns in double quotes
faulty.csv:6:31: '1,234' can be read in two ways [not-a-number]
    WP-3101-B;"Component B; iso";;1,234;LB;USD
                                  ^
    write '1234' or '1.234', whichever is meant
faulty.csv:7:21: unknown unit 'oz/ft2' [unknown-unit]
    WP-2001;White;;3.05;oz/ft2;USD
                        ^
    say under 'units' at suppliers.yaml:26:7 which unit it is
faulty.csv:8:24: unknown unit 'L B' [unknown-unit]
    WP-4001;Peroxide;;2.60;L B;USD
                           ^
    did you mean 'LB'? (new words go to 'units' at suppliers.yaml:26:7)
faulty.csv:9:16: 'a box' does not say what a pack holds [unreadable-cell]
    WP-4007;Screws;a box;28;box;USD
                   ^
    write a number and its unit, such as '225 kg'
faulty.csv:10:18: a pack of 'flow_600' in pack, the material in kg [wrong-unit]
    WP-4003;Flow mat;1 DR;270;roll;USD
                     ^
    write the pack in kg
faulty.csv:11:19: no unit [no-unit]
    WP-4006;Wax;;6.20;;USD
                      ^
    write one that is listed under 'units' at suppliers.yaml:26:7
faulty.csv:12:15: '2 for 9' is no number [not-a-number]
    WP-4005;Seal;;2 for 9;m;USD
                  ^
    write digits, with a point for decimals
12 problems; nothing was written
"""


@pytest.mark.parametrize(
    ("name", "write", "told"),
    [
        ("december.xlsx", write_faulty, A_DOZEN),
        ("odd.xlsx", write_odd_kinds, ODD_KINDS),
        ("faulty.csv", write_faulty_text, TEXT),
    ],
)
@pytest.mark.parametrize("more", [(), ("--dry-run",)], ids=["in earnest", "dry run"])
def test_every_fault_is_told_by_row_and_column_and_nothing_is_written(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    write: Callable[[Path], None],
    told: str,
    more: tuple[str, ...],
) -> None:
    monkeypatch.chdir(tmp_path)
    catalogue = mapped(Path("yard"), CHANGES)
    write(Path(name))
    before = bytes_in(catalogue)
    words = ("--supplier", "westpoly", "--effective", "2026-12-01", *more)
    result = quoter("import-prices", "yard", name, *words)
    assert result.exit_code == 1
    assert result.stderr == told
    assert bytes_in(catalogue) == before


def test_the_largest_has_more_than_a_dozen_kinds_of_fault_in_as_many_rows() -> None:
    firsts = [line for line in A_DOZEN.splitlines() if line.startswith("december.xlsx")]
    assert len({line.partition("!")[2].partition(":")[0] for line in firsts}) == len(firsts) == 16


HEAD = ",".join(HEADINGS)
LINE = "WP-1188,,,2.10,LB,USD"


def told_of(folder: Path, content: bytes | str, *words: str) -> str:
    """What is told of a file p.csv, its excerpts left out."""
    raw = content if isinstance(content, bytes) else content.encode()
    (folder / "p.csv").write_bytes(raw)
    if not (folder / "yard").exists():
        mapped(folder / "yard")
    words = ("--supplier", "westpoly", "--effective", "2026-12-01", *words)
    result = quoter("import-prices", folder / "yard", folder / "p.csv", *words)
    assert result.exit_code == 1
    assert not (folder / "yard" / "prices" / "2026-12-01.csv").exists()
    lines = result.stderr.replace(f"{folder}/", "").splitlines()
    return "\n".join(line for n, line in enumerate(lines) if n != 1 or len(lines) < 4)


@pytest.mark.parametrize(
    ("content", "first", "hint"),
    [
        ("", "p.csv: the file is empty [empty]",
         "save it with its heading row and the lines below"),
        (f"{HEAD}\n",
         "p.csv:1:1: no line below the headings has a code of the yard's list [unknown-code]",
         "add the codes that are bought to 'codes' of the supplier's price_file"),
        ("a,b,c\n1,2,3\n",
         "p.csv:1:1: no row has the headings 'Item No.', 'Price', 'Per' and 3 more [headings]",
         "correct the headings at suppliers.yaml:27:16"),
        (f"{HEAD.replace('Per', 'Unit')}\n{LINE}\n",
         "p.csv:1:1: no column is headed 'Per' [headings]",
         "the row has 'Item No.', 'Description', 'Pack size' and 3 more: correct 'per' at "
         "suppliers.yaml:27:45, or the file"),
        (f"\n{HEAD.replace('Price', 'Price.')}\n{LINE}\n",
         "p.csv:2:1: no column is headed 'Price' [headings]",
         "the nearest is 'Price.': correct 'price' at suppliers.yaml:27:33, or the file"),
        (f"{HEAD},price\n{LINE},3\n", "p.csv:1:46: two columns are headed 'Price' [headings]",
         "give one of them another heading"),
        (f"{HEAD}\nWP-1188,\"a,,2.10,LB,USD\n",
         "p.csv:2:9: a double quote is opened and never closed [bad-csv]",
         "close it before the next comma; a quote within a quoted text is written twice"),
        (b"Item\x81\xff", "p.csv:1:5: the byte 81 is no text [encoding]",
         "save the file as UTF-8, or as a workbook of the kind .xlsx"),
        (b"\xd0\xcf\x11\xe0\xa1", "p.csv: the file can't be read: the workbook is of an old kind, "
         "or locked with a password [unreadable-file]",
         "save it in a spreadsheet program as .xlsx, without a password"),
        (b"PK\x03\x04 and no more", "p.csv: the file is damaged, or no workbook [unreadable-file]",
         "open it in a spreadsheet program and save it as .xlsx"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_such_list_is_told_once(
    tmp_path: Path, content: bytes | str, first: str, hint: str
) -> None:
    lines = told_of(tmp_path, content).splitlines()
    assert lines[0] == first
    assert lines[-2].strip() == hint
    assert lines[-1] == "1 problem; nothing was written"


def test_headings_are_found_however_they_are_spaced_and_wherever_they_begin(
    tmp_path: Path,
) -> None:
    head = [None, *(head.upper().replace(" ", "  \n") for head in HEADINGS)]
    line = [None, "WP-1188", "Resin", None, 2.2, "per lb", "US$"]
    rows = [(None, "A list of Item No. and Price"), (), (), head, line]
    mapped(tmp_path / "yard")
    workbook(tmp_path / "p.xlsx", rows)
    words = ("--supplier", "westpoly", "--effective", "2026-12-01")
    result = quoter("import-prices", tmp_path / "yard", tmp_path / "p.xlsx", *words)
    assert result.exit_code == 0, result.output
    assert (tmp_path / "yard/prices/2026-12-01.csv").read_text().splitlines()[1] == (
        "resin_inj,westpoly,2.2 USD/lb,imported from p.xlsx"
    )


def test_a_named_sheet_is_read_and_a_misspelt_one_names_the_nearest(tmp_path: Path) -> None:
    old = "      headings:\n        {code: Item No."
    changes = {"suppliers.yaml": (old, "      sheet: Prices 27\n" + old)}
    catalogue = mapped(tmp_path / "yard", changes)
    rows = [HEADINGS, ("WP-1188", None, None, 2.2, "LB", "USD")]
    words = ("--supplier", "westpoly", "--effective", "2026-12-01", "--dry-run")
    file = workbook(tmp_path / "p.xlsx", rows, "Prices 27")
    assert quoter("import-prices", catalogue, file, *words).exit_code == 0
    file = workbook(tmp_path / "p.xlsx", rows, "Prices 26")
    result = quoter("import-prices", catalogue, file, *words)
    assert result.stderr == (
        f"{file}: the file has no sheet 'Prices 27', which suppliers.yaml:26:14 names "
        "[which-sheet]\n"
        "    did you mean 'Prices 26'?\n"
        "1 problem; nothing was written\n"
    )


def test_a_supplier_whose_files_are_not_described_is_told(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    text = (catalogue / "suppliers.yaml").read_text()
    (catalogue / "suppliers.yaml").write_text(
        text[: text.index("    price_file:")] + text[text.index("  - id: westpoly") :]
    )
    words = ("--supplier", "fjordglas", "--effective", "2026-12-01")
    (tmp_path / "p.csv").write_text(HEAD)
    result = quoter("import-prices", catalogue, tmp_path / "p.csv", *words)
    assert result.exit_code == 1
    assert result.stderr == (
        f"{catalogue}/suppliers.yaml:2:5: 'fjordglas' has no price_file, which says how its lists"
        " are read [not-set-up]\n"
        "    add under it for example 'price_file: {headings: {code: Item, price: Price}, per: kg,"
        " codes: [{code: R-1, material: resin}]}'\n"
        "1 problem; nothing was written\n"
    )


def test_a_pack_at_fault_hides_no_unit_at_fault(tmp_path: Path) -> None:
    told = told_of(tmp_path, f"{HEAD}\nWP-1188,,480 LB,2.10,m,USD\n")
    assert "p.csv:2:10: a pack of 'resin_inj' holds '480 LB', not '220 kg' [differs]" in told
    assert "p.csv:2:22: 'resin_inj' can't be priced per m [wrong-unit]" in told
    assert told.endswith("2 problems; nothing was written")


def test_an_unknown_supplier_is_wrong_usage(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    (tmp_path / "p.csv").write_text(HEAD)
    words = ("--supplier", "westpolly", "--effective", "2026-12-01")
    result = quoter("import-prices", catalogue, tmp_path / "p.csv", *words)
    assert result.exit_code == 2
    assert "unknown supplier 'westpolly': did you mean 'westpoly'?" in result.stderr
