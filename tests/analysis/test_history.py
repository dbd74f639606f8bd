"""History: each day's numbers against a whole catalogue priced as of that day; the rule of steps.

That the newest row effective on a day holds has no outside source (common practice); the check is
that it is the very rule by which a catalogue is priced, day by day.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.analysis.history import (
    MOST_DAYS,
    History,
    LineHistory,
    MaterialHistory,
    days_of,
    history_of,
)
from quoter.pricing.price import Priced, Pricing
from quoter.pricing.priced import at_last_list, price_catalogue
from quoter.problems import CatalogueError, Place
from tests.catalogues.written import FOLDER, write_catalogue
from tests.demo import DEMO

SOUND = FOLDER / "sound"
RELATIVE = 1e-9

# The resin changes to a supplier who sells it by the drum in another currency, the mat goes from
# one supplier to another; wages, rates and published prices take effect between the lists.
MOVED = {
    "prices/2026-11-01.csv": """
        material,supplier,price,note
        resin_lam,westpoly,745 USD/drum,a drum holds 220 kg; another supplier
        resin_inj,westpoly,2.05 USD/lb,dearer styrene
        flow_600,fjordglas,301 EUR/roll,
        mat_450,westpoly,1.28 USD/lb,another supplier
        """,
    "prices/2026-12-01.csv": """
        material,supplier,price,note
        resin_lam,fjordglas,3.42 EUR/kg,back again
        screws,fjordglas,31 EUR/box,box of 200
        """,
    "wages.csv": """
        date,group,wage,note
        2026-01-01,machinist,27.00 EUR/h,yearly round
        2026-01-01,laminator,24.00 EUR/h,yearly round
        2026-01-01,fitter,25.50 EUR/h,yearly round
        2026-10-15,laminator,25.10 EUR/h,agreed
        2026-12-15,fitter,26.80 EUR/h,agreed
        """,
    "exchange.csv": """
        date,currency,rate,note
        2026-10-01,USD,1.11 USD/EUR,first of the month
        2026-11-10,USD,1.02 USD/EUR,a fall
        """,
    "price_book.csv": """
        date,model,option,list_price,note
        2026-09-01,,hatch,2400 EUR,autumn list
        2026-10-20,tarn_31,side_door,5900 EUR,first published
        2026-12-01,tarn_26,hatch,2650 EUR,winter list
        2026-12-20,tarn_26,,51000 EUR,winter list
        """,
}
DRUM = ("    catalyst_fraction: 1.5 %\n", "    catalyst_fraction: 1.5 %\n    pack: 220 kg\n")
LAST = date(2026, 12, 31)


@pytest.fixture(scope="module")
def moved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("history") / "moved"
    return write_catalogue(folder, MOVED, {"materials.yaml": DRUM}, base=SOUND)


def near(found: float | None, wanted: float) -> bool:
    return found is not None and abs(found - wanted) <= RELATIVE * max(abs(wanted), 1.0)


def place_of(history: MaterialHistory, at: int) -> Place | None:
    row = history.rows[at]
    return None if row is None else row.place


def differences(history: History, at: int, there: Pricing) -> list[str]:
    """What a day of the history says otherwise than a catalogue priced as of that day."""
    wrong = [
        f"{id}: landed {found.landed[at]}"
        for id, found in history.materials.items()
        if not near(found.landed[at], there.costing.rates.prices[id].value)
        or place_of(found, at) != there.catalogue.prices[id].place
    ]
    assert history.models.keys() == there.models.keys()
    for id, model in history.models.items():
        items = {"": there.models[id].boat} | there.models[id].options | there.models[id].packages
        lines = {"": model.boat} | model.options
        assert lines.keys() == items.keys()
        for name, line in lines.items():
            extra = not name or name in there.models[id].extras
            wrong += [f"{id}, {name}: {what}" for what in line_faults(line, at, items[name], extra)]
    return wrong


def line_faults(line: LineHistory, at: int, item: Priced, extra: bool) -> list[str]:
    faults = [] if near(line.cost[at], item.assembly.cost.value) else [f"cost {line.cost[at]}"]
    if not extra:
        return faults + ([] if line.sold is None else ["standard, but sold"])
    assert line.sold is not None
    sale = next(iter(item.sales.values()))
    for found, wanted in (
        (line.sold.list_price[at], item.list_price.value),
        (line.sold.margin[at], sale.margin.value),
        (line.sold.margin_fraction[at], sale.margin_fraction.value),
    ):
        faults += [] if near(found, wanted) else [f"{found} instead of {wanted}"]
    faults += [] if line.sold.below[at] == bool(sale.breach.value) else ["breach"]
    faults += [] if line.sold.basis[at] == item.basis else [f"basis {line.sold.basis[at]}"]
    return faults


@pytest.mark.parametrize("which", ["demo", "moved"])
def test_each_day_is_what_a_catalogue_priced_as_of_it_gives(which: str, moved: Path) -> None:
    folder, as_of = (DEMO, None) if which == "demo" else (moved, LAST)
    history = history_of(price_catalogue(folder, as_of)[0])
    assert len(history.days) >= 3
    for at, day in enumerate(history.days):
        there, _ = price_catalogue(folder, day)
        assert differences(history, at, there) == [], day


# Twice the same value, one in another unit than it has now, and a fraction with its note.
STEPS = {
    "accepted.csv": """
        date,key,was,becomes,samples,median,low,high,by,note
        2026-10-10,stations.stations.laminating.efficiency,75 % (counted),80 %,9,80 %,78 %,82 %,,
        2026-10-25,parts.open_mould.frame.operations.2.setup,0.5 h,15 min,9,15 min,14 min,16 min,,
        2026-11-20,stations.stations.laminating.efficiency,80 % [75 to 85],85 %,12,85 %,83 %,87 %,,
        2026-11-20,materials.resins.resin_lam.loss,4 %,6 %,12,6 %,5 %,7 %,,
        """
}


def test_a_cost_steps_on_the_day_a_value_was_accepted(tmp_path: Path) -> None:
    folder = write_catalogue(tmp_path / "steps", STEPS, base=SOUND)
    pricing, _ = price_catalogue(folder, LAST)
    history = history_of(pricing)
    days = [day.isoformat() for day in history.days]
    assert days == ["2026-10-01", "2026-10-10", "2026-10-25", "2026-11-01", "2026-11-20"]
    for at, day in enumerate(history.days):
        assert differences(history, at, price_catalogue(folder, day)[0]) == [], day
    first, second, third, _, last = history.models["tarn_26"].options["hatch"].cost
    assert None not in (first, second, third, last)
    assert len({first, second, third, last}) == 4
    before = at_last_list(folder, pricing)
    assert before is not None
    assert before.catalogue.as_of == date(2026, 10, 1)
    assert near(first, before.models["tarn_26"].options["hatch"].assembly.cost.value)


def test_the_comparison_sees_a_price_of_another_day(moved: Path) -> None:
    history = history_of(price_catalogue(moved, LAST)[0])
    there, _ = price_catalogue(moved, history.days[-1])
    found = differences(history, 0, there)
    assert any(said.startswith("resin_lam: landed") for said in found)
    assert any(said.startswith("tarn_26, hatch: cost") for said in found)
    assert "tarn_26, : 48000.0 instead of 51000.0" in found


def test_days_are_those_on_which_something_took_effect(moved: Path) -> None:
    pricing, _ = price_catalogue(moved, date(2026, 12, 10))
    days = [day.isoformat() for day in history_of(pricing).days]
    assert days == [
        "2026-10-01",
        "2026-10-15",
        "2026-10-20",
        "2026-11-01",
        "2026-11-10",
        "2026-12-01",
    ]


def test_prices_of_other_markets_are_no_days_of_the_home_market(tmp_path: Path) -> None:
    book = """
        date,market,model,option,list_price,note
        2026-10-01,,,hatch,2400 EUR,autumn list
        2026-10-07,second,,hatch,2500 EUR,elsewhere
        2026-10-09,first,,hatch,2450 EUR,at home
        """
    yard = (SOUND / "yard.yaml").read_text("utf-8")
    head, _, _ = yard.partition("markets:")
    markets = "markets:\n" + "".join(
        f"  - {{id: {id}, name: {id.title()}, language: en, tax_name: VAT, tax: 24 %, "
        "prices: with tax}\n"
        for id in ("first", "second")
    )
    files = {"price_book.csv": book, "yard.yaml": head + markets}
    folder = write_catalogue(tmp_path / "markets", files, base=SOUND)
    pricing, _ = price_catalogue(folder)
    days = [day.isoformat() for day in days_of(pricing.catalogue)]
    assert days == ["2026-10-01", "2026-10-09", "2026-11-01"]
    line = history_of(pricing).models["tarn_26"].options["hatch"]
    assert line.sold is not None
    assert line.sold.list_price == (2400.0, 2450.0, 2450.0)


def test_only_the_newest_days_are_kept(tmp_path: Path) -> None:
    rows = "".join(f"2026-10-{day:02},USD,1.{day:02} USD/EUR,\n" for day in range(1, 31))
    files = {"exchange.csv": f"date,currency,rate,note\n{rows}"}
    pricing, _ = price_catalogue(write_catalogue(tmp_path / "many", files, base=SOUND))
    history = history_of(pricing)
    assert len(history.days) == MOST_DAYS
    assert history.left_out == 31 - MOST_DAYS
    assert history.days[-1] == date(2026, 11, 1)
    assert history.days[0] == date(2026, 10, 8)


def test_what_has_no_price_yet_is_blank_and_the_rest_is_not(tmp_path: Path) -> None:
    """The hinge is first priced in November, so the hatch and what holds one begin there."""
    early, late = ((SOUND / f"prices/2026-{m}-01.csv").read_text("utf-8") for m in (10, 11))
    (line,) = (row for row in early.splitlines() if row.startswith("hinge,"))
    files = {
        "prices/2026-10-01.csv": early.replace(f"{line}\n", ""),
        "prices/2026-11-01.csv": f"{late.rstrip()}\n{line}\n",
    }
    folder = write_catalogue(tmp_path / "later", files, base=SOUND)
    with pytest.raises(CatalogueError, match="'hinge' has no price in force"):
        price_catalogue(folder, date(2026, 10, 1))
    found = history_of(price_catalogue(folder)[0])
    whole = history_of(price_catalogue(SOUND)[0])
    at_first, later = 0, -1
    assert found.days == whole.days
    assert found.materials["hinge"].landed[at_first] is None
    assert found.materials["hinge"].rows[at_first] is None
    blank = {
        (id, line.id)
        for id, model in found.models.items()
        for line in (model.boat, *model.options.values())
        if line.cost[at_first] is None
    }
    # The hatch is standard on the larger boat, so that boat holds the hinge too.
    assert blank == {("tarn_26", "hatch"), ("tarn_31", "hatch"), ("tarn_31", "tarn_31")}
    for id, model in found.models.items():
        for name, line_ in {"": model.boat, **model.options}.items():
            same = {"": whole.models[id].boat, **whole.models[id].options}[name]
            assert line_.cost[later] == same.cost[later]
            if (id, line_.id) not in blank:
                assert line_ == same
    hatch = found.models["tarn_26"].options["hatch"]
    assert hatch.sold is not None
    # Published all along: the price is known before the cost is.
    assert hatch.sold.list_price == (2400.0,) * len(found.days)
    assert hatch.sold.margin[at_first] is None
    assert hatch.sold.below[at_first] is None


def test_a_recommended_price_is_blank_where_its_cost_is(tmp_path: Path) -> None:
    files = {
        "price_book.csv": "date,model,option,list_price,note\n",
        "wages.csv": """
            date,group,wage,note
            2026-01-01,machinist,27.00 EUR/h,yearly round
            2026-01-01,laminator,24.00 EUR/h,yearly round
            2026-10-20,fitter,25.50 EUR/h,the first fitter
            """,
    }
    pricing, _ = price_catalogue(write_catalogue(tmp_path / "wage", files, base=SOUND))
    hatch = history_of(pricing).models["tarn_26"].options["hatch"]
    assert hatch.sold is not None
    assert hatch.cost[0] is None
    assert hatch.sold.list_price[0] is None
    assert hatch.sold.basis == ("recommended",) * 3
    assert None not in hatch.sold.list_price[1:]


def test_a_rate_that_is_missing_blanks_what_is_bought_in_it(tmp_path: Path) -> None:
    files = {"exchange.csv": "date,currency,rate,note\n2026-10-15,USD,1.1 USD/EUR,\n"}
    pricing, _ = price_catalogue(write_catalogue(tmp_path / "rate", files, base=SOUND))
    history = history_of(pricing)
    first = {id: found.landed[0] for id, found in history.materials.items()}
    assert {id for id, landed in first.items() if landed is None} == {
        *("resin_inj", "gel_blue", "polyol", "isocyanate")
    }
    assert history.materials["polyol"].rows[0] is not None


def test_two_quotes_at_once_leave_a_past_price_open(tmp_path: Path) -> None:
    early = (SOUND / "prices/2026-10-01.csv").read_text("utf-8")
    late = (SOUND / "prices/2026-11-01.csv").read_text("utf-8")
    files = {
        "prices/2026-10-01.csv": f"{early.rstrip()}\nwax,westpoly,7 USD/lb,a second offer\n",
        "prices/2026-11-01.csv": f"{late.rstrip()}\nwax,fjordglas,14 EUR/kg,\n",
    }
    folder = write_catalogue(tmp_path / "both", files, base=SOUND)
    with pytest.raises(CatalogueError, match="both quote 'wax' on 2026-10-01"):
        price_catalogue(folder, date(2026, 10, 1))
    wax = history_of(price_catalogue(folder)[0]).materials["wax"]
    assert wax.landed[0] is None
    assert wax.landed[-1] == pytest.approx(14 * 1.03)


# Worked by hand: 745 USD a drum of 220 kg at 1.11 USD/EUR, 6 % freight and 2 % duty.
def test_a_drum_of_another_supplier_lands_per_kilogram(moved: Path) -> None:
    history = history_of(price_catalogue(moved, LAST)[0])
    resin = history.materials["resin_lam"]
    at = history.days.index(date(2026, 11, 1))
    assert resin.landed[at - 1] == pytest.approx(3.10 * 1.03)
    assert resin.landed[at] == pytest.approx(745 / 220 / 1.11 * 1.06 * 1.02)
    assert resin.landed[-1] == pytest.approx(3.42 * 1.03)
    assert [str(row.supplier) for row in resin.rows if row is not None][at - 1 : at + 1] == [
        "fjordglas",
        "westpoly",
    ]
    assert str(resin.counted) == "kg"


def test_a_margin_crosses_the_floor_where_its_price_or_cost_moves(tmp_path: Path) -> None:
    """Published dear, then cheap, then dear again: below the floor in between."""
    files = {
        "price_book.csv": """
            date,model,option,list_price,note
            2026-09-01,tarn_26,hatch,9000 EUR,
            2026-10-10,tarn_26,hatch,300 EUR,
            2026-10-20,tarn_26,hatch,9000 EUR,
            """
    }
    pricing, _ = price_catalogue(write_catalogue(tmp_path / "floor", files, base=SOUND))
    hatch = history_of(pricing).models["tarn_26"].options["hatch"]
    assert hatch.sold is not None
    assert hatch.sold.below == (False, True, False, False)
    fell, rose = hatch.crossings
    fractions = hatch.sold.margin_fraction
    assert (fell.day, fell.below) == (date(2026, 10, 10), True)
    assert (fell.before, fell.after) == (fractions[0], fractions[1])
    assert (rose.day, rose.below) == (date(2026, 10, 20), False)
    boat = history_of(pricing).models["tarn_26"].boat
    assert boat.crossings == ()


def test_a_price_of_nothing_once_leaves_no_fraction_of_it(tmp_path: Path) -> None:
    files = {
        "price_book.csv": """
            date,model,option,list_price,note
            2026-09-01,tarn_26,hatch,0 EUR,
            2026-10-20,tarn_26,hatch,2400 EUR,
            """
    }
    folder = write_catalogue(tmp_path / "nothing", files, base=SOUND)
    with pytest.raises(CatalogueError, match="listed at nothing"):
        price_catalogue(folder, date(2026, 10, 1))
    hatch = history_of(price_catalogue(folder)[0]).models["tarn_26"].options["hatch"]
    assert hatch.sold is not None
    assert hatch.sold.list_price == (0.0, 2400.0, 2400.0)
    assert hatch.sold.margin[0] == pytest.approx(-(hatch.cost[0] or 0))
    assert hatch.sold.margin_fraction[0] is None
    assert hatch.sold.below == (None, False, False)


def test_history_leaves_the_costing_as_it_was_and_is_the_same_every_time(moved: Path) -> None:
    pricing, _ = price_catalogue(moved, LAST)
    before = {id: item.value for id, item in pricing.costing.rates.prices.items()}
    assert history_of(pricing) == history_of(pricing)
    assert {id: item.value for id, item in pricing.costing.rates.prices.items()} == before
