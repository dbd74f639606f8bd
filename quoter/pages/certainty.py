"""How sure costs are and what could move them: for an option's page, and as data for programs."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from quoter.analysis.findings import ModelFindings
from quoter.analysis.ranges import WRITTEN, Varying
from quoter.analysis.risk import SAMPLES, Risk
from quoter.analysis.sensitivity import RISE, Effect
from quoter.figures import Figure
from quoter.pages.charts import Bars, Span, bars
from quoter.pages.figured import decimal
from quoter.phrases import phrase
from quoter.pricing.price import Priced

MOST_EFFECTS = 15
MOST_CAUSES = 15
MOST_GROUPS = 8
DIGITS = 6  # significant ones of what was drawn; more than the draws can tell


@dataclass(frozen=True, slots=True)
class Lever:
    """What an input may do to a cost, and how many other options of the boat it moves."""

    effect: Effect
    others: int


def certainty_of(asked: ModelFindings, priced: Priced) -> dict[str, Any]:
    """What the page of an option shows of what moves its cost and how sure it is."""
    cost = priced.assembly.cost
    every, risk = asked.effects(cost), asked.risks[cost]
    effects = every[:MOST_EFFECTS]
    causes = list(risk.shares[:MOST_CAUSES])
    causes += [s for s in risk.shares[MOST_CAUSES:] if s.varying.source == WRITTEN]
    groups = risk.groups[:MOST_GROUPS]
    exact = Counter(asked.exact[figure] for figure in asked.slopes(cost) if figure in asked.exact)
    return {
        "rise": RISE,
        "draws": SAMPLES,
        "inputs": len(every),
        "levers": [Lever(each, asked.shared_by(each.figure) - 1) for each in effects],
        "lever_bars": _from_to([e.low for e in effects], [e.high for e in effects]),
        "risk": risk,
        "causes": causes,
        "cause_bars": bars([share.share for share in causes]),
        "groups_told": groups,
        "group_bars": bars([share for _, share in groups]),
        "exact": exact.most_common(),
    }


def _from_to(lows: Sequence[float], highs: Sequence[float]) -> Bars:
    """Bars that reach from one value to another, on one scale with its zero."""
    ends = bars([*lows, *highs])
    spans = []
    for one, other in zip(ends.spans[: len(lows)], ends.spans[len(lows) :], strict=True):
        start = min(one.start, other.start)
        end = max(one.start + one.width, other.start + other.width)
        spans.append(Span(start, end - start))
    return Bars(tuple(spans), ends.zero, None)


def certainty_json(asked: ModelFindings) -> bytes:
    """How sure a model's costs are, and the range of every input behind them with its reason."""
    record = {
        "model": str(asked.model.model.id),
        "currency": asked.pricing.catalogue.currency,
        "draws": SAMPLES,
        "costs": {
            item.assembly.recipe.key: _cost(item, asked.risks[item.assembly.cost])
            for item in asked.model.everything
        },
        "inputs": {figure.key: _input(varying) for figure, varying in asked.varying.items()},
        "exact": {figure.key: why for figure, why in asked.exact.items()},
    }
    # A line for each block: with an indent for every level it would take ten times as long.
    blocks = ",\n".join(
        f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}"
        for key, value in record.items()
    )
    return f"{{\n{blocks}\n}}\n".encode()


def _cost(item: Priced, risk: Risk) -> dict[str, Any]:
    numbers = {
        "mean": risk.mean,
        "deviation": risk.deviation,
        "p10": risk.p10,
        "p50": risk.p50,
        "p80": risk.p80,
        "p90": risk.p90,
        "contingency_to_p80": risk.contingency,
    }
    return {
        "name": item.assembly.name,
        "cost": float(decimal(item.assembly.cost)),
        **{name: _rounded(value) for name, value in numbers.items()},
        "less_than_floor": risk.beyond,
        "shares_are": phrase("Shapley's") if risk.bent else phrase("of straight lines"),
        "sources": {each.name: [each.inputs, _rounded(each.share)] for each in risk.sources},
        "groups": {name: _rounded(share) for name, share in risk.groups},
        "shares": {share.figure.key: _rounded(share.share) for share in risk.shares},
    }


def _input(varying: Varying) -> dict[str, Any]:
    spread, group = varying.spread, varying.group
    return {
        "label": varying.figure.label,
        "unit": str(varying.figure.unit),
        "low": spread.low,
        "likely": spread.likely,
        "high": spread.high,
        "shape": spread.shape,
        "range": varying.source,
        "why": varying.reason,
        "moves_with": group.words if group else None,
        "correlation": group.correlation if group else None,
        "place": _place(varying.figure),
    }


def _place(figure: Figure) -> str:
    return str(figure.origin.place) if figure.origin is not None else ""


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")
