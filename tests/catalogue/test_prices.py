"""What is in force on a day: the newest price, wage and rate that has taken effect by then."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.catalogue.prices import Catalogue
from quoter.problems import CatalogueError
from tests.catalogue.broken import SOUND

OCTOBER, NOVEMBER = date(2026, 10, 1), date(2026, 11, 1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the sound catalogue: price lists of October and November."""
    return shutil.copytree(SOUND, tmp_path / "catalogue")


def load(folder: Path, as_of: date | None = None) -> Catalogue:
    return load_catalogue(folder, as_of)[0]


def add(folder: Path, name: str, *lines: str) -> None:
    path = folder / name
    before = path.read_text() if path.exists() else "material,supplier,price,note\n"
    path.write_text(before + "".join(f"{line}\n" for line in lines))


def price_of(catalogue: Catalogue, material: str) -> str:
    origin = catalogue.prices[material].price.origin
    assert origin is not None
    return origin.text


def test_the_default_day_is_that_of_the_newest_price_list() -> None:
    catalogue = load(SOUND)
    assert (catalogue.as_of, catalogue.price_list) == (NOVEMBER, NOVEMBER)


def test_the_newest_price_in_force_is_taken_material_by_material() -> None:
    catalogue = load(SOUND)
    assert price_of(catalogue, "resin_lam") == "3.30 EUR/kg"  # renewed in November
    assert price_of(catalogue, "mat_450") == "2.40 EUR/kg"  # not since October


def test_a_day_in_the_past_has_the_prices_and_rates_of_its_time() -> None:
    catalogue = load(SOUND, date(2026, 10, 31))
    assert catalogue.price_list == OCTOBER
    assert price_of(catalogue, "resin_lam") == "3.10 EUR/kg"
    assert catalogue.exchange["USD"].rate.value == 1.11
    assert catalogue.book.keys() == {("", "", "hatch"), ("", "tarn_31", "side_door")}


def test_a_price_takes_effect_on_its_very_day() -> None:
    catalogue = load(SOUND, NOVEMBER)
    assert price_of(catalogue, "resin_lam") == "3.30 EUR/kg"
    assert catalogue.exchange["USD"].rate.value == 1.08


def test_a_published_price_of_the_future_is_not_in_force_yet(folder: Path) -> None:
    add(folder, "price_book.csv", "2026-12-01,,hatch,2600 EUR,")
    assert load(folder).book["", "", "hatch"].list_price.value == 2400
    assert load(folder, date(2026, 12, 1)).book["", "", "hatch"].list_price.value == 2600


def test_the_order_of_lines_does_not_matter(folder: Path) -> None:
    head, *lines = (folder / "exchange.csv").read_text().splitlines()
    (folder / "exchange.csv").write_text("\n".join([head, *reversed(lines)]) + "\n")
    assert load(folder).exchange["USD"].rate.value == 1.08


def test_the_preferred_supplier_decides_where_two_quote(folder: Path) -> None:
    add(
        folder,
        "prices/2026-11-01.csv",
        "hinge,fjordglas,39 EUR/each,",
        "hinge,westpoly,30 USD/each,",
    )
    assert price_of(load(folder), "hinge") == "39 EUR/each"


def test_an_older_price_of_the_preferred_supplier_outranks_a_newer_one_of_another(
    folder: Path,
) -> None:
    add(folder, "prices/2026-12-01.csv", "hinge,westpoly,30 USD/each,")
    assert price_of(load(folder), "hinge") == "38 EUR/each"


def test_without_a_preferred_supplier_the_newest_price_decides(folder: Path) -> None:
    add(folder, "prices/2026-12-01.csv", "wax,westpoly,14 USD/kg,")
    assert price_of(load(folder), "wax") == "14 USD/kg"


def test_no_price_in_force_is_an_error(folder: Path) -> None:
    with pytest.raises(CatalogueError) as stopped:
        load(folder, date(2026, 9, 30))
    assert str(stopped.value) == (
        "prices: no price list is in force on 2026-09-30 [not-in-force]\n"
        "    the first is of 2026-10-01"
    )


def test_no_rate_in_force_is_an_error_of_its_supplier(folder: Path) -> None:
    (folder / "exchange.csv").write_text("date,currency,rate,note\n2026-11-01,USD,1.08 USD/EUR,\n")
    with pytest.raises(CatalogueError) as stopped:
        load(folder, OCTOBER)
    assert [problem.what for problem in stopped.value.problems] == [
        "no rate for USD is in force on 2026-10-01"
    ]


@pytest.mark.parametrize(
    ("as_of", "stale"),
    [
        (date(2026, 12, 30), []),  # October's prices are 90 days old
        (
            date(2026, 12, 31),
            [
                "8 prices of 'fjordglas' are older than 90 days on 2026-12-31, the oldest of "
                "2026-10-01",
                "3 prices of 'westpoly' are older than 90 days on 2026-12-31, the oldest of "
                "2026-10-01",
            ],
        ),
        (
            date(2027, 1, 31),  # rates hold until a newer one, however old
            [
                "the rate of USD is of 2026-11-01, older than 90 days on 2027-01-31",
                "9 prices of 'fjordglas' are older than 90 days on 2027-01-31, the oldest of "
                "2026-10-01",
                "4 prices of 'westpoly' are older than 90 days on 2027-01-31, the oldest of "
                "2026-10-01",
            ],
        ),
    ],
)
def test_a_price_or_rate_older_than_the_limit_is_warned_of_once_for_its_supplier_and_used(
    folder: Path, as_of: date, stale: list[str]
) -> None:
    catalogue, warnings = load_catalogue(folder, as_of)
    assert [warning.what for warning in warnings] == stale
    assert all(warning.warning for warning in warnings)
    assert price_of(catalogue, "mat_450") == "2.40 EUR/kg"
