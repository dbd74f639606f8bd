"""The cutting list on paper: sizes in the reader's units, and every piece drawn to scale."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest

from quoter.analysis.findings import Findings
from quoter.analysis.rolls import CuttingList, Roll
from quoter.figures import constant
from quoter.figures.readers import METRIC_READER, Reader, reader_of
from quoter.pages.cutting_list import AREA, LENGTH, ROW, SIZE, roll_view, said
from quoter.pages.paper_views import RollView
from quoter.pages.papers import model_papers, papers_of
from quoter.pages.questions import option_pages
from quoter.pricing.price import Pricing
from tests.pages.parsed import Element, Page

MODEL, OPTION = "weekender_86", "side_single"


@pytest.fixture(scope="module")
def rolls(demo_pricing: Pricing) -> tuple[Roll, ...]:
    assembly = demo_pricing.models[MODEL].options[OPTION].assembly
    return CuttingList(demo_pricing.catalogue, assembly).rolls


@pytest.fixture(scope="module")
def page(demo_pricing: Pricing) -> Page:
    return Page(model_papers(demo_pricing, demo_pricing.models[MODEL])[f"{MODEL}/{OPTION}.html"])


def views(pricing: Pricing) -> Iterator[RollView]:
    for model in pricing.models.values():
        for paper in papers_of(pricing, model):
            yield from paper.rolls


# 185.4 mm are 7.299 in, to an eighth 7 1/4; 1038 mm are 40.87 in, to an eighth 40 7/8.
@pytest.mark.parametrize(
    ("units", "told"),
    [
        ("metric", "185 × 1038 mm"),
        ("US", "7 1/4 × 40 7/8 in"),
        ("metric and US", "185 × 1038 mm (7 1/4 × 40 7/8 in)"),
    ],
)
def test_sizes_are_told_in_the_readers_units(units: str, told: str) -> None:
    sides = constant(0.1854, "m"), constant(1.038, "m")
    assert said(reader_of(units), SIZE, *sides) == told


def test_small_and_whole_inches_read_as_people_write_them() -> None:
    us = reader_of("US")
    inches = [said(us, SIZE, constant(0.0254 * x, "m")) for x in (0.03, 0.5, 12.0, 11.97)]
    assert inches == ["0 in", "1/2 in", "12 in", "12 in"]
    assert said(us, LENGTH, constant(3.048, "m")) == "10.0 ft"
    assert said(us, AREA, constant(0.09290304, "m2")) == "1.00 ft²"


def test_every_piece_is_drawn_within_its_roll_at_the_scale_that_is_told(
    demo_pricing: Pricing,
) -> None:
    seen = 0
    for view in views(demo_pricing):
        for row in view.rows:
            seen += 1
            assert float(row.width) <= ROW + 0.05
            for piece in row.pieces:
                assert piece.x >= 0
                assert piece.y >= 0
                assert float(piece.x + piece.width - row.width) <= 0.11, "rounded to 0.1 mm"
                assert float(piece.y + piece.height - row.height) <= 0.11
    assert seen > 100


@pytest.mark.parametrize("units", ["metric", "US"])
def test_a_drawn_piece_times_the_scale_is_its_size(rolls: tuple[Roll, ...], units: str) -> None:
    for roll in rolls:
        view = roll_view(roll, reader_of(units))
        drawn = sum(float(piece.width * piece.height) for row in view.rows for piece in row.pieces)
        area = sum(one.across * one.along for one in roll.nest.placed) / 100  # mm2
        assert drawn * view.scale**2 == pytest.approx(area, rel=0.03), "drawn to 0.1 mm"


def test_pieces_are_numbered_as_on_the_list(page: Page, rolls: tuple[Roll, ...]) -> None:
    listed = [row.text.split()[0] for row in page.all("tr") if re.match(r"\d+ ", row.text)]
    numbers = {str(ply.number) for roll in rolls for ply in roll.plies}
    assert numbers <= set(listed)
    found = Counter(
        text.text
        for text in page.all("text")
        if text.attributes.get("class") is None and "mat 300" in label(text.within[-1])
    )
    assert found == {"1": 6, "3": 6}


def label(element: Element) -> str:
    return element.attributes.get("aria-label", "")


def test_each_picture_says_in_words_what_it_shows(page: Page) -> None:
    pictures = list(page.all("svg", class_="roll"))
    assert pictures
    for picture in pictures:
        assert picture.attributes["role"] == "img"
        assert re.fullmatch(
            r"[\w ]+, roll [\d.]+ m to [\d.]+ m: pieces of \d+(, \d+)*", label(picture)
        )


def test_what_the_machine_cuts_is_told_by_its_area_and_not_drawn(page: Page) -> None:
    (row,) = (row.text for row in page.all("tr") if "flange, ply 2" in row.text)
    assert "on the machine, from the part's own contour, 0.420 m²" in row
    told = " ".join(p.text for p in page.all("p", class_="drawn"))
    assert "For the machine besides, not drawn: no. 12: 0.840 m²" in told


def test_the_review_compares_what_is_stated_with_what_is_found(demo_pricing: Pricing) -> None:
    findings = Findings(demo_pricing).of(demo_pricing.models[MODEL])
    page = Page(option_pages(findings)[f"{MODEL}/{OPTION}.html"])
    assembly = demo_pricing.models[MODEL].options[OPTION].assembly
    costs = CuttingList(demo_pricing.catalogue, assembly).costs()
    for cost in costs:
        name = str(cost.roll.glass.name)
        (row,) = (
            row.text
            for row in page.all("tr")
            if row.text.startswith(name) and row.text.endswith(f"{cost.cost:+.2f}")
        )
        for share in (cost.stated, cost.found):
            assert f"{100 * share.value:.1f}%" in row
    total = sum(cost.cost for cost in costs)
    assert any(f"this option costs {total:+.2f} EUR against" in p.text for p in page.all("p"))


def test_the_same_roll_is_drawn_the_same(rolls: tuple[Roll, ...]) -> None:
    reader: Reader = METRIC_READER
    assert [roll_view(roll, reader) for roll in rolls] == [
        roll_view(replace(roll), reader) for roll in rolls
    ]
