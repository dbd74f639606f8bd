"""A model's page as a reader uses it: refusals with a way out, the list, quantities."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import expect

from tests.pages.boat_pages import (
    COASTAL,
    TYPED,
    Visit,
    listed,
    odd,
    state,
    tourist,
    visit,
)
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser", "odd", "tourist", "visit"]  # fixtures


def press(tab: Tab, where: str, id: str) -> None:
    """A box in the table at a glance, or the button in an option's article."""
    tab.locator(f"[data-{where}={id}]").click()


REFUSALS = [
    (
        *("", "awning", "Awning can't be added."),
        ["Awning can only be had with Awning frame."],
        "Take Awning with Côte rail; Awning frame",
        "rail,frame,awning",
    ),
    (
        *("rail,frame", "rail", "Côte rail can't be taken out."),
        ["Awning frame can only be had with Côte rail."],
        "Take out Côte rail and Awning frame",
        "",
    ),
    (
        *("hatch,seat*2", "rail", "Côte rail can't be added."),
        ["Côte rail can't be had together with Deck hatch."],
        "Take Côte rail and give up Deck hatch",
        "rail,seat*2",
    ),
    (
        *("hatch", "frame", "Awning frame can't be added."),
        ["Awning frame can only be had with Côte rail."],
        "Take Awning frame with Côte rail and give up Deck hatch",
        "rail,frame",
    ),
    (
        *("green", "red", "Red topsides can't be added."),
        ["Only one of these can be had: Green topsides; Red topsides."],
        "Take Red topsides and give up Green topsides",
        "red",
    ),
    (
        # What a package holds already is no obstacle, so that is all that is said.
        *("rail,shade", "frame", "Awning frame is in the package Shade already."),
        [],
        "Take Awning frame and give up Shade",
        "rail,frame",
    ),
    (
        *("rail,frame,seat", "bow", "Bow can't be added."),
        ["Côte rail can't be had together with Deck hatch."],
        "Take Bow and give up Côte rail; Awning frame",
        "seat,bow",
    ),
    # What is standard comes back when what took its place goes.
    (
        *("big_cleats,tow_post", "side_door", "Side door can't be added."),
        ["Side door can only be had with Pair of cleats."],
        "Take Side door and give up Pair of big cleats; Towing post",
        "side_door",
    ),
    (
        *("side_door", "big_cleats", "Pair of big cleats can't be added."),
        ["Side door can only be had with Pair of cleats."],
        "Take Pair of big cleats and give up Side door",
        "big_cleats",
    ),
    (
        *("big_cleats,lantern", "big_cleats", "Pair of big cleats can't be taken out."),
        [
            "Pair of cleats can't be had together with Stern lantern.",
            "Stern lantern can only be had with Pair of big cleats.",
        ],
        "Take out Pair of big cleats and Stern lantern",
        "",
    ),
]


@pytest.mark.parametrize("where", ["pick", "toggle"])
def test_what_the_rules_forbid_is_refused_in_words_with_a_way_out(
    visit: Visit, odd: Path, where: str
) -> None:
    visit.open(odd)
    for refusal in REFUSALS:
        refused(visit.tab, where, *refusal)


def refused(
    tab: Tab, where: str, start: str, id: str, told: str, why: list[str], way: str, after: str
) -> None:
    """What is pressed is refused, and the way out taken."""
    tab.evaluate(TYPED, f"list={start}")
    before = listed(tab)  # in the page's order
    total = tab.locator("#list-total").inner_text()
    ticked = tab.locator(f"[data-pick={id}]").is_checked()
    press(tab, where, id)
    box = tab.locator(".refusal:visible")
    assert box.locator("strong").inner_text() == told
    assert set(box.locator("li").all_inner_texts()) == set(why)
    assert (listed(tab), tab.locator("#list-total").inner_text()) == (before, total)
    assert tab.locator(f"[data-pick={id}]").is_checked() == ticked
    said = tab.locator("#list-status").inner_text()
    assert said.startswith(told)
    assert all(each in said for each in why)
    expect(box).to_be_in_viewport()
    box.get_by_role("button", name=way, exact=True).click()
    assert listed(tab) == after
    assert tab.locator(".refusal:visible, tr.refused").count() == 0
    assert (
        tab.locator("#list-status")
        .inner_text()
        .startswith(told.partition(" can't")[0].partition(" is in")[0])
    )
    assert tab.locator(":focus").evaluate("e => e.dataset.pick || e.dataset.toggle") == id
    assert state(tab) == (f"list={after}" if after else "")


def test_a_refusal_goes_with_the_next_step(visit: Visit, odd: Path) -> None:
    """Its way out is for the list as it was then."""
    tab = visit.open(odd, "list=green")
    refusals = tab.locator(".refusal:visible, tr.refused")
    for leave in (
        lambda: press(tab, "pick", "seat"),
        lambda: press(tab, "pick", "awning"),
        lambda: tab.fill("#find", "topsides"),
        lambda: tab.evaluate(TYPED, "list=green,seat*3"),
        lambda: tab.get_by_role("button", name="Start again").click(),
    ):
        tab.locator("#find").fill("")
        tab.evaluate("boatOnPage.choice.read('green')")
        press(tab, "pick", "red")
        assert tab.locator("tr.refused").count() == 1
        leave()
        expect(refusals.filter(has_text="Red topsides can't")).to_have_count(0)


def test_the_list_shows_every_line_and_what_it_comes_to(visit: Visit, demo_folder: Path) -> None:
    """Worked by hand from the catalogue: list prices with 24 % tax, each rounded to the cent."""
    tab = visit.open(demo_folder / COASTAL)
    assert tab.locator("#bar-count").text_content() == "no options"
    press(tab, "pick", "side_single")
    assert tab.locator("#bar-count").text_content() == "1 option"
    press(tab, "toggle", "seat_base")
    tab.get_by_label("Number of Seat base").select_option("3")
    rows = tab.locator("#list tr:visible").all_inner_texts()
    lines = [" ".join(row.replace("\xa0", " ").split()) for row in rows]
    assert [line for line in lines if "Seat base" in line] == [
        "1 2 3 4 × Seat base 31.0 kg (68 lb) Take out €4,687.20"
    ]
    # 215,900 + 4,350 + 3 x 1,260 at 24 %
    assert tab.locator("#list-total").inner_text() == "€277,797.20"
    assert tab.locator("#bar-total").text_content() == "€277,797.20"
    assert tab.locator("#bar-count").text_content() == "2 options"
    assert state(tab) == "list=side_single,seat_base*3"
    assert tab.locator("#list-opening").is_visible()
    assert tab.locator("#list-standard").inner_text() == "Cabin door; Deck hatch; Anchor locker lid"
    press(tab, "pick", "companion_wide")
    assert tab.locator("#list-standard").inner_text() == "Deck hatch; Anchor locker lid"
    tab.get_by_role("button", name="Take out Side entry, single").first.click()
    assert tab.locator("#list-opening").is_hidden()


def test_numbers_of_an_option_are_chosen_in_its_line(visit: Visit, odd: Path) -> None:
    tab = visit.open(odd, "list=bow,seat")
    number = tab.get_by_label("Number of Seat")
    assert number.locator("option").all_inner_texts() == ["1", "2", "3"]
    assert tab.get_by_label("Number of Bow").count() == 0
    number.select_option("2")
    assert (listed(tab), number.input_value()) == ("seat*2,bow", "2")
    assert number.evaluate("e => e === document.activeElement")
    number.select_option("3")  # with the one in the package they would be four
    assert (listed(tab), number.input_value()) == ("seat*2,bow", "2")
    assert tab.locator("#list .refusal li").all_inner_texts() == [
        "At most 3 of these can be fitted: Seat.",
        "Seat is in the package Bow already.",
    ]
    tab.get_by_role("button", name="Take 3 × Seat and give up Bow").click()
    assert listed(tab) == "seat*3"


def test_start_again_clears_the_list_and_keeps_the_filters(visit: Visit, odd: Path) -> None:
    tab = visit.open(odd, "list=seat*2,anvil&find=seat")
    assert tab.locator("#list-left-out").is_visible()
    tab.get_by_role("button", name="Start again").click()
    assert (listed(tab), state(tab)) == ("", "find=seat")
    assert tab.locator("#list-left-out").is_hidden()
    assert tab.locator("#list-total").inner_text() == "€93,125.00"
    assert tab.locator("#list-lines tr").count() == 0
    assert tab.locator(":focus").get_attribute("id") == "list-title"
