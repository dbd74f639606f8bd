"""Rules of what is sold: options that can be met, models that can have them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from quoter.catalogue.checks_ids import figure_place, unknown
from quoter.catalogue.materials import Material, counted_in, said
from quoter.catalogue.options import Credit, Model, Option, PartUse
from quoter.catalogue.records import MATERIAL_KINDS, Records
from quoter.catalogue.source import Text
from quoter.problems import Place, Problem, nearest, quoted

CLASSES = (
    *("glass", "resin", "gelcoat", "catalyst", "foam"),
    *("hardware", "core", "consumable", "other"),
)


def offered(option: Option, model: Any) -> bool:
    """Whether an option can be had on a model."""
    if option.models and not any(str(model.id) == name for name in option.models):
        return False
    return option.minimum_length is None or model.length.value >= option.minimum_length.value


def check_option_rules(records: Records) -> Iterator[Problem]:
    """Rules that contradict each other, or require an option through itself, can't be met."""
    options = records.options
    for option in options.values():
        for other in option.requires:
            if any(other == forbidden for forbidden in option.conflicts):
                what = f"option '{option.id}' requires '{other}' and conflicts with it"
                yield Problem(other.place, what, "keep one of the two")
        for other in (*option.conflicts, *option.requires):
            if other == option.id:
                what = f"option '{option.id}' names itself"
                yield Problem(other.place, what, "name another option, or remove it")
        loop = _loop(options, str(option.id))
        if len(loop) > 2 and min(loop) == loop[0]:
            what = f"options require each other in a circle: {' -> '.join(loop)}"
            first = next(word for word in option.requires if word == loop[1])
            yield Problem(first.place, what, "drop one of the requirements")


def contradicts_itself(options: dict[str, Option], option: Option) -> bool:
    """Whether an option's own rules can't be met, whatever the model."""
    others = {*map(str, option.requires), *map(str, option.conflicts)}
    both = {*map(str, option.requires)} & {*map(str, option.conflicts)}
    return str(option.id) in others or bool(both) or bool(_loop(options, str(option.id)))


def _loop(options: dict[str, Option], start: str) -> list[str]:
    """The path along `requires` that leads back to the start, or nothing."""
    waiting = [[start]]
    seen = {start}
    while waiting:
        path = waiting.pop()
        for following in map(str, options[path[-1]].requires):
            if following == start:
                return [*path, start]
            if following in options and following not in seen:
                seen.add(following)
                waiting.append([*path, following])
    return []


def check_option_models(records: Records) -> Iterator[Problem]:
    """An option that fits no model can't be sold; one too long for a model must not be offered."""
    models = records.models
    all_read = "model" not in records.unread.kinds and models.keys() == records.named(("model",))
    for option in records.options.values():
        yield from _too_short(option, models)
        named = all(str(model) in models for model in option.models)
        sold = any(offered(option, model) for model in models.values())
        if models and all_read and named and not sold:
            what = f"option '{option.id}' is offered on no model"
            yield Problem(option.place, what, "check its models and minimum length")
        uses: tuple[PartUse | Credit, ...] = (*option.parts, *option.credits)
        for use in uses:
            yield from _per_model_faults(records, option, use.per_model)
        if not (option.parts or option.goods or option.operations):
            what = f"option '{option.id}' holds no parts, goods or operations"
            yield Problem(option.place, what, "list what it is made of")


def _too_short(option: Option, models: dict[str, Model]) -> Iterator[Problem]:
    shortest = option.minimum_length
    for named in option.models:
        model = models.get(str(named))
        if shortest is not None and model and model.length.value < shortest.value:
            what = (
                f"model '{model.id}' is {model.length.value:.2f} m long, below the minimum length"
            )
            hint = f"'{option.id}' needs {shortest.value:.2f} m: drop the model or the minimum"
            yield Problem(named.place, what, hint)


def _per_model_faults(
    records: Records, option: Option, per_model: dict[Any, Any]
) -> Iterator[Problem]:
    for key in per_model:
        model = records.models.get(str(key))
        if records.lacks(("model",), key):
            yield unknown(records, ("model",), key, "model")
        elif model is not None and not offered(option, model):
            what = f"option '{option.id}' is not offered on '{key}', which has a shape of its own"
            yield Problem(key.place, what, "remove it, or check the option's models", warning=True)


def check_models(records: Records) -> Iterator[Problem]:
    """The base boat's cost must be by known classes and stations; its standard options must fit."""
    if not records.named(("model",)) and "model" not in records.unread.kinds:
        yield Problem(Place("models.yaml", 1, 1), "there is no model", "list one under 'models:'")
    for model in records.models.values():
        yield from _unlisted(model.base.material, CLASSES, "material class")
        for station in model.base.hours:
            if records.lacks(("station",), station):
                yield unknown(records, ("station",), station, "station")
        yield from _base_materials(records, model)
        for name in model.standard:
            option = records.options.get(str(name))
            if option and not offered(option, model):
                what = f"standard option '{name}' is not offered on '{model.id}'"
                yield Problem(name.place, what, "check the option's models and minimum length")


def _unlisted(found: Iterable[Text], known: Iterable[str], called: str) -> Iterator[Problem]:
    known = set(known)
    for word in found:
        if word not in known:
            yield Problem(word.place, f"unknown {called} {quoted(word)}", nearest(word, known))


def _base_materials(records: Records, model: Model) -> Iterator[Problem]:
    for id, amount in model.base.materials.items():
        if records.lacks(MATERIAL_KINDS, id):
            yield unknown(records, MATERIAL_KINDS, id, "material")
        material: Material | None = records.materials.get(str(id))
        if material is not None and amount.unit != counted_in(material):
            counted = said(counted_in(material))
            what = f"'{id}' is counted in {counted}, found {said(amount.unit)}"
            yield Problem(figure_place(amount), what, f"write the amount in {counted}")
