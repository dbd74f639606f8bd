"""The margin review: every price with what it leaves, worst first, breaches in words."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

from quoter.analysis.findings import Findings
from quoter.pricing.price import Pricing
from quoter.pricing.priced import at_last_list, price_catalogue
from tests.demo import DEMO
from tests.outputs import whole_review
from tests.pages.parsed import Element, Page
from tests.pages.test_public import faults
from tests.pages.variants import small_with


@pytest.fixture(scope="module")
def demo_review() -> dict[str, bytes]:
    pricing, warnings = price_catalogue(DEMO)
    return whole_review(Findings(pricing, partial(at_last_list, DEMO, pricing)), warnings)


def test_page_is_well_formed_and_leads_to_what_is_there(
    review: dict[str, bytes], small_pricing: Pricing
) -> None:
    pages = {f"review/{path}": page for path, page in review.items()}
    pages |= {"papers/index.html": b""}
    book = "../workbooks/margin-review.xlsx"
    assert faults("review/index.html", pages, (book,)) == []


def body_of(page: Page, table: str) -> list[list[Element]]:
    """The cells of a table's rows, without its heads."""
    whole = page.one("table", id=table)
    rows = [row for row in page.all("tr") if whole in row.within]
    cells = [e for e in page.elements if e.tag in ("td", "th") and whole in e.within]
    return [[cell for cell in cells if row in cell.within] for row in rows[1:]]


def lines_of(page: Page, table: str) -> list[dict[str, str]]:
    return [
        {cell.attributes["data-key"]: cell.text for cell in row} for row in body_of(page, table)
    ]


def test_a_breach_is_told_in_words_and_listed_first(review: dict[str, bytes]) -> None:
    page = Page(review["index.html"])
    assert "2 prices leave less than the floor of 15%" in page.one("main").text
    first = lines_of(page, "worst")[0]
    # Worked by hand: 440 less 18 % is 360.80; less 2 % and the cost of 311.46 leaves 42.13,
    # 11.7 % of the net price.
    assert (first["model"], first["name"]) == ("Tern Skiff", "Deck hatch")
    assert (first["list_price"], first["cost"], first["margin"]) == ("440", "311", "42")
    assert (first["margin_fraction"], first["floor"]) == ("11.7%", "▼ below at Dealer")
    assert first["basis"] == "price book 2026-02-01"


def test_every_price_is_shown(review: dict[str, bytes], small_pricing: Pricing) -> None:
    lines = lines_of(Page(review["index.html"]), "every")
    wanted = sum(1 + len(model.extras) for model in small_pricing.models.values())
    assert len(lines) == wanted > 5
    for model in small_pricing.models.values():
        for item in (model.boat, *model.extras.values()):
            sale = next(iter(item.sales.values()))
            shown = [
                line for line in lines if line["list_price"] == f"{item.list_price.value:,.0f}"
            ]
            assert f"{sale.margin_fraction.value:.1%}" in {row["margin_fraction"] for row in shown}


def test_no_breach_is_said_too(tmp_path: Path) -> None:
    pricing = small_with(tmp_path, {"price_book.csv": {"440 EUR": "540 EUR"}})
    text = Page(whole_review(Findings(pricing), [])["index.html"]).one("main").text
    assert "No price leaves less than the floor of 15% at any class of buyer." in text
    assert "below at" not in text
    assert "Warnings of the catalogue None." in text
    assert "There is no earlier price list to compare with." in text
    assert "The yard has no rule of repricing." in text


def test_warnings_have_their_place_and_are_escaped(review: dict[str, bytes]) -> None:
    page = Page(review["index.html"])
    assert "prices/2026-02-01.csv:5:1: is <old>; list it again" in page.one("main").text


def test_the_worst_and_the_most_eroded_are_ten_in_their_order(
    demo_review: dict[str, bytes],
) -> None:
    page = Page(demo_review["index.html"])
    margins = [float(line["margin_fraction"].rstrip("%")) for line in lines_of(page, "worst")]
    assert len(margins) == 10
    assert margins == sorted(margins)
    assert margins[0] == min(
        float(line["margin_fraction"].rstrip("%")) for line in lines_of(page, "every")
    )
    gained = [float(line["gained"]) for line in lines_of(page, "eroded")]
    assert len(gained) == 10
    assert gained == sorted(gained)
    assert gained[-1] < 0


def test_the_year_is_the_sum_of_units_times_margins(demo_review: dict[str, bytes]) -> None:
    page = Page(demo_review["index.html"])
    yearly = sum(
        float(line["yearly"].replace(",", ""))
        for line in lines_of(page, "every")
        if line["yearly"] != "–"
    )
    _, _, _, margin, _ = body_of(page, "year")[-1]
    shown = float(margin.text.replace(",", ""))
    assert shown == pytest.approx(yearly, abs=0.5 * len(lines_of(page, "every")))


def test_the_proposed_price_is_shown_with_its_reason(demo_review: dict[str, bytes]) -> None:
    first, *_ = body_of(Page(demo_review["index.html"]), "proposed")
    assert [cell.text for cell in first] == [
        *("all models", "Cockpit roof", "all"),
        *("2,880 EUR", "3,151 EUR", "3,160 EUR", "+9.7%", "23.9%", "30.2%"),
        "moves to the target; above the floor again",
    ]


def test_page_is_the_same_every_time(small_pricing: Pricing) -> None:
    assert whole_review(Findings(small_pricing), []) == whole_review(Findings(small_pricing), [])


def test_a_what_if_s_lines_that_tell_why_repeat_what_is_set() -> None:
    settings = ["class.resin=+10%", "price.mat_450=2.75 EUR/kg"]
    pricing, warnings = price_catalogue(DEMO, settings=settings)
    change = Page(
        whole_review(Findings(pricing, partial(at_last_list, DEMO, pricing)), warnings)[
            "change.html"
        ]
    )
    commands = [code.text for code in change.all("code", class_="why")]
    assert len(commands) > 5
    for command in commands:
        assert command.endswith(
            " --since 2026-10-01 --as-of 2026-11-01 --set class.resin=+10%"
            " --set 'price.mat_450=2.75 EUR/kg'"
        )
