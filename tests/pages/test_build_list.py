"""The list of options on a model's page keeps the program's rules and adds up to the cent.

Only its logic is looked at here; the page that shows it is in test_boat_page.py.
"""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest
from playwright.sync_api import Page as Tab
from playwright.sync_api import sync_playwright

from quoter.figures import constant
from quoter.pages.costing_json import costing_json
from quoter.pages.environment import asset
from quoter.pages.public.site import public_pages
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.rules import rules_of
from tests.pages.ruled import breaches, ruled

pytestmark = pytest.mark.slow

Chosen = dict[str, int]
DEMO_MODELS = ("open_68", "longshore_76", "weekender_86", "coastal_98", "passage_120")
YARDS = {"demo": DEMO_MODELS, "small": ("skiff", "cutter"), "ruled": ("skiff", "cutter")}
EVERY_MODEL = [(yard, model) for yard, models in YARDS.items() for model in models]

LOOKED = """calls => {
    const names = priceList.rules.map((rule, at) =>
        "r_" + String(at).replace(/\\d/g, d => "abcdefghij"[d]));
    return calls.map(chosen => {
        const found = priceList.check(...priceList.items.map(item => chosen[item.id] || 0));
        const left = priceList.standard.filter(item => found["s_" + item.id] > 0);
        return [names.map(name => found[name]), left.map(item => item.id)];
    });
}"""
# From every legal list, every single wish: it is met, or refused with a way out that has it, keeps
# all rules, and changes nothing that could have stayed as it was.
EVERY_WISH = """() => {
    const items = priceList.items, faults = [], seen = {met: 0, refused: 0};
    const legal = chosen => Object.entries(
        priceList.check(...items.map(item => chosen.get(item.id) || 0))
    ).every(([name, value]) => !name.startsWith("r_") || value === 1);
    let lists = [new Map()];
    for (const item of items) {
        lists = lists.flatMap(list => Array.from({length: item.most + 1}, (_, count) =>
            count ? new Map([...list, [item.id, count]]) : list));
    }
    const put = (list, id, count) => {
        const made = new Map(list);
        if (count) { made.set(id, count); } else { made.delete(id); }
        return made;
    };
    const told = list => [...list].join(" ");
    const made = choice(priceList);
    for (const list of lists.filter(legal)) {
        for (const {id, most} of items) {
            for (let count = 0; count <= most; count += 1) {
                made.take(list);
                const wish = `${id}*${count} on ${told(list)}`, holds = made.item(id).holds || [];
                const answer = made.ask(id, count);
                // What a package holds goes into it where both together can't be had.
                let after = put(list, id, count), into = [];
                if (count && !legal(after) && holds.some(option => list.get(option))) {
                    into = holds.filter(option => list.get(option));
                    const packed = into.reduce(
                        (all, option) => put(all, option, all.get(option) - 1), after);
                    if (legal(packed)) { after = packed; } else { into = []; }
                }
                if (answer.done !== legal(after)) { faults.push(`${wish}: done ${answer.done}`); }
                const now = new Map(items.map(i => [i.id, made.count(i.id)]).filter(i => i[1]));
                const kept = answer.done ? after : list;
                if (now.size !== kept.size || [...kept].some(([k, n]) => now.get(k) !== n)) {
                    faults.push(`${wish}: the list is now ${told(now)}`);
                }
                seen[answer.done ? "met" : "refused"] += 1;
                if (answer.done && String(answer.into) !== String(into)) {
                    faults.push(`${wish}: into ${answer.into}`);
                }
                if (answer.done) { continue; }
                const out = answer.instead;
                if (!answer.rules.length) { faults.push(`${wish}: no reason`); }
                if (!out) { faults.push(`${wish}: no way out`); continue; }
                if (!legal(out)) { faults.push(`${wish}: broken by ${told(out)}`); }
                if ((out.get(id) || 0) !== count) { faults.push(`${wish}: not had`); }
                const {added, removed, into: packed} = answer.difference;
                const moved = [...added, ...removed, ...packed];
                if (packed.some(option => !holds.includes(option))) { faults.push(`${wish}: in`); }
                for (const other of items.map(i => i.id)) {
                    const before = list.get(other) || 0, then = out.get(other) || 0;
                    if (before === then || other === id) { continue; }
                    if (!moved.includes(other)) { faults.push(`${wish}: ${other} untold`); }
                    if (legal(put(out, other, before))) { faults.push(`${wish}: ${other}`); }
                }
            }
        }
    }
    return [faults.slice(0, 20), seen];
}"""
ADDED_UP = """lists => {
    const made = choice(priceList);
    return lists.map(text => {
        const left = made.read(text), sums = made.totals();
        return [left.length, made.written(), String(sums.price), String(sums.mass)];
    });
}"""


@pytest.fixture(scope="module")
def blank() -> Iterator[Tab]:
    switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=switches
        )
        yield chromium.new_page()
        chromium.close()


@pytest.fixture(scope="module")
def yards(
    demo_pricing: Pricing, small_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Pricing]:
    odd = ruled(tmp_path_factory.mktemp("ruled"))
    return {"demo": demo_pricing, "small": small_pricing, "ruled": odd}


@pytest.fixture(scope="module")
def sites(
    yards: Mapping[str, Pricing], demo_site: dict[str, bytes], site: dict[str, bytes]
) -> dict[str, dict[str, bytes]]:
    return {"demo": demo_site, "small": site, "ruled": public_pages(yards["ruled"])}


def loaded(tab: Tab, pages: Mapping[str, bytes], model: str, sheet: str = "en/home") -> Tab:
    """A page with nothing but a model's list in it."""
    tab.goto("about:blank")
    scripts = [asset("public/amounts.js"), asset("public/choice.js")]
    for script in (*scripts, pages[f"{sheet}/models/{model}.js"]):
        tab.add_script_tag(content=script.decode())
    return tab


def selections(priced: PricedModel, dice: random.Random, count: int) -> list[Chosen]:
    """Any selections, of few options and of many, more of one than can be had among them."""
    found = []
    for number in range(count):
        share = dice.choice((0.1, 0.3, 0.6))
        ids = [id for id in priced.extras if dice.random() < share]
        found.append({id: dice.choice((1, 1, 1, 2, 3, 5)) if number % 2 else 1 for id in ids})
    return found


@pytest.mark.parametrize(("yard", "model"), EVERY_MODEL)
def test_the_page_finds_the_rules_broken_that_the_program_finds(
    blank: Tab,
    yards: Mapping[str, Pricing],
    sites: Mapping[str, Mapping[str, bytes]],
    yard: str,
    model: str,
) -> None:
    priced = yards[yard].models[model]
    calls = selections(priced, random.Random(f"{yard} {model}"), 300)
    tab = loaded(blank, sites[yard], model)
    rules: list[dict[str, Any]] = tab.evaluate("priceList.rules")
    legal = 0
    for chosen, (holds, left) in zip(calls, tab.evaluate(LOOKED, calls), strict=True):
        counts = {id: constant(float(chosen.get(id, 0))) for id in priced.extras}
        assert holds == [rule.holds.value for rule in rules_of(priced, counts)], chosen
        broken = [rule for rule, value in zip(rules, holds, strict=True) if not value]
        named = {(rule["option"], rule["kind"], tuple(rule["others"])) for rule in broken}
        assert named == breaches(priced, chosen), chosen
        credited = {
            str(credit.option)
            for id, item in priced.options.items()
            if item.option is not None and chosen.get(id)
            for credit in item.option.credits
        }
        assert set(left) == {str(name) for name in priced.model.standard} - credited, chosen
        legal += not broken
    assert 0 < legal < len(calls)


def test_every_kind_of_rule_is_among_them(
    blank: Tab, sites: Mapping[str, Mapping[str, bytes]]
) -> None:
    rules = loaded(blank, sites["ruled"], "cutter").evaluate("priceList.rules")
    assert {rule["kind"] for rule in rules} == {"needs", "conflicts", "one of", "most"}


@pytest.mark.parametrize(
    ("yard", "model"), [("ruled", "cutter"), ("small", "skiff"), ("demo", "passage_120")]
)
def test_every_wish_is_met_or_has_a_way_out_that_changes_no_more_than_it_must(
    blank: Tab, sites: Mapping[str, Mapping[str, bytes]], yard: str, model: str
) -> None:
    faults, seen = loaded(blank, sites[yard], model).evaluate(EVERY_WISH)
    assert faults == []
    assert seen["met"] > 0
    assert seen["refused"] > 0


def exact(data: Mapping[str, Any], tax: Decimal) -> dict[str, tuple[Decimal, Decimal]]:
    """Price and mass of a model's boat ("") and options: what costing.json has, and the tax."""
    found = {}
    for id, item in {"": data["boat"], **data["options"]}.items():
        price = (item["list_price"] * (1 + tax)).quantize(Decimal("0.01"), ROUND_HALF_UP)
        found[id] = (price, item["mass_kg"].quantize(Decimal("0.01"), ROUND_HALF_UP))
    return found


# As options.yaml has them: asked where both are on a boat, each by itself or in a package.
SURCHARGES = {("side_single", "hull_blue"): Decimal(60)}


def charged(kept: Mapping[str, int], tax: Decimal) -> Decimal:
    """What the surcharges of a list come to."""

    def count(id: str) -> int:
        inside = (name for name, (options, _) in PACKAGES.items() if id in options)
        return sum(kept.get(name, 0) for name in (id, *inside))

    return sum(
        (
            (price * (1 + tax)).quantize(Decimal("0.01"), ROUND_HALF_UP) * count(door) * count(hull)
            for (door, hull), price in SURCHARGES.items()
        ),
        Decimal(0),
    )


# As packages.yaml has them: the sum of the list prices less the saving, down to whole tens.
PACKAGES = {
    "easy_boarding": (("side_single", "transom_door"), Decimal("0.04")),
    "day_fishing": (("fish_lid", "seat_base"), Decimal("0.03")),
}


def packed(data: Mapping[str, Any], tax: Decimal) -> dict[str, tuple[Decimal, Decimal]]:
    options = data["options"]
    found = {}
    for id, (inside, saving) in PACKAGES.items():
        if all(name in options for name in inside):
            apart = sum((options[name]["list_price"] for name in inside), Decimal(0))
            price = apart * (1 - saving) // 10 * 10 * (1 + tax)
            mass = sum((options[name]["mass_kg"] for name in inside), Decimal(0))
            cent = Decimal("0.01")
            found[id] = (price.quantize(cent, ROUND_HALF_UP), mass.quantize(cent, ROUND_HALF_UP))
    return found


@pytest.mark.parametrize(("sheet", "tax"), [("en/home", "0.24"), ("en/trade", "0")])
@pytest.mark.parametrize("model", DEMO_MODELS)
def test_totals_are_those_of_the_costing_worked_out_apart(
    blank: Tab,
    demo_pricing: Pricing,
    demo_site: dict[str, bytes],
    model: str,
    sheet: str,
    tax: str,
) -> None:
    written = costing_json(demo_pricing, "build")
    data = json.loads(written, parse_float=Decimal)["models"][model]
    worth = exact(data, Decimal(tax)) | packed(data, Decimal(tax))
    priced = demo_pricing.models[model]
    wanted = selections(priced, random.Random(f"totals {model}"), 150)
    lists = [{id: min(n, 2) for id, n in chosen.items()} for chosen in wanted]
    texts = [",".join(f"{id}*{n}" for id, n in chosen.items()) for chosen in lists]
    whole = surcharged = 0
    found = loaded(blank, demo_site, model, sheet).evaluate(ADDED_UP, texts)
    for chosen, (left, text, price, mass) in zip(lists, found, strict=True):
        # What the rules allow of it: the page says what that is.
        kept = {part.split("*")[0]: int((part + "*1").split("*")[1]) for part in text.split(",")}
        kept = kept if text else {}
        assert kept.items() <= chosen.items()
        assert not breaches(priced, kept)
        whole += not left
        prices = [worth[""][0], *(worth[id][0] * n for id, n in kept.items())]
        asked = charged(kept, Decimal(tax))
        assert Decimal(price) / 100 == sum(prices) + asked, kept
        surcharged += asked > 0
        masses = [worth[""][1], *(worth[id][1] * n for id, n in kept.items())]
        # To the ten grams that the price list shows of each.
        assert Decimal(mass) / 10**6 == sum(masses), kept
    assert whole > 0
    assert (surcharged > 0) == (model in ("weekender_86", "coastal_98"))


@pytest.mark.parametrize(
    ("text", "kept", "left"),
    [
        ("", "", []),
        ("hatch*2", "hatch*2", []),
        ("rail,frame,awning", "rail,frame,awning", []),
        # Whatever the order: what an item needs may stand behind it.
        ("awning,frame,rail", "rail,frame,awning", []),
        ("tow_post,red,big_cleats,hatch*9", "red,big_cleats,tow_post", ["hatch"]),
        ("awning,green,frame,red", "green", ["awning", "frame", "red"]),
        ("seat*3,bow", "seat*3", ["bow"]),
        ("seat*0", "", ["seat"]),
        ("seat*1.5,seat*x,seat*-1,seat*,seat*1*1,*2,seat*1e0", "", ["seat"] * 5 + ["", "seat"]),
        (",,seat,,", "seat", []),
        ("__proto__,constructor,toString", "", ["__proto__", "constructor", "toString"]),
        # Standard, and in no catalogue.
        ("cleats,anvil", "", ["cleats", "anvil"]),
    ],
)
def test_a_list_in_words_is_taken_over_as_far_as_the_rules_go(
    blank: Tab, sites: Mapping[str, Mapping[str, bytes]], text: str, kept: str, left: list[str]
) -> None:
    tab = loaded(blank, sites["ruled"], "cutter")
    read = "text => { window.made = choice(priceList); return made.read(text).map(e => e.id); }"
    assert (tab.evaluate(read, text), tab.evaluate("made.written()")) == (left, kept)
