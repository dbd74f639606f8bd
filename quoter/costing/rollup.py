"""All of a catalogue costed: each part once, each option on each model, each base boat."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from quoter.catalogue.checks import offered
from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.colours import follows_hull, standard_colour
from quoter.catalogue.examples import speak, told
from quoter.catalogue.factory import Station
from quoter.catalogue.materials import Gelcoat, Resin
from quoter.catalogue.options import Credit, Model, Option, PartUse
from quoter.catalogue.parts import PART_KINDS, AnyPart, ClosedMouldPart, CorePart, Goods, Shape
from quoter.catalogue.prices import Catalogue
from quoter.costing.assembly import ONE as ONCE
from quoter.costing.assembly import Assembly, Recipe, Stated, Use, cost_assembly
from quoter.costing.given_off import BY_HAND, Applied, given_off, kind_of
from quoter.costing.goods import goods_line
from quoter.costing.quantities import NO_MASS, STATED, MaterialLine, overridden
from quoter.costing.rates import CostRates, rates_of
from quoter.costing.recolour import Recoloured, recoloured
from quoter.costing.takeoff import take_off
from quoter.figures import Figure, constant
from quoter.phrases import phrase, together
from quoter.problems import Problem, Problems

ONE = constant(1.0)
SAME_VOLUME = 0.02  # a block that differs more from its panel's cavity was measured for another

# Kinds of records that tell parts of the same name apart, in the order they are looked up in.
_TELL_APART = (*PART_KINDS, "option", "package", "model", "gelcoat")


@dataclass(frozen=True, slots=True)
class ModelCost:
    """A model's boat with its standard options, and each option it can have, by id.

    `recoloured` is what a hull colour changes in each other option, by (option, colour).
    """

    model: Model
    base: Assembly
    options: dict[str, Assembly]
    recoloured: Recoloured = field(default_factory=dict)


@dataclass(slots=True)
class Costing:
    """The result every output reads: rates, parts by key, models by id.

    `alternatives` are open-mould parts to compare a closed-mould panel or infused part with, by the
    id of that.
    """

    catalogue: Catalogue
    rates: CostRates
    parts: dict[str, Assembly] = field(default_factory=dict)
    alternatives: dict[str, Assembly] = field(default_factory=dict)
    models: dict[str, ModelCost] = field(default_factory=dict)

    @property
    def stations(self) -> dict[str, Station]:
        """The stations by id, in the order of the catalogue."""
        return self.catalogue.records.stations


def roll_up(catalogue: Catalogue, problems: Problems, only: str = "") -> Costing:
    """Cost every option on every model that can have it, and every base boat.

    Args:
        catalogue: all of it
        problems: is told what does not fit together
        only: the id of the one model that is asked about, if one is
    """
    speak(catalogue.yard.units)
    costing = Costing(catalogue, rates_of(catalogue))
    models = catalogue.records.models
    for model in [models[only]] if only else models.values():
        made = _made(costing, model, problems)
        records = catalogue.records
        options = {id: made(id, "") for id, o in records.options.items() if offered(o, model)}
        standard = [Use(options[name], ONCE, name.place) for name in model.standard]
        base = _base_boat(costing, model, standard, problems)
        moved = recoloured(costing.rates, records, model, made)
        costing.models[str(model.id)] = ModelCost(model, base, options, moved)
    _add_alternatives(costing, problems)
    return costing


def _add_alternatives(costing: Costing, problems: Problems) -> None:
    models = costing.catalogue.records.models.values()
    colour = next((str(model.hull_colour) for model in models), "")
    for part in costing.catalogue.records.of("open_mould").values():
        if part.alternative_to is not None:
            made = cost_part(costing, part, None, "", colour, problems)
            costing.alternatives[str(part.alternative_to)] = made


def _made(costing: Costing, model: Model, problems: Problems) -> Callable[[str, str], Assembly]:
    """Options of the model by id and hull colour, "" for its own; each is costed once.

    One that another credits is costed first, in the same colour.
    """
    found: dict[tuple[str, str], Assembly] = {}
    records = costing.catalogue.records
    own = standard_colour(records, model)

    def cost(id: str, colour: str) -> Assembly:
        option = records.options[id]
        if not follows_hull(records, option):
            colour = str(option.hull_colour or own)
        asked = colour or own
        if (id, asked) not in found:
            deleted = {
                str(c.option): cost(str(c.option), asked) for c in option.credits if c.option
            }
            found[id, asked] = _option(costing, option, model, problems, deleted, asked)
        return found[id, asked]

    return cost


def _option(
    costing: Costing,
    option: Option,
    model: Model,
    problems: Problems,
    deleted: dict[str, Assembly],
    colour: str,
) -> Assembly:
    """An option whose hull-coloured faces get a colour; what a colour replaces had the boat's."""
    uses = []
    named: tuple[PartUse | Credit, ...] = (*option.parts, *option.credits)
    for number, use in enumerate(named, 1):
        if isinstance(use, Credit) and use.option is not None:
            uses.append(_credited(use, deleted[use.option]))
        else:
            replaced = isinstance(use, Credit) and option.hull_colour is not None
            faces = str(model.hull_colour) if replaced else colour
            uses.append(_use(costing, str(option.id), use, number, model, faces, problems))
    usual = option.hull_colour or standard_colour(costing.catalogue.records, model)
    key = f"option.{model.id}.{option.id}" + (f"__{colour}" if colour != usual else "")
    recipe = Recipe(
        id=str(option.id),
        key=key,
        name=str(option.name),
        place=option.place,
        lines=_goods(costing, option.goods, key),
        operations=option.operations,
        drivers={"count": ONE},
        uses=uses,
        batch=option.batch,
        one_off=option.one_off,
    )
    return cost_assembly(recipe, costing.rates)


def _goods(costing: Costing, goods: Sequence[Goods], key: str) -> list[MaterialLine]:
    return [
        goods_line(costing.catalogue, each, None, f"{key}.goods{number}")
        for number, each in enumerate(goods, 1)
    ]


def _use(
    costing: Costing,
    owner: str,
    use: PartUse | Credit,
    number: int,
    model: Model,
    colour: str,
    problems: Problems,
) -> Use:
    """The owner's `number`-th use of a part, in a shape of its own where it gives one."""
    shape, suffix = use.shape, f"__{owner}__{number}" if use.shape is not None else ""
    if model.id in use.per_model:
        shape, suffix = use.per_model[model.id], f"__{owner}__{number}__{model.id}"
    part = costing.catalogue.records.parts[str(use.part)]
    assembly = cost_part(costing, part, shape, suffix, colour, problems)
    quantity = use.quantity if use.quantity is not None else ONE
    if isinstance(use, Credit):
        return _credited(use, assembly)
    return Use(assembly, quantity, use.place)


def _credited(credit: Credit, assembly: Assembly) -> Use:
    """What the option deletes, or a stated share of it, at cost."""
    quantity = credit.quantity if credit.quantity is not None else ONE
    share = credit.share if credit.share is not None else ONE
    return Use(assembly, -(quantity * share), credit.place, credit=True)


def cost_part(
    costing: Costing,
    part: AnyPart,
    shape: Shape | None,
    suffix: str,
    hull_colour: str,
    problems: Problems,
) -> Assembly:
    """A part's cost in one shape and hull colour, computed once; `suffix` tells shapes apart."""
    coloured = any(face.colour == "hull" for face in getattr(part, "gelcoat", ()))
    key = f"part.{part.id}{suffix}" + (f"__{hull_colour}" if coloured else "")
    if key in costing.parts:
        return costing.parts[key]
    off = take_off(costing.catalogue, part, key, shape, hull_colour)
    problems.extend(off.problems)
    uses: list[Use] = []
    if isinstance(part, ClosedMouldPart):
        uses = _cores(costing, part, off.drivers["core volume"], key, shape, problems)
    recipe = Recipe(
        id=str(part.id),
        key=key,
        name=off.name,
        place=part.place,
        lines=off.lines,
        operations=part.operations,
        drivers=off.drivers,
        notable=off.notable,
        limits=off.limits,
        moulds=[str(mould) for mould in part.moulds],
        uses=uses,
        batch=part.batch,
        variant=_variant(costing, key, off.name),
        shape=overridden(part.shape, shape),
    )
    costing.parts[key] = cost_assembly(recipe, costing.rates)
    return costing.parts[key]


def _variant(costing: Costing, key: str, own: str) -> str:
    """What a part's key has beyond its id, in words: whose use of it, on which model, in what."""
    by_kind = costing.catalogue.records.by_kind
    words: list[str] = []
    for id in key.split("__")[1:]:
        plain = id.removeprefix("in_")
        known = (by_kind.get(kind, {}).get(plain) for kind in _TELL_APART)
        name = next((str(record.name) for record in known if record is not None), plain)
        if name == own or name == "1":
            continue
        if name.isdigit():
            words.append(phrase("no. {number}", number=name))
        else:
            words.append(phrase("in {name}", name=name) if plain != id else name)
    return together(", ", words) if words else ""


def _cores(
    costing: Costing,
    part: ClosedMouldPart,
    filled: Figure,
    key: str,
    shape: Shape | None,
    problems: Problems,
) -> list[Use]:
    """The blocks a panel consumes; a single kind of block fills exactly what its zones leave.

    The block's own shape must agree with that within `SAME_VOLUME`.
    """
    uses = []
    for core in part.cores:
        block: CorePart = costing.catalogue.records.of("core")[core.part]
        quantity = core.quantity if core.quantity is not None else ONE
        own, suffix = None, ""
        if len(part.cores) == 1:
            own = Shape.model_construct(volume=filled / quantity)
            suffix = f"__in_{key.removeprefix('part.')}"
        assembly = cost_part(costing, block, own, suffix, "", problems)
        if own is not None and shape is None:
            problems.extend(_volume_differs(costing, part, block, filled / quantity))
        uses.append(Use(assembly, quantity, core.place))
    return uses


def _volume_differs(
    costing: Costing, part: ClosedMouldPart, block: CorePart, filled: Figure
) -> list[Problem]:
    measured = take_off(costing.catalogue, block, "measured", None, "").drivers["volume"]
    if abs(measured.value - filled.value) <= SAME_VOLUME * filled.value:
        return []
    what = (
        f"core '{block.id}' holds {told(measured.value, 'm3', '.1f')}, "
        f"the zones of '{part.id}' leave {told(filled.value, 'm3', '.1f')} for it"
    )
    return [
        Problem(
            block.place, "does-not-fit", what, "make the block's shape and the zones' core agree"
        )
    ]


def _base_boat(
    costing: Costing, model: Model, standard: Sequence[Use], problems: Problems
) -> Assembly:
    """A model without extra options: what it is built up from, what is stated for it, and its
    standard options."""
    key, base, owner = f"boat.{model.id}", model.base, f"boat__{model.id}"
    own = standard_colour(costing.catalogue.records, model)
    stated = [_stated_line(costing, model, str(id), key) for id in base.materials]
    parts = [
        _use(costing, owner, use, number, model, own, problems)
        for number, use in enumerate(base.parts, 1)
    ]
    recipe = Recipe(
        id=str(model.id),
        key=key,
        name=str(model.name),
        place=model.place,
        lines=[*_goods(costing, base.goods, key), *stated],
        operations=base.operations,
        drivers={"count": ONE},
        uses=[*parts, *standard],
        batch=base.batch,
        one_off=model.one_off,
        stated=Stated(base.material, base.hours, base.tooling, base.mass),
    )
    return cost_assembly(recipe, costing.rates)


def _stated_line(costing: Costing, model: Model, id: str, key: str) -> MaterialLine:
    """A material that the boat states by amount; its mass is within the boat's."""
    amount, material = model.base.materials[id], costing.catalogue.records.materials[id]
    label, gas = f"{model.name}: {material.name}", None
    if isinstance(material, Resin | Gelcoat):
        by = Applied(str(model.base.applied or BY_HAND))
        where = f"{key}.materials.{id}"
        gas = given_off(material, kind_of(material), by, amount, where, label)
    return MaterialLine(
        material=id,
        use=phrase("stated"),
        stage=STATED,
        net=amount,
        issued=amount,
        mass=NO_MASS,
        place=figure_place(amount),
        given_off=gas,
    )
