"""A supplier's workbook with every kind of fault that a line can have, each on a row of its own."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from openpyxl import load_workbook

from tests.importing.sheets import HEADINGS, workbook

# More of the sound catalogue's materials, bought of this supplier too, or of the other one.
CODES = "        - {code: WP-2044, material: gel_blue}\n"
MORE = {
    "WP-2001": "gel_white",
    "WP-4001": "peroxide",
    "WP-4002": "mat_450",
    "WP-4003": "flow_600",
    "WP-4004": "resin_lam",
    "WP-4005": "seal",
    "WP-4006": "wax",
    "WP-4007": "screws",
    "WP-4008": "hinge",
}
CHANGES = {
    "suppliers.yaml": (
        CODES,
        CODES + "".join(f"        - {{code: {c}, material: {m}}}\n" for c, m in MORE.items()),
    ),
}
ROWS = (
    ("Westpoly price list", None, None, None, None, None),
    (),
    HEADINGS,
    ("WP-1188", "Injection resin", "480 LB", 2.10, "LB", "USD"),  # 4: the pack is another
    ("WP-2O44", "Deep blue", None, 48.5, "US GAL", "USD"),  # 5: a letter for a nought
    ("WP-2001", "White", None, None, "LB", "USD"),  # 6: no price
    ("WP-4001", "Peroxide", None, "on request", "LB", "USD"),  # 7: no number
    ("WP-1188", "Injection resin", "485 LB", 2.12, "LB", "USD"),  # 8: a second time
    ("WP-4002", "Mat", None, -2.4, "LB", "USD"),  # 9: negative
    ("WP-4003", "Flow mat", None, 0, "LB", "USD"),  # 10: nothing
    ("WP-4004", "Laminating resin", None, 1.5, "LB", "EUR"),  # 11: another currency
    ("WP-4005", "Seal", None, 1.5, "F T", "USD"),  # 12: an unknown unit
    ("WP-4006", "Wax", None, 9.1, "US GAL", "USD"),  # 13: wax has no density
    ("WP-4007", "Screws", "4 kg", 30, "box", "USD"),  # 14: a box by mass
    ("WP-4008", "Hinge", None, 41, "each", "USD"),  # 15: bought of another
    ("WP-3101-A", "Component A", None, 3.9, "LB", "USD"),  # 16: a jump
    ("WP-3101-B", "Component B", None, "=2.80*1.02", "LB", "USD"),  # 17: a formula alone
    (None, "Thinner", None, 1.1, "LB", "USD"),  # 18: no code
    ("WP-8000", "New resin", None, "#N/A", "LB", "USD"),  # 19: an unknown code
    ("Prices are without freight.", None, None, None, None, None),
)
TEXT = (
    "WP-1188;Injection resin;;2,11;LB;USD",  # 3: a comma, where texts have points
    "WP-2044;Deep\x07 blue;;48.50 EUR;US GAL;",  # 4: a stray character, two currencies amiss
    "WP-3101-A;Component A;;2.90;LB;USD;surplus",  # 5: more values than headings
    'WP-3101-B;"Component B; iso";;1,234;LB;USD',  # 6: a number of two meanings
    "WP-2001;White;;3.05;oz/ft2;USD",  # 7: a unit, but of no price
    "WP-4001;Peroxide;;2.60;L B;USD",  # 8: a word that is near to a known one
    "WP-4007;Screws;a box;28;box;USD",  # 9: a pack of no number
    "WP-4003;Flow mat;1 DR;270;roll;USD",  # 10: a pack of packs
    "WP-4006;Wax;;6.20;;USD",  # 11: no unit
    "WP-4005;Seal;;2 for 9;m;USD",  # 12: two numbers
)


def write_faulty(path: Path) -> None:
    """The workbook, saved."""
    workbook(path, ROWS)


def write_faulty_text(path: Path) -> None:
    """A text with faults that only a text can have."""
    lines = ("Westpoly;;;;;", ";".join(HEADINGS), *TEXT)
    path.write_text("".join(f"{line}\n" for line in lines), "utf-8")


def write_odd_kinds(path: Path) -> None:
    """A workbook whose cells are of kinds that no price is of."""
    rows = [
        HEADINGS,
        ("WP-1188", None, None, datetime(2026, 2, 10), "LB", "USD"),
        ("WP-2044", None, None, 0.48, "US GAL", "USD"),
        ("WP-3101-A", None, None, True, "LB", "USD"),
        ("WP-3101-B", None, None, "#DIV/0!", "LB", "USD"),
        ("WP-2001", None, None, 3.5, "LB", "USD"),
        (datetime(2026, 11, 4), None, None, 3.5, "LB", "USD"),
    ]
    workbook(path, rows)
    book = load_workbook(path)
    sheet = book["Prices"]
    sheet["D3"].number_format = "0%"
    sheet["D6"].number_format = "[$€-407] #,##0.00"
    book.save(path)
