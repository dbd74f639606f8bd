"""Worked examples of cost accounting, from catalogue folders through the whole roll-up."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.costing.assembly import Assembly
from quoter.figures import Figure, round_up
from quoter.figures.graph import in_order
from tests.catalogues.written import COST_CARD, FOLDER, MODEL, OPTION, priced, write_catalogue

CENT = 0.005
EXACT = 1e-12  # relative


def only_option(folder: Path) -> Assembly:
    """The one option of a worked example's one model."""
    (model,) = priced(folder).models.values()
    (option,) = model.options.values()
    return option.assembly


def operation_figure(assembly: Assembly, number: int, name: str) -> float:
    key = f"{assembly.recipe.key}.operation{number}.{name}"
    found = [figure for figure in in_order([assembly.cost]) if figure.key == key]
    return found[0].value


def test_standard_cost_card() -> None:
    """OpenStax, Principles of Accounting vol. 2, 8.1: 4 lb at 5.25; 2.75 h at 11; 4 h at 15;
    variable overhead 6.75 h at 5; fixed overhead 6.75 h at 3; 165.25 in all."""
    card = only_option(COST_CARD)
    assert card.cost.value == pytest.approx(165.25, rel=EXACT)
    shown = {element: figure.value for element, figure in card.elements.items() if figure.value}
    assert shown == pytest.approx(
        {
            "material.other": 21.00,
            "labour.assembly": 30.25,
            "labour.finishing": 60.00,
            "overhead_variable": 33.75,
            "overhead_fixed": 20.25,
        },
        rel=EXACT,
    )
    assert card.all_hours.value == pytest.approx(6.75, rel=EXACT)
    assert card.variable.value == pytest.approx(145.00, rel=EXACT)


def test_job_cost_sheet() -> None:
    """OpenStax, Principles of Accounting vol. 2, 4.4 and 4.5: material 700, labour 66,
    overhead 165 at 2.50 per dollar of labour, 931 in all."""
    job = only_option(FOLDER / "job_sheet")
    assert job.cost.value == pytest.approx(931.0, rel=EXACT)
    lines = [material.cost.value for material in job.materials]
    assert lines == pytest.approx([300.0, 100.0, 60.0, 60.0, 120.0, 60.0], rel=EXACT)
    groups = {group: figure.value for group, figure in job.groups.items() if figure.value}
    assert groups == pytest.approx(
        {"material": 700.0, "labour": 66.0, "overhead_fixed": 165.0}, rel=EXACT
    )
    tickets = [operation_figure(job, number, "labour") for number in (1, 2, 3)]
    assert tickets == pytest.approx([15.0, 15.0, 36.0], rel=EXACT)


# The budget over its base: university homework page (Milling to Plantwide by labour); Lumen,
# Managerial Accounting, departmental rates (Machining, Packing).
DEPARTMENTS = [
    ("milling", "machine hours", "15000 h", "450000 USD", 30.0, "USD/h"),
    ("finishing", "labour hours", "2000 h", "150000 USD", 75.0, "USD/h"),
    ("plantwide_by_machine", "machine hours", "20000 h", "600000 USD", 30.0, "USD/h"),
    ("plantwide_by_labour", "labour hours", "4000 h", "600000 USD", 150.0, "USD/h"),
    ("machining", "machine hours", "47000 h", "141000 USD", 3.00, "USD/h"),
    ("packing", "labour cost", "376000 USD", "47000 USD", 0.125, ""),
]
STATION = """\
  - id: {id}
    name: {id}
    wage_group: assembly
    on_costs: 0 %
    efficiency: 100 %
    overhead: {{base: {base}, capacity: {capacity}, variable: 0 USD, fixed: {budget}}}
"""


@pytest.fixture(scope="module")
def departments(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One option that takes 2 machine hours and 4 labour hours at 11 in each department."""
    ids = [row[0] for row in DEPARTMENTS]
    stations = "stations:\n" + "".join(
        STATION.format(id=id, base=base, capacity=capacity, budget=budget)
        for id, base, capacity, budget, _, _ in DEPARTMENTS
    )
    operations = [f"{{name: At {id}, station: {id}, fixed: 4 h, machine: 2 h}}" for id in ids]
    files = {"stations.yaml": stations}
    changes = {
        "options.yaml": (
            "      - {name: Assembling, station: assembly, fixed: 2.75 h}\n"
            "      - {name: Finishing, station: finishing, fixed: 4 h}\n",
            "".join(f"      - {line}\n" for line in operations),
        ),
        "models.yaml": ("{assembly: 0 h}", "{milling: 0 h}"),
    }
    return write_catalogue(tmp_path_factory.mktemp("departments") / "c", files, changes)


@pytest.mark.parametrize(
    ("id", "rate", "in_unit"), [(row[0], row[4], row[5]) for row in DEPARTMENTS]
)
def test_departmental_rates(departments: Path, id: str, rate: float, in_unit: str) -> None:
    found = priced(departments).costing.rates.stations[id].fixed
    assert found.value == pytest.approx(rate, rel=EXACT)
    assert str(found.unit) == in_unit


@pytest.mark.parametrize(("id", "base", "rate"), [(row[0], row[1], row[4]) for row in DEPARTMENTS])
def test_departmental_overhead_of_a_job(departments: Path, id: str, base: str, rate: float) -> None:
    """A job bears its department's rate on the base the department absorbs on, by definition."""
    number = [row[0] for row in DEPARTMENTS].index(id) + 1
    used = {"machine hours": 2.0, "labour hours": 4.0, "labour cost": 44.0}[base]
    borne = operation_figure(only_option(departments), number, "fixed")
    assert borne == pytest.approx(rate * used, rel=EXACT)


def route(passes: list[str]) -> tuple[str, str]:
    """A change to the cost card: operations that each pass a fraction; material at the first."""
    first, *others = [
        f"{{name: Step {n}, station: assembly, fixed: 0 h, passes: {p}}}"
        for n, p in enumerate(passes, 1)
    ]
    lines = [first.replace("}", ", uses: [goods]}"), *others]
    return (
        "      - {name: Assembling, station: assembly, fixed: 2.75 h}\n"
        "      - {name: Finishing, station: finishing, fixed: 4 h}\n",
        "".join(f"      - {line}\n" for line in lines),
    )


# Rolled throughput yield, quality-engineering handbooks.
ROUTES = [
    (["99.7 %", "99.5 %", "95 %", "89 %", "92.3 %", "94 %"], 0.728),
    (["98.7 %", "95.8 %", "99.6 %"], 0.942),
]


@pytest.mark.parametrize(("passes", "rolled"), ROUTES)
def test_rolled_yield(tmp_path: Path, passes: list[str], rolled: float) -> None:
    """A good unit bears 21.00 of material for each unit started, 1 / 0.728 of them."""
    made = only_option(write_catalogue(tmp_path / "c", {}, {"options.yaml": route(passes)}))
    assert made.passed is not None
    assert made.passed.value == pytest.approx(rolled, abs=0.0005)
    assert made.cost.value == pytest.approx(21.0 / made.passed.value, rel=EXACT)
    assert made.groups["yield"].value == pytest.approx(made.cost.value - 21.0, rel=1e-9)


def test_units_to_start(tmp_path: Path) -> None:
    """1,167 started leave 1,000 good at 3, 5 and 7 % scrap; quality-engineering handbooks."""
    changes = {"options.yaml": route(["97 %", "95 %", "93 %"])}
    passed = only_option(write_catalogue(tmp_path / "c", {}, changes)).passed
    assert isinstance(passed, Figure)
    assert round_up(1000.0 / passed.value) == 1167.0


# OpenStax, Principles of Accounting vol. 1, 11.3: (58,000 - 10,000) over 960,000 pages, and
# (25,000 - 6,000) over 125,000 miles.
UNITS_OF_PRODUCTION = [
    ("58000 USD", "10000 USD", "960000", 0.05),
    ("25000 USD", "6000 USD", "125000", 0.152),
]


@pytest.mark.parametrize(("cost", "salvage", "units", "each"), UNITS_OF_PRODUCTION)
def test_units_of_production(
    tmp_path: Path, cost: str, salvage: str, units: str, each: float
) -> None:
    moulds = f"""
    moulds:
      - id: asset
        name: Asset
        cost: {cost}
        salvage: {salvage}
        life: {units}
        pulls_per_year: {units}
        write_off_years: 5
    """
    folder = write_catalogue(tmp_path / "c", {"moulds.yaml": moulds})
    assert priced(folder).costing.rates.pulls["asset"].value == pytest.approx(each, rel=EXACT)


def test_waste_of_what_is_issued_and_on_net(tmp_path: Path) -> None:
    """20 % of what is issued is 25 % on net: derived, exact. 4 lb net are 5 lb issued."""
    changes = {"materials.yaml": ('mass: "1"', 'mass: "1", loss: 20 %')}
    made = only_option(write_catalogue(tmp_path / "c", {}, changes))
    (material,) = made.materials
    assert material.line.issued.value == pytest.approx(1.25 * material.line.net.value, rel=EXACT)
    assert material.cost.value == pytest.approx(5 * 5.25, rel=EXACT)


@pytest.mark.parametrize(
    ("basis", "hours"), [("work", 1.1100), ("shift", 1.1236)], ids=["on work", "on shift"]
)
def test_allowance(tmp_path: Path, basis: str, hours: float) -> None:
    """11 % on work or on shift: Handbook of Industrial Engineering; personal 5, basic fatigue 4,
    standing 2 % after the ILO's Introduction to Work Study."""
    old = "wage_group: finishing\n"
    changes = {
        "stations.yaml": (old, f"{old}    allowance: 11 %\n    allowance_basis: {basis}\n"),
        "options.yaml": ("fixed: 4 h", "fixed: 1 h"),
    }
    made = only_option(write_catalogue(tmp_path / "c", {}, changes))
    assert made.hours["finishing"].value == pytest.approx(hours, abs=0.00005)
    assert made.hours["assembly"].value == pytest.approx(2.75, rel=EXACT)


def test_the_helper_refuses_a_change_that_changes_nothing(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"^options.yaml holds 'no such text' 0 times, not once$"):
        write_catalogue(tmp_path / "c", {}, {"options.yaml": ("no such text", "")})


def test_the_examples_ask_for_the_model_and_option_that_are_there() -> None:
    assert list(priced(COST_CARD).models[MODEL].options) == [OPTION]
