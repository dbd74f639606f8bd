"""A build depends on the catalogue alone, and its public folder holds nothing of the yard's own."""

from __future__ import annotations

import csv
import io
import os
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from html import unescape
from pathlib import Path

import pytest

from quoter.build import build
from quoter.figures.graph import in_order
from quoter.pages.public.changes import past_lists
from quoter.pricing.earlier import earlier_lists, shown_prices
from quoter.pricing.price import Key
from quoter.pricing.priced import price_catalogue
from quoter.pricing.public import PublicPrice
from quoter.problems import CatalogueError
from quoter.publish.manifest import FolderError
from tests.catalogues.written import COST_CARD
from tests.demo import DEMO, assemblies, demo, everything_priced, results

PROJECT = Path(__file__).resolve().parent.parent
Contents = dict[str, bytes]
# Two machines that agree on nothing but the catalogue.
HERE = {"TZ": "UTC", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "1", "COLUMNS": "80"}
THERE = {"TZ": "Pacific/Chatham", "LC_ALL": "C", "PYTHONHASHSEED": "4242", "LANG": "de_DE.UTF-8"}


def contents(folder: Path) -> Contents:
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def build_in(place: Path, environment: dict[str, str]) -> None:
    """Build a copy of the demo in a folder of its own, which is where the command runs."""
    place.mkdir(parents=True)
    shutil.copytree(DEMO, place / "boats")
    command = [sys.executable, "-m", "quoter", "build", "boats"]
    given = {**os.environ, "PYTHONPATH": str(PROJECT), **environment}
    subprocess.run(command, cwd=place, env=given, stdout=subprocess.DEVNULL, check=True)


@pytest.fixture(scope="module")
def built_twice(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The demo built in two places, one after the other so that the clock has moved on."""
    places = (tmp_path_factory.mktemp("a") / "yard", tmp_path_factory.mktemp("b") / "deep" / "er")
    for place, environment in zip(places, (HERE, THERE), strict=True):
        build_in(place, environment)
    return places


@pytest.mark.parametrize("folder", ["site", "internal"])
def test_two_builds_in_two_places_are_identical_byte_for_byte(
    built_twice: tuple[Path, Path], folder: str
) -> None:
    one, other = (contents(place / folder) for place in built_twice)
    assert list(one) == list(other)
    assert [name for name in one if one[name] != other[name]] == []


def test_a_build_makes_a_workbook_and_a_page_of_every_model(
    built_twice: tuple[Path, Path],
) -> None:
    made = set(contents(built_twice[0]))
    for model in demo().models:
        assert {f"site/en/home/models/{model}.html", f"internal/workbooks/{model}.xlsx"} <= made
    assert {"site/index.html", "internal/review/index.html", "internal/costing.json"} <= made


def test_the_site_in_the_repository_is_what_a_build_writes(
    built_twice: tuple[Path, Path],
) -> None:
    kept, fresh = contents(PROJECT / "site"), contents(built_twice[0] / "site")
    assert list(kept) == list(fresh), "run: quoter build demo_catalog"
    differing = [name for name in fresh if kept[name] != fresh[name]]
    assert differing == [], "run: quoter build demo_catalog"


def unpacked(folder: Path) -> Iterator[tuple[str, bytes]]:
    """Every file, and every part of those that are zip archives."""
    for name, content in contents(folder).items():
        yield name, content
        if zipfile.is_zipfile(io.BytesIO(content)):
            with zipfile.ZipFile(io.BytesIO(content)) as archive:
                yield from ((f"{name}!{part}", archive.read(part)) for part in archive.namelist())


def test_no_file_names_a_path_of_the_machine(built_twice: tuple[Path, Path]) -> None:
    place = built_twice[1]
    paths = [str(path).encode() for path in (place, PROJECT, Path.home(), Path(sys.prefix))]
    for folder in ("site", "internal"):
        for name, content in unpacked(place / folder):
            assert not [path for path in paths if len(path) > 4 and path in content], name


# What must not be under site/, searched without the help of the guard that every build runs.

SMALLEST = 20  # euros; below it, sizes in metres and numbers of drawings look the same


def site_texts() -> dict[str, str]:
    site = contents(PROJECT / "site")
    # What holds other files holds them as they are.
    found = {name: raw.decode("utf-8", "replace") for name, raw in site.items()}
    assert found
    return found


def in_many_locales(value: float) -> Iterator[str]:
    plain, grouped = f"{value:.2f}", f"{value:,.2f}"
    yield from (plain, plain.replace(".", ","), grouped)
    whole, _, cents = grouped.partition(".")
    for thousands, decimal in ((".", ","), (" ", ","), ("'", "."), ("\u2019", ".")):
        yield whole.replace(",", thousands) + decimal + cents
    for space in ("\u00a0", "\u202f", "\u2009", "&nbsp;", "&#39;"):
        yield from (whole.replace(",", space) + mark + cents for mark in ".,")


def amounts(prices: Mapping[Key, PublicPrice]) -> dict[Key, Decimal]:
    return {key: price.amount for key, price in prices.items()}


def public_prices() -> set[str]:
    """To the cent, as the sheets show them: now, before, the difference, what a package saves, and
    what a hull colour is charged without and with the market's tax."""
    found: set[Decimal] = set()
    surcharges = [
        Decimal(str(each.list_price.value))
        for option in demo().catalogue.records.options.values()
        for each in option.colour_surcharges
    ]
    for market in demo().catalogue.yard.markets:
        tax = 1 + Decimal(str(market.tax.value))
        found |= {*surcharges, *(surcharge * tax for surcharge in surcharges)}
        now = amounts(shown_prices(demo(), market))
        before = [amounts(past.prices) for past in past_lists(earlier_lists(DEMO, demo()), market)]
        found |= {*now.values()}.union(*(prices.values() for prices in before))
        found |= {now[key] - prices[key] for prices in before for key in now if key in prices}
        for id, model in demo().models.items():
            for package in model.offered_packages:
                apart = sum(now[id, str(option)] for option in package.options)
                found.add(apart - now[id, str(package.id)])
    return {f"{abs(amount):.2f}" for amount in found}


def public_masses() -> set[str]:
    """To hundredths of a kilogram, which an amount may meet by chance."""
    return {f"{item.assembly.mass.value:.2f}" for item in everything_priced()}


@cache
def secret_amounts() -> set[str]:
    """Every figure with a currency in its unit, to the cent: costs, margins, wages, prices paid."""
    roots = [*results()]
    for made in assemblies().values():
        roots += [made.cost, made.variable, *made.groups.values()]
    for item in everything_priced():
        for sale in item.sales.values():
            roots += [sale.net, sale.margin, sale.contribution]
    money = [f for f in in_order(roots) if re.search(r"[A-Z]{3}", str(f.unit))]
    amounts = {f"{abs(figure.value):.2f}" for figure in money if abs(figure.value) >= SMALLEST}
    return amounts - public_prices() - public_masses()


# Where a drawing's lines go (SVG 2, sections 8 to 10): no amounts, though one may have such digits.
SVG = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
GEOMETRY = re.compile(
    r'(?<= )(?:d|points|viewBox|transform|c?[xy][12]?|r[xy]?|width|height|textLength)="[^"]*"'
)
NUMBER = re.compile(r"\d(?:[\d.,'\u2019 \u00a0\u202f\u2009]|&nbsp;|&#39;)*")


def amounts_in(text: str) -> list[str]:
    """Secret amounts a text shows, however they are written; not as part of a longer number."""
    text = "\n".join(sorted(set(NUMBER.findall(text))))
    forms = {form for amount in secret_amounts() for form in in_many_locales(float(amount))}
    found = sorted(form for form in forms if form in text)
    before = r"(?<![\d.,])(?<!\d[\u00a0\u202f])"
    return [f for f in found if re.search(rf"{before}{re.escape(f)}(?!\d)", text)]


def test_no_cost_margin_or_wage_of_the_demo_is_under_site() -> None:
    assert len(secret_amounts()) > 2000
    pages = [
        SVG.sub(lambda drawing: GEOMETRY.sub("", drawing[0]), text)
        for name, text in site_texts().items()
        if not name.endswith((".css", ".svg"))
    ]
    assert len(pages) > 5
    assert amounts_in("\n".join(pages)) == []


def test_a_cost_in_a_page_would_be_seen() -> None:
    cost = demo().models["weekender_86"].options["side_single"].assembly.cost.value
    english = f"{cost:,.2f}"
    german = english.translate(str.maketrans(",.", ".,"))
    assert amounts_in(f"<td>€{english}</td><td>1{english}</td>") == [english]
    assert amounts_in(f"<td>{german}&nbsp;€</td>") == [german]


def notes_of_the_demo() -> Iterator[str]:
    """Internal words as they stand in the files, read as plain text."""
    for path in sorted(DEMO.glob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        yield from re.findall(r"^ *note: (.+)$", text, re.MULTILINE)
        yield from re.findall(r"\(([^()\n]+)\)", text)
    for path in sorted(DEMO.rglob("*.csv")):
        with path.open(encoding="utf-8", newline="") as lines:
            yield from (row["note"] for row in csv.DictReader(lines) if row.get("note"))


def test_no_supplier_and_no_internal_note_of_the_demo_is_under_site() -> None:
    suppliers = demo().catalogue.records.suppliers
    words = {str(supplier.name) for supplier in suppliers.values()} | set(suppliers)
    notes = {note.strip() for note in notes_of_the_demo()}
    assert len(notes) > 100
    words |= {note for note in notes if len(note) > 15}
    words |= {"invented", "materials.yaml", "yard.yaml", ".csv"}
    for name, text in site_texts().items():
        text = re.sub(r"\bprices(?:-local)?\.csv", "", text)  # the sheet's own tables
        read = " ".join(unescape(text).split()).casefold()
        assert [word for word in sorted(words) if word.casefold() in read] == [], name


# What a build begins with.


def test_quotes_within_the_public_folder_are_refused_before_anything_is_touched(
    tmp_path: Path,
) -> None:
    site, quote = tmp_path / "site", tmp_path / "site" / "quotes" / "2026-0001"
    quote.mkdir(parents=True)
    (quote / "record.json").write_text("{}", "utf-8")
    with pytest.raises(FolderError) as told:
        build(COST_CARD, site, tmp_path / "internal")
    assert str(told.value) == (
        f"{quote} holds a quote with its costs, and {site} is public; "
        "move the quotes elsewhere, and build again"
    )
    assert contents(tmp_path) == {"site/quotes/2026-0001/record.json": b"{}"}


def test_a_strict_costing_stops_at_warnings() -> None:
    summer = date(2026, 7, 1)
    assert len(price_catalogue(COST_CARD, summer)[1]) == 1
    with pytest.raises(CatalogueError, match="older than 120 days on 2026-07-01"):
        price_catalogue(COST_CARD, summer, strict=True)


def test_one_model_asked_about_is_costed_alone_and_comes_to_the_same() -> None:
    alone, _ = price_catalogue(DEMO, only="weekender_86")
    assert list(alone.models) == ["weekender_86"]
    every, model = demo().models["weekender_86"], alone.models["weekender_86"]
    assert list(model.extras) == list(every.extras)
    for id, priced in {"": every.boat, **every.extras}.items():
        found = model.extras[id] if id else model.boat
        assert found.list_price.value == priced.list_price.value
        assert found.assembly.cost.value == priced.assembly.cost.value
        assert found.assembly.hours.keys() == priced.assembly.hours.keys()


def test_all_is_costed_where_the_one_model_asked_about_is_none() -> None:
    assert list(price_catalogue(DEMO, only="weekender")[0].models) == list(demo().models)
