"""Elements never lose their name on the way up, and every total is the sum of its elements."""

from __future__ import annotations

import math

from quoter.costing.assembly import Assembly
from quoter.costing.elements import (
    GROUPS,
    by_group,
    group_of,
    in_element_order,
    label_of,
    shown_group,
    summed,
    varies,
)
from quoter.figures import constant
from tests.demo import all_figures, assemblies, demo

CLOSE = 1e-9  # relative; sums of floating numbers differ by less, mistakes by more
NOTHING = constant(0.0, "EUR")


def same(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=CLOSE, abs_tol=1e-9)


def test_cost_is_the_sum_of_its_elements_and_of_its_groups() -> None:
    for key, made in assemblies().items():
        elements = {element: figure.value for element, figure in made.elements.items()}
        assert same(sum(elements.values()), made.cost.value), key
        assert same(sum(figure.value for figure in made.groups.values()), made.cost.value), key
        for group, figure in made.groups.items():
            assert same(
                figure.value, sum(v for e, v in elements.items() if shown_group(e) == group)
            ), f"{key}, {group}"
        assert same(sum(v for e, v in elements.items() if varies(e)), made.variable.value), key
        assert made.cost.unit == made.variable.unit == NOTHING.unit


def costed_from_recipes() -> dict[str, Assembly]:
    """Parts and options; a boat is stated, not made from a recipe."""
    return {key: made for key, made in assemblies().items() if not key.startswith("boat.")}


def of_parts(made: Assembly, element: str) -> float:
    return sum(
        use.assembly.elements[element].value * use.quantity.value
        for use in made.recipe.uses
        if element in use.assembly.elements
    )


def test_material_elements_are_the_costs_of_take_off_lines_and_parts() -> None:
    for key, made in costed_from_recipes().items():
        own: dict[str, float] = {}
        for material in made.materials:
            issued, price = material.line.issued.value, material.price.value
            assert same(material.cost.value, issued * price), key
            element = f"{material.line.element}.{material.material_class}"
            own[element] = own.get(element, 0.0) + material.cost.value
        bought = ("material", "batch_material")
        found = {e: f.value for e, f in made.elements.items() if group_of(e) in bought}
        for element, value in found.items():
            assert same(value, own.get(element, 0.0) + of_parts(made, element)), f"{key}, {element}"
        assert own.keys() <= found.keys()
        assert held_on_top(made, sum(own.values())), key


def held_on_top(made: Assembly, bought: float) -> bool:
    """Whether handling, holding and ordering are their fractions of what was bought."""
    rates = demo().costing.rates
    assert rates.holding is not None
    a_year, months = (figure.value for figure in rates.holding)
    ordered = sum(
        material.cost.value * rates.ordering[material.line.material].value
        for material in made.materials
        if material.line.material in rates.ordering
    )
    expected = {
        "handling": bought * rates.handling.value,
        "inventory": bought * a_year * months / 12,
        "ordering": ordered,
    }
    return all(
        same(made.elements.get(element, NOTHING).value, cost + of_parts(made, element))
        for element, cost in expected.items()
    )


def test_conversion_elements_are_the_costs_of_operations_moulds_and_parts() -> None:
    for key, made in costed_from_recipes().items():
        own = {"tooling": sum(per_pull.value for _, per_pull in made.tooling)}
        for operation in made.operations:
            costs = {
                f"labour.{operation.operation.station}": operation.labour.value,
                "overhead_variable": operation.variable.value,
                "overhead_fixed": operation.fixed.value,
            }
            if operation.rework is not None:
                costs["rework_variable"] = operation.rework.variable.value
                costs["rework_fixed"] = operation.rework.fixed.value
            general = sum(costs.values()) * demo().costing.rates.general.value
            for element, cost in {**costs, "general_overhead": general}.items():
                own[element] = own.get(element, 0.0) + cost
        for element, cost in own.items():
            stated = made.elements.get(element, NOTHING).value
            assert same(stated, cost + of_parts(made, element)), f"{key}, {element}"


def test_hours_by_station_of_rework_and_those_lost_are_all_hours() -> None:
    for key, made in assemblies().items():
        by_station = sum(figure.value for figure in made.hours.values())
        others = made.rework_hours.value + made.yield_hours.value
        assert same(by_station + others, made.all_hours.value), key
    for key, made in costed_from_recipes().items():
        worked = sum(operation.paid.value for operation in made.operations)
        below = sum(
            figure.value * use.quantity.value
            for use in made.recipe.uses
            for figure in use.assembly.hours.values()
        )
        assert same(sum(figure.value for figure in made.hours.values()), worked + below), key
        again = sum(done.rework.paid.value for done in made.operations if done.rework)
        again += sum(u.assembly.rework_hours.value * u.quantity.value for u in made.recipe.uses)
        assert same(made.rework_hours.value, again), key


def test_mass_is_that_of_lines_and_parts() -> None:
    for key, made in costed_from_recipes().items():
        lines = sum(line.mass.value for line in made.recipe.lines)
        parts = sum(use.assembly.mass.value * use.quantity.value for use in made.recipe.uses)
        assert same(made.mass.value, lines + parts), key


def test_a_boat_is_what_its_file_says_and_its_standard_options() -> None:
    rates = demo().costing.rates
    for id, priced in demo().models.items():
        boat, base = priced.boat.assembly, priced.model.base
        standard = [priced.options[str(name)].assembly for name in priced.model.standard]
        material = sum(figure.value for figure in base.material.values())
        ordered = 0.0
        for bought, amount in base.materials.items():
            cost = amount.value * rates.prices[str(bought)].value
            material += cost
            if str(bought) in rates.ordering:
                ordered += cost * rates.ordering[str(bought)].value
        conversion = 0.0
        for station, hours in base.hours.items():
            rate = rates.stations[str(station)]
            each = rate.labour.value + rate.variable.value + rate.fixed.value
            conversion += hours.value * each
        tooling = base.tooling.value if base.tooling is not None else 0.0
        goods = [one for one in boat.materials if one.line.use != "stated"]
        for one in goods:
            cost = one.line.issued.value * one.price.value
            material += cost
            if one.line.material in rates.ordering:
                ordered += cost * rates.ordering[one.line.material].value
            if one.material_class in rates.disposal:
                each = rates.masses[one.line.material].value
                lost = one.line.issued.value * each - one.line.mass.value
                ordered += lost * rates.disposal[one.material_class].value
        for work in boat.operations:
            conversion += work.labour.value + work.variable.value + work.fixed.value
        assert rates.holding is not None
        held = rates.holding[0].value * rates.holding[1].value / 12
        own = material * (1 + rates.handling.value + held) + ordered
        own += conversion * (1 + rates.general.value)
        own += sum(one.cost.value / one.units.value for one in priced.model.one_off)
        parts = [demo().costing.parts[f"part.{use.part}{white(use.part)}"] for use in base.parts]
        below = sum(each.cost.value for each in (*standard, *parts))
        assert same(boat.cost.value, own + tooling + below), id
        assert base.mass is not None
        mass = base.mass.value + sum(one.line.mass.value for one in goods)
        below = sum(each.mass.value for each in (*standard, *parts))
        assert same(boat.mass.value, mass + below), id
        stated = sum(hours.value for hours in base.hours.values())
        stated += sum(work.paid.value for work in boat.operations)
        below = sum(each.all_hours.value for each in (*standard, *parts))
        assert same(boat.all_hours.value, stated + below), id


def white(part: str) -> str:
    """What the key of a part of the 6.8 ends with: the hull has the boat's colour."""
    return "__gel_white" if part == "hull_68" else ""


def test_no_two_figures_of_a_costing_have_one_key() -> None:
    """A key is a cell's name and what `quoter why` asks for."""
    keys = [figure.key for figure in all_figures() if figure.key]
    assert len(keys) == len(set(keys))


def test_every_named_figure_has_words_for_people() -> None:
    assert not [figure.key for figure in all_figures() if figure.key and not figure.label]


def test_elements_come_by_group_then_as_met() -> None:
    met = ["labour.b", "tooling", "material.resin", "labour.a", "material.glass", "labour.b"]
    assert in_element_order(met) == [
        "material.resin",
        "material.glass",
        "labour.b",
        "labour.a",
        "tooling",
    ]


def test_sums_keep_elements_apart() -> None:
    one = {"labour.a": constant(1.0, "EUR"), "tooling": constant(2.0, "EUR")}
    two = {"labour.b": constant(4.0, "EUR"), "labour.a": constant(8.0, "EUR")}
    found = summed([one, two], NOTHING, "part.x", "X", {})
    assert {e: f.value for e, f in found.items()} == {"labour.a": 9, "labour.b": 4, "tooling": 2}
    assert [figure.key for figure in found.values()] == [
        "part.x.labour.a",
        "part.x.labour.b",
        "part.x.tooling",
    ]
    assert {g: f.value for g, f in by_group(found, NOTHING).items()} == {"labour": 13, "tooling": 2}


def test_elements_have_labels_and_a_nature() -> None:
    assert label_of("labour.hand_lay_up", {"hand_lay_up": "Hand lay-up"}) == "Labour, Hand lay-up"
    # A class of material is no station, whatever the yard's stations are called.
    assert label_of("material.foam", {"foam": "Foam shop"}) == "Material, foam"
    assert label_of("labour.foam", {"foam": "Foam shop"}) == "Labour, Foam shop"
    assert label_of("overhead_fixed", {}) == "Station overhead, fixed"
    fixed = {group for group in GROUPS if not varies(group)}
    assert fixed == {"general_overhead", "one_off"} | {
        group for group in GROUPS if group.endswith("_fixed")
    }


def test_the_demo_has_parts_options_and_boats_to_try() -> None:
    assert {key.partition(".")[0] for key in assemblies()} == {"part", "option", "boat"}
