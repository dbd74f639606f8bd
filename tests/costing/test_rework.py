"""Mending some units: an element of its own, with hours of its own, at the operation's station."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.costing.assembly import Assembly
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, MODEL, OPTION, priced, write_catalogue

CLOSE = 1e-12
REWORK = "rework: {share: 10 %, time: 30 min}"


@pytest.fixture(scope="module")
def year() -> Pricing:
    return priced(FOLDER / "year")


def card(folder: Path, finishing: str, efficiency: str = "100 %") -> Assembly:
    """The cost card with more said of its finishing, and at another efficiency of both stations."""
    changes = {"options.yaml": ("fixed: 4 h}", f"fixed: 4 h, {finishing}}}")}
    write_catalogue(folder, {}, changes)
    stations = folder / "stations.yaml"
    text = stations.read_text(encoding="utf-8")
    stations.write_text(text.replace("100 %", efficiency), encoding="utf-8")
    return priced(folder).models[MODEL].options[OPTION].assembly


def test_every_unit_bears_its_share_of_the_mending(tmp_path: Path) -> None:
    """10 % take half an hour more: three minutes each, at 15 of labour and 5 and 3 of overhead."""
    made = card(tmp_path / "c", REWORK)
    assert made.rework_hours.value == pytest.approx(0.05, rel=CLOSE)
    assert made.elements["rework_variable"].value == pytest.approx(0.05 * 20, rel=CLOSE)
    assert made.elements["rework_fixed"].value == pytest.approx(0.05 * 3, rel=CLOSE)
    assert made.groups["rework"].value == pytest.approx(0.05 * 23, rel=CLOSE)
    assert made.cost.value == pytest.approx(165.25 + 0.05 * 23, rel=CLOSE)
    assert made.variable.value == pytest.approx(145.00 + 0.05 * 20, rel=CLOSE)


@pytest.mark.parametrize(
    ("basis", "operation", "hours"),
    [
        ("work", "", 0.05 * 1.11),
        ("shift", "", 0.05 / 0.89),
        ("work", ", allowance: 20 %", 0.05 * 1.2),
    ],
)
def test_mending_takes_the_allowance_of_its_station(
    tmp_path: Path, basis: str, operation: str, hours: float
) -> None:
    """Handbook of Industrial Engineering, time standards: ST = NT (1 + A) on work, NT / (1 - A) on
    the shift; 11 % by Introduction to Work Study. An operation's own allowance comes first."""
    folder = tmp_path / "c"
    card(folder, REWORK + operation)
    stations = folder / "stations.yaml"
    text = stations.read_text(encoding="utf-8")
    allowed = f"efficiency: 100 %\n    allowance: 11 %\n    allowance_basis: {basis}"
    assert "efficiency: 100 %" in text
    stations.write_text(text.replace("efficiency: 100 %", allowed), encoding="utf-8")
    made = priced(folder).models[MODEL].options[OPTION].assembly
    assert made.rework_hours.value == pytest.approx(hours, rel=CLOSE)
    assert made.elements["rework_variable"].value == pytest.approx(hours * 20, rel=CLOSE)


def test_mending_is_never_smeared_over_labour_and_overhead(tmp_path: Path) -> None:
    """All other elements stand as on the card, and hours by station leave it out."""
    made = card(tmp_path / "c", REWORK)
    others = {
        e: f.value for e, f in made.elements.items() if not e.startswith("rework") and f.value
    }
    assert others == pytest.approx(
        {
            "material.other": 21.00,
            "labour.assembly": 30.25,
            "labour.finishing": 60.00,
            "overhead_variable": 33.75,
            "overhead_fixed": 20.25,
        },
        rel=CLOSE,
    )
    assert made.hours["finishing"].value == pytest.approx(4.0, rel=CLOSE)
    assert made.all_hours.value == pytest.approx(6.80, rel=CLOSE)


def test_mending_is_paid_at_the_station_s_efficiency(tmp_path: Path) -> None:
    made = card(tmp_path / "c", REWORK, efficiency="80 %")
    assert made.rework_hours.value == pytest.approx(0.05 / 0.8, rel=CLOSE)
    assert made.cost.value == pytest.approx((144.25 + 0.05 * 23) / 0.8 + 21, rel=CLOSE)


def test_scrap_takes_the_mending_along(tmp_path: Path) -> None:
    """Of five units one is scrapped at finishing, mended or not."""
    made = card(tmp_path / "c", f"passes: 80 %, {REWORK}")
    whole = 165.25 + 0.05 * 23
    assert made.cost.value == pytest.approx(whole / 0.8, rel=CLOSE)
    assert made.groups["yield"].value == pytest.approx(whole / 0.8 - whole, rel=1e-9)
    assert made.groups["rework"].value == pytest.approx(0.05 * 23, rel=CLOSE)
    assert made.yield_hours.value == pytest.approx(6.80 / 0.8 - 6.80, rel=1e-9)


def test_a_part_s_mending_comes_up_with_it_as_often_as_it_is_used(year: Pricing) -> None:
    """A tray: 7.5 min of moulding at 30 + 4 + 6 an hour, 1.2 min of machining at 30 + 2 + 8."""
    tray, cover = (year.costing.parts[f"part.{id}"] for id in ("tray", "cover"))
    moulding, machining = 0.2 * 0.5 / 0.8, 0.1 * 0.2
    assert tray.rework_hours.value == pytest.approx(moulding + machining, rel=CLOSE)
    variable, fixed = moulding * 34 + machining * 32, moulding * 6 + machining * 8
    assert tray.elements["rework_variable"].value == pytest.approx(variable, rel=CLOSE)
    assert tray.elements["rework_fixed"].value == pytest.approx(fixed, rel=CLOSE)
    assert "rework" not in cover.groups
    bench = year.models["dinghy"].options["bench"].assembly
    # Half of the benches are mended in half an hour: labour 30, overhead a tenth and a fifth of it.
    assert bench.elements["rework_variable"].value == pytest.approx(
        2 * variable + 0.25 * 30 * 1.1, rel=CLOSE
    )
    assert bench.elements["rework_fixed"].value == pytest.approx(
        2 * fixed + 0.25 * 30 * 0.2, rel=CLOSE
    )
    assert bench.rework_hours.value == pytest.approx(2 * tray.rework_hours.value + 0.25, rel=CLOSE)


def test_mending_takes_no_machine_of_its_own(year: Pricing) -> None:
    """A station that absorbs on machine hours absorbs mending on its paid hours."""
    trim = year.costing.parts["part.tray"].operations[2]
    assert trim.rework is not None
    assert trim.base.value == 0.5
    assert trim.rework.base.value == pytest.approx(0.02, rel=CLOSE)


def test_a_credit_takes_off_the_mending_that_is_saved(year: Pricing) -> None:
    lid, tray = year.models["dinghy"].options["lid"].assembly, year.costing.parts["part.tray"]
    assert lid.groups["rework"].value == pytest.approx(-0.5 * tray.groups["rework"].value, rel=1e-9)
    assert lid.rework_hours.value == pytest.approx(-0.5 * tray.rework_hours.value, rel=CLOSE)


def test_no_share_is_no_mending(tmp_path: Path) -> None:
    made = card(tmp_path / "c", "rework: {share: 0 %, time: 30 min}")
    assert made.groups["rework"].value == 0.0
    assert made.cost.value == pytest.approx(165.25, rel=CLOSE)
