"""Sizes that plies are cut to, with trim and overlap, and what a length of roll comes to."""

from __future__ import annotations

import math

from quoter.figures import N, at_least, round_up


def cut_side(side: N, trim: N) -> N:
    """Side of a ply that reaches over both edges, to be trimmed off.

        cut = side + 2 * trim

    Args:
        side: side of a rectangle or diameter of a circle, as in the part [m]
        trim: how far the ply reaches over each edge [m]
    Returns:
        side to cut [m]
    Limits: trim >= 0
    Source: definition.

    >>> round(cut_side(0.72, 0.025), 6)
    0.77
    """
    return side + 2 * trim


def side_within(side: N, strip: N) -> N:
    """Side of what a strip along the inside of the edge leaves.

        left = side - 2 * strip

    Args:
        side: side of a rectangle or diameter of a circle [m]
        strip: width of the strip [m]
    Returns:
        side of what is left [m]
    Limits: strip < side / 2
    Source: definition.

    >>> round(side_within(0.72, 0.06), 6)
    0.6
    """
    return side - 2 * strip


def strip_cut_width(width: N, trim: N) -> N:
    """Width of a strip that reaches over one of its edges, to be trimmed off.

        cut = width + trim

    Args:
        width: width of the strip as in the part [m]
        trim: how far the strip reaches over its outer edge [m]
    Returns:
        width to cut [m]
    Limits: trim >= 0; its other edge ends on the laminate and is not trimmed
    Source: definition.

    >>> round(strip_cut_width(0.095, 0.025), 6)
    0.12
    """
    return width + trim


def strip_length(area: N, width: N) -> N:
    """Length of a straight strip with the area of one that goes round an edge.

        length = area / width

    Args:
        area: area of the strip in the part [m2]
        width: width of the strip in the part [m]
    Returns:
        length, laps not counted [m]
    Limits: width > 0; the strip is slit and darted at corners, so that its middle line counts
    Source: definition.

    >>> round(strip_length(0.45, 0.15), 6)
    3.0
    """
    return area / width


def loop_pieces(length: N, longest: N, overlap: N) -> N:
    """Lengths that a strip around an edge is cut in, each lapping over the next.

        pieces = ceil(length / (longest - overlap))

    Args:
        length: length of the closed strip [m]
        longest: the longest that is cut in one [m]
        overlap: how far each length laps over the next [m]
    Returns:
        lengths to cut, a whole number [1]
    Limits: 0 <= overlap < longest; the strip is closed, so that it has as many laps as lengths
    Source: definition.

    >>> loop_pieces(3.0, 1.25, 0.05)
    3.0
    """
    return round_up(length / (longest - overlap))


def loop_piece(length: N, pieces: N, overlap: N) -> N:
    """Each of the equal lengths that a strip around an edge is cut in.

        piece = length / pieces + overlap

    Args:
        length: length of the closed strip [m]
        pieces: how many lengths it is cut in [1]
        overlap: how far each laps over the next [m]
    Returns:
        length of each [m]
    Limits: pieces >= 1
    Source: definition.

    >>> round(loop_piece(3.0, 3.0, 0.05), 6)
    1.05
    """
    return length / pieces + overlap


def lapped_pieces(side: N, widest: N, overlap: N) -> N:
    """Widths that a ply is cut in because it is wider than the roll.

        pieces = max(1, ceil((side - overlap) / (widest - overlap)))

    Args:
        side: side of the ply to cut across the roll [m]
        widest: width of the roll [m]
        overlap: how far each width laps over the next [m]
    Returns:
        widths to cut, a whole number [1]
    Limits: 0 <= overlap < widest; one lap less than there are widths
    Source: definition.

    >>> lapped_pieces(2.4, 1.25, 0.05), lapped_pieces(2.5, 1.25, 0.05), lapped_pieces(1.25, 1.25, 0)
    (2.0, 3.0, 1.0)
    """
    pieces = round_up((side - overlap) / (widest - overlap))
    return at_least(pieces, 1.0)


def lapped_piece(side: N, pieces: N, overlap: N) -> N:
    """Each of the equal widths that a ply is cut in.

        piece = (side + (pieces - 1) * overlap) / pieces

    Args:
        side: side of the ply [m]
        pieces: how many widths it is cut in [1]
        overlap: how far each laps over the next [m]
    Returns:
        width of each [m]
    Limits: pieces >= 1
    Source: definition.

    >>> round(lapped_piece(2.4, 2.0, 0.05), 6)
    1.225
    """
    return (side + (pieces - 1) * overlap) / pieces


def square_around(width: N, length: N) -> N:
    """Side of the square, square to the roll, around a rectangle cut at 45 degrees to it.

        side = (width + length) / sqrt(2)

    Args:
        width: one side of the rectangle [m]
        length: the other side [m]
    Returns:
        side of the square [m]
    Limits: none
    Source: definition: both sides thrown on the roll's length, and on its width, by cos 45 degrees.

    >>> round(square_around(0.72, 0.84), 6)
    1.103087
    """
    return (width + length) / math.sqrt(2)


def roll_utilisation(area: N, length: N, width: N) -> N:
    """The part of a length of roll that ends up in the part.

        utilisation = area / (length * width)

    Args:
        area: area of the plies in the part [m2]
        length: length of roll that they are cut from [m]
        width: width of the roll [m]
    Returns:
        utilisation [1]
    Limits: length and width > 0
    Source: definition.

    >>> roll_utilisation(1.0, 1.0, 1.25)
    0.8
    """
    return area / (length * width)


def roll_mass(length: N, width: N, areal_mass: N) -> N:
    """Glass in a length of roll.

        mass = length * width * areal_mass

    Args:
        length: length of roll [m]
        width: width of the roll [m]
        areal_mass: dry mass of the reinforcement per area [kg/m2]
    Returns:
        mass of the length [kg]
    Limits: none
    Source: definition.

    >>> roll_mass(4.0, 1.25, 0.5)
    2.5
    """
    return length * width * areal_mass
