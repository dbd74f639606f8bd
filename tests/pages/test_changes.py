"""The page of what changed: every price that moved and no other, each beside what it was."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path

import pytest

from quoter.pricing.earlier import DELIVERY, EarlierLists, earlier_lists, shown_prices
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.accounted import guarded_pages
from tests.pages.moving import BEGUN, moving
from tests.pages.parsed import Page
from tests.pages.test_public import faults, outside_of
from tests.pages.told import Told, lines
from tests.pages.variants import DELIVERED

JUNE = date(2026, 6, 10)
Pages = dict[str, bytes]


def pages_on(folder: Path, day: date) -> tuple[Pages, Pricing, list[EarlierLists]]:
    pricing, _ = price_catalogue(folder, day)
    earlier = earlier_lists(folder, pricing)
    return guarded_pages(pricing, earlier), pricing, earlier


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return moving(tmp_path_factory.mktemp("changes"))


@pytest.fixture(scope="module")
def made(folder: Path) -> tuple[Pages, Pricing, list[EarlierLists]]:
    return pages_on(folder, BEGUN)


BOTH = ("Tern Skiff", "Tern Cutter")


def test_every_price_that_moved_is_told_as_the_home_market_shows_it(
    made: tuple[Pages, Pricing, list[EarlierLists]],
) -> None:
    # Worked by hand from the price book with 25 % tax. The package is box and cleats less 5 %,
    # down to 5 EUR: 195 x 0.95 = 185.25, and 205 x 0.95 = 194.75. A rise is in per cent of the
    # price before (375 / 27375); the hatch's fall is of 420 EUR, to which it had been lowered for
    # ten of the 30 days before (Directive 98/6/EC, Art. 6a), not of 440; what it cost for less 40
    # days before is not told, and no credit is a percentage.
    assert lines(Page(made[0]["en/home/changes.html"])) == [
        Told(
            "Boats with standard equipment",
            "Tern Skiff",
            (),
            ("€27,375.00", "€27,750.00", "+€375.00 +1.4%", ""),
        ),
        Told(
            "Hatches",
            "Deck hatch",
            BOTH,
            ("€550.00", "€512.50", "\N{MINUS SIGN}€37.50", "€525.00 \N{MINUS SIGN}2.4%"),
        ),
        Told("Hatches", "Foam box", BOTH, ("€125.00", "€137.50", "+€12.50 +10.0%", "")),
        Told(
            "Colour",
            "Green topsides",
            BOTH,
            ("€75.00", "\N{MINUS SIGN}€31.25", "\N{MINUS SIGN}€106.25", "€75.00"),
        ),
        Told("Packages", "Foredeck", ("Tern Skiff",), ("€231.25", "€237.50", "+€6.25 +2.7%", "")),
    ]


def test_another_market_compares_in_its_own_currency(
    made: tuple[Pages, Pricing, list[EarlierLists]],
) -> None:
    # Worked by hand: 0.86 GBP/EUR before and 0.84 now, rounded up to fives. Cleats cost 95 EUR
    # both times (81.70 and 79.80): what moved by the rate alone is a move like any other.
    told = lines(Page(made[0]["en/abroad/changes.html"]))
    assert [line.name for line in told if line.heading == "Boats with standard equipment"] == [
        *BOTH
    ]
    assert told[0].cells == (
        "£18,835",
        "£18,650",
        "\N{MINUS SIGN}£185",
        "£18,835 \N{MINUS SIGN}1.0%",
    )
    by_name = {line.name: line.cells for line in told}
    assert by_name["Pair of cleats"] == ("£85", "£80", "\N{MINUS SIGN}£5", "£85 \N{MINUS SIGN}5.9%")
    assert by_name["Deck hatch"] == ("£380", "£345", "\N{MINUS SIGN}£35", "£365 \N{MINUS SIGN}5.5%")
    assert by_name["Foam box"] == ("£90", "£95", "+£5 +5.6%", "")
    assert "Foredeck" not in by_name, "(90 + 85) x 0.95 = 166.25 and (95 + 80) x 0.95 are 165"
    text = Page(made[0]["en/abroad/changes.html"]).one("main").text
    assert "All prices in British pounds, without VAT." in text
    assert not re.search("exchange|rate", text)


def test_what_is_new_is_new_and_not_from_nothing(
    made: tuple[Pages, Pricing, list[EarlierLists]],
) -> None:
    page = Page(made[0]["en/home/changes.html"])
    text = page.one("main").text
    assert "valid from 1 May 2026, compared with price sheet 2026-A as it stood on 30 April" in text
    assert "Doors are here." in text
    new = next(page.all("table")).text
    assert "New on price sheet 2026-B" in new
    # It was in the price book at the same 6000 EUR before, but was not offered.
    assert "Side door A door in the hull side, level with the sole. Tern Cutter €7,500.00" in new
    assert [line.name for line in lines(page) if line.name == "Side door"] == []
    assert "All other prices stay as they were." in text


def test_a_package_that_holds_something_new_is_new(tmp_path: Path) -> None:
    box = {"name: Foam box\n": "name: Foam box\n    new_in: 2026-B\n"}
    pages, _, _ = pages_on(moving(tmp_path, {"options.yaml": box}), BEGUN)
    page = Page(pages["en/home/changes.html"])
    new = next(page.all("table")).text
    assert "Foam box" in new
    assert "Foredeck" in new
    assert {"Foam box", "Foredeck"}.isdisjoint(line.name for line in lines(page))


def test_pages_are_sound_and_hold_nothing_secret(
    made: tuple[Pages, Pricing, list[EarlierLists]],
) -> None:
    pages, pricing, _ = made
    for path in ("en/home/changes.html", "en/abroad/changes.html"):
        assert faults(path, pages, outside_of(pricing)) == []
        page = Page(pages[path])
        (here,) = page.all("a", **{"aria-current": "page"})
        assert here.attributes["href"] == "changes.html"
        assert "changes.html" in pages[path.replace("changes", "index")].decode()
    text = "\n".join(pages[path].decode() for path in pages if "changes" in path)
    for word in ("winter fair", "spring fair", "paint maker", "resin rise", "margin", "cost"):
        assert word not in text


def test_a_fall_within_an_edition_is_told_with_the_30_days_before_that_fall(folder: Path) -> None:
    # On June 10 the hatch falls from 430 to 400 EUR. From May 11 to 19 it had cost 410, which is
    # 512.50 EUR with tax; the 440 of the edition before are what the sheet said then.
    pages, _, _ = pages_on(folder, JUNE)
    (hatch,) = [
        line for line in lines(Page(pages["en/home/changes.html"])) if line.name == "Deck hatch"
    ]
    assert hatch.cells == (
        "€550.00",
        "€500.00",
        "\N{MINUS SIGN}€50.00",
        "€512.50 \N{MINUS SIGN}2.4%",
    )


def test_what_is_charged_for_delivery_moves_too(tmp_path: Path) -> None:
    # Worked by hand: 1000 EUR at 0.86 and 0.84 GBP/EUR have a line of their own abroad. At home
    # they are 1250 EUR of what a boat costs: 27375 before and 27750 now, and these.
    pages, pricing, _ = pages_on(moving(tmp_path, {"yard.yaml": DELIVERED}), BEGUN)
    abroad = lines(Page(pages["en/abroad/changes.html"]))
    assert abroad[-1] == Told(
        "Delivery, in addition",
        "DAP Sundby",
        (),
        ("£860", "£840", "\N{MINUS SIGN}£20", "£860 \N{MINUS SIGN}2.3%"),
    )
    page = Page(pages["en/home/changes.html"])
    assert lines(page)[0].cells == ("€28,625.00", "€29,000.00", "+€375.00 +1.3%", "")
    assert "and delivery, DAP Sundby, at €1,250.00" in page.one("main").text
    assert DELIVERY not in shown_prices(pricing, pricing.catalogue.yard.markets[0])


@pytest.mark.parametrize("path", ["en/home/changes.html", "en/abroad/changes.html"])
def test_a_first_edition_has_no_page_of_changes(folder: Path, path: str) -> None:
    pages, _, earlier = pages_on(folder, BEGUN - timedelta(days=1))
    assert earlier == []
    assert path not in pages
    assert not [name for name, page in pages.items() if b"changes.html" in page]


def test_a_sheet_on_which_nothing_moved_says_so(tmp_path: Path) -> None:
    book = "date,market,model,option,list_price,note\n2026-02-01,,,hatch,440 EUR,\n"
    same = "date,currency,rate,note\n2026-01-01,GBP,0.86 GBP/EUR,invented\n"
    quiet = {"kind: opening\n    new_in: 2026-B\n": "kind: opening\n"}
    still = moving(
        tmp_path, {"options.yaml": quiet}, {"price_book.csv": book, "exchange.csv": same}
    )
    pages, _, _ = pages_on(still, BEGUN)
    page = Page(pages["en/home/changes.html"])
    assert "All prices stay as they were." in page.one("main").text
    assert not list(page.all("table"))
