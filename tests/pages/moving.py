"""The small catalogue over two editions of its price sheet, with prices that move from day to day.

Amounts are in euros without tax; the home market shows them with 25 %. Abroad it sells in pounds,
rounded up to fives.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path

from tests.catalogues.written import FOLDER, write_catalogue

BEGUN = date(2026, 5, 1)  # the edition in force; April 1 is the first of the 30 days before it
EDITIONS = """\
valid_from,valid_until,version,model_year,note
2026-02-15,2026-04-30,2026-A,2026,shown at the winter fair of the small yard
2026-05-01,2026-08-31,2026-B,2026,
2026-09-01,2026-12-31,2026-C,2027,
"""
# The deck hatch had a lower price 20 days before it fell; the one 40 days before counts no more.
BOOK = """\
date,market,model,option,list_price,note
2026-02-01,,,hatch,440 EUR,too low since the resin rise
2026-03-10,,,hatch,380 EUR,for the spring fair alone
2026-03-25,,,hatch,450 EUR,
2026-04-11,,,hatch,420 EUR,
2026-04-21,,,hatch,440 EUR,
2026-05-01,,,hatch,410 EUR,
2026-02-01,,,box,100 EUR,
2026-05-01,,,box,110 EUR,
2026-02-01,,,green,60 EUR,
2026-05-01,,,green,-25 EUR,taken over by the paint maker
2026-02-01,,,cleats,95 EUR,
2026-02-01,,,side_door,6000 EUR,
2026-02-01,,skiff,,21900 EUR,
2026-05-01,,skiff,,22200 EUR,
2026-05-20,,,hatch,430 EUR,
2026-06-10,,,hatch,400 EUR,
"""
RATES = """\
date,currency,rate,note
2026-01-01,GBP,0.86 GBP/EUR,invented
2026-05-01,GBP,0.84 GBP/EUR,invented
"""
CHANGES = {
    "yard.yaml": {
        '  version: 2026 S\n  model_year: "2026"\n': "",
        "  valid_from: 2026-02-01\n  valid_until: 2026-08-31\n": "",
        "  terms:\n": "  news:\n    - {version: 2026-B, words: [Doors are here.]}\n  terms:\n",
        "tax: 0 %, prices: without tax}": "tax: 0 %, prices: without tax, currency: GBP, "
        "rounding: {step: 5 GBP, direction: up}}",
    },
    "options.yaml": {"kind: opening\n": "kind: opening\n    new_in: 2026-B\n"},
}


def moving(
    folder: Path,
    changes: Mapping[str, Mapping[str, str]] | None = None,
    tables: Mapping[str, str] | None = None,
) -> Path:
    """The catalogue's folder; file -> {words: what replaces them} and whole files on top."""
    files = {"editions.csv": EDITIONS, "price_book.csv": BOOK, "exchange.csv": RATES}
    path = write_catalogue(folder / "moving", files | (dict(tables or {})), base=FOLDER / "small")
    for replaced in (CHANGES, changes or {}):
        for name, words in replaced.items():
            text = (path / name).read_text(encoding="utf-8")
            for old, new in words.items():
                assert old in text, f"{name} does not hold '{old}'"
                text = text.replace(old, new, 1)
            (path / name).write_text(text, encoding="utf-8")
    return path
