"""The whole pipeline: read, check, take off and roll up, price, render in memory, then write."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from quoter.analysis.findings import Findings
from quoter.catalogue.load import load_catalogue, read_records
from quoter.catalogue.mark import fingerprint
from quoter.catalogue.translations import untranslated
from quoter.costing.rollup import roll_up
from quoter.leaks import SiteGuard
from quoter.pages.costing_json import costing_json
from quoter.pages.papers import paper_pages
from quoter.pages.public.site import PublicSite
from quoter.pages.review import review_files
from quoter.pricing.doubtful import price_warnings
from quoter.pricing.earlier import earlier_lists, priced_on
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import CatalogueError, Problem, Problems
from quoter.publish.kept import notes
from quoter.publish.manifest import FolderError
from quoter.publish.ours import refuse_quotes
from quoter.publish.outputs import held
from quoter.workbook.books import every_book


@dataclass(frozen=True, slots=True)
class Report:
    """What a build made: the pricing, its warnings, and the files by folder.

    `left` tells of files that an earlier version may have written, and that were left alone.
    """

    pricing: Pricing
    warnings: list[Problem]
    public: dict[str, bytes]
    internal: dict[str, bytes]
    left: tuple[str, ...] = ()


def price_catalogue(
    folder: Path,
    as_of: date | None = None,
    *,
    strict: bool = False,
    settings: Sequence[str] = (),
    only: str = "",
) -> tuple[Pricing, list[Problem]]:
    """Read, check, cost and price a catalogue; also returns its warnings.

    Args:
        folder: the catalogue's
        as_of: the day asked about (by default that of the newest price list)
        strict: whether warnings stop it
        settings: what if something were otherwise, each as KEY=VALUE
        only: the one model to cost, where no other is asked about; all if there is no such model
    Raises:
        CatalogueError: with every problem; in strict mode with the warnings too.
    """
    catalogue, warnings = load_catalogue(folder, as_of, settings)
    problems = Problems()
    costing = roll_up(catalogue, problems, only if only in catalogue.records.models else "")
    problems.quote(catalogue.excerpt)
    problems.stop_if_any()
    pricing = set_prices(costing)
    problems.extend([*warnings, *price_warnings(pricing)])
    problems.quote(catalogue.excerpt)
    if strict and problems.warnings:
        raise CatalogueError(problems.warnings)
    return pricing, problems.warnings


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
        LeakError: a file says what no public view accounts for.
        CatalogueError: a market can't read all of it in its language.
    """
    problems = Problems()
    problems.extend(untranslated(pricing.catalogue.records))
    problems.quote(pricing.catalogue.excerpt)
    problems.stop_if_any()
    say("writing the price sheet")
    site = PublicSite(pricing, earlier_lists(folder, pricing))
    public = site.pages()
    SiteGuard(site).look_through(public)
    return public


def at_last_list(folder: Path, pricing: Pricing) -> Pricing | None:
    """The catalogue priced on the day of the price list before, to compare with; if there is one
    and everything had a price that day. Where settings changed it, it is read anew."""
    last, records = pricing.catalogue.last_list, pricing.catalogue.records
    if last is None:
        return None
    if pricing.catalogue.settings:
        records, _ = read_records(folder, Problems())
    return priced_on(records, last)


def build(
    folder: Path,
    site: Path | None,
    internal: Path,
    as_of: date | None = None,
    *,
    strict: bool = False,
    settings: Sequence[str] = (),
    wait: bool = False,
    say: Callable[[str], None] = lambda _: None,
    made: str = "",
) -> Report:
    """Build a catalogue into its two folders, which change only when everything succeeded.

    Without a `site`, nothing public is written. With `settings`, each as KEY=VALUE, it is a
    what-if. Another build into one of the folders is waited for, or else told. What it is `made`
    from is noted, so that the next one knows if nothing has changed.

    Raises:
        CatalogueError: the catalogue has problems.
        LeakError: a public file says what no public view accounts for.
        FolderError: an output folder holds what is not ours to replace, or can't be written.
        Interrupted: somebody pressed Ctrl-C.
    """
    if site is not None and site.resolve() == internal.resolve():
        raise FolderError(f"{site} would be public and private at once; name two separate folders")
    if site is not None:
        refuse_quotes(site)
    published = site is not None
    folders = [internal] if site is None else [site, internal]
    with held(folders, keep=[folder], wait=wait, say=say) as outputs:
        found = render(
            folder, as_of, strict=strict, say=say, settings=settings, published=published
        )
        files = {internal: found.internal}
        if site is not None:
            files[site] = found.public
        told = [str(problem) for problem in found.warnings]
        said = notes(made, found.public if published else None, told) if made else []
        left = outputs.publish(files, {internal: said})
    return replace(found, left=tuple(left))
