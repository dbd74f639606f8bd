"""A model's page stays sound for those who don't see it in every state that its list brings about.

Its states as `every_state` gives them are what a checker of accessibility has to look at; what
scripts alone can break is looked at here.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.pages.boat_pages import WEEKENDER, every_state, visiting
from tests.pages.test_browser import WIDE, browser

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
# Ids told twice or named and not there, controls without a name, what can have the focus unseen.
LIVE_FAULTS = """() => {
    const every = query => [...document.querySelectorAll(query)], faults = [];
    const ids = every("[id]").map(each => each.id);
    ids.forEach((id, at) => { if (ids.indexOf(id) !== at) { faults.push(`two of ${id}`); } });
    for (const name of ["aria-labelledby", "aria-describedby", "aria-controls", "for"]) {
        every(`[${name}]`).forEach(each => each.getAttribute(name).split(" ").forEach(id => {
            if (!ids.includes(id)) { faults.push(`${name} ${id}`); }
        }));
    }
    every("button, input, select, textarea, summary, a[href]").forEach(each => {
        const label = (each.getAttribute("aria-labelledby") || "").split(" ")
            .map(id => document.getElementById(id)).filter(Boolean);
        const named = [each.getAttribute("aria-label"), each.textContent,
            ...[...label, ...each.labels || []].map(other => other.textContent)];
        if (each.checkVisibility() && !named.some(words => words && words.trim())) {
            faults.push(`no name: ${each.outerHTML}`);
        }
    });
    every("[aria-hidden=true] button, [role=status] button, [role=status] a")
        .forEach(each => faults.push(`out of reach: ${each.outerHTML}`));
    every("table").forEach(table => {
        const wide =
            [...table.tHead.rows[0].cells].filter(cell => cell.checkVisibility()).length;
        [...table.rows].filter(row => row.checkVisibility()).forEach(row => {
            const cells = [...row.cells].filter(cell => cell.checkVisibility());
            const sum = cells.reduce((total, cell) => total + cell.colSpan, 0);
            if (sum !== wide) { faults.push(`${sum} of ${wide} columns: ${row.outerHTML}`); }
        });
    });
    return faults;
}"""


@pytest.mark.parametrize("tag", ["en", "de"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_state_is_sound(browser: Browser, demo_folder: Path, scheme: Any, tag: str) -> None:
    page = demo_folder / WEEKENDER.replace("/en/", f"/{tag}/")
    seen = []
    with visiting(browser, viewport=WIDE, color_scheme=scheme, reduced_motion="reduce") as visit:
        for name in every_state(visit, page):
            seen.append(name)
            assert visit.tab.evaluate(LIVE_FAULTS) == [], name
    assert len(seen) == 6


def test_a_button_says_of_what_it_is_and_the_words_seen_are_in_its_name(
    browser: Browser, demo_folder: Path
) -> None:
    """WCAG 2.2, 2.5.3 Label in Name."""
    with visiting(browser, viewport=WIDE) as visit:
        for _ in every_state(visit, demo_folder / WEEKENDER):
            named = visit.tab.evaluate(
                """[...document.querySelectorAll("button[aria-label]")].map(each =>
                   [each.textContent, each.getAttribute("aria-label")])"""
            )
            assert named
            assert [pair for pair in named if pair[0] not in pair[1]] == []
            names = [name for _, name in named if not name.startswith("Take out")]
            assert len(names) == len({*names})
