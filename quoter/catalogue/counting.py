"""A price in one unit as a price in another: per kg, volume, cloth area, piece or pack."""

from __future__ import annotations

from quoter.catalogue.materials import Glass, Material, counted_in, density_of, price_per
from quoter.figures import Figure
from quoter.units import Unit, unit

PACK = unit("pack")


def per_counted(material: Material, price: Figure) -> Figure:
    """A price per drum, volume or cloth area as one per kg or per what the goods are counted in."""
    per = price_per(price)
    return price if per == counted_in(material) else price / counted_per(material, per)


def counted_per(material: Material, per: Unit) -> Figure:
    """How much of a material, as it is counted, one pack, volume or cloth area of it is.

    Raises:
        ValueError: it can't be said, which the catalogue's checks exclude.
    """
    if per == PACK:
        return pack_content(material)
    if isinstance(material, Glass) and per == unit("m2"):
        return material.areal_mass
    density = density_of(material)
    if density is None or per != unit("m3"):
        raise ValueError(f"{material.id} can't be counted per {per}")
    return density


def pack_content(material: Material) -> Figure:
    """How much one pack holds, in what the material is counted in.

    Raises:
        ValueError: for a material without a pack, which the catalogue's checks exclude.
    """
    if material.pack is None:
        raise ValueError(f"{material.id} has no pack")
    per = material.pack.unit * PACK
    return (
        material.pack if per == counted_in(material) else material.pack * counted_per(material, per)
    )
