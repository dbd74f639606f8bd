"""The page of an operation: what it took against its standard, job by job, and what that says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from quoter.actuals.account import Account
from quoter.actuals.estimates import Estimate, Sample
from quoter.actuals.proposals import Effect, Proposal
from quoter.pages.actuals.names import Names
from quoter.pages.variance_charts import Dots, dots

EFFECTS = 6  # of a proposal that are shown
NARROWEST = 0.1  # beside the least and the largest ratio of a chart


@dataclass(frozen=True, slots=True)
class OperationView:
    """An operation, or a station where operations are not booked, with data.

    `part` is empty where it is one of several parts; `parts` then has the name of each sample's.
    """

    estimate: Estimate
    name: str
    part: str
    parts: Sequence[str]
    href: str
    proposals: Sequence[Proposal]

    @property
    def jobs(self) -> int:
        """How many jobs have data."""
        return len({sample.job for sample in self.estimate.samples})

    @property
    def off(self) -> bool:
        """Whether the data say that the standard is not what it takes."""
        ratio = self.estimate.ratio
        return ratio is not None and not ratio.low <= 1 <= ratio.high


def operations_of(account: Account, names: Names) -> list[OperationView]:
    """Every operation with data, then every station, those furthest from standard first."""
    found = []
    for one in (*account.estimates.operations, *account.estimates.stations):
        if not one.samples:
            continue
        proposals = [each for each in account.proposals if _about(each, one)]
        part = names.part(one.part) if one.part else ""
        keys = [sample.part for sample in one.samples]
        parts = [names.part(key) if key else "" for key in keys] if len({*keys}) > 1 else []
        page = names.operation_page(one)
        found.append(OperationView(one, one.name, "" if parts else part, parts, page, proposals))
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
        "moved": {each.key: _largest(each.effects) for each in view.proposals},
        "estimate": view.estimate,
        "chart": ratios_of(samples) if view.parts else hours_of(samples),
    }


def hours_of(samples: Sequence[Sample]) -> Dots:
    """Hours a piece by job over the standard of each, and a band up to where its P80 lies."""
    return dots(
        [sample.job for sample in samples],
        [sample.actual for sample in samples],
        [sample.standard for sample in samples],
        _band(samples, [1.0] * len(samples)),
        [bool(sample.outlier) for sample in samples],
    )


def ratios_of(samples: Sequence[Sample]) -> Dots:
    """The same in parts of the standard, for pieces that should not take the same time."""
    ratios = [sample.actual / sample.standard for sample in samples]
    return dots(
        [sample.job for sample in samples],
        ratios,
        [1.0] * len(samples),
        _band(samples, [sample.standard for sample in samples]),
        [bool(sample.outlier) for sample in samples],
        least=max(0.0, min([*ratios, 1.0]) - NARROWEST),
    )


def _band(samples: Sequence[Sample], by: Sequence[float]) -> list[tuple[float, float]]:
    """From the standard of each to its P80, over a number; nothing where one has none."""
    found = []
    for sample, each in zip(samples, by, strict=True):
        if sample.p80 is None:
            return []
        low, high = sorted((sample.standard, sample.p80))
        found.append((low / each, high / each))
    return found


def _largest(effects: Sequence[Effect]) -> list[Effect]:
    """What a proposal moves most, as a part of its cost."""

    def size(effect: Effect) -> float:
        cost = effect.cost.value
        return -abs(effect.new_cost - cost) / cost if cost else 0.0

    return sorted(effects, key=size)[:EFFECTS]
