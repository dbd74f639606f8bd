"""Pieces laid on a roll of glass: strip packing, in whole tenths of a millimetre.

    length of roll -> shortest, no piece over another, none over the edge of the roll

Two ways are tried and the shorter length is taken. Rows across the roll, in falling order of their
depth, are the simplest to cut. They are no longer than twice the pieces' area over the width and
one row: of two rows that follow each other, what lies in the first and what begins the second are
wider than the roll (Coffman, Garey, Johnson and Tarjan 1980). The library rectpack puts each piece
as near to the roll's beginning as it goes, in several orders, and is mostly shorter.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

TENTHS = 10_000  # of a millimetre in a metre
MANY = 1500  # pieces; more are laid in rows alone, so that no nest takes long
KEPT = 4096  # nests; the same pieces come again in other boats and on other pages


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces of one size: across and along the roll, or the other way about if they turn."""

    across: int
    along: int
    turns: bool
    count: int


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece on the roll: which kind it is of, its corner from the roll's edge and beginning."""

    kind: int
    x: int
    y: int
    across: int
    along: int


@dataclass(frozen=True, slots=True)
class Nest:
    """Where each piece lies on a roll of a width, and the length of roll that takes."""

    width: int
    length: int
    placed: tuple[Placed, ...]


@lru_cache(maxsize=KEPT)
def nested(width: int, kinds: tuple[Kind, ...]) -> Nest:
    """All pieces on one roll, as short as the ways that are tried make it.

    Args:
        width: of the roll
        kinds: the pieces; each fits the roll's width, or does so turned if it turns
    Raises:
        ValueError: a piece is wider than the roll.
    """
    for kind in kinds:
        if kind.across > width and not (kind.turns and kind.along <= width):
            raise ValueError(f"a piece of {kind.across} is wider than the roll of {width}")
    pieces = [
        Placed(number, 0, 0, kind.across, kind.along)
        for number, kind in enumerate(kinds)
        for _ in range(kind.count)
    ]
    found = [_rows(width, kinds, pieces, lying) for lying in (True, False)]
    if len(pieces) <= MANY:
        found += [_packed(width, kinds, pieces, order) for order in ORDERS]
    best = min(found, key=_length)  # the first of those that are as short
    return Nest(width, _length(best), tuple(sorted(best, key=lambda one: (one.y, one.x))))


def _length(placed: Sequence[Placed]) -> int:
    return max((one.y + one.along for one in placed), default=0)


def _rows(width: int, kinds: Sequence[Kind], pieces: Sequence[Placed], lying: bool) -> list[Placed]:
    """First fit by falling depth: each piece goes in the first row that has room for it.

    Pieces that turn lie with their longer side across the roll, or all with the shorter, where
    that fits.
    """
    turned = [
        _turned(width, piece, lying) if kinds[piece.kind].turns else piece for piece in pieces
    ]
    turned.sort(key=lambda one: (-one.along, -one.across, one.kind))
    rows: list[list[int]] = []  # where each begins, and how far it is filled
    found, end = [], 0
    for piece in turned:
        row = next((row for row in rows if row[1] + piece.across <= width), None)
        if row is None:
            row = [end, 0]
            rows.append(row)
            end += piece.along
        found.append(Placed(piece.kind, row[1], row[0], piece.across, piece.along))
        row[1] += piece.across
    return found


def _turned(width: int, piece: Placed, lying: bool) -> Placed:
    short, long = sorted((piece.across, piece.along))
    across, along = (long, short) if lying and long <= width else (short, long)
    return Placed(piece.kind, 0, 0, across, along)


ORDERS: tuple[Callable[[Placed], int], ...] = (
    lambda one: -min(one.across, one.along),
    lambda one: -one.across * one.along,
    lambda one: -one.across - one.along,
    lambda one: -max(one.across, one.along),
)


def _packed(
    width: int, kinds: Sequence[Kind], pieces: Sequence[Placed], order: Callable[[Placed], int]
) -> list[Placed]:
    """Each piece in turn at the lowest place of those that are left, by the library."""
    from rectpack import MaxRectsBl

    room = sum(max(one.across, one.along) for one in pieces)
    roll = MaxRectsBl(width, max(room, 1))
    for piece in sorted(pieces, key=order):
        roll.rot = kinds[piece.kind].turns
        roll.add_rect(piece.across, piece.along, piece.kind)
    return list(_placed(roll))


def _placed(roll: object) -> Iterator[Placed]:
    for one in roll:  # type: ignore[attr-defined]
        yield Placed(one.rid, one.x, one.y, one.width, one.height)
