"""Area and perimeter of the shapes a part may have, and of strips along their edges."""

from __future__ import annotations

import math

from quoter.figures import N, at_least, at_most


def rectangle_area(width: N, height: N, corner_radius: N) -> N:
    """Area of a rectangle with four equal rounded corners.

        area = width * height - (4 - pi) * corner_radius^2

    Args:
        width: outer width [m]
        height: outer height [m]
        corner_radius: radius of each corner, 0 for a sharp one [m]
    Returns:
        area [m2]
    Limits: 0 <= corner_radius <= half of the shorter side
    Source: definition.

    >>> round(rectangle_area(0.8, 0.7, 0.1), 6)
    0.551416
    """
    return width * height - (4 - math.pi) * corner_radius**2


def rectangle_perimeter(width: N, height: N, corner_radius: N) -> N:
    """Length of the edge of a rectangle with four equal rounded corners.

        perimeter = 2 * (width + height) - (8 - 2 * pi) * corner_radius

    Args:
        width: outer width [m]
        height: outer height [m]
        corner_radius: radius of each corner, 0 for a sharp one [m]
    Returns:
        perimeter [m]
    Limits: 0 <= corner_radius <= half of the shorter side
    Source: definition.

    >>> round(rectangle_perimeter(0.8, 0.7, 0.1), 6)
    2.828319
    """
    return 2 * (width + height) - (8 - 2 * math.pi) * corner_radius


def circle_area(diameter: N) -> N:
    """Area of a circle.

        area = pi / 4 * diameter^2

    Args:
        diameter: diameter of the circle [m]
    Returns:
        area [m2]
    Limits: diameter > 0
    Source: definition.

    >>> round(circle_area(0.5), 6)
    0.19635
    """
    return math.pi / 4 * diameter**2


def circle_perimeter(diameter: N) -> N:
    """Length of the edge of a circle.

        perimeter = pi * diameter

    Args:
        diameter: diameter of the circle [m]
    Returns:
        perimeter [m]
    Limits: diameter > 0
    Source: definition.

    >>> round(circle_perimeter(0.5), 6)
    1.570796
    """
    return math.pi * diameter


def rounded_strip_area(perimeter: N, width: N) -> N:
    """Area of a strip along the inside of an edge that has no corners sharper than the strip.

        area = perimeter * width - pi * width^2

    Args:
        perimeter: length of the edge [m]
        width: width of the strip [m]
    Returns:
        area of the strip in the plane of the part [m2]
    Limits: width no more than the smallest radius of the edge, as of a circle or of corners that
        are rounded that much; a strip as wide as a circle's radius is all of it
    Source: Steiner's formula for an inner parallel curve (from memory); for a circle exact by
        definition: pi / 4 * (d^2 - (d - 2 * width)^2).

    >>> round(rounded_strip_area(1.570796, 0.05), 6)
    0.070686
    """
    return perimeter * width - math.pi * width**2


def strip_area(perimeter: N, width: N, corner_radius: N) -> N:
    """Area of a strip along the inside of a rectangle's edge, each corner counted once.

        area = perimeter * width - pi * width^2 - (4 - pi) * max(width - corner_radius, 0)^2

    Args:
        perimeter: length of the edge, along the rounded corners [m]
        width: width of the strip [m]
        corner_radius: radius of each corner, 0 for a sharp one [m]
    Returns:
        area of the strip in the plane of the part [m2]
    Limits: width no more than half of the shorter side; with sharp corners it is
        perimeter * width - 4 * width^2, with corners as round as the strip is wide
        perimeter * width - pi * width^2
    Source: definition: the rectangle's area less that of the rectangle within the strip, whose
        corners have the radius less the width, or are sharp.

    >>> round(strip_area(3.0, 0.1, 0.0), 6)
    0.26
    """
    sharper = at_least(width - corner_radius, width * 0.0)
    return rounded_strip_area(perimeter, width) - (4 - math.pi) * sharper**2


def outer_strip_area(perimeter: N, width: N) -> N:
    """Area of a strip along the outside of an edge, such as a lap around an opening.

        area = perimeter * width + pi * width^2

    Args:
        perimeter: length of the edge [m]
        width: width of the strip [m]
    Returns:
        area of the strip in the plane of the part [m2]
    Limits: an outline without hollows; the strip's own corners are rounded
    Source: Steiner's formula for an outer parallel curve (from memory).

    >>> round(outer_strip_area(3.0, 0.1), 6)
    0.331416
    """
    return perimeter * width + math.pi * width**2


def upright_area(perimeter: N, height: N) -> N:
    """Area of a band that stands upright on an edge, such as the sides of an opening.

        area = perimeter * height

    Args:
        perimeter: length of the edge [m]
        height: height of the band [m]
    Returns:
        area of the band [m2]
    Limits: square to the part, without draught; corners are bends, so nothing is counted twice
    Source: definition of a cylinder's lateral area.

    >>> round(upright_area(3.0, 0.1), 6)
    0.3
    """
    return perimeter * height


def rest_of_area(whole: N, taken: N) -> N:
    """What other regions leave of an area.

        rest = whole - taken

    Args:
        whole: the whole area [m2]
        taken: areas within it, together [m2]
    Returns:
        the area that is left [m2]
    Limits: taken < whole; the regions lie within the area and not on each other
    Source: areas that don't overlap add up (definition).

    >>> round(rest_of_area(0.48, 0.1536), 6)
    0.3264
    """
    return whole - taken


def widest_strip(width: N, height: N) -> N:
    """The widest strip that fits along the inside of a rectangle's or a circle's edge.

        widest = min(width, height) / 2

    Args:
        width: outer width; of a circle its diameter [m]
        height: outer height; of a circle its diameter [m]
    Returns:
        width of the strip that covers the whole part [m]
    Limits: none
    Source: definition.

    >>> widest_strip(0.5, 0.8)
    0.25
    """
    return at_most(width, height) / 2


def widest_strip_by_perimeter(perimeter: N) -> N:
    """The widest strip that can fit along the inside of an edge of which the length is known.

        widest = perimeter / (2 * pi)

    Args:
        perimeter: length of the edge [m]
    Returns:
        radius of the circle with that edge [m]
    Limits: no plane outline of that length lies farther from its middle
    Source: isoperimetric inequality.

    >>> round(widest_strip_by_perimeter(1.570796), 6)
    0.25
    """
    return perimeter / (2 * math.pi)
