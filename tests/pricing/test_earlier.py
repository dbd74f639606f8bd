"""The days that a price list is compared with: which they are, and what was asked on them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from quoter.catalogue.prices import Catalogue
from quoter.costing.rollup import Costing, roll_up
from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite, public_pages
from quoter.pricing import earlier
from quoter.pricing.earlier import (
    EarlierLists,
    days_before,
    earlier_lists,
    lists_on,
    priced_anew,
    shown_prices,
)
from quoter.pricing.price import Key, Pricing
from quoter.pricing.priced import price_catalogue
from quoter.pricing.public import PublicPrice
from quoter.problems import Problems
from tests.catalogues.written import FOLDER
from tests.demo import DEMO, demo
from tests.pages.moving import BEGUN, EDITIONS, moving

APRIL = date(2026, 4, 30)


def days_of(found: Sequence[EarlierLists]) -> list[date]:
    return [lists.until for lists in found]


def earlier_on(folder: Path, day: date, settings: Sequence[str] = ()) -> list[EarlierLists]:
    pricing, _ = price_catalogue(folder, day, settings=settings)
    return earlier_lists(folder, pricing)


def shown(pricing: Pricing) -> Mapping[str, Mapping[Key, PublicPrice]]:
    """What every market's list shows on the pricing's own day."""
    markets = pricing.catalogue.yard.markets
    return {str(market.id): shown_prices(pricing, market) for market in markets}


def test_the_last_day_of_the_edition_before_comes_first_then_the_days_before_moves(
    tmp_path: Path,
) -> None:
    # The book moves on April 11 and 21; what moved on March 25 held when the 30 days began.
    found = earlier_on(moving(tmp_path), BEGUN)
    assert days_of(found) == [APRIL, date(2026, 4, 10), date(2026, 4, 20)]
    hatch = [lists.prices["home"]["skiff", "hatch"].amount for lists in found]
    assert hatch == [Decimal(each) * Decimal("1.25") for each in (440, 450, 420)]


def test_within_an_edition_the_days_before_its_own_moves_come_too(tmp_path: Path) -> None:
    found = days_of(earlier_on(moving(tmp_path), date(2026, 6, 10)))
    assert found[0] == APRIL
    assert found[-2:] == [date(2026, 5, 19), date(2026, 6, 9)]


def test_the_30_days_begin_30_days_before_the_edition(tmp_path: Path) -> None:
    # What moves on April 1 held on none of the days before; what moves on April 2 did on April 1.
    wages = "date,group,wage,note\n2026-01-01,hands,24 EUR/h,invented\n{},hands,25 EUR/h,invented\n"
    for moved, expected in (("2026-04-01", []), ("2026-04-02", [date(2026, 4, 1)])):
        folder = moving(tmp_path / moved, tables={"wages.csv": wages.format(moved)})
        pricing, _ = price_catalogue(folder, BEGUN)
        days = days_before(pricing.catalogue)
        assert [day for day in days if day < date(2026, 4, 10)] == expected


def test_a_first_edition_and_a_yard_without_editions_have_none(tmp_path: Path) -> None:
    folder = moving(tmp_path)
    assert earlier_on(folder, APRIL) == []
    assert earlier_on(folder, date(2026, 2, 1)) == [], "before the first begins it holds already"
    small, _ = price_catalogue(FOLDER / "small")
    assert earlier_lists(FOLDER / "small", small) == []


def test_days_without_prices_are_left_out(tmp_path: Path) -> None:
    before = EDITIONS.replace("2026-02-15,2026-04-30", "2026-01-01,2026-02-14")
    begun = before.replace("2026-05-01,2026-08-31", "{},2026-08-31")
    # The first price list is of February 1.
    late = moving(tmp_path / "late", tables={"editions.csv": begun.format("2026-02-15")})
    assert days_of(earlier_on(late, date(2026, 2, 15))) == [date(2026, 2, 14)]
    early = moving(tmp_path / "early", tables={"editions.csv": begun.format("2026-02-01")})
    assert earlier_on(early, date(2026, 2, 15)) == []


def test_an_index_that_began_later_keeps_no_day_from_being_priced(tmp_path: Path) -> None:
    clause = (
        "surcharges:\n"
        "  - {id: resin, name: Resin, index: resin_index, index_name: resin index, "
        "threshold: 5 %, share: 35 %, only_excess: yes, downward: yes, open_for: 30}\n"
        "markets:\n"
    )
    index = "date,index,value,note\n2026-05-01,resin_index,100,invented\n"
    folder = moving(tmp_path, {"yard.yaml": {"markets:\n": clause}}, {"indices.csv": index})
    assert days_of(earlier_on(folder, BEGUN))[0] == APRIL


def test_each_day_is_priced_as_a_build_of_that_day_prices_it(tmp_path: Path) -> None:
    folder = moving(tmp_path)
    for lists in earlier_on(folder, BEGUN):
        alone, _ = price_catalogue(folder, lists.until)
        assert lists.prices == shown(alone)
        assert lists.version == alone.catalogue.edition.version == "2026-A"
    (demo_s,) = earlier_lists(DEMO, demo())
    assert demo_s.prices == shown(price_catalogue(DEMO, date(2026, 10, 31))[0])


RATES = "date,currency,rate,note\n2026-01-01,GBP,0.86 GBP/EUR,invented\n" + "".join(
    f"2026-04-{day:02},GBP,0.{8300 + 37 * day % 400} GBP/EUR,invented\n" for day in range(2, 31)
)


def test_a_rate_for_each_day_costs_nothing_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = moving(tmp_path, tables={"exchange.csv": RATES})
    pricing, _ = price_catalogue(folder, BEGUN)
    costed: list[date] = []

    def counted(catalogue: Catalogue, problems: Problems) -> Costing:
        costed.append(catalogue.as_of)
        return roll_up(catalogue, problems)

    monkeypatch.setattr(earlier, "roll_up", counted)
    found = earlier_lists(folder, pricing)
    assert days_of(found) == [APRIL, *(date(2026, 4, day) for day in range(1, 30))]
    assert costed == []
    abroad = {lists.prices["abroad"]["skiff", ""].amount for lists in found}
    assert len(abroad) > 10
    held = {
        type(price)
        for lists in found
        for prices in lists.prices.values()
        for price in prices.values()
    }
    assert held == {PublicPrice}
    # A what-if's figures are its own: the files are costed once, on the last day before.
    what_if, _ = price_catalogue(folder, BEGUN, settings=["class.resin=+50%"])
    assert earlier_lists(folder, what_if) == found
    assert costed == [APRIL]
    for lists in found[::7]:
        assert lists.prices == shown(price_catalogue(folder, lists.until)[0])


def test_the_demonstration_s_days_are_replayed_as_each_is_priced_alone() -> None:
    """All of its dated tables move between these days."""
    days = [date(2026, month, day) for month in (9, 10, 11) for day in (1, 20)]
    found = lists_on(demo(), days)
    assert days_of(found) == days
    for lists in found:
        alone = priced_anew(demo().catalogue.records, lists.until)
        assert alone is not None
        assert lists.prices == shown(alone)


def test_days_are_left_out_on_which_something_had_no_price_or_one_of_nothing(
    tmp_path: Path,
) -> None:
    """Nobody could publish then: the hatch is free on a day, the cleats have no price at first."""
    book = "date,market,model,option,list_price,note\n2026-02-01,,,hatch,440 EUR,\n"
    book += "2026-04-10,,,hatch,0 EUR,a slip\n2026-04-11,,,hatch,450 EUR,\n"
    book += (
        "2026-04-20,abroad,,hatch,0 GBP,free abroad for a day\n2026-04-21,abroad,,hatch,380 GBP,\n"
    )
    first = (FOLDER / "small" / "prices" / "2026-02-01.csv").read_text("utf-8")
    (cleat,) = (row for row in first.splitlines() if row.startswith("cleat,"))
    head = first.splitlines()[0]
    tables = {
        "price_book.csv": book,
        "prices/2026-02-01.csv": first.replace(f"{cleat}\n", ""),
        "prices/2026-04-05.csv": f"{head}\n{cleat}\n",
    }
    pricing, _ = price_catalogue(moving(tmp_path, tables=tables), BEGUN)
    april = [date(2026, 4, day) for day in (4, 5, 9, 10, 11, 20, 21)]
    found = {
        lists.until.day: lists.prices["abroad"]["skiff", "hatch"].amount
        for lists in lists_on(pricing, april)
    }
    assert found == {5: 380, 9: 380, 11: 390, 20: 0, 21: 380}


def test_a_what_if_compares_with_what_was_published(tmp_path: Path) -> None:
    # The list before said 21900 EUR with 25 % tax, whatever is asked now.
    folder = moving(tmp_path)
    settings = ["yard.markets.home.tax=30 %", "class.resin=+50%"]
    pricing, _ = price_catalogue(folder, BEGUN, settings=settings)
    found = earlier_lists(folder, pricing)
    assert days_of(found) == days_of(earlier_on(folder, BEGUN))
    assert found[0].prices == shown(price_catalogue(folder, APRIL)[0])
    site, path = PublicSite(pricing, found), "en/home/changes.html"
    page = site.makers[path]().decode()
    assert "€27,375.00" in page
    assert "€28,860.00" in page  # 22200 EUR with 30 %
    SiteGuard(site).look_through({path: page.encode()})


def test_a_what_if_of_a_market_s_currency_compares_with_nothing(tmp_path: Path) -> None:
    folder = moving(tmp_path)
    settings = ["yard.markets.abroad.currency=EUR", "yard.markets.abroad.rounding.step=5 EUR"]
    assert earlier_on(folder, BEGUN, settings) == []


def test_a_month_rebuilt_later_compares_with_its_own_edition_to_the_byte(tmp_path: Path) -> None:
    folder = moving(tmp_path / "later")
    then = moving(tmp_path / "then")
    for name, last in (("editions.csv", "2026-05-01"), ("price_book.csv", "2026-05-01")):
        rows = (then / name).read_text(encoding="utf-8").splitlines(keepends=True)
        kept = [row for row in rows[1:] if row[: len(last)] <= last]
        assert len(kept) < len(rows) - 1
        (then / name).write_text("".join([rows[0], *kept]), encoding="utf-8")
    pages = []
    for place in (folder, then):
        pricing, _ = price_catalogue(place, BEGUN)
        pages.append(public_pages(pricing, earlier_lists(place, pricing)))
    assert b"2026-A" in pages[0]["en/home/changes.html"]
    assert pages[0] == pages[1]
    later, _ = price_catalogue(folder, date(2026, 9, 1))
    now = public_pages(later, earlier_lists(folder, later))["en/home/changes.html"]
    assert b"2026-B" in now
    assert b"2026-A" not in now
