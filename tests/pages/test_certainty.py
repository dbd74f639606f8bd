"""What moves a cost and how sure it is, on an option's page and as data."""

from __future__ import annotations

import json
import re

import pytest

from quoter.analysis.findings import Findings
from quoter.figures.graph import evaluate
from quoter.pages.certainty import MOST_EFFECTS
from tests.outputs import question_pages
from tests.pages.asked import asked
from tests.pages.parsed import Page
from tests.pages.test_questions import row_of, two


@pytest.fixture(scope="module")
def findings(tmp_path_factory: pytest.TempPathFactory) -> Findings:
    return Findings(asked(tmp_path_factory.mktemp("asked")))


@pytest.fixture(scope="module")
def pages(findings: Findings) -> dict[str, bytes]:
    return question_pages(findings)


def test_effects_are_ranked_and_right(findings: Findings, pages: dict[str, bytes]) -> None:
    cutter = findings.pricing.models["cutter"]
    cost = cutter.options["side_door"].assembly.cost
    effects = findings.of(cutter).effects(cost)
    sizes = [effect.swing for effect in effects[:MOST_EFFECTS]]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[-1] >= max(effect.swing for effect in effects[MOST_EFFECTS:])
    for effect in effects[:MOST_EFFECTS]:
        step = effect.figure.value * 1e-5
        low, high = (
            evaluate([cost], {effect.figure: effect.figure.value + s})[0] for s in (-step, step)
        )
        slope = (high - low) / (2 * step)
        assert effect.effect == pytest.approx(slope * effect.figure.value * effect.rise, rel=1e-6)
        assert effect.varying is not None
        spread = effect.varying.spread
        for end, told in ((spread.low, effect.low), (spread.high, effect.high)):
            anew = evaluate([cost], {effect.figure: end})[0] - cost.value
            assert told == pytest.approx(anew, rel=1e-9, abs=1e-9)
    page = Page(pages["cutter/side_door.html"])
    rows = [row_of(page, e.figure.label, "effects-table") for e in effects[:15]]
    for rank, (effect, row) in enumerate(zip(effects, rows, strict=False), 1):
        assert row.startswith(f"{rank} {effect.figure.label}")
        assert effect.figure.origin is not None
        assert row.endswith(str(effect.figure.origin.place))
        for value in (effect.effect, effect.low, effect.high):
            assert two(abs(value)) in row
    assert len(list(page.all("svg", class_="bars"))) >= len(rows)
    passes = [effect for effect in effects if ", passes" in effect.figure.label]
    assert passes
    for effect in passes:  # 97 % can't rise by a tenth
        assert effect.rise == pytest.approx(1 / effect.figure.value - 1)
        assert effect.high == pytest.approx(
            effect.slope * min(0.01, effect.rise) * effect.figure.value
        )
    assert "The largest lever is " in page.one("main").text
    assert not re.search(r"largest lever is [^:]*passes", page.one("main").text)


def test_risk_is_told_with_its_causes(findings: Findings, pages: dict[str, bytes]) -> None:
    cutter = findings.pricing.models["cutter"]
    risk = findings.of(cutter).risks[cutter.options["side_door"].assembly.cost]
    assert risk.p10 < risk.p50 < risk.p90
    written = [row for row in risk.shares if row.varying.source == "as written"]
    assert [row.figure.label.partition(",")[0] for row in written] == ["Hinge", "Hand resin"]
    assert sum(row.share for row in risk.shares) == pytest.approx(1)
    page = Page(pages["cutter/side_door.html"])
    facts = [dd.text for dd in page.all("dd")]
    numbers = [risk.p10, risk.p50, risk.p80, risk.p90, risk.mean, risk.deviation]
    assert facts[:6] == [two(value) for value in numbers]
    assert risk.p50 < risk.p80 < risk.p90
    assert facts[7] == two(risk.contingency)
    hinge = row_of(page, "Hinge", "ranges-table")
    assert "as written: [" in hinge
    assert " hardware prices " in hinge
    assert "3.10 EUR/kg 3.35 EUR/kg 3.90 EUR/kg triangular as written: [3.1 to 3.9 triangular]" in (
        row_of(page, "Hand resin", "ranges-table")
    )
    assert f"{len(risk.shares)} inputs that vary, 2 have a range written" in page.one("main").text
    data = json.loads(pages["cutter/certainty.json"])
    told = data["costs"][cutter.options["side_door"].assembly.recipe.key]
    assert told["p80"] == pytest.approx(risk.p80, rel=1e-5)
    resin = next(
        one for key, one in data["inputs"].items() if "hand_resin" in key and "price" in key
    )
    assert (resin["low"], resin["likely"], resin["high"]) == (3.10, 3.35, 3.90)
    assert (resin["shape"], resin["range"]) == ("triangular", "as written")
    assert resin["place"] == "prices/2026-02-01.csv:3 price"
