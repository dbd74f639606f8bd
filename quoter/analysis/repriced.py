"""Why a price is proposed or held, in a few words."""

from __future__ import annotations

from quoter.catalogue.factory import Repricing
from quoter.pricing.proposals import Proposal


def reason(proposal: Proposal, rule: Repricing) -> str:
    """The policy's reason, and what becomes of a margin below the floor."""
    return _moved(proposal, rule) + _floor(proposal)


def _moved(proposal: Proposal, rule: Repricing) -> str:
    if proposal.published is None or proposal.moved is None:
        return "not published yet, so it follows its cost"
    away = abs(proposal.moved.value)
    if away <= rule.hold_within.value:
        return f"held: within {_percent(rule.hold_within.value)} of the target"
    if proposal.moved.value < 0 and not rule.may_fall:
        return "held: leaves more than the target"
    if not proposal.changes:
        return "held: no rounded price lies between"
    if away > rule.largest_step.value:
        return f"moves by one step, at most {_percent(rule.largest_step.value)}"
    return "moves to the target"


def _floor(proposal: Proposal) -> str:
    if proposal.breach:
        return "; still below the floor" if proposal.changes else "; below the floor"
    return "; above the floor again" if proposal.breached else ""


def _percent(fraction: float) -> str:
    return f"{fraction * 100:g} %"
