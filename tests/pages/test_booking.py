"""Codes to book by hold what stands beside them: read by a scanner that is not ours."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
import zxingcpp
from markupsafe import Markup
from PIL import Image
from playwright.sync_api import sync_playwright

from quoter.catalogue.booked_files import read_booked
from quoter.costing.assembly import in_building_order
from quoter.pages.booking import Code, booking_text, code_of
from quoter.pages.job_pack import job_paper
from quoter.pages.job_views import Job
from quoter.pricing.built import built
from quoter.pricing.price import Pricing
from quoter.problems import Problems
from tests.pages.variants import small_with


@pytest.mark.slow
def test_a_code_is_read_back_by_a_scanner(demo_pricing: Pricing) -> None:
    """Every code of the pack, as a browser draws it, by a reader that is not ours."""
    boat = built(
        demo_pricing, demo_pricing.models["weekender_86"], {"side_pair": 1, "hull_blue": 1}
    )
    pack = job_paper(demo_pricing, boat, Job("2026-0117", "as stated", 1))
    codes = [pack.code, *(code for sheet in pack.stations for code in sheet.codes)]
    codes += pack.further
    assert sorted(_scanned(codes)) == sorted(code.text for code in codes)
    assert booking_text("2026-0117") in {code.text for code in codes}


ALL = {
    "side_single": 1,
    "transom_door": 1,
    "companion_wide": 1,
    "deck_hatch": 2,
    "fish_lid": 1,
    "seat_base": 3,
    "sole_panels": 1,
    "roof_panel": 1,
    "buoyancy": 1,
    "hull_grey": 1,
}


def test_every_step_and_every_station_has_a_code(demo_pricing: Pricing) -> None:
    """One for each line of the route cards, and one for all of the job at each station it needs.

    What it needs is counted from the costing: every operation of all that is made for the boat.
    """
    for model, chosen in (("weekender_86", ALL), ("open_68", {}), ("passage_120", {})):
        boat = built(demo_pricing, demo_pricing.models[model], chosen)
        pack = job_paper(demo_pricing, boat, Job("2026-0117", "as stated", 1))
        made = in_building_order(boat.whole)
        steps = {
            f"job=2026-0117;part={one.assembly.recipe.key.split('.', 1)[1]};operation={number}"
            for one in made
            for number in range(1, len(one.assembly.operations) + 1)
        }
        worked = {str(o.operation.station) for one in made for o in one.assembly.operations}
        worked |= {str(station) for one in made for station in one.assembly.recipe.stated.hours}
        stations = {f"job=2026-0117;station={id}" for id in worked}
        texts = [code.text for sheet in pack.stations for code in sheet.codes]
        texts += [code.text for code in pack.further]
        assert sorted(texts) == sorted(steps | stations)


def test_a_station_of_which_only_hours_are_stated_has_its_code_on_the_first_sheet(
    tmp_path: Path,
) -> None:
    """The cutter of the small catalogue is laminated 190 h, of which no step is told."""
    pricing = small_with(tmp_path, {})
    boat = built(pricing, pricing.models["cutter"], {})
    pack = job_paper(pricing, boat, Job("7", "as stated", 1))
    assert [code.text for code in pack.further] == ["job=7;station=laminating"]


def test_what_a_scanner_gives_is_a_row_that_the_tables_take(
    demo_pricing: Pricing, tmp_path: Path
) -> None:
    """Each code of a pack as a row of hours, its fields in the columns of their names."""
    boat = built(demo_pricing, demo_pricing.models["weekender_86"], ALL)
    pack = job_paper(demo_pricing, boat, Job("2026-0117", "as stated", 1))
    codes = [code for sheet in pack.stations for code in sheet.codes]
    options = "; ".join(f"{id} x {count}" for id, count in ALL.items())
    actuals = tmp_path / "actuals"
    actuals.mkdir()
    jobs = f"job,model,options,started\n2026-0117,weekender_86,{options},2026-09-01\n"
    (actuals / "jobs.csv").write_text(jobs, encoding="utf-8")
    columns = ("job", "part", "operation", "station")
    lines = [f"reference,date,hours,{','.join(columns)}"]
    for number, code in enumerate(codes):
        fields = dict(field.split("=") for field in code.text.split(";"))
        assert set(fields) <= set(columns)
        cells = ",".join(fields.get(column, "") for column in columns)
        lines.append(f"H-{number},2026-09-02,1 h,{cells}")
    (actuals / "hours.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    problems = Problems()
    booked = read_booked(tmp_path, demo_pricing.catalogue.records, problems)
    assert [str(problem) for problem in problems.errors] == []
    assert len(booked.hours) == len(codes)


def test_a_code_that_names_nothing_is_told(demo_pricing: Pricing, tmp_path: Path) -> None:
    """So that the test above would see one: a part, an operation and a station of no boat."""
    actuals = tmp_path / "actuals"
    actuals.mkdir()
    (actuals / "jobs.csv").write_text(
        "job,model,started\n2026-0117,weekender_86,2026-09-01\n", encoding="utf-8"
    )
    (actuals / "hours.csv").write_text(
        "reference,date,job,part,operation,station,hours\n"
        "H-1,2026-09-02,2026-0117,side_dor,1,,1 h\n"
        "H-2,2026-09-02,2026-0117,anchor_lid,19,,1 h\n"
        "H-3,2026-09-02,2026-0117,,,laminate,1 h\n",
        encoding="utf-8",
    )
    problems = Problems()
    read_booked(tmp_path, demo_pricing.catalogue.records, problems)
    assert sorted(problem.place.line for problem in problems.errors) == [2, 3, 4]


def _scanned(codes: list[Code]) -> Iterator[str]:
    """What a page of codes says, each 17 mm wide as on paper, at 300 dots an inch."""
    drawn = Markup("").join(
        Markup('<p style="width:17mm;margin:4mm;display:inline-block">') + code.drawing
        for code in codes
    )
    with sync_playwright() as playwright:
        switches = ["--no-sandbox", "--disable-background-networking", "--disable-component-update"]
        chromium = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=switches)
        tab = chromium.new_page(device_scale_factor=300 / 96)
        tab.set_content(f"<!DOCTYPE html><body style='background:#fff'>{drawn}")
        picture = Image.open(io.BytesIO(tab.screenshot(full_page=True)))
        chromium.close()
    for found in zxingcpp.read_barcodes(picture):
        assert found.format == zxingcpp.BarcodeFormat.QRCode
        yield found.text


def test_the_same_text_gives_the_same_drawing_and_another_text_another() -> None:
    text = booking_text("2026-0117", "part.side_door", 3)
    assert code_of(text).drawing == code_of(text).drawing
    assert code_of(text).drawing != code_of(booking_text("2026-0117", "part.side_door", 4)).drawing


def test_nothing_of_a_text_gets_out_of_its_drawing() -> None:
    assert "<title>a&lt;b&gt;&amp;</title>" in code_of("a<b>&").drawing
