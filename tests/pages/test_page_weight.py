"""What a phone has to fetch for a model's page: little, and all from the sheet's own folder."""

from __future__ import annotations

import posixpath
import re
import zlib

import pytest

from quoter.pages.public.site import public_pages
from quoter.pricing.price import Pricing
from tests.pages.parsed import Page

MOST = 60_000  # bytes, gzipped as servers do it
MOST_OF_A_BOAT = 200_000  # bytes of a model's page and what it asks for, as they are, but pictures
DRAWINGS = re.compile(rb"<svg.*?</svg>", re.DOTALL)


def fetched(site: dict[str, bytes], path: str) -> set[str]:
    """The page and what it asks for by itself but pictures: styles, scripts, the icon."""
    page, found = Page(site[path]), {path}
    for element in page.elements:
        link = {"link": "href", "script": "src"}.get(element.tag, "")
        asked = element.attributes.get("rel", "stylesheet") in ("stylesheet", "icon")
        if asked and element.attributes.get(link):
            name = posixpath.join(posixpath.dirname(path), element.attributes[link])
            found.add(posixpath.normpath(name))
    return found


def weight(site: dict[str, bytes], path: str) -> int:
    return sum(len(zlib.compress(site[each])) for each in fetched(site, path))


def test_every_page_of_the_demo_is_light(demo_site: dict[str, bytes]) -> None:
    pages = [path for path in demo_site if path.endswith(".html")]
    assert sum("/models/" in path for path in pages) > 40
    for path in pages:
        assert weight(demo_site, path) < MOST, path


def test_a_boat_s_page_is_light_before_it_is_packed(demo_site: dict[str, bytes]) -> None:
    boats = [path for path in demo_site if "/models/" in path and path.endswith(".html")]
    heavy = {
        path: sum(len(DRAWINGS.sub(b"", demo_site[each])) for each in fetched(demo_site, path))
        for path in boats
    }
    assert {path: size for path, size in heavy.items() if size >= MOST_OF_A_BOAT} == {}


def test_the_weight_is_of_all_that_a_browser_asks_for(demo_site: dict[str, bytes]) -> None:
    names = ["base.css", "boat.css", "boat.js", "icon.svg", "sheet.css", "signs.js"]
    names += ["edition.js", "boats.js", "summary.css"]
    assets = [f"assets/{name}" for name in names]
    own = ["models/coastal_98.html", "models/coastal_98.js"]
    assert fetched(demo_site, "de/home/models/coastal_98.html") == {
        f"de/home/{path}" for path in own + assets
    }


@pytest.mark.parametrize("path", ["en/home/models/cutter.html", "en/home/compare.html"])
def test_weight_follows_what_is_added(small_pricing: Pricing, path: str) -> None:
    site = public_pages(small_pricing)
    before = weight(site, path)
    site["en/home/assets/base.css"] += bytes(range(256)) * 4
    assert weight(site, path) > before + 200
