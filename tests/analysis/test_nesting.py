"""Pieces on a roll: none over another, none over the edge, and as close as published heuristics."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.analysis.nesting import MANY, Kind, Nest, nested

EXAMPLES = settings(max_examples=150, deadline=None, derandomize=True, database=None)

# Hopper and Turton, "An empirical investigation of meta-heuristic and heuristic algorithms for a 2D
# packing problem", EJOR 128 (2001), problems C1: cut out of 20 by 20, so that 20 is the shortest.
# P1 as the data set is published, P2 and P3 from memory; their areas add up to the square's.
C1 = {
    "P1": "2x12 7x12 8x6 3x6 3x5 5x5 3x12 3x7 5x7 2x6 3x2 4x2 3x4 4x4 9x2 11x2",
    "P2": "4x1 4x5 9x4 3x5 3x9 1x4 5x3 4x1 5x5 7x2 9x3 3x13 2x8 15x4 5x4 10x6 7x2",
    "P3": "4x14 5x2 2x2 9x7 5x5 2x5 7x7 3x5 6x5 3x2 6x2 4x6 6x3 10x3 6x3 10x3",
}


@st.composite
def rolls(draw: st.DrawFn) -> tuple[int, tuple[Kind, ...]]:
    """A roll, and pieces that fit it as they are or turned."""
    width = draw(st.integers(1, 400))
    kinds = []
    for _ in range(draw(st.integers(0, 9))):
        across, along = draw(st.integers(1, width)), draw(st.integers(1, 900))
        turns = draw(st.booleans())
        if turns and draw(st.booleans()):
            across, along = along, across
        kinds.append(Kind(across, along, turns, draw(st.integers(1, 12))))
    return width, tuple(kinds)


def overlapping(nest: Nest) -> list[str]:
    """What lies over another piece or over the edge of the roll, by comparing each with each."""
    found = [
        f"{one} is over the edge"
        for one in nest.placed
        if one.x < 0
        or one.y < 0
        or one.x + one.across > nest.width
        or one.y + one.along > nest.length
    ]
    for at, one in enumerate(nest.placed):
        for other in nest.placed[at + 1 :]:
            apart = (
                one.x + one.across <= other.x
                or other.x + other.across <= one.x
                or one.y + one.along <= other.y
                or other.y + other.along <= one.y
            )
            if not apart:
                found.append(f"{one} lies over {other}")
    return found


@EXAMPLES
@given(rolls())
def test_no_piece_lies_over_another_or_the_edge_and_none_is_left_out(
    roll: tuple[int, tuple[Kind, ...]],
) -> None:
    width, kinds = roll
    nest = nested(width, kinds)
    assert overlapping(nest) == []
    for number, kind in enumerate(kinds):
        mine = [one for one in nest.placed if one.kind == number]
        assert len(mine) == kind.count
        ways = {(kind.across, kind.along)}
        ways |= {(kind.along, kind.across)} if kind.turns else set()
        assert {(one.across, one.along) for one in mine} <= ways
    assert nest.length == max((one.y + one.along for one in nest.placed), default=0)


@EXAMPLES
@given(rolls())
def test_a_length_is_within_the_bounds_of_rows_in_falling_order(
    roll: tuple[int, tuple[Kind, ...]],
) -> None:
    """Coffman, Garey, Johnson and Tarjan, SIAM J. Comput. 9 (1980), by areas: twice and one row."""
    width, kinds = roll
    area = sum(kind.across * kind.along * kind.count for kind in kinds)
    deepest = max((max(kind.across, kind.along) for kind in kinds), default=0)
    length = nested(width, kinds).length
    assert area <= length * width
    assert length * width <= 2 * area + deepest * width


@pytest.mark.parametrize("name", C1)
def test_published_problems_are_laid_as_short_as_published_heuristics_lay_them(name: str) -> None:
    """The best-fit heuristic of Burke, Kendall and Whitwell, Operations Research 52 (2004), is
    told to need 21, 22 and 24 (from memory); the shortest is 20."""
    sides = [tuple(map(int, piece.split("x"))) for piece in C1[name].split()]
    assert sum(across * along for across, along in sides) == 20 * 20
    nest = nested(20, tuple(Kind(across, along, True, 1) for across, along in sides))
    assert overlapping(nest) == []
    assert nest.length <= 21, "95 % of the roll is used"


def test_pieces_that_fill_the_roll_leave_nothing() -> None:
    assert nested(12, (Kind(4, 7, False, 6),)).length == 14
    assert nested(12, (Kind(7, 4, True, 6),)).length == 14


def test_what_has_a_direction_is_not_turned() -> None:
    assert nested(10, (Kind(2, 10, False, 1),)).length == 10
    assert nested(10, (Kind(2, 10, True, 1),)).length == 2


def test_a_roll_without_pieces_has_no_length() -> None:
    assert nested(10, ()) == Nest(10, 0, ())


def test_a_piece_wider_than_the_roll_is_refused() -> None:
    with pytest.raises(ValueError, match="a piece of 11 is wider than the roll of 10"):
        nested(10, (Kind(11, 4, False, 1),))


def test_very_many_pieces_are_laid_too_and_the_same_every_time() -> None:
    kinds = (Kind(7, 30, True, MANY), Kind(11, 19, False, MANY))
    nest = nested(100, kinds)
    nested.cache_clear()
    assert nest == nested(100, kinds)
    assert len(nest.placed) == 2 * MANY
    area = MANY * (7 * 30 + 11 * 19)
    assert nest.length * 100 < 1.25 * area
