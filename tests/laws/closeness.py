"""When two results of floating-point arithmetic count as the same."""

from __future__ import annotations

import math

CLOSE = 1e-9  # relative; far above rounding, far below what anyone weighs or pays


def same(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=CLOSE, abs_tol=1e-12)
