"""Area and perimeter of the shapes a part may have."""

from __future__ import annotations

import math

from quoter.figures import N


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
