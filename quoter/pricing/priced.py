"""A catalogue read, checked, costed and priced in one go: what every command begins with."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from quoter.catalogue.load import load_catalogue
from quoter.costing.rollup import roll_up
from quoter.pricing.doubtful import price_warnings
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import CatalogueError, Problem, Problems


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


def at_last_list(folder: Path, pricing: Pricing) -> Pricing | None:
    """The catalogue priced on the day of the price list before, to compare with; if there is one.

    It is read anew, since figures of one reading are one and the same in both.
    """
    last = pricing.catalogue.last_list
    try:
        return None if last is None else price_catalogue(folder, last)[0]
    except CatalogueError:
        return None  # not everything had a price yet that day
