"""How search engines find the site, once the yard has said where it is: sitemap.xml and robots.txt.

Price sheets for the trade are in neither. Their pages ask by themselves not to be listed, which an
engine can only read if it may fetch them: so robots.txt forbids nothing, and names no folder that
is not for everybody.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from itertools import groupby
from operator import attrgetter

from quoter.pages.public.views import SheetHead

SITEMAP, ROBOTS = "sitemap.xml", "robots.txt"
DOOR = "index.html"
DEFAULT = "x-default"  # the language of whoever reads none of the others
SITEMAP_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9"'
    ' xmlns:xhtml="http://www.w3.org/1999/xhtml">',
)
SITEMAP_TAIL = ("</urlset>",)
URL = ("<url>", "</url>")
LOCATION, LINK = "<loc>{}</loc>", '<xhtml:link rel="alternate" hreflang="{}" href="{}"/>'
ROBOTS_LINES = (
    "# Read at the top of a host alone (RFC 9309, 2.3): elsewhere, put these lines there.",
    "User-agent: *",
    "Disallow:",
)
MAPPED = "Sitemap: {}"


def site_map(address: str, heads: Sequence[SheetHead], pages: Sequence[str]) -> bytes:
    """Every page that is for everybody, each with the same in other languages.

    Source: sitemaps.org, protocol 0.9; the links are those of XHTML.

    Args:
        address: of the site, with a slash at its end
        heads: of all price sheets, by market
        pages: of each, below its folder
    """
    public = [head for head in heads if not head.trade]
    groups = [_doors(address, public)]
    for _, found in groupby(public, attrgetter("id")):
        sheets = list(found)
        for page in pages:
            alike = [(head.tag, f"{address}{head.folder}/{page}") for head in sheets]
            groups.append([*alike, (DEFAULT, alike[0][1])])
    lines = [line for group in groups for line in _group(group)] if public else []
    return _text([*SITEMAP_HEAD, *lines, *SITEMAP_TAIL])


def robots(address: str) -> bytes:
    """Who may fetch what, which is everybody everything, and where the map is.

    Source: RFC 9309, 2.2; `Sitemap` is a further record by sitemaps.org.
    """
    return _text([*ROBOTS_LINES, "", MAPPED.format(f"{address}{SITEMAP}")])


def _doors(address: str, heads: Sequence[SheetHead]) -> list[tuple[str, str]]:
    """The pages before the price sheets: one for each language, and one for all."""
    tags = dict.fromkeys(head.tag for head in heads)
    return [*((tag, f"{address}{tag}/{DOOR}") for tag in tags), (DEFAULT, f"{address}{DOOR}")]


def _group(alike: Sequence[tuple[str, str]]) -> Iterator[str]:
    """The entries of pages that say the same in several languages."""
    links = [LINK.format(escape(tag), escape(address)) for tag, address in alike]
    for place in dict.fromkeys(address for _, address in alike):
        yield from (URL[0], LOCATION.format(escape(place)), *links, URL[1])


def _text(lines: Sequence[str]) -> bytes:
    return "\n".join([*lines, ""]).encode()
