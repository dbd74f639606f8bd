"""The price list as a workbook: what other programs read in it, how it prints, and no secrets."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from pypdf import PdfReader
from python_calamine import CalamineWorkbook

from quoter.leaks import LeakError, SiteGuard
from quoter.pages.public.price_book import price_book
from quoter.pages.public.site import PublicSite
from quoter.pages.public.views import OptionView, PackageView, SheetView
from quoter.pricing.price import Pricing
from tests.demo import demo
from tests.pages.data_sheets import DELIVERY, english, hostile, sheets, variants
from tests.pricing.public_prices import public
from tests.workbook.recalculate import to_pdf
from tests.workbook.validity import schema_errors

BOOK = "prices.xlsx"


def opened(sheet: SheetView) -> list[Worksheet]:
    """The sheets of its workbook as another program reads them."""
    book = load_workbook(io.BytesIO(price_book(sheet)))
    found: list[Worksheet] = list(book.worksheets)
    return found


def rows(sheet: Worksheet) -> list[list[object]]:
    """What stands in each row, from left to right, without empty cells."""
    return [[cell for cell in row if cell is not None] for row in sheet.iter_rows(values_only=True)]


def written(folder: Path, sheet: SheetView, name: str = BOOK) -> Path:
    path = folder / name
    path.write_bytes(price_book(sheet))
    return path


def test_every_boat_option_and_package_is_there_with_its_price_as_a_number() -> None:
    sheet = english(demo(), "home")
    first, *others = opened(sheet)
    listed = {row[0]: row[-1] for row in rows(first) if row}
    assert len(others) == len(sheet.models)
    for model, page in zip(sheet.models, others, strict=True):
        assert page.title == model.name
        assert listed[model.name] == float(model.price.amount)
        found = {str(row[0]).split("\n")[0]: row[-1] for row in rows(page) if row}
        items: list[OptionView | PackageView] = [*model.options, *model.packages]
        for item in items:
            assert found[item.name] == float(item.price.amount), item.name
        assert {group.name for group in model.groups} <= {*found}
        assert {item.name for item in model.standard} <= {*found}


def test_it_says_edition_tax_terms_and_whom_to_ask() -> None:
    sheet = english(demo(), "home")
    said = {str(cell) for row in rows(opened(sheet)[0]) for cell in row}
    company = sheet.company
    assert {company.name, company.address, company.email, company.phone} <= said
    assert {*sheet.terms, sheet.version, sheet.model_year, "euros (EUR)"} <= said
    assert "Every price includes 24% VAT." in said


def test_delivery_is_in_the_price_where_buyers_see_what_they_pay() -> None:
    """Directive 98/6/EC on consumers' prices, articles 2 and 3: the selling price is the final one,
    with taxes; a charge that nobody can leave out belongs to it (Directive 2005/29/EC, 7(4)c)."""
    home = english(demo(), "home")
    for sheet, added in ((home, DELIVERY.price.amount), (replace(home, taxed=False), Decimal(0))):
        first, boat, *_ = opened(replace(sheet, delivery=DELIVERY))
        told = {row[0]: row[-1] for row in rows(first) if row}
        model = sheet.models[0]
        assert told[model.name] == float(model.price.amount + added)
        assert any("DAP Sundby" in str(name) and "€1,240.00" in str(name) for name in told)
        assert str(boat["A1"].value).startswith(f"{model.name}, €")


@pytest.mark.parametrize(
    ("units", "kinds"),
    [("metric", ["m", "kg"]), ("US", ["lb"]), ("metric and US", ["m", "kg", "lb"])],
)
def test_masses_and_lengths_are_in_the_units_that_are_read(units: str, kinds: list[str]) -> None:
    """A pound is 0.45359237 kg exactly, an inch 25.4 mm (agreement of 1959)."""
    sheet = replace(english(demo(), "home"), units=units)
    first, *_ = opened(sheet)
    model = sheet.models[1]
    line = next(row for row in first.iter_rows() if row[0].value == model.name)
    numbers = {
        re.sub(r"[^a-z]", "", cell.number_format): cell.value
        for cell in line
        if isinstance(cell.value, int | float) and '"' in cell.number_format
    }
    assert sorted(numbers) == sorted(kinds)
    if "lb" in numbers:
        assert numbers["lb"] == pytest.approx(float(model.mass.amount) / 0.45359237, abs=0.5)
        inches = round(float(model.length.amount) / 0.0254)
        said = f"{inches // 12}\u00a0ft\u00a0{inches % 12}\u00a0in"
        assert said in [cell.value for cell in line]
    if "kg" in numbers:
        assert numbers["kg"] == pytest.approx(float(model.mass.amount), abs=0.5)
    texts = [str(cell.value) for cell in line if not isinstance(cell.value, int | float)]
    assert any("ft" in text for text in texts) == ("lb" in kinds)


def test_prices_have_the_currency_s_decimals_unless_all_are_whole() -> None:
    """ISO 4217: the euro has two decimals, the yen none."""
    home = english(demo(), "home")
    cell = next(
        row[-1] for row in opened(home)[0].iter_rows() if row[0].value == "Orvesund 6.8 Open"
    )
    assert cell.number_format.startswith(r"[$EUR]\ #,##0.00;")
    model = replace(home.models[0], groups=(), packages=(), price=public("1200"))
    whole = replace(home, models=(model,))
    cell = next(row[-1] for row in opened(whole)[0].iter_rows() if row[0].value == model.name)
    assert cell.number_format == r"[$EUR]\ #,##0;[$EUR]\ \-#,##0"


def test_heads_stay_in_view_and_pages_are_the_market_s(tmp_path: Path) -> None:
    home = english(demo(), "home")
    for paper, size in (("A4", 9), ("Letter", 1)):  # as ECMA-376 part 1, 18.3.1.63 numbers them
        for page in opened(replace(home, paper=paper)):
            assert (page.freeze_panes, page.print_title_rows) == ("A4", "$3:$3")
            assert (page.page_setup.paperSize, page.page_setup.orientation) == (size, "portrait")
            scaled = page.sheet_properties.pageSetUpPr
            assert scaled is not None
            assert (page.page_setup.fitToWidth, scaled.fitToPage) == (1, True)
    pdf = PdfReader(to_pdf([written(tmp_path, home)], tmp_path)[0])
    box = pdf.pages[0].mediabox
    assert (round(box.width), round(box.height)) == (595, 842)  # ISO 216, in points
    text = "".join(page.extract_text() for page in pdf.pages)
    assert "###" not in text
    for told in ("Orvesund 12.0 Passage", "EUR 56,916.00", "Price sheet 2026-11"):
        assert told in text


def test_two_other_readers_see_the_same(tmp_path: Path) -> None:
    path = written(tmp_path, english(demo(), "north"))
    other = CalamineWorkbook.from_path(str(path))
    for page in load_workbook(path).worksheets:
        mine = [cell for row in rows(page) for cell in row]
        read = other.get_sheet_by_name(page.title).to_python()
        assert [cell for row in read for cell in row if cell != ""] == mine


def test_it_is_valid_and_the_same_every_time_whatever_deflates(tmp_path: Path) -> None:
    for number, sheet in enumerate([*sheets(demo()), *variants(demo())]):
        content = price_book(sheet)
        assert price_book(replace(sheet)) == content
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            assert {each.compress_type for each in archive.infolist()} == {zipfile.ZIP_STORED}
            assert {each.date_time for each in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
            assert not re.search(rb"creator|lastModifiedBy", archive.read("docProps/core.xml"))
        book = load_workbook(io.BytesIO(content))
        assert book.properties.modified == datetime(1980, 1, 1)
        assert schema_errors(written(tmp_path, sheet, f"{number}.xlsx")) == []


def test_no_text_is_a_formula_whatever_a_yard_calls_things() -> None:
    sheet = hostile(english(demo(), "home"))
    option = replace(sheet.models[0].groups[0].options[0], name="=1+1")
    group = replace(sheet.models[0].groups[0], options=(option,))
    model = replace(sheet.models[0], name="@SUM(A1)", groups=(group,))
    pages = opened(replace(sheet, models=(model,)))
    cells = [cell for page in pages for row in page.iter_rows() for cell in row]
    assert [cell.coordinate for cell in cells if cell.data_type == "f"] == []
    assert {"=1+1", "@SUM(A1)"} <= {str(cell.value).split("\n")[0] for cell in cells}


def test_a_name_that_no_sheet_can_have_gives_way_to_the_id() -> None:
    sheet = english(demo(), "home")
    one, two, *_ = sheet.models
    long = "A boat whose name is longer than a sheet's title"
    changed = (replace(one, name="Open/68"), replace(two, name=long), replace(two, name="BOATS"))
    titles = [page.title for page in opened(replace(sheet, models=changed))]
    assert titles == ["Boats", one.id, two.id, "Boat 3"]


def test_all_that_it_holds_is_accounted_for(small_pricing: Pricing) -> None:
    for pricing in (demo(), small_pricing):
        site = PublicSite(pricing)
        books = {path: site.makers[path]() for path in site.makers if path.endswith(BOOK)}
        SiteGuard(site).look_through(books)
        assert len(books) == len(site.sheets)


def test_a_cost_or_a_secret_planted_in_it_is_found() -> None:
    pricing = demo()
    sheet = english(pricing, "home")
    site = PublicSite(pricing)
    model = sheet.models[0]
    cost = pricing.models[model.id].boat.assembly.cost.value
    dear = replace(model, price=public(f"{cost:.2f}"))
    named = replace(model, name=str(pricing.catalogue.yard.dealer_classes[0].name))
    planted = [
        (replace(sheet, models=(dear,)), f"{cost:.2f}".rstrip("0")),
        (replace(sheet, models=(named,)), named.name),
    ]
    for changed, told in planted:
        with pytest.raises(LeakError) as caught:
            SiteGuard(site).look_through({f"en/home/{BOOK}": price_book(changed)})
        assert told in str(caught.value)


def test_what_is_put_behind_a_workbook_is_found() -> None:
    site = PublicSite(demo())
    content = price_book(english(demo(), "home"))
    for wrong in (content + b"x", content.replace(b"quoter", b"Quoter"), b"no zip"):
        with pytest.raises(LeakError):
            SiteGuard(site).look_through({f"en/home/{BOOK}": wrong})
