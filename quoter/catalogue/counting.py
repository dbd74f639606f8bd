"""A price in one unit as a price in another: per kg, volume, cloth area, running metre or pack."""

from __future__ import annotations

from quoter.catalogue.materials import Bought, Glass, Material, counted_in, density_of, price_per
from quoter.figures import Figure
from quoter.units import Unit, unit

PACK = unit("pack")


def per_counted(material: Material, price: Figure) -> Figure:
    """A price per drum, volume or area as one per kg or per what the goods are counted in."""
    per = price_per(price)
    return price if per == counted_in(material) else price / counted_per(material, per)


def converts(material: Material, per: Unit) -> bool:
    """Whether an amount in a unit says how much of a material it is; of packs, see its `pack`."""
    return per == counted_in(material) or _measured(material, per) is not None


def counted_per(material: Material, per: Unit) -> Figure:
    """How much of a material, as it is counted, one pack, volume, area or running metre of it is.

    Raises:
        ValueError: it can't be said, which the catalogue's checks exclude.
    """
    if per == PACK:
        return pack_content(material)
    found = _measured(material, per)
    if found is None:
        raise ValueError(f"{material.id} can't be counted per {per}")
    return found


def _measured(material: Material, per: Unit) -> Figure | None:
    """How much of it, as it is counted, one unit holds; None where its record does not say."""
    if isinstance(material, Glass):
        if per == unit("m") and material.roll_width is not None:
            return material.areal_mass * material.roll_width
        return material.areal_mass if per == unit("m2") else None
    if isinstance(material, Bought) and per == unit("m"):
        return material.roll_width if counted_in(material) == unit("m2") else None
    if per == unit("m3") and counted_in(material) == unit("kg"):
        return density_of(material)
    return None


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
