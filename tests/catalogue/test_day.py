"""Which day commands price on: no clock is read, and what lies ahead stays ahead."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.day import CatalogueDay, catalogue_day
from quoter.catalogue.load import load_catalogue
from quoter.problems import CatalogueError
from tests.catalogue.broken import SOUND

NOVEMBER, DECEMBER, JANUARY = date(2026, 11, 1), date(2026, 12, 15), date(2027, 1, 15)
FAMILY = ("    name: Injection resin\n", "    name: Injection resin\n    family: polyester\n")
RAISED = "resin_inj,westpoly,2.15 USD/lb,"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the sound catalogue with a family: lists and rates of October and November."""
    folder = shutil.copytree(SOUND, tmp_path / "catalogue")
    file = folder / "materials.yaml"
    text = file.read_text("utf-8")
    assert text.count(FAMILY[0]) == 1
    file.write_text(text.replace(*FAMILY), "utf-8")
    return folder


def add(folder: Path, name: str, *lines: str) -> None:
    """Lines at the end of a table, which begins if it is not there."""
    heads = {
        "rises.csv": "date,supplier,family,by,effective,state,note\n",
        "indices.csv": "date,index,value,note\n",
        "editions.csv": "valid_from,valid_until,version,model_year,note\n",
    }
    path = folder / name
    new = heads.get(name, "material,supplier,price,note\n")
    before = path.read_text("utf-8") if path.exists() else new
    path.write_text(before + "".join(f"{line}\n" for line in lines), "utf-8")


def confirm(
    folder: Path, effective: date, letter: str = "2026-10-28", state: str = "confirmed"
) -> None:
    """A rise as `quoter rise` leaves it: its line, and the list of its prices."""
    add(folder, "rises.csv", f"{letter},westpoly,polyester,0.10 USD/lb,{effective},{state},")
    add(folder, f"prices/{effective}.csv", RAISED)


def state_today(folder: Path, day: str) -> None:
    file = folder / "yard.yaml"
    file.write_text(f"today: {day}\n{file.read_text('utf-8')}", "utf-8")


def stands(folder: Path) -> CatalogueDay:
    """Where a catalogue stands, which is what it is priced on."""
    catalogue, _ = load_catalogue(folder)
    found = catalogue_day(catalogue.records)
    assert catalogue.as_of == found.prices
    return found


def test_the_day_is_that_of_the_newest_list_where_no_list_is_ahead(folder: Path) -> None:
    assert stands(folder) == CatalogueDay(NOVEMBER, NOVEMBER, False, ())
    add(folder, f"prices/{DECEMBER}.csv", "wax,fjordglas,14 EUR/kg,")
    assert stands(folder) == CatalogueDay(DECEMBER, DECEMBER, False, ())


def test_the_list_of_a_confirmed_rise_is_ahead_until_a_dated_row_comes_to_it(folder: Path) -> None:
    confirm(folder, DECEMBER)
    assert stands(folder) == CatalogueDay(NOVEMBER, NOVEMBER, False, (DECEMBER,))
    add(folder, "exchange.csv", "2026-12-14,USD,1.07 USD/EUR,")
    assert stands(folder) == CatalogueDay(NOVEMBER, date(2026, 12, 14), False, (DECEMBER,))
    add(folder, "exchange.csv", "2026-12-15,USD,1.07 USD/EUR,")
    assert stands(folder) == CatalogueDay(DECEMBER, DECEMBER, False, ())


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("exchange.csv", "2026-12-20,USD,1.07 USD/EUR,"),
        ("indices.csv", "2026-12-20,resin_index,104.2,"),
        ("rises.csv", "2026-12-20,westpoly,polyester,5 %,2027-02-01,announced,"),
        ("prices/2026-12-20.csv", "wax,fjordglas,14 EUR/kg,"),
    ],
)
def test_whatever_can_not_lie_ahead_brings_a_raised_list_into_force(
    folder: Path, name: str, line: str
) -> None:
    confirm(folder, DECEMBER)
    add(folder, name, line)
    found = stands(folder)
    assert found.today == date(2026, 12, 20)
    assert found.ahead == ()
    assert found.prices == (found.today if name.startswith("prices") else DECEMBER)


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("wages.csv", "2027-01-01,moulder,26 EUR/h,"),
        ("price_book.csv", "2027-01-01,,hatch,2600 EUR,"),
        ("editions.csv", "2027-01-01,2027-06-30,2027-01,2027,"),
    ],
)
def test_what_is_written_ahead_moves_nothing(folder: Path, name: str, line: str) -> None:
    confirm(folder, DECEMBER)
    if name == "editions.csv":
        file = folder / "yard.yaml"
        text = file.read_text("utf-8")
        kept = [each for each in text.splitlines(keepends=True) if "valid_" not in each]
        kept = [each for each in kept if not each.strip().startswith(("version:", "model_year:"))]
        file.write_text("".join(kept), "utf-8")
        add(folder, name, "2026-01-01,2026-12-31,2026-11,2026,")
    add(folder, name, line)
    assert stands(folder) == CatalogueDay(NOVEMBER, NOVEMBER, False, (DECEMBER,))


def test_a_list_that_holds_another_price_than_the_raised_ones_is_no_rise_s(folder: Path) -> None:
    confirm(folder, DECEMBER)
    add(folder, f"prices/{DECEMBER}.csv", "polyol,westpoly,2.95 USD/lb,imported from a list")
    assert stands(folder) == CatalogueDay(DECEMBER, DECEMBER, False, ())


def test_a_rise_that_is_not_confirmed_wrote_no_list(folder: Path) -> None:
    confirm(folder, DECEMBER, state="announced")
    assert stands(folder).prices == DECEMBER


def test_a_letter_of_a_later_day_than_its_rise_says_that_the_day_has_come(folder: Path) -> None:
    confirm(folder, DECEMBER, letter="2026-12-16")
    assert stands(folder) == CatalogueDay(DECEMBER, date(2026, 12, 16), False, ())


def test_a_stated_day_is_the_day_and_every_later_list_is_ahead(folder: Path) -> None:
    confirm(folder, JANUARY)
    add(folder, f"prices/{DECEMBER}.csv", "wax,fjordglas,14 EUR/kg,")
    add(folder, "exchange.csv", "2026-12-01,USD,1.07 USD/EUR,")
    state_today(folder, "2026-12-10")
    today = date(2026, 12, 10)
    assert stands(folder) == CatalogueDay(today, today, True, (DECEMBER, JANUARY))
    catalogue, _ = load_catalogue(folder)
    assert catalogue.price_list == NOVEMBER
    assert catalogue.exchange["USD"].rate.value == 1.07


def test_a_slip_in_the_year_of_a_rate_brings_no_list_into_force(folder: Path) -> None:
    confirm(folder, DECEMBER)
    add(folder, "exchange.csv", "2062-11-01,USD,1.07 USD/EUR,a slip")
    assert stands(folder) == CatalogueDay(NOVEMBER, NOVEMBER, False, (DECEMBER,))


def test_a_day_far_ahead_is_measured_from_how_far_the_catalogue_has_come(folder: Path) -> None:
    """A list of a rise for next autumn hides no slip in the year of a rate."""
    confirm(folder, date(2027, 10, 1))
    add(folder, "wages.csv", "2027-11-03,fitter,26 EUR/h,a slip")
    told = [str(each).partition("\n")[0] for each in load_catalogue(folder)[1]]
    assert told == [
        "wages.csv:5:1: warning: 2027-11-03 is 367 days after 2026-11-01, how far the catalogue "
        "has come [far-ahead]"
    ]
    state_today(folder, "2026-11-02")
    assert [each.code for each in load_catalogue(folder)[1]] == []


def test_a_stated_day_far_after_every_row_is_told(folder: Path) -> None:
    state_today(folder, "2028-11-01")
    told = [str(each) for each in load_catalogue(folder)[1] if each.code == "far-ahead"]
    assert told == [
        "yard.yaml:1:8: warning: 2028-11-01 is 731 days after 2026-11-01, how far the catalogue "
        "has come [far-ahead]\n"
        "    today: 2028-11-01\n"
        "           ^\n"
        "    check the year"
    ]


def test_a_stated_day_before_the_first_list_is_refused(folder: Path) -> None:
    state_today(folder, "2026-09-30")
    for asked in (None, NOVEMBER):
        with pytest.raises(CatalogueError) as stopped:
            load_catalogue(folder, asked)
        assert str(stopped.value) == (
            "yard.yaml:1:8: today, 2026-09-30, is before the first price list [past-day]\n"
            "    today: 2026-09-30\n"
            "           ^\n"
            "    the first is of 2026-10-01: write that day or a later one"
        )


def test_what_is_no_day_is_told_at_its_place(folder: Path) -> None:
    state_today(folder, "tomorrow")
    with pytest.raises(CatalogueError) as stopped:
        load_catalogue(folder)
    assert str(stopped.value).startswith(
        "yard.yaml:1:8: today 'tomorrow' is not a date [not-a-date]\n"
    )


def test_a_day_may_be_asked_about_by_a_setting(folder: Path) -> None:
    state_today(folder, "2026-10-15")
    asked = load_catalogue(folder, settings=["yard.today=2026-11-20"])[0]
    assert (asked.as_of, asked.price_list) == (date(2026, 11, 20), NOVEMBER)


def test_a_catalogue_whose_rows_are_all_older_than_its_list_has_the_day_of_it(
    folder: Path,
) -> None:
    """The only list can't be ahead, even where a rise is noted as confirmed for its day."""
    shutil.rmtree(folder / "prices")
    shutil.copytree(SOUND / "prices", folder / "prices")
    first = (folder / "prices/2026-10-01.csv").read_text("utf-8")
    (folder / "prices/2026-10-01.csv").unlink()
    (folder / "prices/2026-11-01.csv").write_text(first, "utf-8")
    add(folder, "rises.csv", "2026-10-01,westpoly,polyester,5 %,2026-11-01,confirmed,")
    assert stands(folder) == CatalogueDay(NOVEMBER, NOVEMBER, False, ())
