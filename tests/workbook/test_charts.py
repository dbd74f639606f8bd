"""Charts: more series than colours, axes that begin at nothing, labels clear of negative bars."""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from quoter.figures import Figure, constant
from quoter.workbook import Book, Chart, Column, Row, Sheet, Table, write_book
from quoter.workbook.charts import PALETTE
from tests.workbook.package import part
from tests.workbook.validity import schema_errors

SERIES = tuple(f"Station {n}" for n in range(1, len(PALETTE) + 4))


def written(folder: Path, values: tuple[str, ...], figure: Figure, from_zero: bool = False) -> Path:
    """A book with a chart of two rows over the columns named."""
    rows = tuple(Row((name, *(figure for _ in values))) for name in ("door", "lid"))
    columns = (Column("Option"), *(Column(value) for value in values))
    chart = Chart(
        "Hours", "hours", "Option", values, "Hours", "Option", "Bars of hours", from_zero=from_zero
    )
    table = Table(columns, rows, name="hours")
    path = folder / "charts.xlsx"
    path.write_bytes(
        write_book(Book("Test", (Sheet("A", "One line.", (table, chart)),), "", "EUR"))
    )
    return path


def drawn(book: Path) -> etree._Element:
    return etree.fromstring(part(book, "xl/charts/chart1.xml").encode())


def test_more_series_than_colours_are_told_apart_by_stripes(tmp_path: Path) -> None:
    book = written(tmp_path, SERIES, constant(2.0, "h"))
    looks = []
    for series in drawn(book).iter("{*}ser"):
        shape = series.find("{*}spPr")
        assert shape is not None
        pattern = shape.find("{*}pattFill")
        fill = shape if pattern is None else pattern.find("{*}fgClr")
        assert fill is not None
        colour = next(each.get("val") for each in fill.iter("{*}srgbClr"))
        looks.append((colour, None if pattern is None else pattern.get("prst")))
    assert len(set(looks)) == len(SERIES)
    assert looks[0] == (PALETTE[0], None)
    assert looks[len(PALETTE)] == (PALETTE[0], "wdUpDiag")


def test_a_chart_with_stripes_is_valid(tmp_path: Path) -> None:
    assert schema_errors(written(tmp_path, SERIES, constant(2.0, "h"))) == []


@pytest.mark.parametrize(("asked", "least"), [(True, ["0"]), (False, [])])
def test_an_axis_begins_at_nothing_where_asked(
    tmp_path: Path, asked: bool, least: list[str]
) -> None:
    chart = drawn(written(tmp_path, ("Hours",), constant(2.0, "h"), asked))
    (axis,) = chart.iter("{*}valAx")
    assert [each.get("val") for each in axis.iter("{*}min")] == least


def test_the_axis_of_percentages_shows_percentages(tmp_path: Path) -> None:
    chart = drawn(written(tmp_path, ("Load",), Figure(0.92, form="percent")))
    (axis,) = chart.iter("{*}valAx")
    assert [each.get("formatCode") for each in axis.iter("{*}numFmt")] == ["0%"]


def test_names_stand_beside_the_chart_and_not_across_negative_bars(tmp_path: Path) -> None:
    chart = drawn(written(tmp_path, ("Effect",), constant(-2.0, "EUR")))
    (axis,) = chart.iter("{*}catAx")
    assert [each.get("val") for each in axis.iter("{*}tickLblPos")] == ["low"]
