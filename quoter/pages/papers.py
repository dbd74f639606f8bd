"""Shop papers: what to cut, mix and draw for an option, and the route its parts take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from quoter.catalogue.materials import Gelcoat, Resin, said
from quoter.catalogue.parts import CorePart
from quoter.catalogue.prices import Catalogue
from quoter.costing.assembly import Assembly, entry_of
from quoter.costing.operations import OperationCost
from quoter.costing.order import ONE, Made, in_building_order, left_out
from quoter.costing.rates import Rates
from quoter.figures import Figure, constant, total
from quoter.pages.environment import asset, locale_of, page_environment, render
from quoter.pages.internal import decimal
from quoter.pages.paper_views import (
    DrawRow,
    LeftOut,
    MaterialRow,
    MouldRow,
    Paper,
    PartPaper,
    StepRow,
)
from quoter.pricing.price import Priced, PricedModel, Pricing
from quoter.takeoff.quantities import Line

ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/paper.css": "internal/papers/paper.css",
}
DIGITS = {"kg": 3, "g": 1, "m": 2, "m2": 2, "m3": 3}
RAISED = str.maketrans({"2": "\N{SUPERSCRIPT TWO}", "3": "\N{SUPERSCRIPT THREE}"})
NO_TIME = constant(0.0, "h")


def paper_pages(pricing: Pricing) -> dict[str, bytes]:
    """Path below internal/papers/ -> content: an index, and a paper per model and option.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    catalogue = pricing.catalogue
    environment = page_environment(locale_of(catalogue.yard.markets[0]), catalogue.currency)
    shown = {"yard": str(catalogue.yard.company.name), "as_of": catalogue.as_of}
    papers = papers_of(pricing)
    models = {paper.model_id: (paper.model, list[Paper]()) for paper in papers}
    for paper in papers:
        models[paper.model_id][1].append(paper)
    index = render(environment, "internal/papers/index.html", root="", models=models, **shown)
    pages = {"index.html": index}
    for paper in papers:
        pages[f"{paper.model_id}/{paper.option_id}.html"] = render(
            environment, "internal/papers/paper.html", root="../", paper=paper, **shown
        )
    return pages | {path: asset(source) for path, source in ASSETS.items()}


def papers_of(pricing: Pricing) -> tuple[Paper, ...]:
    """A paper for every option on every model that can have it."""
    return tuple(
        _paper(pricing, model, id, priced)
        for model in pricing.models.values()
        for id, priced in model.options.items()
    )


def for_batch(one: Figure, batch: Figure | None) -> Figure:
    """What a batch takes of something that one unit takes; without a batch, that of one."""
    return one if batch is None else one * batch


def _paper(pricing: Pricing, model: PricedModel, id: str, priced: Priced) -> Paper:
    whole, catalogue, rates = priced.assembly, pricing.catalogue, pricing.costing.rates
    made = in_building_order(whole)
    colour: Gelcoat = catalogue.records.of("gelcoat")[str(model.model.hull_colour)]
    return Paper(
        model_id=str(model.model.id),
        model=str(model.model.name),
        hull_colour=str(colour.colour),
        option_id=id,
        option=whole.name,
        batch=_count(whole.recipe.batch),
        parts=tuple(
            _part(catalogue, rates, one)
            for one in made
            if one.assembly.operations or one.assembly.materials
        ),
        left_out=tuple(
            LeftOut(use.assembly.name, decimal(-use.quantity)) for use in left_out(whole)
        ),
        moulds=tuple(_moulds(catalogue, made, whole.recipe.batch)),
        draws=tuple(_draws(rates, made, whole.recipe.batch)),
    )


def _part(catalogue: Catalogue, rates: Rates, made: Made) -> PartPaper:
    assembly = made.assembly
    recipe, batch = assembly.recipe, assembly.recipe.batch
    standard = total([step.standard for step in assembly.operations], NO_TIME)
    return PartPaper(
        id=recipe.key.replace(".", "-"),
        name=assembly.name,
        quantity=decimal(made.quantity),
        batch=_count(batch),
        area=_given(recipe.drivers.get("area")),
        perimeter=_given(recipe.drivers.get("perimeter")),
        volume=_given(recipe.drivers.get("volume")),
        passed=_given(assembly.passed),
        mix=_mix(catalogue, recipe.id),
        materials=tuple(_materials(catalogue, rates, assembly)),
        steps=tuple(
            _step(catalogue, rates, assembly, index, step)
            for index, step in enumerate(assembly.operations)
        ),
        time=_minutes(standard),
        batch_time=_minutes(for_batch(standard, batch)),
    )


def _mix(catalogue: Catalogue, part: str) -> tuple[Decimal, Decimal] | None:
    core = catalogue.records.of("core").get(part)
    if not isinstance(core, CorePart):
        return None
    foam = catalogue.records.of("foam")[str(core.foam)]
    return decimal(foam.parts_a), decimal(foam.parts_b)


def _materials(catalogue: Catalogue, rates: Rates, assembly: Assembly) -> Iterator[MaterialRow]:
    shares: dict[tuple[str, str], Decimal] = {}
    for material in assembly.materials:
        line = material.line
        record = catalogue.records.materials[line.material]
        if isinstance(record, Resin | Gelcoat):
            shares[line.stage, line.use] = decimal(record.catalyst_fraction)
        catalyst = material.material_class == "catalyst"
        share = shares.get((line.stage, line.use)) if catalyst else None
        yield _material(line, rates.names[line.material], material.material_class, share, assembly)


def _material(
    line: Line, name: str, kind: str, share: Decimal | None, assembly: Assembly
) -> MaterialRow:
    batch = assembly.recipe.batch
    net, issued = _weighed(kind, line.net), _weighed(kind, line.issued)
    return MaterialRow(
        name=name,
        use="" if line.use == name else line.use,
        kind=kind,
        area=_given(line.area),
        layers=_given(line.layers),
        net=decimal(net),
        issued=decimal(issued),
        batch_net=decimal(for_batch(net, batch)),
        batch_issued=decimal(for_batch(issued, batch)),
        unit=_unit(issued),
        digits=_digits(issued),
        share=share,
    )


def _weighed(kind: str, amount: Figure) -> Figure:
    """Catalyst is weighed in grams."""
    return amount.shown_in("g") if kind == "catalyst" else amount


def _unit(amount: Figure) -> str:
    return said(amount.unit).translate(RAISED)


def _digits(amount: Figure) -> int:
    """What is counted has decimals only where it is not whole."""
    whole = amount.value == round(amount.value)
    return DIGITS.get(str(amount.unit), 0 if whole else 2)


def _step(
    catalogue: Catalogue, rates: Rates, assembly: Assembly, index: int, step: OperationCost
) -> StepRow:
    operation = step.operation
    return StepRow(
        number=index + 1,
        name=str(operation.name),
        station=str(catalogue.records.stations[str(operation.station)].name),
        crew=_given(operation.crew),
        setup=None if operation.setup is None else _minutes(operation.setup),
        one=_minutes(step.standard),
        batch=_minutes(for_batch(step.standard, assembly.recipe.batch)),
        cure=_given(operation.cure),
        machine=None if operation.machine is None else _minutes(operation.machine),
        passes=_given(operation.passes),
        enters=tuple(dict.fromkeys(_entering(rates, assembly, index))),
        hazards=tuple(str(hazard) for hazard in operation.hazards),
    )


def _entering(rates: Rates, assembly: Assembly, index: int) -> Iterator[str]:
    """Parts first, then materials, as the costing lets them enter."""
    recipe = assembly.recipe
    if entry_of(recipe, "core") == index:
        yield from (use.assembly.name for use in recipe.uses if not use.credit)
    for material in assembly.materials:
        if entry_of(recipe, material.line.stage) == index:
            yield rates.names[material.line.material]


def _moulds(catalogue: Catalogue, made: Sequence[Made], batch: Figure | None) -> Iterator[MouldRow]:
    for one in made:
        for id, _ in one.assembly.tooling:
            name = str(catalogue.records.moulds[id].name)
            both = decimal(one.quantity), decimal(for_batch(one.quantity, batch))
            yield MouldRow(name, one.assembly.name, *both)


def _draws(rates: Rates, made: Sequence[Made], batch: Figure | None) -> Iterator[DrawRow]:
    """What the whole draws from stores, by material; units that are scrapped come on top."""
    found: dict[str, list[Figure]] = {}
    for one in made:
        for material in one.assembly.materials:
            issued = material.line.issued
            amount = issued if one.quantity is ONE else issued * one.quantity
            found.setdefault(material.line.material, []).append(amount)
    kinds = list(
        dict.fromkeys(("glass", "gelcoat", "resin", "catalyst", "foam", *rates.classes.values()))
    )
    for id in sorted(found, key=lambda id: kinds.index(rates.classes[id])):
        kind = rates.classes[id]
        one = _weighed(kind, total(found[id], found[id][0]))
        both = decimal(one), decimal(for_batch(one, batch))
        yield DrawRow(rates.names[id], kind, *both, _unit(one), _digits(one))


def _given(figure: Figure | None) -> Decimal | None:
    return None if figure is None else decimal(figure)


def _count(batch: Figure | None) -> Decimal:
    return Decimal(1) if batch is None else decimal(batch)


def _minutes(time: Figure) -> Decimal:
    return decimal(time.shown_in("min"))
