"""A cheaper package is offered in the browser as `quoter quote` offers it, and swaps in by a press.

`quoter.pricing.packaged` has the rule, and `choice.js` the browser's copy of it: both are asked of
every list that a boat of the demonstration can have.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect
from playwright.sync_api import Page as Tab

from quoter.pages.public.site import public_pages
from quoter.pricing.packaged import cheaper_packages
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.public import price_list
from tests.pages.boat_pages import WEEKENDER, Visit, listed, odd, opened, tourist, visit
from tests.pages.ruled import breaches, ruled
from tests.pages.test_browser import browser
from tests.pages.test_build_list import loaded

pytestmark = pytest.mark.slow

__all__ = ["browser", "odd", "tourist", "visit"]  # fixtures
OFFERED = """lists => {
    const made = choice(priceList);
    return lists.map(chosen => {
        made.take(new Map(chosen));
        return made.cheaper().map(({id, into, besides, saving, quantities}) =>
            [id, into, besides, saving, [...quantities].sort()]);
    });
}"""
SHEETS = {"en/home": "home", "en/trade": "trade"}


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Tab:
    return browser.new_page()


def touched(priced: PricedModel) -> list[str]:
    """What an offer can depend on: packages, what they hold, and what that is barred with or needs.

    All else of a list neither makes nor breaks an offer.
    """
    inside = {str(name) for package in priced.offered_packages for name in package.options}
    near = set(inside) | {str(package.id) for package in priced.offered_packages}
    groups = {o.at_most_one for id in inside if (o := priced.options[id].option) is not None}
    for id, item in priced.options.items():
        option = item.option
        if option is None or id not in priced.extras:
            continue
        others = {*map(str, option.conflicts), *map(str, option.requires)}
        alike = option.at_most_one is not None and option.at_most_one in groups
        surcharged = {str(each.colour) for each in option.colour_surcharges}
        if others & inside or alike:
            near.add(id)
        if id in inside:
            near |= (others | surcharged) & set(priced.extras)
    return [id for id in priced.extras if id in near]


def lists(priced: PricedModel) -> Iterator[dict[str, int]]:
    """Every list of these that keeps all rules, with one of each and with two of one."""
    ids = touched(priced)
    for size in range(len(ids) + 1):
        for some in combinations(ids, size):
            one = dict.fromkeys(some, 1)
            for chosen in (one, *({**one, id: 2} for id in some)):
                if not breaches(priced, chosen):
                    yield chosen


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("model", ["open_68", "weekender_86", "coastal_98", "passage_120"])
def test_browser_and_quote_offer_the_same_packages_for_every_list_of_the_demonstration(
    blank: Tab, demo_pricing: Pricing, demo_site: Mapping[str, bytes], model: str, sheet: str
) -> None:
    (market,) = (m for m in demo_pricing.catalogue.yard.markets if m.id == SHEETS[sheet])
    priced, prices = demo_pricing.models[model], price_list(demo_pricing, market)
    tab = loaded(blank, demo_site, model, sheet)
    agreed = same(tab, priced, prices)
    assert agreed > 0 or not priced.offered_packages


def same(tab: Tab, priced: PricedModel, prices: Mapping[Any, Any]) -> int:
    """How many offers there were, all alike in the browser and in the program."""
    wanted = list(lists(priced))
    found = tab.evaluate(OFFERED, [list(chosen.items()) for chosen in wanted])
    count = 0
    for chosen, offers in zip(wanted, found, strict=True):
        expected = [
            [
                each.package,
                list(each.instead),
                list(each.besides),
                int(each.saving.amount * 100),
                sorted([id, n] for id, n in each.chosen.items()),
            ]
            for each in cheaper_packages(priced, chosen, prices)
        ]
        assert offers == expected, chosen
        count += len(offers)
    return count


def test_they_agree_where_packages_share_options_with_rules_of_every_kind(
    blank: Tab, tmp_path: Path
) -> None:
    pricing = ruled(tmp_path)
    (home,) = (m for m in pricing.catalogue.yard.markets if m.id == "home")
    tab = loaded(blank, public_pages(pricing), "cutter")
    assert same(tab, pricing.models["cutter"], price_list(pricing, home)) > 5


# By hand: 4,350 + 2,780 = 7,130 less 4 %, down to tens, is 6,840; 290 with 24 % are 359.60.
SAVED = "€359.60"


def test_a_cheaper_package_is_offered_and_swaps_in_by_one_press(
    visit: Visit, demo_folder: Path
) -> None:
    tab = visit.open(demo_folder / WEEKENDER, "list=side_single")
    assert tab.locator(".offer").count() == 0
    tab.locator("[data-pick=transom_door]").check()
    told = f"The package Easy boarding saves {SAVED}: it holds Side entry, single; Transom door."
    assert tab.locator(".offer p").inner_text() == told
    assert tab.locator("#list-status").inner_text().endswith(told)
    before = tab.locator("#list-total").inner_text()
    tab.get_by_role("button", name="Take Easy boarding", exact=True).click()
    assert listed(tab) == "easy_boarding"
    assert amount(before) - amount(tab.locator("#list-total").inner_text()) == amount(SAVED)
    undo = tab.get_by_role("button", name="Undo")
    expect(undo).to_be_focused()
    undo.click()
    assert (listed(tab), tab.locator("#list-total").inner_text()) == (
        "side_single,transom_door",
        before,
    )
    expect(tab.get_by_role("button", name="Take Easy boarding", exact=True)).to_be_focused()
    tab.get_by_role("button", name="Not now: Easy boarding").click()
    assert tab.locator(".offer").count() == 0


def amount(text: str) -> Decimal:
    return Decimal(text.strip("€").replace(",", ""))


def test_a_package_takes_in_what_is_chosen_of_it_and_says_so(visit: Visit, odd: Path) -> None:
    tab = visit.open(odd, "list=hatch*2,seat*3")
    tab.locator("[data-pick=bow]").check()
    assert listed(tab) == "hatch,seat*2,bow"
    told = "The package Bow takes in what you have of it: Deck hatch; Seat."
    assert tab.locator("#list-status").inner_text().startswith(told)
    assert tab.locator(".offer p").all_inner_texts() == [told]
    tab.get_by_role("button", name="Undo").click()
    assert listed(tab) == "hatch*2,seat*3"
    # What is undone is the last step alone: after another there is nothing to undo.
    tab.locator("[data-pick=bow]").check()
    opened(tab)
    tab.get_by_role("button", name="Take out Bow").first.click()
    assert (listed(tab), tab.get_by_role("button", name="Undo").count()) == ("hatch,seat*2", 0)
