"""Records of materials: glass, resins, gelcoats, catalysts, foams and what is bought ready-made."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.units import Unit, unit

MIXED = ("mat", "woven")  # a rule for mixed content is of these; stitched glass is no roving
SPRAYED = "gun roving"


class Material(CatalogueRecord):
    """What every purchased material has; its price stands in the price lists."""

    id: f.Identifier
    """Names the material in price lists, stacks, parts and models, and for `--set price.ID`.
    Example: `resin_inj`"""
    name: f.Words
    """What the material is called on shop papers, in reviews and workbooks.
    Example: `Injection resin`"""
    supplier: Annotated[Text, f.ref("supplier")] | None = None
    """Whose price counts; needed where more than one supplier quotes it.
    Unless given: whoever quotes it.
    Example: `quenmoor`"""
    family: f.Identifier | None = None
    """The family that announced rises name (`rises.csv`), such as all polyester resins.
    Example: `polyester`"""
    pack: f.Pack | None = None
    """What a drum, roll or other pack holds. Prices per pack are divided by it; the plan tells
    whole packs a month. No cost is rounded to packs.
    Example: `220 kg`"""
    loss: f.Loss | None = None
    """The fraction of what is issued that never reaches the product: issued = net / (1 - loss).
    Offcuts of a nest come on top.
    Unless given: none.
    Example: `6 %`"""
    waste_on_net: f.Number | None = None
    """The waste as a fraction of the net amount, for a yard that knows it so: issued = net x
    (1 + waste). It stands in the place of `loss`.
    Example: `18 %`"""
    store: f.Words | None = None
    """The store that it is drawn from, in words: papers for a boat on the floor list what to fetch
    store by store.
    Unless given: it stands among what has no store.
    Example: `Resin store`"""
    note: f.Note | None = None


class Glass(Material):
    """A reinforcement by areal mass."""

    form: Annotated[str, f.choice("mat", "woven", "stitched", "veil", "flow core", SPRAYED)]
    """What kind of reinforcement it is; where a stack has a rule for mixed content, it is for mat
    and woven glass, and every other kind keeps a content of its own. A gun chops `gun roving` and
    sprays it with its resin.
    Example: `mat`"""
    areal_mass: f.ArealMass
    """Dry mass of one layer by area, or of one pass of the gun; glass, resin and thickness of every
    zone it is laid in follow. Ounces alone are per `ft2` for mat, per `yd2` for woven and stitched
    glass, as the trade names them.
    Example: `450 g/m2`"""
    glass_content: f.Passed
    """Glass as a mass fraction of the laminate it makes. In an open mould the resin follows; in a
    closed one only the thickness, by which plies are held against the gap.
    Example: `30 %`"""
    infused_content: f.Passed | None = None
    """Glass as a mass fraction of what it makes under a vacuum bag, where it packs more closely;
    the resin of an infused part follows.
    Unless given: a stack or an infused part says it.
    Example: `60 %`"""
    roll_width: f.Length | None = None
    """The width of the roll; with the overlap it says how much more glass the seams take. Prices
    and packs by the running metre or yard are converted by it.
    Example: `1.25 m`"""
    overlap: f.Extent | None = None
    """How far one width laps over the next; narrower than the roll.
    Unless given: no seams are counted.
    Example: `50 mm`"""


class Resin(Material):
    """A laminating or injection resin."""

    liquid_density: f.Density
    """The density as it is poured: injected resin fills the cavity by it, and prices per volume
    are converted by it.
    Example: `1.10 kg/L`"""
    cured_density: f.Density
    """The density after cure; the thickness of plies follows.
    Example: `1.20 kg/L`"""
    catalyst: Annotated[Text, f.ref("catalyst")]
    """The peroxide that cures the resin.
    Example: `peroxide`"""
    catalyst_fraction: f.Fraction
    """Catalyst as a fraction of the resin issued; cost and mixing lists follow.
    Example: `1.5 %`"""
    pot_life: f.Duration | None = None
    """How long a catalysed pot can be worked, at the dose and the warmth of the shop; shop papers
    part a mix into pots that are used up within it. The data sheet and the day decide.
    Unless given: no pot is smaller for it.
    Example: `25 min`"""
    styrene: f.Fraction | None = None
    """The styrene content as supplied, for the estimate of organic vapour by how operations apply
    the resin. No compliance record.
    Unless given: no estimate is made, unless `organic_hap` tells it all; headlines say so.
    Example: `34 %`"""
    methyl_methacrylate: f.Fraction | None = None
    """The content of methyl methacrylate, which counts beside styrene.
    Unless given: none.
    Example: `2 %`"""
    organic_hap: f.Fraction | None = None
    """All organic HAP as supplied, where it is more than styrene and methyl methacrylate, or not
    told apart.
    Unless given: the sum of the two.
    Example: `38 %`"""


class Gelcoat(Material):
    """A gelcoat of one colour, applied by hand or by spray."""

    colour: f.Words
    """The colour in words, on shop papers and in workbooks.
    Example: `stone grey`"""
    density: f.Density
    """The density as it is sprayed: the film's mass follows, and prices per volume are converted
    by it.
    Example: `1.25 kg/L`"""
    wet_thickness: f.Length
    """The thickness of the wet film; the mass of gelcoat on each face follows.
    Example: `0.5 mm`"""
    cured_share: f.Passed | None = None
    """What cure leaves of the wet film's thickness, and so of its volume; a closed mould's cavity
    is smaller by the cured film on each face. The mass stays that of the wet film.
    Unless given: 85 % (common practice, no source).
    Example: `88 %`"""
    transfer: f.Passed
    """The fraction of the gelcoat sprayed or brushed that ends up on the part; issued = film /
    transfer, before any `loss`.
    Example: `78 %`"""
    catalyst: Annotated[Text, f.ref("catalyst")]
    """The peroxide that cures the gelcoat.
    Example: `peroxide`"""
    catalyst_fraction: f.Fraction
    """Catalyst as a fraction of the gelcoat issued; cost and mixing lists follow.
    Example: `2 %`"""
    pot_life: f.Duration | None = None
    """How long a catalysed pot can be worked, at the dose and the warmth of the shop; shop papers
    part a mix into pots that are used up within it. The data sheet and the day decide.
    Unless given: no pot is smaller for it.
    Example: `25 min`"""
    kind: Annotated[str, f.choice("pigmented", "clear", "tooling")] = "pigmented"
    """Which of the rule's kinds it is; the yearly limit for organic vapour differs.
    Example: `clear`"""
    styrene: f.Fraction | None = None
    """The styrene content as supplied, for the estimate of organic vapour from gelcoating. No
    compliance record.
    Unless given: no estimate is made, unless `organic_hap` tells it all; headlines say so.
    Example: `29 %`"""
    methyl_methacrylate: f.Fraction | None = None
    """The content of methyl methacrylate, which counts beside styrene.
    Unless given: none.
    Example: `4 %`"""
    organic_hap: f.Fraction | None = None
    """All organic HAP as supplied, where it is more than styrene and methyl methacrylate, or not
    told apart.
    Unless given: the sum of the two.
    Example: `35 %`"""


class Catalyst(Material):
    """An organic peroxide, dosed as a fraction of the resin or gelcoat issued."""

    density: f.Density | None = None
    """The density, by which prices per volume are converted, and doses told by volume on shop
    papers.
    Unless given: doses are told by mass alone.
    Example: `1.10 kg/L`"""


class FoamComponent(Material):
    """One component of a two-part foam."""

    density: f.Density | None = None
    """The density of the liquid component, by which prices per volume are converted.
    Example: `1.23 kg/L`"""


class Foam(CatalogueRecord):
    """A two-part foam system by mass ratio; not bought itself, its components are."""

    id: f.Identifier
    """Names the foam in core parts.
    Example: `core_foam`"""
    name: f.Words
    """What the foam is called in the yard.
    Example: `Core foam`"""
    component_a: Annotated[Text, f.ref("foam_component")]
    """The first component.
    Example: `core_polyol`"""
    component_b: Annotated[Text, f.ref("foam_component")]
    """The second component.
    Example: `core_iso`"""
    parts_a: f.Positive
    """Parts by mass of the first component; the foam issued is split by the ratio.
    Example: `100`"""
    parts_b: f.Positive
    """Parts by mass of the second component; the foam issued is split by the ratio.
    Example: `112`"""
    free_rise_density: f.Density
    """The density that the foam rises to in the open; times the packing factor and the volume it
    makes the mass of a core.
    Example: `90 kg/m3`"""
    packing_factor: f.Positive
    """How much more densely the closed mould packs it than free rise.
    Example: `1.4`"""
    loss: f.Loss | None = None
    """The fraction of the foam issued that never reaches a core: issued = net / (1 - loss).
    Unless given: none.
    Example: `7 %`"""
    waste_on_net: f.Number | None = None
    """The waste as a fraction of the foam in the core, in the place of `loss`.
    Example: `8 %`"""
    note: f.Note | None = None


class Bought(Material):
    """Hardware, sheet core, consumables and other goods, by the piece, metre, area or mass."""

    material_class: Annotated[str, f.choice("hardware", "core", "consumable", "other")]
    """The class that its cost is told under, such as `material.hardware`.
    Example: `hardware`"""
    mass: Annotated[
        Figure, f.measure("1.2 kg/each", "kg/each", "kg/m", "kg/m2", "kg/m3", "", low=0.0)
    ]
    """What one piece, metre or square metre adds to the boat; what it is per is what quantities
    and prices of the item count. `100 %` for goods counted by mass.
    Example: `0.85 kg/each`"""
    drawn_as: Annotated[str, f.choice("hinge", "latch", "handle", "leg")] | None = None
    """What it is in drawings of options for customers, where it then stands as often as it is
    fitted; public.
    Unless given: it is not drawn.
    Example: `hinge`"""
    resin_uptake: (
        Annotated[Figure, f.measure("0.6 kg/m2", "kg/m2", "kg/m", "kg/each", low=0.0)] | None
    ) = None
    """Resin that one of it takes up in an infusion: a core in its grooves, holes and cells, a flow
    medium or peel ply in its mesh. What is built in keeps it in the part, the rest is lost.
    Unless given: none.
    Example: `0.6 kg/m2`"""
    roll_width: f.Length | None = None
    """The width of the roll of what is counted by area, such as a film or peel ply; prices and
    packs by the running metre or yard are converted by it.
    Unless given: no such price converts.
    Example: `1.5 m`"""
    density: f.Density | None = None
    """The density of what is counted by mass, such as an adhesive, by which prices and packs by
    volume are converted.
    Unless given: no such price converts.
    Example: `1.35 kg/L`"""


class Materials(CatalogueRecord):
    """The file of materials: what the yard buys, with how much of it is lost."""

    glass: Many[Glass] = ()
    """Reinforcements."""
    resins: Many[Resin] = ()
    """Laminating and injection resins."""
    gelcoats: Many[Gelcoat] = ()
    """Gelcoats, one for each colour."""
    catalysts: Many[Catalyst] = ()
    """Peroxides for resins and gelcoats."""
    foam_components: Many[FoamComponent] = ()
    """What foams are mixed of."""
    foams: Many[Foam] = ()
    """Foam systems of two components."""
    bought: Many[Bought] = ()
    """Hardware, core sheets, consumables and all else that is bought ready-made."""


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
