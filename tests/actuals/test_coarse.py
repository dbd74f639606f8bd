"""Yards that book little: what is not known is said to be so, and counts are whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from click.testing import CliRunner

from quoter.american import american
from quoter.cli import main
from tests.actuals.cases import Row, made, table, textbook, worked


def told(folder: Path, *tables: Mapping[str, Sequence[Row]]) -> tuple[str, str]:
    """What the terminal says of March, and the index with the page of that month."""
    (folder / "actuals").mkdir()
    for kind, rows in ((kind, rows) for each in tables for kind, rows in each.items()):
        (folder / "actuals" / f"{kind}.csv").write_bytes(table(kind, rows))
    words = ["actuals", str(folder), "--on", "2026-03-31", "--out", str(folder.parent / "pages")]
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 0, result.output
    pages = (folder.parent / "pages" / name for name in ("index.html", "2026-03.html"))
    return result.output, "\n".join(page.read_text("utf-8") for page in pages)


def test_hours_without_any_job_are_at_standard_and_have_a_page(tmp_path: Path) -> None:
    lines, page = told(textbook(tmp_path / "c"), worked(10.0, job=""))
    assert "March 2026: 100 USD booked, as by standard" in lines
    assert "what was booked cost 100 USD, as by standard." in page
    assert "no job was finished in that month or later" in page


def test_invoices_alone_are_held_against_nothing(tmp_path: Path) -> None:
    row = {"reference": "I-1", "date": "2026-03-02", "supplier": "supplier"}
    bought = [{**row, "material": "direct_material", "quantity": "5 lb", "price": "1 USD/lb"}]
    lines, page = told(textbook(tmp_path / "c"), {"purchases": bought})
    assert "nothing that was booked in it can be held against a standard" in lines
    assert "Nothing that was booked in this month can be held against a standard." in page


def test_a_month_without_material_has_no_fraction_of_it(tmp_path: Path) -> None:
    _, page = told(textbook(tmp_path / "c"), made(10), worked(20.0))
    (trend,) = (line for line in page.splitlines() if 'id="trend-2-about"' in line)
    assert trend.strip().endswith("March 2026: –.</desc>")


def test_an_american_reads_unfavorable() -> None:
    assert american("unfavourable, favourable") == "unfavorable, favorable"


def test_a_quantity_below_nothing_is_told_to_be_a_return(tmp_path: Path) -> None:
    folder = textbook(tmp_path / "c")
    (folder / "actuals").mkdir()
    row = {"reference": "S-1", "date": "2026-03-02", "kind": "issue"}
    rows = [{**row, "material": "direct_material", "quantity": "-5 lb"}]
    (folder / "actuals" / "issues.csv").write_bytes(table("issues", rows))
    result = CliRunner().invoke(main, ["check", str(folder), "--as-of", "2026-03-31"])
    assert result.exit_code != 0
    assert "what is brought back is a row of kind 'return'" in result.output
