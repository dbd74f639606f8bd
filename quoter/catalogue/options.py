"""Records of what is sold: options, models and planned volumes."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from quoter.catalogue import fields as f
from quoter.catalogue.parts import Goods, Operation, Shape
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Block, Text


def _blocks_by_id(raw: object) -> object:
    if not isinstance(raw, Block | dict):
        raise f.fault(
            "wrong-structure", "holds no ids with values", "write 'an_id: …' on a line for each"
        )
    return dict(raw)


ById = BeforeValidator(_blocks_by_id)


class PartUse(CatalogueRecord):
    """A part used by an option; a shape given here, or for one model, overrides the part's own."""

    part: Annotated[Text, f.ref("open_mould", "closed_mould", "core")]
    quantity: f.Some | None = None
    shape: Shape | None = None
    per_model: Annotated[dict[Any, Shape], ById] = Field(default_factory=dict)


class Credit(CatalogueRecord):
    """What an option deletes: a part, or another option's whole content, or a stated share."""

    part: Annotated[Text, f.ref("open_mould", "closed_mould", "core")] | None = None
    option: Annotated[Text, f.ref("option")] | None = None
    quantity: f.Some | None = None
    share: f.Fraction | None = None
    shape: Shape | None = None
    per_model: Annotated[dict[Any, Shape], ById] = Field(default_factory=dict)


class Option(CatalogueRecord):
    """A priced choice; a boat can have one of those with the same words in `at_most_one`.

    `text`, `includes`, `excludes` and `lead_time` are public, `note` is not. `new_in` is the
    version of the price sheet that offers it first.
    """

    id: f.Identifier
    name: f.Translated
    group: f.TranslatedAlike
    kind: Annotated[str, f.choice("opening", "panel", "core", "colour", "fitting")]
    text: f.Translated
    models: Many[Annotated[Text, f.ref("model")]] = ()
    minimum_length: f.Length | None = None
    tax: f.Identifier | None = None
    includes: Many[f.Translated] = ()
    excludes: Many[f.Translated] = ()
    requires: Many[Annotated[Text, f.ref("option")]] = ()
    conflicts: Many[Annotated[Text, f.ref("option")]] = ()
    at_most_one: f.TranslatedAlike | None = None
    most: f.Whole | None = None
    lead_time: f.Translated
    new_in: f.Words | None = None
    batch: f.Whole | None = None
    parts: Many[PartUse] = ()
    goods: Many[Goods] = ()
    credits: Many[Credit] = ()
    operations: Many[Operation] = ()
    note: f.Note | None = None


class Package(CatalogueRecord):
    """Options sold together for less than their sum; the saving is a fraction of that sum.

    `new_in` is the version of the price sheet that offers it first.
    """

    id: f.Identifier
    name: f.Translated
    text: f.Translated
    options: Many[Annotated[Text, f.ref("option")]]
    saving: f.Loss
    new_in: f.Words | None = None
    note: f.Note | None = None


class Options(CatalogueRecord):
    """The file options.yaml."""

    options: Many[Option]
    packages: Many[Package] = ()


class BaseBoat(CatalogueRecord):
    """The stated content of the boat without options, with hours by station.

    `materials` are amounts of catalogue materials, which follow their prices; `material` is stated
    cost by class, for what is not listed so.
    """

    materials: Annotated[dict[Any, f.Amount], ById] = Field(default_factory=dict)
    material: Annotated[dict[Any, f.Money], ById] = Field(default_factory=dict)
    hours: Annotated[dict[Any, f.Duration], ById]
    tooling: f.Money | None = None
    mass: f.Mass
    note: f.Note | None = None


class Model(CatalogueRecord):
    """A boat model; `text` is public. `standard` options are included in its base price."""

    id: f.Identifier
    name: f.TranslatedName
    text: f.Translated
    length: f.Length
    beam: f.Length
    hull_colour: Annotated[Text, f.ref("gelcoat")]
    list_price: f.Money
    standard: Many[Annotated[Text, f.ref("option")]] = ()
    base: BaseBoat
    note: f.Note | None = None


class Models(CatalogueRecord):
    """The file models.yaml."""

    models: Many[Model]
