"""The page of costs and prices: every number of every boat and option, those that breach first."""

from __future__ import annotations

import pytest

from quoter.pages.costs import cost_rows
from quoter.pricing.price import Pricing
from tests.pages.parsed import Page
from tests.pages.test_public import faults

WORKBOOKS = ("../workbooks/skiff.xlsx", "../workbooks/cutter.xlsx")


def test_page_is_well_formed_and_leads_to_the_workbooks(
    review: dict[str, bytes], small_pricing: Pricing
) -> None:
    pages = {f"review/{path}": page for path, page in review.items()}
    elsewhere = {"papers/index.html": b""}
    for model in small_pricing.models.values():
        elsewhere |= {f"papers/{model.model.id}/{option}.html": b"" for option in model.options}
    assert faults("review/costs.html", pages | elsewhere, WORKBOOKS) == []
    links = [a.attributes["href"] for a in Page(review["costs.html"]).all("a")]
    assert [link for link in links if link.endswith(".xlsx")] == list(WORKBOOKS)


def test_breach_is_told_in_words_and_listed_first(review: dict[str, bytes]) -> None:
    page = Page(review["costs.html"])
    skiff, *_ = [table.text for table in page.all("table")]
    assert skiff.index("Deck hatch ▼ below floor") < skiff.index("Foam box")


def test_every_model_option_and_buyer_is_shown(
    review: dict[str, bytes], small_pricing: Pricing
) -> None:
    page = Page(review["costs.html"])
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


def test_cautions_are_shown(review: dict[str, bytes]) -> None:
    text = Page(review["costs.html"]).one("section", class_="caution").text
    for word in ("approves no structure", "Styrene", "peroxide", "isocyanate", "dust", "vacuum"):
        assert word in text


@pytest.mark.parametrize("fixture", ["small_pricing", "demo_pricing"])
def test_groups_add_up_to_the_cost_and_bars_stay_in_their_frame(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    pricing: Pricing = request.getfixturevalue(fixture)
    widest = []
    for _, rows in cost_rows(pricing):
        for row in rows:
            assert float(sum(row.groups.values())) == pytest.approx(
                row.item.assembly.cost.value, rel=1e-9
            )
            ends = [bar.start + bar.width for bar in row.bars]
            starts = [bar.start for bar in row.bars]
            gaps = [abs(s - e) for s, e in zip(starts[1:], ends, strict=False)]
            assert max(gaps, default=0) <= 0.001
            widest.append(max(ends, default=0))
    assert float(max(widest)) == pytest.approx(100, abs=0.01)
