"""Records of parts: open-mould and infused laminates, closed-mould panels and cores."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.certainty import Basis
from quoter.catalogue.operations import STAGES, Operation
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure

LIES = ("inside", "outside", "upright")
# The lists of parts.yaml; whatever names a part may name one of any.
PART_KINDS = ("open_mould", "infused", "closed_mould", "core")
EDGES = ("left", "right", "top", "bottom")
SEEN_AS = ("door", "lid", "panel", "ramp", "roof", "seat", "step")
SHOWN = ("thickness", "core", "laminate")


class Shape(CatalogueRecord):
    """Dimensions of a part: a rectangle, a circle, or area and perimeter written by hand.

    A shape given by an option replaces only what it names of the part's own; new sides or a new
    diameter also drop area, perimeter and volume that were written by hand.
    """

    width: f.Length | None = None
    """The width of a rectangle; it needs a height.
    Example: `720 mm`"""
    height: f.Length | None = None
    """The height of a rectangle; it needs a width.
    Example: `840 mm`"""
    corner_radius: f.Extent | None = None
    """The radius of a rectangle's corners, at most half its shorter side; area and edge follow.
    Unless given: square corners.
    Example: `90 mm`"""
    diameter: f.Length | None = None
    """The diameter of a circle; it stands in the place of width and height.
    Example: `560 mm`"""
    area: f.Area | None = None
    """The area, where it is not that of the rectangle or circle. Zones, faces, goods and times go
    by it.
    Example: `0.42 m2`"""
    perimeter: f.Length | None = None
    """The length of the edge, where it is not that of the rectangle or circle. Strips, goods and
    times go by it.
    Example: `3.2 m`"""
    thickness: f.Length | None = None
    """How thick a core is; with the area it makes its volume.
    Example: `38 mm`"""
    volume: f.Volume | None = None
    """The volume of a core; the mass of its foam follows.
    Example: `18 L`"""


class Zone(CatalogueRecord):
    """A region with its own stack; without an area, strip or share it is the whole part."""

    name: f.Words
    """What the zone is called in problems, workbooks and on cutting lists.
    Example: `landing`"""
    laminate: Annotated[Text, f.ref("laminate")]
    """The stack of plies that is laid here.
    Example: `landing_stack`"""
    area: f.Area | None = None
    """The zone's area, written by hand.
    Example: `0.3 m2`"""
    strip: f.Length | None = None
    """The width of a strip along the whole edge; its area is the perimeter times this, with each
    corner counted once.
    Example: `90 mm`"""
    lies: Annotated[str, f.choice(*LIES)] | None = None
    """Where the strip lies: `inside` the edge, `outside` it as the lap around an opening does, or
    `upright` on it as the sides of an opening are. Inside it is no wider than half the part.
    Unless given: inside.
    Example: `outside`"""
    share: Annotated[Figure | Text, f.share_measure("100 %", low=0.0, above_low=True)] | None = None
    """The zone as a share of the part's area; more than 100 % where it overlaps. `the rest` is what
    the other zones leave of it, those `outside` the edge and `upright` on it apart.
    Example: `60 %`"""
    gap: f.Length | None = None
    """In a closed mould, the distance between the bare mould faces; less the cured gelcoat on both,
    the cavity's volume and so the injected resin follow. Plies, core and gelcoat must fit into it.
    Example: `8 mm`"""
    core: f.Extent | None = None
    """In a closed mould, how thick the core is in the gap; less resin is injected by its volume.
    Unless given: no core.
    Example: `30 mm`"""

    @property
    def is_rest(self) -> bool:
        """Whether it is what the part's other zones leave."""
        return isinstance(self.share, Text)

    @property
    def within(self) -> bool:
        """Whether it takes of the part's area: no strip outside the edge or upright on it does."""
        return self.strip is None or self.lies in (None, "inside")


class Face(CatalogueRecord):
    """A gelcoated face; without an area, strip or share it is the whole part."""

    colour: Annotated[Text, f.ref("gelcoat", "hull colour")]
    """The gelcoat of the face, or `hull` for the model's hull colour.
    Example: `gel_white`"""
    area: f.Area | None = None
    """The gelcoated area, written by hand.
    Example: `0.5 m2`"""
    strip: f.Length | None = None
    """The width of a gelcoated strip along the whole edge; its area is the perimeter times this,
    with each corner counted once.
    Example: `180 mm`"""
    lies: Annotated[str, f.choice(*LIES)] | None = None
    """Where the strip lies: `inside` the edge, `outside` it, or `upright` on it.
    Unless given: inside.
    Example: `upright`"""
    share: Annotated[Figure, f.measure("100 %", "", low=0.0, above_low=True)] | None = None
    """The face as a share of the part's area.
    Example: `110 %`"""


class Goods(CatalogueRecord):
    """A bought item consumed or built in: a quantity, or an amount by the part's edge and area."""

    item: Annotated[Text, f.ref("bought")]
    """The bought item.
    Example: `hinge`"""
    quantity: f.Amount | None = None
    """How much of it one part or option takes, in the unit its `mass` is per. An option always
    states it; a part may state an amount per edge or area instead.
    Example: `2`"""
    per_perimeter: Annotated[Figure, f.measure("0.1 kg/m", "", "each/m", "kg/m", "m")] | None = None
    """How much of it each metre of the part's edge takes; beside `per_area` it adds to that, such
    as the margin of a bag, `0.25 m` wide.
    Example: `0.06 kg/m`"""
    per_area: Annotated[Figure, f.measure("0.2 kg/m2", "", "each/m2", "kg/m2", "m/m2")] | None = (
        None
    )
    """How much of it each square metre of the part takes; `1.15` of a film is 15 % for overlaps
    and pleats.
    Example: `0.04 kg/m2`"""
    lasts: f.Some | None = None
    """How many pulls one amount of it is used for, such as a silicone bag; each bears its share.
    Unless given: one.
    Example: `60`"""
    stage: Annotated[str, f.choice(*STAGES)] = "goods"
    """The stage that it enters with: at the operation that `uses` it, for what scrap takes along.
    Example: `gelcoat`"""
    built_in: f.Truth = True
    """Whether it stays in the boat and adds its mass; workshop goods don't.
    Example: `no`"""


class Drawing(CatalogueRecord):
    """How customers see a part in the drawings of the price sheet; public.

    Its outline is drawn to scale and its sides, radius or diameter are told. Nothing else of the
    part is, unless `shows` names it.
    """

    what: Annotated[str, f.choice(*SEEN_AS)]
    """What customers call it, in the words beside the drawing; public.
    Example: `door`"""
    view: Annotated[str, f.choice("front", "side", "above")]
    """From where it is seen; public.
    Example: `front`"""
    hinges: Annotated[str, f.choice(*EDGES)] | None = None
    """The edge that its hinges stand on, as it is seen; latches and handles stand across from it.
    How many there are follows from goods that say by `drawn_as` what they are; public.
    Unless given: no hinges are drawn.
    Example: `left`"""
    shape: Shape | None = None
    """Its outline as it is seen, where the part's shape is one that it is costed by, such as the
    area of a box laid flat; `thickness` is what `shows: [thickness]` then tells; public.
    Unless given: the part's own shape."""
    clear: Shape | None = None
    """The clear opening that it leaves, a rectangle or circle within the outline; public.
    Unless given: none is drawn."""
    shows: Many[Annotated[str, f.choice(*SHOWN)]] = ()
    """What a section beside it tells: the `thickness` of the whole (the widest `gap` of a closed
    mould), the thickness of its `core`, or how many layers of glass the `laminate` of its thickest
    zone has; public.
    Unless given: no section is drawn.
    Example: `[thickness, core]`"""


class Part(CatalogueRecord):
    """What every part has."""

    id: f.Identifier
    """Names the part in options, cores and shop papers.
    Example: `side_door`"""
    name: f.Words
    """What the part is called on shop papers, in reviews and workbooks.
    Example: `Side door`"""
    shape: Shape
    """Its dimensions, which an option may change for itself or for one model."""
    drawing: Drawing | None = None
    """How customers see it, drawn beside each option that it is a part of; public.
    Unless given: it is not drawn."""
    batch: f.Whole | None = None
    """How many parts are made together and share each set-up; shop papers are for a batch.
    Unless given: 1.
    Example: `6`"""
    basis: Basis | None = None
    """What times, dimensions and quantities rest on: a `drawing`, a `similar` part, or `timed` and
    measured on the floor. How far they may be out follows.
    Unless given: a similar part.
    Example: `drawing`"""
    moulds: Many[Annotated[Text, f.ref("mould")]] = ()
    """The moulds that each part takes one pull of; their cost per pull is its tooling.
    Example: `[side_door_ab]`"""
    goods: Many[Goods] = ()
    """Bought items and workshop goods that the part takes."""
    operations: Many[Operation] = ()
    """The route: the work on one part, in order."""
    note: f.Note | None = None


class OpenMouldPart(Part):
    """A laminate laid by hand or sprayed in an open mould, or laid into a hull side against a
    return mould.

    An opening in a hull side needs scantlings by a qualified person: nothing here approves them.
    """

    gelcoat: Many[Face] = ()
    """Its gelcoated faces."""
    resin: Annotated[Text, f.ref("resin")] | None = None
    """The resin that its plies are wetted with, by their glass content; needed where it has zones.
    Example: `resin_lam`"""
    zones: Many[Zone] = ()
    """Regions with their stacks; a part of gelcoat alone has none."""
    nest_utilisation: f.Passed | None = None
    """The part of the glass issued that ends up in the part: net glass is divided by it. What is
    left is offcut. What a gun sprays has none.
    Unless given: all of it.
    Example: `82 %`"""
    alternative_to: Annotated[Text, f.ref("closed_mould", "infused")] | None = None
    """The closed-mould panel or infused part that does the same job; the review sets the costs of
    both beside each other. No option needs to use the part.
    Example: `hatch_lid`"""


class InfusedPart(Part):
    """A laminate infused under a vacuum bag: gelcoat and skin coat laid open, then a dry kit.

    Bag, peel ply, flow medium, tape and lines are its `goods`: by area and edge, reusable or not.
    """

    gelcoat: Many[Face] = ()
    """Its gelcoated faces."""
    resin: Annotated[Text, f.ref("resin")]
    """The resin infused: as much as the dry plies hold at their fibre content, and what core, flow
    medium and lines take.
    Example: `resin_inf`"""
    skin_resin: Annotated[Text, f.ref("resin")] | None = None
    """The resin of the plies of stage `skin`, which are laid open behind the gelcoat.
    Unless given: `resin`.
    Example: `resin_lam`"""
    zones: Many[Zone]
    """Regions with their stacks; at least one. Plies of stage `skin` are laid open and take their
    own glass content, all others are the dry kit."""
    fibre_volume: f.Passed | None = None
    """The target: volume of glass in that of the laminate, for all of the dry kit. The content by
    mass follows.
    Unless given: `glass_content`.
    Example: `50 %`"""
    glass_content: f.Passed | None = None
    """The target as a mass fraction, in the place of `fibre_volume`.
    Unless given: ply by ply, that of the stack, else the `infused_content` of its glass.
    Example: `66 %`"""
    lines_and_pot: f.Mass | None = None
    """Resin left in feed lines, pot and trap at each shot; issued with what the part holds.
    Unless given: none.
    Example: `0.8 kg`"""
    bag_pressure: f.Pressure
    """How far the pressure under the bag is below the atmosphere; at most 101.325 kPa.
    Example: `92 kPa`"""
    nest_utilisation: f.Passed | None = None
    """The part of the glass issued that ends up in the part: net glass is divided by it.
    Unless given: all of it.
    Example: `86 %`"""


class CoreUse(CatalogueRecord):
    """Cores placed in a panel's cavity."""

    part: Annotated[Text, f.ref("core")]
    """The core that is laid in.
    Example: `door_core`"""
    quantity: f.Whole | None = None
    """How many of it one panel takes. Where a panel has one kind, they fill what its zones leave
    for the core, and the core's own shape must agree.
    Unless given: 1.
    Example: `2`"""


class Vacuum(CatalogueRecord):
    """What holds the moulds shut; the clamp force follows, in the workbook and its checks."""

    flange_pressure: f.Pressure
    """How far the pressure at the flange is below the atmosphere; at most 101.325 kPa.
    Example: `85 kPa`"""
    flange_area: f.Area
    """The area of the flange that this pressure acts on.
    Example: `0.09 m2`"""
    cavity_pressure: f.Pressure
    """How far the pressure in the cavity is below the atmosphere; at most 101.325 kPa.
    Example: `45 kPa`"""
    cavity_area: f.Area
    """The area of the cavity that this pressure acts on.
    Example: `0.29 m2`"""


class ClosedMouldPart(Part):
    """A panel by light resin transfer moulding: gelcoat on both faces, dry kit, core, injection."""

    gelcoat: Many[Face] = ()
    """Its gelcoated faces, as a rule the outer in hull colour and the inner in white."""
    resin: Annotated[Text, f.ref("resin")]
    """The resin injected: it fills what fibre and core leave of the cavity.
    Example: `resin_inj`"""
    zones: Many[Zone]
    """Regions with their stacks and gaps; at least one."""
    cores: Many[CoreUse] = ()
    """The cores that are laid into the kit."""
    gallery_and_catch_pot: f.Mass | None = None
    """Resin left in gallery and catch pot at each shot; issued with what the panel holds.
    Unless given: none.
    Example: `0.3 kg`"""
    nest_utilisation: f.Passed | None = None
    """The part of the kit's glass issued that ends up in the panel: net glass is divided by it.
    Unless given: all of it.
    Example: `86 %`"""
    vacuum: Vacuum
    """Pressures and areas that hold the moulds shut."""


class CorePart(Part):
    """A block foamed in its own closed mould, or in a closed space of the boat; no gelcoat."""

    foam: Annotated[Text, f.ref("foam")]
    """The foam that fills its volume; the mass of both components follows.
    Example: `core_foam`"""
    buoyancy: f.Truth = False
    """Whether it counts as flotation; the workbook then tells the buoyancy it gives.
    Example: `yes`"""


MouldedPart = OpenMouldPart | InfusedPart | ClosedMouldPart
AnyPart = MouldedPart | CorePart


class Parts(CatalogueRecord):
    """The file of parts: what the yard makes, from shape, stack and route."""

    open_mould: Many[OpenMouldPart] = ()
    """Laminates laid or sprayed in open moulds, or laid into a hull side."""
    infused: Many[InfusedPart] = ()
    """Laminates infused under a bag, on one mould."""
    closed_mould: Many[ClosedMouldPart] = ()
    """Panels injected between two mould halves."""
    core: Many[CorePart] = ()
    """Blocks of foam, for panels or for flotation."""
