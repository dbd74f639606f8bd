"""Laws of reading CSV, against Python's own reader and writer of it."""

from __future__ import annotations

import csv
import io

from hypothesis import given
from hypothesis import strategies as st

from quoter.catalogue.csv_cells import csv_rows

LETTERS = st.sampled_from(["a", "é", '"', ",", " ", "\n", "1", ";", "\t", "'"])
TABLES = st.lists(st.lists(st.text(LETTERS, max_size=6), min_size=1, max_size=4), max_size=4)


@given(table=TABLES, quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]))
def test_what_another_program_writes_is_read_back(table: list[list[str]], quoting: int) -> None:
    """A written table is read as it was, but for blanks around cells and rows of nothing else."""
    text = io.StringIO()
    csv.writer(text, quoting=quoting, lineterminator="\n").writerows(table)  # type: ignore[arg-type]  # the stub wants a literal
    stripped = [[cell.strip() for cell in row] for row in table]
    found = [[cell.text for cell in row] for row in csv_rows(text.getvalue())]
    assert found == [row for row in stripped if any(row)]


@given(table=TABLES)
def test_a_cell_stands_where_it_says(table: list[list[str]]) -> None:
    """At its line and column a cell's text begins, or the quote that opens it."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(table)
    lines = text.getvalue().split("\n")
    for row in csv_rows(text.getvalue()):
        for cell in row:
            here = lines[cell.line - 1][cell.column - 1 :]
            assert here.startswith((cell.text.partition("\n")[0], '"'))
