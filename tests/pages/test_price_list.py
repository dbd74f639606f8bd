"""The full price list: nothing that a model's page tells of prices is missing, and paper fits."""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from playwright.sync_api import Browser

from quoter.pages.money import money
from quoter.pages.public.sheet import sheet_view
from quoter.pricing.price import Pricing
from tests.pages.parsed import Page
from tests.pages.test_browser import WIDE, browser, said

__all__ = ["browser"]  # a fixture

LIST = "en/trade/list.html"


def test_every_line_of_the_table_for_programs_is_a_line_of_the_list(
    demo_site: dict[str, bytes],
) -> None:
    page = Page(demo_site[LIST])
    shown = [row.text for row in page.all("tr")]
    table = list(csv.DictReader(io.StringIO(demo_site["en/trade/prices.csv"].decode("utf-8-sig"))))
    prices = [line for line in table if line["item"] in ("option", "package")]
    assert len(prices) > 40
    for line in prices:
        price = money(Decimal(line["price"]), line["currency"], Locale("en"), whole=True)
        own = [row for row in shown if row.startswith(line["name"])]
        masses = [re.search(rf" ([\d.,-]+) kg \([^)]+\) {re.escape(price)}$", row) for row in own]
        found = [Decimal(each[1].replace(",", "")) for each in masses if each]
        # The table has hundredths of kilograms, the list tenths.
        assert any(abs(each - Decimal(line["mass_kg"])) <= Decimal("0.06") for each in found), line
        if line["item"] == "option":
            assert [row for row in own if line["lead_time"] in row and price in row], line


def test_each_option_is_told_once_with_what_it_includes(
    demo_site: dict[str, bytes], demo_pricing: Pricing
) -> None:
    articles = [article.text for article in Page(demo_site[LIST]).all("article")]
    catalogue = demo_pricing.catalogue
    assert len(articles) == len(catalogue.records.options)
    for option in catalogue.records.options.values():
        (told,) = [text for text in articles if text.startswith(f"{option.name} # {option.text}")]
        for words in (*option.includes, *option.excludes):
            assert words in told
        assert ("engineering approval" in told) == (option.kind == "opening")


def test_rules_stand_beside_the_price(site: dict[str, bytes], small_pricing: Pricing) -> None:
    page = Page(site["en/home/list.html"])
    rows = [row.text for row in page.all("tr")]
    (door,) = [row for row in rows if row.startswith("Side door")]
    assert "Only with: Pair of cleats (standard on this boat)" in door
    hatches = [row for row in rows if "Not together with: Foam box" in row]
    assert hatches
    assert "up to 2 on a boat" in hatches[0]
    sheet = sheet_view(small_pricing, small_pricing.catalogue.yard.markets[0], Locale("en"))
    text = page.one("main").text
    for model in sheet.models:
        for item in model.standard:
            assert item.name in text
    assert "A price approves no structure." in text


@pytest.mark.slow
@pytest.mark.parametrize(("size", "told"), [("A4", "(A4)"), ("Letter", "(letter)")])
def test_it_prints_on_a4_and_on_letter_with_a_foot_on_each_sheet(
    browser: Browser, demo_folder: Path, tmp_path: Path, size: str, told: str
) -> None:
    """ISO 216 and ANSI/ASME Y14.1: what people print on, there and here."""
    printed = tmp_path / "list.pdf"
    with browser.new_context(viewport=WIDE) as context:
        tab = context.new_page()
        tab.goto((demo_folder / "site" / "de" / "trade" / "list.html").as_uri())
        tab.pdf(path=printed, prefer_css_page_size=True, print_background=True, format=size)
        tab.emulate_media(media="print")
        boats = tab.locator("section.boat").evaluate_all(
            """boats => boats.map(boat => [boat.querySelector("h2 a").textContent,
               [...boat.querySelectorAll("tbody")].map(group =>
                   [...group.querySelectorAll("tr")].map(row =>
                       row.cells[0].innerText.split("\\n")[0]))])"""
        )
    assert told in said("pdfinfo", str(printed))
    sheets = said("pdftotext", "-layout", str(printed), "-").removesuffix("\f").split("\f")
    for number, sheet in enumerate(sheets, 1):
        foot = sheet.strip().splitlines()[-1]
        assert foot.startswith("Orvesund Boatyard: Preisliste 2026-11, Modelljahr 2027")
        assert re.search(rf"\b{number} ?/ ?{len(sheets)}\Z", foot)
    # No group of a boat is parted, and the first stands where the boat's name does.
    assert len(boats) == 5
    groups = 0
    for name, found in boats:
        heading = rf"^ *{re.escape(name)}  .*€$"
        # The first sheet names all of them.
        at = max(n for n, each in enumerate(sheets) if re.search(heading, each, re.MULTILINE))
        below = re.split(heading, sheets[at], flags=re.MULTILINE)[-1]
        there = [" ".join(each.split()) for each in (below, *sheets[at + 1 : at + 2])]
        for place, group in enumerate(found):
            rows = [" ".join(row.split()) for row in group]
            whole = [all(row in each for row in rows) for each in there]
            assert any(whole[: 1 if place == 0 else 2]), rows
            groups += 1
    assert groups > 20
