"""When moulds have come back out of what an option brings, and when a closed mould takes over."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from quoter.analysis.answers import Answers
from quoter.analysis.findings import Findings
from quoter.analysis.payback import Payback
from quoter.cli import main
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue
from tests.demo import DEMO

YEAR = FOLDER / "year"
# Of the cover moulds 9000 + 1500 - 500, of the tray mould 3000.
COVER, TRAY = 10000.0, 3000.0
FREE = """moulds:
  - {id: tray_mould, name: Tray mould, cost: 0 EUR, life: 300, pulls_per_year: 60, \
write_off_years: 10}
  - {id: cover_moulds, name: Cover moulds, cost: 0 EUR, life: 600, pulls_per_year: 50, \
write_off_years: 5, upkeep: 2 EUR/pull}
"""


@pytest.fixture(scope="module")
def year() -> Pricing:
    return priced(YEAR)


def answers(pricing: Pricing, model: str, option: str) -> Answers:
    found = Findings(pricing).of(pricing.models[model]).answers
    return next(one for one in found if one.priced.assembly.recipe.id == option)


def by_name(pricing: Pricing, model: str, option: str) -> dict[str, Payback]:
    return {one.name: one for one in answers(pricing, model, option).paybacks}


def test_moulds_come_back_out_of_what_the_option_would_bring_if_they_cost_nothing(
    tmp_path: Path, year: Pricing
) -> None:
    """The list price held; both costed, once with the moulds as they are and once with free ones,
    yields and all."""
    found = by_name(year, "dinghy", "bench")["all its moulds"]
    listed = year.models["dinghy"].options["bench"].list_price.value
    book = f"date,model,option,list_price,note\n2026-01-01,,bench,{listed} EUR,\n"
    free = priced(
        write_catalogue(tmp_path / "c", {"moulds.yaml": FREE, "price_book.csv": book}, base=YEAR)
    )
    first, *_ = free.models["dinghy"].options["bench"].sales.values()
    brings = first.contribution.value
    assert found.invested.value == pytest.approx(COVER + TRAY)
    assert found.contribution.value == pytest.approx(brings)
    assert found.units is not None
    assert found.units.value == pytest.approx((COVER + TRAY) / brings)


def test_months_are_those_of_the_volume_planned_on_all_models(year: Pricing) -> None:
    """Of 40 dinghies half, of 20 launches three in ten: 26 benches a year."""
    for found in by_name(year, "launch", "bench").values():
        assert found.yearly is not None
        assert found.units is not None
        assert found.months is not None
        assert found.yearly.value == pytest.approx(26.0)
        assert found.months.value == pytest.approx(12 * found.units.value / 26.0)


def test_each_mould_alone_bears_less_than_all_together(year: Pricing) -> None:
    found = by_name(year, "dinghy", "bench")
    assert list(found) == ["all its moulds", "Tray mould", "Cover moulds"]
    whole, *each = found.values()
    assert sum(one.invested.value for one in each) == pytest.approx(whole.invested.value)
    assert all(one.contribution.value < whole.contribution.value for one in each)


def test_an_option_of_one_mould_has_no_line_for_all(year: Pricing) -> None:
    assert list(by_name(year, "dinghy", "locker")) == ["Tray mould"]


def test_what_an_option_takes_the_place_of_is_no_mould_of_its_own(year: Pricing) -> None:
    assert list(by_name(year, "launch", "lid")) == ["Cover moulds"]


def test_an_option_that_is_not_planned_has_units_but_no_months(tmp_path: Path) -> None:
    volumes = (YEAR / "volumes.csv").read_text(encoding="utf-8")
    volumes = volumes.replace("dinghy,locker,,25 %,invented\n", "")
    pricing = priced(write_catalogue(tmp_path / "c", {"volumes.csv": volumes}, base=YEAR))
    (found,) = by_name(pricing, "dinghy", "locker").values()
    assert found.units is not None
    assert (found.yearly, found.months) == (None, None)


def test_an_option_that_brings_nothing_never_pays(tmp_path: Path) -> None:
    book = "date,model,option,list_price,note\n2026-01-01,,locker,1 EUR,\n"
    pricing = priced(write_catalogue(tmp_path / "c", {"price_book.csv": book}, base=YEAR))
    (found,) = by_name(pricing, "dinghy", "locker").values()
    assert found.contribution.value < 0
    assert (found.units, found.months, found.next_months) == (None, None, None)


def test_another_set_is_paid_by_the_pulls_that_one_can_not_make(tmp_path: Path) -> None:
    """Ten times the boats: what is beyond the capacity of one set, and that alone, pays."""
    volumes = (YEAR / "volumes.csv").read_text(encoding="utf-8")
    volumes = volumes.replace(",40,", ",4000,").replace(",20,", ",2000,")
    pricing = priced(write_catalogue(tmp_path / "c", {"volumes.csv": volumes}, base=YEAR))
    asked = Findings(pricing)
    (load,) = (load for load in asked.plan.moulds if load.mould.id == "tray_mould")
    assert load.capacity is not None
    beyond = load.pulls.value - load.capacity.value
    assert beyond > 0
    found = by_name(pricing, "dinghy", "locker")["Tray mould"]
    assert found.beyond is not None
    assert found.next_months is not None
    assert found.beyond.value == pytest.approx(beyond)
    # Fitting passes half of the lockers, so that each good one takes two pulls, and more by the
    # yield of the tray itself.
    part = pricing.costing.parts["part.tray"]
    pulls = 2 / (1.0 if part.passed is None else part.passed.value)
    brought = beyond / pulls * found.contribution.value
    assert found.next_months.value == pytest.approx(12 * TRAY / brought)


def test_none_is_beyond_one_set_where_it_makes_all_that_is_planned(year: Pricing) -> None:
    (found,) = by_name(year, "launch", "lid").values()
    assert found.beyond is not None
    assert (found.beyond.value, found.next_months) == (0.0, None)


def test_why_lists_when_moulds_pay_and_explains_one() -> None:
    asked = ["why", str(DEMO), "weekender_86", "side_single", "--figure"]
    _, *listed = CliRunner().invoke(main, [*asked, "payback.all"]).stdout.splitlines()
    assert [line.partition(", all its moulds: ")[2].partition(":")[0] for line in listed] == [
        "outlay",
        "contribution before they are borne",
        "units to pay back",
        "months to pay back",
    ]
    one = CliRunner().invoke(main, [*asked, "payback.all.units", "--depth", "1"]).stdout
    assert one.splitlines()[1] == listed[2]
    assert len(one.splitlines()) == 4


def test_why_explains_where_the_closed_mould_takes_over() -> None:
    asked = ["why", str(DEMO), "weekender_86", "deck_hatch", "--figure", "takes_over"]
    _, *told = CliRunner().invoke(main, [*asked, "--depth", "1"]).stdout.splitlines()
    assert told[0].startswith("Deck hatch lid: parts a year to take over: ")
    assert len(told) == 5


def test_the_closed_mould_takes_over_where_both_ways_cost_the_same(demo_pricing: Pricing) -> None:
    seen = 0
    for model in demo_pricing.models.values():
        for one in Findings(demo_pricing).of(model).answers:
            for row in one.alternatives:
                crossing = row.crossing
                if crossing.volume is None:
                    continue
                parts = crossing.volume.value
                first, later = (
                    charge.value + parts * each.value
                    for charge, each in zip(crossing.charges, crossing.each, strict=True)
                )
                assert first == pytest.approx(later)
                seen += 1
    assert seen
