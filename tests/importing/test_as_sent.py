"""Suppliers' lists as they come: headings over two rows, prices per hundred, lines struck through.

The lists and their prices are invented.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.styles import Font

from quoter.catalogue.load import load_catalogue
from tests.importing.sheets import HEADINGS, as_text, mapped, quoter, sheet_of

DAY = "2026-12-01"
LIST = f"prices/{DAY}.csv"
FJORDGLAS = ("--supplier", "fjordglas", "--effective", DAY)
WESTPOLY = ("--supplier", "westpoly", "--effective", DAY)
# The second row of headings alone, and both where the first stands over several columns.
TWO_ROWS = {
    "suppliers.yaml": (
        "headings: {code: Artikelnr., price: Preis, per: Einheit}",
        "headings: {code: Artikelnr., price: Netto EUR, count: PE, per: Netto ME}",
    )
}
UPPER = ("Artikelnr.", "Bezeichnung", "Brutto", "Netto", None, None)
LOWER = (None, None, "EUR", "EUR", "PE", "ME")
METRIC = (
    ("Fjordglas GmbH, Preisliste", None, None, None, None, None),
    UPPER,
    LOWER,
    ("GLAS", None, None, None, None, None),
    ("FG-450", "Matte 450", 300, 246, 100, "kg"),
    ("FG-600", "Fließmatte", 310, 281, 1, "Rolle"),
    UPPER,
    LOWER,
    ("HZ-10", "Laminierharz", 400, 335, 100, "Kg."),
    ("GW-01", "Gelcoat weiß", 9, 7, 1, "KG"),
    ("SCH-8", "Schrauben", 150, 132, 1000, "Stk."),
    ("SCH-9", "Scharniere", 90, 78, 1, "Paar"),
)
METRIC_TOLD = """\
material   code          old              new  in the old unit  change
mat_450    FG-450   2.40 EUR/kg   246 EUR/100 kg      2.46 EUR/kg   +2.5 %
flow_600   FG-600  280 EUR/roll     281 EUR/roll                    +0.4 %
resin_lam  HZ-10    3.30 EUR/kg   335 EUR/100 kg      3.35 EUR/kg   +1.5 %
gel_white  GW-01    6.90 EUR/kg         7 EUR/kg                    +1.4 %
screws     SCH-8     26 EUR/box  132 EUR/1000 each      26.4 EUR/box   +1.5 %
hinge      SCH-9    38 EUR/each      78 EUR/pair      39 EUR/each   +2.6 %
"""
METRIC_LIST = """\
material,supplier,price,note
mat_450,fjordglas,246 EUR/100 kg,imported from FILE
flow_600,fjordglas,281 EUR/roll,imported from FILE
resin_lam,fjordglas,335 EUR/100 kg,imported from FILE
gel_white,fjordglas,7 EUR/kg,imported from FILE
screws,fjordglas,132 EUR/1000 each,imported from FILE
hinge,fjordglas,78 EUR/pair,imported from FILE
"""


def written(path: Path, rows: tuple[tuple[Any, ...], ...]) -> Path:
    """The rows as a text or a workbook, whose headings are merged as suppliers do it."""
    if path.suffix == ".csv":
        return as_text(path, rows, ";")
    book, sheet = sheet_of(rows)
    for above in (2, 7):
        for cells in ("A{0}:A{1}", "B{0}:B{1}", "D{0}:F{0}"):
            sheet.merge_cells(cells.format(above, above + 1))
    book.save(path)
    return path


def words_of(text: str) -> list[list[str]]:
    return [line.split() for line in text.splitlines()]


@pytest.mark.parametrize("name", ["winter.xlsx", "winter.csv"])
def test_headings_over_two_rows_and_prices_per_hundred_thousand_and_pair(
    tmp_path: Path, name: str
) -> None:
    """A workbook says by merged cells how far a heading reaches, a text by the gap beside it."""
    catalogue = mapped(tmp_path / "yard", TWO_ROWS)
    file = written(tmp_path / name, METRIC)
    result = quoter("import-prices", catalogue, file, *FJORDGLAS)
    assert result.exit_code == 0, result.output
    first, *told = words_of(result.stdout)
    assert first == ["Prices", "of", "2026-11-01"]
    assert told[:7] == words_of(METRIC_TOLD)
    assert (catalogue / LIST).read_text() == METRIC_LIST.replace("FILE", name)
    prices = load_catalogue(catalogue)[0].prices
    exact = {"mat_450": 2.46, "resin_lam": 3.35, "screws": 0.132, "hinge": 39.0}
    for id, price in exact.items():
        assert prices[id].price.value == pytest.approx(price, rel=1e-15)


def test_a_heading_of_two_columns_is_told_by_both_of_its_rows(tmp_path: Path) -> None:
    plain = TWO_ROWS["suppliers.yaml"][1].replace("Netto EUR", "EUR")
    catalogue = mapped(
        tmp_path / "yard", {"suppliers.yaml": (TWO_ROWS["suppliers.yaml"][0], plain)}
    )
    file = written(tmp_path / "winter.xlsx", METRIC)
    result = quoter("import-prices", catalogue, file, *FJORDGLAS)
    assert result.stderr == (
        f"{file}, Prices!D3: two columns are headed 'EUR' [headings]\n"
        "    give one of them another heading, or write both rows of it: 'Netto EUR'\n"
        "1 problem; nothing was written\n"
    )


US = (
    HEADINGS,
    ("WP-1188", "Injection resin", None, "2.12 / lb", None, "USD"),
    ("WP-2044", "Deep blue", None, "$ 239.00 per 5 gal pail", None, None),
    ("WP-3101-A", "Component A", None, "295.00 / short cwt", None, "USD"),
    ("WP-3101-B", "Component B", None, "141.00/carton of 10 x 5 lbs.", None, "USD"),
)
NO_COLUMN = {
    "suppliers.yaml": (
        "{code: Item No., price: Price, per: Per, currency: Cur, pack: Pack size, "
        "name: Description}\n",
        "{code: Item No., price: Price, name: Description}\n      per: lb\n",
    )
}


@pytest.mark.parametrize("name", ["winter.xlsx", "winter.csv"])
def test_a_price_says_in_its_own_cell_what_it_is_for(tmp_path: Path, name: str) -> None:
    """It comes before what the catalogue says of all prices. 295 USD per 100 lb are 2.95 per lb."""
    catalogue = mapped(tmp_path / "yard", NO_COLUMN)
    file = tmp_path / name
    if name.endswith(".csv"):
        as_text(file, US, ",")
    else:
        sheet_of(US)[0].save(file)
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    assert result.exit_code == 0, result.output
    assert (catalogue / LIST).read_text() == (
        "material,supplier,price,note\n"
        f"resin_inj,westpoly,2.12 USD/lb,imported from {name}\n"
        f"gel_blue,westpoly,239.00 USD/5 gal,imported from {name}\n"
        f"polyol,westpoly,295.00 USD/cwt,imported from {name}\n"
        f"isocyanate,westpoly,141.00 USD/50 lb,imported from {name}\n"
    )
    prices = load_catalogue(catalogue)[0].prices
    # NIST Special Publication 811 (2008), appendix B.8: a pound is 0.45359237 kg.
    assert prices["polyol"].price.value == pytest.approx(2.95 / 0.45359237, rel=1e-14)
    assert prices["isocyanate"].price.value == pytest.approx(2.82 / 0.45359237, rel=1e-14)


def test_a_number_format_says_what_a_price_is_for(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard", NO_COLUMN)
    book, sheet = sheet_of([HEADINGS, ("WP-1188", None, None, 212), ("WP-3101-A", None, None, 3)])
    sheet["D2"].number_format = '#,##0.00" USD/100 lb"'
    sheet["D3"].number_format = '0.00" per LBS"'
    book.save(tmp_path / "p.xlsx")
    result = quoter("import-prices", catalogue, tmp_path / "p.xlsx", *WESTPOLY)
    assert result.exit_code == 0, result.output
    assert (catalogue / LIST).read_text().splitlines()[1:] == [
        "resin_inj,westpoly,212 USD/100 lb,imported from p.xlsx",
        "polyol,westpoly,3 USD/lb,imported from p.xlsx",
    ]


def test_a_unit_beside_a_price_that_says_another_is_told(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    rows = (HEADINGS, ("WP-1188", None, None, "212/100 lb", "LB", "USD"))
    file = as_text(tmp_path / "p.csv", rows, ",")
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    assert result.stderr == (
        f"{file}:2:11: the price is per 100 lb, and {file}:2:22 says per lb [differs]\n"
        "    WP-1188,,,212/100 lb,LB,USD\n"
        "              ^\n"
        "    write both alike\n"
        "1 problem; nothing was written\n"
    )


def test_lines_struck_through_and_hidden_columns_are_told(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    rows = [
        (*HEADINGS, "Our cost", "Margin"),
        ("WP-1188", None, None, 2.12, "LB", "USD", 1.5, 0.3),
        ("WP-2044", None, None, 48, "gal", "USD", 40, 0.1),
        ("WP-9000", None, None, 14, "each", "USD", None, None),
        ("WP-7000", "Old resin", None, 2, "LB", "USD", None, None),
        ("WP-3101-A", None, None, 2.95, "LB", "USD", None, None),
    ]
    book, sheet = sheet_of(rows)
    for address in ("A2", "D3", "A4", "B5"):
        sheet[address].font = Font(strike=True)
    old = TextBlock(InlineFont(strike=True), "3.05")
    sheet["D6"] = CellRichText(old, " 2.95")
    for column in ("G", "H"):
        sheet.column_dimensions[column].hidden = True
    file = tmp_path / "p.xlsx"
    book.save(file)
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    told = [
        f"{file}, Prices!A2: the line of 'WP-1188' is struck through [unreadable-cell]",
        "    ask the supplier; --skip WP-1188 keeps the old price",
        f"{file}, Prices!A3: the line of 'WP-2044' is struck through [unreadable-cell]",
        "    ask the supplier; --skip WP-2044 keeps the old price",
        f"{file}, Prices!A6: the line of 'WP-3101-A' is struck through [unreadable-cell]",
        "    ask the supplier; --skip WP-3101-A keeps the old price",
        "3 problems; nothing was written",
    ]
    assert result.stderr.splitlines() == told
    assert result.stdout.splitlines() == [
        "Prices of 2026-11-01",
        "Hidden, and left out: columns G ('Our cost'), H ('Margin').",
        "Struck through, and left out: row 5.",
    ]
    skip = ("--skip", "WP-1188", "--skip", "WP-2044")
    sheet["D6"] = 2.95
    book.save(file)
    result = quoter("import-prices", catalogue, file, *WESTPOLY, *skip)
    assert result.exit_code == 0, result.output
    assert (catalogue / LIST).read_text().splitlines()[1:] == [
        "polyol,westpoly,2.95 USD/lb,imported from p.xlsx"
    ]


def test_a_price_column_that_nobody_sees_is_not_read(tmp_path: Path) -> None:
    """A hidden one of the same heading beside one that is seen is left out, and named."""
    catalogue = mapped(tmp_path / "yard")
    book, sheet = sheet_of([HEADINGS, ("WP-1188", None, None, 2.12, "LB", "USD")])
    sheet.column_dimensions["D"].hidden = True
    file = tmp_path / "p.xlsx"
    book.save(file)
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    assert result.stderr == (
        f"{file}, Prices!D1: the column headed 'Price' is hidden [headings]\n"
        "    show it if it is meant, or correct 'price' at suppliers.yaml:27:33\n"
        "1 problem; nothing was written\n"
    )
    sheet["G1"], sheet["G2"] = "Price", 2.2
    book.save(file)
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    assert result.exit_code == 0, result.output
    assert "Hidden, and left out: column D ('Price').\n" in result.stdout
    assert "resin_inj,westpoly,2.2 USD/lb," in (catalogue / LIST).read_text()


def test_a_pack_column_says_what_a_pack_of_no_record_holds(tmp_path: Path) -> None:
    """2.05 USD/lb is the resin's; polyol has no pack of its own in the catalogue."""
    catalogue = mapped(tmp_path / "yard")
    rows = (HEADINGS, ("WP-3101-A", None, "12 tubes of 2 lbs", "71.40", "ctn", "USD"))
    file = as_text(tmp_path / "p.csv", rows, ",")
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    assert result.exit_code == 0, result.output
    assert "polyol,westpoly,71.40 USD/24 lb," in (catalogue / LIST).read_text()


def test_a_heading_that_contradicts_the_catalogue_is_told(tmp_path: Path) -> None:
    change = (NO_COLUMN["suppliers.yaml"][0], NO_COLUMN["suppliers.yaml"][1].replace(
        "price: Price", "price: USD/100 lb"))  # fmt: skip
    catalogue = mapped(tmp_path / "yard", {"suppliers.yaml": change})
    file = tmp_path / "p.csv"
    file.write_text("Item No.,Description,USD/100 lb\nWP-1188,,212\n")
    result = quoter("import-prices", catalogue, file, *WESTPOLY)
    assert result.stderr == (
        f"{file}:2:10: the price is per lb, and its heading 'USD/100 lb' says per 100 lb "
        "[differs]\n"
        "    WP-1188,,212\n"
        "             ^\n"
        "    correct the one that is wrong\n"
        "1 problem; nothing was written\n"
    )
