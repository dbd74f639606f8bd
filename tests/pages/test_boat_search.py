"""Options are found by words, by group, and by whether they can still be added."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.pages.boat_pages import COASTAL, Visit, odd, shown, state, tourist, visit
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser", "odd", "tourist", "visit"]  # fixtures


OPTIONS_READ = """[...document.querySelectorAll("[data-item]")].map(each => {
    const read = each.cloneNode(true);
    read.querySelector("button").remove();
    return [each.dataset.item, read.textContent];
})"""
ROWS_SEEN = """[...document.querySelectorAll("[data-item]")].map(each => each.dataset.item)
    .filter(id => document.getElementById("row-" + id).checkVisibility())"""


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("rail", ["rail", "frame", "hatch"]),
        ("RAIL round", ["rail"]),
        ("round rail", ["rail"]),
        ("cote", ["rail", "hatch", "frame"]),
        ("CÔTE  deck", ["rail", "hatch"]),
        ("  lantern aft ", ["lantern"]),
        ("zebra", []),
        ("rail zebra", []),
        # What buttons say is no part of an option.
        ("take out", []),
    ],
)
def test_search_finds_words_whatever_their_case_and_accents(
    visit: Visit, odd: Path, words: str, found: list[str]
) -> None:
    tab = visit.open(odd, "list=seat")
    tab.fill("#find", words)
    seen = shown(tab)
    assert set(found) <= set(seen)
    sought = words.lower().replace("ô", "o").split()
    every: list[list[str]] = tab.evaluate(OPTIONS_READ)
    for id, text in every:
        there = text.lower().replace("ô", "o")
        assert (id in seen) == all(word in there for word in sought), id
    assert tab.evaluate(ROWS_SEEN) == seen
    told = f"{len(seen)} of {len(every)} options shown" if seen else "No option matches."
    assert tab.locator("#found").inner_text().startswith(told)
    assert tab.locator("h2#details").is_visible() == any(id not in ("shade", "bow") for id in seen)


def test_german_words_are_found_without_umlauts(visit: Visit, demo_folder: Path) -> None:
    page = demo_folder / COASTAL.replace("/en/", "/de/")
    tab = visit.open(page)
    every: list[list[str]] = tab.evaluate(OPTIONS_READ)
    for typed, there in (("kajuttur", "kajüttür"), ("OLZEUG", "ölzeug"), ("weiss", "weiß")):
        tab.fill("#find", typed)
        wanted = [id for id, text in every if there in text.lower()]
        assert wanted
        assert shown(tab) == wanted, typed


def test_groups_and_what_can_still_be_added_are_filters(visit: Visit, odd: Path) -> None:
    tab = visit.open(odd, "list=rail,green")
    tab.select_option("#group", "Deck")
    assert shown(tab) == ["rail", "frame", "awning", "seat"]
    assert state(tab) == "list=green,rail&group=Deck"
    tab.check("#still-open")
    # The awning needs the frame first; what is on the list stays in sight.
    assert shown(tab) == ["rail", "frame", "seat"]
    tab.locator("[data-pick=frame]").check()
    assert shown(tab) == ["rail", "frame", "awning", "seat"]
    tab.select_option("#group", "Packages")
    assert shown(tab) == []  # the shade holds the frame, the bow a hatch
    assert tab.locator("#found").inner_text().startswith("No option matches.")
    tab.select_option("#group", "")
    assert "hatch" not in shown(tab)
    assert "red" not in shown(tab)
    assert {"green", "box", "side_door", "big_cleats"} <= {*shown(tab)}
