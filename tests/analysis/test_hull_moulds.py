"""Options laid up in the hull mould: what they take of its time, worked out from day to day."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.hull_moulds import hold_of
from quoter.analysis.plan import plan_of
from quoter.pricing.price import Pricing
from tests.analysis.planned import YEAR
from tests.catalogues.written import priced, write_catalogue

CLOSE = 1e-12
HULL = "    hull_mould: {work: 6 h, cure: 30 h}\n"
BENCH = "    hull_mould: {work: 2 h, cure: 14 h}\n"


def with_hull(folder: Path, more: str = "") -> Pricing:
    """Dinghies whose hull keeps its mould 6 h and 30 h, and benches that keep it 2 h and 14 h."""
    return priced(
        write_catalogue(
            folder,
            {},
            {
                "models.yaml": (
                    "    list_price: 9000 EUR\n",
                    f"    list_price: 9000 EUR\n{HULL.replace('}', f'{more}}}')}",
                ),
                "options.yaml": (
                    "    text: A bench of two trays and a cover.\n",
                    f"    text: A bench of two trays and a cover.\n{BENCH}",
                ),
            },
            base=YEAR,
        )
    )


def test_an_option_takes_the_time_by_which_the_next_hull_is_later(tmp_path: Path) -> None:
    """Bare hulls begin on Monday, Wednesday and Friday. With a bench, whose work waits for the
    morning after the hull's cure: Monday, Thursday, Tuesday, Friday, so two a week."""
    pricing = with_hull(tmp_path / "c")
    hold = hold_of(pricing, pricing.models["dinghy"], "bench")
    assert hold is not None
    assert (hold.work.value, hold.cure.value) == (2.0, 14.0)
    assert hold.taken.value == pytest.approx(168 / 3, rel=CLOSE)
    assert hold.extra.value == pytest.approx(168 / 2 - 168 / 3, rel=CLOSE)
    assert hold.hulls == pytest.approx(0.5, rel=CLOSE)


def test_the_plan_says_how_many_hulls_the_options_take(tmp_path: Path) -> None:
    """40 hulls and 20 benches of half a hull's time; 45 weeks of three at 75 % are 101.25."""
    (load,) = plan_of(with_hull(tmp_path / "c")).hulls
    assert load.displaced.value == pytest.approx(10.0, rel=CLOSE)
    assert load.all.value == pytest.approx(50.0, rel=CLOSE)
    assert load.capacity.value == pytest.approx(101.25, rel=CLOSE)
    assert (load.sets.value, load.there.value, load.short.value) == (1.0, 1.0, 0.0)
    assert [use.hold.item.assembly.name for use in load.uses] == ["Bench"]


def test_moulds_that_options_make_too_few_are_told(tmp_path: Path) -> None:
    """A hull that cures until a Sunday is out every second Monday: 22.5 x 75 % in 45 weeks."""
    pricing = with_hull(tmp_path / "c", ", sets: 2")
    assert plan_of(pricing).hulls[0].there.value == 2.0
    slow = write_catalogue(
        tmp_path / "d", {}, {"models.yaml": ("9000 EUR\n", "9000 EUR\n" + HULL)}, base=YEAR
    )
    text = (slow / "models.yaml").read_text(encoding="utf-8").replace("cure: 30 h", "cure: 320 h")
    (slow / "models.yaml").write_text(text, encoding="utf-8")
    (load,) = plan_of(priced(slow)).hulls
    assert load.capacity.value == pytest.approx(22.5 * 0.75, rel=CLOSE)
    assert (load.uses, load.displaced.value) == ((), 0.0)
    assert (load.sets.value, load.short.value) == (3.0, 1.0)


def test_without_a_hull_or_a_calendar_nothing_is_said_of_hulls(tmp_path: Path) -> None:
    pricing = priced(YEAR)
    assert hold_of(pricing, pricing.models["dinghy"], "bench") is None
    assert plan_of(pricing).hulls == []
