"""What a material costs landed in the yard, per the unit it is counted in, in home currency."""

from __future__ import annotations

from quoter.catalogue.materials import (
    Glass,
    Material,
    counted_in,
    density_of,
    material_class,
    price_per,
)
from quoter.catalogue.prices import Catalogue
from quoter.engineering.purchasing import landed_price
from quoter.figures import Figure, constant
from quoter.units import Unit, unit


def landed_prices(catalogue: Catalogue) -> dict[str, Figure]:
    """Material id -> landed price in home currency per kg, piece, metre or area."""
    return {
        id: _landed(catalogue, id, material) for id, material in catalogue.records.materials.items()
    }


def _landed(catalogue: Catalogue, id: str, material: Material) -> Figure:
    row = catalogue.prices[id]
    supplier = catalogue.records.suppliers[str(row.supplier)]
    price = _per_counted(material, row.price)
    rate = constant(1.0)
    if supplier.currency != catalogue.currency:
        rate = catalogue.exchange[str(supplier.currency)].rate
    nothing = constant(0.0)
    freight = supplier.freight if supplier.freight is not None else nothing
    duty = supplier.duty if supplier.duty is not None else nothing
    label = f"{material.name}: landed price"
    return landed_price(price, rate, freight, duty).named(f"landed.{id}", label)


def _per_counted(material: Material, price: Figure) -> Figure:
    """A price per drum, volume or cloth area as one per kg or per what the goods are counted in."""
    per = price_per(price)
    if per == unit("pack"):
        return price / pack_content(material)
    return price if per == counted_in(material) else price / _counted_per(material, per)


def pack_content(material: Material) -> Figure:
    """How much one pack holds, in what the material is counted in.

    Raises:
        ValueError: for a material without a pack, which the catalogue's checks exclude.
    """
    if material.pack is None:
        raise ValueError(f"{material.id} has no pack")
    per = material.pack.unit * unit("pack")
    return (
        material.pack
        if per == counted_in(material)
        else material.pack * _counted_per(material, per)
    )


def _counted_per(material: Material, per: Unit) -> Figure:
    """How much of a material one volume or cloth area of it is."""
    if isinstance(material, Glass) and per == unit("m2"):
        return material.areal_mass
    density = density_of(material)
    if density is None or per != unit("m3"):
        raise ValueError(f"{material.id} can't be counted per {per}")
    return density


def class_of(catalogue: Catalogue, id: str) -> str:
    """The cost class of a material."""
    return material_class(catalogue.records.materials[id])
