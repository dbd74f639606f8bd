"""Laws of a costing with scrap, mending, credits and packages, whatever is paid and passes."""

from __future__ import annotations

import math
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.costing.assembly import Assembly
from quoter.costing.draws import draws_of
from quoter.costing.elements import shown_group, varies
from quoter.figures import Figure
from quoter.figures.graph import evaluate, inputs_of
from quoter.pricing.configured import configure
from quoter.pricing.controls import controls_of, master
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced
from tests.laws.closeness import CLOSE

EXAMPLES = settings(max_examples=40, deadline=None, derandomize=True, database=None)
money = st.floats(0.01, 500.0)
passes = st.floats(0.05, 1.0)
shares = st.floats(0.0, 1.0)


@cache
def year() -> Pricing:
    return priced(FOLDER / "year")


@cache
def made() -> dict[str, Assembly]:
    """Every part, option, package and boat by key."""
    found = dict(year().costing.parts)
    for model in year().models.values():
        for item in (model.boat, *model.options.values(), *model.packages.values()):
            found[item.assembly.recipe.key] = item.assembly
    return found


@cache
def entries(ending: str) -> tuple[Figure, ...]:
    """The inputs of all costs whose key ends so, such as every price."""
    inputs = inputs_of([assembly.cost for assembly in made().values()])
    return tuple(figure for figure in inputs if figure.key.endswith(ending))


def some(values: st.SearchStrategy[float], *endings: str) -> st.SearchStrategy[dict[Figure, float]]:
    """Other values of all inputs of a kind."""
    figures = [figure for ending in endings for figure in entries(ending)]
    lists = st.lists(values, min_size=len(figures), max_size=len(figures))
    return lists.map(lambda drawn: dict(zip(figures, drawn, strict=True)))


worlds = st.tuples(
    some(money, ".price", ".wage"), some(passes, ".passes"), some(shares, ".share", ".on_costs")
).map(lambda kinds: {figure: value for kind in kinds for figure, value in kind.items()})


def same(a: float, b: float, scale: float) -> bool:
    """Equal to rounding, of sums in which larger amounts may cancel, as credits do."""
    return math.isclose(a, b, rel_tol=CLOSE, abs_tol=1e-12 * scale)


def test_there_is_something_to_try() -> None:
    kinds = {".price": 6, ".wage": 2, ".passes": 4, ".share": 4, ".on_costs": 3}
    assert {ending: len(entries(ending)) for ending in kinds} == kinds
    assert len(made()) == 2 + 3 * 3 + 2 + 3
    assert any(use.credit for assembly in made().values() for use in assembly.recipe.uses)


@EXAMPLES
@given(worlds)
def test_conservation(world: dict[Figure, float]) -> None:
    """Cost is the sum of its elements and of their groups, hours those of all stations."""
    for key, assembly in made().items():
        names = [*assembly.elements]
        sums = [assembly.cost, assembly.variable, *assembly.groups.values()]
        values = evaluate([*sums, *assembly.elements.values()], world)
        (cost, variable), groups = values[:2], values[2 : len(sums)]
        elements = dict(zip(names, values[len(sums) :], strict=True))
        scale = sum(map(abs, elements.values()))
        assert same(cost, sum(elements.values()), scale), key
        assert same(cost, sum(groups), scale), key
        assert same(variable, sum(v for e, v in elements.items() if varies(e)), scale), key
        for group, value in zip(assembly.groups, groups, strict=True):
            expected = sum(v for e, v in elements.items() if shown_group(e) == group)
            assert same(value, expected, scale), f"{key}, {group}"


@EXAMPLES
@given(worlds)
def test_hours(world: dict[Figure, float]) -> None:
    """All hours are those by station, of mending and lost to scrap; and all that stations give."""
    for key, assembly in made().items():
        whole, mending, lost, *by_station = evaluate(
            [
                assembly.all_hours,
                assembly.rework_hours,
                assembly.yield_hours,
                *assembly.hours.values(),
            ],
            world,
        )
        scale = abs(mending) + abs(lost) + sum(map(abs, by_station))
        assert same(whole, sum(by_station) + mending + lost, scale), key
        draws = draws_of(assembly, {})
        drawn = evaluate([f for draw, f in draws.items() if draw.kind == "hours"], world)
        assert same(whole, sum(drawn), scale), key


@EXAMPLES
@given(worlds, st.integers(0, 3), st.integers(0, 3), st.integers(0, 3))
def test_controls(world: dict[Figure, float], bench: int, lid: int, both: int) -> None:
    """Every control of a workbook holds for any selection at any prices."""
    model = year().models["dinghy"]
    boat = configure(year().terms, model, {"bench": bench, "lid": lid, "both": both})
    controls = controls_of(year().terms, model, boat)
    assert evaluate([master(controls)], world) == [1.0]


def without_credits() -> list[Assembly]:
    return [one for one in made().values() if not any(use.credit for use in one.recipe.uses)]


@EXAMPLES
@given(worlds, st.data())
def test_more_yield(world: dict[Figure, float], data: st.DataObject) -> None:
    """More yield never costs more, and less mending neither, whatever else is paid."""
    costs = [assembly.cost for assembly in without_credits()]
    before = evaluate(costs, world)
    passed = data.draw(st.sampled_from(entries(".passes")))
    better = world[passed] + data.draw(shares) * (1 - world[passed])
    mended = data.draw(st.sampled_from([f for f in entries(".share") if f in world]))
    fewer = world[mended] * data.draw(shares)
    for change in ({passed: better}, {mended: fewer}):
        after = evaluate(costs, world | change)
        assert all(new <= old * (1 + CLOSE) for old, new in zip(before, after, strict=True))


@EXAMPLES
@given(worlds, st.data())
def test_dearer(world: dict[Figure, float], data: st.DataObject) -> None:
    """A dearer material or hour never makes anything cheaper, whatever passes."""
    costs = [assembly.cost for assembly in without_credits()]
    before = evaluate(costs, world)
    paid = data.draw(st.sampled_from([*entries(".price"), *entries(".wage")]))
    after = evaluate(costs, world | {paid: world[paid] * data.draw(st.floats(1.0, 5.0))})
    assert all(new >= old * (1 - CLOSE) for old, new in zip(before, after, strict=True))


@EXAMPLES
@given(st.floats(0.01, 50.0))
def test_doubling_area(area: float) -> None:
    """Twice the area takes twice the gelcoat, with its catalyst, and gives off twice as much."""
    tray = year().costing.parts["part.tray"]
    (written,) = (f for f in inputs_of([tray.cost]) if f.key.endswith("tray.shape.area"))
    coat = [one.line for one in tray.materials if one.line.stage == "gelcoat"]
    amounts = [line.issued for line in coat]
    amounts += [line.emission for line in coat if line.emission is not None]
    assert len(amounts) == 3
    once, twice = (evaluate(amounts, {written: size}) for size in (area, 2 * area))
    for one, two in zip(once, twice, strict=True):
        assert one > 0
        assert same(two, 2 * one, two)


@EXAMPLES
@given(worlds)
def test_packages(world: dict[Figure, float]) -> None:
    """A package costs what its options do, and is never listed above their sum less its saving."""
    for model in year().models.values():
        for package in model.offered_packages:
            item = model.packages[str(package.id)]
            inside = [model.options[str(name)] for name in package.options]
            cost, price, saving, *apart = evaluate(
                [
                    item.assembly.cost,
                    item.list_price,
                    package.saving,
                    *(one.assembly.cost for one in inside),
                    *(one.list_price for one in inside),
                ],
                world,
            )
            costs, prices = apart[: len(inside)], apart[len(inside) :]
            assert same(cost, sum(costs), cost)
            assert price <= sum(prices) * (1 - saving) * (1 + CLOSE)
