"""Cost against volume: the curve, the second mould set, and when another way of making pays."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from quoter.analysis.volume import MOST, VOLUMES, Curve, curve_of, pays_from
from quoter.catalogue.factory import Mould
from quoter.costing.assembly import Assembly
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue

YEAR = FOLDER / "year"
CLOSE = 1e-12
# Of the cover moulds: 9000 + 1500 - 500 to write off over 5 years, at most 600 pulls.
COST, LIFE, YEARS = 10000.0, 600.0, 5.0


@pytest.fixture(scope="module")
def year() -> Pricing:
    return priced(YEAR)


def cover(pricing: Pricing) -> tuple[Assembly, list[Mould]]:
    return pricing.costing.parts["part.cover"], [pricing.catalogue.records.moulds["cover_moulds"]]


def curve(pricing: Pricing, capacity: dict[str, float], volumes: list[int]) -> Curve:
    return curve_of(*cover(pricing), capacity, volumes)


def with_moulds(folder: Path, line: str, old: str = "pulls_per_year: 50") -> float:
    """The cover's cost in a catalogue that says something else of its moulds."""
    changed = write_catalogue(folder, {}, {"moulds.yaml": (old, line)}, base=YEAR)
    return priced(changed).costing.parts["part.cover"].cost.value


@pytest.mark.parametrize("volume", [1, 20, 50, 119, 120, 121, 400])
def test_a_curve_is_what_a_catalogue_with_those_pulls_gives(
    tmp_path: Path, year: Pricing, volume: int
) -> None:
    found = curve(year, {}, [volume])
    expected = with_moulds(tmp_path / "c", f"pulls_per_year: {volume}")
    assert found.costs[0] == pytest.approx(expected, rel=CLOSE)
    assert found.sets == (1,)


@pytest.mark.parametrize(("volume", "sets"), [(100, 1), (101, 2), (200, 2), (201, 3)])
def test_sets_as_many_as_needed_are_written_off(
    tmp_path: Path, year: Pricing, volume: int, sets: int
) -> None:
    """Where one set makes 100 pulls a year: as a catalogue with so many sets has it."""
    found = curve(year, {"cover_moulds": 100.0}, [volume])
    lines = f"""cost: {9000 * sets} EUR
    refurbishment: {1500 * sets} EUR
    salvage: {500 * sets} EUR
    life: {600 * sets}
    pulls_per_year: {volume}"""
    old = """cost: 9000 EUR
    refurbishment: 1500 EUR
    salvage: 500 EUR
    life: 600
    pulls_per_year: 50"""
    assert found.sets == (sets,)
    assert found.costs[0] == pytest.approx(with_moulds(tmp_path / "c", lines, old), rel=CLOSE)


def test_more_volume_costs_less_up_to_the_life_of_the_mould(year: Pricing) -> None:
    """Of 600 pulls over 5 years 120 a year are all: beyond them a new mould is worn out as fast."""
    found = curve(year, {}, [*VOLUMES])
    assert found.volumes == VOLUMES
    costs = dict(zip(found.volumes, found.costs, strict=True))
    falling = [costs[volume] for volume in VOLUMES if volume <= 120]
    assert falling == sorted(falling, reverse=True)
    assert len({round(costs[volume], 9) for volume in VOLUMES if volume >= 150}) == 1
    borne = {volume: COST / min(LIFE, volume * YEARS) / 0.8 for volume in VOLUMES}
    assert costs[10] - costs[100] == pytest.approx(borne[10] - borne[100], rel=1e-9)


def test_the_second_set_makes_the_cost_jump(year: Pricing) -> None:
    """At 60 a year it is spread over 300 pulls; at 61 two sets over 305, so twice the money."""
    found = curve(year, {"cover_moulds": 60.0}, [60, 61])
    assert found.sets == (1, 2)
    jump = 2 * COST / (61 * 5) - COST / (60 * 5)
    assert found.costs[1] - found.costs[0] == pytest.approx(jump / 0.8, rel=1e-9)


def test_a_capacity_met_exactly_needs_no_second_set(year: Pricing) -> None:
    """Even where the division leaves a last bit: 3 x 0.1 / 0.1 is more than 3."""
    found = curve(year, {"cover_moulds": 0.1 * 3 * 10}, [3])
    assert found.sets == (1,)


def by_hand_and_by_mould(folder: Path, open_cost: str, closed_cost: str, time: str) -> Pricing:
    """A tray that takes longer from a cheap mould, and one like it from a dear mould."""
    parts = (YEAR / "parts.yaml").read_text(encoding="utf-8")
    tray = parts[parts.index("  - id: tray") : parts.index("closed_mould:")]
    quick = tray.replace("id: tray", "id: quick").replace("tray_mould", "quick_mould")
    quick = quick.replace("fixed: 36 min", f"fixed: {time}").replace("name: Tray", "name: Quick")
    files = {
        "parts.yaml": parts.replace("closed_mould:", f"{quick}closed_mould:"),
        "moulds.yaml": (
            (YEAR / "moulds.yaml")
            .read_text(encoding="utf-8")
            .replace("cost: 3000 EUR", f"cost: {open_cost}")
            + f"  - {{id: quick_mould, name: Quick mould, cost: {closed_cost}, life: 900,"
            " pulls_per_year: 60, write_off_years: 10}\n"
        ),
    }
    options = (YEAR / "options.yaml").read_text(encoding="utf-8")
    files["options.yaml"] = options.replace(
        "      - {part: tray, quantity: 2}\n",
        "      - {part: tray, quantity: 2}\n      - {part: quick}\n",
    )
    return priced(write_catalogue(folder, files, base=YEAR))


def crossing(cost: Callable[[int], tuple[float, float]]) -> int | None:
    """The first volume at which the quick way costs no more, tried one by one."""
    return next((v for v in range(1, MOST + 1) if cost(v)[1] <= cost(v)[0]), None)


def ways(pricing: Pricing) -> tuple[Assembly, list[Mould], Assembly, list[Mould]]:
    parts, moulds = pricing.costing.parts, pricing.catalogue.records.moulds
    return (
        parts["part.tray"],
        [moulds["tray_mould"]],
        parts["part.quick"],
        [moulds["quick_mould"]],
    )


def cost_at(pricing: Pricing, limit: float) -> Callable[[int], tuple[float, float]]:
    """The cost of both ways by volume, from definitions: all else, and sets over their pulls."""

    def without_mould(part: Assembly, pulls: float, money: float) -> float:
        return part.cost.value - money / pulls / 0.855

    tray, _, quick, _ = ways(pricing)
    moulds = pricing.catalogue.records.moulds
    open_money, money = (moulds[id].cost.value for id in ("tray_mould", "quick_mould"))
    rest = without_mould(tray, 300, open_money), without_mould(quick, 600, money)

    def cost(volume: int) -> tuple[float, float]:
        sets = -(-volume // limit)
        one = sets * open_money / min(sets * 300, volume * 10) / 0.855
        other = money / min(900, volume * 10) / 0.855
        return rest[0] + one, rest[1] + other

    return cost


@pytest.mark.parametrize(
    ("open_cost", "closed_cost", "time"),
    [
        ("3000 EUR", "9000 EUR", "10 min"),
        ("3000 EUR", "9000 EUR", "24 min"),
        ("800 EUR", "16000 EUR", "2 min"),
    ],
)
def test_another_way_pays_from_the_volume_that_trying_each_one_finds(
    tmp_path: Path, open_cost: str, closed_cost: str, time: str
) -> None:
    pricing = by_hand_and_by_mould(tmp_path / "c", open_cost, closed_cost, time)
    tried = crossing(cost_at(pricing, limit=10**9))
    assert tried is not None
    assert 1 < tried < 300
    assert pays_from(*ways(pricing), {}) == tried


def test_a_second_open_mould_brings_the_crossing_forward(tmp_path: Path) -> None:
    pricing = by_hand_and_by_mould(tmp_path / "c", "3000 EUR", "9000 EUR", "24 min")
    capacity = {"tray_mould": 20.0}
    found = pays_from(*ways(pricing), capacity)
    assert found == crossing(cost_at(pricing, limit=20))
    alone = pays_from(*ways(pricing), {})
    assert found is not None
    assert alone is not None
    assert found < alone


def test_a_way_that_saves_nothing_never_pays(tmp_path: Path) -> None:
    pricing = by_hand_and_by_mould(tmp_path / "c", "3000 EUR", "30000 EUR", "36 min")
    assert pays_from(*ways(pricing), {}) is None


def test_a_way_that_costs_no_more_pays_from_the_first_pull(tmp_path: Path) -> None:
    pricing = by_hand_and_by_mould(tmp_path / "c", "3000 EUR", "3000 EUR", "36 min")
    assert pays_from(*ways(pricing), {}) == 1
