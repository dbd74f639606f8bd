"""What if: values set on the command line do what a hand that edits the files would do."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from quoter.analysis.what_if import WAGES, Factor, what_if_of
from quoter.build import render
from quoter.catalogue.mark import fingerprint
from quoter.cli import main
from quoter.figures.graph import gradient, inputs_of
from quoter.pages.costing_json import costing_json
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.catalogues.edited import LIST, SMALL
from tests.catalogues.written import FOLDER, write_catalogue
from tests.demo import DEMO, demo
from tests.workbook.compare import differences
from tests.workbook.recalculate import recalculate

SOUND = FOLDER / "sound"
HATCH = ("cutter", "hatch")
Edits = Mapping[str, Mapping[str, str]]


def quoter(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def setting(*settings: str) -> list[str]:
    """The words of a command that set each of these."""
    return [word for one in settings for word in ("--set", one)]


def what_if(folder: Path, *settings: str, as_of: date | None = None) -> Pricing:
    return price_catalogue(folder, as_of, settings=settings)[0]


def by_hand(base: Path, edits: Edits, folder: Path) -> Pricing:
    """The catalogue with texts of its files replaced, each of which stands there once."""
    texts = {}
    for name, changes in edits.items():
        texts[name] = (base / name).read_text("utf-8")
        for old, new in changes.items():
            assert texts[name].count(old) == 1, old
            texts[name] = texts[name].replace(old, new)
    return price_catalogue(write_catalogue(folder, texts, base=base))[0]


def numbers(pricing: Pricing) -> dict[str, Any]:
    """Everything that costing.json says, by the path to it, but for the settings themselves."""
    record = json.loads(costing_json(pricing, "a mark"))
    record.pop("settings", None)
    return dict(flat(record, ""))


def flat(value: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from flat(inner, f"{path}/{key}")
    else:
        yield path, value


def assert_alike(found: Pricing, expected: Pricing) -> None:
    ours, theirs = numbers(found), numbers(expected)
    assert ours.keys() == theirs.keys()
    for path, value in theirs.items():
        if isinstance(value, float):
            assert ours[path] == pytest.approx(value, rel=1e-9, abs=1e-9), path
        else:
            assert ours[path] == value, path


SAME: dict[str, tuple[tuple[str, ...], Edits]] = {
    "a class": (
        ("class.resin=+10%",),
        {LIST: {",3.35 EUR/kg": ",3.685 EUR/kg", ",3.75 EUR/kg": ",4.125 EUR/kg"}},
    ),
    "a class that falls": (
        ("class.hardware = -20 %",),
        {LIST: {",21.50 EUR": ",17.20 EUR", ",17.30 EUR": ",13.84 EUR"}},
    ),
    "a price": (("price.mat=2.80 EUR/kg",), {LIST: {",2.60 EUR/kg": ",2.80 EUR/kg"}}),
    "a price per another unit": (
        ("price.green=12.40 GBP/L",),
        {LIST: {",9.10 GBP/kg": ",12.40 GBP/L"}},
    ),
    "a price with a range": (
        ("price.mat=2.80 EUR/kg [2.50 to 3]",),
        {LIST: {",2.60 EUR/kg": ",2.80 EUR/kg"}},
    ),
    "a price by a percentage": (("price.mat=-5%",), {LIST: {",2.60 EUR/kg": ",2.47 EUR/kg"}}),
    "a price and its class": (
        ("class.resin=+10%", "price.hand_resin=4 EUR/kg"),
        {LIST: {",3.35 EUR/kg": ",4.4 EUR/kg", ",3.75 EUR/kg": ",4.125 EUR/kg"}},
    ),
    "all wages": (("wages=+4%",), {"wages.csv": {",24 EUR/h": ",24.96 EUR/h"}}),
    "a wage": (("wage.hands=25.40 EUR/h",), {"wages.csv": {",24 EUR/h": ",25.40 EUR/h"}}),
    "a wage by a percentage, and all": (
        ("wage.hands=+3%", "wages=+1%"),
        {"wages.csv": {",24 EUR/h": ",24.9672 EUR/h"}},
    ),
    "a rate": (("rate.GBP=0.9",), {"exchange.csv": {",0.86 GBP": ",0.9 GBP"}}),
    "a rate with its unit": (
        ("rate.GBP=0.9 GBP/EUR",),
        {"exchange.csv": {",0.86 GBP": ",0.9 GBP"}},
    ),
    "a rate with a note": (
        ("rate.GBP=0.9 (as of Friday)",),
        {"exchange.csv": {",0.86 GBP": ",0.9 GBP"}},
    ),
    "a rate with a range": (
        ("rate.GBP=0.9 [0.85 to 0.95]",),
        {"exchange.csv": {",0.86 GBP": ",0.9 GBP"}},
    ),
    "a dearer currency": (("currency.GBP=+25%",), {"exchange.csv": {",0.86 GBP": ",0.688 GBP"}}),
    "a dearer currency at another rate": (
        ("currency.GBP=+25%", "rate.GBP=0.80"),
        {"exchange.csv": {",0.86 GBP": ",0.64 GBP"}},
    ),
    "the policy": (
        ("yard.policy.target_margin=32 %", "yard.policy.rounding.direction=down"),
        {"yard.yaml": {"target_margin: 25 %": "target_margin: 32 %", "n: up": "n: down"}},
    ),
    "a mould": (
        ("moulds.moulds.return_mould.life=80",),
        {"moulds.yaml": {"life: 200": "life: 80"}},
    ),
    "a supplier": (
        ("suppliers.suppliers.brisk.freight=3.5 % (by sea)",),
        {"suppliers.yaml": {"freight: 2 %": "freight: 3.5 %"}},
    ),
    "an item of a list": (
        ("options.options.box.parts.1.quantity=2",),
        {"options.yaml": {"quantity: 3}": "quantity: 2}"}},
    ),
    "a name": (
        ("suppliers.suppliers.brisk.name=Other", "options.options.hatch.name=Lid"),
        {"options.yaml": {"name: Deck hatch": "name: Lid"}},
    ),
}


@pytest.mark.parametrize("case", SAME)
def test_a_setting_does_what_the_edited_file_does(case: str, tmp_path: Path) -> None:
    settings, edits = SAME[case]
    edited = by_hand(SMALL, edits, tmp_path / "edited")
    assert_alike(what_if(SMALL, *settings), edited)
    assert numbers(edited) != numbers(what_if(SMALL))


def test_the_files_stay_as_they_are(tmp_path: Path) -> None:
    folder = write_catalogue(tmp_path / "c", {}, base=SMALL)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    what_if(folder, "class.resin=+10%", "wage.hands=30 EUR/h", "yard.policy.target_margin=32 %")
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_what_is_set_is_what_is_in_force_on_the_day(tmp_path: Path) -> None:
    """In October the November list does not hold yet, and October's price is what is set."""
    october = date(2026, 10, 15)
    found = what_if(SOUND, "price.resin_lam=+10%", "currency.USD=+20%", as_of=october)
    assert found.catalogue.prices["resin_lam"].price.value == pytest.approx(3.41)
    assert found.catalogue.exchange["USD"].rate.value == pytest.approx(1.11 / 1.2)
    before, now = found.catalogue.records.price_lists.values()
    assert [row.price.value for row in (*before, *now) if row.material == "resin_lam"] == [3.1, 3.3]


def test_without_settings_nothing_is_said_of_them() -> None:
    pricing = what_if(SMALL)
    assert dict(pricing.catalogue.settings) == {}
    assert "settings" not in json.loads(costing_json(pricing, ""))
    day = pricing.catalogue.as_of
    assert fingerprint(SMALL, day, {}) == fingerprint(SMALL, day)


def test_costing_json_and_the_mark_tell_the_settings() -> None:
    settings = ("wages=+4%", "yard.policy.target_margin = 32 %")
    found = what_if(SMALL, *settings).catalogue
    told = {"wages": "+4%", "yard.policy.target_margin": "32 %"}
    assert json.loads(costing_json(what_if(SMALL, *settings), ""))["settings"] == told
    marks = [
        fingerprint(SMALL, found.as_of, each)
        for each in ({}, told, told | {"wages": "+5%"}, {"wages": "+4%"})
    ]
    assert len(set(marks)) == 4
    assert fingerprint(SMALL, found.as_of, dict(reversed(told.items()))) == marks[1]


def test_a_change_is_an_input_of_its_own_whose_slope_is_known() -> None:
    cost = what_if(SMALL, "class.resin=+10%").models["cutter"].options["hatch"].assembly.cost
    (change,) = (figure for figure in inputs_of([cost]) if figure.key == "set.class.resin")
    more = what_if(SMALL, "class.resin=+20%").models["cutter"].options["hatch"].assembly.cost
    assert cost.value + 0.1 * gradient(cost)[change] == pytest.approx(more.value)


def test_a_line_that_an_alias_repeats_is_set_once_for_all(tmp_path: Path) -> None:
    folder = write_catalogue(
        tmp_path / "c",
        {},
        {"moulds.yaml": ("cost: 4800 EUR, life: 200", "cost: 4800 EUR, life: &life 200")},
        base=SMALL,
    )
    text = (folder / "moulds.yaml").read_text("utf-8")
    (folder / "moulds.yaml").write_text(text.replace("life: 500", "life: *life"), "utf-8")
    moulds = what_if(folder, "moulds.moulds.return_mould.life=90").catalogue.records.moulds
    assert [mould.life.value for mould in moulds.values()] == [90, 90]


def test_the_demonstration_set_is_what_its_terms_foretell() -> None:
    """The exact answer of a what-if is that of the factors, since costs are linear in them."""
    then = what_if(DEMO, "class.resin=+20%", "currency.NOK=+10%", "wages=-4%")
    moves = {Factor("class", "resin"): 1.2, Factor("currency", "NOK"): 1.1, WAGES: 0.96}
    for (model, option), answer in what_if_of(demo()).answers.items():
        found = then.models[model]
        assembly = (found.extras[option] if option else found.boat).assembly
        assert answer.cost.at(moves) == pytest.approx(assembly.cost.value, rel=1e-9)
        assert answer.variable.at(moves) == pytest.approx(assembly.variable.value, rel=1e-9)
    again = what_if_of(then)
    assert again.exact


# The commands


def test_check_tells_a_broken_setting_without_the_folder() -> None:
    result = quoter("check", SMALL, *setting("class.resn=+10%"))
    assert result.exit_code == 1
    assert result.stderr == (
        "--set:1:1: unknown key 'class.resn' [unknown-key]\n    class.resn=+10%\n    ^\n"
        "    did you mean 'class.resin'?\n1 problem; nothing was written\n"
    )
    assert quoter("check", SMALL, *setting("class.resin=+10%", "wages=+1%")).exit_code == 0


def test_why_shows_what_was_set_and_what_the_file_says() -> None:
    settings = setting("price.white=8 EUR/kg", "class.gelcoat=+10%", "wages=+4%")
    result = quoter("why", SMALL, *HATCH, "--figure", "landed.white", *settings)
    assert result.stdout == (
        "Prices of 2026-02-01\n"
        "White gelcoat: landed price: 8.976 EUR/kg  = "
        "((White gelcoat, Brisk Chemicals Wholesale, price, "
        "as set ÷ 1) × (1 + Brisk Chemicals Wholesale, freight)) × (1 + 0)\n"
        "├─ White gelcoat, Brisk Chemicals Wholesale, price, as set: 8.8 EUR/kg  = "
        "White gelcoat, Brisk Chemicals Wholesale, price × (1 + gelcoat prices: change)\n"
        "│  ├─ White gelcoat, Brisk Chemicals Wholesale, price: 8 EUR/kg  "
        "[set on the command line] (was 7.20 EUR/kg)\n"
        "│  └─ gelcoat prices: change: 10 %  [set on the command line]\n"
        "└─ Brisk Chemicals Wholesale, freight: 2 %  [suppliers.yaml:2 freight]\n"
    )
    policy = setting("yard.policy.target_margin=32 %")
    lines = quoter("why", SMALL, *HATCH, "--depth", "3", *policy).stdout
    assert "policy, target margin: 32 %  [set on the command line] (was 25 %)\n" in lines


def test_why_against_the_catalogue_itself_explains_what_was_set() -> None:
    result = quoter("why", SMALL, *HATCH, "--against", SMALL, *setting("class.resin=+10%"))
    assert result.exit_code == 0
    assert "Resin prices" in result.stdout
    more = (
        what_if(SMALL, "class.resin=+10%").models["cutter"].options["hatch"].assembly.cost.value
        - what_if(SMALL).models["cutter"].options["hatch"].assembly.cost.value
    )
    assert f"{more:.2f}" in result.stdout


def test_a_what_if_is_not_built_over_the_real_costing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = quoter("build", SMALL, "--site", "s", *setting("wages=+4%"))
    assert result.exit_code == 2
    assert "name a folder of its own with --internal DIR" in " ".join(result.stderr.split())
    assert list(tmp_path.iterdir()) == []


def test_a_what_if_publishes_nothing_unless_told_where(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    settings = setting("wages=+4%", "options.options.hatch.text=<b>Cheap</b>")
    result = quoter("build", SMALL, "--internal", "what_if", *settings)
    assert (result.exit_code, result.stderr.count("warning")) == (0, 1)  # the hatch's, as ever
    day, told = result.stdout.split("\n", 1)
    assert day == "Prices of 2026-02-01"
    assert told.startswith("what_if: 3 workbooks, open what_if/review/index.html")
    assert [path.name for path in tmp_path.iterdir()] == ["what_if"]
    page = (tmp_path / "what_if" / "review" / "index.html").read_text("utf-8")
    heading, stand = page.index("<h1>"), page.index("A what-if, and no costing")
    assert heading < stand < page.index("<table")
    assert "<code>wages=+4%</code>" in page
    assert "<code>options.options.hatch.text=&lt;b&gt;Cheap&lt;/b&gt;</code>" in page
    record = json.loads((tmp_path / "what_if" / "costing.json").read_text("utf-8"))
    assert list(record["settings"]) == ["wages", "options.options.hatch.text"]
    also = quoter("build", SMALL, "--internal", "what_if", "--site", "public", *settings)
    assert also.exit_code == 0
    assert (tmp_path / "public" / "index.html").is_file()
    assert not (tmp_path / "site").exists()


def test_a_real_build_says_nothing_of_a_what_if(tmp_path: Path) -> None:
    pages = render(SMALL, None, strict=False, say=lambda _: None).internal
    assert b"A what-if, and no costing" not in pages["review/index.html"]


def test_the_page_of_changes_compares_a_what_if_with_the_last_list_as_it_was() -> None:
    """The old costs are those of the catalogue alone, so what is set shows as what moved."""

    def page(*settings: str) -> str:
        built = render(SOUND, None, strict=False, say=lambda _: None, settings=settings)
        return built.internal["review/change.html"].decode("utf-8")

    plain, moved = page(), page("wages=+10%")
    then, now = price_catalogue(SOUND, date(2026, 10, 1))[0], what_if(SOUND, "wages=+10%")
    old, new = (f"{p.models['tarn_31'].boat.assembly.cost.value:,.2f}" for p in (then, now))
    assert old in plain
    assert old in moved
    assert new in moved
    assert new not in plain


@pytest.mark.slow
def test_a_workbook_of_a_what_if_is_live_over_what_was_set(tmp_path: Path) -> None:
    settings = ("class.resin=+10%", "price.mat=2.80 EUR/kg", "wages=+4%", "currency.GBP=-3%")
    built = render(SMALL, None, strict=False, say=lambda _: None, settings=settings)
    book = tmp_path / "cutter.xlsx"
    book.write_bytes(built.internal["workbooks/cutter.xlsx"])
    assert differences(book, recalculate([book], tmp_path)[0]) == []
