"""What papers say of pots, doses, pieces and settings, worked by hand for small yards."""

from __future__ import annotations

import math
from decimal import Decimal
from pathlib import Path

import pytest

from quoter.catalogue.materials import Resin
from quoter.figures.readers import METRIC_READER
from quoter.pages.amounts import as_written, percent_digits
from quoter.pages.paper_views import MixRow, Pots
from quoter.pages.picture_views import Amount
from quoter.pricing.price import Pricing
from tests.outputs import paper_pages
from tests.pages.parsed import Page
from tests.pages.test_papers import (
    PRICINGS,
    area_of,
    every_paper,
    made_of,
    paper_of,
    part_of,
    whole_of,
)
from tests.pages.variants import small_with

DOSES = {"{id: catalyst, name: Catalyst}": "{id: catalyst, name: Catalyst, density: 1.10 kg/L}"}
SHARE = {"catalyst_fraction: 1.5 %": "catalyst_fraction: 1.25 %"}
LIFE = {"    styrene: 35 %\n": "    styrene: 35 %\n    pot_life: 20 min\n"}
BUCKET = {"yard.yaml": {"policy:\n": "policy:\n  bucket: 1 L\n"}}


def told(amount: Amount) -> tuple[float, str]:
    return round(float(amount.value), 3), amount.unit


def parted(mix: MixRow) -> Pots:
    assert mix.pots is not None
    return mix.pots


def text_of(pricing: Pricing, page: str) -> str:
    return Page(paper_pages(pricing)[page]).one("main").text.replace("\N{NO-BREAK SPACE}", " ")


# By hand: 1.9186 kg of resin are laid at 20 min/m round 2.8627 m, 57.25 min: 2.0107 kg/h. In 20 min
# 0.6702 kg are used, so that there are 3 pots, of 0.6395 kg; 1.25 % of that is 7.99 g, by 1.10 kg/L
# 7.27 mL; of all, 23.98 g or 21.80 mL.
def test_pots_go_by_the_pot_life_and_the_rate_of_the_work(tmp_path: Path) -> None:
    changes = {"materials.yaml": {**DOSES, **SHARE, **LIFE}}
    pricing = small_with(tmp_path, changes)
    gelcoat, resin = part_of(paper_of(pricing, "cutter", "side_door"), "Surround").mixes
    assert gelcoat.pots is None
    pots = parted(resin)
    assert (int(pots.count), pots.per_part) == (3, False)
    assert told(pots.each) == (0.64, "kg")
    assert told(pots.dose.mass) == (7.994, "g")
    assert pots.dose.volume is not None
    assert told(pots.dose.volume) == (7.267, "mL")
    text = text_of(pricing, "cutter/side_door.html")
    assert "3 pots of 0.640 kg with 8.0 g (7.3 mL) catalyst each." in text
    assert "Catalyst 1.25% 24.0 g (22 mL) 24.0 g (22 mL) 3" in text
    assert "1.3%" not in text
    assert "Catalyst comes last." in text


# By hand: a litre of injection resin weighs 1.09 kg, and each lid is a shot of its own.
def test_pots_go_by_the_bucket_and_what_is_injected_is_mixed_shot_by_shot(tmp_path: Path) -> None:
    pricing = small_with(tmp_path, BUCKET)
    lid = part_of(paper_of(pricing, "cutter", "side_door"), "Lid")
    injected = next(mix for mix in lid.mixes if mix.what.use == "injected")
    pots = parted(injected)
    assert lid.batch == 2
    assert pots.per_part
    assert pots.count == math.ceil(injected.what.issued / Decimal("1.09"))
    assert told(pots.each) == (round(float(injected.what.issued / pots.count), 3), "kg")
    assert pots.dose.volume is None
    gelcoat = parted(lid.mixes[0])
    assert not gelcoat.per_part
    assert gelcoat.count == math.ceil(lid.mixes[0].what.batch_issued / Decimal("1.25"))
    assert "For each part " in text_of(pricing, "cutter/side_door.html")


def test_where_nothing_limits_a_pot_none_is_told(small_pricing: Pricing) -> None:
    for paper in every_paper(small_pricing):
        assert [mix.pots for part in paper.parts for mix in part.mixes if mix.pots] == []
    assert " pots of " not in text_of(small_pricing, "cutter/side_door.html")


def test_every_mix_of_the_demonstration_is_in_pots_that_hold_it(demo_pricing: Pricing) -> None:
    seen = 0
    for paper in every_paper(demo_pricing):
        for part in paper.parts:
            for mix in part.mixes:
                if mix.pots is None:
                    assert mix.catalyst is None
                    continue
                pots, share = mix.pots, mix.share
                assert share is not None
                whole = mix.what.issued if pots.per_part else mix.what.batch_issued
                held = pots.each.value * pots.count
                assert float(held) == pytest.approx(float(whole), rel=1e-9)
                assert pots.count == 1 or pots.each.value <= Decimal("6.3") * Decimal(1)
                dose = pots.dose
                assert dose.volume is not None
                assert float(dose.mass.value) == pytest.approx(
                    float(pots.each.value * share) * 1000, rel=1e-9
                )
                assert float(dose.volume.value) == pytest.approx(float(dose.mass.value) / 1.1)
                seen += pots.count > 1
    assert seen > 50


@pytest.mark.parametrize("fixture", PRICINGS)
def test_pieces_are_issued_whole_and_never_fewer_than_are_costed(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    pricing: Pricing = request.getfixturevalue(fixture)
    names = pricing.costing.rates.names
    seen = 0
    for paper in every_paper(pricing):
        parts = {part.id: part for part in paper.parts}
        for made in {a.recipe.key: a for a in made_of(whole_of(pricing, paper))}.values():
            batch = 1.0 if made.recipe.batch is None else made.recipe.batch.value
            for line in (m.line for m in made.materials if m.line.stage != "stated"):
                if str(line.issued.unit):
                    continue
                one, all = (math.ceil(round(line.issued.value * n, 9)) for n in (1, batch))
                rows = parts[made.recipe.key.replace(".", "-")].goods
                drawn = [
                    (int(r.issued), int(r.batch_issued))
                    for r in rows
                    if r.name == names[line.material]
                ]
                assert (one, all) in drawn
                seen += line.issued.value % 1 > 0
        for draw in paper.draws:
            if draw.pieces:
                assert draw.one == int(draw.one)
                assert draw.batch == int(draw.batch)
    assert seen or fixture == "small_pricing"


def test_a_percentage_has_the_decimals_it_was_written_with(tmp_path: Path) -> None:
    for number, (written, digits) in enumerate(
        (("1.25 %", 2), ("2.0 %", 1), ("2 %", 0), ("0.0125", 2), ("1.5 % [1.2 to 2]", 1))
    ):
        folder = tmp_path / str(number)
        pricing = small_with(folder, {"materials.yaml": {SHARED: f"catalyst_fraction: {written}"}})
        resin: Resin = pricing.catalogue.records.of("resin")["hand_resin"]
        assert percent_digits(resin.catalyst_fraction) == digits, written


SHARED = "catalyst_fraction: 1.5 %"


# By hand: 80 kPa on 0.1 m2 and 40 kPa on 0.25 m2 are 18 kN; one atmosphere on both 35.46 kN.
def test_a_route_card_tells_gaps_cores_and_vacuum(small_pricing: Pricing) -> None:
    paper = paper_of(small_pricing, "cutter", "side_door")
    lid = part_of(paper, "Lid")
    (cavity,) = lid.cavities
    assert (cavity.zone, told(cavity.gap)) == ("field", (26.85, "mm"))
    assert cavity.core is not None
    assert told(cavity.core) == (20, "mm")
    assert lid.clamp is not None
    assert [told(each) for each in (lid.clamp.force, lid.clamp.most)] == [
        (18, "kN"),
        (35.464, "kN"),
    ]
    text = text_of(small_pricing, "cutter/side_door.html")
    assert "field: gap 26.85 mm, core 20 mm" in text
    assert (
        "Vacuum: flange 80 kPa on 0.1 m², cavity 40 kPa on 0.25 m², which clamps with 18.0 kN at "
        "most; a perfect vacuum on both, one atmosphere of 101.3 kPa, gives no more than 35.5 kN"
    ) in text
    assert told(paper.atmosphere) == (101.325, "kPa")
    assert told(paper.as_load) == (10.332, "t/m2".replace("2", "²"))


def test_checks_stand_in_their_step_with_limits_and_room_for_what_was_measured(
    tmp_path: Path,
) -> None:
    checks = (
        "passes: 97 %, checks: [{what: Wet film, least: 0.5 mm, most: 24 mil}, "
        "{what: Barcol hardness, least: 35}, {what: Leak in ten minutes, most: 2.0 kPa}, "
        "{what: Glass, least: 28 %}, {what: 'Dry, and clean'}]"
    )
    pricing = small_with(tmp_path, {"parts.yaml": {"passes: 97 %": checks}})
    page = Page(paper_pages(pricing)["cutter/side_door.html"])
    spans = page.all("span", class_="check")
    found = [each.text.replace("\N{NO-BREAK SPACE}", " ") for each in spans]
    assert found == [
        "Check: Wet film, 0.5 mm to 24 mil",
        "Check: Barcol hardness, at least 35",
        "Check: Leak in ten minutes, at most 2.0 kPa",
        "Check: Glass, at least 28 %",
        "Check: Dry, and clean",
    ]
    assert len(list(page.all("span", class_="measured"))) == 5
    (step,) = [body.text for body in page.all("tbody", class_="step") if "Wet film" in body.text]
    assert "Load and inject" in step
    assert small_costs(pricing) == small_costs(small_with(tmp_path / "without", {}))


def small_costs(pricing: Pricing) -> list[float]:
    return [
        one.assembly.cost.value
        for model in pricing.models.values()
        for one in model.options.values()
    ]


def test_an_amount_of_the_catalogue_stays_as_it_was_written(small_pricing: Pricing) -> None:
    lid = small_pricing.catalogue.records.of("closed_mould")["lid"]
    assert as_written(METRIC_READER, lid.zones[0].gap) == Amount(Decimal("26.85"), "mm", 2)
    assert as_written(METRIC_READER, lid.vacuum.flange_area) == Amount(Decimal("0.1"), "m²", 1)


def test_a_paper_says_what_each_hull_colour_takes(demo_pricing: Pricing) -> None:
    """By hand: 24 mil wet of 1.24 kg/L in blue, 22 mil of 1.26 kg/L in grey; 75 % arrive."""
    paper = paper_of(demo_pricing, "weekender_86", "side_single")
    film = {"deep blue": (24, 1240), "stone grey": (22, 1260)}
    assert [each.colour for each in paper.colours] == [*film]
    for each in paper.colours:
        mil, density = film[each.colour]
        assert [part.name for part in each.parts] == ["Surround, single opening", "Side door"]
        for part in each.parts:
            (usual,) = (one for one in paper.parts if one.name == part.name)
            mix, *injected = part.mixes
            # A film of another thickness leaves the closed mould another free volume.
            assert [one.what.use for one in injected] == (
                ["injected"] if part.name == "Side door" else []
            )
            assert (mix.what.name, mix.what.use) == (f"Gelcoat {each.colour}", "face 1")
            assert mix.what.area == usual.mixes[0].what.area
            assert mix.what.area is not None
            net = area_of(mix.what) * mil * 25.4e-6 * density
            assert float(mix.what.net) == pytest.approx(net, rel=1e-9)
            assert float(mix.what.issued) == pytest.approx(net / 0.75, rel=1e-9)
            assert mix.catalyst is not None
            assert float(mix.catalyst.issued) == pytest.approx(20 * net / 0.75, rel=1e-9)
            assert (part.quantity, part.batch) == (usual.quantity, usual.batch)
    assert paper_of(demo_pricing, "weekender_86", "seat_base").colours == ()
    assert paper_of(demo_pricing, "passage_120", "side_single").colours == ()
