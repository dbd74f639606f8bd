"""The yard's review: every number it needs, breaches first and in words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from quoter.pages.internal import review as reviewed
from quoter.pages.internal import review_pages
from quoter.pricing.price import Pricing
from tests.pages.parsed import Page
from tests.pages.test_public import faults
from tests.pages.variants import small_with

WORKBOOKS = ("../workbooks/skiff.xlsx", "../workbooks/cutter.xlsx")


def test_page_is_well_formed_and_leads_to_the_workbooks(
    review: dict[str, bytes], small_pricing: Pricing
) -> None:
    pages = {f"review/{path}": page for path, page in review.items()}
    elsewhere = {"review/plan.html": b"", "papers/index.html": b""}
    for model in small_pricing.models.values():
        for option in model.options:
            name = f"{model.model.id}/{option}.html"
            elsewhere |= {f"review/{name}": b"", f"papers/{name}": b""}
    assert faults("review/index.html", pages | elsewhere, WORKBOOKS) == []
    links = [a.attributes["href"] for a in Page(review["index.html"]).all("a")]
    assert [link for link in links if link.endswith(".xlsx")] == list(WORKBOOKS)


def test_breach_is_told_in_words_and_listed_first(review: dict[str, bytes]) -> None:
    page = Page(review["index.html"])
    assert "2 prices leave less than the floor of 15%" in page.one("main").text
    breaches, skiff, *_ = [table.text for table in page.all("table")]
    rows = [row.text for row in page.all("tr") if "below floor" in row.text]
    # Worked by hand: 440 less 18 % is 360.80; less 2 % and the cost of 311.46 leaves 42.13,
    # 11.7 % of the net price.
    assert rows[0].startswith("Tern Skiff Deck hatch Dealer price book 2026-02-01 440 ")
    assert re.search(r" 361 311 42 11\.7% ▼ below floor$", rows[0])
    assert breaches.count("below floor") == 2, "one class of buyer on each model"
    assert skiff.index("Deck hatch") < skiff.index("Foam box")
    assert "At the quay" not in breaches, "27 % are left there"


def test_every_model_option_and_buyer_is_shown(
    review: dict[str, bytes], small_pricing: Pricing
) -> None:
    page = Page(review["index.html"])
    for model in small_pricing.models.values():
        row = page.one("tr", id=f"{model.model.id}-boat").text
        assert f"{model.boat.assembly.cost.value:,.0f}" in row
        for id, item in model.options.items():
            row = page.one("tr", id=f"{model.model.id}-{id}").text
            for value in (item.list_price, item.recommended, item.assembly.cost):
                assert f" {value.value:,.0f} " in row
            fractions = [sale.margin_fraction.value for sale in item.sales.values()]
            shown = [f"{fraction:.1%}" in row for fraction in fractions]
            assert shown == [id in model.extras] * len(fractions)
    assert "standard on this model" in page.one("tr", id="cutter-cleats").text


def test_no_breach_is_said_too(tmp_path: Path) -> None:
    pricing = small_with(tmp_path, {"price_book.csv": {"440 EUR": "540 EUR"}})
    page = Page(review_pages(pricing, [])["index.html"])
    text = page.one("main").text
    assert "No price leaves less than the floor of 15% at any class of buyer." in text
    assert "below floor" not in text
    assert "Warnings of the catalogue None." in text


def test_warnings_have_their_place_and_are_escaped(review: dict[str, bytes]) -> None:
    page = Page(review["index.html"])
    assert "prices/2026-02-01.csv:5:1: is <old>; list it again" in page.one("main").text


def test_cautions_are_shown(review: dict[str, bytes]) -> None:
    text = Page(review["index.html"]).one("section", class_="caution").text
    for word in ("approves no structure", "Styrene", "peroxide", "isocyanate", "dust", "vacuum"):
        assert word in text


@pytest.mark.parametrize("fixture", ["small_pricing", "demo_pricing"])
def test_groups_add_up_to_the_cost_and_bars_stay_in_their_frame(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    pricing: Pricing = request.getfixturevalue(fixture)
    widest = []
    for model in reviewed(pricing):
        for row in model.rows:
            assert float(sum(row.groups.values())) == pytest.approx(float(row.cost), rel=1e-9)
            ends = [bar.start + bar.width for bar in row.bars]
            starts = [bar.start for bar in row.bars]
            gaps = [abs(s - e) for s, e in zip(starts[1:], ends, strict=False)]
            assert max(gaps, default=0) <= 0.001
            widest.append(max(ends, default=0))
    assert float(max(widest)) == pytest.approx(100, abs=0.01)


def test_page_is_the_same_every_time(small_pricing: Pricing) -> None:
    assert review_pages(small_pricing, []) == review_pages(small_pricing, [])
