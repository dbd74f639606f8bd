"""A build by its stages: where its seconds go, how much memory it holds, how much it makes.

Each function here runs in a process of its own, told a folder, and gives what JSON holds.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from dataclasses import asdict
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time
from typing import Any

from quoter.catalogue.load import load_catalogue
from quoter.costing.rollup import roll_up
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.pages.public.site import PublicSite
from quoter.plausibility.built import built
from quoter.plausibility.walk import doubts_of, left_over
from quoter.preview.reading import PreviewOf, Site, read
from quoter.pricing.doubtful import price_warnings
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import Problem, Problems
from quoter.publish.manifest import written_in
from quoter.publish.outputs import held
from quoter.tasks import ACTUALS, BOAT, REVIEW, SHEET, YEAR, Work
from quoter.tasks import COSTING as COSTING_JSON
from tests.benchmark.measured import Stages, memory_so_far

READING, COSTING = "reading", "costing and pricing"
TASKS = {
    SHEET: "price sheets, their guard included",
    REVIEW: "the review and its workbook",
    BOAT: "boats' workbooks, pages and papers",
    YEAR: "the planned year's workbook",
    ACTUALS: "pages and workbook of what it really took",
    COSTING_JSON: "costs as data",
}
_CELL = re.compile(rb"<c [^>]*?(?:/>|>)")


def priced_in(folder: Path, stages: Stages) -> tuple[Pricing, list[Problem]]:
    """A catalogue priced as a build does it, and its warnings."""
    with stages.of(READING):
        catalogue, warnings = load_catalogue(folder)
    with stages.of(COSTING):
        problems = Problems()
        doubts = doubts_of(catalogue)
        costing = roll_up(catalogue, problems)
        built(costing, doubts)
        problems.stop_if_any()
        pricing = set_prices(costing)
        problems.extend([*warnings, *price_warnings(pricing, doubts)])
        problems.extend(left_over(catalogue, doubts, whole=True))
        problems.quote(catalogue.excerpt)
    return pricing, problems.warnings


def check(folder: str) -> dict[str, Any]:
    """A catalogue read, costed and priced."""
    stages = Stages()
    pricing, _ = priced_in(Path(folder), stages)
    memory = memory_so_far()
    counts = {"figures": len(figures_of(pricing)), "priced": len(_priced(pricing))}
    return {"stages": asdict(stages), "memory": memory, "counts": counts}


def build(folder: str) -> dict[str, Any]:
    """All of a build into folders that go again."""
    catalogue, stages = Path(folder), Stages()
    pricing, warnings = priced_in(catalogue, stages)
    with TemporaryDirectory() as kept:
        site, private = folders = Path(kept, "site"), Path(kept, "internal")
        with held(folders, keep=[catalogue]) as outputs:
            made: dict[Path, dict[str, bytes]] = {site: {}, private: {}}
            work = Work(
                catalogue,
                pricing,
                warnings,
                published=True,
                keep=lambda public, *file: outputs.keep(site if public else private, *file),
            )
            for task in work.tasks():
                with stages.of(TASKS[task.kind]):
                    done = work.do(task)
                made[site] |= done.public
                made[private] |= done.internal
            with stages.of("publishing"):
                outputs.publish(made)
        memory = memory_so_far()
        public, internal = (_written(folder) for folder in folders)
    books = {name: file for name, file in internal.items() if name.endswith(".xlsx")}
    counts = {
        "figures": len(figures_of(pricing)),
        "cells": sum(map(cells_in, books.values())),
        "public bytes": _size(public),
        "public files": len(public),
        "internal bytes": _size(internal),
        "internal files": len(internal),
        "workbook bytes": _size(books),
    }
    return {"stages": asdict(stages), "memory": memory, "counts": counts}


def page(folder: str, model: str) -> dict[str, int]:
    """Bytes of one model's page and of its list of options, and how many files there are."""
    pricing, _ = priced_in(Path(folder), Stages())
    site = PublicSite(pricing)
    start = f"{next(iter(site.sheets))}/models/{model}"
    return {
        "page": len(site.makers[f"{start}.html"]()),
        "list": len(site.makers[f"{start}.js"]()),
        "files": len(site.makers),
    }


def preview(folder: str, changed: str) -> dict[str, float]:
    """CPU seconds of a preview's first reading and page, then of the same page of a changed yard.

    Args:
        folder: the yard's
        changed: the folder of the yard as it is after somebody saved a change
    """
    site, reading = _previewed(folder)
    path = f"{_first_folder(site)}/index.html"
    start = process_time()
    if not isinstance(site.page(path), bytes):
        raise RuntimeError(f"{path} can't be shown")
    first = process_time() - start
    start = process_time()
    after, _ = _previewed(changed)
    after.page(path)
    return {"reading": reading, "first page": first, "after a change": process_time() - start}


def _previewed(folder: str) -> tuple[Site, float]:
    start = process_time()
    found = read(PreviewOf(Path(folder)), "1", lambda trouble: None).found
    if not isinstance(found, Site):
        raise RuntimeError(f"{folder} can't be previewed: {found}")
    return found, process_time() - start


def _first_folder(site: Site) -> str:
    return next(f for f in ("en/home", "home/en") if f"{f}/index.html" in site)


def figures_of(pricing: Pricing) -> list[Figure]:
    """Every figure behind what the outputs show of every boat and option."""
    results: list[Figure] = []
    for item in _priced(pricing):
        made = item.assembly
        results += [item.list_price, item.recommended, made.cost, made.mass, made.all_hours]
        for sale in item.sales.values():
            results += [sale.contribution_fraction, sale.margin_fraction, sale.holds, sale.breach]
    return in_order(results)


def _priced(pricing: Pricing) -> list[Any]:
    return [i for model in pricing.models.values() for i in (model.boat, *model.options.values())]


def cells_in(book: bytes) -> int:
    """Cells of a workbook, those included that show only a style."""
    with zipfile.ZipFile(BytesIO(book)) as archive:
        sheets = [name for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
        return sum(len(_CELL.findall(archive.read(name))) for name in sheets)


def _written(folder: Path) -> dict[str, bytes]:
    return {name: (folder / name).read_bytes() for name in written_in(folder).digests}


def _size(files: Mapping[str, bytes]) -> int:
    return sum(map(len, files.values()))
