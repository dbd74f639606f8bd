"""Step lines: level until the next day, at their places, open where nothing is known."""

from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest

from quoter.pages.charts import CARD, INLINE, Frame, StepLine, Track, round_ticks, steps

FROM = date(2026, 9, 1)


def drawn(values: list[str | None], limit: str | None = None, frame: Frame = CARD) -> StepLine:
    track = Track(
        [FROM + timedelta(days=30 * at) for at in range(len(values))],
        [None if value is None else Decimal(value) for value in values],
        FROM,
        None if limit is None else Decimal(limit),
        [limit is not None and v is not None and Decimal(v) < Decimal(limit) for v in values],
    )
    found = steps(track, frame)
    assert found is not None
    return found


def test_a_line_goes_across_and_straight_up_or_down_only() -> None:
    path = drawn(["3", "4", "3.5"]).path
    assert re.fullmatch(r"M[\d.]+ [\d.]+(H[\d.]+V[\d.]+){2}H[\d.]+", path)
    ends = [float(end) for end in re.findall(r"H([\d.]+)", path)]
    assert ends == sorted(ends)
    assert ends[-1] == CARD.right, "the last value still holds"
    assert ends[-2] < CARD.right


def test_a_gap_stays_open() -> None:
    path = drawn([None, "3", None, "4"]).path
    assert path.count("M") == 2
    assert "V" not in path


def test_a_value_is_at_its_place_between_the_ticks() -> None:
    found = drawn(["3", "4"])
    low, high = found.up[0], found.up[-1]
    assert low.value <= 3
    assert high.value >= 4
    for mark, value in zip(found.marks, (3, 4), strict=True):
        share = (Decimal(value) - low.value) / (high.value - low.value)
        wanted = CARD.bottom - share * (CARD.bottom - CARD.top)
        assert float(mark.y) == pytest.approx(float(wanted), abs=0.05)
    assert found.across[0].at == CARD.left


def test_days_stand_by_their_distance() -> None:
    track = Track(
        [FROM, FROM + timedelta(days=10), FROM + timedelta(days=40)],
        [Decimal(1), Decimal(2), Decimal(3)],
        FROM + timedelta(days=80),
    )
    found = steps(track, INLINE)
    assert found is not None
    width = INLINE.right - INLINE.left
    assert [float(tick.at) for tick in found.across] == pytest.approx(
        [INLINE.left, INLINE.left + width / 8, INLINE.left + width / 2], abs=0.05
    )


def test_a_small_move_looks_small() -> None:
    found = drawn(["100", "100.5"])
    assert found.up[-1].value - found.up[0].value >= 10
    first, second = found.marks
    assert 0 < first.y - second.y < 10


def test_marks_are_where_a_value_begins_and_low_ones_are_told_apart() -> None:
    found = drawn(["0.3", "0.3", "0.2", "0.26"], "0.25")
    assert [mark.low for mark in found.marks] == [False, True, False]
    assert found.limit is not None
    assert found.up[0].at >= found.limit.at >= found.up[-1].at


def test_nothing_known_is_not_drawn_and_one_value_is_a_level_line() -> None:
    assert steps(Track([FROM], [None], FROM), CARD) is None
    assert re.fullmatch(r"M[\d.]+ [\d.]+H332\.?0?", drawn(["0"]).path)


@pytest.mark.parametrize(
    ("low", "high"), [("3.05", "3.48"), ("-0.17", "0.82"), ("0.1339", "0.1597"), ("52500", "60001")]
)
@pytest.mark.parametrize("most", [3, 4])
def test_ticks_are_few_even_and_enclose(low: str, high: str, most: int) -> None:
    found = round_ticks(Decimal(low), Decimal(high), most)
    assert found[0] <= Decimal(low)
    assert found[-1] >= Decimal(high)
    assert 2 <= len(found) <= most + 1
    gaps = {b - a for a, b in pairwise(found)}
    assert len(gaps) == 1
    (gap,) = gaps
    assert found[0] + gap > Decimal(low)
    assert found[-1] - gap < Decimal(high)
