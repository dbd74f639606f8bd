"""Pages of questions: the planned year in numbers and a sentence, and an option's answers."""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import pairwise

import pytest
from babel import Locale

from quoter.analysis.answers import Answers
from quoter.analysis.findings import Findings
from quoter.analysis.plan import plan_of
from quoter.analysis.volume import curve_of
from quoter.pages.charts import bars, lines, ticks
from quoter.pages.money import number, percent
from quoter.pages.questions import elements_of
from quoter.pricing.price import Pricing
from tests.outputs import paper_pages, question_pages, whole_review
from tests.pages.asked import asked
from tests.pages.parsed import Page
from tests.pages.test_contrast import TEXT, contrast, schemes
from tests.pages.test_public import faults

EN = Locale("en")


@pytest.fixture(scope="module")
def pricing(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    return asked(tmp_path_factory.mktemp("asked"))


@pytest.fixture(scope="module")
def findings(pricing: Pricing) -> Findings:
    return Findings(pricing)


@pytest.fixture(scope="module")
def pages(findings: Findings) -> dict[str, bytes]:
    return question_pages(findings)


@pytest.fixture(scope="module")
def answers(findings: Findings) -> dict[tuple[str, str], Answers]:
    found = [a for model in findings.pricing.models.values() for a in findings.of(model).answers]
    return {(str(a.model.model.id), a.priced.assembly.recipe.id): a for a in found}


def whole(value: float) -> str:
    return number(Decimal(repr(value)), EN)


def two(value: float) -> str:
    return number(Decimal(repr(value)), EN, 2)


def row_of(page: Page, first: str, table: str) -> str:
    """The text of a row by what its head begins with, in the table of a caption's id."""
    (scroll,) = page.all("div", class_="scroll", **{"aria-labelledby": table})
    rows = [row for row in page.all("tr") if scroll in row.within]
    heads = [
        (row, cell)
        for row in rows
        for cell in page.all("th", scope="row")
        if row in cell.within and cell.text.startswith(first)
    ]
    assert heads, f"{first} in {table}"
    return heads[0][0].text


@pytest.mark.parametrize("fixture", ["pricing", "small_pricing", "demo_pricing"])
def test_pages_are_sound_and_lead_to_one_another(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    yard: Pricing = request.getfixturevalue(fixture)
    review = whole_review(Findings(yard), [])
    site = {f"review/{path}": page for path, page in review.items()}
    site |= {f"papers/{path}": page for path, page in paper_pages(yard).items()}
    site |= {f"workbooks/{model}.xlsx": b"" for model in [*yard.models, "margin-review"]}
    asked_for = {f"review/{m}/{o}.html" for m, model in yard.models.items() for o in model.options}
    htmls = {path for path in site if path.startswith("review/") and path.endswith(".html")}
    beside = ["index", "costs", "plan", "history"]
    if yard.catalogue.yard.surcharges:
        beside.append("surcharge")
    assert htmls == asked_for | {f"review/{name}.html" for name in beside}
    assert [f"{path}: {f}" for path in sorted(htmls) for f in faults(path, site, ())] == []
    links = {a.attributes["href"] for a in Page(site["review/costs.html"]).all("a")}
    for model, priced in yard.models.items():
        for option in priced.options:
            assert {f"{model}/{option}.html", f"../papers/{model}/{option}.html"} <= links
    assert {"plan.html", "../papers/index.html"} <= links


def test_every_table_has_a_caption_and_heads(pages: dict[str, bytes]) -> None:
    for path, content in pages.items():
        if path.endswith(".html"):
            page = Page(content)
            tables = list(page.all("table"))
            assert len(list(page.all("caption"))) == len(tables)
            assert all(cell.attributes.get("scope") for cell in page.all("th"))


# Worked by hand: 60 skiffs at 62 h and 25 cutters at 190 h are 8470 h of laminating against a
# capacity of 6000 h; the options come on top.
def test_plan_names_the_bottleneck_in_a_sentence(pricing: Pricing, pages: dict[str, bytes]) -> None:
    plan = plan_of(pricing)
    load = plan.bottleneck
    assert load is not None
    assert load.station == "laminating"
    assert load.hours.value > 8470
    used = percent(Decimal(repr(load.utilisation.value)), EN)
    text = Page(pages["plan.html"]).one("p", class_="lead").text
    assert text.startswith(f"Laminating is the bottleneck: the plan loads it to {used} of its")
    assert f"{whole(load.load.value - 6000)} h more than it can do." in text
    assert "Next is Assembly at 118.2%." in text


def test_plan_shows_the_numbers_of_the_plan(pricing: Pricing, pages: dict[str, bytes]) -> None:
    plan, page = plan_of(pricing), Page(pages["plan.html"])
    for load in plan.stations:
        name = str(pricing.costing.stations[load.station].name)
        row = row_of(page, name, "stations-table")
        for value in (load.hours.value, load.load.value):
            assert f" {whole(value)} " in row
        assert percent(Decimal(repr(load.utilisation.value)), EN) in row
        row = row_of(page, name, "overhead-table")
        for figure in (load.budget, load.absorbed, load.under):
            assert f" {whole(figure.value)} " in row
        assert row.endswith("over-absorbed"), "more boats than the capacity was set for"
    for mould in plan.moulds:
        row = row_of(page, str(mould.mould.name), "moulds-table")
        assert mould.capacity is not None
        assert f" {number(Decimal(repr(mould.capacity.value)), EN, 1)} 1" in row
    for need in plan.materials:
        name = pricing.costing.rates.names[need.material]
        assert whole(need.cost.value) in row_of(page, name, "materials-table")
    for model, margin in plan.margins.items():
        name = str(pricing.models[model].model.name)
        assert row_of(page, name, "boats-table").endswith(whole(margin.value))
    for demand in plan.options:
        name = pricing.models[demand.model].extras[demand.option].assembly.name
        assert row_of(page, name, "options-table")


# Worked by hand: 10 side doors and 30 hatches a year need 40 lids, of which 97 % pass: 41.2 pulls.
def test_demand_goes_down_to_parts_and_pulls(pages: dict[str, bytes]) -> None:
    page = Page(pages["plan.html"])
    assert row_of(page, "Lid", "parts-table") == "Lid 30.0"
    assert row_of(page, "Core block", "parts-table") == "Core block in lid 30.9"
    assert row_of(page, "Lid mould pair", "moulds-table").startswith("Lid mould pair 41.2 60 ")


# Worked by hand: 90 lb are 40.82 kg; 2.657 kg a month are 5.9 lb, for which one pack is bought.
def test_materials_stand_in_units_of_purchase_and_whole_packs(pages: dict[str, bytes]) -> None:
    row = row_of(Page(pages["plan.html"]), "Mat 450", "materials-table")
    assert row == "Mat 450 2.7 kg 5.9 lb 90 lb 1 7"


def test_a_yard_without_volumes_or_calendar_is_told_so(small_pricing: Pricing) -> None:
    pages = question_pages(Findings(small_pricing))
    plan = Page(pages["plan.html"])
    assert "plans no volumes" in plan.one("p", class_="lead").text
    assert not list(plan.all("table"))
    answer = Page(pages["skiff/hatch.html"]).one("main").text
    assert "states no shift_calendar" in answer
    row = row_of(Page(pages["skiff/hatch.html"]), "Lid mould pair", "payback-table")
    assert row.endswith("– not known")
    assert "0 have a range written beside them" in answer
    assert "0 by their history and" in answer


def test_elements_add_up_to_the_cost_and_are_shown(
    pricing: Pricing, answers: dict[tuple[str, str], Answers], pages: dict[str, bytes]
) -> None:
    for model, option in answers:
        assembly = pricing.models[model].options[option].assembly
        elements = list(elements_of(assembly, pricing.costing.rates.station_names))
        assert sum(cost.value for _, cost, _ in elements) == pytest.approx(assembly.cost.value)
        assert sum(share.value for _, _, share in elements) == pytest.approx(1)
        page = Page(pages[f"{model}/{option}.html"])
        for name, cost, _ in elements:
            assert two(cost.value) in row_of(page, name, "elements-table")
        assert row_of(page, "Cost", "elements-table") == f"Cost {two(assembly.cost.value)}"


# Worked by hand: 440 less 18 % is 360.80; a cost of 360.80 x (1 - 2 % - 25 %) = 263.38 is allowed.
def test_target_says_what_the_price_allows_and_what_to_attack(
    answers: dict[tuple[str, str], Answers], pages: dict[str, bytes]
) -> None:
    target = answers["skiff", "hatch"].target
    assert target is not None
    assert target.allowed.value == pytest.approx(263.384)
    assert not target.met.value
    text = Page(pages["skiff/hatch.html"]).one("main").text
    assert "allows a cost of €263.38 at the target margin of 25%. The cost is €48.08 above it." in (
        text
    )
    assert "Labour alone would have to fall by 40.0%." in text
    page = Page(pages["skiff/hatch.html"])
    assert row_of(page, "Tooling", "cuts-table").endswith("can't alone")
    met = Page(pages["skiff/box.html"])
    assert "€2.53 are left" in met.one("main").text
    assert "May grow by" in met.one("main").text
    assert "no price of its own" in Page(pages["cutter/cleats.html"]).one("main").text


def test_cost_by_volume_meets_the_cost_where_the_moulds_are_planned(
    pricing: Pricing, answers: dict[tuple[str, str], Answers]
) -> None:
    surround, lid = (part.curve for part in answers["cutter", "side_door"].moulded)
    parts = pricing.costing.parts
    # The return mould is planned for 30 pulls a year, which is one of the volumes looked at.
    at = surround.volumes.index(30)
    assert surround.costs[at] == pytest.approx(parts["part.surround__white"].cost.value)
    planned = curve_of(
        parts["part.lid__side_door__2"], [pricing.catalogue.records.moulds["lid_mould"]], {}, [60]
    )
    assert planned.costs[0] == pytest.approx(parts["part.lid__side_door__2"].cost.value)
    assert list(lid.costs) == sorted(lid.costs, reverse=True)
    # Three pulls a week, each curing for 30 h over night, in 45 weeks, and 80 % of them.
    at = surround.volumes.index(100)
    assert surround.sets[at : at + 2] == (1, 2), "one set gives 108 pulls a year"


def test_volumes_are_drawn_and_stand_in_a_table(
    answers: dict[tuple[str, str], Answers], pages: dict[str, bytes]
) -> None:
    page = Page(pages["cutter/side_door.html"])
    curves = list(page.all("svg", class_="curve"))
    assert [svg.attributes["role"] for svg in curves] == ["img"] * 2
    for svg, part in zip(curves, answers["cutter", "side_door"].moulded, strict=True):
        name, curve = part.made.assembly.name, part.curve
        assert svg.attributes["aria-label"].startswith(f"Cost of one {name} by pulls a year")
        for at, volume in enumerate(curve.volumes):
            row = row_of(page, str(volume), "volumes-table")
            assert f" {two(curve.costs[at])} {curve.sets[at]} " in f"{row} "


# Worked by hand: the mould pair costs 9400; each hatch leaves 360.80 x 0.98 less its variable cost,
# of which its pulls bear the write-off.
def test_a_mould_pays_when_contributions_have_brought_its_outlay(
    pricing: Pricing, answers: dict[tuple[str, str], Answers], pages: dict[str, bytes]
) -> None:
    (found,) = answers["skiff", "hatch"].paybacks
    hatch = pricing.models["skiff"].options["hatch"]
    (lid,) = (use.assembly for use in hatch.assembly.recipe.uses if use.assembly.tooling)
    passed = 1.0 if lid.passed is None else lid.passed.value
    (mould,) = (pricing.catalogue.records.moulds[id] for id, _ in lid.tooling)
    upkeep = 0.0 if mould.upkeep is None else mould.upkeep.value
    borne = (pricing.costing.rates.pulls[str(mould.id)].value - upkeep) / passed
    contribution = 440 * 0.82 * 0.98 - hatch.assembly.variable.value + borne
    assert found.invested.value == pytest.approx(9400)
    assert found.contribution.value == pytest.approx(contribution)
    assert found.units is not None
    assert found.units.value == pytest.approx(9400 / contribution)
    row = row_of(Page(pages["skiff/hatch.html"]), "Lid mould pair", "payback-table")
    assert f" {two(found.invested.value)} {two(found.contribution.value)} " in row
    assert row.endswith("none needed")


def test_closed_mould_pays_from_the_first_volume_at_which_it_costs_no_more(
    pricing: Pricing, answers: dict[tuple[str, str], Answers], pages: dict[str, bytes]
) -> None:
    (pair,) = answers["cutter", "side_door"].alternatives
    assert pair.volume is not None
    moulds = pricing.catalogue.records.moulds
    at = [pair.volume - 1, pair.volume]
    hand = curve_of(pair.by_hand, [moulds["return_mould"]], {}, at).costs
    panel = curve_of(pair.panel, [moulds["lid_mould"]], {}, at).costs
    assert panel[0] > hand[0]
    assert panel[1] <= hand[1]
    said = f"The closed mould pays from {pair.volume} pulls a year."
    for page in ("cutter/side_door.html", "skiff/hatch.html"):
        assert said in Page(pages[page]).one("main").text
    assert said not in Page(pages["skiff/box.html"]).one("main").text


def test_asking_leaves_the_costing_as_it_was(demo_pricing: Pricing) -> None:
    before = list(demo_pricing.costing.parts)
    findings = Findings(demo_pricing)
    answers = [a for model in demo_pricing.models.values() for a in findings.of(model).answers]
    assert any(answer.alternatives for answer in answers), "parts are costed to be compared"
    assert list(demo_pricing.costing.parts) == before


def test_mass_and_emission_are_told_for_what_they_are(
    answers: dict[tuple[str, str], Answers], pages: dict[str, bytes]
) -> None:
    text = Page(pages["cutter/side_door.html"]).one("main").text
    assert f"{two(answers['cutter', 'side_door'].emission.value)} kg of organic HAP" in text
    words = "an estimate by point values, 40 CFR 63 Subpart VVVV; not a compliance record"
    assert words in text
    assert words in Page(pages["plan.html"]).one("main").text.replace("An estimate", "an estimate")
    for page in ("plan.html", "cutter/side_door.html"):
        assert "approves no structure" in Page(pages[page]).one("section", class_="caution").text


def test_pages_are_the_same_every_time(pricing: Pricing, pages: dict[str, bytes]) -> None:
    assert question_pages(Findings(pricing)) == pages


def test_bars_share_one_scale_with_zero_and_a_mark() -> None:
    drawn = bars([Decimal(30), Decimal(-10), Decimal(0)], Decimal(40))
    starts, widths = ([getattr(s, name) for s in drawn.spans] for name in ("start", "width"))
    assert [float(start) for start in starts] == [20, 0, 20]
    assert [float(width) for width in widths] == [60, 20, 0]
    assert [drawn.zero, drawn.mark] == [Decimal(20), Decimal(100)]
    assert bars([]).spans == ()
    assert bars([Decimal(0)]).spans[0].width == 0


def test_a_line_runs_from_edge_to_edge_within_its_frame() -> None:
    drawn = lines((10, 100, 1000), (50.0, 20.0, 10.0), (1, 1, 2), Decimal(100), (10, 100, 1000))
    xs = [point.x for point in drawn.points]
    assert xs == [
        drawn.frame.left,
        (drawn.frame.left + drawn.frame.right) / 2,
        drawn.frame.right,
    ], "even by decades"
    assert [tick.at for tick in drawn.across] == xs
    assert all(drawn.frame.top <= point.y <= drawn.frame.bottom for point in drawn.points)
    assert [point.sets for point in drawn.points] == [None, None, 2]
    assert drawn.mark is not None
    assert drawn.mark.at == xs[1]
    assert drawn.up[0].at == drawn.frame.bottom
    assert lines((10, 100), (1.0, 1.0), (1, 1), Decimal(7)).mark is None
    assert re.fullmatch(r"M[\d.]+ [\d.]+(L[\d.]+ [\d.]+){2}", drawn.path)


@pytest.mark.parametrize("highest", [0.03, 0.9, 1.0, 7.2, 830.0, 1000.0, 123456.0])
def test_ticks_reach_the_highest_value_in_few_even_steps(highest: float) -> None:
    found = [float(tick) for tick in ticks(highest)]
    assert found[0] == 0
    assert found[-2] < highest <= found[-1] * (1 + 1e-12)
    steps = {round(b - a, 9) for a, b in pairwise(found)}
    assert len(steps) == 1
    assert 2 <= len(found) <= 6


@pytest.mark.parametrize("scheme", ["light", "dark", "paper"])
def test_words_within_charts_stand_out(scheme: str) -> None:
    colours = schemes()[scheme]
    for ink in ("boot", "soft", "ink"):
        assert contrast(colours[ink], colours["paper"]) >= TEXT
    assert contrast(colours["link"], colours["paper"]) >= 3.0, "bars and lines"


def test_each_page_says_where_it_is(pages: dict[str, bytes]) -> None:
    heads = [next(Page(page).all("title")) for path, page in pages.items() if ".html" in path]
    titles = [title.text for title in heads]
    assert len(set(titles)) == len(titles)
