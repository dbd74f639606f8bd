"""All that can be told of what it really took, gathered once for whoever shows it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from quoter.actuals.after import AfterCalculation, Quoted, after_calculations
from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals
from quoter.actuals.estimates import Estimates, estimates_of
from quoter.actuals.proposals import Proposal, proposals
from quoter.actuals.summaries import DIMENSIONS, in_month, summary_of
from quoter.catalogue.adding import ACTUALS
from quoter.catalogue.booked import JobRow
from quoter.catalogue.booked_files import read_booked
from quoter.figures import Figure
from quoter.pricing.price import Pricing
from quoter.problems import Problem, Problems

# What each job was sold for that names a quote, by its number, and what is wrong with the others.
Sold = Callable[[Iterable[JobRow]], tuple[Mapping[str, Quoted], Iterable[Problem]]]


@dataclass(frozen=True, slots=True)
class Account:
    """What was booked held against standard, each job's after-calculation by its number, how good
    the estimates are, and which better standards the data support."""

    actuals: Actuals
    after: Mapping[str, AfterCalculation]
    estimates: Estimates
    proposals: tuple[Proposal, ...] = ()


def at_list_prices(jobs: Iterable[JobRow]) -> tuple[Mapping[str, Quoted], Iterable[Problem]]:
    """No job's quote is known: each is held against the price list."""
    return {}, ()


def is_booked(folder: Path) -> bool:
    """Whether a catalogue has tables of what was booked."""
    return (folder / ACTUALS).is_dir()


def compared_of(folder: Path, pricing: Pricing) -> tuple[Actuals | None, list[Problem]]:
    """What was booked up to the catalogue's day held against standard, and warnings; none where
    nothing is booked.

    Rows that were read with the catalogue are not read again: of these it told the warnings.

    Args:
        folder: the catalogue's
        pricing: of all its models
    Raises:
        CatalogueError: what was booked has faults, all at once.
    """
    if not is_booked(folder):
        return None, []
    catalogue, problems = pricing.catalogue, Problems()
    booked = None if catalogue.settings else catalogue.booked  # what if may be of what rows name
    if booked is None:
        booked = read_booked(folder, catalogue.records, problems)
        problems.stop_if_any()
    return compare(pricing, booked, folder), problems.warnings


def account_from(actuals: Actuals, quoted: Mapping[str, Quoted] | None = None) -> Account:
    """All that is told of what is compared.

    Args:
        actuals: what is compared
        quoted: what jobs were sold for, by their numbers
    """
    after = after_calculations(actuals, quoted or {})
    estimates = estimates_of(actuals, quoted or {})
    return Account(actuals, after, estimates, proposals(actuals, estimates))


def account_of(
    folder: Path, pricing: Pricing, sold: Sold = at_list_prices
) -> tuple[Account | None, list[Problem]]:
    """All of it up to the catalogue's day, and warnings; none where nothing is booked.

    Args:
        folder: the catalogue's
        pricing: of all its models
        sold: says what jobs were sold for
    Raises:
        CatalogueError: what was booked has faults, all at once.
    """
    actuals, warnings = compared_of(folder, pricing)
    if actuals is None:
        return None, []
    quoted, wrong = sold(() if actuals.booked is None else actuals.booked.jobs)
    problems = Problems()
    problems.extend([*warnings, *(replace(one, warning=True) for one in wrong)])
    return account_from(actuals, quoted), problems.warnings


def figures_of(account: Account) -> Iterator[Figure]:
    """All that may be asked why it is so: sums, variances, what is compared, accounts of jobs.

    A sum of a month has the month in its key, such as ``actual.sum.2026-09.kind.efficiency``.
    """
    actuals = account.actuals
    yield from _sums(actuals)
    for job in account.after.values():
        yield from (job.price, job.standard, job.cost, job.planned, job.left)
        yield from (figure for row in job.rows for figure in (row.standard, row.actual))
    for one in actuals.compared:
        yield from (one.actual, one.standard)
        yield from (line.amount for line in one.lines)
        found = (one.actual_quantity, one.standard_quantity)
        yield from (figure for figure in found if figure is not None)
    for missing in actuals.unbooked:
        yield from (missing.quantity, missing.standard)


def _sums(actuals: Actuals) -> Iterator[Figure]:
    for dimension in DIMENSIONS:
        for within in ("", *actuals.months):
            lines = in_month(actuals.lines, within) if within else actuals.lines
            summary = summary_of(actuals, dimension, lines, within)
            yield from (summary.total, *(each.amount for each in summary.sums))
