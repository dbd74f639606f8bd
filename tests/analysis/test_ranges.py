"""What an input may be: by itself, its kind, its history or the house, and never beyond what can
be."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.findings import Findings
from quoter.analysis.kinds import BARE
from quoter.analysis.ranges import (
    HISTORY,
    HOUSE,
    KIND,
    UNKNOWN,
    WRITTEN,
    Ranges,
    Varying,
    largest_steps,
    lower_limit,
    upper_limit,
)
from quoter.analysis.sensitivity import a_rise, effects_on, live_effects
from quoter.catalogue.certainty import BASES, KINDS
from quoter.figures import Bounds, Figure, Origin
from quoter.figures.graph import evaluate, inputs_of
from quoter.pricing.price import Pricing
from quoter.problems import Place
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue

CERTAINTY = """  certainty:
    ranges:
      - {of: time, low: 10 %, high: 30 %}
      - {of: time, basis: timed, low: 4 %, high: 6 %}
      - {of: efficiency, low: 10 %, high: 30 %}
    together:
      - {of: time, correlation: 35 %}
"""
POLICY = "  prices_stale_after_days:"
TIMES = "fixed: 4 h"


def found(folder: Path, **changes: tuple[str, str]) -> dict[str, Varying]:
    """Label -> range of each input of the cost card's option, with changes of its files."""
    made = priced(
        write_catalogue(folder, {}, {k.replace("__", "."): v for k, v in changes.items()})
    )
    cost = made.models[MODEL].options[OPTION].assembly.cost
    varying = Ranges(made.catalogue).varying(inputs_of([cost]))
    return {figure.key: one for figure, one in varying.items()}


def ending(every: dict[str, Varying], end: str) -> list[Varying]:
    return [one for key, one in every.items() if key.endswith(end)]


def test_without_a_policy_an_input_goes_by_the_house(tmp_path: Path) -> None:
    times = ending(found(tmp_path / "c"), ".fixed")
    below, above = KINDS["time"].house_range("similar")
    assert times
    for one in times:
        if one.kind == "time":
            likely = one.figure.value
            assert (one.spread.low, one.spread.high) == pytest.approx(
                (likely * (1 - below), likely * (1 + above))
            )
            assert one.source == HOUSE
            assert "time from a similar part, -15 % to +25 %, common practice" in one.reason


def test_the_policy_s_range_of_a_kind_comes_before_the_house_s(tmp_path: Path) -> None:
    every = found(tmp_path / "c", yard__yaml=(POLICY, f"{CERTAINTY}{POLICY}"))
    times = [one for one in ending(every, ".fixed") if one.kind == "time"]
    for one in times:
        likely = one.figure.value
        assert (one.spread.low, one.spread.high) == pytest.approx((likely * 0.9, likely * 1.3))
        assert one.source == KIND
        assert one.group is not None
        assert one.group.correlation == 0.35
        assert "yard.yaml:" in one.reason


def test_an_operation_may_be_timed_where_its_option_is_not(tmp_path: Path) -> None:
    every = found(
        tmp_path / "c",
        yard__yaml=(POLICY, f"{CERTAINTY}{POLICY}"),
        options__yaml=(TIMES, f"basis: timed, {TIMES}"),
    )
    parts = {
        round(one.spread.high / one.spread.likely, 6)
        for one in ending(every, ".fixed")
        if one.kind == "time"
    }
    assert parts == {1.3, 1.06}


def test_a_range_beside_the_value_comes_before_all_others(tmp_path: Path) -> None:
    every = found(
        tmp_path / "c",
        yard__yaml=(POLICY, f"{CERTAINTY}{POLICY}"),
        options__yaml=(TIMES, 'fixed: "4 h [3 to 9]"'),
    )
    (own,) = [one for one in ending(every, ".fixed") if one.source == WRITTEN]
    assert (own.spread.low, own.spread.high) == (3.0, 9.0)
    assert own.reason == "[3 to 9] beside it"
    assert own.group is not None, "it moves with the other times of its station"


def test_a_price_with_dated_rows_enough_goes_by_its_largest_steps(tmp_path: Path) -> None:
    folder = tmp_path / "c"
    write_catalogue(folder, {}, {})
    newest = folder / "prices" / "2026-01-01.csv"
    head, *rows = newest.read_text(encoding="utf-8").splitlines()
    (row,) = [row for row in rows if row.startswith("direct_material,")]
    for day, earlier in (("2025-09-01", "5.00"), ("2025-11-01", "5.50")):
        old = row.replace("5.25", earlier)
        (folder / "prices" / f"{day}.csv").write_text(f"{head}\n{old}\n", encoding="utf-8")
    made = priced(folder)
    cost = made.models[MODEL].options[OPTION].assembly.cost
    varying = Ranges(made.catalogue).varying(inputs_of([cost]))
    (price,) = [one for one in varying.values() if one.kind == "price"]
    assert price.source == HISTORY
    # 5.00 to 5.50 is a rise of 10 %, 5.50 to 5.25 a fall of 4.545 %.
    assert price.spread.high == pytest.approx(5.25 * 1.1)
    assert price.spread.low == pytest.approx(5.25 * 5.25 / 5.50)
    assert price.reason == "3 dated rows; largest steps -4.55 % to +10 %"


@pytest.mark.parametrize(
    ("values", "steps"),
    [
        ([100.0, 110.0], None),  # one move
        ([100.0, 100.0, 100.0], None),  # none
        ([100.0, 110.0, 99.0], (0.1, 0.1)),
        ([100.0, 125.0, 150.0], (0.2, 0.25)),  # only up: as far down, the way back
    ],
)
def test_steps_of_a_history(values: list[float], steps: tuple[float, float] | None) -> None:
    assert largest_steps(values) == (None if steps is None else pytest.approx(steps))


def test_every_number_behind_a_cost_is_of_a_kind_or_exact_for_a_reason(
    demo_pricing: Pricing, small_pricing: Pricing
) -> None:
    """A key that nobody listed, and that no unit tells, must be listed."""
    for pricing in (demo_pricing, small_pricing):
        findings = Findings(pricing)
        for model in pricing.models.values():
            reasons = findings.of(model).exact
            bare = {f.key: why for f, why in reasons.items() if why in (BARE, UNKNOWN)}
            assert bare == {}


def test_ranges_hold_their_value_and_stay_within_what_can_be(demo_pricing: Pricing) -> None:
    findings = Findings(demo_pricing)
    for model in demo_pricing.models.values():
        for figure, one in findings.of(model).varying.items():
            low, likely, high = one.spread.low, one.spread.likely, one.spread.high
            assert low <= likely <= high, figure.label
            assert low < high, figure.label
            assert figure.origin is not None
            least, most, above, below = figure.origin.bounds
            if least is not None:
                assert low > least if above else low >= least
            if most is not None:
                assert high < most if below else high <= most


def test_a_yield_may_be_all_and_no_more(tmp_path: Path) -> None:
    passes = ("fixed: 4 h}", "fixed: 4 h, passes: 99.5 %}")
    (one,) = ending(found(tmp_path / "c", options__yaml=passes), ".passes")
    assert (one.spread.low, one.spread.high) == pytest.approx((0.995 * 0.985, 1.0))


def test_what_may_only_come_near_its_limit_goes_half_way() -> None:
    """A loss of everything would make a cost without end."""
    origin = Origin(
        Place("materials.yaml", 3, 1, "loss"), "80 %", bounds=Bounds(0.0, 1.0, below=True)
    )
    loss = Figure(0.8, op="input", key="loss", label="loss", form="percent", origin=origin)
    assert upper_limit(loss) == pytest.approx(0.9)
    assert lower_limit(loss) is None


def test_each_kind_states_ranges_that_can_be() -> None:
    for word, kind in KINDS.items():
        for basis in BASES if kind.by_basis else ("",):
            low, high = kind.house_range(basis)
            assert 0 <= low < 1, word
            assert high > 0, word
    for word in ("time", "dimension", "quantity"):
        widths = [sum(KINDS[word].house_range(basis)) for basis in BASES]
        assert widths == sorted(widths, reverse=True), "timed is surer than drawn"


def limited(value: float) -> Figure:
    origin = Origin(Place("parts.yaml", 3, 1, "passes"), f"{value}", bounds=Bounds(0.0, 1.0, True))
    return Figure(value, op="input", key="passes", label="passes", form="percent", origin=origin)


@pytest.mark.parametrize(("value", "room"), [(0.98, 0.02 / 0.98), (1.0, 0.0), (0.5, 0.1)])
def test_a_rise_ends_where_the_input_can_rise_no_further(value: float, room: float) -> None:
    figure = limited(value)
    result = figure * 100.0
    (effect,) = effects_on(result)
    assert effect.rise == pytest.approx(room)
    assert effect.effect == pytest.approx(100 * value * room)
    rise = a_rise()
    (live,) = live_effects(result, [effect], rise, "k", "name")
    assert live.effect.value == pytest.approx(effect.effect)
    (more,) = evaluate([live.effect], {rise: 3.0})
    assert more == pytest.approx(100 * (1 - value))
