"""Colours of the style sheets stand out enough, in light, in dark and on paper.

The formula and the limits are those of WCAG 2.2: relative luminance, success criteria 1.4.3 (text,
4.5 to 1) and 1.4.11 (marks that carry meaning, 3 to 1).
"""

from __future__ import annotations

import re

import pytest

from quoter.pages.environment import asset

TEXT = 4.5
MARK = 3.0


def luminance(colour: str) -> float:
    digits = colour.lstrip("#")
    digits = digits if len(digits) == 6 else "".join(digit * 2 for digit in digits)
    channels = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def schemes() -> dict[str, dict[str, str]]:
    """Scheme -> colour by name; dark and paper change what light defines."""
    light: dict[str, str] = {}
    found = {"light": light, "dark": dict[str, str](), "paper": dict[str, str]()}
    for name in ("shared/base.css", "internal/review.css"):
        css = asset(name).decode("utf-8")
        for block in re.finditer(r"^( *):root \{(.*?)\}", css, re.DOTALL | re.MULTILINE):
            before = css[: block.start()]
            scheme = "light"
            if block[1]:
                scheme = "paper" if before.rfind("print") > before.rfind("dark)") else "dark"
            colours = re.findall(r"--(\w+): (#[0-9a-f]{3,6});", block[2])
            found[scheme] |= dict(colours)
    return {"light": light} | {name: light | found[name] for name in ("dark", "paper")}


# Worked example of the WCAG's own understanding documents: #777 on white is 4.48 to 1.
def test_formula_gives_the_published_values() -> None:
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("scheme", ["light", "dark", "paper"])
def test_text_stands_out(scheme: str) -> None:
    colours = schemes()[scheme]
    for ink in ("ink", "soft", "link", "alarm"):
        for paper in ("paper", "wash"):
            found = contrast(colours[ink], colours[paper])
            assert found >= TEXT, f"{ink} on {paper}: {found:.2f}"


@pytest.mark.parametrize("scheme", ["light", "dark", "paper"])
def test_marks_stand_out(scheme: str) -> None:
    colours = schemes()[scheme]
    assert contrast(colours["boot"], colours["paper"]) >= MARK
    assert contrast(colours["link"], colours["wash"]) >= MARK, "the focus ring"


def test_schemes_differ_and_each_names_every_colour() -> None:
    found = schemes()
    assert found["light"].keys() == found["dark"].keys() == found["paper"].keys()
    assert found["light"]["paper"] != found["dark"]["paper"] != found["paper"]["paper"]
