"""The guard reads what drawings say: no stack, thickness or mass passes that the yard keeps.

Seeded on a page of the demonstration, in the drawing of one door: what another drawing tells, what
other views tell, and what only the catalogue knows.
"""

from __future__ import annotations

import re
from itertools import permutations
from pathlib import Path

import pytest
from babel import Locale

from quoter.catalogue.languages import languages, regions
from quoter.leaks import LeakError, SiteGuard
from quoter.leaks.drawings import CORE, LAYERS, THICK
from quoter.pages.public.site import PublicSite
from quoter.pricing.price import Pricing
from quoter.resources import templates_folder
from quoter.wording import wording

PAGE = "en/north/models/coastal_98.html"
HATCH = 'id="drawn-deck_hatch"'  # tells 560 by 560 mm, R 80, 21 mm thick; two hinges, two latches


@pytest.fixture(scope="module")
def site(demo_pricing: Pricing) -> PublicSite:
    return PublicSite(demo_pricing)


@pytest.fixture(scope="module")
def guard(site: PublicSite) -> SiteGuard:
    return SiteGuard(site)


@pytest.fixture(scope="module")
def page(site: PublicSite) -> str:
    return site.makers[PAGE]().decode()


def leaks(guard: SiteGuard, page: str) -> list[str]:
    try:
        guard.look_through({PAGE: page.encode()})
    except LeakError as fault:
        return [leak.text for leak in fault.leaks]
    return []


def seeded(page: str, text: str) -> str:
    """A page with a text more in the drawing of the hatch."""
    start = page.index(HATCH)
    end = page.index("</svg>", start)
    return f"{page[:end]}<text>{text}</text>{page[end:]}"


def test_an_honest_page_passes(guard: SiteGuard, page: str) -> None:
    assert HATCH in page
    assert leaks(guard, page) == []


OWN = ["560 mm", "R 80 mm", "Thickness 21 mm", "hinges × 2", "width 560 mm; height 560 mm"]


@pytest.mark.parametrize("text", OWN)
def test_a_drawing_may_say_its_own(guard: SiteGuard, page: str, text: str) -> None:
    assert leaks(guard, seeded(page, text)) == []


SEEDED = [
    "29 mm",  # the thickness of another drawing on the page
    "Thickness 29 mm",
    "Thickness 560 mm",  # a measure of its own, under the name of another
    "Core 15 mm",  # its core, which it doesn't show
    "core 21 mm",
    "8 mm",  # the gap at its edge
    "50 mm",  # the width of that edge
    "Layers of glass mat × 1",  # its stack, by counts that a page has for other reasons
    "Layers of flow mat × 2",
    "Layers of glass mat",
    "mat × 3",
    "Chopped mat 1.5 oz",
    "lid_field",
    "5.3 kg",  # what the option adds, which its text tells and its drawing doesn't
    "3.62 kg",
    "€27,375",
    "× 7",
    "up to 9 on a boat",
]


@pytest.mark.parametrize("text", SEEDED)
def test_what_the_yard_keeps_is_told_in_a_drawing(guard: SiteGuard, page: str, text: str) -> None:
    assert leaks(guard, seeded(page, text))


def test_a_stack_is_told_where_another_number_of_layers_is_public(
    guard: SiteGuard, page: str
) -> None:
    """The ramp tells four layers of mat and one of flow mat; five is no number of its layers."""
    wrong = page.replace("Layers of glass mat × 4", "Layers of glass mat × 1")
    assert wrong != page
    assert any("Layers of glass mat × 1" in text for text in leaks(guard, wrong))


def test_a_text_equivalent_is_read_as_what_is_drawn(guard: SiteGuard, page: str) -> None:
    start = page.index('<desc id="drawn-deck_hatch-shows">')
    at = page.index("</desc>", start)
    assert leaks(guard, f"{page[:at]}; core 15 mm{page[at:]}")


# coordinates


def test_coordinates_are_no_text_and_excuse_none(guard: SiteGuard, page: str) -> None:
    """A path as it is drawn may stand in no text, nor may one of its numbers."""
    start = page.index(' d="', page.index(HATCH)) + 4
    path = page[start : page.index('"', start)]
    assert path.startswith("M")
    for text in (path, path[1:].partition("h")[0], path[1:].partition(" ")[0]):
        assert leaks(guard, page.replace("</main>", f"<p>{text}</p></main>")), text
        assert leaks(guard, seeded(page, text)), text


def test_coordinates_that_no_drawing_has_are_told(guard: SiteGuard, page: str) -> None:
    """Whoever put a number into a path, or a path where words belong, is told."""
    start = page.index(' d="', page.index(HATCH)) + 4
    path = page[start : page.index('"', start)]
    assert leaks(guard, page.replace(f'd="{path}"', f'd="{path}M15 21"'))
    assert leaks(guard, page.replace(f'd="{path}"', f'd="{path}" id="{path}"'))
    assert leaks(guard, page.replace(f'd="{path}"', 'd="M15 21"'))


def test_a_drawing_of_nothing_known_is_told(guard: SiteGuard, page: str) -> None:
    assert leaks(guard, page.replace(HATCH, 'id="drawn-lid_field"'))
    assert leaks(
        guard, page.replace(f'<svg class="drawing parts" {HATCH}', '<svg class="drawing parts"')
    )


def test_labels_that_are_held_against_a_drawing_are_those_of_the_page() -> None:
    template = Path(templates_folder() / "public" / "part_drawing.html").read_text("utf-8")
    for words in (*THICK, *CORE, *LAYERS):
        assert f'_("{words}")' in template


@pytest.mark.parametrize("language", [*languages(), *regions()])
def test_no_label_of_a_drawing_stands_within_another(language: str) -> None:
    """So that one reading of a text finds each of them, the longest first."""
    say = wording(Locale.parse(language))
    labels = {str(say(word)) for word in (*THICK, *CORE, *LAYERS)}
    assert len(labels) > len(LAYERS)
    for label, other in permutations(labels, 2):
        assert not re.search(rf"(?<!\w){re.escape(label)}(?!\w)", other), (label, other)
