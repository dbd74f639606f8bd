"""The whole pipeline: read, check, take off and roll up, price, render in memory, then write."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from quoter import __version__
from quoter.analysis.bridge import bridge_of
from quoter.analysis.plan import plan_of
from quoter.catalogue.load import load_catalogue
from quoter.costing.rollup import roll_up
from quoter.pages.changes import change_page
from quoter.pages.costing_json import costing_json
from quoter.pages.environment import locale_of
from quoter.pages.internal import review_pages
from quoter.pages.papers import paper_pages
from quoter.pages.public import public_pages
from quoter.pages.questions import question_pages
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import CatalogueError, Problem, Problems
from quoter.publish import guard, publish, secrets_of
from quoter.workbook.books import every_book


@dataclass(frozen=True, slots=True)
class Report:
    """What a build made: the pricing, its warnings, and the files by folder."""

    pricing: Pricing
    warnings: list[Problem]
    public: dict[str, bytes]
    internal: dict[str, bytes]


def price_catalogue(
    folder: Path, as_of: date | None = None, *, strict: bool = False
) -> tuple[Pricing, list[Problem]]:
    """Read, check, cost and price a catalogue; also returns its warnings.

    Raises:
        CatalogueError: with every problem; in strict mode with the warnings too.
    """
    catalogue, warnings = load_catalogue(folder, as_of)
    problems = Problems()
    costing = roll_up(catalogue, problems)
    problems.quote(catalogue.excerpt)
    problems.stop_if_any()
    if strict and warnings:
        raise CatalogueError(warnings)
    return set_prices(costing), warnings


def render(folder: Path, as_of: date | None, *, strict: bool, say: Callable[[str], None]) -> Report:
    """Everything a build writes, in memory."""
    say("reading and costing the catalogue")
    pricing, warnings = price_catalogue(folder, as_of, strict=strict)
    build_id = fingerprint(folder)
    say("writing the price sheet")
    public = public_pages(pricing)
    guard(public, secrets_of(pricing))
    say("writing the review and the shop papers")
    review = _change_since_last_list(folder, pricing)
    review |= review_pages(pricing, warnings, changed=bool(review))
    review |= question_pages(pricing, plan_of(pricing))
    internal = {f"review/{name}": page for name, page in review.items()}
    internal |= {f"papers/{name}": page for name, page in paper_pages(pricing).items()}
    for name, book in every_book(pricing, build_id, say):
        internal[f"workbooks/{name}"] = book
    internal["costing.json"] = costing_json(pricing, build_id)
    return Report(pricing, warnings, public, internal)


def _change_since_last_list(folder: Path, pricing: Pricing) -> dict[str, bytes]:
    """The page of what moved since the price list before, when there is one."""
    last = pricing.catalogue.last_list
    if last is None:
        return {}
    try:
        before, _ = price_catalogue(folder, last)
    except CatalogueError:
        return {}  # not everything had a price yet that day; nothing to compare with
    bridge = bridge_of(before, pricing, str(last), str(pricing.catalogue.as_of))
    company, market = pricing.catalogue.yard.company, pricing.catalogue.yard.markets[0]
    return {"change.html": change_page(bridge, locale_of(market), str(company.name))}


def build(
    folder: Path,
    site: Path,
    internal: Path,
    as_of: date | None = None,
    *,
    strict: bool = False,
    say: Callable[[str], None] = lambda _: None,
) -> Report:
    """Build a catalogue into its two folders, which change only when everything succeeded.

    Raises:
        CatalogueError: the catalogue has problems.
        LeakError: a public page would hold something secret.
        FolderError: an output folder is not ours to replace, or can't be written.
    """
    report = render(folder, as_of, strict=strict, say=say)
    publish({site: report.public, internal: report.internal}, keep=[folder])
    return report


def fingerprint(folder: Path) -> str:
    """Identifies the program's version and the catalogue's every byte, wherever it stands.

    Other folders within the catalogue's, such as those a build writes, are no part of it.
    """
    digest = hashlib.sha256(__version__.encode())
    files = [*folder.glob("*"), *folder.glob("prices/*")]
    files = [path for path in files if path.suffix in (".yaml", ".csv")]
    for path in sorted(files, key=lambda path: path.relative_to(folder).as_posix()):
        digest.update(path.relative_to(folder).as_posix().encode() + b"\0")
        digest.update(path.read_bytes() + b"\0")
    return digest.hexdigest()[:12]
