"""What is published goes through the guard, and tests look for numbers of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import EarlierLists
from quoter.pricing.price import Pricing

_NUMBER = re.compile(r"\d+(?:[.,'\u2019\u00a0\u202f\u2009]\d+)*")


def guarded_pages(pricing: Pricing, earlier: Sequence[EarlierLists] = ()) -> dict[str, bytes]:
    """The public files, after the guard has looked through them."""
    site = PublicSite(pricing, earlier)
    pages = site.pages()
    SiteGuard(site).look_through(pages)
    return pages


def numbers_in(text: str) -> Iterator[str]:
    """Every number of a text as a program has it: its last sign taken for that of decimals, and
    for one of thousands."""
    for found in _NUMBER.finditer(text):
        yield re.sub(r"\D", "", found[0])
        whole, *rest = re.split(r"\D(?=\d+\Z)", found[0])
        if rest:
            yield re.sub(r"\D", "", whole) + "." + rest[0]
