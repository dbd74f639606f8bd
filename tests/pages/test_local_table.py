"""The table in its reader's habit, as Python's reader of CSV and CLDR by Babel understand it."""

from __future__ import annotations

import csv
from dataclasses import replace
from io import StringIO

import pytest
from babel import Locale
from babel.dates import parse_date
from babel.numbers import parse_decimal

from quoter.leaks import LeakError, SiteGuard
from quoter.pages.public.local_table import prices_local_csv
from quoter.pages.public.site import PublicSite
from quoter.pages.public.views import SheetView
from quoter.pricing.price import Pricing
from tests.demo import demo
from tests.pages.data_sheets import english, hostile, sheets, variants

TABLE = "prices-local.csv"
FORMULA_STARTS = "=+-@\t\r\n"  # OWASP, "CSV Injection"


def locale_of(sheet: SheetView) -> Locale:
    return Locale.parse(sheet.head.tag, sep="-")


def separator(locale: Locale) -> str:
    """What parts cells where the decimal sign is CLDR's of this locale."""
    return ";" if locale.number_symbols["latn"]["decimal"] == "," else ","


def read(sheet: SheetView, content: bytes | None = None) -> list[list[str]]:
    text = (prices_local_csv(sheet) if content is None else content).decode("utf-8-sig")
    rows = csv.reader(
        StringIO(text, newline=""), delimiter=separator(locale_of(sheet)), strict=True
    )
    return list(rows)


def column(rows: list[list[str]], place: int) -> list[str]:
    return [row[place] for row in rows[1:]]


def test_every_line_is_as_long_as_the_heads_and_ends_as_the_standard_says() -> None:
    """RFC 4180, 2: CRLF ends lines, each has as many fields, a quote within is doubled."""
    for sheet in [*sheets(demo()), *variants(demo())]:
        content = prices_local_csv(sheet)
        assert content.startswith(b"\xef\xbb\xbf")
        rows = read(sheet, content)
        assert {len(row) for row in rows} == {len(rows[0])}
        again = StringIO(newline="")
        mark = separator(locale_of(sheet))
        csv.writer(again, delimiter=mark, quoting=csv.QUOTE_ALL).writerows(rows)  # ends with CRLF
        assert again.getvalue().encode("utf-8-sig") == content


def test_prices_and_days_are_read_back_by_cldr_as_what_they_are() -> None:
    for sheet in sheets(demo()):
        locale, rows = locale_of(sheet), read(sheet)
        prices = [
            parse_decimal(text, locale=locale, strict=True) for text in column(rows, 4) if text
        ]
        boats = [model.price.amount for model in sheet.models]
        options = [option.price.amount for model in sheet.models for option in model.options]
        assert [price for price in prices if price in boats] == boats
        assert {*options} <= {*prices}
        firsts, lasts = ({*column(rows, place)} for place in (-3, -2))
        assert [parse_date(day, locale=locale) for day in firsts] == [sheet.valid_from]
        assert [parse_date(day, locale=locale) for day in lasts] == [sheet.valid_until]
        assert all(str(sheet.valid_from.year) in day for day in firsts)


def test_masses_are_in_the_units_that_are_read() -> None:
    sheet = english(demo(), "home")
    kilograms = float(sheet.models[0].mass.amount)
    for units, expected in (
        ("metric", {"Weight (kg)": kilograms}),
        ("US", {"Weight (lb)": kilograms / 0.45359237}),  # a pound, exactly
        ("metric and US", {"Weight (kg)": kilograms, "Weight (lb)": kilograms / 0.45359237}),
    ):
        heads, boat, *_ = read(replace(sheet, units=units))
        found = {head: cell for head, cell in zip(heads, boat, strict=True) if "Weight" in head}
        assert {head: float(cell) for head, cell in found.items()} == pytest.approx(
            expected, abs=0.06
        )


def test_heads_and_names_are_in_the_sheet_s_language() -> None:
    heads = {sheet.head.tag: read(sheet)[0][:5] for sheet in sheets(demo())}
    assert heads["en"] == ["Boat", "Item", "Name", "Group", "Price"]
    assert heads["de"] == ["Boot", "Position", "Name", "Gruppe", "Preis"]
    home = english(demo(), "home")
    told = {(row[0], row[2]): row for row in read(home)}
    name = "Side entry, pair"
    row = told["Orvesund 8.6 Weekender", name]
    assert "Side entry, single; Side entry, wide with step" in row
    assert not any("side_" in cell for line in told.values() for cell in line)


def test_no_cell_is_a_formula_and_no_two_lines_run_together() -> None:
    sheet = hostile(english(demo(), "home"))
    option = sheet.models[0].groups[0].options[0]
    for start in FORMULA_STARTS:
        groups = (replace(sheet.models[0].groups[0], options=(replace(option, name=f"{start}1"),)),)
        for tag in ("en", "nb"):
            head = replace(sheet.head, tag=tag)
            model = replace(sheet.models[0], groups=groups)
            rows = read(replace(sheet, head=head, models=(model,)))
            assert any(f"'{start}1" in row for row in rows)
            cells = [cell for row in rows for cell in row if cell]
            loose = [cell for cell in cells if cell[0] in FORMULA_STARTS]
            assert [
                cell for cell in loose if not cell.lstrip("-").replace(",", "").isdecimal()
            ] == []


def test_prices_below_zero_stay_numbers() -> None:
    sheet = english(demo(), "home")
    model = next(model for model in sheet.models if model.options)
    one = model.options[0]
    less = replace(one, price=one.price - one.price - one.price)
    group = replace(model.groups[0], options=(less,))
    for tag in ("en", "nb"):
        changed = replace(
            sheet,
            head=replace(sheet.head, tag=tag),
            models=(replace(model, groups=(group,)),),
        )
        cells = [row[4] for row in read(changed) if row[2] == one.name]
        amount = parse_decimal(cells[0], locale=Locale(tag), strict=True)
        assert amount == -one.price.amount


def test_all_that_it_holds_is_accounted_for_and_a_cost_is_found(small_pricing: Pricing) -> None:
    for pricing in (demo(), small_pricing):
        site = PublicSite(pricing)
        found = {path: site.makers[path]() for path in site.makers if path.endswith(TABLE)}
        assert len(found) == len(site.sheets)
        SiteGuard(site).look_through(found)
    site, path = PublicSite(small_pricing), f"en/home/{TABLE}"
    content = site.makers[path]()
    cost = f"{small_pricing.models['cutter'].options['hatch'].assembly.cost.value:.2f}"
    price = read(english(small_pricing, "home"))[1][4]
    for wrong in (
        content.replace(f'"{price}"'.encode(), f'"{cost}"'.encode(), 1),
        content + f'"{cost}"\r\n'.encode(),
    ):
        assert wrong != content
        with pytest.raises(LeakError):
            SiteGuard(site).look_through({path: wrong})
