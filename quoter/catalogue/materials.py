"""Records of materials: glass, resins, gelcoats, catalysts, foams and what is bought ready-made."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.units import Unit, unit


class Material(CatalogueRecord):
    """What every purchased material has; `pack` is how much one purchase unit holds.

    Rises that a supplier announces are of a whole `family`, such as all polyester resins.
    """

    id: f.Identifier
    name: f.Words
    supplier: Annotated[Text, f.ref("supplier")] | None = None
    family: f.Identifier | None = None
    pack: f.Pack | None = None
    loss: f.Loss | None = None
    waste_on_net: f.Number | None = None
    note: f.Note | None = None


class Glass(Material):
    """A reinforcement by areal mass; `glass_content` is its mass fraction in the laminate."""

    form: Annotated[str, f.choice("mat", "woven", "stitched", "veil", "flow core")]
    areal_mass: f.ArealMass
    glass_content: f.Passed
    roll_width: f.Length | None = None
    overlap: f.Extent | None = None


class Resin(Material):
    """A laminating or injection resin; thickness uses the cured density, injection the liquid."""

    liquid_density: f.Density
    cured_density: f.Density
    catalyst: Annotated[Text, f.ref("catalyst")]
    catalyst_fraction: f.Fraction
    styrene: f.Fraction | None = None


class Gelcoat(Material):
    """A gelcoat of one colour, applied by hand or by spray with a transfer efficiency."""

    colour: f.Words
    density: f.Density
    wet_thickness: f.Length
    transfer: f.Passed
    catalyst: Annotated[Text, f.ref("catalyst")]
    catalyst_fraction: f.Fraction
    styrene: f.Fraction | None = None


class Catalyst(Material):
    """An organic peroxide, dosed as a fraction of the resin or gelcoat issued."""

    density: f.Density | None = None


class FoamComponent(Material):
    """One component of a two-part foam."""

    density: f.Density | None = None


class Foam(CatalogueRecord):
    """A two-part foam system by mass ratio; not bought itself, its components are."""

    id: f.Identifier
    name: f.Words
    component_a: Annotated[Text, f.ref("foam_component")]
    component_b: Annotated[Text, f.ref("foam_component")]
    parts_a: f.Positive
    parts_b: f.Positive
    free_rise_density: f.Density
    packing_factor: f.Positive
    loss: f.Loss | None = None
    waste_on_net: f.Number | None = None
    note: f.Note | None = None


class Bought(Material):
    """Hardware, sheet core, consumables and other goods bought by the piece, metre, area or mass.

    `unit` is what the quantity counts; `mass` is what one such unit adds to the boat.
    """

    material_class: Annotated[str, f.choice("hardware", "core", "consumable", "other")]
    mass: Annotated[
        Figure, f.measure("1.2 kg/each", "kg/each", "kg/m", "kg/m2", "kg/m3", "", low=0.0)
    ]


class Materials(CatalogueRecord):
    """The file materials.yaml."""

    glass: Many[Glass] = ()
    resins: Many[Resin] = ()
    gelcoats: Many[Gelcoat] = ()
    catalysts: Many[Catalyst] = ()
    foam_components: Many[FoamComponent] = ()
    foams: Many[Foam] = ()
    bought: Many[Bought] = ()


def material_class(material: Material) -> str:
    """The cost class a material's cost is reported under."""
    if isinstance(material, Bought):
        return str(material.material_class)
    names = {Glass: "glass", Resin: "resin", Gelcoat: "gelcoat", Catalyst: "catalyst"}
    return names.get(type(material), "foam")


def density_of(material: Material) -> Figure | None:
    """The density that turns a price per volume into a price per mass, if the material has one."""
    for name in ("liquid_density", "density"):
        found = getattr(material, name, None)
        if isinstance(found, Figure):
            return found
    return None


def counted_in(material: Material) -> Unit:
    """What a material's quantity is counted in: kg, or for bought goods what their mass is per."""
    return unit("kg") / material.mass.unit if isinstance(material, Bought) else unit("kg")


def price_per(price: Figure) -> Unit:
    """What a price is for: kg for EUR/kg, no unit for a price of one piece."""
    money = Unit(tuple((symbol, 1) for symbol, _ in price.unit.parts if symbol.isupper()))
    return money / price.unit


def said(counted: Unit) -> str:
    """A unit in words, a piece being `each`."""
    return str(counted) or "each"
