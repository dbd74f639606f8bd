"""A small yard that thinks in feet, ounces and gallons: costed by hand, and read in its units.

It buys in USD and in EUR, sells at home and in one market abroad, and prints on Letter. What it
writes is invented; the units are those of NIST Handbook 44, Appendix C. So is the demonstration
read by an American office.
"""

from __future__ import annotations

import html
import io
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from openpyxl import load_workbook
from playwright.sync_api import Browser

from quoter.analysis.findings import Findings
from quoter.pages.job_pack import job_files
from quoter.pages.job_views import Job
from quoter.pages.public.site import PublicSite
from quoter.pricing.built import built
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from quoter.workbook import write_book
from quoter.workbook.model_book import model_book
from tests.demo import demo
from tests.outputs import every_book, paper_pages, whole_review
from tests.pages.test_browser import browser, said
from tests.workbook.test_readers_units import METRIC

__all__ = ["browser"]  # a fixture

YARD = Path(__file__).parent / "catalogues" / "us_yard"
POUND, GALLON, FOOT, OUNCE = 0.45359237, 3.785411784e-3, 0.3048, 0.45359237 / 16
CHOSEN = {"side_pair": 1, "transom_door": 1, "seat_base": 2, "hull_blue": 1}
# A supplier abroad prices by the kilogram, and a price shows as it was written.
AS_WRITTEN = ("EUR/kg", "EUR per kg")
# The bar of a scale and the key L are words: no pressure and no volume.
WORDS = re.compile(r"(?:[Tt]he|each) bar is|\(\D+ L\)")


@pytest.fixture(scope="module")
def yard() -> Pricing:
    pricing, warnings = price_catalogue(YARD)
    assert warnings == []
    return pricing


@pytest.mark.parametrize(
    ("material", "landed"),
    [
        # 2.35 USD for a yard of a roll 50 in wide: 3 x 50/12 ft2 at 1.5 oz/ft2, in kilograms.
        ("mat", 2.35 / (3 * 50 / 12 * 1.5 * OUNCE) * 1.02),
        ("roving", 1.95 / POUND * 1.02),
        # 21.50 USD a gallon of 9.2 lb.
        ("hand_resin", 21.50 / (9.2 * POUND) * 1.02),
        # 7.40 EUR at 0.92 EUR to the dollar, with 4 % freight, and 5 % duty on both.
        ("white", 7.40 / 0.92 * 1.04 * 1.05),
        ("hinge", 46 / 2 * 1.02),
        ("screw", 9.50 / 100 * 1.02),
        # A carton of twelve cartridges of ten fluid ounces, at 9.5 lb a gallon.
        ("adhesive", 168 / (12 * 10 / 128 * 9.5 * POUND) * 1.02),
    ],
)
def test_a_price_as_the_trade_writes_it_lands_as_reckoned_by_hand(
    yard: Pricing, material: str, landed: float
) -> None:
    found = yard.costing.rates.prices[material].value
    assert found == pytest.approx(landed, rel=1e-12)


def test_mat_and_roving_have_the_weight_that_people_mean(yard: Pricing) -> None:
    glass = yard.catalogue.records.of("glass")
    assert glass["mat"].areal_mass.value == pytest.approx(1.5 * OUNCE / FOOT**2, rel=1e-12)
    assert glass["roving"].areal_mass.value == pytest.approx(
        24 * OUNCE / (3 * FOOT) ** 2, rel=1e-12
    )


def test_it_costs_the_same_whatever_is_read(yard: Pricing) -> None:
    other, _ = price_catalogue(YARD, settings=["units=metric"])
    for id, model in yard.models.items():
        assert other.models[id].boat.assembly.cost.value == model.boat.assembly.cost.value
        for option, priced in model.options.items():
            assert (
                other.models[id].options[option].assembly.cost.value == priced.assembly.cost.value
            )


def texts_of(name: str, content: bytes) -> Iterator[str]:
    """What a reader sees of a file, cell by cell or element by element."""
    if name.endswith(".xlsx"):
        for sheet in load_workbook(io.BytesIO(content)):
            for row in sheet.iter_rows():
                for cell in row:
                    if isinstance(cell.value, str) and cell.data_type != "f":
                        yield cell.value
                    yield cell.number_format.replace("General", "")
    elif name.endswith(".html"):
        text = re.sub(r"<(script|style)\b.*?</\1>", "", content.decode(), flags=re.DOTALL)
        said = re.findall(r'(?:aria-label|title|alt)="([^"]*)"', text)
        parted = re.sub(r"</?(?:b|strong|em|span|small|abbr)\b[^>]*>", "", text)
        yield from map(html.unescape, [*said, *re.sub(r"<[^>]+>", "\n", parted).split("\n")])


def with_metric_unit(files: dict[str, bytes]) -> list[str]:
    """Every text with a unit of the metric system, but for prices as a supplier abroad writes."""
    found = {
        f"{name}: {text.strip()}"
        for name, content in files.items()
        for text in texts_of(name, content)
        if METRIC.search(_without_written(text.replace("\N{NO-BREAK SPACE}", " ")))
    }
    return sorted(found)


def _without_written(text: str) -> str:
    for written in AS_WRITTEN:
        text = text.replace(written, "")
    return WORDS.sub("", text)


def test_no_metric_unit_stands_in_what_the_yard_reads(yard: Pricing) -> None:
    findings = Findings(yard)
    files = whole_review(findings, ()) | paper_pages(yard) | dict(every_book(findings))
    assert len(files) > 10
    assert with_metric_unit(files) == []


def test_each_market_reads_its_own_units_and_prints_on_its_own_paper(yard: Pricing) -> None:
    pages = PublicSite(yard).pages()
    home = {path: content for path, content in pages.items() if path.startswith("en-US/home/")}
    north = {path: content for path, content in pages.items() if path.startswith("en/north/")}
    assert with_metric_unit(home) == []
    lines = [text for name, content in north.items() for text in texts_of(name, content)]
    assert any("6.20\N{NO-BREAK SPACE}m" in line for line in lines)
    assert not [line for line in lines if re.search(r"\d\W*(ft|in|lb|lbs)\b", line)]
    assert b"size: letter;" in pages["en-US/home/assets/foot.css"]
    assert b"size:" not in pages["en/north/assets/foot.css"]  # A4, as the shared styles say


def test_a_length_is_said_in_feet_and_inches(yard: Pricing) -> None:
    page = PublicSite(yard).pages(["en-US/home/models/sedge.html"])
    text = page["en-US/home/models/sedge.html"].decode().replace("\N{NO-BREAK SPACE}", " ")
    assert "20 ft 4 in" in text
    assert "7 ft 2 in" in text
    assert "1,350 lb" in text


@pytest.fixture(scope="module")
def us_demo(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    """The demonstration as an American office reads it, on its own paper."""
    folder = tmp_path_factory.mktemp("us") / "demo"
    shutil.copytree(demo_catalogue_folder(), folder)
    file = folder / "yard.yaml"
    text = file.read_text(encoding="utf-8").replace("language: en\n", "language: en-US\n", 1)
    file.write_text(f"paper: Letter\n{text}", encoding="utf-8")
    pricing, _ = price_catalogue(folder, settings=["units=US"])
    return pricing


def test_the_demonstration_shows_no_metric_unit_to_a_reader_of_us_ones(us_demo: Pricing) -> None:
    boat = built(us_demo, us_demo.models["weekender_86"], CHOSEN)
    job = job_files(us_demo, boat, Job("2026-0117", "as stated", 1))
    files = whole_review(Findings(us_demo), ()) | paper_pages(us_demo)
    files |= dict(every_book(Findings(us_demo)))
    assert with_metric_unit(files | {f"job/{name}": content for name, content in job.items()}) == []


def test_its_price_sheets_show_none_either(us_demo: Pricing) -> None:
    assert with_metric_unit(PublicSite(us_demo).pages()) == []


def test_the_demonstration_costs_the_same_in_us_units(us_demo: Pricing) -> None:
    for id, model in demo().models.items():
        for option, priced in model.options.items():
            other = us_demo.models[id].options[option]
            assert other.assembly.cost.value == priced.assembly.cost.value
            assert other.list_price.value == priced.list_price.value


@pytest.mark.slow
def test_printed_pages_are_letters_without_a_metric_unit(
    us_demo: Pricing, browser: Browser, tmp_path: Path
) -> None:
    """What is printed says what stands on the page, and what styles add."""
    boat = built(us_demo, us_demo.models["weekender_86"], CHOSEN)
    files = {f"papers/{path}": content for path, content in paper_pages(us_demo).items()}
    job = job_files(us_demo, boat, Job("2026-0117", "as stated", 1))
    files |= {f"jobs/{path}": content for path, content in job.items()}
    for path, content in files.items():
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_bytes(content)
    pages = ("papers/weekender_86/side_single.html", "papers/open_68/base-boat.html")
    with browser.new_context() as context:
        tab = context.new_page()
        for page in (*pages, "jobs/papers.html"):
            tab.goto((tmp_path / page).as_uri())
            printed = tmp_path / "page.pdf"
            tab.pdf(path=printed, prefer_css_page_size=True)
            _is_letter_without_metric_unit(printed)
    book = tmp_path / "longshore_76.xlsx"
    book.write_bytes(write_book(model_book(Findings(us_demo).of(us_demo.models["longshore_76"]))))
    convert = ["soffice", "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path)]
    subprocess.run([*convert, str(book)], check=True, capture_output=True)
    _is_letter_without_metric_unit(book.with_suffix(".pdf"))


def _is_letter_without_metric_unit(file: Path) -> None:
    assert "(letter)" in said("pdfinfo", str(file)), file
    text = said("pdftotext", "-layout", str(file), "-").replace("\N{NO-BREAK SPACE}", " ")
    assert [line for line in text.splitlines() if METRIC.search(line)] == []


def test_a_tape_measure_is_read_as_it_was_written(yard: Pricing) -> None:
    paper = paper_pages(yard)["sedge/side_door.html"].decode().replace("&nbsp;", " ")
    text = re.sub(r"<[^>]+>", "", paper)
    for written in ("6 1/2 in high", "R 3 1/8 in", "28 in", "32 in", "core 3/4 in", "gap 1/4 in"):
        assert written in text, written
