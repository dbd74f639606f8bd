"""Published overhead, start quantities, break-even points and thresholds, through a year's plan."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.emissions import YearEmissions, thresholds_of
from quoter.analysis.findings import Findings
from quoter.analysis.plan import Plan, plan_of
from quoter.figures import round_up
from quoter.pricing.price import Pricing
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue

EXACT = 1e-12
OPERATIONS = """\
      - {name: Assembling, station: assembly, fixed: 2.75 h}
      - {name: Finishing, station: finishing, fixed: 4 h}
"""
NOT_MADE = "    operations:\n" + OPERATIONS


def volumes(boats: int, take: str = "100 %") -> str:
    return f"model,option,boats,take_rate,note\n{MODEL},,{boats},,\n{MODEL},{OPTION},,{take},\n"


def planned(folder: Path, changes: dict[str, tuple[str, str]], boats: int, take: str) -> Plan:
    files = {"volumes.csv": volumes(boats, take)}
    return plan_of(priced(write_catalogue(folder, files, changes)))


def test_overhead_applied_against_overhead_to_be_borne(tmp_path: Path) -> None:
    """OpenStax, Principles of Accounting vol. 2, 4.6: 209,250 against 33.50 x 6,240 = 209,040,
    which is 210 under-applied. The rate is the budget over a capacity of 209,250 / 33.50 h."""
    capacity = 209_250 / 33.50
    old = "capacity: 1000 h, variable: 5000 USD, fixed: 3000 USD}\n  - id: finishing"
    new = f"capacity: {capacity!r} h, variable: 9250 USD, fixed: 200000 USD}}\n  - id: finishing"
    changes = {
        "stations.yaml": (old, new),
        "models.yaml": ("{assembly: 0 h}", "{assembly: 6240 h}"),
    }
    plan = planned(tmp_path / "c", changes, 1, "0 %")
    load = next(load for load in plan.stations if load.station == "assembly")
    assert load.load.value == pytest.approx(6240.0, rel=EXACT)
    assert load.budget.value == pytest.approx(209_250.0, rel=EXACT)
    assert load.absorbed.value == pytest.approx(209_040.0, rel=EXACT)
    assert load.under.value == pytest.approx(210.0, rel=1e-9)


def test_a_year_of_1000_good_units_starts_1167(tmp_path: Path) -> None:
    """1,000 good at 3, 5 and 7 % scrap; quality-engineering handbooks. What is drawn from stores
    for a year, over the 4 lb that a unit holds, is what is started."""
    passes = ["97 %", "95 %", "93 %"]
    steps = [
        f"{{name: {n}, station: assembly, fixed: 1 h, passes: {p}}}" for n, p in enumerate(passes)
    ]
    changes = {"options.yaml": (OPERATIONS, "".join(f"      - {step}\n" for step in steps))}
    plan = planned(tmp_path / "c", changes, 1000, "100 %")
    (need,) = plan.materials
    started = 12 * need.amount.value / (4 * 0.45359237)
    assert round_up(started) == 1167.0
    assert started == pytest.approx(1000 / (0.97 * 0.95 * 0.93), rel=EXACT)
    hours = next(load.hours.value for load in plan.stations if load.station == "assembly")
    # The second and third operation work on what the first, and the first two, have passed.
    assert hours == pytest.approx(started * (1 + 0.97 + 0.97 * 0.95), rel=EXACT)


def sold_at(folder: Path, price: str, variable: str, fixed: str) -> Pricing:
    """An option that is a pound of material and a part that costs nothing but its mould."""
    files = {
        "price_book.csv": f"date,model,option,list_price,note\n2026-01-01,,{OPTION},{price},\n",
        "moulds.yaml": "moulds:\n  - {id: m, name: Mould, life: 9999, pulls_per_year: 9999,"
        f" write_off_years: 1, cost: {fixed}}}\n",
        "parts.yaml": "open_mould:\n  - {id: p, name: Part, shape: {area: 1 m2, perimeter: 4 m},"
        " moulds: [m], gelcoat: [{colour: white}]}\n",
        "prices/2026-01-01.csv": "material,supplier,price,note\n"
        f"direct_material,supplier,{variable}/lb,\nwhite,supplier,0 USD/kg,\n"
        "peroxide,supplier,0 USD/kg,\n",
    }
    changes = {"options.yaml": (NOT_MADE, "    parts: [{part: p}]\n")}
    folder = write_catalogue(folder, files, changes)
    options = folder / "options.yaml"
    text = options.read_text(encoding="utf-8")
    options.write_text(text.replace("4 lb", "1 lb"), encoding="utf-8")
    return priced(folder)


# OpenStax, Principles of Accounting vol. 2, 3.2 (a target profit counts with the fixed cost) and
# 3.5, each input changed in turn. Price, variable cost, to be covered, units.
BREAK_EVEN = [
    ("100 USD", "20 USD", "18000 USD", 225.0),
    ("100 USD", "20 USD", "34000 USD", 425.0),
    ("3.75 USD", "1.50 USD", "2475 USD", 1100.0),
    ("4.25 USD", "1.50 USD", "2475 USD", 900.0),
    ("3.75 USD", "1.55 USD", "2475 USD", 1125.0),
    ("3.75 USD", "1.50 USD", "2700 USD", 1200.0),
]


@pytest.mark.parametrize(("price", "variable", "fixed", "units"), BREAK_EVEN)
def test_a_mould_is_paid_back_at_the_break_even_point(
    tmp_path: Path, price: str, variable: str, fixed: str, units: float
) -> None:
    """What the mould costs is the fixed cost to be covered."""
    pricing = sold_at(tmp_path / "c", price, variable, fixed)
    asked = Findings(pricing).of(pricing.models[MODEL]).answers
    (found,) = next(one for one in asked if one.priced.assembly.recipe.id == OPTION).paybacks
    assert found.units is not None
    assert found.units.value == pytest.approx(units, rel=1e-9)


def test_thresholds_of_a_major_source() -> None:
    """40 CFR 63 Subpart VVVV: 9.1 Mg a year of one HAP, 22.7 Mg of all together."""
    limits = [threshold.limit.value for threshold in thresholds_of(YearEmissions())]
    assert limits == [9100.0, 22700.0]
    assert [threshold.below.value for threshold in thresholds_of(YearEmissions())] == [1.0, 1.0]
