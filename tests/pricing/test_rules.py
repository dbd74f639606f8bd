"""The rules between options over a selection: requires, conflicts, one of a group, how many."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from quoter.figures.graph import evaluate
from quoter.pricing.configured import configure
from quoter.pricing.rules import all_hold, boarded
from tests.catalogues.written import MODEL, priced, write_catalogue
from tests.pricing.choices import breaches, chosen, model, option, yard

PAIR = "  - {id: duo, name: Duo, text: Two of them., options: [door, step], saving: 10 %}\n"
LONG = """\
  - id: long
    name: Long
    text: A longer one.
    length: 9 m
    beam: 2 m
    hull_colour: white
    list_price: 1 USD
    base: {hours: {assembly: 0 h}, mass: 0 kg}
"""


def test_what_an_option_needs_must_be_chosen_too(tmp_path: Path) -> None:
    door = option("door", "requires: [rail, step]")
    made = yard(tmp_path / "c", door + option("rail") + option("step"))
    assert breaches(made) == []
    assert breaches(made, door=1) == ["Door needs Rail", "Door needs Step"]
    assert breaches(made, door=1, step=1) == ["Door needs Rail"]
    assert breaches(made, door=1, step=1, rail=1) == []
    assert breaches(made, rail=1) == []


def test_a_need_runs_along_to_what_the_needed_needs(tmp_path: Path) -> None:
    made = yard(
        tmp_path / "c",
        option("door", "requires: [rail]") + option("rail", "requires: [step]") + option("step"),
    )
    assert breaches(made, door=1, rail=1) == ["Rail needs Step"]
    assert breaches(made, door=1, step=1) == ["Door needs Rail"]


@pytest.mark.parametrize("says", ["door", "step"])
def test_what_conflicts_is_not_had_together_whichever_says_so(tmp_path: Path, says: str) -> None:
    other = {"door": "step", "step": "door"}
    rules = {says: f"conflicts: [{other[says]}]"}
    made = yard(tmp_path / "c", "".join(option(id, rules.get(id, "")) for id in other))
    assert breaches(made, door=1) == breaches(made, step=1) == []
    words = f"{says.capitalize()} can't be had with {other[says].capitalize()}"
    assert breaches(made, door=1, step=1) == [words]


def test_a_boat_has_one_of_a_group(tmp_path: Path) -> None:
    """Each of those chosen is told; one left out is not to blame."""
    ids = ("red", "blue", "green")
    made = yard(tmp_path / "c", "".join(option(id, "at_most_one: hull colour") for id in ids))
    for picked in product((0, 1), repeat=3):
        selection = dict(zip(ids, picked, strict=True))
        found = chosen(made, **selection)
        broken = [rule.option for rule in found.rules if not rule.holds.value]
        expected = [id for id in ids if selection[id]] if sum(picked) > 1 else []
        assert broken == expected, selection
    assert breaches(made, red=1, blue=1) == ["a boat can have one hull colour"] * 2


def test_an_option_is_had_once_unless_it_says_how_often(tmp_path: Path) -> None:
    made = yard(tmp_path / "c", option("door") + option("cleat", "most: 4"))
    assert breaches(made, door=1, cleat=4) == []
    assert breaches(made, door=2) == ["at most 1 of Door can be fitted"]
    assert breaches(made, cleat=5) == ["at most 4 of Cleat can be fitted"]


def test_several_of_an_option_need_and_exclude_as_one_does(tmp_path: Path) -> None:
    made = yard(
        tmp_path / "c",
        option("cleat", "most: 4; requires: [rail]; conflicts: [step]")
        + option("rail")
        + option("step", "conflicts: [hook]")
        + option("hook", "most: 3; at_most_one: fitting for ropes"),
    )
    assert breaches(made, cleat=3, rail=1, hook=3) == []
    assert breaches(made, step=1, hook=3) == ["Step can't be had with Hook"]
    assert breaches(made, cleat=3, step=1) == ["Cleat needs Rail", "Cleat can't be had with Step"]


def test_what_is_standard_counts_as_chosen(tmp_path: Path) -> None:
    made = yard(
        tmp_path / "c",
        option("rail") + option("door", "requires: [rail]") + option("step"),
        standard="rail",
    )
    assert breaches(made, door=1) == []
    assert "rail" not in chosen(made).quantities
    on_board = boarded(model(made), chosen(made, door=1).quantities)
    counts = {id: figure.value for id, figure in on_board.items()}
    assert counts == {"rail": 1, "door": 1, "step": 0}


def test_a_package_counts_as_its_options(tmp_path: Path) -> None:
    made = yard(
        tmp_path / "c",
        option("door", "requires: [rail]")
        + option("step", "conflicts: [ramp]")
        + option("rail", "requires: [step]")
        + option("ramp"),
        packages=PAIR,
    )
    assert breaches(made, duo=1) == ["Door needs Rail"]
    assert breaches(made, duo=1, rail=1) == []
    assert breaches(made, duo=1, rail=1, ramp=1) == ["Step can't be had with Ramp"]
    assert breaches(made, rail=1) == ["Rail needs Step"]


def test_an_option_in_a_package_and_beside_it_is_two(tmp_path: Path) -> None:
    made = yard(tmp_path / "c", option("door") + option("step", "most: 2"), packages=PAIR)
    assert breaches(made, duo=1) == []
    assert breaches(made, duo=1, step=1) == []
    assert breaches(made, duo=1, door=1) == ["at most 1 of Door can be fitted"]
    assert breaches(made, duo=2) == ["at most 1 of Door can be fitted"]


def test_what_a_model_can_not_have_is_told_as_such(tmp_path: Path) -> None:
    """A catalogue refuses it where it is read; the rule holds for a selection all the same."""
    made = yard(tmp_path / "c", option("door") + option("step"))
    door = model(made).options["door"]
    assert door.option is not None
    needs = door.option.model_copy(update={"requires": ("ladder",)})
    options = model(made).options | {"door": replace(door, option=needs)}
    rules = configure(made.terms, replace(model(made), options=options), {"door": 1}).rules
    assert [rule.words for rule in rules if not rule.holds.value] == [
        "Door needs 'ladder', which this model can't have"
    ]


def test_a_rule_follows_the_quantities_of_a_sheet(tmp_path: Path) -> None:
    """Worked out anew for every selection, as a workbook does."""
    made = yard(
        tmp_path / "c",
        option("door", "requires: [rail]") + option("rail") + option("step", "conflicts: [door]"),
    )
    found = chosen(made)
    holds = [rule.holds for rule in found.rules]
    for picked in product((0, 1, 2), repeat=3):
        selection = dict(zip(("door", "rail", "step"), picked, strict=True))
        quantities = {found.quantities[id]: float(n) for id, n in selection.items()}
        live = evaluate([*holds, found.all_kept], quantities)
        anew = [rule.holds.value for rule in chosen(made, **selection).rules]
        assert live == [*anew, float(all(anew))], selection


def test_each_option_has_one_flag_for_all_its_rules(tmp_path: Path) -> None:
    made = yard(tmp_path / "c", option("door", "requires: [rail]") + option("rail"))
    found = chosen(made, door=2, rail=2)
    assert {id: figure.value for id, figure in found.kept.items()} == {"door": 0.0, "rail": 0.0}
    assert found.all_kept.value == 0.0
    fine = chosen(made, door=1, rail=1)
    assert {id: figure.value for id, figure in fine.kept.items()} == {"door": 1.0, "rail": 1.0}
    assert fine.all_kept.value == 1.0
    assert all_hold([]).value == 1.0


def test_a_boat_shorter_than_an_option_s_minimum_is_not_offered_it(tmp_path: Path) -> None:
    """The card's model is 8 m long."""
    fits = option("door", "minimum_length: 26 ft") + option("step")
    assert set(model(yard(tmp_path / "a", fits)).options) == {"door", "step"}
    long = option("door", "minimum_length: 27 ft") + option("step")
    changes = {"models.yaml": ("models:\n", f"models:\n{LONG}")}
    made = priced(write_catalogue(tmp_path / "b", {"options.yaml": f"options:\n{long}"}, changes))
    assert {id: set(sold.options) for id, sold in made.models.items()} == {
        "long": {"door", "step"},
        MODEL: {"step"},
    }


def test_what_a_chosen_option_credits_makes_room_for_it(tmp_path: Path) -> None:
    one = "at_most_one: door"
    credit = "credits: [{option: plain, share: 50 %}]"
    rules = f"{one}; {credit}"
    options = option("plain", one) + option("wide", rules) + option("odd", rules)
    made = yard(tmp_path / "c", options, standard="plain")
    assert breaches(made) == []
    assert breaches(made, wide=1) == []
    assert "a boat can have one door" in breaches(made, wide=1, odd=1)
    left = boarded(model(made), chosen(made, wide=1).quantities)
    assert left["plain"].value == 0
