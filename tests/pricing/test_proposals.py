"""Proposed against published prices: held, moved, bounded; and never changed by a cost alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.importing.reprice import repricing_of
from quoter.pricing.price import Pricing
from quoter.pricing.proposals import Proposal, proposals_of, reason
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.demo import demo

HEAD = "date,market,model,option,list_price,note\n"
# The standard cost card costs 165.25 (OpenStax, Principles of Accounting vol. 2, 8.1).
COST = 165.25
OLD_ROUNDING = "rounding: {step: 0.01 USD, direction: nearest}"
POLICY = "rounding: {{step: 1 USD, direction: up}}\n  repricing: {}"
RULE = "{hold_within: 2 %, largest_step: 8 %}"
FALLING = "{hold_within: 2 %, largest_step: 8 %, may_fall: yes}"


def card(folder: Path, book: str, rule: str = RULE) -> Pricing:
    changes = {"yard.yaml": (OLD_ROUNDING, POLICY.format(rule))}
    return priced(write_catalogue(folder, {"price_book.csv": HEAD + book}, changes))


def proposal(pricing: Pricing, option: str = OPTION) -> Proposal:
    (found,) = (p for p in proposals_of(pricing, repricing_of(pricing)) if p.line[2] == option)
    return found


def published(folder: Path, price: str, rule: str = RULE) -> tuple[float, str]:
    """What is proposed for the card's unit published at a price, and why."""
    pricing = card(folder, f"2026-01-01,,,{OPTION},{price} USD,\n", rule)
    found = proposal(pricing)
    return found.proposed.value, reason(found, repricing_of(pricing))


# 165.25 at a margin of 20 % wants 206.5625; the yard rounds up to whole dollars: 207.
@pytest.mark.parametrize(
    ("price", "rule", "expected", "why"),
    [
        ("204", RULE, 204.0, "held: within 2 % of the target"),
        ("202", RULE, 207.0, "moves to the target"),
        ("190", RULE, 205.0, "moves by one step, at most 8 %"),  # 190 * 1.08 = 205.2
        ("150", RULE, 162.0, "moves by one step, at most 8 %; still below the floor"),
        ("183", RULE, 197.0, "moves by one step, at most 8 %; above the floor again"),
        ("260", RULE, 260.0, "held: leaves more than the target"),
        ("260", FALLING, 240.0, "moves by one step, at most 8 %"),  # 260 * 0.92 = 239.2
        ("215", FALLING, 207.0, "moves to the target"),
        ("9", RULE, 9.0, "held: no rounded price lies between; below the floor"),  # 9.72
    ],
)
def test_a_published_price_is_held_or_moved_by_the_policy(
    tmp_path: Path, price: str, rule: str, expected: float, why: str
) -> None:
    assert published(tmp_path / "c", price, rule) == (expected, why)


def test_what_is_not_published_is_proposed_at_its_recommendation(tmp_path: Path) -> None:
    pricing = card(tmp_path / "c", "")
    found = proposal(pricing)
    assert (found.published, found.proposed.value, found.changes) == (None, 207.0, True)
    assert found.line == ("", MODEL, OPTION)
    assert reason(found, repricing_of(pricing)) == "not published yet, so it follows its cost"


def test_a_line_for_all_models_aims_at_the_target_over_the_planned_units() -> None:
    rule = repricing_of(demo())
    (roof,) = (p for p in proposals_of(demo(), rule) if p.line[2] == "roof_panel")
    models = [demo().models[on.model] for on in roof.covered]
    assert len(models) == 3
    rows = demo().catalogue.records.volumes
    boats = {str(r.model): r.boats.value for r in rows if r.boats is not None}
    takes = {
        str(r.model): r.take_rate.value
        for r in rows
        if r.option == "roof_panel" and r.take_rate is not None
    }
    units = [boats[on.model] * takes[on.model] for on in roof.covered]
    costs = [m.options["roof_panel"].assembly.cost.value for m in models]
    mean = sum(u * c for u, c in zip(units, costs, strict=True)) / sum(units)
    # 5 % provisions, 30 % target, 20 % dealer discount: the demonstration's policy.
    assert roof.wanted.value == pytest.approx(mean / 0.65 / 0.8, rel=1e-12)


def test_the_demonstration_proposes_one_price_and_it_is_the_one_below_its_floor() -> None:
    proposals = proposals_of(demo(), repricing_of(demo()))
    moving = [p for p in proposals if p.changes and p.published is not None]
    assert [p.line for p in moving] == [("", "", "roof_panel")]
    assert moving[0].breached
    assert not moving[0].breach
    assert {p.line[2] for p in proposals if p.published is None} == {"ramp_hoist"}


def test_a_market_s_own_line_is_proposed_in_its_currency(tmp_path: Path) -> None:
    base = Path(__file__).parents[2] / "demo_catalog"
    folder = write_catalogue(tmp_path / "c", {}, base=base)
    book = folder / "price_book.csv"
    line = "2026-09-01,north,,side_pair,90000 NOK,\n"
    book.write_text(book.read_text("utf-8") + line, encoding="utf-8")
    pricing = priced(folder)
    proposals = {p.line: p for p in proposals_of(pricing, repricing_of(pricing))}
    there, home = proposals["north", "", "side_pair"], proposals["", "", "side_pair"]
    assert {line[2] for line in proposals if line[0] == "north"} == {"side_single", "side_pair"}
    assert (there.currency, home.currency) == ("NOK", "EUR")
    # One euro buys 11.68 crowns on 2026-11-01 (demonstration).
    assert there.wanted.value == pytest.approx(home.wanted.value * 11.68, rel=1e-12)
    assert there.proposed.value % 100 == 0
