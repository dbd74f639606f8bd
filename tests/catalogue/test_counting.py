"""Prices and packs as suppliers write them, as prices per what the goods are counted in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from pint import Quantity, UnitRegistry
from pydantic import TypeAdapter

from quoter.catalogue import fields as f
from quoter.catalogue.counting import converts, pack_content, per_counted
from quoter.catalogue.materials import Bought, Glass, Material, Resin, counted_in
from quoter.catalogue.source import Block, Text
from quoter.figures import Figure
from quoter.problems import Place
from quoter.units import unit

PINT: UnitRegistry[float] = UnitRegistry()
MAT = {"form": "mat", "areal_mass": "1.5 oz", "glass_content": "30 %", "roll_width": "50 in"}
RESIN = {
    "liquid_density": "9.2 lb/gal",
    "cured_density": "1.2 kg/L",
    "catalyst": "peroxide",
    "catalyst_fraction": "1.5 %",
}
FILM = {"material_class": "consumable", "mass": "0.05 kg/m2", "roll_width": "60 in"}
GLUE = {"material_class": "other", "mass": "100 %", "density": "11 lb/gal"}
PIECE = {"material_class": "hardware", "mass": "4 g/each"}


def text(words: str) -> Text:
    return Text.at(words, Place("materials.yaml", 3, 9, "key"), "a.key", "thing, key")


def made(kind: type[Material], keys: Mapping[str, str], **more: str) -> Any:
    block = Block.at(Place("materials.yaml", 3))
    for key, words in ({"id": "thing", "name": "Thing"} | dict(keys) | more).items():
        block[key] = text(words)
    return kind.model_validate(block)


def price(words: str) -> Figure:
    found = TypeAdapter(f.Price).validate_python(text(words))
    assert isinstance(found, Figure)
    return found


def pint(number: float, words: str) -> Quantity[float]:
    return PINT.Quantity(number, words)


# How much one of what the price is for is, by pint, in what the material is counted in.
ONE: list[tuple[Any, Mapping[str, str], dict[str, str], str, Quantity[float], str]] = [
    (Glass, MAT, {}, "4.20 USD/yd", pint(1.5, "oz/ft**2") * pint(50, "in") * pint(1, "yd"), "kg"),
    (Glass, MAT, {}, "1.10 USD/yd2", pint(1.5, "oz/ft**2") * pint(1, "yd**2"), "kg"),
    (Glass, MAT, {}, "4.60 EUR/m", pint(1.5, "oz/ft**2") * pint(50, "in") * pint(1, "m"), "kg"),
    (
        Glass,
        MAT,
        {"pack": "125 yd"},
        "390 USD/roll",
        pint(1.5, "oz/ft**2") * pint(50, "in") * pint(125, "yd"),
        "kg",
    ),
    (Bought, FILM, {}, "1.80 USD/yd", pint(60, "in") * pint(1, "yd"), "m**2"),
    (Bought, FILM, {"pack": "100 yd"}, "150 USD/roll", pint(60, "in") * pint(100, "yd"), "m**2"),
    (Resin, RESIN, {}, "38 USD/gal", pint(9.2, "lb"), "kg"),
    (Resin, RESIN, {}, "11 USD/qt", pint(9.2, "lb/gallon") * pint(1, "quart"), "kg"),
    (Resin, RESIN, {}, "6 USD/pt", pint(9.2, "lb/gallon") * pint(1, "pint"), "kg"),
    (Resin, RESIN, {}, "0.50 USD/fl oz", pint(9.2, "lb/gallon") * pint(1, "fluid_ounce"), "kg"),
    (Resin, RESIN, {}, "110 USD/cwt", pint(1, "US_hundredweight"), "kg"),
    (Bought, GLUE, {}, "52 USD/gal", pint(11, "lb"), "kg"),
    (
        Bought,
        GLUE,
        {"pack": "300 mL"},
        "9.80 EUR/cartridge",
        pint(11, "lb/gallon") * pint(300, "mL"),
        "kg",
    ),
    (
        Bought,
        GLUE,
        {"pack": "12 x 10.1 fl oz"},
        "96 USD/carton",
        pint(11, "lb/gallon") * pint(121.2, "fluid_ounce"),
        "kg",
    ),
    (Bought, PIECE, {}, "38 USD/pair", pint(2, ""), ""),
    (Bought, PIECE, {}, "12.50 USD/100", pint(100, ""), ""),
    (Bought, PIECE, {}, "12.50 USD/hundred", pint(100, ""), ""),
    (Bought, PIECE, {}, "98 USD/1000 pcs", pint(1000, ""), ""),
    (Bought, PIECE, {"pack": "10 x 100"}, "120 USD/carton", pint(1000, ""), ""),
]


@pytest.mark.parametrize(("kind", "keys", "more", "words", "held", "counted"), ONE)
def test_a_price_is_divided_by_what_pint_finds_one_of_it_holds(
    kind: Any,
    keys: Mapping[str, str],
    more: dict[str, str],
    words: str,
    held: Quantity[float],
    counted: str,
) -> None:
    material = made(kind, keys, **more)
    found = per_counted(material, price(words))
    number = float(words.split()[0])
    assert found.value == pytest.approx(number / held.to(counted).magnitude, rel=1e-12)
    currency = unit(words.split()[1].partition("/")[0])
    assert found.unit == currency / counted_in(material)


def test_a_carton_holds_what_its_cartridges_do() -> None:
    carton = made(Bought, GLUE, pack="12 x 300 mL")
    assert carton.pack.value == pytest.approx(0.0036, rel=1e-12)
    assert pack_content(carton).value == pytest.approx(
        (pint(11, "lb/gallon") * pint(3.6, "L")).to("kg").magnitude, rel=1e-12
    )


@pytest.mark.parametrize(
    ("material", "per"),
    [
        (made(Glass, {**MAT, "areal_mass": "450 g/m2"}), "m3"),
        (made(Bought, PIECE), "m"),
        (made(Bought, PIECE, density="1 kg/L"), "m3"),
        (made(Bought, FILM), "kg"),
    ],
)
def test_what_a_record_does_not_say_does_not_convert(material: Material, per: str) -> None:
    assert not converts(material, unit(per))
