"""Organic HAP of a unit and of the year, by hand from the point values, and against thresholds."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.emissions import emissions_of, thresholds_of
from quoter.analysis.plan import Plan, plan_of
from tests.analysis.planned import COVER, COVERS, TRAY, TRAYS, YEAR, plan, year
from tests.catalogues.written import priced, write_catalogue

CLOSE = 1e-12
# 40 CFR 63 Subpart VVVV, Table 3, kg per Mg: gelcoat at 33 %, resin not sprayed at 35 %.
GELCOAT, RESIN = 0.445 * 33**1.675 / 1000, 0.014 * 35**2.275 / 1000
# Issued per part, kg: gelcoat of 0.625 kg/m2 at a transfer of 80 %; resin of 1.8 kg of mat at 30 %.
OF_A_TRAY = (2 * 0.625 / 0.8 * GELCOAT + 4.2 * RESIN) / TRAY
OF_A_DINGHY = 50 * RESIN  # stated by amount: 50 kg
OF_A_COVER = 0.625 / 0.8 * GELCOAT / COVER


def of_units(model: str) -> dict[str, float]:
    pricing = year()
    found = emissions_of(pricing.models[model])
    return {item.assembly.recipe.id: emission.value for item, emission in found}


def test_a_unit_gives_off_what_its_parts_do_with_their_scrap() -> None:
    """Every other locker is scrapped, so a good one is two; a lid saves half a tray."""
    assert of_units("dinghy") == pytest.approx(
        {
            "dinghy": OF_A_DINGHY,
            "bench": 2 * OF_A_TRAY + OF_A_COVER,
            "locker": 2 * OF_A_TRAY,
            "lid": OF_A_COVER - 0.5 * OF_A_TRAY,
            "both": 4 * OF_A_TRAY + OF_A_COVER,
        },
        rel=1e-9,
    )


def test_a_boat_that_states_no_resin_gives_off_what_its_standard_options_do() -> None:
    assert of_units("launch")["launch"] == pytest.approx(2 * OF_A_TRAY, rel=CLOSE)


def test_a_year_gives_off_what_its_parts_do() -> None:
    assert plan().emission.value == pytest.approx(
        40 * OF_A_DINGHY + TRAYS * OF_A_TRAY + COVERS * OF_A_COVER, rel=CLOSE
    )
    assert str(plan().emission.unit) == "kg"


def test_materials_whose_styrene_is_not_told_give_off_nothing(tmp_path: Path) -> None:
    text = (YEAR / "materials.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if "styrene" not in line]
    files = {"materials.yaml": "\n".join(lines) + "\n"}
    pricing = priced(write_catalogue(tmp_path / "c", files, base=YEAR))
    assert plan_of(pricing).emission.value == 0.0
    found = emissions_of(pricing.models["dinghy"])
    assert {emission.value for _, emission in found} == {0.0}


def many_boats(folder: Path, boats: int) -> Plan:
    rows = f"model,option,boats,take_rate,note\ndinghy,,{boats},,\ndinghy,bench,,100 %,\n"
    return plan_of(priced(write_catalogue(folder, {"volumes.csv": rows}, base=YEAR)))


@pytest.mark.parametrize(("megagrams", "which"), [(9.1, 0), (22.7, 1)])
def test_thresholds_are_those_of_a_major_source(
    tmp_path: Path, megagrams: float, which: int
) -> None:
    """9.1 Mg of one HAP a year, 22.7 Mg of all: 40 CFR 63 Subpart VVVV. One boat more is over."""
    each = OF_A_DINGHY + 2 * OF_A_TRAY + OF_A_COVER
    most = int(megagrams * 1000 / each)
    for boats, below in ((most, 1.0), (most + 1, 0.0)):
        plan = many_boats(tmp_path / str(boats), boats)
        threshold = thresholds_of(plan.emissions)[which]
        assert threshold.limit.value == megagrams * 1000
        assert threshold.used.value == pytest.approx(boats * each / (megagrams * 1000), rel=1e-9)
        assert threshold.below.value == below


def test_both_thresholds_are_told_of() -> None:
    assert [threshold.what for threshold in thresholds_of(plan().emissions)] == [
        "a single organic HAP, styrene",
        "all organic HAP together",
    ]
    assert all(threshold.used.form == "percent" for threshold in thresholds_of(plan().emissions))
