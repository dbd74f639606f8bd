"""Records of parts: open-mould laminates, closed-mould panels and cores."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.operations import STAGES, Operation
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text
from quoter.figures import Figure


class Shape(CatalogueRecord):
    """Dimensions of a part: a rectangle, a circle, or area and perimeter written by hand."""

    width: f.Length | None = None
    height: f.Length | None = None
    corner_radius: f.Extent | None = None
    diameter: f.Length | None = None
    area: f.Area | None = None
    perimeter: f.Length | None = None
    thickness: f.Length | None = None
    volume: f.Volume | None = None


class Zone(CatalogueRecord):
    """A region with its own stack: an area, a strip along the edge, or a share of the part's area.

    In a closed mould `gap` is the cavity between the mould faces and `core` what the core fills.
    """

    name: f.Words
    laminate: Annotated[Text, f.ref("laminate")]
    area: f.Area | None = None
    strip: f.Length | None = None
    share: Annotated[Figure, f.measure("100 %", "", low=0.0, above_low=True)] | None = None
    gap: f.Length | None = None
    core: f.Extent | None = None


class Face(CatalogueRecord):
    """A gelcoated face: a gelcoat's id, or `hull` for the model's hull colour."""

    colour: Annotated[Text, f.ref("gelcoat", "hull colour")]
    area: f.Area | None = None
    strip: f.Length | None = None
    share: Annotated[Figure, f.measure("100 %", "", low=0.0, above_low=True)] | None = None


class Goods(CatalogueRecord):
    """A bought item consumed or built in: a quantity, or an amount per edge or area."""

    item: Annotated[Text, f.ref("bought")]
    quantity: f.Amount | None = None
    per_perimeter: Annotated[Figure, f.measure("0.1 kg/m", "", "each/m", "kg/m")] | None = None
    per_area: Annotated[Figure, f.measure("0.2 kg/m2", "", "each/m2", "kg/m2")] | None = None
    stage: Annotated[str, f.choice(*STAGES)] = "goods"
    built_in: f.Truth = True


class Part(CatalogueRecord):
    """What every part has; `batch` is how many share one set-up."""

    id: f.Identifier
    name: f.Words
    shape: Shape
    batch: f.Whole | None = None
    moulds: Many[Annotated[Text, f.ref("mould")]] = ()
    goods: Many[Goods] = ()
    operations: Many[Operation] = ()
    note: f.Note | None = None


class OpenMouldPart(Part):
    """A laminate laid by hand in an open mould, or into a hull side against a return mould.

    `alternative_to` names the closed-mould panel that does the same job, to compare costs with.
    """

    gelcoat: Many[Face] = ()
    resin: Annotated[Text, f.ref("resin")] | None = None
    zones: Many[Zone] = ()
    nest_utilisation: f.Passed | None = None
    alternative_to: Annotated[Text, f.ref("closed_mould")] | None = None


class CoreUse(CatalogueRecord):
    """Cores placed in a panel's cavity."""

    part: Annotated[Text, f.ref("core")]
    quantity: f.Whole | None = None


class Vacuum(CatalogueRecord):
    """Pressure below the atmosphere at flange and in the cavity, with the areas they act on."""

    flange_pressure: f.Pressure
    flange_area: f.Area
    cavity_pressure: f.Pressure
    cavity_area: f.Area


class ClosedMouldPart(Part):
    """A panel by light resin transfer moulding: gelcoat on both faces, dry kit, core, injection."""

    gelcoat: Many[Face] = ()
    resin: Annotated[Text, f.ref("resin")]
    zones: Many[Zone]
    cores: Many[CoreUse] = ()
    gallery_and_catch_pot: f.Mass | None = None
    nest_utilisation: f.Passed | None = None
    vacuum: Vacuum


class CorePart(Part):
    """A block foamed in its own closed mould, or in a closed space of the boat; no gelcoat."""

    foam: Annotated[Text, f.ref("foam")]
    buoyancy: f.Truth = False


class Parts(CatalogueRecord):
    """The file parts.yaml."""

    open_mould: Many[OpenMouldPart] = ()
    closed_mould: Many[ClosedMouldPart] = ()
    core: Many[CorePart] = ()
