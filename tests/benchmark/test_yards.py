"""The benchmark's yards are sound and always the same, and its rival writes what we write."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from quoter.analysis.findings import Findings
from quoter.build import render
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.benchmark.changes import CHANGES, add_daily_rates, book_again, change
from tests.benchmark.finished import FinishedBook, taken_apart
from tests.benchmark.rivals import page_pieces, written_again
from tests.benchmark.table import BYTES, RATE, SECONDS, Line, keep, last_release, since
from tests.benchmark.yards import Size, make_yard
from tests.outputs import every_book

TINY, TWICE = Size(2, 3), Size(6, 24, 3)


def files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


OTHER_VOLUMES = {("unusual", "moulds.yaml"), ("unusual", "options.yaml")}


def test_a_tiny_yard_is_sound_and_built_whole(tmp_path: Path) -> None:
    yard = make_yard(tmp_path / "yard", TINY)
    made = render(yard, None, strict=False, say=lambda _: None)
    offered = {id: len(model.options) for id, model in made.pricing.models.items()}
    # Three that can be chosen on each, beside one and two that are standard.
    assert offered == {"open_68": 4, "longshore_76": 5}
    assert "en/home/models/longshore_76.html" in made.public
    assert "workbooks/longshore_76.xlsx" in made.internal


def test_boats_beyond_the_demonstrations_have_series_and_parts_of_their_own(tmp_path: Path) -> None:
    pricing, warnings = price_catalogue(make_yard(tmp_path / "yard", TWICE))
    # Its moulds and costs spent once are the demonstration's, whatever its volumes.
    assert {(warning.code, str(warning.place.file)) for warning in warnings} <= OTHER_VOLUMES
    records = pricing.catalogue.records
    second = pricing.models["open_68_2"]
    standard = {str(id) for id in second.model.standard}
    assert len(second.options.keys() - standard) == TWICE.options
    assert second.model.length.value > records.models["open_68"].length.value
    own = [id for id in second.options if id.endswith("_own_6")]
    assert own == ["seat_base_own_6", "deck_hatch_own_6", "fish_lid_own_6"]
    assert {"hatch_lid_own_6", "core_hatch_lid_own_6"} <= records.parts.keys()
    shared = second.options.keys() & pricing.models["open_68"].options.keys()
    assert len(shared - standard) == TWICE.options - TWICE.own


def test_a_yard_of_one_size_is_always_the_same_bytes(tmp_path: Path) -> None:
    once, again = (make_yard(tmp_path / name, TINY) for name in ("once", "again"))
    assert files(once) == files(again)


@pytest.mark.parametrize("what", CHANGES)
def test_a_change_is_of_one_line_and_leaves_a_sound_yard(tmp_path: Path, what: str) -> None:
    yard = make_yard(tmp_path / "yard", TINY)
    before = files(yard)
    change(yard, what)
    after = files(yard)
    (changed,) = [name for name in before if before[name] != after[name]]
    lines = zip(before[changed].splitlines(), after[changed].splitlines(), strict=True)
    assert sum(old != new for old, new in lines) == 1
    _, warnings = price_catalogue(yard)
    assert {(warning.code, str(warning.place.file)) for warning in warnings} <= OTHER_VOLUMES


def test_daily_rates_are_of_so_many_days_more(tmp_path: Path) -> None:
    yard = make_yard(tmp_path / "yard", TINY)
    days = {row.date for row in price_catalogue(yard)[0].catalogue.records.exchange}
    add_daily_rates(yard, 30)
    more = {row.date for row in price_catalogue(yard)[0].catalogue.records.exchange}
    assert len(more) == len(days) + 30
    assert days <= more


def test_jobs_that_are_booked_again_have_as_many_rows_each(tmp_path: Path) -> None:
    yard = make_yard(tmp_path / "yard", "S")
    once = price_catalogue(yard, booked=True)[0].catalogue.booked
    book_again(yard, 3)
    thrice = price_catalogue(yard, booked=True)[0].catalogue.booked
    assert once is not None
    assert thrice is not None
    assert len({str(row.job) for row in thrice.jobs}) == 3 * len(once.jobs)
    assert [len(rows) for rows in (thrice.hours, thrice.issues, thrice.pulls)] == [
        3 * len(rows) for rows in (once.hours, once.issues, once.pulls)
    ]


def test_the_rival_writes_the_cells_styles_and_widths_that_we_write(small_pricing: Pricing) -> None:
    for name, book in every_book(Findings(small_pricing)):
        ours = taken_apart(book)
        theirs = taken_apart(written_again(ours))
        assert told(theirs) == told(ours), name
        assert sum(len(row) for sheet in ours.sheets for row in sheet.rows) > 100


def told(book: FinishedBook) -> list[Any]:
    """A workbook's sheets with each cell's looks in words instead of by a number.

    The rival writes numbers to 16 digits, which a seventeenth of ours may round up or down.
    """
    looks = [repr(style) for style in book.styles]
    return [
        (
            sheet.title,
            {column: round(width, 6) for column, width in sheet.widths.items()},
            [[(*rounded(*cell[:3]), looks[cell[3]]) for cell in row] for row in sheet.rows],
        )
        for sheet in book.sheets
    ]


def rounded(column: int, value: float | str | None, is_text: bool) -> tuple[object, ...]:
    return column, f"{value:.12g}" if isinstance(value, float) else value, is_text


def test_a_page_in_pieces_is_the_page() -> None:
    page = "<!DOCTYPE html>\n<p title='a'>1 &lt; 2 &amp; 3</p><script>if (a && b) {}</script>\n"
    pieces = page_pieces(page)
    assert ("<p title='a'>", "1 < 2 & 3") in pieces
    assert ("<script>if (a && b) {}", "") in pieces


def test_seconds_of_another_machine_are_scaled_and_bytes_are_not(tmp_path: Path) -> None:
    kept = tmp_path / "kept.json"
    lines = [Line("build", 10, SECONDS), Line("page", 400, BYTES), Line("figures", 1000, RATE)]
    keep("0.1", "S", [(line, 0.1) for line in lines], kept)
    keep("0.1", "M", [(Line("build", 70, SECONDS), 0.2)], kept)
    release, figures = last_release(kept)
    assert release == "0.1"
    # This machine takes twice as long for the same work.
    assert since(Line("build", 20, SECONDS), figures, "S", 0.2) == pytest.approx(1)
    assert since(Line("page", 400, BYTES), figures, "S", 0.2) == pytest.approx(1)
    assert since(Line("figures", 500, RATE), figures, "S", 0.2) == pytest.approx(1)
    assert since(Line("build", 70, SECONDS), figures, "M", 0.2) == pytest.approx(1)
    assert since(Line("new", 1, SECONDS), figures, "S", 0.2) is None


def test_help_lists_the_parts() -> None:
    words = (sys.executable, "-m", "tests.benchmark", "--help")
    said = subprocess.run(words, capture_output=True, text=True, check=True).stdout
    parts = re.findall(r"^  ([a-z-]+) +[A-Z]", said.partition("parts:")[2], re.MULTILINE)
    assert parts == [
        *("check", "stages", "workbooks", "pages", "commands", "one-boat", "rebuilds", "workers"),
        *("preview", "page-size", "growth"),
    ]
