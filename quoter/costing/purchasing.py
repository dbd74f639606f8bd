"""What a material costs landed in the yard, per the unit it is counted in, in home currency."""

from __future__ import annotations

from quoter.catalogue.counting import pack_content as pack_content
from quoter.catalogue.counting import per_counted
from quoter.catalogue.materials import Material, material_class
from quoter.catalogue.prices import Catalogue
from quoter.engineering.purchasing import landed_price
from quoter.figures import Figure, constant


def landed_prices(catalogue: Catalogue) -> dict[str, Figure]:
    """Material id -> landed price in home currency per kg, piece, metre or area."""
    return {
        id: landed_price_of(catalogue, id, material)
        for id, material in catalogue.records.materials.items()
    }


def landed_price_of(catalogue: Catalogue, id: str, material: Material) -> Figure:
    """The landed price of one material at the catalogue's rows, which must hold what it needs."""
    row = catalogue.prices[id]
    supplier = catalogue.records.suppliers[str(row.supplier)]
    price = per_counted(material, row.price)
    rate = constant(1.0)
    if supplier.currency != catalogue.currency:
        rate = catalogue.exchange[str(supplier.currency)].rate
    nothing = constant(0.0)
    freight = supplier.freight if supplier.freight is not None else nothing
    duty = supplier.duty if supplier.duty is not None else nothing
    label = f"{material.name}: landed price"
    return landed_price(price, rate, freight, duty).named(f"landed.{id}", label)


def class_of(catalogue: Catalogue, id: str) -> str:
    """The cost class of a material."""
    return material_class(catalogue.records.materials[id])
