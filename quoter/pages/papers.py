"""Shop papers: what to cut, mix and draw for an option, and the route its parts take."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import partial

from quoter.analysis.rolls import CuttingList
from quoter.catalogue.colours import standard_colour
from quoter.catalogue.materials import Gelcoat
from quoter.catalogue.prices import Catalogue
from quoter.costing.assembly import (
    ONE,
    Assembly,
    Made,
    MaterialCost,
    Recipe,
    in_building_order,
    left_out,
)
from quoter.costing.operations import OperationCost
from quoter.costing.quantities import STATED, entry_of
from quoter.costing.rates import CostRates
from quoter.figures import Figure, constant, plain_number, round_up, total
from quoter.pages.cutting_list import cut_row, roll_view
from quoter.pages.environment import assets, office_locale, page_environment, render
from quoter.pages.figured import unit_words
from quoter.pages.mixing import DOSED, MIXED, for_batch, mix_ratio, mixes_of
from quoter.pages.mould_settings import (
    atmosphere,
    atmosphere_as_load,
    bag_of,
    cavities_of,
    checks_of,
    clamp_of,
    core_thickness,
)
from quoter.pages.paper_views import (
    ColourPaper,
    DrawRow,
    LeftOut,
    MaterialRow,
    MouldRow,
    Paper,
    PartPaper,
    StepRow,
)
from quoter.pages.part_drawing import drawing_of
from quoter.pages.picture_views import Drawing
from quoter.pricing.built import bare_boat
from quoter.pricing.price import PricedModel, Pricing
from quoter.units import NONE

ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/paper.css": "internal/papers/paper.css",
}
DIGITS = {"kg": 3, "g": 1, "m": 2, "m2": 2, "m3": 3}
# Classes of material by what is done with them; all others come ready-made.
CUT = ("glass",)
NO_TIME = constant(0.0, "h")
BASE, BASE_WORDS = "base-boat", "Base boat"  # an option's id has no hyphen


def paper_index(pricing: Pricing) -> dict[str, bytes]:
    """Path below internal/papers/ -> content: which papers there are, and what they need.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    names = {
        id: (
            str(priced.model.name),
            [(BASE, BASE_WORDS)] * _built_up(priced)
            + [(id, one.assembly.name) for id, one in priced.options.items()],
        )
        for id, priced in pricing.models.items()
        if priced.options or _built_up(priced)
    }
    index = _renderer(pricing)("internal/papers/index.html", root="", models=names)
    return {"index.html": index, **assets(ASSETS, pricing.catalogue.paper)}


def model_papers(pricing: Pricing, model: PricedModel) -> dict[str, bytes]:
    """Path below internal/papers/ -> content: a paper for each option that a model can have, and
    for its base boat where it is built up.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    rendered = _renderer(pricing)
    return {
        f"{paper.model_id}/{paper.option_id}.html": rendered(
            "internal/papers/paper.html", root="../", paper=paper
        )
        for paper in papers_of(pricing, model)
    }


def _renderer(pricing: Pricing) -> Callable[..., bytes]:
    catalogue = pricing.catalogue
    environment = page_environment(
        office_locale(catalogue.yard.markets[0]), catalogue.currency, own=True
    )
    yard = str(catalogue.yard.company.name)
    return partial(render, environment, yard=yard, as_of=catalogue.as_of)


def papers_of(pricing: Pricing, model: PricedModel) -> tuple[Paper, ...]:
    """A paper for the base boat, where it is built up, and for every option of a model."""
    base = [paper_for(pricing, model, BASE, BASE_WORDS, bare_boat(model))] * _built_up(model)
    options = model.options.items()
    return (
        *base,
        *(paper_for(pricing, model, id, o.assembly.name, o.assembly) for id, o in options),
    )


def _built_up(priced: PricedModel) -> bool:
    base = priced.model.base
    return bool(base.parts or base.goods or base.operations)


def paper_for(pricing: Pricing, model: PricedModel, id: str, name: str, whole: Assembly) -> Paper:
    """What a shop paper shows of a whole on a model: an option, or a boat."""
    catalogue, rates = pricing.catalogue, pricing.costing.rates
    made = in_building_order(whole)
    own = standard_colour(catalogue.records, model.model)
    colour: Gelcoat = catalogue.records.of("gelcoat")[own]
    cutting = CuttingList(catalogue, whole)
    return Paper(
        model_id=str(model.model.id),
        model=str(model.model.name),
        hull_colour=str(colour.colour),
        option_id=id,
        option=name,
        batch=_count(whole.recipe.batch),
        parts=tuple(
            _part(catalogue, rates, one, cutting)
            for one in made
            if one.assembly.operations or one.assembly.materials
        ),
        left_out=tuple(
            LeftOut(use.assembly.name, plain_number(-use.quantity)) for use in left_out(whole)
        ),
        moulds=tuple(_moulds(catalogue, made, whole.recipe.batch)),
        draws=tuple(_draws(rates, made, whole.recipe.batch)),
        rolls=tuple(roll_view(roll, catalogue.reader) for roll in cutting.rolls),
        atmosphere=atmosphere(catalogue.reader),
        as_load=atmosphere_as_load(catalogue.reader),
        colours=tuple(_colours(pricing, model, id, made)),
    )


def _colours(
    pricing: Pricing, model: PricedModel, id: str, made: Sequence[Made]
) -> Iterator[ColourPaper]:
    """Each hull colour that the boat can have in place of its own, as far as it changes a mix."""
    catalogue, rates = pricing.catalogue, pricing.costing.rates
    options, gelcoats = catalogue.records.options, catalogue.records.of("gelcoat")
    recoloured = pricing.costing.models[str(model.model.id)].recoloured
    for (option, colour), moved in recoloured.items():
        if option != id:
            continue
        anew = in_building_order(moved.recipe.uses[0].assembly)
        parts = []
        for usual, other in zip(made, anew, strict=True):
            before = _part(catalogue, rates, usual).mixes
            part = _part(catalogue, rates, other)
            both = zip(part.mixes, before, strict=True)
            if mixes := [mix for mix, was in both if mix.what != was.what]:
                parts.append(replace(part, mixes=tuple(mixes)))
        if parts:
            coat: Gelcoat = gelcoats[str(options[colour].hull_colour)]
            yield ColourPaper(str(coat.colour), str(options[colour].name), tuple(parts))


def _part(
    catalogue: Catalogue, rates: CostRates, made: Made, cutting: CuttingList | None = None
) -> PartPaper:
    assembly = made.assembly
    recipe, batch = assembly.recipe, assembly.recipe.batch
    materials = [each for each in assembly.materials if each.line.stage != STATED]
    standard = total([step.standard for step in assembly.operations], NO_TIME)
    return PartPaper(
        id=recipe.key.replace(".", "-"),
        name=assembly.name,
        quantity=plain_number(made.quantity),
        batch=_count(batch),
        area=_maybe(recipe.drivers.get("area")),
        perimeter=_maybe(recipe.drivers.get("perimeter")),
        volume=_maybe(recipe.drivers.get("volume")),
        passed=_maybe(assembly.passed),
        mix=mix_ratio(catalogue, recipe.id),
        cuts=tuple(
            cut_row(ply, _row(rates, assembly, ply.material), catalogue.reader)
            for ply in (cutting.plies.get(recipe.key, ()) if cutting else ())
        ),
        mixes=tuple(
            mixes_of(catalogue, rates, assembly, materials, partial(_row, rates, assembly))
        ),
        goods=tuple(
            _row(rates, assembly, material)
            for material in materials
            if material.material_class not in (*MIXED, *DOSED) and not _is_cut(material)
        ),
        steps=tuple(
            _step(catalogue, rates, assembly, index, step)
            for index, step in enumerate(assembly.operations)
        ),
        time=_minutes(standard),
        batch_time=_minutes(for_batch(standard, batch)),
        thickness=core_thickness(catalogue, recipe.id, recipe.shape),
        cavities=tuple(cavities_of(catalogue, recipe.id)),
        clamp=clamp_of(catalogue, recipe.id),
        bag=bag_of(catalogue, recipe.id),
        drawing=_drawing(catalogue, recipe),
        is_part=recipe.shape is not None,
    )


def _drawing(catalogue: Catalogue, recipe: Recipe) -> Drawing | None:
    """The drawing of a part; an option's own work has no shape."""
    if recipe.shape is None:
        return None
    return drawing_of(catalogue, catalogue.records.parts[recipe.id], recipe.shape)


def _is_cut(material: MaterialCost) -> bool:
    """Whether it is cut to plies; what a gun chops is not."""
    return material.line.cut is not None


def _row(rates: CostRates, assembly: Assembly, material: MaterialCost) -> MaterialRow:
    line, kind, batch = material.line, material.material_class, assembly.recipe.batch
    name = rates.names[line.material]
    net, issued = _weighed(kind, line.net), _weighed(kind, line.issued)
    decimals, pieces = _decimals(net)
    from_stores, for_all = _in_pieces(issued), _in_pieces(for_batch(issued, batch))
    return MaterialRow(
        name=name,
        use="" if line.use == name else line.use,
        kind=kind,
        area=_maybe(line.area),
        layers=_maybe(line.layers),
        net=plain_number(net),
        issued=plain_number(from_stores),
        batch_net=plain_number(for_batch(net, batch)),
        batch_issued=plain_number(for_all),
        unit=unit_words(issued),
        digits=decimals,
        pieces=pieces,
    )


def _weighed(kind: str, amount: Figure) -> Figure:
    """Catalyst is weighed in grams."""
    return amount.shown_in("g") if kind in DOSED else amount


def _in_pieces(amount: Figure) -> Figure:
    """Nobody draws a third of a screw: what is counted is issued whole, and costed as it is."""
    return round_up(amount) if amount.unit == NONE else amount


def _decimals(amount: Figure) -> tuple[int, bool]:
    """Decimals of an amount, and whether it is counted: then it has them where it is not whole."""
    whole = amount.value == round(amount.value)
    return DIGITS.get(str(amount.unit), 0 if whole else 2), amount.unit == NONE


def _step(
    catalogue: Catalogue, rates: CostRates, assembly: Assembly, index: int, step: OperationCost
) -> StepRow:
    operation = step.operation
    return StepRow(
        number=index + 1,
        name=str(operation.name),
        station=str(catalogue.records.stations[operation.station].name),
        crew=_count(operation.crew),
        setup=None if operation.setup is None else _minutes(operation.setup),
        one=_minutes(step.standard),
        batch=_minutes(for_batch(step.standard, assembly.recipe.batch)),
        cure=_maybe(operation.cure),
        machine=None if operation.machine is None else _minutes(operation.machine),
        passes=_maybe(operation.passes),
        enters=tuple(dict.fromkeys(_entering(rates, assembly, index))),
        hazards=tuple(str(hazard) for hazard in operation.hazards),
        checks=tuple(checks_of(catalogue.reader, operation)),
    )


def _entering(rates: CostRates, assembly: Assembly, index: int) -> Iterator[str]:
    """Parts first, then materials, as the costing lets them enter."""
    recipe = assembly.recipe
    if entry_of(recipe.operations, "core") == index:
        yield from (use.assembly.name for use in recipe.uses if not use.credit)
    for material in assembly.materials:
        stage = material.line.stage
        if stage != STATED and entry_of(recipe.operations, stage) == index:
            yield rates.names[material.line.material]


def _moulds(catalogue: Catalogue, made: Sequence[Made], batch: Figure | None) -> Iterator[MouldRow]:
    for one in made:
        for id, _ in one.assembly.tooling:
            name = str(catalogue.records.moulds[id].name)
            both = plain_number(one.quantity), plain_number(for_batch(one.quantity, batch))
            yield MouldRow(name, one.assembly.name, *both)


def _draws(rates: CostRates, made: Sequence[Made], batch: Figure | None) -> Iterator[DrawRow]:
    """What the whole draws from stores, by material; units that are scrapped come on top."""
    found: dict[str, list[Figure]] = {}
    for one in made:
        for material in one.assembly.materials:
            issued = material.line.issued
            amount = issued if one.quantity is ONE else issued * one.quantity
            found.setdefault(material.line.material, []).append(amount)
    kinds = list(dict.fromkeys((*CUT, *MIXED, *DOSED, *rates.classes.values())))
    for id in sorted(found, key=lambda id: kinds.index(rates.classes[id])):
        kind = rates.classes[id]
        boat = _weighed(kind, total(found[id], found[id][0]))
        drawn = _in_pieces(boat), _in_pieces(for_batch(boat, batch))
        both = plain_number(drawn[0]), plain_number(drawn[1])
        yield DrawRow(rates.names[id], kind, *both, unit_words(boat), *_decimals(boat))


def _maybe(number: Figure | None) -> Decimal | None:
    return None if number is None else plain_number(number)


def _count(number: Figure | None) -> Decimal:
    return Decimal(1) if number is None else plain_number(number)


def _minutes(time: Figure) -> Decimal:
    return plain_number(time.shown_in("min"))
