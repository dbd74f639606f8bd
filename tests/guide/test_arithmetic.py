"""The reader of the guide's worked numbers finds a wrong one."""

from __future__ import annotations

import pytest

from tests.guide.arithmetic import faults, value


@pytest.mark.parametrize(
    "right",
    [
        "0.90 kg / (1 - 10 %) = 1.00 kg",
        "1,000 x 0.8 ^ 2 = 640",
        "25 % / (1 + 25 %) = 20 %",
        "2 / 3 = 0.67",
        "-1 / 8 = -0.13",
        "10,000 lbf / 14.696 psi = 680.46 sq in",
        "2 x (3 + 4) = 7 + 7 = 14",
    ],
)
def test_a_right_line_has_no_fault(right: str) -> None:
    assert faults(right) == []


@pytest.mark.parametrize(
    "wrong", ["0.90 kg x 1.10 = 1.00 kg", "2 / 3 = 0.66", "1 / 8 = 12 %", "1 + 1 = 2 = 3"]
)
def test_a_wrong_line_has_one(wrong: str) -> None:
    assert len(faults(wrong)) == 1


@pytest.mark.parametrize("words", ["1 +", "(1", "1 2", "one", "1 = 2"])
def test_what_is_no_arithmetic_is_refused(words: str) -> None:
    with pytest.raises(ValueError, match=r"lacks|goes on|holds what"):
        value(words)
