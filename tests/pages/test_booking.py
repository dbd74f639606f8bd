"""Codes to book by hold what stands beside them: read by a scanner that is not ours."""

from __future__ import annotations

import io
from collections.abc import Iterator

import pytest
import zxingcpp
from markupsafe import Markup
from PIL import Image
from playwright.sync_api import sync_playwright

from quoter.pages.booking import Code, booking_text, code_of
from quoter.pages.job_pack import job_paper
from quoter.pages.job_views import Job
from quoter.pricing.built import built
from quoter.pricing.price import Pricing


@pytest.mark.slow
def test_a_code_is_read_back_by_a_scanner(demo_pricing: Pricing) -> None:
    """Every code of the pack, as a browser draws it, by a reader that is not ours."""
    boat = built(
        demo_pricing, demo_pricing.models["weekender_86"], {"side_pair": 1, "hull_blue": 1}
    )
    pack = job_paper(demo_pricing, boat, Job("2026-0117", "as stated", 1))
    codes = [pack.code, *(code for sheet in pack.stations for code in sheet.codes)]
    assert sorted(_scanned(codes)) == sorted(code.text for code in codes)
    assert booking_text("2026-0117") in {code.text for code in codes}


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
