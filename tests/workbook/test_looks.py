"""Sheets can be read: contrast, colours that stay apart, numbers with their unit and decimals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from pathlib import Path

import pytest
from openpyxl import load_workbook

from quoter.figures import Figure, constant
from quoter.units import unit
from quoter.workbook.charts import PALETTE
from quoter.workbook.columns import Look, currency_of, entry_look, look_of, unit_text
from quoter.workbook.measure import digits, lines
from quoter.workbook.portrait import Piece, Portrait, write_portraits
from quoter.workbook.styles import BRICK, BRICK_PALE, FACE, ROLES, WHITE
from tests.workbook.operations import given
from tests.workbook.synthetic import written

# WCAG 2.2, success criterion 1.4.3.
ENOUGH_CONTRAST = 4.5
# A difference in CIE 1976 L*a*b* that nobody overlooks; 2.3 is just noticed (Mahy et al. 1994,
# from memory).
CLEARLY_APART = 20

# How the eye without one kind of cone sees linear RGB: Machado, Oliveira and Fernandes, "A
# physiologically-based model for simulation of color vision deficiency", 2009, severity 1.0 (from
# memory).
VISION = {
    "usual": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


# Where the edges that styles name are drawn.
EDGES = {
    "": set(),
    "rule": {"bottom"},
    "head": {"left"},
    "total": {"top", "bottom"},
    "caution": {"left"},
    "entry": {"left", "right", "top", "bottom"},
}


def linear(colour: str) -> list[float]:
    """sRGB as IEC 61966-2-1 has it, to light."""
    shares = [int(colour[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    return [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]


def luminance(colour: str) -> float:
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lab(light: Sequence[float]) -> tuple[float, float, float]:
    """CIE 1976 L*a*b*, white of D65."""
    red, green, blue = (min(max(value, 0.0), 1.0) for value in light)
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089
    fx, fy, fz = (t ** (1 / 3) if t > 0.008856 else 7.787 * t + 16 / 116 for t in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


@pytest.mark.parametrize("role", sorted(ROLES))
def test_text_stands_out_from_its_ground(role: str) -> None:
    style = ROLES[role]
    assert contrast(style.ink, style.ground or WHITE) >= ENOUGH_CONTRAST


def test_the_mark_of_a_fault_can_be_read() -> None:
    assert contrast(BRICK, BRICK_PALE) >= ENOUGH_CONTRAST


def test_black_on_white_has_the_contrast_the_guideline_gives() -> None:
    assert contrast("000000", "FFFFFF") == pytest.approx(21)


@pytest.mark.parametrize("eye", sorted(VISION))
def test_chart_colours_stay_apart_for_every_kind_of_colour_vision(eye: str) -> None:
    seen = {
        colour: lab([sum(a * b for a, b in zip(row, linear(colour), strict=True))
                     for row in VISION[eye]])
        for colour in PALETTE
    }  # fmt: skip
    for one, other in combinations(PALETTE, 2):
        assert math.dist(seen[one], seen[other]) >= CLEARLY_APART, (one, other)


@pytest.mark.parametrize(
    ("value", "of", "code"),
    [
        (1234.5, "EUR", r"[$EUR]\ #,##0.00;[$EUR]\ \-#,##0.00"),
        (1234.5, "JPY", r"[$JPY]\ #,##0;[$JPY]\ \-#,##0"),
        (1234.5, "KWD", r"[$KWD]\ #,##0.000;[$KWD]\ \-#,##0.000"),
        (1.5, "kg", "#,##0.000"),
        (1.5, "h", "#,##0.00"),
        (1.5, "m2", "#,##0.000"),
        (0.0045, "m3", "#,##0.0000"),
        (28.5, "EUR/h", "#,##0.00"),
        (0.0123, "EUR/kg", "#,##0.0000"),
        (3.0, "", "#,##0"),
        (0.25, "", "#,##0.000"),
    ],
)
def test_a_number_has_the_format_of_its_unit(value: float, of: str, code: str) -> None:
    figure = constant(value, of)
    assert look_of(figure, [figure]).code == code


def test_a_fraction_that_people_read_as_one_is_a_percentage() -> None:
    figure = Figure(0.325, form="percent")
    assert look_of(figure, [figure]).code == "0.0%"
    assert look_of(figure, [figure]).text(0.325) == "32.5%"


def test_numbers_of_one_unit_share_their_decimals() -> None:
    small, large = constant(0.0123, "EUR/kg"), constant(28.5, "EUR/kg")
    assert look_of(large, [small, large]).decimals == look_of(small, [small, large]).decimals == 4


def test_an_override_of_decimals_wins() -> None:
    figure = constant(1234.5, "EUR")
    assert look_of(figure, [figure], decimals=0).text(1234.4) == "EUR 1,234"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("4.1 EUR/kg", "#,##0.00####"),
        ("4.105 EUR/kg", "#,##0.000###"),
        ("450 g/m2", "General"),
        ("12.5 %", "0.0#####%"),
        ("9000 EUR", r"[$EUR]\ #,##0.00####;[$EUR]\ \-#,##0.00####"),
    ],
)
def test_an_entry_shows_the_decimals_it_was_written_with_and_more(text: str, code: str) -> None:
    assert entry_look(written(given(text, "x", "x"))).code == code


@pytest.mark.parametrize(
    ("text", "shown"),
    [("g/m2", "g/m²"), ("EUR/m3", "EUR/m³"), ("1/m", "1/m"), ("kg", "kg"), ("", "")],
)
def test_units_are_printed_with_superscripts(text: str, shown: str) -> None:
    assert unit_text(unit(text)) == shown


def test_only_an_amount_of_money_has_a_currency() -> None:
    assert [currency_of(unit(text)) for text in ("EUR", "EUR/kg", "kg", "")] == ["EUR", "", "", ""]


def test_widths_are_counted_in_digits() -> None:
    assert digits("0123456789") == pytest.approx(10)
    assert digits("WWWW") > digits("mmmm") > digits("0000") > digits("iiii")
    assert digits("text", bold=True) > digits("text")
    assert digits("text", size=20) == pytest.approx(2 * digits("text"))


def test_text_wraps_at_words() -> None:
    assert lines("one two three", 100) == 1
    assert lines("one two three", digits("one two")) == 2
    assert lines("one\ntwo", 100) == 2
    assert lines("x" * 50, digits("x" * 10)) >= 5
    assert lines("", 10) == 1


@pytest.mark.parametrize("role", sorted(ROLES))
def test_another_reader_sees_each_role_as_it_is_described(role: str, tmp_path: Path) -> None:
    style, path = ROLES[role], tmp_path / "role.xlsx"
    sheet = Portrait("Roles", (20.0,))
    sheet.add(Piece(7, role, "#,##0.000"))
    path.write_bytes(write_portraits([sheet], "Roles", "Roles", "A4"))
    cell = load_workbook(path)["Roles"]["A1"]
    font, aligned = cell.font, cell.alignment
    assert (font.name, font.sz, bool(font.b), font.u == "single") == (
        FACE, style.size, style.bold, style.underlined,
    )  # fmt: skip
    assert font.color is not None
    assert font.color.rgb == f"FF{style.ink}"
    assert cell.fill.fgColor.rgb == (f"FF{style.ground}" if style.ground else "00000000")
    assert (aligned.horizontal, aligned.vertical) == (style.horizontal, style.vertical)
    assert (bool(aligned.wrap_text), aligned.indent) == (style.wrapped, style.indent)
    assert cell.protection.locked is not style.unlocked
    assert cell.number_format == "#,##0.000"
    drawn = {side: getattr(cell.border, side) for side in EDGES["entry"]}
    edges = {side for side, edge in drawn.items() if edge is not None and edge.style}
    assert edges == EDGES[style.edges]


def test_a_look_knows_how_wide_a_negative_amount_is() -> None:
    assert Look(2, "EUR").text(-1234.5) == "EUR -1,234.50"
