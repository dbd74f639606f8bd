"""`quoter why`: any figure, from a price down to lines of the catalogue."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from quoter.analysis.why import amount
from quoter.cli import main
from quoter.figures import constant
from tests.catalogues.written import FOLDER
from tests.demo import DEMO, demo

SMALL = FOLDER / "small"
DOOR, HATCH = ("weekender_86", "side_single"), ("cutter", "hatch")


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_why_draws_a_tree_from_a_price_down_to_catalogue_lines() -> None:
    result = quoter("why", DEMO, *DOOR)
    day, *lines = result.stdout.splitlines()
    assert (result.exit_code, day) == (0, "Prices of 2026-11-01")
    price = demo().models[DOOR[0]].options[DOOR[1]].recommended.value
    assert lines[0].startswith(f"Side entry, single: recommended list price: {price:g} EUR  = ")
    for place in (
        r"policy, target margin: 30 %  \[yard\.yaml:\d+ target_margin\] \(invented\)$",
        r"3\.48 EUR/kg  \[prices/2026-11-01\.csv:\d+ price, since 2026-11-01\]",
        r"24\.3 EUR/h  \[wages\.csv:\d+ wage, since 2026-10-01\]",
        r"1\.075 USD/EUR  \[exchange\.csv:\d+ rate, since 2026-11-01\]",
        r"720 mm  \[parts\.yaml:\d+ width\]$",
    ):
        assert any(re.search(place, line) for line in lines), place
    assert any(line.endswith("(explained above)") for line in lines)
    assert all(line.startswith(("├─ ", "└─ ", "│  ", "   ")) for line in lines[1:])


def test_why_of_a_boat_needs_no_option() -> None:
    result = quoter("why", SMALL, "cutter", "--figure", "cost", "--depth", "1")
    assert result.stdout.startswith("Prices of 2026-02-01\nTern Cutter: cost: ")


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("cost", "Deck hatch: cost"),
        ("labour.assembly", "Deck hatch: Labour, Assembly"),
        ("landed.white", "White gelcoat: landed price"),
        ("part.lid.area", "Lid: area"),
        ("mass", "Deck hatch: mass added"),
        ("all_hours", "Deck hatch: all hours"),
    ],
)
def test_why_explains_any_figure_by_its_name(name: str, label: str) -> None:
    result = quoter("why", SMALL, *HATCH, "--figure", name, "--depth", "1")
    assert result.exit_code == 0
    assert result.stdout.startswith(f"Prices of 2026-02-01\n{label}: ")


def walk(step: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield step
    for inner in step.get("from", ()):
        yield from walk(inner)


def test_why_as_json_has_every_step_with_its_formula_or_its_place() -> None:
    tree = json.loads(quoter("why", DEMO, *DOOR, "--json").stdout)
    price = demo().models[DOOR[0]].options[DOOR[1]].recommended
    assert (tree["figure"], tree["value"], tree["unit"]) == (price.key, price.value, "EUR")
    steps = list(walk(tree))
    assert all("formula" in step or "file" in step for step in steps)
    resin = next(step for step in steps if step["figure"].endswith("resin_lam.dolvane.price"))
    assert (resin["file"], resin["written"]) == ("prices/2026-11-01.csv", "3.48 EUR/kg")
    assert resin["since"] == "2026-11-01"
    assert resin["line"] == 2


def test_why_depth_cuts_the_tree() -> None:
    tree = json.loads(quoter("why", SMALL, *HATCH, "--json", "--depth", "1").stdout)
    assert tree["from"]
    assert all("from" not in step for step in tree["from"])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            [*HATCH, "--figure", "recomended"],
            "no figure is called 'recomended': did you mean 'recom",
        ),
        (["cuter"], "unknown model 'cuter': did you mean 'cutter'?"),
        (["cutter", "hatsh"], "'cutter' has no option 'hatsh': did you mean 'hatch'?"),
        ([*HATCH, "--depth", "0"], "0 is not in the range x>=1"),
    ],
    ids=["figure", "model", "option", "depth"],
)
def test_why_names_the_nearest_of_what_it_does_not_know(words: list[str], told: str) -> None:
    result = quoter("why", SMALL, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert told in result.stderr


@pytest.mark.parametrize(
    ("value", "unit", "form", "told"),
    [
        (2128.4545303, "EUR", "", "2128.45453 EUR"),
        (0.30, "", "percent", "30 %"),
        (0.123456789, "", "percent", "12.3457 %"),
        (4.0, "", "", "4"),
        (0.45, "kg/m2", "", "0.45 kg/m2"),
        (-1.5, "h", "", "-1.5 h"),
    ],
)
def test_amounts_are_told_with_their_units(value: float, unit: str, form: str, told: str) -> None:
    assert amount(constant(value, unit).named("x", "x", form)) == told
