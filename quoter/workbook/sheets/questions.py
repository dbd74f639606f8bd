"""Sheets that answer an estimator's questions: what moves a cost, what a price allows, what goes
into the air."""

from __future__ import annotations

from collections.abc import Sequence

from quoter.analysis.answers import Alternative, Answers, Target, ways_of
from quoter.analysis.findings import ModelFindings
from quoter.analysis.ladder import ladders_of
from quoter.analysis.sensitivity import LiveEffect, a_rise, live_effects
from quoter.costing.assembly import Assembly
from quoter.costing.elements import SHOWN
from quoter.costing.rates import CostRates
from quoter.figures import Figure
from quoter.phrases import capital, phrase
from quoter.pricing.price import Priced
from quoter.pricing.sale import Terms
from quoter.workbook.sheets.costs import WIDE, assembly_name
from quoter.workbook.sources import source_of
from quoter.workbook.table import (
    Block,
    Chart,
    Column,
    Flag,
    InputCell,
    Paragraphs,
    Row,
    Sheet,
    Table,
    UnitOf,
    lead_on,
)

MOST_EFFECTS = 12
LONG = 44.0  # digits for the name of an input

ABOUT_SLOPES = (
    "Effect = value x slope x rise. Values follow the sheet Inputs, the rise is yours to change, "
    "and the effects follow both. The slopes are numbers of this build: how far the cost moves "
    "with one unit of the input (with 100 % of a percentage) where the build stood. They do not "
    "follow.",
    "Where a slope holds exactly, the cost is a straight line in that input: the effect is exact "
    "for every rise until a limit or a rounding step is passed, or another input has changed. "
    "Where it holds nearly, the cost bends, and the effect is good for small rises. "
    "Exact in any case: change the input on Inputs and read the cost again.",
    "Inputs stand in the order of what could really move the cost: what their range does to it, "
    "from the low end to the high one, each worked out anew by this build. Which range it is, Risk "
    "says. A rise ends where the input can rise no further, as a yield does at 100 %.",
)
LADDER = (
    "Price ladder: the list price, without tax and before rounding, at which a class of buyer "
    "would pay for this, provisions paid"
)
ABOUT_PAYBACK = (
    "An option's contribution before it bears a mould: what a sale at the first class of buyer "
    "leaves over variable cost, and what it bears of the mould's outlay. Options to pay back = "
    "outlay / contribution; months = 12 x outlay / (contribution x planned a year), as planned on "
    "all models. Interest is left out, and so is what other options bring that share the mould.",
    "Another set is paid by the pulls beyond what one set can make, and by them alone; where there "
    "are none, none is needed. What is planned is a number of this build and does not follow.",
)
ABOUT_EMISSION = (
    "An estimate by the point values of 40 CFR 63 Subpart VVVV, not a compliance record. "
    "What is scrapped or mended counts; resin injected into a closed mould enters at zero "
    "(63.5728), the gelcoat sprayed before it does not.",
    "The boat counts as it is built up or stated: resin and gelcoat that it states by amount, and "
    "its standard options. What it states as cost tells no mass, and gives off nothing here.",
)


def sensitivity_sheet(asked: ModelFindings) -> Sheet:
    """The inputs that move each option's cost most, ranked, with the effect of a rise."""
    rise, priced = a_rise(), asked.model
    first = max(priced.extras.values(), default=priced.boat, key=lambda i: i.assembly.cost.value)
    others = [item for item in priced.boat_and_options if item is not first]
    name = first.assembly.name
    foremost = _effects(asked, [first], rise, name, "effects_first")
    entry = Table(
        (Column("Asked", width=LONG), Column("Rise")),
        (Row(("Rise of each input in turn", InputCell(rise))),),
    )
    chart = Chart(
        title=phrase("What a rise of each input adds to the cost of one {name}", name=name),
        table="effects_first",
        categories="Input",
        values=("Effect of the rise",),
        value_title="Effect of the rise",
        category_title="Input",
        description=phrase(
            "Bars, the largest effect on top: what the rise of each input does to the "
            "cost of {name}",
            name=name,
        ),
    )
    return Sheet(
        "Sensitivity",
        phrase("{name}: which inputs move a cost most", name=priced.model.name),
        (
            entry,
            Paragraphs(ABOUT_SLOPES),
            foremost,
            *([chart] if foremost.rows else []),
            _effects(
                asked,
                others,
                rise,
                phrase("The base boat and the other options"),
                "effects_others",
                grouped=True,
            ),
        ),
        then=lead_on("Risk", "how sure each cost is"),
    )


def _effects(
    asked: ModelFindings,
    sold: Sequence[Priced],
    rise: Figure,
    title: str,
    name: str,
    *,
    grouped: bool = False,
) -> Table:
    rows = []
    for item in sold:
        assembly = item.assembly
        cost, key = assembly.cost, assembly.recipe.key
        foremost = asked.effects(cost)[:MOST_EFFECTS]
        effects = live_effects(cost, foremost, rise, key, assembly.name)
        if grouped:
            rows.append(Row((assembly.name, *(None,) * 9), kind="group"))
        rows += [_effect(effect, asked.shared_by(effect.figure) - 1) for effect in effects]
    columns = (
        Column("Input", width=LONG),
        Column("Value", unit="", width=14),
        Column("Unit", width=10),
        Column("At its low", width=14),
        Column("At its high", width=14),
        Column("Slope of this build", unit=phrase("cost per unit"), width=14),
        Column("Effect of the rise", width=14),
        Column("Of the cost", width=10),
        Column("The slope holds", width=10),
        Column("Also moves", width=14),
    )
    return Table(columns, tuple(rows), title=title, name=name, workings=grouped)


def _effect(effect: LiveEffect, others: int) -> Row:
    also = phrase("{count} others", count=others) if others else ""
    if others == 1:
        also = phrase("1 other")
    holds = "exactly" if effect.straight else "nearly"
    cells = (
        effect.figure.label,
        effect.figure,
        UnitOf(effect.figure),
        effect.low,
        effect.high,
        effect.slope,
        effect.effect,
        effect.fraction,
        holds,
        also,
    )
    return Row(cells, source_of(effect.figure))


def target_sheet(asked: ModelFindings) -> Sheet:
    """What cost each list price allows, and the cut that each element alone would take."""
    found = [(item, asked.targets[item.assembly.recipe.key]) for item in asked.model.everything]
    name = asked.model.model.name
    buyer = asked.pricing.terms.buyers[0].name
    return Sheet(
        "Targets",
        phrase(
            "{name}: what each list price lets a thing cost, and how far it is from it", name=name
        ),
        (
            Paragraphs(
                (
                    phrase(
                        "Cost allowed = net price x (1 - provisions - target margin), at the first "
                        "class of buyer ({buyer}). The gap is cost above it; negative is room "
                        "left.",
                        buyer=buyer,
                    ),
                    "A cut closes the gap in one element alone, all others as they are. Above "
                    "100 % the element alone can't; negative is by how much it may grow.",
                )
            ),
            _targets(found),
            _cuts(found),
            _ladders(asked.pricing.terms, [item for item, _ in found]),
        ),
        then=lead_on("Payback", "when moulds pay for themselves"),
    )


def _targets(found: Sequence[tuple[Priced, Target]]) -> Table:
    rows = tuple(
        Row(
            (
                item.assembly.name,
                item.list_price,
                next(iter(item.sales.values())).net,
                target.allowed,
                item.assembly.cost,
                target.gap,
                Flag(target.met, "on target", "ABOVE"),
            ),
            str(item.assembly.recipe.place),
        )
        for item, target in found
    )
    columns = (
        Column("Boat, option or package", width=WIDE),
        Column("List price", form="bare"),
        Column("Net price", form="bare"),
        Column("Cost allowed", form="bare"),
        Column("Full cost", form="bare"),
        Column("Gap", form="bare"),
        Column("Cost"),
    )
    return Table(columns, rows, title="Target costs", name="targets")


def _ladders(terms: Terms, sold: Sequence[Priced]) -> Table:
    rows = tuple(
        Row(
            (item.assembly.name, str(ladder.buyer.name), *ladder.rungs, ladder.today),
            str(item.assembly.recipe.place),
        )
        for item in sold
        for ladder in ladders_of(terms, item)
    )
    columns = (
        Column("Boat, option or package", width=WIDE),
        Column("Class of buyer", width=18),
        Column("For variable cost", form="bare"),
        Column("For full cost", form="bare"),
        Column("For the floor", form="bare"),
        Column("For the target", form="bare"),
        Column("List price today", form="bare"),
    )
    return Table(columns, rows, title=LADDER, name="ladder", workings=True)


def _cuts(found: Sequence[tuple[Priced, Target]]) -> Table:
    every = [{attack.group: attack.cut for attack in target.attacks} for _, target in found]
    groups = [group for group in SHOWN if any(cuts.get(group) is not None for cuts in every)]
    rows = []
    for (item, _), cuts in zip(found, every, strict=True):
        cells = (item.assembly.name, *(cuts.get(group) for group in groups))
        rows.append(Row(cells, str(item.assembly.recipe.place)))
    columns = (
        Column("Boat, option or package", width=WIDE),
        *(Column(SHOWN[group], form="percent") for group in groups),
    )
    return Table(columns, tuple(rows), title="Cut needed in one element alone", name="cuts")


def payback_sheet(asked: ModelFindings) -> Sheet:
    """When the moulds of each option pay for themselves, and what a closed mould competes with."""
    found = {
        (row.by_hand.recipe.key, row.panel.recipe.key): row
        for answers in asked.answers
        for row in answers.alternatives
    }
    blocks: list[Block] = [Paragraphs(ABOUT_PAYBACK), _paybacks(asked.answers)]
    if found:
        blocks.append(_crossings(list(found.values())))
    heading = phrase(
        "{name}: when moulds pay for themselves at today's prices", name=asked.model.model.name
    )
    then = lead_on("Sensitivity", "which inputs move a cost most")
    return Sheet("Payback", heading, tuple(blocks), then=then)


def _paybacks(found: Sequence[Answers]) -> Table:
    rows = []
    for answers in found:
        name, line = answers.priced.assembly.name, str(answers.priced.assembly.recipe.place)
        for one in answers.paybacks:
            cells = (
                name,
                one.name,
                one.invested,
                one.contribution,
                one.units,
                one.yearly,
                one.months,
                one.beyond,
                one.next_months,
            )
            rows.append(Row(cells, line))
    columns = (
        Column("Option", width=WIDE),
        Column("Mould", width=30),
        Column("Outlay", form="bare"),
        Column("Contribution of one", form="bare"),
        Column("Options to pay back"),
        Column("Planned a year"),
        Column("Months"),
        Column("Pulls beyond one set"),
        Column("Months of another set"),
    )
    return Table(columns, tuple(rows), title="When moulds pay for themselves", name="paybacks")


def _crossings(found: Sequence[Alternative]) -> Table:
    ways = ways_of(found)
    heads = {
        "by hand or infused": phrase("Part by hand, then infused"),
        "by hand or in a closed mould": phrase("Part by hand, then in a closed mould"),
    }
    head = heads.get(ways, phrase("Part by hand, then in a closed mould or infused"))
    rows = []
    for row in found:
        crossing = row.crossing
        for at, part in enumerate((row.by_hand, row.panel)):
            volume = crossing.volume if part is row.panel else None
            cells = (part.name, part.cost, crossing.charges[at], crossing.each[at], volume)
            rows.append(Row(cells, str(part.recipe.place)))
    columns = (
        Column(head, width=WIDE),
        Column("Cost as planned", form="bare"),
        Column("Charge of moulds a year", form="bare"),
        Column("Cost of one without it", form="bare"),
        Column("Takes over from, parts a year"),
    )
    return Table(columns, tuple(rows), title=capital(ways), name="crossings")


def emission_sheet(asked: ModelFindings, assemblies: Sequence[Assembly]) -> Sheet:
    """Mass added and organic HAP given off, by boat and option, and by material line."""
    rates, gas = asked.pricing.costing.rates, asked.emissions
    sold = [item.assembly for item in asked.model.everything]
    rows = tuple(
        Row((one.name, one.mass, gas[one.recipe.key]), str(one.recipe.place)) for one in sold
    )
    columns = (
        Column("Boat, option or package", width=WIDE),
        Column("Mass added"),
        Column("Organic HAP"),
    )
    by_unit = Table(columns, rows, title="By good unit", name="emissions")
    return Sheet(
        "Emissions",
        phrase(
            "{name}: mass each option adds, and organic HAP its making gives off",
            name=asked.model.model.name,
        ),
        (Paragraphs(ABOUT_EMISSION), by_unit, _emitting(assemblies, rates)),
        then=lead_on("Take-off", "every material line behind the costs"),
    )


def _emitting(assemblies: Sequence[Assembly], rates: CostRates) -> Table:
    rows = tuple(
        Row(
            (
                assembly_name(assembly),
                rates.names[material.line.material],
                material.line.use,
                material.line.issued,
                material.line.emission,
            ),
            str(material.line.place),
        )
        for assembly in assemblies
        for material in assembly.materials
        if material.line.emission is not None
    )
    columns = (
        Column("Part or option", width=WIDE),
        Column("Material", width=30),
        Column("Use", width=22),
        Column("Issued"),
        Column("Organic HAP"),
    )
    title = "By material, per unit worked on (before what yields take)"
    return Table(columns, rows, title=title, name="emitting", workings=True)
