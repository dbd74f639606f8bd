"""Pages of questions: the planned year, and for each option what an estimator asks of it."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from quoter.analysis.answers import Alternative, MouldedPart, Target
from quoter.analysis.findings import Findings
from quoter.analysis.risk import Risk, Share
from quoter.analysis.sensitivity import RISE, Effect
from quoter.costing.assembly import Assembly
from quoter.costing.elements import SHOWN, label_of
from quoter.figures import Figure
from quoter.pages.charts import bars, lines
from quoter.pages.environment import asset, office_environment, render
from quoter.pages.figured import decimal, maybe, variant_of
from quoter.pages.history_views import line_view
from quoter.pages.planned import plan_view
from quoter.pages.question_views import (
    AlternativeRow,
    Amount,
    AnswerView,
    CutRow,
    EffectRow,
    ElementRow,
    RangeRow,
    RiskView,
    SecondRow,
    TargetView,
    VolumeView,
)
from quoter.pricing.price import Priced, Pricing

MOST_EFFECTS = 15
ASSETS = {
    "assets/questions.css": "internal/questions/questions.css",
    "assets/history.css": "internal/history.css",
}


def question_pages(findings: Findings) -> dict[str, bytes]:
    """Path below internal/review/ -> content: plan.html, and a page per model and option.

    The review's own pages bring the rest of what these need.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    pricing, catalogue = findings.pricing, findings.pricing.catalogue
    environment = office_environment(catalogue)
    planned = render(
        environment,
        "internal/questions/plan.html",
        root="",
        catalogue=catalogue,
        buyer=str(pricing.terms.buyers[0].name),
        plan=plan_view(findings),
    )
    pages = {"plan.html": planned}
    history, floor = findings.history, decimal(pricing.terms.floor)
    for answer in answer_views(findings):
        line = history.models[answer.model_id].options[answer.id]
        pages[f"{answer.model_id}/{answer.id}.html"] = render(
            environment,
            "internal/questions/option.html",
            root="../",
            catalogue=catalogue,
            terms=pricing.terms,
            rise=Decimal(repr(RISE)),
            target_margin=decimal(pricing.terms.target),
            floor=floor,
            buyer=str(pricing.terms.buyers[0].name),
            past=line_view(line, floor, catalogue.as_of, page=True, small=False),
            calendar=catalogue.yard.policy.working_hours is not None,
            answer=answer,
        )
    return pages | {path: asset(source) for path, source in ASSETS.items()}


def answer_views(findings: Findings) -> Iterator[AnswerView]:
    """The answers for every option on every model."""
    pricing = findings.pricing
    buyer = str(pricing.terms.buyers[0].name)
    for answers in findings.answers:
        assembly = answers.priced.assembly
        elements = tuple(_elements(assembly))
        effects = answers.effects[:MOST_EFFECTS]
        yield AnswerView(
            model_id=str(answers.model.model.id),
            model=str(answers.model.model.name),
            id=assembly.recipe.id,
            name=assembly.name,
            standard=answers.standard,
            cost=decimal(assembly.cost),
            variable=decimal(assembly.variable),
            hours=decimal(assembly.all_hours),
            mass=decimal(assembly.mass),
            emission=decimal(answers.emission),
            elements=elements,
            element_bars=bars([row.cost for row in elements]),
            effects=tuple(_effect(effect) for effect in effects),
            effect_bars=bars([Decimal(repr(effect.effect)) for effect in effects]),
            inputs=len(answers.effects),
            risk=_risk(answers.risk),
            target=_target(answers.priced, answers.target, buyer),
            volumes=tuple(_volume(pricing, part) for part in answers.moulded),
            alternatives=tuple(_alternative(pair) for pair in answers.alternatives),
        )


def _elements(assembly: Assembly) -> Iterator[ElementRow]:
    whole = assembly.cost
    for element, cost in assembly.elements.items():
        share = decimal(cost / whole) if whole.value else Decimal(0)
        yield ElementRow(label_of(element), decimal(cost), share)


def _effect(effect: Effect) -> EffectRow:
    figure, origin = effect.figure, effect.figure.origin
    written = f"{figure.value:g} {figure.unit}".rstrip()
    place = ""
    if origin is not None:
        written, place = origin.text or written, str(origin.place)
    beyond = figure.form == "percent" and figure.value * (1 + RISE) > 1
    return EffectRow(figure.label, written, place, Decimal(repr(effect.effect)), beyond)


def _risk(risk: Risk) -> RiskView:
    ranges = tuple(_range(share) for share in risk.shares)
    return RiskView(
        mean=Decimal(repr(risk.mean)),
        deviation=Decimal(repr(risk.deviation)),
        p10=Decimal(repr(risk.p10)),
        p50=Decimal(repr(risk.p50)),
        p90=Decimal(repr(risk.p90)),
        ranges=ranges,
        shares=bars([row.share for row in ranges]),
    )


def _range(share: Share) -> RangeRow:
    figure, spread = share.figure, share.spread
    low, likely, high = (_amount(figure, v) for v in (spread.low, spread.likely, spread.high))
    return RangeRow(
        name=figure.label,
        low=low,
        likely=likely,
        high=high,
        shape=spread.shape,
        place="" if figure.origin is None else str(figure.origin.place),
        share=Decimal(repr(share.share)),
    )


def _amount(figure: Figure, value: float) -> Amount:
    """A value of an input, in the unit it is written in."""
    return Amount(Decimal(repr(value)), str(figure.unit), figure.form == "percent")


def _target(priced: Priced, target: Target | None, buyer: str) -> TargetView | None:
    if target is None:
        return None
    return TargetView(
        buyer=buyer,
        list_price=decimal(priced.list_price),
        net=decimal(next(iter(priced.sales.values())).net),
        allowed=decimal(target.allowed),
        gap=decimal(target.gap),
        met=bool(target.met.value),
        cuts=tuple(
            CutRow(SHOWN[attack.group], decimal(attack.cost), maybe(attack.cut))
            for attack in target.attacks
        ),
    )


def _volume(pricing: Pricing, part: MouldedPart) -> VolumeView:
    curve, assembly = part.curve, part.made.assembly
    pulls = {str(mould.id): part.pulls.get(str(mould.id)) for mould in part.moulds}
    planned = max((decimal(pull) for pull in pulls.values() if pull is not None), default=None)
    return VolumeView(
        name=assembly.name,
        variant=variant_of(assembly.recipe.key),
        moulds=tuple(str(mould.name) for mould in part.moulds),
        quantity=decimal(part.made.quantity),
        volumes=curve.volumes,
        costs=tuple(Decimal(repr(cost)) for cost in curve.costs),
        sets=curve.sets,
        chart=lines(curve.volumes, curve.costs, curve.sets, planned),
        known=pricing.catalogue.yard.policy.working_hours is not None,
        second=tuple(
            SecondRow(
                mould=str(second.mould.name),
                capacity=decimal(second.capacity),
                charge=decimal(second.charge),
                contribution=decimal(second.contribution),
                pays_from=decimal(second.pays_from),
                pulls=maybe(pulls[str(second.mould.id)]),
            )
            for second in part.second
        ),
    )


def _alternative(pair: Alternative) -> AlternativeRow:
    return AlternativeRow(
        by_hand=pair.by_hand.name,
        by_hand_cost=decimal(pair.by_hand.cost),
        panel=pair.panel.name,
        panel_cost=decimal(pair.panel.cost),
        volume=pair.volume,
    )
