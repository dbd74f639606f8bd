"""Pages about what it really took, of an account made by hand: what they say, in which order."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from jsonschema import Draft202012Validator
from playwright.sync_api import Browser

from quoter.actuals.account import Account
from quoter.pages.actuals.data import Data
from quoter.pages.actuals.data_schema import actuals_schema
from quoter.pages.actuals.doubts import notes_about
from quoter.pages.actuals.groups import Told
from quoter.pages.actuals.jobs import job_of
from quoter.pages.actuals.months import month_of
from quoter.pages.actuals.names import Names
from quoter.pages.actuals.operations import operations_of
from quoter.pages.actuals.site import actuals_files
from quoter.pages.actuals.terminal import Lines
from quoter.pages.variance_charts import columns, dots, waterfall
from quoter.pricing.price import Pricing
from tests.actuals.by_hand import account_by_hand, compared_of
from tests.pages.axe import violations
from tests.pages.boat_pages import laid_out
from tests.pages.parsed import Page
from tests.pages.test_browser import NARROW, WIDE, browser
from tests.pages.test_public import faults

__all__ = ["browser"]  # a fixture
EN = Locale("en")


@pytest.fixture(scope="module")
def account(small_pricing: Pricing) -> Account:
    return account_by_hand(small_pricing)


@pytest.fixture(scope="module")
def files(account: Account) -> dict[str, bytes]:
    return actuals_files(account)


def words_of(page: bytes) -> str:
    return " ".join(Page(page).one("main").text.replace("\N{NO-BREAK SPACE}", " ").split())


def rows_of(page: bytes, caption: str) -> list[list[str]]:
    """The cells of the table that a caption is of, without its head."""
    found = Page(page)
    (region,) = found.all("div", role="region", **{"aria-labelledby": caption})
    rows = [row for row in found.all("tr") if region in row.within]
    cells = [cell for cell in found.elements if cell.tag in ("td", "th") and region in cell.within]
    return [[" ".join(c.text.split()) for c in cells if row in c.within] for row in rows[1:]]


def test_every_page_is_well_formed_and_leads_to_what_is_there(files: dict[str, bytes]) -> None:
    pages = {f"actuals/{path}": page for path, page in files.items()}
    pages |= {"review/index.html": b"", "actuals/actuals.xlsx": b""}
    wrong = {path: faults(path, pages, ()) for path in pages if path.startswith("actuals/")
             and path.endswith(".html")}  # fmt: skip
    assert {path: found for path, found in wrong.items() if found} == {}
    assert len(wrong) == 8  # the first, two months, three jobs, an operation and a station


def test_pages_are_the_same_when_made_again(account: Account, files: dict[str, bytes]) -> None:
    assert actuals_files(account) == files


def test_a_month_tells_its_sum_in_words_and_the_largest_first(files: dict[str, bytes]) -> None:
    told = words_of(files["2026-08.html"])
    # By hand: 40 + 300 + 60 - 120 + 4 + 16 + 250 - 900 = -350 on 2000 + 400 + 1500 + 90 + 8000.
    assert "what was booked cost 11,640 EUR: 350 under standard (2.9%)" in told
    assert "The largest single cause: fixed overhead volume" in told
    amounts = [row[5] for row in rows_of(files["2026-08.html"], "causes")]
    assert amounts == [
        "900 under",
        "300 over",
        "250 over",
        "120 under",
        "60 over",
        "40 over",
        "16 over",
        "4 over",
    ]


def test_each_kind_says_whether_it_is_favourable_in_words(files: dict[str, bytes]) -> None:
    rows = {row[0]: row[1:] for row in rows_of(files["2026-08.html"], "kinds")}
    assert rows["Labour efficiency"] == ["180 over", "unfavourable"]
    assert rows["Fixed overhead volume"] == ["900 under", "favourable"]
    assert rows["Together"] == ["350 under", "favourable"]


@pytest.mark.parametrize("table", ["station", "material", "option", "part", "job"])
def test_each_table_adds_up_to_the_month(files: dict[str, bytes], table: str) -> None:
    rows = rows_of(files["2026-08.html"], f"table-{table}")
    column = 1 if table == "option" else 3
    amounts = [signed(row[column]) for row in rows]
    assert amounts[-1] == sum(amounts[:-1]) == -350


def signed(told: str) -> int:
    number, _, side = told.partition(" ")
    return int(number.replace(",", "")) * (-1 if side == "under" else 1)


def test_an_option_has_its_share_and_the_boat_the_rest(files: dict[str, bytes]) -> None:
    rows = {row[0]: row[1] for row in rows_of(files["2026-08.html"], "table-option")}
    # A quarter of 40 + 300 + 60, and all of the foam's 20; three quarters are the boat's.
    assert (rows["Foam box"], rows["The boat itself"]) == ("120 over", "300 over")


def test_what_is_not_booked_and_open_is_told_above_the_numbers(files: dict[str, bytes]) -> None:
    told = words_of(files["2026-09.html"])
    before, largest = told.index("Before the numbers"), told.index("Largest variances")
    for words in (
        "One job is at work still.",
        "nobody booked are left out on both sides; they are not taken for zero:",
        "T-2, Assembly: 260.0 h by standard, 7,800 EUR",
        "All that is not booked comes to 7,800 EUR by standard.",
    ):
        assert before < told.index(words) < largest


def test_the_first_page_is_an_index_that_leads_to_all(files: dict[str, bytes]) -> None:
    page = Page(files["index.html"])
    heads = [heading.text for heading in page.all("h2")]
    assert heads[:3] == ["By month", "Jobs", "Operations off their standard"]
    told = words_of(files["index.html"])
    assert "In September 2026, what was booked cost 7,905 EUR: 1,205 over standard" in told
    assert "Largest variances" not in told
    # Of September's jobs T-3 is at work, and 260 h of T-2 at 30 EUR are not booked.
    (newest, _) = rows_of(files["index.html"], "months-table")
    assert newest[0] == "September 2026"
    assert newest[-2:] == ["1", "7,800"]
    # Foam lies between 1.10 and 1.25; of Assembly is one sample.
    assert [row[0] for row in rows_of(files["index.html"], "operations-table")] == ["Foam"]
    links = {a.attributes["href"] for a in page.all("a")}
    assert {path for path in files if path.endswith(".html") and path != "index.html"} <= links


def test_notes_are_narrowed_to_what_is_asked_about(account: Account) -> None:
    assert notes_about(account.actuals, ["T-2"], "2026-09") == ["Laminating: compared by job: T-2"]
    assert notes_about(account.actuals, ["T-3"], "2026-08") == [
        "Fixed overhead: compared by month: 2026-08"
    ]
    assert notes_about(account.actuals, ["T-1", "T-2", "T-3"], "") == [*account.actuals.notes]


def test_a_job_shows_the_margin_left_beside_that_planned(files: dict[str, bytes]) -> None:
    told = words_of(files["jobs/t-1.html"])
    # 4,000 and 3,660 of 22,000.
    assert "it left 3,660 EUR (16.6% of the price)" in told
    assert "planned were 4,000 EUR (18.2% of the price)" in told
    assert rows_of(files["jobs/t-1.html"], "account-table") == [
        ["Booked"],
        ["Labour, Laminating", "2,100", "2,000", "2,340", "340 over"],
        ["None booked, at standard"],
        ["Tooling", "–", "800", "800", "–"],
        ["Cost", "18,000", "2,800", "3,140", "340 over"],
    ]


def test_a_cause_names_the_rows_it_rests_on(files: dict[str, bytes]) -> None:
    first = rows_of(files["jobs/t-1.html"], "causes")[0]
    assert first == [
        "Laminating",
        "labour efficiency",
        "71.3 h",
        "62.0 h",
        "300 over",
        "unfavourable",
        "actuals/hours.csv:2–4, 9",
    ]


def test_an_open_job_says_so_and_has_no_margin_left(files: dict[str, bytes]) -> None:
    told = words_of(files["jobs/t-3.html"])
    assert "at work still. Time and material count at standard until it is finished" in told
    assert "Margin left" not in told


def test_an_operation_tells_intervals_and_outliers_in_words(files: dict[str, bytes]) -> None:
    told = words_of(files["operations/part-block-operation1.html"])
    assert "It takes 18.0% over standard; with 90% confidence between 10.0% over" in told
    assert "held 1 times of 3" in told
    rows = rows_of(files["operations/part-block-operation1.html"], "samples-table")
    assert [row[6] for row in rows] == ["–", "–", "more than three spreads above the others"]
    assert "Now 12 min at parts.yaml:63:7; proposed 14 min." in told


def test_few_data_say_so_and_give_no_star(files: dict[str, bytes]) -> None:
    told = words_of(files["operations/station-assembly.html"])
    assert "Too few data to say how good this standard is. One sample says little." in told
    assert "confidence" not in told


def test_who_prepared_a_quote_is_on_no_page(files: dict[str, bytes]) -> None:
    assert not [path for path, page in files.items() if b"PK" in page]


# OpenStax, Principles of Accounting 2: Managerial Accounting (2019), 8.2 to 8.4: direct material
# price 890 favourable and quantity 850 unfavourable, 40 favourable together; direct labour rate
# 5,600 unfavourable and time 17,500 favourable.
def test_published_variances_read_as_the_book_says(account: Account) -> None:
    compared = (
        compared_of("material.foam", "2026-08", 10000.0, {"price": -890.0, "usage": 850.0}),
        compared_of(
            "labour.laminating", "2026-08", 90000.0, {"rate": 5600.0, "efficiency": -17500.0}
        ),
    )
    actuals = replace(account.actuals, compared=compared, unbooked=(), months=("2026-08",))
    page = actuals_files(replace(account, actuals=actuals))["2026-08.html"]
    rows = {row[0]: row[1:] for row in rows_of(page, "kinds")}
    assert rows["Material price"] == ["890 under", "favourable"]
    assert rows["Material usage"] == ["850 over", "unfavourable"]
    assert rows["Labour rate"] == ["5,600 over", "unfavourable"]
    assert rows["Labour efficiency"] == ["17,500 under", "favourable"]
    material = rows_of(page, "table-material")[0]
    assert material[:4] == ["Foam", "10,000", "9,960", "40 under"]


def test_nothing_booked_is_said(account: Account) -> None:
    actuals = replace(account.actuals, compared=(), unbooked=(), months=(), jobs={}, notes=())
    empty = replace(account, actuals=actuals, after={}, proposals=())
    assert "Nothing has been booked yet." in words_of(actuals_files(empty)["index.html"])


def test_a_waterfall_ends_where_its_steps_lead() -> None:
    chart = waterfall(1000, [50, -80, 10])
    scale = {tick.value: tick.at for tick in chart.across}
    low, high = min(scale), max(scale)
    each = (scale[high] - scale[low]) / (high - low)
    assert float(chart.end - chart.begin) == pytest.approx(float(each) * -20, abs=0.2)
    assert [bar.over for bar in chart.bars] == [True, False, True]
    assert float(chart.bars[1].width) == pytest.approx(float(each) * 80, abs=0.2)


def test_columns_stand_on_zero_whichever_way_they_go() -> None:
    chart = columns([0.1, -0.05, None], [0.1, -0.05])
    up, down, none = chart.columns
    assert up.y + up.height == chart.zero == down.y
    assert float(up.height) == pytest.approx(2 * float(down.height), abs=0.2)
    assert none.value is None


def test_dots_stand_as_high_as_they_are() -> None:
    chart = dots(["A", "B"], [2.0, 4.0], [2.0, 2.0], outliers=[False, True])
    first, second = chart.dots
    assert first.y == first.standard
    heights = [float(chart.frame.bottom - dot.y) for dot in (first, second)]
    assert heights[1] == pytest.approx(2 * heights[0], abs=0.2)
    assert second.outlier


def test_what_programs_read_keeps_to_its_schema(account: Account) -> None:
    names = Names(account, EN)
    data = Data(account.actuals.pricing, account.actuals.months)
    asked = [data.month(month_of(account, names, month)) for month in account.actuals.months]
    asked += [data.job(job_of(account, names, number)) for number in account.actuals.jobs]
    asked += [data.operation(view) for view in operations_of(account, names)]
    check = Draft202012Validator(actuals_schema())
    for each in asked:
        assert [*check.iter_errors(json.loads(json.dumps(each)))] == []
    first = asked[0]["month"]
    assert first["variance"] == pytest.approx(first["actual"] - first["standard"])


def test_the_terminal_says_what_the_page_says(account: Account) -> None:
    names = Names(account, EN)
    lines = Lines("EUR", account.actuals.pricing.catalogue.reader)
    told = [*lines.month(month_of(account, names, "2026-09"))]
    assert told[0] == "September 2026: 7,905 EUR booked, 1,205 over standard (18.0%)"
    assert any(line.split() == ["Assembly", "260.0", "h", "7,800", "T-2"] for line in told)
    told = [*lines.job(job_of(account, names, "T-1"))]
    assert "margin left          3,660 EUR  16.6% of the price" in told
    foam, *_ = operations_of(account, names)
    told = [*lines.operation(foam)]
    assert "actual to standard: 1.18; with 90% confidence between 1.10 and 1.25" in told


def test_lines_that_are_alike_are_one_cause(account: Account) -> None:
    names = Names(account, EN)
    told = Told(account, names, account.actuals.compared)
    rates = [cause for cause in told.causes() if cause.kind == "rate"]
    # 40 of T-1, 90 of T-2 and 15 of T-3, all in laminating.
    assert [(cause.amount.value, cause.jobs) for cause in rates] == [(145.0, ("T-1", "T-2", "T-3"))]
    assert sum(Decimal(repr(cause.amount.value)) for cause in told.causes()) == 855


@pytest.mark.slow
@pytest.mark.parametrize(
    ("size", "scheme"), [(WIDE, "light"), (NARROW, "dark")], ids=["wide", "narrow and dark"]
)
def test_axe_finds_nothing(
    browser: Browser, files: dict[str, bytes], tmp_path: Path, size: object, scheme: str
) -> None:
    folder = laid_out(tmp_path / "actuals", files)
    broken = {}
    with browser.new_context(viewport=size, color_scheme=scheme) as context:  # type: ignore[arg-type]
        tab = context.new_page()
        for path in sorted(folder.rglob("*.html")):
            tab.goto(path.as_uri())
            wide = tab.evaluate("document.documentElement.scrollWidth > innerWidth")
            broken[path.name] = [*violations(tab), *(["too wide"] if wide else [])]
    assert {name: found for name, found in broken.items() if found} == {}
