"""A package that makes a boat cheaper is found from any list of options, and no other is.

Amounts are worked by hand from the catalogue written here: a package is the sum of its options less
its saving, down to whole tens, as test_packages.py has it.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from quoter.pricing.packaged import cheaper_packages, holding
from quoter.pricing.price import Pricing
from quoter.pricing.public import untaxed_prices
from tests.catalogues.written import MODEL
from tests.pricing.choices import model, option, yard

STEP = ("step: 0.01 USD", "step: 10 USD")
OPTIONS = (
    option("door")
    + option("step", "most: 2")
    + option("rail", "conflicts: [mast]")
    + option("mast")
    + option("awning", "requires: [rail]")
)
# duo: 120 + 90 = 210, less 10 % is 189, so 180. trio: 120 + 90 + 40 = 250, less 40 % is 150.
# shade: 60 + 40 = 100, less 10 % is 90.
PACKAGES = "".join(
    f"  - {{id: {id}, name: {id.capitalize()}, text: Some., "
    f"options: [{inside}], saving: {saving}}}\n"
    for id, inside, saving in (
        ("duo", "door, step", "10 %"),
        ("trio", "door, step, rail", "40 %"),
        ("shade", "awning, rail", "10 %"),
    )
)
BOOK = "".join(
    f"2026-01-01,{where},{id},{price} USD,\n"
    for where, id, price in (
        ("", "door", 120),
        (MODEL, "step", 90),
        ("", "rail", 40),
        ("", "mast", 300),
        ("", "awning", 60),
    )
)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    folder = tmp_path_factory.mktemp("packaged") / "c"
    return yard(folder, OPTIONS, packages=PACKAGES, book=BOOK, policy=STEP)


def offers(pricing: Pricing, **chosen: int) -> list[tuple[str, str, str, Decimal]]:
    """The packages offered for a list: what goes in, what comes besides, the saving."""
    prices = untaxed_prices(pricing, pricing.catalogue.yard.markets[0])
    return [
        (each.package, " ".join(each.instead), " ".join(each.besides), each.saving.amount)
        for each in cheaper_packages(model(pricing), chosen, prices)
    ]


@pytest.mark.parametrize(
    ("chosen", "told"),
    [
        ({}, []),
        ({"door": 1}, []),
        # 210 for the two: 180 as a pair, 150 with a rail besides.
        ({"door": 1, "step": 1}, [("trio", "door step", "rail", 60), ("duo", "door step", "", 30)]),
        # A second step stays as it is.
        ({"door": 1, "step": 2}, [("trio", "door step", "rail", 60), ("duo", "door step", "", 30)]),
        # A rail can't be had with a mast, so the larger package is none.
        ({"door": 1, "step": 1, "mast": 1}, [("duo", "door step", "", 30)]),
        # 100 becomes 90; of the trio 250 becomes 150.
        ({"rail": 1, "awning": 1}, [("shade", "awning rail", "", 10)]),
        (
            {"door": 1, "step": 1, "rail": 1, "awning": 1},
            [
                ("trio", "door step rail", "", 100),
                ("duo", "door step", "", 30),
                ("shade", "awning rail", "", 10),
            ],
        ),
        # What is chosen as a package is not offered again, nor what it leaves no room for.
        ({"duo": 1}, []),
        ({"trio": 1, "step": 1}, []),
    ],
)
def test_every_cheaper_package_is_offered_with_what_it_saves(
    made: Pricing, chosen: dict[str, int], told: list[tuple[str, str, str, int]]
) -> None:
    assert offers(made, **chosen) == [(*names, Decimal(saving)) for *names, saving in told]


def test_a_list_with_the_package_has_what_it_had(made: Pricing) -> None:
    prices = untaxed_prices(made, made.catalogue.yard.markets[0])
    first, _ = cheaper_packages(model(made), {"door": 1, "step": 2}, prices)
    assert first.chosen == {"step": 1, "trio": 1}


def test_packages_that_save_nothing_are_not_offered(tmp_path: Path) -> None:
    free = PACKAGES.replace("10 %", "0 %").replace("40 %", "0 %")
    same = yard(tmp_path / "c", OPTIONS, packages=free, book=BOOK, policy=STEP)
    assert offers(same, door=1, step=1, rail=1, awning=1) == []


def test_what_holds_an_option_is_known(made: Pricing) -> None:
    assert holding(model(made), "rail", {"trio": 1, "shade": 0, "duo": 1}) == ("trio",)
