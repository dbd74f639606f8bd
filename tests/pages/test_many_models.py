"""A yard of many boats: a model's page stays as it is, and leads to what others have alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache

import pytest
from babel import Locale
from hypothesis import given
from hypothesis import strategies as st

from quoter.leaks.guard import SiteGuard
from quoter.pages.public.compare import in_order
from quoter.pages.public.site import PublicSite, market_pages
from quoter.pricing.price import Pricing
from tests.pages.fleet import BOATS, fleet
from tests.pages.parsed import Element, Page

# Worked out by hand: what says in each language how many other boats have an option, on how many
# it is offered, and that it is standard.
WORDS = {
    "en": ("one other boat", "{} other boats", "Offered on {} boats:", "standard"),
    "de": ("ein weiteres Boot", "{} weitere Boote", "Angeboten für {} Boote:", "Serie"),
    "fr": ("un autre bateau", "{} autres bateaux", "Proposé sur {} bateaux :", "de série"),
    "nb": ("én annen båt", "{} andre båter", "Tilbys på {} båter:", "standard"),
    "es": ("otro barco", "otros {} barcos", "Se ofrece en {} barcos:", "de serie"),
}
LANGUAGES = tuple(WORDS)
Fleet = Callable[[int], Pricing]


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Fleet:
    """The prices of yards of so many boats, each read once."""
    return cache(lambda count: fleet(tmp_path_factory.mktemp("yard"), count))


def sheet_of(pricing: Pricing, language: str) -> dict[str, bytes]:
    return market_pages(pricing, pricing.catalogue.yard.markets[0], Locale(language))


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_model_s_page_is_as_long_among_16_models_as_among_8(yard: Fleet, language: str) -> None:
    eight, sixteen = (sheet_of(yard(count), language) for count in (8, 16))
    for boat in BOATS:
        page = f"models/{boat}.html"
        links = sum(1 for _ in links_to_list(Page(eight[page])))
        assert links > 5
        # A count of boats has two digits in place of one, at most.
        assert 0 <= len(sixteen[page]) - len(eight[page]) <= links
        assert sixteen[f"models/{boat}.js"] == eight[f"models/{boat}.js"]


def test_all_pages_together_grow_by_as_much_with_each_boat(yard: Fleet) -> None:
    few, more, most = (
        sum(map(len, sheet_of(yard(count), "en").values())) for count in (10, 15, 20)
    )
    assert abs((most - more) - (more - few)) < (more - few) / 100


def links_to_list(page: Page) -> Iterator[tuple[Element, str]]:
    """The links that tell how many other boats have an option, and its id."""
    for link in page.all("a"):
        path, _, place = link.attributes["href"].partition("#option-")
        if path == "../list.html" and place:
            yield link, place


def on_boats(pricing: Pricing, option: str) -> list[str]:
    return [id for id, model in pricing.models.items() if option in model.options]


@pytest.mark.parametrize("language", LANGUAGES)
def test_an_option_links_to_all_that_have_it_and_says_how_many(
    demo_site: Mapping[str, bytes], demo_pricing: Pricing, language: str
) -> None:
    one, several, offered, standard = WORDS[language]
    folder = f"{language}/home"
    listing = Page(demo_site[f"{folder}/list.html"])
    pages = {id: Page(demo_site[f"{folder}/models/{id}.html"]) for id in demo_pricing.models}
    counts = set()
    for model, page in pages.items():
        linked = {place: link.text for link, place in links_to_list(page)}
        for option in demo_pricing.models[model].options:
            boats = on_boats(demo_pricing, option)
            counts.add(len(boats) - 1)
            expected = one if len(boats) == 2 else several.format(len(boats) - 1)
            assert linked.pop(option) == expected
            told = listing.one("article", id=f"option-{option}")
            assert offered.format(len(boats)) in told.text
            assert told_of(listing, told) == [
                (f"models/{boat}.html#option-{option}", priced_on(pages[boat], option, standard))
                for boat in boats
            ]
        assert linked == {}
    assert {1, 2, 4} <= counts


def told_of(page: Page, article: Element) -> list[tuple[str, str]]:
    """Each boat an article of the full price list tells of: where it leads, and at which price."""
    inside = within(article, page.elements)
    return [
        (link.attributes["href"], item.text.removeprefix(link.text).strip())
        for item in inside
        if item.tag == "li"
        for link in within(item, inside)
        if link.tag == "a"
    ]


def within(holder: Element, elements: Iterable[Element]) -> list[Element]:
    return [each for each in elements if any(one is holder for one in each.within)]


def priced_on(page: Page, option: str, standard: str) -> str:
    """What a boat's own page asks for an option."""
    article = page.one("article", id=f"option-{option}")
    if "data-item" not in article.attributes:
        return standard
    (amount,) = within(article, page.all("div", class_="amount"))
    return amount.text


def test_an_option_of_one_boat_alone_speaks_of_no_other(site: Mapping[str, bytes]) -> None:
    page = Page(site["en/home/models/cutter.html"])
    assert "side_door" not in [place for _, place in links_to_list(page)]
    assert "Also on" not in page.one("article", id="option-side_door").text
    assert "Also on one other boat" in page.one("article", id="option-hatch").text
    listing = Page(site["en/home/list.html"])
    told = listing.one("article", id="option-side_door")
    price = priced_on(page, "side_door", "standard")
    assert told.text.endswith(f"Offered on one boat: Tern Cutter {price}")


def boats_in_head(page: bytes) -> list[str]:
    """What the head of a page leads to before the pages of all models."""
    found = Page(page)
    (nav,) = [e for e in found.all("nav") if e.attributes.get("aria-label") == "Models"]
    first, _ = within(nav, found.all("ul"))
    return [link.text for link in within(first, found.all("a"))]


def test_up_to_six_boats_stand_in_the_head_of_every_page(yard: Fleet) -> None:
    pages = sheet_of(yard(6), "en")
    every = ["All models", *(model.model.name for model in yard(6).models.values())]
    paths = ("index.html", "list.html", "compare.html", *(f"models/{boat}.html" for boat in BOATS))
    assert {path: boats_in_head(pages[path]) for path in paths} == dict.fromkeys(paths, every)


def test_of_more_boats_a_page_names_those_before_and_after(yard: Fleet) -> None:
    pages = sheet_of(yard(7), "en")
    heads = {path: boats_in_head(pages[path]) for path in pages if path.endswith(".html")}
    without = ("index.html", "list.html", "compare.html")
    assert heads == {
        **{path: ["All models"] for path in without},
        **{
            f"models/{id}.html": ["All models", *(words for words in beside if words)]
            for id, beside in zip(yard(7).models, neighbours(yard(7)), strict=True)
        },
    }
    assert heads["models/open_68.html"][1:] == ["Orvesund 6.8 Open", "Next: Orvesund 7.6 Longshore"]


def neighbours(pricing: Pricing) -> Iterator[tuple[str, str, str]]:
    names = [str(model.model.name) for model in pricing.models.values()]
    for place, name in enumerate(names):
        before = f"Previous: {names[place - 1]}" if place else ""
        after = f"Next: {names[place + 1]}" if place + 1 < len(names) else ""
        yield before, name, after


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_guard_accounts_for_all_that_pages_of_many_boats_say(
    yard: Fleet, language: str
) -> None:
    site = PublicSite(yard(16))
    files = {
        path: site.makers[path]() for path in site.makers if path.startswith(f"{language}/home/")
    }
    assert len(files) > 32
    SiteGuard(site).look_through(files)


@given(
    st.lists(st.sampled_from("abcdefgh"), unique=True),
    st.lists(st.sets(st.sampled_from("abcdefgh"))),
)
def test_an_order_of_some_lists_keeps_each_of_them(whole: list[str], parts: list[set[str]]) -> None:
    lists = [[each for each in whole if each in part] for part in parts]
    found = list(in_order(lists))
    assert sorted(found) == sorted({each for part in lists for each in part})
    assert [[each for each in found if each in part] for part in lists] == lists


@given(st.lists(st.lists(st.sampled_from("abcdef"))))
def test_an_order_of_lists_that_contradict_each_other_holds_everything_once(
    lists: list[list[str]],
) -> None:
    assert sorted(in_order(lists)) == sorted({each for part in lists for each in part})
