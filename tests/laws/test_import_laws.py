"""Laws of importing: whatever prices a file has are the catalogue's afterwards, exactly."""

from __future__ import annotations

import csv
import io
import tempfile
from datetime import date
from decimal import Decimal
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.catalogue.csv_cells import csv_rows
from quoter.catalogue.load import load_catalogue
from quoter.importing.moves import Meant, written_price
from quoter.importing.prices import import_prices
from quoter.importing.writing import write
from tests.catalogue.broken import SOUND
from tests.importing.sheets import CODES, HEADINGS, mapped, workbook

DAY = date(2026, 12, 1)
# What a supplier writes for a unit -> what the catalogue does.
UNITS = {"LB": "lb", "kg": "kg", "per t": "t", "US GAL": "gal"}
PRICES = st.decimals("0.0001", "99999", places=4).map(Decimal.normalize)
OFFERS = st.dictionaries(
    st.sampled_from(["WP-1188", "WP-2044"]),
    st.tuples(PRICES, st.sampled_from(sorted(UNITS))),
    min_size=1,
)


@settings(max_examples=40)
@given(offers=OFFERS, kind=st.sampled_from([",", ";", "\t", "xlsx"]))
def test_any_prices_imported_are_exactly_those_of_the_catalogue_then(
    offers: dict[str, tuple[Decimal, str]], kind: str
) -> None:
    rows = [("Price list",), (), HEADINGS]
    rows += [(code, "", "", f"{price:f}", per, "USD") for code, (price, per) in offers.items()]
    with tempfile.TemporaryDirectory() as kept:
        catalogue, file = mapped(Path(kept) / "yard"), Path(kept) / "list"
        if kind == "xlsx":
            numbers = [[_number(cell) for cell in row] for row in rows]
            workbook(file, numbers)
        else:
            text = io.StringIO()
            csv.writer(text, delimiter=kind).writerows(rows)
            file.write_text(text.getvalue(), "utf-8", newline="")
        made = import_prices(catalogue, file, "westpoly", DAY, meant=Meant(all=True))
        assert made.faults == []
        write(catalogue, made.files)
        prices = load_catalogue(catalogue, DAY)[0].prices
        for code, (price, per) in offers.items():
            number, _, unit = written_price(prices[CODES[code]].price).partition(" ")
            assert Decimal(number) == price
            assert unit == f"USD/{UNITS[per]}"
        again = import_prices(catalogue, file, "westpoly", DAY)
        assert (again.faults, again.files) == ([], {})


def _number(cell: str) -> str | float:
    try:
        return float(cell)
    except ValueError:
        return cell


LETTERS = st.sampled_from(["a", "é", '"', ",", " ", "\n", "1", ";", "\t", "'"])
TABLES = st.lists(st.lists(st.text(LETTERS, max_size=6), min_size=1, max_size=4), max_size=4)


@given(table=TABLES, mark=st.sampled_from([",", ";", "\t"]))
def test_what_another_program_parts_by_any_mark_is_read_back(
    table: list[list[str]], mark: str
) -> None:
    """Against Python's own writer, but for blanks around cells and rows of nothing else."""
    text = io.StringIO()
    csv.writer(text, delimiter=mark, lineterminator="\n").writerows(table)
    stripped = [[cell.strip() for cell in row] for row in table]
    found = [[cell.text for cell in row] for row in csv_rows(text.getvalue(), mark)]
    assert found == [row for row in stripped if any(row)]


@settings(max_examples=60)
@given(raw=st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
def test_a_file_of_any_bytes_is_refused_in_words_and_changes_nothing(raw: bytes) -> None:
    with tempfile.TemporaryDirectory() as kept:
        catalogue, file = mapped(Path(kept) / "yard"), Path(kept) / "list"
        file.write_bytes(raw)
        made = import_prices(catalogue, file, "westpoly", DAY)
        assert made.faults
        assert made.files == {}
        for fault in made.faults:
            assert fault.what
            assert fault.hint


def test_the_laws_look_at_the_sound_catalogue() -> None:
    text = (SOUND / "prices" / "2026-10-01.csv").read_text("utf-8")
    assert all(f"{material},westpoly" in text for material in CODES.values())
