"""What an option deletes comes off its cost, mass and hours, by element."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.pricing.price import Priced
from tests.catalogues.written import FOLDER, priced, write_catalogue

SMALL = FOLDER / "small"
CLOSE = 1e-12
CREDIT = "{part: topsides_white, per_model: {cutter: {area: 14 m2, perimeter: 19 m}}}"
PASSING = "    operations:\n      - {name: Inspect, station: assembly, fixed: 1 h, passes: 50 %}\n"


def green(folder: Path = SMALL) -> Priced:
    """Green topsides in place of white ones, which are credited."""
    return priced(folder).models["cutter"].options["green"]


def with_credit(tmp_path: Path, terms: str, more: str = "") -> Priced:
    credit = CREDIT.replace("topsides_white,", f"topsides_white, {terms}")
    changes = {"options.yaml": (f"      - {CREDIT}\n", f"      - {credit}\n{more}")}
    return green(write_catalogue(tmp_path / "c", {}, changes, base=SMALL))


def test_a_credit_is_a_negative_use_of_the_part() -> None:
    made = green().assembly
    colour, white = made.recipe.uses
    assert (colour.quantity.value, colour.credit) == (1.0, False)
    assert (white.quantity.value, white.credit) == (-1.0, True)
    difference = colour.assembly.cost.value - white.assembly.cost.value
    assert made.cost.value == pytest.approx(difference, rel=CLOSE)


def test_a_credit_takes_off_by_element() -> None:
    made = green().assembly
    colour, white = (use.assembly for use in made.recipe.uses)
    assert {"material.gelcoat", "labour.laminating"} <= set(made.elements)
    for element, figure in made.elements.items():
        difference = colour.elements[element].value - white.elements[element].value
        assert figure.value == pytest.approx(difference, rel=1e-9, abs=1e-9), element
    hours = colour.hours["laminating"].value - white.hours["laminating"].value
    assert made.hours["laminating"].value == pytest.approx(hours, rel=CLOSE)
    assert made.mass.value == pytest.approx(colour.mass.value - white.mass.value, rel=CLOSE)


@pytest.mark.parametrize(("terms", "share"), [("share: 60 %,", -0.6), ("quantity: 2,", -2.0)])
def test_a_credit_may_be_a_share_or_several(tmp_path: Path, terms: str, share: float) -> None:
    made = with_credit(tmp_path, terms).assembly
    colour, white = made.recipe.uses
    assert white.quantity.value == pytest.approx(share, rel=CLOSE)
    expected = colour.assembly.cost.value + share * white.assembly.cost.value
    assert made.cost.value == pytest.approx(expected, rel=CLOSE)


def test_a_credit_may_exceed_what_the_option_adds(tmp_path: Path) -> None:
    """Its price is money back then, and rounding up never gives back more than the margin bears."""
    option = with_credit(tmp_path, "quantity: 20,")
    made = option.assembly
    assert made.cost.value < 0
    assert made.elements["material.gelcoat"].value < 0
    assert made.mass.value < 0
    policy = priced(SMALL).catalogue.yard.policy
    assert policy.rounding.direction == "up"
    left = option.recommended.value * (1 - option.sales["dealer"].buyer.discount.value)
    kept = left * (1 - priced(SMALL).terms.provisions.value) - made.cost.value
    assert kept >= policy.target_margin.value * left - 1e-9


def test_a_credit_is_not_borne_by_good_units(tmp_path: Path) -> None:
    """Scrapping what the option adds does not scrap a part that was never made."""
    made = with_credit(tmp_path, "share: 100 %,", PASSING).assembly
    colour, white = made.recipe.uses
    own = green().assembly.cost.value - colour.assembly.cost.value + white.assembly.cost.value
    assert own == pytest.approx(0.0, abs=1e-9)
    rates = priced(SMALL).costing.rates
    station = rates.stations["assembly"]
    hour = station.labour.value + station.variable.value + station.fixed.value
    inspected = hour / 0.90 * (1 + rates.general.value)  # at the station's efficiency
    expected = (colour.assembly.cost.value + inspected) / 0.5 - white.assembly.cost.value
    assert made.cost.value == pytest.approx(expected, rel=1e-9)
