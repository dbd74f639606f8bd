"""What an option deletes comes off its cost, mass and hours, by element."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.costing.assembly import Assembly
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO, demo

CREDIT = """\
      - {part: topsides_white, per_model: *topsides}
    goods:
      - {item: repair_kit, quantity: 1}
    operations: &repair_kit
"""


def blue(folder: Path | None = None) -> Assembly:
    pricing = demo() if folder is None else priced(folder)
    return pricing.models["coastal_98"].options["hull_blue"].assembly


def with_credit(tmp_path: Path, credit: str) -> Assembly:
    changes = {"options.yaml": (CREDIT, CREDIT.replace("{part: topsides_white,", credit))}
    return blue(write_catalogue(tmp_path / "c", {}, changes, base=DEMO))


def test_a_credit_is_a_negative_use_of_the_part() -> None:
    made = blue()
    colour, white = made.recipe.uses
    assert (colour.quantity.value, colour.credit) == (1.0, False)
    assert (white.quantity.value, white.credit) == (-1.0, True)
    assert made.cost.value < colour.assembly.cost.value + sum(
        operation.labour.value * 3 for operation in made.operations
    ) + sum(material.cost.value * 1.1 for material in made.materials)


def test_a_credit_takes_off_by_element() -> None:
    made = blue()
    colour, white = (use.assembly for use in made.recipe.uses)
    difference = (
        colour.elements["material.gelcoat"].value - white.elements["material.gelcoat"].value
    )
    assert made.elements["material.gelcoat"].value == pytest.approx(difference, rel=1e-12)
    own = sum(operation.paid.value for operation in made.operations)
    gelcoat = colour.hours["gelcoat"].value - white.hours["gelcoat"].value + own
    assert made.hours["gelcoat"].value == pytest.approx(gelcoat, rel=1e-12)
    own_mass = sum(line.mass.value for line in made.recipe.lines)
    mass = colour.mass.value - white.mass.value + own_mass
    assert made.mass.value == pytest.approx(mass, rel=1e-12)


@pytest.mark.parametrize(
    ("written", "share"),
    [("{part: topsides_white, share: 60 %,", -0.6), ("{part: topsides_white, quantity: 2,", -2.0)],
)
def test_a_credit_may_be_a_share_or_several(tmp_path: Path, written: str, share: float) -> None:
    made = with_credit(tmp_path, written)
    white = made.recipe.uses[1]
    assert white.quantity.value == pytest.approx(share, rel=1e-12)
    more = made.cost.value - blue().cost.value
    assert more == pytest.approx((share + 1) * white.assembly.cost.value, rel=1e-9)


def test_a_credit_may_exceed_what_the_option_adds(tmp_path: Path) -> None:
    """Its elements are negative then, and its price is money back, rounded in the yard's favour."""
    made = with_credit(tmp_path, "{part: topsides_white, quantity: 20,")
    assert made.cost.value < 0
    assert made.elements["material.gelcoat"].value < 0
    assert made.mass.value < 0
    option = priced(tmp_path / "c").models["coastal_98"].options["hull_blue"]
    exact = made.cost.value / (1 - 0.05 - 0.30) / (1 - 0.20)
    assert exact <= option.recommended.value < exact + 10


def test_a_credit_is_not_borne_by_good_units(tmp_path: Path) -> None:
    """Scrapping the option's own work does not scrap a part that was never made."""
    operations = "      - name: Fill and label the repair kit\n        station: gelcoat\n"
    changes = {"options.yaml": (operations, operations + "        passes: 50 %\n")}
    made = blue(write_catalogue(tmp_path / "c", {}, changes, base=DEMO))
    colour, white = made.recipe.uses
    own = blue().cost.value - colour.assembly.cost.value + white.assembly.cost.value
    expected = 2 * (own + colour.assembly.cost.value) - white.assembly.cost.value
    assert made.cost.value == pytest.approx(expected, rel=1e-9)
