"""The whole pipeline: read, check, take off and roll up, price, render in memory, then write."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from quoter.analysis.findings import Findings
from quoter.catalogue.load import load_catalogue
from quoter.catalogue.mark import fingerprint
from quoter.catalogue.translations import untranslated
from quoter.costing.rollup import roll_up
from quoter.earlier import earlier_pricings
from quoter.leaks import guard, secrets_of
from quoter.pages.costing_json import costing_json
from quoter.pages.papers import paper_pages
from quoter.pages.public.site import public_pages
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import CatalogueError, Problem, Problems
from quoter.publish import FolderError, publish
from quoter.review import review_files
from quoter.workbook.books import every_book


@dataclass(frozen=True, slots=True)
class Report:
    """What a build made: the pricing, its warnings, and the files by folder."""

    pricing: Pricing
    warnings: list[Problem]
    public: dict[str, bytes]
    internal: dict[str, bytes]


def price_catalogue(
    folder: Path, as_of: date | None = None, *, strict: bool = False, settings: Sequence[str] = ()
) -> tuple[Pricing, list[Problem]]:
    """Read, check, cost and price a catalogue; also returns its warnings.

    Args:
        folder: the catalogue's
        as_of: the day asked about (by default that of the newest price list)
        strict: whether warnings stop it
        settings: what if something were otherwise, each as KEY=VALUE
    Raises:
        CatalogueError: with every problem; in strict mode with the warnings too.
    """
    catalogue, warnings = load_catalogue(folder, as_of, settings)
    problems = Problems()
    costing = roll_up(catalogue, problems)
    problems.quote(catalogue.excerpt)
    problems.stop_if_any()
    if strict and warnings:
        raise CatalogueError(warnings)
    return set_prices(costing), warnings


def render(
    folder: Path,
    as_of: date | None,
    *,
    strict: bool,
    say: Callable[[str], None],
    settings: Sequence[str] = (),
    published: bool = True,
) -> Report:
    """Everything a build writes, in memory; without what is public where nothing is published."""
    say("reading and costing the catalogue")
    pricing, warnings = price_catalogue(folder, as_of, strict=strict, settings=settings)
    build_id = fingerprint(folder, pricing.catalogue.as_of, pricing.catalogue.settings)
    build_id += " (a what-if)" if settings else ""
    public = price_sheets(folder, pricing, say) if published else {}
    say("writing the review and the shop papers")
    findings = Findings(pricing, at_last_list(folder, pricing))
    review = review_files(findings, warnings)
    internal = {f"review/{name}": page for name, page in review.items()}
    internal |= {f"papers/{name}": page for name, page in paper_pages(pricing).items()}
    for name, book in every_book(findings, build_id, say):
        internal[f"workbooks/{name}"] = book
    internal["costing.json"] = costing_json(pricing, build_id)
    return Report(pricing, warnings, public, internal)


def price_sheets(folder: Path, pricing: Pricing, say: Callable[[str], None]) -> dict[str, bytes]:
    """The public files, looked through for what must not leave the yard.

    Raises:
        CatalogueError: a market can't read all of it in its language.
    """
    problems = Problems()
    problems.extend(untranslated(pricing.catalogue.records))
    problems.quote(pricing.catalogue.excerpt)
    problems.stop_if_any()
    say("writing the price sheet")
    earlier = earlier_pricings(folder, pricing)
    public = public_pages(pricing, earlier)
    guard(public, secrets_of(pricing, earlier))
    return public


def at_last_list(folder: Path, pricing: Pricing) -> Pricing | None:
    """The catalogue priced on the day of the price list before, to compare with; if there is one.

    It is read anew, since figures of one reading are one and the same in both.
    """
    last = pricing.catalogue.last_list
    try:
        return None if last is None else price_catalogue(folder, last)[0]
    except CatalogueError:
        return None  # not everything had a price yet that day


def build(
    folder: Path,
    site: Path | None,
    internal: Path,
    as_of: date | None = None,
    *,
    strict: bool = False,
    settings: Sequence[str] = (),
    say: Callable[[str], None] = lambda _: None,
) -> Report:
    """Build a catalogue into its two folders, which change only when everything succeeded.

    Without a `site`, nothing public is written. With `settings`, each as KEY=VALUE, it is a
    what-if.

    Raises:
        CatalogueError: the catalogue has problems.
        LeakError: a public page would hold something secret.
        FolderError: an output folder is not ours to replace, or can't be written.
    """
    if site is not None and site.resolve() == internal.resolve():
        raise FolderError(f"{site} would be public and private at once; name two separate folders")
    published = site is not None
    report = render(folder, as_of, strict=strict, say=say, settings=settings, published=published)
    outputs = {internal: report.internal}
    if site is not None:
        outputs = {site: report.public} | outputs
    publish(outputs, keep=[folder])
    return report
