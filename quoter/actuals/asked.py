"""Every figure about what it really took, for who asks why one of them is what it is."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.actuals.account import Account
from quoter.actuals.compared import Actuals
from quoter.actuals.summaries import DIMENSIONS, in_month, summary_of
from quoter.figures import Figure


def figures_of(account: Account) -> Iterator[Figure]:
    """Sums, variances, what is compared, and the account of each job; rows stand behind them.

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
