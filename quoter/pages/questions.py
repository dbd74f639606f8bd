"""Pages of questions: the planned year, and for each option what an estimator asks of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from quoter.analysis.answers import Answers, PulledPart
from quoter.analysis.findings import Findings, ModelFindings
from quoter.analysis.hull_moulds import hold_of
from quoter.analysis.ladder import ladders_of
from quoter.analysis.long_lead import built_cost
from quoter.analysis.plan import MaterialNeed
from quoter.analysis.rolls import CuttingList
from quoter.costing.assembly import Assembly
from quoter.costing.elements import SHOWN, label_of
from quoter.costing.rates import pack_content
from quoter.costing.rollup import Costing
from quoter.figures import Figure, constant
from quoter.figures.graph import input_behind
from quoter.pages.certainty import certainty_json, certainty_of
from quoter.pages.charts import Lines, bars, lines
from quoter.pages.environment import assets, office_environment, render
from quoter.pages.figured import decimal
from quoter.pages.history import line_view

NOTHING = constant(0.0)
FULL = 1.0
ASSETS = {
    "assets/questions.css": "internal/questions/questions.css",
    "assets/history.css": "internal/history.css",
}


@dataclass(frozen=True, slots=True)
class NeedRow:
    """A material a month; `bought` is the need in the unit of a pack, written as `pack`."""

    need: MaterialNeed
    bought: Figure | None
    pack: str


def plan_page(findings: Findings) -> dict[str, bytes]:
    """Path below internal/review/ -> content: plan.html, and what it and options' pages need.

    The review's own pages bring the rest of that.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    pricing, plan, costing = findings.pricing, findings.plan, findings.pricing.costing
    stations = sorted(plan.stations, key=lambda load: -load.utilisation.value)
    planned = render(
        office_environment(pricing.catalogue),
        "internal/questions/plan.html",
        root="",
        catalogue=pricing.catalogue,
        pricing=pricing,
        plan=plan,
        year=findings.year,
        stations=stations,
        built=[
            (model, built)
            for model in pricing.models.values()
            if (built := built_cost(pricing, model.boat.assembly, findings.moved)) is not None
        ],
        loads=bars([load.utilisation for load in stations], FULL),
        needs=[_need(costing, need) for need in plan.materials],
    )
    return {"plan.html": planned} | assets(ASSETS, findings.pricing.catalogue.paper)


def option_pages(asked: ModelFindings) -> dict[str, bytes]:
    """Path below internal/review/ -> content: a page for each option that a model can have, and
    how sure its costs are as data.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    environment, id = office_environment(asked.pricing.catalogue), asked.model.model.id
    pages = {
        f"{id}/{answers.priced.assembly.recipe.id}.html": render(
            environment, "internal/questions/option.html", root="../", **_option(asked, answers)
        )
        for answers in asked.answers
    }
    return pages | {f"{id}/certainty.json": certainty_json(asked)}


def _option(asked: ModelFindings, answers: Answers) -> dict[str, Any]:
    """What the page of an option shows."""
    pricing, catalogue = asked.pricing, asked.pricing.catalogue
    assembly = answers.priced.assembly
    line = asked.history.options[assembly.recipe.id]
    elements = list(elements_of(assembly, pricing.costing.rates.station_names))
    cutting = CuttingList(catalogue, assembly)
    return {
        "catalogue": catalogue,
        "terms": pricing.terms,
        "past": line_view(
            line, decimal(pricing.terms.floor), catalogue.as_of, page=True, small=False
        ),
        "built": asked.built(assembly),
        "hull": hold_of(pricing, asked.model, assembly.recipe.id),
        "calendar": catalogue.yard.policy.shift_calendar is not None,
        "answers": answers,
        "ladders": () if answers.standard else ladders_of(pricing.terms, answers.priced),
        "assembly": assembly,
        "groups": SHOWN,
        "elements": elements,
        "rolls": cutting.costs(),
        "boats": cutting.boats,
        "by_machine": any(roll.by_machine for roll in cutting.rolls),
        "element_bars": bars([cost for _, cost, _ in elements]),
        **certainty_of(asked, answers.priced),
        "curves": [_curve(part) for part in answers.moulded],
    }


def elements_of(
    assembly: Assembly, stations: Mapping[str, str]
) -> Iterator[tuple[str, Figure, Figure]]:
    """Each element of a cost in words, its cost and its share of the whole.

    Args:
        assembly: whose cost
        stations: names by id
    """
    whole = assembly.cost
    for element, cost in assembly.elements.items():
        yield label_of(element, stations), cost, cost / whole if whole.value else NOTHING


def _curve(part: PulledPart) -> Lines:
    planned = max((pulls.value for pulls in part.pulls.values()), default=None)
    return lines(part.curve.volumes, part.curve.costs, part.curve.sets, planned)


def _need(costing: Costing, need: MaterialNeed) -> NeedRow:
    """`bought` is how many packs the need is, times what a pack is written to hold."""
    material = costing.catalogue.records.materials[need.material]
    if material.pack is None:
        return NeedRow(need, None, "")
    written = input_behind(material.pack)
    amount = need.amount / pack_content(material) * written
    # Told as an input: in the unit that the pack is written in.
    as_written = Figure(amount.value, amount.unit, "input")
    pack = costing.catalogue.reader.shown(written)
    return NeedRow(need, as_written, pack.origin.text if pack.origin is not None else "")
