"""The page of an operation: what it took against its standard, job by job, and what that says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from quoter.actuals.account import Account
from quoter.actuals.estimates import Estimate, Sample
from quoter.actuals.proposals import Proposal
from quoter.pages.actuals.names import Names
from quoter.pages.variance_charts import Dots, dots


@dataclass(frozen=True, slots=True)
class OperationView:
    """An operation, or a station where operations are not booked, with data."""

    estimate: Estimate
    name: str
    part: str
    href: str
    proposals: Sequence[Proposal]


def operations_of(account: Account, names: Names) -> list[OperationView]:
    """Every operation with data, then every station, those furthest from standard first."""
    found = []
    for one in (*account.estimates.operations, *account.estimates.stations):
        if not one.samples:
            continue
        proposals = [each for each in account.proposals if _about(each, one)]
        part = names.part(one.part) if one.part else ""
        found.append(OperationView(one, one.name, part, names.operation_page(one), proposals))
    return sorted(found, key=_far, reverse=True)


def _far(view: OperationView) -> float:
    ratio = view.estimate.ratio
    return -1.0 if ratio is None else abs(ratio.likely - 1)


def _about(proposal: Proposal, one: Estimate) -> bool:
    return proposal.key == one.key or proposal.key.startswith(f"{one.key}.")


def operation_context(view: OperationView) -> dict[str, Any]:
    """What the page of an operation shows."""
    samples = view.estimate.samples
    return {
        "view": view,
        "estimate": view.estimate,
        "chart": chart_of(samples),
        "rates": sorted({driver for sample in samples for driver in sample.drivers}),
    }


def chart_of(samples: Sequence[Sample]) -> Dots:
    """Actual by job over the standard of each, and the band from there to where its P80 lies."""
    known = [(sample.standard, sample.p80) for sample in samples if sample.p80 is not None]
    band = [(min(low, high), max(low, high)) for low, high in known]
    return dots(
        [sample.job for sample in samples],
        [sample.actual for sample in samples],
        [sample.standard for sample in samples],
        band if len(band) == len(samples) else (),
        [bool(sample.outlier) for sample in samples],
    )
