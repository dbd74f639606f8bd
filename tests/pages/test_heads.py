"""How pages are found and shown elsewhere: heads, preview cards, the map of the site, its doors.

Sources: Open Graph protocol (ogp.me, "Basic Metadata"); sitemaps.org, protocol 0.9; RFC 9309; HTML
Standard, "Standard metadata names" and "Link type alternate"; that of several languages each has to
lead to all of them, itself among them, is what engines ask for (common practice).
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from functools import cache
from pathlib import Path
from urllib.robotparser import RobotFileParser
from xml.etree import ElementTree

import pytest

from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite, public_pages
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue
from tests.demo import demo
from tests.pages.parsed import Page

START = "https://www.orvesund.example.com/prices/"
TRADE = ("en/trade/", "de/trade/", "nb/north/", "en/north/")
MAP = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
LINK = "{http://www.w3.org/1999/xhtml}link"
# What a result of a search or a preview has room for, from memory; cut where it is longer.
LONGEST_DESCRIPTION = 300
HEAVIEST = 4500  # bytes of a head without its data

parsed = cache(Page)


def pages_of(site: dict[str, bytes]) -> dict[str, Page]:
    return {path: parsed(content) for path, content in site.items() if path.endswith(".html")}


def said(page: Page) -> dict[str, str]:
    """What its head says by name; a name stands once."""
    found = [each.attributes for each in page.all("meta") if "content" in each.attributes]
    named = [(each.get("name") or each.get("property", ""), each["content"]) for each in found]
    assert len(named) == len({name for name, _ in named if name}) + sum(not n for n, _ in named)
    return dict(named)


def title_of(page: Page) -> str:
    """The page's own, which stands in its head; a drawing may have one too."""
    return next(each.text for each in page.all("title") if each.within[-1].tag == "head")


def linked(page: Page, rel: str) -> dict[str, str]:
    """Addresses of a head's links by their language."""
    found = [each.attributes for each in page.all("link") if each.attributes.get("rel") == rel]
    assert len({each.get("hreflang", "") for each in found}) == len(found)
    return {each.get("hreflang", ""): each["href"] for each in found}


def test_no_two_pages_have_the_same_title_or_description(demo_site: dict[str, bytes]) -> None:
    pages = pages_of(demo_site)
    for told in (
        [title_of(page) for page in pages.values()],
        [said(page)["description"] for page in pages.values()],
    ):
        assert [text for text, count in Counter(told).items() if count > 1] == []
        assert all(told)
        assert max(map(len, told)) <= LONGEST_DESCRIPTION


def test_the_title_of_a_model_names_its_market(demo_site: dict[str, bytes]) -> None:
    for folder, market in (("en/home", "Orvemark"), ("nb/north", "Forhandlere i nord")):
        page = parsed(demo_site[f"{folder}/models/open_68.html"])
        assert title_of(page).endswith(f", {market}")
        assert "Orvesund 6.8 Open" in title_of(page)


def test_every_page_has_what_a_preview_card_needs(demo_site: dict[str, bytes]) -> None:
    for path, page in pages_of(demo_site).items():
        found = said(page)
        # Open Graph asks for these four; a description, a locale and the site's name may be there.
        assert " ".join(found["og:title"].split()) == title_of(page)
        assert found["og:type"] == "website"
        assert found["og:url"] == linked(page, "canonical")[""] == f"{START}{path}"
        assert found["og:image"].startswith(START)
        assert found["og:image"].removeprefix(START) in demo_site
        assert found["og:image:alt"]
        assert found["og:description"] == found["description"]
        assert re.fullmatch("[a-z]{2}_[A-Z]{2}", found["og:locale"])
        assert found["og:locale"][:2] == page.one("html").attributes["lang"][:2]
        assert not [name for name in found if name.startswith("twitter")]
        head = demo_site[path].partition(b"<body>")[0]
        data = re.sub(rb"<script type.*?</script>", b"", head, flags=re.DOTALL)
        assert len(data) < HEAVIEST


def test_a_model_s_card_shows_its_own_picture(demo_site: dict[str, bytes]) -> None:
    card = said(parsed(demo_site["de/home/models/weekender_86.html"]))
    assert card["og:image"] == f"{START}de/home/pictures/boat-weekender_86-1280.jpg"
    assert card["og:image:alt"].startswith("Das Kajütboot")
    assert card["og:locale"] == "de_DE"


def test_a_site_without_an_address_claims_none(site: dict[str, bytes]) -> None:
    for page in pages_of(site).values():
        found = said(page)
        assert not {"og:url", "og:image"} & found.keys()
        assert linked(page, "canonical") == {}
        assert not [href for href in linked(page, "alternate").values() if ":" in href]
    assert not {"sitemap.xml", "robots.txt"} & site.keys()


def test_price_sheets_for_the_trade_ask_not_to_be_listed(demo_site: dict[str, bytes]) -> None:
    for path, page in pages_of(demo_site).items():
        asked = said(page).get("robots")
        assert asked == ("noindex" if path.startswith(TRADE) else None), path


def entries(demo_site: dict[str, bytes]) -> dict[str, dict[str, str]]:
    """The links of each address in the map."""
    root = ElementTree.fromstring(demo_site["sitemap.xml"])
    assert root.tag == f"{MAP}urlset"
    found = {}
    for url in root:
        assert url.tag == f"{MAP}url"
        places = [each.text or "" for each in url.iter(f"{MAP}loc")]
        links = {each.attrib["hreflang"]: each.attrib["href"] for each in url.iter(LINK)}
        assert len(places) == 1
        assert places[0] not in found
        assert {each.attrib["rel"] for each in url.iter(LINK)} == {"alternate"}
        found[places[0]] = links
    return found


def test_the_map_has_every_page_for_everybody_and_no_other(demo_site: dict[str, bytes]) -> None:
    public = {f"{START}{path}" for path in pages_of(demo_site) if not path.startswith(TRADE)}
    assert entries(demo_site).keys() == public
    assert len(demo_site["sitemap.xml"]) < 50_000_000  # with 50,000 places, the protocol's limits


def test_the_map_and_the_pages_name_the_same_languages(demo_site: dict[str, bytes]) -> None:
    mapped = entries(demo_site)
    for place, links in mapped.items():
        page = parsed(demo_site[place.removeprefix(START)])
        assert linked(page, "alternate") == links
        assert place in links.values()
        for other in links.values():
            assert mapped[other] == links  # each leads back


def test_robots_may_fetch_everything_and_find_the_map(demo_site: dict[str, bytes]) -> None:
    text = demo_site["robots.txt"].decode()
    reader = RobotFileParser()
    reader.parse(text.splitlines())
    assert reader.site_maps() == [f"{START}sitemap.xml"]
    # What may not be fetched can't say that it is not to be listed.
    assert all(reader.can_fetch("any", f"{START}{path}") for path in demo_site)
    assert "trade" not in text
    assert "north" not in text


def test_a_door_names_each_language_and_market_once(demo_site: dict[str, bytes]) -> None:
    doors = {path: page for path, page in pages_of(demo_site).items() if path.count("/") < 2}
    assert len(doors) == 6
    for path, page in doors.items():
        by_language: dict[str, list[str]] = defaultdict(list)
        for link in page.all("a"):
            if "hreflang" in link.attributes:
                by_language[link.attributes["hreflang"]].append(link.text)
                assert link.attributes["lang"] == link.attributes["hreflang"]
        for told in by_language.values():
            assert len(set(told)) == len(told), path
        headings = [each.text for each in page.all("h2")]
        assert len(set(headings)) == len(headings)
        own = path.rpartition("/")[0]
        assert len(headings) == (0 if own else len(by_language))
        assert set(by_language) == ({own} if own else {"en", "de", "fr", "nb", "es"})
        assert len(linked(page, "alternate")) == 6  # one of each language, and that of none


REGIONS = (
    "language: en, tax_name: VAT, tax: 25 %",
    "language: en-IE, other_languages: [en-US], tax_name: VAT, tax: 25 %",
)


def test_two_regions_of_a_language_are_told_apart_in_titles(tmp_path: Path) -> None:
    folder = write_catalogue(tmp_path / "yard", {}, {"yard.yaml": REGIONS}, FOLDER / "small")
    made = public_pages(priced(folder))
    titles = {
        path: title_of(page)
        for path, page in pages_of(made).items()
        if path.endswith("models/skiff.html")
    }
    assert len(titles) == 3
    assert len(set(titles.values())) == 3
    assert "United States" in titles["en-US/home/models/skiff.html"]
    locales = {said(page)["og:locale"] for path, page in pages_of(made).items() if "home" in path}
    assert locales == {"en_IE", "en_US"}


def test_one_market_alone_is_not_named(tmp_path: Path) -> None:
    changes = {"yard.yaml": ("prices: without tax}", "prices: without tax, published: no}")}
    folder = write_catalogue(tmp_path / "yard", {}, changes, FOLDER / "small")
    page = parsed(public_pages(priced(folder))["en/home/models/skiff.html"])
    assert title_of(page) == "Tern Skiff: prices and options, Tern Quay Boats 2026 S"


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("sitemap.xml", "</urlset>", "<!-- Dolvane --></urlset>"),
        ("sitemap.xml", "/compare.html</loc>", "/secret.html</loc>"),
        ("sitemap.xml", 'hreflang="nb"', 'hreflang="Dolvane"'),
        ("robots.txt", "Disallow:", "Disallow: /private"),
        ("robots.txt", "/sitemap.xml", "/dolvane.xml"),
    ],
)
def test_the_guard_reads_what_engines_are_told(
    demo_site: dict[str, bytes], file: str, old: str, new: str
) -> None:
    pricing: Pricing = demo()
    guard = SiteGuard(PublicSite(pricing))
    content = demo_site[file]
    assert guard.leaks({file: content}) == []
    assert guard.leaks({file: content.replace(old.encode(), new.encode(), 1)})
