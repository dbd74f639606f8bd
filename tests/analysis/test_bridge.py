"""The bridge: shares against published variances, against catalogues costed anew, and as laws."""

from __future__ import annotations

import math
from datetime import date
from itertools import permutations
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.analysis.bridge import Bridge, BridgeError, Change, bridge_of
from quoter.analysis.causes import shapley_weights, shares_of, swaps_of
from quoter.analysis.finding import finding
from quoter.figures import Figure
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.catalogues.edited import (
    EDITS,
    PASSES,
    RATE,
    RESIN,
    SHAPES,
    SMALL,
    TIME,
    WAGE,
    Edit,
    edited,
)
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.demo import DEMO

RELATIVE = 1e-9
ROUNDING = 1e-13  # of the cost: what differences of nearly equal costs lose
UNITS = 11_000  # made, in both published examples
EXAMPLES = settings(max_examples=15, deadline=None, derandomize=True, database=None)


def changes(bridge: Bridge) -> list[Change]:
    """Every change in a bridge: boats, options, totals and classes."""
    found = [bridge.total, *bridge.classes.values()]
    for model in bridge.models.values():
        found += [model.boat, model.total, *model.options.values(), *model.classes.values()]
    return found


def adds_up(change: Change) -> bool:
    slack = RELATIVE * abs(change.change) + ROUNDING * max(abs(change.old), abs(change.new))
    return abs(math.fsum(change.shares.values()) - change.change) <= slack


# Published variances


def card(folder: Path, price: str, amount: str, time: str, wage: str) -> Pricing:
    """The cost card with one material and one operation, no overhead."""
    options = f"""
        options:
          - id: {OPTION}
            name: One unit
            group: Worked example
            kind: fitting
            text: One unit of the standard cost card.
            lead_time: none
            goods:
              - {{item: direct_material, quantity: {amount}}}
            operations:
              - {{name: Making, station: assembly, fixed: {time}}}
        """
    stations = """
        stations:
          - id: assembly
            name: Assembly
            wage_group: assembly
            on_costs: 0 %
            efficiency: 100 %
            overhead: {base: labour hours, capacity: 1000 h, variable: 0 USD, fixed: 0 USD}
        """
    rows = f"direct_material,supplier,{price},\n"
    rows += "white,supplier,1 USD/kg,\nperoxide,supplier,1 USD/kg,\n"
    files = {
        "options.yaml": options,
        "stations.yaml": stations,
        "prices/2026-01-01.csv": f"material,supplier,price,note\n{rows}",
        "wages.csv": f"date,group,wage,note\n2026-01-01,assembly,{wage},\n",
    }
    return priced(write_catalogue(folder, files))


def test_material_variances_are_the_published_ones_with_the_joint_term_halved(
    tmp_path: Path,
) -> None:
    """OpenStax, Principles of Accounting vol. 2, 8.2: standard 8 oz at 0.85, 11,000 units made of
    89,000 oz that cost 74,760: price 890 F, quantity 850 U, total 40 F.

    The book prices at the actual quantity, so its price variance holds the whole joint term
    (change of price x change of quantity). The bridge gives each side half of it; the totals agree.
    """
    actual, spent, standard = 89_000, 74_760, 8 * UNITS
    before = card(tmp_path / "a", "0.85 USD/oz", "8 oz", "1 h", "20 USD/h")
    after = card(
        tmp_path / "b", f"{spent / actual!r} USD/oz", f"{actual / UNITS!r} oz", "1 h", "20 USD/h"
    )
    change = bridge_of(before, after).models[MODEL].options[OPTION]
    # 89,000 oz at 0.85 would be 75,650; the book rounds the price paid to 0.84, which is exact.
    assert spent / actual == pytest.approx(0.84)
    joint = (spent / actual - 0.85) * (actual - standard)
    assert joint == pytest.approx(-10)
    assert change.shares["prices.other"] * UNITS == pytest.approx(-890 - joint / 2, rel=1e-9)
    assert change.shares["recipes"] * UNITS == pytest.approx(850 + joint / 2, rel=1e-9)
    assert change.change * UNITS == pytest.approx(-40, rel=1e-8)
    assert adds_up(change)


def test_labour_variances_are_the_published_ones_with_the_joint_term_halved(
    tmp_path: Path,
) -> None:
    """OpenStax, Principles of Accounting vol. 2, 8.3: standard 1.5 h at 35, 11,000 units made in
    16,000 h that cost 565,600: rate 5,600 U, time 17,500 F, total 11,900 F. The book's figure
    prints 5,650 and U for the total: slips, as 565,600 - 16,000 x 35 and the sum show.
    """
    hours, paid, standard = 16_000, 565_600, 1.5 * UNITS
    before = card(tmp_path / "a", "1 USD/kg", "1 kg", "1.5 h", "35 USD/h")
    after = card(
        tmp_path / "b", "1 USD/kg", "1 kg", f"{hours / UNITS!r} h", f"{paid / hours!r} USD/h"
    )
    change = bridge_of(before, after).models[MODEL].options[OPTION]
    joint = (paid / hours - 35) * (hours - standard)
    assert joint == pytest.approx(-175)
    assert change.shares["wages"] * UNITS == pytest.approx(5_600 - joint / 2, rel=1e-9)
    assert change.shares["recipes"] * UNITS == pytest.approx(-17_500 + joint / 2, rel=1e-9)
    assert change.change * UNITS == pytest.approx(-11_900, rel=1e-9)
    assert adds_up(change)


# The weights


def test_weights_give_the_mean_over_all_orders() -> None:
    """By the definition: the mean, over all orders, of what a cause adds to those before it."""
    import numpy as np

    worth = np.array([0.0, 3.0, -1.0, 4.5, 2.0, 8.0, 0.5, 11.0])
    got = shapley_weights(3, np.arange(8)) @ worth
    for cause in range(3):
        added = []
        for order in permutations(range(3)):
            earlier = sum(1 << other for other in order[: order.index(cause)])
            added.append(worth[earlier | 1 << cause] - worth[earlier])
        assert got[cause] == pytest.approx(sum(added) / len(added))


# Causes


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.new)
def test_a_change_of_one_number_is_put_down_to_its_own_cause_alone(edit: Edit) -> None:
    bridge = bridge_of(edited({}), edited({edit: 71}))
    moved = {c for change in changes(bridge) for c, share in change.shares.items() if share}
    assert moved
    assert all(cause == edit.cause or cause.startswith(f"{edit.cause}.") for cause in moved)
    assert all(adds_up(change) for change in changes(bridge))


@pytest.mark.parametrize("edit", SHAPES, ids=lambda edit: edit.new)
@pytest.mark.parametrize("back", [False, True])
def test_a_change_of_shape_is_put_down_to_its_own_cause_alone(edit: Edit, back: bool) -> None:
    before, after = edited({}), edited({edit: None})
    bridge = bridge_of(after, before) if back else bridge_of(before, after)
    moved = {c for change in changes(bridge) for c, share in change.shares.items() if share}
    assert moved == {edit.cause}
    assert all(adds_up(change) for change in changes(bridge))


@pytest.mark.parametrize(
    "pair", [(RESIN, WAGE), (RESIN, PASSES), (WAGE, PASSES), (PASSES, TIME), (RATE, SHAPES[4])]
)
def test_shares_are_those_of_catalogues_costed_anew(pair: tuple[Edit, Edit]) -> None:
    """Two causes: each gets the mean of what it adds first and what it adds second, every state
    being a catalogue written and costed by itself. The last pair is a price that a supplier now
    asks per litre, while the rate of their currency moves."""
    one, other = pair
    neither, both = edited({}), edited({one: 71, other: 88})
    alone = {one: edited({one: 71}), other: edited({other: 88})}
    bridge = bridge_of(neither, both)
    for id, model in bridge.models.items():
        for option, change in model.options.items():
            cost = {
                edit: side.models[id].options[option].assembly.cost.value
                for edit, side in alone.items()
            }
            first, second = cost[one] - change.old, change.new - cost[other]
            assert change.shares[one.cause] == pytest.approx((first + second) / 2, abs=1e-9)


# Laws

numbers = st.integers(61, 98)
sides = st.fixed_dictionaries(
    {}, optional=dict.fromkeys(EDITS, numbers) | {edit: st.none() for edit in SHAPES}
)


def compatible(edits: dict[Edit, object]) -> dict[Edit, object]:
    """At most one edit of each text; the green gelcoat has one price, in one currency."""
    kept: dict[Edit, object] = {}
    for edit, number in edits.items():
        alike = [
            e for e in kept if e.file == edit.file and (e.old in edit.old or edit.old in e.old)
        ]
        greens = [e for e in (*kept, edit) if "green" in e.new or "USD" in e.new]
        if not alike and (len(greens) < 2 or edit not in greens):
            kept[edit] = number
    return kept


@EXAMPLES
@given(sides, sides, st.randoms(use_true_random=False))
def test_shares_add_up_whatever_changed_and_depend_on_no_order(
    old: dict[Edit, object], new: dict[Edit, object], random: Random
) -> None:
    before, after = edited(compatible(old)), edited(compatible(new))
    bridge = bridge_of(before, after)
    assert [change for change in changes(bridge) if not adds_up(change)] == []
    costs = {
        (id, option): (before.models[id].options[option].assembly.cost, item.assembly.cost)
        for id, model in after.models.items()
        for option, item in model.options.items()
    }
    names = list(next(iter(bridge.models.values())).boat.shares)
    random.shuffle(names)
    for (id, option), shares in zip(costs, reordered(before, after, costs, names), strict=True):
        change = bridge.models[id].options[option]
        for cause, share in shares.items():
            assert share == pytest.approx(
                change.shares[cause], rel=RELATIVE, abs=ROUNDING * abs(change.old)
            )


def reordered(
    before: Pricing,
    after: Pricing,
    costs: dict[tuple[str, str], tuple[Figure, Figure]],
    names: list[str],
) -> list[dict[str, float]]:
    swaps = {which: swaps_of(before.costing, after.costing, which) for which in (False, True)}
    pairs = costs.values()
    return shares_of([old for old, _ in pairs], [new for _, new in pairs], swaps, names)


@EXAMPLES
@given(sides, sides)
def test_the_way_back_undoes_every_share(old: dict[Edit, object], new: dict[Edit, object]) -> None:
    before, after = edited(compatible(old)), edited(compatible(new))
    there, back = bridge_of(before, after), bridge_of(after, before)
    for id, model in there.models.items():
        for option, change in model.options.items():
            undone = back.models[id].options[option]
            for cause, share in change.shares.items():
                slack = ROUNDING * abs(change.old)
                assert undone.shares[cause] == pytest.approx(-share, rel=RELATIVE, abs=slack)


def test_equal_catalogues_give_nothing_but_zeros(tmp_path: Path) -> None:
    other = priced(write_catalogue(tmp_path / "copy", {}, base=SMALL))
    bridge = bridge_of(priced(SMALL), other)
    assert bridge.causes == {}
    assert {share for change in changes(bridge) for share in change.shares.values()} == {0.0}
    assert all(change.change == 0 for change in changes(bridge))
    assert finding(bridge) == "Nothing changed: every boat and option costs what it did."


def test_the_demonstration_s_autumn_is_resin_and_exchange() -> None:
    (before, _), (after, _) = (
        price_catalogue(DEMO, day) for day in (date(2026, 9, 1), date(2026, 11, 1))
    )
    bridge = bridge_of(before, after)
    assert [change for change in changes(bridge) if not adds_up(change)] == []
    assert next(iter(bridge.causes)) == "prices.resin"
    assert finding(bridge).startswith("Resin prices account for ")
    lid = bridge.models["weekender_86"].options["deck_hatch"]
    assert {cause for cause, _ in lid.largest[:3]} >= {"prices.resin", "exchange"}
    assert "recipes" not in bridge.causes
    # Each class's material moves by its own prices and exchange alone.
    for name, change in bridge.classes.items():
        assert {cause for cause, _ in change.largest} <= {f"prices.{name}", "exchange"}


def test_costs_in_two_currencies_are_not_compared(tmp_path: Path) -> None:
    usd = card(tmp_path / "usd", "1 USD/kg", "1 kg", "1 h", "20 USD/h")
    with pytest.raises(BridgeError, match="old costs are in EUR, the new ones in USD"):
        bridge_of(priced(SMALL), usd)
