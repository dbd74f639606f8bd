"""Papers for one boat: all that its job takes, in its colours, by store, day and station."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from quoter.costing.assembly import Assembly, in_building_order
from quoter.figures import Figure
from quoter.pages import job_views
from quoter.pages.job_pack import HANDOVER, job_files, job_paper
from quoter.pages.job_views import Job, JobPaper, StationSheet
from quoter.pages.picture_views import Amount
from quoter.pricing.built import Built, built
from quoter.pricing.configured import configure
from quoter.pricing.price import Pricing
from tests.pages.parsed import Page
from tests.pages.test_papers import MONEY
from tests.pages.test_public import faults
from tests.pages.variants import small_with

BLUE = {"side_pair": 1, "transom_door": 1, "seat_base": 2, "hull_blue": 1}
DAY = date(2026, 12, 2)


def job(boats: int = 1, start: date | None = None) -> Job:
    return Job("2026-0117", "as stated", boats, start=start)


def boat_of(pricing: Pricing, model: str, chosen: dict[str, int]) -> Built:
    return built(pricing, pricing.models[model], chosen)


def pack_of(
    pricing: Pricing, model: str = "weekender_86", chosen: dict[str, int] | None = None, n: int = 1
) -> JobPaper:
    return job_paper(pricing, boat_of(pricing, model, BLUE if chosen is None else chosen), job(n))


def text_of(pricing: Pricing, model: str, chosen: dict[str, int], asked: Job) -> str:
    """All that a job's document says."""
    files = job_files(pricing, boat_of(pricing, model, chosen), asked)
    (main,) = Page(files["papers.html"]).all("main")
    return main.text


@pytest.mark.parametrize(
    ("model", "chosen", "start"),
    [
        ("weekender_86", BLUE, DAY),
        ("open_68", {"hull_grey": 1, "roof_panel": 1}, None),
        ("passage_120", {"side_ramp": 1, "ramp_hoist": 1}, DAY),
    ],
)
def test_the_document_is_sound_and_brings_its_styles(
    demo_pricing: Pricing, model: str, chosen: dict[str, int], start: date | None
) -> None:
    files = job_files(demo_pricing, boat_of(demo_pricing, model, chosen), job(2, start))
    assert faults("papers.html", files, ()) == []
    assert [name for name in files if name.endswith(".html")] == ["papers.html"]
    assert files == job_files(demo_pricing, boat_of(demo_pricing, model, chosen), job(2, start))


def test_no_money_and_no_supplier_stands_on_it(demo_pricing: Pricing) -> None:
    text = text_of(demo_pricing, "weekender_86", BLUE, job())
    assert MONEY.search(text) is None
    for supplier in demo_pricing.catalogue.records.suppliers.values():
        assert str(supplier.name) not in text


def test_no_view_can_hold_money() -> None:
    plain = {"str", "Markup", "int", "bool", "Decimal", "date | None", "Decimal | None"}
    known = {name for name, each in vars(job_views).items() if dataclasses.is_dataclass(each)}
    known -= {"Paper"}  # held by a test of its own
    for name in known:
        for each in dataclasses.fields(vars(job_views)[name]):
            inner = str(each.type).removeprefix("tuple[").removesuffix(", ...]")
            inner = inner.removesuffix(" | None") if inner not in plain else inner
            assert inner in plain | known | {"Paper"}, f"{name}.{each.name}: {each.type}"


# The boat as it is made against the boat as it is priced. Both ways lead through the same parts but
# not through the same sums: the price knows differences of colour and credits.
@pytest.mark.parametrize("kind", ["glass", "resin", "gelcoat", "catalyst"])
def test_what_is_drawn_costs_what_the_configured_boat_says(
    demo_pricing: Pricing, kind: str
) -> None:
    priced = demo_pricing.models["weekender_86"]
    whole = boat_of(demo_pricing, "weekender_86", BLUE).whole
    drawn = sum(
        (material.price * material.line.issued * one.quantity).value
        for one in in_building_order(whole)
        for material in one.assembly.materials
        if material.material_class == kind and material.line.element == "material"
    )
    boat = configure(demo_pricing.terms, priced, BLUE)
    element = f"material.{kind}"
    told = element_of(priced.boat.assembly, element)
    told += sum(n * element_of(priced.extras[id].assembly, element) for id, n in BLUE.items())
    told += sum(p.count.value * element_of(p.of.assembly, element) for p in boat.pairs)
    assert drawn == pytest.approx(told, rel=1e-9)
    assert drawn > 1


def element_of(assembly: Assembly, element: str) -> float:
    found = assembly.elements.get(element)
    return 0.0 if found is None else found.value


def test_the_boat_is_made_in_its_real_colour_and_in_no_other(demo_pricing: Pricing) -> None:
    plain, blue = pack_of(demo_pricing, chosen={"side_pair": 1}), pack_of(demo_pricing)
    assert (plain.paper.hull_colour, blue.paper.hull_colour) == ("white", "deep blue")
    assert "Gelcoat deep blue" not in {draw.name for draw in plain.paper.draws}
    mixed = {
        (part.name, mix.what.name)
        for part in blue.paper.parts
        for mix in part.mixes
        if mix.what.use == "face 1"
    }
    assert ("Side door", "Gelcoat deep blue") in mixed
    assert ("Side door", "Gelcoat white") not in mixed
    assert ("Cabin door", "Gelcoat white") in mixed, "which is not of the hull's colour"
    assert blue.paper.colours == ()


@pytest.mark.parametrize("boats", [1, 3])
def test_stores_and_days_add_up_to_what_all_boats_take(demo_pricing: Pricing, boats: int) -> None:
    pack = pack_of(demo_pricing, n=boats)
    fetched: dict[str, float] = defaultdict(float)
    times: dict[str, int] = defaultdict(int)
    for store in pack.stores:
        for row in store.rows:
            fetched[row.material] += float(row.amount.value)
            times[row.material] += 1
    assert fetched.keys() == {draw.name for draw in pack.paper.draws}
    pieces = 0
    for draw in pack.paper.draws:
        one, wanted, found = float(draw.one), float(draw.batch), fetched[draw.name]
        if draw.unit == "each":  # issued whole for the job, and handed out whole each day
            assert (one, wanted, found) == (round(one), round(wanted), round(found))
            assert one * boats - boats < wanted <= one * boats
            assert wanted <= found < wanted + times[draw.name]
            pieces += 1
        else:
            assert wanted == pytest.approx(one * boats)
            assert found == pytest.approx(wanted, rel=1e-9)
    assert pieces


def test_each_material_comes_from_its_own_store_and_days_follow_each_other(
    demo_pricing: Pricing,
) -> None:
    materials = demo_pricing.catalogue.records.materials.values()
    stores = {str(material.name): str(material.store) for material in materials}
    pack = pack_of(demo_pricing)
    assert {store.name for store in pack.stores} == {
        *("Glass store", "Resin store", "Peroxide cabinet", "Foam room", "Fittings store"),
        *("Solvent cabinet", "Consumables store"),
    }
    for store in pack.stores:
        days = [row.day.number if row.day else 0 for row in store.rows]
        assert days == sorted(days)
        assert {stores[row.material] for row in store.rows} == {store.name}
    assert pack.days is not None
    assert any(row.day and row.day.number == 2 for store in pack.stores for row in store.rows)


def test_without_a_shift_calendar_no_day_is_told_and_without_stores_none_is_named(
    small_pricing: Pricing,
) -> None:
    pack = pack_of(small_pricing, "cutter", {"side_door": 1})
    assert pack.days is None
    assert [store.name for store in pack.stores] == [""]
    assert {row.day for row in pack.stores[0].rows} == {None}
    text = text_of(small_pricing, "cutter", {"side_door": 1}, job())
    assert "The yard's policy has no shift calendar, so that no day is told." in text
    assert "No store is named" in text
    assert pack.handover == HANDOVER


def test_every_operation_stands_on_the_sheet_of_its_station_with_its_code(
    demo_pricing: Pricing,
) -> None:
    pack = pack_of(demo_pricing, n=2)
    stations = demo_pricing.catalogue.records.stations
    order = [str(station.name) for station in stations.values()]
    assert [sheet.name for sheet in pack.stations] == sorted(
        (sheet.name for sheet in pack.stations), key=order.index
    )
    ids = {str(station.name): id for id, station in stations.items()}
    for sheet in pack.stations:
        assert sheet.codes[0].text == f"job=2026-0117;station={ids[sheet.name]}"
    found = [(sheet.name, code.text) for sheet in pack.stations for code in sheet.codes[1:]]
    wanted = [
        (
            str(stations[str(done.operation.station)].name),
            f"job=2026-0117;part={one.assembly.recipe.key.partition('.')[2]};operation={n}",
        )
        for one in in_building_order(boat_of(demo_pricing, "weekender_86", BLUE).whole)
        for n, done in enumerate(one.assembly.operations, 1)
    ]
    assert sorted(found) == sorted(wanted)
    assert len({text for _, text in found}) == len(found)
    for sheet in pack.stations:
        steps = [step for part in sheet.paper.parts for step in part.steps]
        assert {step.station for step in steps} == {sheet.name}
        assert len(steps) == len(sheet.codes) - 1


def test_quantities_are_those_of_the_job(demo_pricing: Pricing) -> None:
    one, three = pack_of(demo_pricing), pack_of(demo_pricing, n=3)
    doors = {part.name: part for part in three.paper.parts}
    assert [int(doors["Side door"].quantity), int(doors["Side door"].batch)] == [2, 6]
    assert [int(doors["Seat base"].quantity), int(doors["Seat base"].batch)] == [2, 6]
    for few, many in zip(one.paper.parts, three.paper.parts, strict=True):
        assert many.batch == 3 * few.batch
        for step, more in zip(few.steps, many.steps, strict=True):
            assert (more.one, more.setup) == (step.one, step.setup)
            assert float(more.batch) == pytest.approx(3 * float(step.batch))


def sheet_of(pack: JobPaper, name: str) -> StationSheet:
    (sheet,) = (each for each in pack.stations if each.name == name)
    return sheet


def test_a_sheet_says_what_is_short_of_a_batch(demo_pricing: Pricing) -> None:
    (row,) = (
        each
        for each in sheet_of(pack_of(demo_pricing), "Closed moulding").passing
        if each.part == "Side door"
    )
    usual = demo_pricing.costing.parts["part.side_door__gel_blue"].recipe.batch
    assert usual is not None
    assert [float(row.pieces), float(row.batch)] == [2.0, usual.value]
    text = text_of(demo_pricing, "weekender_86", {"side_single": 1}, job())
    assert "make it with those of another boat, or the set-up is for 1 alone." in text


def test_positions_stand_for_each_opening_with_the_caution(demo_pricing: Pricing) -> None:
    pack = pack_of(demo_pricing, chosen={"side_pair": 1, "deck_hatch": 1})
    rows = [
        (row.option, row.side, row.end, row.level, row.distance, row.height)
        for row in pack.positions
    ]
    # What options.yaml states of each: those chosen, then what is standard.
    assert [row[:4] for row in rows] == [
        ("Side entry, pair", "port", "transom", "sole"),
        ("Side entry, pair", "starboard", "transom", "sole"),
        ("Cabin door", "port", "transom", "sole"),
        ("Deck hatch", "centre", "stem", "deck"),
        ("Anchor locker lid", "centre", "stem", "deck"),
    ]
    measured = [(float(d.value), d.unit) for row in rows for d in row[4:] if d is not None]
    assert measured[:4] == [(2450.0, "mm"), (60.0, "mm")] * 2
    text = text_of(demo_pricing, "weekender_86", {"side_pair": 1}, job())
    assert "An opening is cut only to approved scantlings." in text


def test_an_opening_without_a_position_says_so(small_pricing: Pricing) -> None:
    (row,) = pack_of(small_pricing, "cutter", {"side_door": 1}).positions
    assert (row.option, row.opening, row.distance) == ("Side door", True, None)
    text = text_of(small_pricing, "cutter", {"side_door": 1}, job())
    assert "No position is stated on this model: ask before you mark out." in text


def test_mass_stands_on_its_side_and_adds_up_to_the_configured_boat(demo_pricing: Pricing) -> None:
    priced = demo_pricing.models["weekender_86"]
    chosen = BLUE | {"fish_lid": 1, "deck_hatch": 1}
    pack = pack_of(demo_pricing, chosen=chosen)
    *rows, last = pack.masses
    by_name = {row.option: row for row in rows}
    pair = by_name["Side entry, pair"]
    assert pair.port.value == pytest.approx(pair.starboard.value)
    assert pair.centre.value == 0
    assert by_name["Deck hatch"].centre == by_name["Deck hatch"].all
    assert by_name["Transom door"].port == by_name["Transom door"].all
    added = configure(demo_pricing.terms, priced, chosen).mass - priced.boat.assembly.mass
    assert float(last.all.value) == pytest.approx(added.value, rel=1e-9)
    sides = float(last.port.value), float(last.centre.value), float(last.starboard.value)
    assert sum(sides) == pytest.approx(added.value, rel=1e-9)
    assert float(pack.difference.value) == pytest.approx(abs(sides[0] - sides[2]))
    assert pack.heavier == ("port" if sides[0] > sides[2] else "starboard")


def test_what_an_option_takes_the_place_of_is_left_out(demo_pricing: Pricing) -> None:
    chosen = {"companion_wide": 1, "hull_grey": 1}
    pack = pack_of(demo_pricing, chosen=chosen)
    assert {(row.name, int(row.count), row.instead) for row in pack.not_made} == {
        ("Cabin door", 1, "Cabin door, wide"),
        ("Topsides gelcoat, white", 1, "Hull colour stone grey"),
    }
    assert "Cabin door" not in {row.name for row in pack.options}
    made = in_building_order(boat_of(demo_pricing, "weekender_86", chosen).whole)
    assert "option.weekender_86.companion_door" not in {one.assembly.recipe.key for one in made}


# On the boats that are not built up, the white gelcoat of the topsides is in what is stated of the
# whole boat: 140 kg, less what 15 m2 of it take (0.5 mm wet, 1.25 kg/L, three quarters arrive).
def test_stated_gelcoat_is_less_what_the_colour_leaves_out(demo_pricing: Pricing) -> None:
    whole = boat_of(demo_pricing, "weekender_86", {"hull_blue": 1}).whole
    stated = {m.line.material: m.line.issued for m in whole.materials if m.line.stage == "stated"}
    topsides = next(
        assembly
        for key, assembly in demo_pricing.costing.parts.items()
        if key == "part.topsides_white__hull_blue__2__weekender_86"
    )
    taken = sum(m.line.issued.value for m in topsides.materials if m.line.material == "gel_white")
    assert taken > 5
    assert stated["gel_white"].value == pytest.approx(140 - taken)
    assert stated["resin_lam"].value == 990


def test_the_yards_own_list_of_handing_over_takes_the_place_of_the_usual_one(
    demo_pricing: Pricing, tmp_path: Path
) -> None:
    yard = demo_pricing.catalogue.yard
    assert pack_of(demo_pricing).handover == tuple(map(str, yard.handover))
    changed = small_with(tmp_path, {"yard.yaml": {"company:\n": "handover: [Look]\ncompany:\n"}})
    assert pack_of(changed, "cutter", {"side_door": 1}).handover == ("Look",)


def test_the_front_says_after_what_a_job_is_called_and_who_lets_it_be_made(
    demo_pricing: Pricing,
) -> None:
    asked = replace(job(2, DAY), quote="2026-0007", release="Ilse Maravant")
    text = text_of(demo_pricing, "weekender_86", BLUE, asked)
    assert "Job 2026-0117 Orvesund 8.6 Weekender" in text
    assert "No order yet: quote 2026-0007 is not won. Ilse Maravant lets this boat be made" in text
    assert "Job number: as stated." in text
    assert "2 December 2026" in text
    plain = text_of(demo_pricing, "weekender_86", BLUE, job())
    assert "No order yet" not in plain
    assert "Without a date to start, the job begins with a week." in plain


def test_a_figure_is_never_shown_without_its_unit(demo_pricing: Pricing) -> None:
    pack = pack_of(demo_pricing)
    told = [row.amount for store in pack.stores for row in store.rows]
    told += [each for row in pack.masses for each in (row.port, row.all)]
    assert all(each.unit for each in told)
    assert not isinstance(told[0].value, Figure)


# 1 lb is 0.45359237 kg and 1 in is 25.4 mm, both exact: the international pound and inch.
def test_another_reader_sees_the_same_boat_in_his_units(demo_pricing: Pricing) -> None:
    catalogue = replace(demo_pricing.catalogue, units="US")
    pricing = replace(demo_pricing, costing=replace(demo_pricing.costing, catalogue=catalogue))
    here, there = pack_of(demo_pricing), pack_of(pricing)
    factors = {("kg", "lb"): 0.45359237, ("mm", "in"): 25.4, ("m", "ft"): 0.3048}
    factors |= {("g", "oz"): 28.349523125, ("each", "each"): 1.0, ("m²", "ft²"): 0.09290304}
    seen = set()
    for own, other in zip(_amounts(here), _amounts(there), strict=True):
        seen.add((own.unit, other.unit))
        told = float(other.value) * factors[own.unit, other.unit]
        assert told == pytest.approx(float(own.value), rel=1e-9, abs=1e-12)
    assert {("kg", "lb"), ("mm", "in"), ("m", "ft"), ("g", "oz"), ("each", "each")} <= seen


def _amounts(pack: JobPaper) -> Iterator[Amount]:
    """Every amount with a unit that the pack has of its own."""
    yield from (row.amount for store in pack.stores for row in store.rows)
    yield from (each for row in pack.masses for each in (row.port, row.centre, row.all))
    places = [each for row in pack.positions for each in (row.distance, row.height)]
    yield from (each for each in places if each is not None)
    yield pack.difference


def test_both_units_stand_beside_each_other_and_the_paper_is_the_yards(
    demo_pricing: Pricing,
) -> None:
    catalogue = demo_pricing.catalogue
    yard = catalogue.yard.model_copy(update={"units": "metric and US", "paper": "Letter"})
    catalogue = replace(catalogue, yard=yard)
    pricing = replace(demo_pricing, costing=replace(demo_pricing.costing, catalogue=catalogue))
    files = job_files(pricing, boat_of(pricing, "weekender_86", BLUE), job())
    (main,) = Page(files["papers.html"]).all("main")
    assert "310.000 kg (683.433 lb)" in main.text
    assert "2,450 mm (96.5 in)" in main.text
    assert b"@page { size: letter;" in files["assets/paper.css"]
