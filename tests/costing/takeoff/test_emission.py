"""Organic HAP of a square metre by the point values of 40 CFR 63 Subpart VVVV, Table 3."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.costing.draws import Draw, draws_of
from tests.costing.takeoff.square import COATED, OPEN, line, part_in, written
from tests.costing.takeoff.test_closed_mould import TWO_MATS, panel

EXACT = 1e-12
# At the contents of Table 2, in kg per Mg, derived from the formulas of Table 3. The rule-maker's
# limits of 46, 159, 291, 54 and 214 are rounded and not these.
RESINS = [("35 %", 45.59), ("39 %", 58.32)]  # production and tooling resin, not atomised
GELCOATS = [("33 %", 155.55), ("48 %", 291.37), ("40 %", 214.69)]  # pigmented, clear, tooling


@pytest.mark.parametrize(("styrene", "point_value"), RESINS)
def test_resin_laid_by_hand(tmp_path: Path, styrene: str, point_value: float) -> None:
    """Of all that is issued, lost or not: 1.05 kg net at a loss of 20 %."""
    part = part_in(written(tmp_path / "c", OPEN, resin=f"styrene: {styrene}\nloss: 20 %"))
    emission = line(part, "resin").emission
    assert emission is not None
    issued = 1.05 / 0.8 / 1000  # Mg
    assert emission.value / issued == pytest.approx(point_value, abs=0.005)
    assert str(emission.unit) == "kg"


@pytest.mark.parametrize(("styrene", "point_value"), GELCOATS)
def test_gelcoat_by_any_method(tmp_path: Path, styrene: str, point_value: float) -> None:
    """Overspray too: 0.625 kg on the part at a transfer of 80 %."""
    coat = f"transfer: 80 %\nstyrene: {styrene}"
    part = part_in(written(tmp_path / "c", COATED, gelcoat=coat))
    emission = line(part, "white").emission
    assert emission is not None
    assert emission.value / (0.625 / 0.8 / 1000) == pytest.approx(point_value, abs=0.005)


def test_what_is_injected_is_at_zero_and_the_gelcoat_before_it_is_not(tmp_path: Path) -> None:
    """40 CFR 63.5728: closed moulding has no open-moulding limit; gelcoat applied before has."""
    faces = "    gelcoat:\n      - {colour: white}\n      - {colour: white}\n"
    folder = written(
        tmp_path / "c",
        panel(more=faces),
        plies=TWO_MATS,
        resin="styrene: 35 %",
        gelcoat="transfer: 100 %\nstyrene: 33 %",
    )
    part = part_in(folder)
    assert line(part, "resin").emission is None
    in_all = draws_of(part, {})[Draw("emission", "organic HAP")].value
    assert in_all == pytest.approx(2 * 0.625 * 155.55 / 1000, rel=1e-4)


def test_a_skin_coat_by_hand_counts_apart_from_the_bulk(tmp_path: Path) -> None:
    """Each stage has its own resin; together they give off what they would as one."""
    plies = "{glass: mat_300, stage: skin}, {glass: mat_450}"
    part = part_in(written(tmp_path / "c", OPEN, plies=plies, resin="styrene: 35 %"))
    stages = {one.line.stage: one.line for one in part.materials if one.line.material == "resin"}
    assert {stage: one.net.value for stage, one in stages.items()} == pytest.approx(
        {"skin": 0.7, "bulk": 1.05}, rel=EXACT
    )
    given_off = [one.emission.value for one in stages.values() if one.emission is not None]
    assert sum(given_off) * 1000 / 1.75 == pytest.approx(45.59, abs=0.005)
    assert len(given_off) == 2


def test_a_resin_whose_styrene_is_not_told_is_not_guessed(tmp_path: Path) -> None:
    part = part_in(written(tmp_path / "c", OPEN))
    assert line(part, "resin").emission is None
    assert Draw("emission", "organic HAP") not in draws_of(part, {})


def test_glass_and_catalyst_give_off_nothing(tmp_path: Path) -> None:
    part = part_in(written(tmp_path / "c", OPEN, resin="styrene: 35 %"))
    assert line(part, "mat_450").emission is None
    assert line(part, "peroxide").emission is None


# Table 3, row 1, at the contents of Table 2: how, under which bag, point value in kg per Mg.
BY_PROCESS = [
    ("applied: atomised spray", "28 %", 0.014 * 28**2.425),
    ("applied: atomised spray, bagged: after roll-out", "28 %", 0.01185 * 28**2.425),
    ("applied: atomised spray, bagged: without roll-out", "28 %", 0.00945 * 28**2.425),
    ("applied: non-atomised spray", "35 %", 0.014 * 35**2.275),
    ("applied: by hand", "35 %", 0.014 * 35**2.275),
    ("applied: by hand, bagged: after roll-out", "35 %", 0.0110 * 35**2.275),
    ("bagged: without roll-out", "35 %", 0.0076 * 35**2.275),
]
ROUTE = """\
    operations:
      - {{name: Cut, station: assembly, fixed: 1 min}}
      - {{name: Lay, station: assembly, uses: [bulk], fixed: 1 min, {how}}}
"""


@pytest.mark.parametrize(("how", "styrene", "point_value"), BY_PROCESS)
def test_resin_gives_off_by_how_the_operation_that_takes_it_applies_it(
    tmp_path: Path, how: str, styrene: str, point_value: float
) -> None:
    text = OPEN + ROUTE.format(how=how)
    part = part_in(written(tmp_path / "c", text, resin=f"styrene: {styrene}"))
    emission = line(part, "resin").emission
    assert emission is not None
    assert emission.value / (1.05 / 1000) == pytest.approx(point_value, rel=1e-9)


def test_resin_of_an_infusion_gives_off_nothing(tmp_path: Path) -> None:
    """Closed moulding by 40 CFR 63.5779 (from memory): it has no open-moulding emission."""
    text = OPEN + ROUTE.format(how="applied: infusion")
    part = part_in(written(tmp_path / "c", text, resin="styrene: 35 %"))
    assert line(part, "resin").given_off is None


def test_substances_share_what_all_of_them_give_off(tmp_path: Path) -> None:
    """Pigmented gelcoat at 33 % in all: 27 styrene, 4 methyl methacrylate, 2 of no told one."""
    hap = "styrene: 27 %\nmethyl_methacrylate: 4 %\norganic_hap: 33 %"
    part = part_in(written(tmp_path / "c", COATED, gelcoat=f"transfer: 100 %\n{hap}"))
    gas = line(part, "white").given_off
    assert gas is not None
    assert gas.limited_as == "pigmented gelcoat"
    in_all = 0.625 * 0.445 * 33**1.675 / 1000
    assert gas.total is not None
    assert gas.total.value == pytest.approx(in_all, rel=1e-9)
    assert {name: amount.value for name, amount in gas.substances.items()} == pytest.approx(
        {
            "styrene": in_all * 27 / 33,
            "methyl methacrylate": in_all * 4 / 33,
            "substance not told": in_all * 2 / 33,
        },
        rel=1e-9,
    )


@pytest.mark.parametrize(
    ("kind", "limited_as"),
    [("", "pigmented"), ("kind: clear\n", "clear"), ("kind: tooling\n", "tooling")],
)
def test_a_gelcoat_is_of_one_of_the_kinds_that_the_rule_limits(
    tmp_path: Path, kind: str, limited_as: str
) -> None:
    coat = f"{kind}transfer: 100 %\norganic_hap: 48 %"
    gas = line(part_in(written(tmp_path / "c", COATED, gelcoat=coat)), "white").given_off
    assert gas is not None
    assert gas.limited_as == f"{limited_as} gelcoat"
    assert gas.applied.value == pytest.approx(0.625, rel=EXACT)
    assert [*gas.substances] == ["substance not told"]
