"""What somebody changes in a yard between two builds: rates, rows booked, a label, a price."""

from __future__ import annotations

import csv
import re
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

_LAST_DAY = date(2026, 10, 31)  # the edition in force begins the day after
_RATES = {"USD": Decimal("1.105"), "NOK": Decimal("11.74")}


def add_daily_rates(folder: Path, days: int) -> None:
    """Give a yard exchange rates of so many more days, the last on the eve of its edition."""
    lines = [
        f"{day},{currency},{rate + _wobble(day)} {currency}/EUR,of the day (invented)"
        for day in (_LAST_DAY - timedelta(days=n) for n in reversed(range(days)))
        for currency, rate in _RATES.items()
        if day.day != 1  # which has one
    ]
    with (folder / "exchange.csv").open("a", encoding="utf-8") as table:
        table.write("".join(f"{line}\n" for line in lines))


def _wobble(day: date) -> Decimal:
    return Decimal(day.toordinal() * 7 % 11 - 5) / 1000


def book_again(folder: Path, times: int) -> None:
    """Have every job of a yard built so many times, each time under a number of its own."""
    for table in ("jobs", "hours", "issues", "purchases", "pulls"):
        path = folder / "actuals" / f"{table}.csv"
        with path.open(encoding="utf-8", newline="") as file:
            rows = [*csv.DictReader(file)]
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, [*rows[0]], lineterminator="\n")
            writer.writeheader()
            for number in range(times):
                writer.writerows(_numbered(row, number) for row in rows)


def _numbered(row: dict[str, str], number: int) -> dict[str, str]:
    own = {key: f"{row[key]}-{number}" for key in ("reference", "job") if number and row.get(key)}
    return row | own


# What somebody changes: the file, the first that stands there so, and what is written instead.
CHANGES = {
    "label": ("stations.yaml", r"name: Trim and seam finish$", "name: Trim and finish"),
    "note": ("models.yaml", r"note: the yard's best seller \(invented\)", "note: sold out"),
    "price": ("prices/2026-11-01.csv", r"^resin_lam,dolvane,3\.48", "resin_lam,dolvane,3.50"),
}


def change(folder: Path, what: str) -> None:
    """Change one label, one internal note or one price of resin of a yard.

    Raises:
        ValueError: what is changed does not stand there.
    """
    name, old, new = CHANGES[what]
    text = (folder / name).read_text("utf-8")
    text, count = re.subn(old, new, text, count=1, flags=re.MULTILINE)
    if not count:
        raise ValueError(f"{name} does not hold {old!r}")
    (folder / name).write_text(text, "utf-8")
