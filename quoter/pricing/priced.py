"""A catalogue read, checked, costed and priced in one go: what every command begins with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from quoter.catalogue.load import load_catalogue, read_as_of
from quoter.catalogue.prices import Catalogue
from quoter.costing.rollup import roll_up
from quoter.plausibility.built import built
from quoter.plausibility.meant import Doubts
from quoter.plausibility.walk import doubts_of, left_over
from quoter.pricing.doubtful import price_warnings
from quoter.pricing.earlier import priced_on
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import CatalogueError, Problem, Problems

FITS = ("does-not-fit", "fibre-fraction")  # what one wrong film, gap or stack makes of many parts
MANY = 3


def price_catalogue(
    folder: Path,
    as_of: date | None = None,
    *,
    strict: bool = False,
    settings: Sequence[str] = (),
    only: str = "",
    booked: bool = False,
    instead: Mapping[str, bytes] | None = None,
) -> tuple[Pricing, list[Problem]]:
    """Read, check, cost and price a catalogue; also returns its warnings.

    Args:
        folder: the catalogue's
        as_of: the day asked about (by default the catalogue's own)
        strict: whether warnings stop it
        settings: what if something were otherwise, each as KEY=VALUE
        only: the one model to cost, where no other is asked about; all if there is no such model
        booked: whether what was booked is read and checked, too
        instead: files by name that take the place of the folder's own
    Raises:
        CatalogueError: with every problem; in strict mode with the warnings too.
    """
    catalogue, warnings = load_catalogue(folder, as_of, settings, instead, booked=booked)
    problems = Problems()
    doubts = doubts_of(catalogue)
    problems.extend(problem for problem in doubts.found if not problem.warning)
    costing = roll_up(catalogue, problems, only if only in catalogue.records.models else "")
    built(costing, doubts)
    _stop_if_any(problems, doubts, catalogue)
    pricing = set_prices(costing)
    problems.extend([*warnings, *price_warnings(pricing, doubts)])
    problems.extend(left_over(catalogue, doubts, whole=not only))
    problems.gather()
    problems.quote(catalogue.excerpt)
    problems.stop_if_any()
    if strict and problems.warnings:
        raise CatalogueError(problems.warnings)
    return pricing, problems.warnings


def _stop_if_any(problems: Problems, doubts: Doubts, catalogue: Catalogue) -> None:
    """Stop where a costing is impossible, with what is unusual: it may well be the cause.

    Raises:
        CatalogueError: with every fault, and the warnings of values.
    """
    errors = problems.errors
    if errors:
        told = Problems()
        told.extend(_together(errors) if doubts.unexplained else errors)
        told.extend([*problems.warnings, *doubts.found])
        told.gather()
        told.quote(catalogue.excerpt)
        raise CatalogueError([*told.errors, *told.warnings])


def _together(errors: list[Problem]) -> list[Problem]:
    """Many parts that do not fit in one line: what is unusual is likely the cause of them all."""
    fits = [error for error in errors if error.code in FITS]
    if len(fits) <= MANY:
        return errors
    what = f"{fits[0].what}; {len(fits) - 1} more that do not fit or fill"
    first = replace(fits[0], what=what, hint="put right what is unusual first: then each is told")
    return [first, *(error for error in errors if error.code not in FITS)]


def at_last_list(folder: Path, pricing: Pricing) -> Pricing | None:
    """The catalogue priced on the day of the price list before, to compare with; if there is one
    and everything had a price that day. Where settings changed it or a value was accepted since, it
    is read anew."""
    last, records = pricing.catalogue.last_list, pricing.catalogue.records
    if last is None:
        return None
    moved = any(last < row.date <= pricing.catalogue.as_of for row in records.accepted)
    if pricing.catalogue.settings or moved:
        records, _ = read_as_of(folder, last, Problems())
    return priced_on(records, last)
