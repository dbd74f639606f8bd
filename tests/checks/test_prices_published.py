"""Published margins, markups and contributions, from a catalogue through cost to price."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.pricing.price import Priced
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue

EXACT = 1e-12
OPERATIONS = """\
    operations:
      - {name: Assembling, station: assembly, fixed: 2.75 h}
      - {name: Finishing, station: finishing, fixed: 4 h}
"""


def bought_in(
    folder: Path, cost: str, margin: str = "20 %", published: str | None = None
) -> Priced:
    """An option that is one pound of material at `cost`, and nothing else, as it is priced."""
    files = {}
    if published:
        files["price_book.csv"] = (
            f"date,model,option,list_price,note\n2026-01-01,,{OPTION},{published},\n"
        )
    folder = write_catalogue(
        folder,
        files,
        {
            "options.yaml": (OPERATIONS, ""),
            "yard.yaml": ("target_margin: 20 %", f"target_margin: {margin}"),
            "prices/2026-01-01.csv": ("5.25 USD/lb", f"{cost}/lb"),
        },
    )
    options = (folder / "options.yaml").read_text(encoding="utf-8")
    (folder / "options.yaml").write_text(options.replace("4 lb", "1 lb"), encoding="utf-8")
    return priced(folder).models[MODEL].options[OPTION]


# Markup and the margin it is: derived, exact.
MARKUPS = [(0.25, "20 %"), (0.5, "33.333333333333 %"), (1.0, "50 %"), (2 / 3, "40 %")]


@pytest.mark.parametrize(("markup", "margin"), MARKUPS)
def test_a_markup_and_its_margin_give_one_price(tmp_path: Path, markup: float, margin: str) -> None:
    option = bought_in(tmp_path / "c", "60 USD", margin)
    assert option.list_price.value == pytest.approx(60.0 * (1 + markup), rel=EXACT)
    kept = option.sales["direct"].margin_fraction.value
    assert kept == pytest.approx(markup / (1 + markup), rel=1e-11)


# OpenStax, Principles of Accounting vol. 2, 9.4: cost plus 30 %.
@pytest.mark.parametrize(("cost", "price"), [("10 USD", 13.00), ("12 USD", 15.60)])
def test_cost_plus_30_percent(tmp_path: Path, cost: str, price: float) -> None:
    margin = f"{0.30 / (1 + 0.30) * 100:.12f} %"
    option = bought_in(tmp_path / "c", cost, margin)
    assert option.list_price.value == pytest.approx(price, rel=EXACT)


# OpenStax, Principles of Accounting vol. 2: 3.2 break-even and target profit (the target counted
# with the fixed cost), 3.5 sensitivity. Price, variable cost, to be covered, units.
BREAK_EVEN = [
    ("100 USD", "20 USD", 18_000.0, 225),
    ("100 USD", "20 USD", 18_000.0 + 16_000.0, 425),
    ("3.75 USD", "1.50 USD", 2_475.0, 1_100),
    ("4.25 USD", "1.50 USD", 2_475.0, 900),
    ("3.75 USD", "1.55 USD", 2_475.0, 1_125),
    ("3.75 USD", "1.50 USD", 2_700.0, 1_200),
]


@pytest.mark.parametrize(("price", "variable", "cover", "units"), BREAK_EVEN)
def test_contributions_of_the_break_even_quantity_cover_the_fixed_cost(
    tmp_path: Path, price: str, variable: str, cover: float, units: int
) -> None:
    sale = bought_in(tmp_path / "c", variable, published=price).sales["direct"]
    assert units * sale.contribution.value == pytest.approx(cover, rel=EXACT)


def test_contribution_and_its_ratio(tmp_path: Path) -> None:
    """OpenStax, Principles of Accounting vol. 2, 3.1 and 3.2: 100 less 20 leaves 80, or 80 %."""
    sale = bought_in(tmp_path / "c", "20 USD", published="100 USD").sales["direct"]
    assert sale.contribution.value == pytest.approx(80.0, rel=EXACT)
    assert sale.contribution_fraction.value == pytest.approx(0.80, rel=EXACT)
