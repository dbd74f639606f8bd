"""`quoter compare`: what it prints and writes, and when it refuses."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from click.testing import CliRunner, Result

from quoter.analysis.bridge import BridgeError, bridge_of
from quoter.analysis.comparison import HEADS, as_json, compare_records, report_lines
from quoter.cli import main
from quoter.pages.changes import COLOURS, change_page
from quoter.pages.costing_json import costing_json
from quoter.pages.environment import asset
from quoter.workbook import write_book
from quoter.workbook.change_book import change_book
from tests.catalogues.edited import PASSES, RATE, RESIN, SHAPES, SMALL, WAGE, Edit, edited
from tests.catalogues.written import COST_CARD, MODEL, OPTION, priced, write_catalogue
from tests.demo import DEMO
from tests.pages.parsed import Page
from tests.pages.test_contrast import MARK, contrast, schemes
from tests.workbook.compare import values
from tests.workbook.recalculate import recalculate
from tests.workbook.validity import schema_errors

DEARER = "material,supplier,price,note\ndirect_material,supplier,6 USD/lb,\n"
CHANGED: dict[Edit, object] = {RESIN: 71, PASSES: 88, WAGE: 22}


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["compare", *(str(word) for word in words)])


@pytest.fixture
def card(tmp_path: Path) -> Path:
    """The cost card with a dearer material from March on."""
    return write_catalogue(tmp_path / "card", {"prices/2026-03-01.csv": DEARER})


def test_two_days_of_a_catalogue_are_told_in_a_sentence_and_a_table(card: Path) -> None:
    """4 lb at 6 USD instead of 5.25 on the standard cost card: 3 USD more than 165.25 (OpenStax,
    Principles of Accounting vol. 2, 8.1)."""
    result = quoter(card, "--from", "2026-01-01", "--to", "2026-03-01")
    assert (result.exit_code, result.stderr) == (0, "")
    day, *told = result.stdout.splitlines()
    assert day == "Prices of 2026-03-01 beside those of 2026-01-01"
    assert told[0] == (
        "The total did not change on the boat; One unit (Card) moved most, by +3.00 USD (+1.8 %), "
        "first of all by other prices."
    )
    assert told[1] == "Costs in USD, 2026-01-01 to 2026-03-01."
    assert re.split(r"\s{2,}", told[3].strip()) == [*HEADS]
    assert re.split(r"\s{2,}", told[-1]) == [
        "Card", "One unit", "165.25", "168.25", "+3.00", "+1.8", "Other prices +3.00",
    ]  # fmt: skip


def test_the_newest_list_is_the_new_side_unless_told(card: Path) -> None:
    told = quoter(card, "--from", "2026-01-01", "--to", "2026-03-01").stdout
    assert quoter(card, "--from", "2026-01-01").stdout == told


def test_the_demonstration_starts_with_what_mattered_most() -> None:
    result = quoter(DEMO, "--from", "2026-09-01", "--to", "2026-11-01")
    assert result.exit_code == 0
    told = result.stdout.splitlines()[1]
    assert re.match(r"Resin prices account for \d+ % of the change in cost, \+", told)


def test_json_holds_shares_that_add_up(card: Path) -> None:
    found = json.loads(quoter(card, "--from", "2026-01-01", "--json").stdout)
    option = found["models"][MODEL]["options"][OPTION]
    assert (option["old"], option["new"]) == (165.25, 168.25)
    assert sum(option["shares"].values()) == pytest.approx(option["change"], rel=1e-9)
    assert found["shares_by"] == "cause"
    assert found["causes"] == {"prices.other": "Other prices"}


def test_two_folders_compare(card: Path) -> None:
    result = quoter(COST_CARD, card, "--json")
    found = json.loads(result.stdout)
    assert (found["old"], found["new"]) == ("cost_card, 2026-01-01", "card, 2026-03-01")
    assert found["models"][MODEL]["options"][OPTION]["change"] == pytest.approx(3)


def test_options_and_models_of_one_side_are_named(tmp_path: Path) -> None:
    step = (
        "  - {id: step, name: Boarding step, group: Fittings, kind: fitting, text: A step aft.,\n"
        "     lead_time: from stock, goods: [{item: cleat, quantity: 1}]}\n"
    )
    text = (SMALL / "options.yaml").read_text("utf-8")
    text = text.replace("  - id: box\n", step + "  - id: box\n")
    more = priced(write_catalogue(tmp_path / "more", {"options.yaml": text}, base=SMALL))
    less = priced(SMALL)
    for sides, word in (((less, more), "new"), ((more, less), "dropped")):
        bridge = bridge_of(*sides)
        assert f"Tern Skiff, options {word}: Boarding step" in list(report_lines(bridge))
        assert "step" not in bridge.models["skiff"].options
        assert json.loads(as_json(bridge))["models"]["skiff"]["boat"]["change"] == 0


# Two costing.json files


def written(folder: Path, name: str, edits: dict[Edit, object]) -> Path:
    path = folder / name
    path.write_bytes(costing_json(edited(edits), "build"))
    return path


def test_two_results_compare_by_element_and_say_so(tmp_path: Path) -> None:
    old, new = written(tmp_path, "old.json", {}), written(tmp_path, "new.json", {WAGE: 30})
    result = quoter(old, new)
    assert result.exit_code == 0
    assert "shares are those of cost elements, not of causes" in result.stdout
    bridge = compare_records(old, new)
    assert not bridge.by_cause
    change = bridge.models["cutter"].options["side_door"]
    assert sum(change.shares.values()) == pytest.approx(change.change, rel=1e-9)
    assert change.largest[0][0] == "labour"
    assert change.shares["material"] == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[]", "is no costing.json: it states no format"),
        ("{", "can't be read as JSON, line 1, column 2: Expecting property name"),
        (
            '{"format": 2}',
            "can't be read: this costing.json is of format 2; this program reads up to 1: upgrade "
            "quoter",
        ),
        ('{"format": 1, "currency": NaN}', "holds 'NaN', which is no number of JSON"),
        ('{"format": 1, "cost": 1e999999}', "holds the number '1e999999', which nobody can mean"),
        ("[" * 100_000, "holds lists within lists beyond all measure"),
        ('{"format": 1, "currency": "EUR"}', "lacks what a costing.json holds"),
    ],
)
def test_a_file_that_is_no_result_is_refused(tmp_path: Path, text: str, said: str) -> None:
    old, bad = written(tmp_path, "old.json", {}), tmp_path / "bad.json"
    bad.write_text(text, encoding="utf-8")
    with pytest.raises(BridgeError, match=re.escape(said)):
        compare_records(old, bad)
    result = quoter(old, bad)
    assert (result.exit_code, result.stdout) == (1, "")


# Refusals


def test_wrong_words_are_wrong_usage(card: Path, tmp_path: Path) -> None:
    result = written(tmp_path, "old.json", {})
    for words in (
        [card],
        [result, result, "--from", "2026-01-01"],
        [result],
        [card, result],
        [card, "--from", "January"],
        [card / "nowhere", "--from", "2026-01-01"],
    ):
        assert quoter(*words).exit_code == 2, words


def test_a_day_without_prices_is_a_problem(card: Path) -> None:
    result = quoter(card, "--from", "2020-01-01")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "no price list is in force on 2020-01-01" in result.stderr


def test_other_currencies_are_a_problem(card: Path) -> None:
    result = quoter(SMALL, card)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.endswith("the old costs are in EUR, the new ones in USD [compare]\n")


# The page


def test_the_page_is_whole_and_tells_every_bar_in_words(card: Path, tmp_path: Path) -> None:
    target = tmp_path / "change.html"
    result = quoter(card, "--from", "2026-01-01", "--html", target)
    assert result.exit_code == 0
    page = Page(target.read_bytes())
    assert page.faults == []
    charts = [e for e in page.elements if e.tag == "svg" and e.attributes.get("role") == "img"]
    assert "One unit: +3.00 USD; Other prices +3.00" in [
        chart.attributes["aria-label"] for chart in charts
    ]
    assert all(
        e.attributes.get("aria-hidden") == "true"
        for e in page.elements
        if e.tag == "svg" and e not in charts
    )
    assert not [e for e in page.elements if e.tag in ("link", "script", "img")]
    ids = [e.attributes["id"] for e in page.elements if "id" in e.attributes]
    assert len(ids) == len(set(ids))
    links = [e.attributes["href"] for e in page.elements if e.tag == "a"]
    assert {link.removeprefix("#") for link in links} <= set(ids)


def test_bars_hold_every_share_from_one_zero() -> None:
    """Rising shares stand right of the zero, falling ones left, each as wide as its amount."""
    bridge = bridge_of(edited({}), edited(CHANGED))
    page = Page(change_page(bridge, Locale("en")))
    change = bridge.models["cutter"].options["side_door"]
    svg = next(e for e in page.elements if e.attributes.get("aria-label", "").startswith("Side d"))
    pieces = [e for e in page.elements if e.tag == "rect" and svg in e.within]
    shares = [share for share in (change.shares[c] for c in bridge.causes) if share]
    assert len(pieces) == len(shares) == 3
    widths = [float(piece.attributes["width"]) for piece in pieces]
    for width, share in zip(widths, shares, strict=True):
        assert width / widths[0] == pytest.approx(abs(share / shares[0]), abs=1e-3)
    (zero,) = [e for e in page.elements if e.tag == "path" and svg in e.within]
    at = float(re.findall(r"M([\d.]+) ", zero.attributes["d"])[0])
    for piece, share in zip(pieces, shares, strict=True):
        start = float(piece.attributes["x"])
        end = start + float(piece.attributes["width"])
        assert start >= at - 0.01 if share > 0 else end <= at + 0.01


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_colours_of_causes_stand_out(scheme: str) -> None:
    css = asset("internal/change.css").decode()
    light, dark = css.split("@media (prefers-color-scheme: dark)")
    found = re.findall(r"--cause-\d: (#[0-9a-f]{6});", light if scheme == "light" else dark)
    assert len(found) == COLOURS
    for colour in found:
        assert contrast(colour, schemes()[scheme]["paper"]) >= MARK, colour


# The workbook


def test_the_workbook_is_valid_and_its_sums_are_live(card: Path, tmp_path: Path) -> None:
    target = tmp_path / "change.xlsx"
    assert quoter(card, "--from", "2026-01-01", "--xlsx", target).exit_code == 0
    assert schema_errors(target) == []
    assert quoter(card, "--from", "2026-01-01", "--xlsx", tmp_path / "again.xlsx").exit_code == 0
    assert (tmp_path / "again.xlsx").read_bytes() == target.read_bytes()
    cells = values(target)
    flags = [value for value in cells.values() if value in ("OK", "CHECK")]
    assert len(flags) > 4
    assert set(flags) == {"OK"}


@pytest.mark.slow
def test_another_program_finds_the_same_numbers_in_the_workbook(tmp_path: Path) -> None:
    edits = CHANGED | {SHAPES[0]: None, RATE: 91}
    bridge = bridge_of(edited({}), edited(edits))
    target = tmp_path / "change.xlsx"
    target.write_bytes(write_book(change_book(bridge, "The yard")))
    (again,) = recalculate([target], tmp_path / "recalculated")
    before, after = values(target), values(again)
    assert before.keys() == after.keys()
    for cell, value in before.items():
        expected = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
        assert after[cell] == expected, cell


def test_json_and_page_agree() -> None:
    bridge = bridge_of(edited({}), edited(CHANGED))
    data = json.loads(as_json(bridge))
    text = " ".join(e.text for e in Page(change_page(bridge, Locale("en"))).elements)
    for model in data["models"].values():
        for option in model["options"].values():
            assert f"{Decimal(repr(option['new'])):,.2f}" in text


def test_sides_without_a_common_model_are_told_apart(tmp_path: Path) -> None:
    text = (COST_CARD / "models.yaml").read_text("utf-8").replace("id: card", "id: other")
    other = write_catalogue(tmp_path / "other", {"models.yaml": text})
    target, page = tmp_path / "c.xlsx", tmp_path / "c.html"
    result = quoter(COST_CARD, other, "--xlsx", target, "--html", page)
    assert result.exit_code == 0
    assert "\nThe two sides have no model in common" in result.stdout
    assert "new models: Card\nmodels dropped: Card\n" in result.stdout
    assert schema_errors(target) == []
    assert Page(page.read_bytes()).faults == []
