"""All that can be told of what it really took, gathered once for whoever shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from quoter.actuals.after import AfterCalculation
from quoter.actuals.compared import Actuals
from quoter.actuals.estimates import Estimates
from quoter.actuals.proposals import Proposal


@dataclass(frozen=True, slots=True)
class Account:
    """What was booked held against standard, each job's after-calculation by its number, how good
    the estimates are, and which better standards the data support."""

    actuals: Actuals
    after: Mapping[str, AfterCalculation]
    estimates: Estimates
    proposals: tuple[Proposal, ...] = ()
