"""The demonstration's pages of what changed, recomputed from its price book and two pricings."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import ROUND_CEILING, Decimal

import pytest

from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import earlier_lists
from quoter.pricing.priced import price_catalogue
from tests.demo import DEMO, demo
from tests.pages.parsed import Page
from tests.pages.told import lines


@pytest.fixture(scope="module")
def shown() -> dict[str, Page]:
    makers = PublicSite(demo(), earlier_lists(DEMO, demo())).makers
    paths = [f"en/{market}/changes.html" for market in ("home", "trade", "north")]
    return {path.split("/")[1]: Page(makers[path]()) for path in paths}


def up(amount: Decimal, step: int) -> Decimal:
    return (amount / step).to_integral_value(ROUND_CEILING) * step


def rate_on(day: date) -> Decimal:
    with (DEMO / "exchange.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["currency"] == "NOK"]
    newest = max(
        (row for row in rows if row["date"] <= day.isoformat()), key=lambda row: row["date"]
    )
    return Decimal(newest["rate"].split()[0])


def northern(day: date) -> Iterator[tuple[tuple[str, str], Decimal]]:
    """(model, boat or extra) by name -> kroner: euros at the day's rate, up to the next 100."""
    with (DEMO / "price_book.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["date"] <= day.isoformat()]
    own = {row["option"]: Decimal(row["list_price"].split()[0]) for row in rows if row["market"]}
    pricing, _ = price_catalogue(DEMO, day)
    rate = rate_on(day)
    for model in pricing.models.values():
        name = str(model.model.name)
        yield (name, ""), up(Decimal(repr(model.boat.list_price.value)) * rate, 100)
        prices: dict[str, Decimal] = {}
        for id, item in model.options.items():
            at_home = Decimal(repr(item.list_price.value))
            prices[id] = own.get(id, up(at_home * rate, 100))
            if id in model.extras:
                yield (name, item.assembly.name), prices[id]
        for package in model.offered_packages:
            apart = sum((prices[str(id)] for id in package.options), Decimal(0))
            saved = apart * (1 - Decimal(repr(package.saving.value)))
            yield (name, str(package.name)), saved // 100 * 100


def moved(
    before: Mapping[tuple[str, str], Decimal], now: Mapping[tuple[str, str], Decimal]
) -> dict[tuple[str, str], tuple[Decimal, Decimal]]:
    return {
        key: (before[key], price)
        for key, price in now.items()
        if before[key] != price and key[1] != "Ramp hoist"  # new in this edition
    }


def test_the_demo_s_northern_page_is_what_the_price_book_and_the_rates_give(
    shown: dict[str, Page],
) -> None:
    expected = moved(
        dict(northern(date(2026, 10, 31))), dict(northern(demo().catalogue.edition.valid_from))
    )
    assert len(expected) > 20
    told: dict[tuple[str, str], tuple[Decimal, Decimal]] = {}
    for line in lines(shown["north"]):
        plain = (cell.replace("\N{MINUS SIGN}", "-") for cell in line.cells[:3])
        cells = [Decimal(re.sub("NOK|[ ,]", "", cell)) for cell in plain]
        assert cells[2] == cells[1] - cells[0]
        boat = line.heading == "Boats with standard equipment"
        for model in (line.name,) if boat else line.models:
            assert (model, "" if boat else line.name) not in told, "each is told once"
            told[model, "" if boat else line.name] = cells[0], cells[1]
    assert told == expected
    assert not [key for key in told if key[1] == "Side entry"], "held for the northern fair"


@pytest.mark.parametrize(("market", "price"), [("home", "€2,108.00"), ("trade", "€1,700")])
def test_in_euros_the_demo_has_a_new_option_and_every_price_stays(
    shown: dict[str, Page], market: str, price: str
) -> None:
    days = (date(2026, 10, 31), demo().catalogue.as_of)
    old, new = (
        {
            (id, extra): item.list_price.value
            for id, model in price_catalogue(DEMO, day)[0].models.items()
            for extra, item in ({"": model.boat} | model.extras).items()
        }
        for day in days
    )
    assert {key for key in new if old[key] != new[key]} <= {
        ("coastal_98", "ramp_hoist"),
        ("passage_120", "ramp_hoist"),
    }
    page = shown[market]
    (table,) = page.all("table")
    assert table.text.endswith(f"Orvesund 9.8 Coastal Orvesund 12.0 Passage {price}")
    news = "The ramp on the 9.8 and the 12.0 can now have an electric hoist."
    assert news in page.one("main").text
    assert page.one("main").text.endswith("All other prices stay as they were.")


def test_the_demo_s_pages_pass_the_guard() -> None:
    site = PublicSite(demo(), earlier_lists(DEMO, demo()))
    paths = [path for path in site.makers if re.fullmatch(r"en/\w+/(changes|index)\.html", path)]
    assert len(paths) == 6
    SiteGuard(site).look_through({path: site.makers[path]() for path in paths})
