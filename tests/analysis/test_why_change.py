"""`quoter why --since`: why a cost moved, down to lines of the catalogue on both days."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from quoter.analysis.bridge import Bridge, bridge_of
from quoter.analysis.causes import words_of
from quoter.analysis.comparison import compare_priced
from quoter.analysis.moved import Moves
from quoter.analysis.why import Explainer, change_data, money, signed
from quoter.cli import main, why
from quoter.pages.changes import Why, change_page
from quoter.pages.environment import locale_of
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import Problem
from tests.catalogues.edited import EDITS, SHAPES, SMALL, Edit, edited
from tests.catalogues.written import COST_CARD, MODEL, OPTION, write_catalogue
from tests.demo import DEMO
from tests.pages.parsed import Element, Page

SINCE, UNTIL = "2026-09-01", "2026-11-01"
DOOR = ("weekender_86", "side_single")
EXACT = 1e-9


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["why", *(str(word) for word in words)])


@dataclass(frozen=True)
class Months:
    """The demonstration on two days, with the comparison of both."""

    before: Pricing
    after: Pricing
    bridge: Bridge

    @property
    def explainer(self) -> Explainer:
        return Explainer(self.before, self.after, self.bridge)


@pytest.fixture(scope="module")
def months() -> Months:
    before, _ = price_catalogue(DEMO, date.fromisoformat(SINCE))
    after, _ = price_catalogue(DEMO, date.fromisoformat(UNTIL))
    return Months(before, after, compare_priced(before, after, DEMO.name, DEMO.name))


def causes(tree: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    return (inner for inner in tree.get("from", ()) if "cause" in inner)


def parts(tree: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return [inner for inner in tree.get("from", ()) if "weight" in inner]


def add_up(tree: Mapping[str, Any]) -> None:
    """Shares come to the change, and each cause's parts to its share."""
    shares = sum(cause["share"] for cause in causes(tree))
    scale = max(abs(tree["old"]), abs(tree["new"]), 1.0)
    assert shares == pytest.approx(tree["change"], abs=EXACT * scale)
    assert tree["new"] - tree["old"] == pytest.approx(tree["change"], abs=EXACT * scale)
    for cause in causes(tree):
        made = parts(cause)
        if made:
            whole = sum(part["weight"] * part["share"] for part in made)
            assert whole == pytest.approx(cause["share"], abs=EXACT * scale)
    for inner in tree.get("from", ()):
        if inner.get("name") == "made of":
            for side in ("old", "new"):
                whole = sum(part["weight"] * part[side] for part in parts(inner))
                assert whole == pytest.approx(tree[side], rel=EXACT)


def test_shares_add_up_in_every_tree_of_the_demonstration(months: Months) -> None:
    explainer, count = months.explainer, 0
    yard = change_data(explainer.yard())
    (classes,) = (inner for inner in yard["from"] if inner["name"] == "classes")
    trees = [yard, *classes["from"]]
    for id, model in months.bridge.models.items():
        trees += [change_data(explainer.model(id)), change_data(explainer.item(id))]
        trees += [change_data(explainer.item(id, option)) for option in model.options]
    for tree in trees:
        add_up(tree)
        count += len(list(causes(tree)))
    assert len(trees) > 50
    assert count > 300


def test_the_numbers_are_the_bridges_own(months: Months) -> None:
    change = months.bridge.models[DOOR[0]].options[DOOR[1]]
    tree = change_data(months.explainer.item(*DOOR))
    assert (tree["old"], tree["new"]) == (change.old, change.new)
    shares = {cause["cause"]: cause["share"] for cause in causes(tree)}
    assert shares == {cause: share for cause, share in change.shares.items() if share}


def test_a_cause_names_the_lines_of_both_days() -> None:
    told = quoter(*(DEMO, *DOOR), "--since", SINCE).stdout
    for line in (
        r"^Side entry, single: change in cost, 2026-09-01 to 2026-11-01: \+[\d.]+ EUR",
        r"^├─ Resin prices: \+[\d.]+ EUR$",
        r"^│  [├└]─ Laminating resin: landed price: [\d.]+ EUR/kg → [\d.]+ EUR/kg$",
        r"Laminating resin, Dolvane Composites, price: 3.05 EUR/kg "
        r"\[prices/2026-09-01.csv:2 price, since 2026-09-01\] → "
        r"3.48 EUR/kg \[prices/2026-11-01.csv:2 price, since 2026-11-01\]$",
        r"USD, rate: 1.14 USD/EUR \[exchange.csv:\d+ rate, since 2026-09-01\] → 1.075 USD/EUR",
        r"fitter, wage: 26.4 EUR/h \[wages.csv:\d+ wage, since 2026-01-01\] → 26.5 EUR/h \[wages",
    ):
        assert re.search(line, told, re.MULTILINE), line


def test_a_line_stands_only_under_its_own_cause(months: Months) -> None:
    tree = change_data(months.explainer.item(*DOOR))
    for cause in causes(tree):
        files = {
            side["file"].partition("/")[0]
            for figure in cause["from"]
            for line in (figure, *figure.get("from", ()))
            for side in (line["old"], line["new"])
            if side is not None and "file" in side
        }
        expected = {"exchange": "exchange.csv", "wages": "wages.csv"}.get(cause["cause"], "prices")
        assert files == {expected}, cause["cause"]


# One edit each: the only lines told are those that the edit changed, under its cause.
@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.old[:30])
def test_an_edited_line_is_told_with_both_values(edit: Edit) -> None:
    number = "0.07" if "passes" in edit.old else 91
    before, after = edited({}), edited({edit: number})
    moves = Moves(before.costing, after.costing)
    costs = [
        [priced.assembly.cost for model in side.models.values() for priced in every(model)]
        for side in (before, after)
    ]
    found = moves.of(*costs)
    bridge = bridge_of(before, after)
    moved = {c for m in bridge.models.values() for o in (m.boat, *m.options.values())
             for c, share in o.shares.items() if share}  # fmt: skip
    assert moved <= found.keys()
    assert all(cause.startswith(edit.cause) for cause in found)
    lines = [line for each in found.values() for figure in each for line in leaves(figure)]
    assert lines
    for line in lines:
        assert line.old is not None
        assert line.new is not None
        assert {f.origin.place.file for f in (line.old, line.new) if f.origin} == {edit.file}
        assert line.old.value != line.new.value


def every(model: Any) -> list[Any]:
    return [model.boat, *model.options.values()]


def leaves(moved: Any) -> Iterator[Any]:
    if not moved.lines:
        yield moved
    for line in moved.lines:
        yield from leaves(line)


@pytest.mark.parametrize("edit", SHAPES, ids=lambda edit: edit.new[:30])
def test_what_one_side_lacks_is_told_as_missing_there(edit: Edit) -> None:
    before, after = edited({}), edited({edit: None})
    bridge = bridge_of(before, after)
    explainer, told = Explainer(before, after, bridge), 0
    for id, model in bridge.models.items():
        for option, change in model.options.items():
            tree = change_data(explainer.item(id, option))
            add_up(tree)
            found = {cause["cause"] for cause in causes(tree) if cause.get("from")}
            assert found == {cause for cause, share in change.shares.items() if share}
            told += len(found)
    assert told


# The words of the command


@pytest.fixture
def card(tmp_path: Path) -> Path:
    """The cost card with a dearer material from March on."""
    dearer = "material,supplier,price,note\ndirect_material,supplier,6 USD/lb,\n"
    return write_catalogue(tmp_path / "card", {"prices/2026-03-01.csv": dearer})


def test_the_published_variance_comes_with_its_lines(card: Path) -> None:
    """4 lb at 6 USD, not 5.25: 3 USD more (OpenStax, Principles of Accounting vol. 2, 8.1)."""
    day, *told = quoter(card, MODEL, OPTION, "--since", "2026-01-01").stdout.splitlines()
    assert day == "Prices of 2026-03-01 beside those of 2026-01-01"
    assert told[0] == (
        "One unit: change in cost, 2026-01-01 to 2026-03-01: +3.00 USD (+1.8 %) = 168.25 - 165.25"
    )
    assert told[1] == "└─ Other prices: +3.00 USD"
    assert told[3].endswith(
        "price: 5.25 USD/lb [prices/2026-01-01.csv:2 price, since 2026-01-01] → "
        "6 USD/lb [prices/2026-03-01.csv:2 price, since 2026-03-01]"
    )


def test_another_catalogue_is_compared_with_against(card: Path) -> None:
    result = quoter(card, MODEL, OPTION, "--against", COST_CARD, "--json")
    found = json.loads(result.stdout)
    assert found["change"] == pytest.approx(3)
    assert found["from"][0]["share"] == pytest.approx(3)


def test_depth_cuts_the_tree(card: Path) -> None:
    words = (card, MODEL, OPTION, "--since", "2026-01-01", "--depth", "1")
    assert len(quoter(*words).stdout.splitlines()) == 3
    assert "from" not in json.loads(quoter(*words, "--json").stdout)["from"][0]


def test_a_cost_that_stands_still_has_no_cause(card: Path) -> None:
    _, *told = quoter(card, MODEL, "--since", "2026-01-01").stdout.splitlines()
    assert len(told) == 1
    assert ": 0.00 USD" in told[0]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "name a model, or a day with --since"),
        (["skiff", "--since", "2026-01-01"], "no model 'skiff' is on both sides"),
        ([MODEL, "unti", "--since", "2026-01-01"], "did you mean 'unit'?"),
        ([MODEL, OPTION, "--since", "2026-01-01", "--figure", "total"], "--figure is change here"),
        ([MODEL, "--since", "2026-01-01", "--figure", "cost"], "--figure is change or total here"),
        (["--since", "2026-01-01", "--figure", "change"], "--figure is total here"),
    ],
    ids=["no model", "model", "option", "total of an option", "cost", "change of all"],
)
def test_wrong_words_are_wrong_usage(card: Path, words: list[str], told: str) -> None:
    result = quoter(card, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert told in result.stderr


def test_other_currencies_are_a_problem(card: Path) -> None:
    result = quoter(card, MODEL, "--against", SMALL)
    assert (result.exit_code, result.stdout) == (1, "")
    assert "the old costs are in EUR, the new ones in USD" in result.stderr


@pytest.mark.parametrize(
    ("value", "told"), [(0.0, "0.00 EUR"), (-0.004, "0.00 EUR"), (2.675, "+2.68 EUR"),
                        (-1234.5, "-1,234.50 EUR")]
)  # fmt: skip
def test_changes_are_told_as_the_page_tells_them(value: float, told: str) -> None:
    assert signed(value, "EUR") == told
    assert money(1234.005) == "1,234.01"


# Every number of the page


def test_every_number_of_the_page_is_in_what_its_command_prints(
    months: Months, monkeypatch: pytest.MonkeyPatch
) -> None:
    def price_once(
        _: Path,
        day: datetime | None,
        strict: bool,
        settings: Sequence[str] = (),
        only: str = "",
    ) -> tuple[Pricing, list[Problem]]:
        assert day is not None
        assert not settings
        assert only in ("", *months.after.models)
        return {SINCE: months.before, UNTIL: months.after}[str(day.date())], []

    def compare_once(*_: object) -> Bridge:
        return months.bridge

    monkeypatch.setattr(why, "price", price_once)
    monkeypatch.setattr(why, "compare_priced", compare_once)
    market = months.after.catalogue.yard.markets[0]
    page = Page(change_page(months.bridge, locale_of(market), "yard"))
    outputs: dict[str, str] = {}
    rows = 0
    for section in page.all("section"):
        table = next((e for e in page.elements if e.tag == "table" and section in e.within), None)
        if table is None:
            continue
        named = [e.text for e in page.all("code", class_="why") if section in e.within]
        assert named
        for row in (e for e in page.elements if e.tag == "tr" and table in e.within):
            cells = [e for e in page.elements if row in e.within and e.tag in ("td", "th")]
            if any(cell.attributes.get("scope") == "col" for cell in cells):
                continue
            command = command_of(page, row, named)
            assert f"--since {SINCE} --as-of {UNTIL}" in command
            words = shlex.split(command.replace("CATALOGUE", str(DEMO)))
            if command not in outputs:
                outputs[command] = CliRunner().invoke(main, words[1:]).stdout
            for cell in cells:
                number = plain(cell.text)
                if "figure" in cell.attributes.get("class", "") and number not in ("0", "–"):
                    whole = rf"(?<![\d.,]){re.escape(number)}(?![\d,]|\.\d)"
                    assert re.search(whole, outputs[command]), (command, number)
            rows += 1
    assert rows > 60
    assert len(outputs) > 50


def command_of(page: Page, row: Element, named: list[str]) -> str:
    """The command that a row's section names for it: the one of its id, or that without any."""
    ids = [e.text for e in page.all("code", class_="id") if row in e.within]
    if not ids:
        return named[0]
    first = next(command for command in named[::-1])
    words = first.split(" --", 1)
    return f"{words[0].rpartition(' ')[0]} {ids[0]} --{words[1]}"


def plain(text: str) -> str:
    return re.sub(r"\s", "", text).replace("\N{MINUS SIGN}", "-")


def test_a_page_of_two_folders_names_both() -> None:
    before, after = edited({}), edited({EDITS[0]: 71})
    bridge = compare_priced(before, after, "last year", "small")
    why = Why.of(bridge)
    assert why is not None
    assert why.line("cutter") == (
        "quoter why small cutter --against 'last year' --since 2026-02-01 --as-of 2026-02-01"
    )


def test_words_of_causes_are_the_bridges(months: Months) -> None:
    tree = change_data(months.explainer.yard())
    for cause in causes(tree):
        assert cause["name"] == words_of(cause["cause"])
