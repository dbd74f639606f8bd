"""What search engines are told, read line by line: the program's own lines, and known addresses."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import unescape

from quoter.leaks.allowed import Allowed
from quoter.leaks.reduction import Rest
from quoter.pages.public.found import (
    DEFAULT,
    LINK,
    LOCATION,
    MAPPED,
    ROBOTS,
    ROBOTS_LINES,
    SITEMAP,
    SITEMAP_HEAD,
    SITEMAP_TAIL,
    URL,
)

_PLAIN = {
    SITEMAP: {"", *SITEMAP_HEAD, *SITEMAP_TAIL, *URL},
    ROBOTS: {"", *ROBOTS_LINES},
}


def _filled(form: str) -> re.Pattern[str]:
    """What finds a form with something in its places, and what is in them."""
    return re.compile(re.escape(form).replace(re.escape("{}"), r'([^"<>\s]*)') + r"\Z")


_FORMS: dict[str, Sequence[re.Pattern[str]]] = {
    SITEMAP: (_filled(LOCATION), _filled(LINK)),
    ROBOTS: (_filled(MAPPED),),
}


def found_rests(text: str, name: str, allowed: Allowed) -> Iterator[Rest]:
    """What of sitemap.xml or robots.txt nobody accounts for.

    Args:
        text: of the file
        name: which of them it is
        allowed: of what its addresses are made from
    """
    at = 0
    for line in text.split("\n"):
        if line not in _PLAIN[name]:
            found = next(filter(None, (form.match(line) for form in _FORMS[name])), None)
            if found is None:
                yield Rest(line, at)
            for value in found.groups() if found is not None else ():
                known = unescape(value)
                if known != DEFAULT and not allowed.knows(known):
                    yield Rest(value, at + line.index(value))
        at += len(line) + 1
