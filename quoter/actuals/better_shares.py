"""Better efficiencies, losses, yields and shares of rework."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.actuals.compared import Actuals
from quoter.actuals.drawn import Better
from quoter.actuals.estimates import Estimates
from quoter.actuals.evidence import Evidence


def better_shares(actuals: Actuals, evidence: Evidence, estimates: Estimates) -> Iterator[Better]:
    """All of them that data contradict."""
    yield from ()
