"""Rules of options and packages: what each is made of, and what goes with what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
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
    if option.models and model.id not in option.models:
        return False
    return option.minimum_length is None or model.length.value >= option.minimum_length.value


def check_option_rules(records: Records) -> Iterator[Problem]:
    """Rules that contradict each other, or require an option through itself, can't be met."""
    options = records.options
    for option in options.values():
        for other in option.requires:
            if any(other == forbidden for forbidden in option.conflicts):
                what = f"option '{option.id}' requires '{other}' and conflicts with it"
                yield Problem(other.place, "rule-conflict", what, "keep one of the two")
        for other in (*option.conflicts, *option.requires):
            if other == option.id:
                what = f"option '{option.id}' names itself"
                yield Problem(
                    other.place, "rule-conflict", what, "name another option, or remove it"
                )
        loop = _loop(options, str(option.id))
        if len(loop) > 2 and min(loop) == loop[0]:
            what = f"options require each other in a circle: {' -> '.join(loop)}"
            first = next(word for word in option.requires if word == loop[1])
            yield Problem(first.place, "rule-conflict", what, "drop one of the requirements")


def contradicts_itself(options: dict[str, Option], option: Option) -> bool:
    """Whether an option's own rules can't be met, whatever the model."""
    others = {*option.requires, *option.conflicts}
    both = {*option.requires} & {*option.conflicts}
    return option.id in others or bool(both) or bool(_loop(options, str(option.id)))


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
        named = all(model in models for model in option.models)
        sold = any(offered(option, model) for model in models.values())
        if models and all_read and named and not sold:
            what = f"option '{option.id}' is offered on no model"
            yield Problem(option.place, "not-offered", what, "check its models and minimum length")
        uses: tuple[PartUse | Credit, ...] = (*option.parts, *option.credits)
        for use in uses:
            yield from _per_model_faults(records, option, use.per_model)
        if not (option.parts or option.goods or option.operations):
            what = f"option '{option.id}' holds no parts, goods or operations"
            yield Problem(option.place, "empty", what, "list what it is made of")


def _too_short(option: Option, models: dict[str, Model]) -> Iterator[Problem]:
    shortest = option.minimum_length
    for named in option.models:
        model = models.get(named)
        if shortest is not None and model and model.length.value < shortest.value:
            what = (
                f"model '{model.id}' is {model.length.value:.2f} m long, below the minimum length"
            )
            hint = f"'{option.id}' needs {shortest.value:.2f} m: drop the model or the minimum"
            yield Problem(named.place, "not-offered", what, hint)


def _per_model_faults(
    records: Records, option: Option, per_model: dict[Any, Any]
) -> Iterator[Problem]:
    for key in per_model:
        model = records.models.get(key)
        if records.lacks(("model",), key):
            yield unknown(records, ("model",), key, "model")
        elif model is not None and not offered(option, model):
            what = f"option '{option.id}' is not offered on '{key}', which has a shape of its own"
            yield Problem(
                key.place,
                "not-offered",
                what,
                "remove it, or check the option's models",
                warning=True,
            )


def check_models(records: Records) -> Iterator[Problem]:
    """The base boat's cost must be by known classes and stations; its standard options must fit."""
    if not records.named(("model",)) and "model" not in records.unread.kinds:
        yield Problem(
            Place("models.yaml", 1, 1), "empty", "there is no model", "list one under 'models:'"
        )
    for model in records.models.values():
        yield from _unlisted(model.base.material, CLASSES, "material class")
        for station in model.base.hours:
            if records.lacks(("station",), station):
                yield unknown(records, ("station",), station, "station")
        yield from _base_materials(records, model)
        yield from _base_faults(model)
        for name in model.standard:
            option = records.options.get(name)
            if option and not offered(option, model):
                what = f"standard option '{name}' is not offered on '{model.id}'"
                yield Problem(
                    name.place, "not-offered", what, "check the option's models and minimum length"
                )


def _base_faults(model: Model) -> Iterator[Problem]:
    """A boat that is not built up states what it takes; its parts are those of one model."""
    base = model.base
    for name, found in (("hours", bool(base.hours)), ("mass", base.mass is not None)):
        if not found and not base.parts:
            what = f"the base of '{model.id}' states no {name}, and has no parts"
            hint = f"add '{name}:', or the parts that it is built up from"
            yield Problem(base.place, "missing-key", what, hint)
    for use in base.parts:
        if use.per_model:
            what = f"a part of the base of '{model.id}' has shapes for single models"
            hint = "write 'shape:' in place of 'per_model:': the base is that of one model"
            yield Problem(use.place, "no-effect", what, hint)


def _unlisted(found: Iterable[Text], known: Iterable[str], called: str) -> Iterator[Problem]:
    known = set(known)
    for word in found:
        if word not in known:
            yield Problem(
                word.place, "unknown-id", f"unknown {called} {quoted(word)}", nearest(word, known)
            )


def _base_materials(records: Records, model: Model) -> Iterator[Problem]:
    for id, amount in model.base.materials.items():
        if records.lacks(MATERIAL_KINDS, id):
            yield unknown(records, MATERIAL_KINDS, id, "material")
        material: Material | None = records.materials.get(id)
        if material is not None and amount.unit != counted_in(material):
            counted = said(counted_in(material))
            what = f"'{id}' is counted in {counted}, found {said(amount.unit)}"
            yield Problem(
                figure_place(amount), "wrong-unit", what, f"write the amount in {counted}"
            )


def check_options_can_be_chosen(records: Records) -> Iterator[Problem]:
    """An option whose requirements can't be met on a model would be offered and never sold."""
    for option in records.options.values():
        if contradicts_itself(records.options, option):
            continue  # told by `check_option_rules`
        for model in records.models.values():
            if offered(option, model) and not any(option.id == name for name in model.standard):
                why = _why_not(records, [option], model)
                if why:
                    what = f"option '{option.id}' can never be chosen on '{model.id}': {why}"
                    hint = "drop a rule, or list the models that can have it"
                    yield Problem(option.place, "never-chosen", what, hint)


def _why_not(records: Records, wanted: Sequence[Option], model: Model) -> str:
    """Why options with all they require can't be on a boat together; empty when they can.

    What is wrong with the standard options alone is told once, by another check.
    """
    required = {id for option in wanted for id in _with_required(records, option)}
    standard = {str(name) for name in model.standard if name in records.options}
    # What a wanted option credits makes room for it.
    left_out = {str(c.option) for id in required for c in records.options[id].credits}
    kept = {id for id in standard - left_out if offered(records.options[id], model)}
    there = kept | required
    known = [records.options[id] for id in sorted(there)]
    for needed in known:
        if needed.id in required and not offered(needed, model):
            return f"it requires '{needed.id}', which this model can't have"
    for one, other in conflicting(known):
        if not {one, other} <= standard:
            return f"'{one}' conflicts with '{other}', which would be there too"
    for one, other, group in crowding(known):
        if not {one, other} <= standard:
            return f"'{one}' and '{other}' would both be there, and a boat has one {group}"
    return ""


def _with_required(records: Records, option: Option) -> set[str]:
    found: set[str] = set()
    waiting = [str(option.id)]
    while waiting:
        id = waiting.pop()
        if id not in found and id in records.options:
            found.add(id)
            waiting.extend(map(str, records.options[id].requires))
    return found


def conflicting(options: Sequence[Option]) -> Iterator[tuple[str, str]]:
    """Each pair of options that conflict, once, whichever of the two says so."""
    ids = [str(option.id) for option in options]
    told = set()
    for one in options:
        for other in map(str, one.conflicts):
            pair = frozenset({str(one.id), other})
            if other in ids and len(pair) == 2 and pair not in told:
                told.add(pair)
                yield str(one.id), other


def crowding(options: Sequence[Option]) -> Iterator[tuple[str, str, str]]:
    """Each pair of options of one group of which a boat has one, and the group."""
    for one, other in combinations(options, 2):
        if one.at_most_one is not None and one.at_most_one == other.at_most_one:
            yield str(one.id), str(other.id), str(one.at_most_one)


def check_standard_options_agree(records: Records) -> Iterator[Problem]:
    """What a model has as standard must fit together, or every boat breaks its own rules."""
    for model in records.models.values():
        standard = {str(name): name for name in model.standard}
        found = [records.options[id] for id in standard if id in records.options]
        known = [option for option in found if _sound(records, option, model)]
        for one, other in conflicting(known):
            what = f"standard options '{one}' and '{other}' of '{model.id}' conflict"
            yield Problem(standard[one].place, "standard-options", what, "keep one of the two")
        for one, other, group in crowding(known):
            what = f"standard options '{one}' and '{other}' of '{model.id}' are of one group"
            yield Problem(
                standard[other].place, "standard-options", what, f"a boat has one {group}"
            )
        for option in known:
            for needed in option.requires:
                if needed in records.options and needed not in standard:
                    id = str(option.id)
                    what = f"standard option '{id}' of '{model.id}' requires '{needed}'"
                    hint = f"make '{needed}' standard too, or drop the requirement"
                    yield Problem(standard[id].place, "standard-options", what, hint)


def _sound(records: Records, option: Option, model: Model) -> bool:
    """Whether no other check tells something of a standard option by itself."""
    return offered(option, model) and not contradicts_itself(records.options, option)


def check_packages(records: Records) -> Iterator[Problem]:
    """A package bundles at least two options that some model can have together."""
    for package in records.packages.values():
        ids = [str(name) for name in package.options]
        known = [records.options[id] for id in dict.fromkeys(ids) if id in records.options]
        if len(set(ids)) < 2:
            what = f"package '{package.id}' holds fewer than two options"
            yield Problem(package.place, "empty", what, "list at least two")
        for number, name in enumerate(package.options):
            if name in ids[:number]:
                what = f"package '{package.id}' holds '{name}' twice"
                yield Problem(name.place, "written-twice", what, "list it once")
        models = [model for model in records.models.values() if _fits(ids, known, model)]
        if known and records.models and not models:
            what = f"no model can have package '{package.id}'"
            hint = "each model lacks one of its options, or has it as standard"
            yield Problem(package.place, "never-chosen", what, hint)
        apart = [(one, other, "they conflict") for one, other in conflicting(known)]
        apart += [(one, other, f"a boat has one {g}") for one, other, g in crowding(known)]
        for one, other, why in apart:
            what = f"package '{package.id}' holds '{one}' and '{other}'"
            yield Problem(package.place, "rule-conflict", what, f"{why}; keep one of the two")
        why = "" if apart else _never_together(records, known, models)
        if why:
            what = f"package '{package.id}' can never be chosen: {why}"
            yield Problem(
                package.place, "never-chosen", what, "drop a rule, or leave one of its options out"
            )


def _never_together(records: Records, options: Sequence[Option], models: Sequence[Model]) -> str:
    """Why no model can have options together that it can have one by one."""
    for option in options:
        if contradicts_itself(records.options, option):
            return ""
        if any(_why_not(records, [option], model) for model in models):
            return ""
    reasons = [_why_not(records, options, model) for model in models]
    return reasons[0] if reasons and all(reasons) else ""


def _fits(ids: Sequence[str], known: Sequence[Option], model: Model) -> bool:
    """Whether a model is offered all of a package's options and has none of them as standard."""
    return not {*model.standard} & {*ids} and all(offered(option, model) for option in known)


def check_credits(records: Records) -> Iterator[Problem]:
    """A credit names one thing it deletes, a part or an option, and never leads back to itself."""
    for option in records.options.values():
        for credit in option.credits:
            if (credit.part is None) == (credit.option is None):
                what = "a credit names neither a part nor an option, or both"
                yield Problem(credit.place, "choose-one", what, "give 'part:' or 'option:'")
        if option.id in _credited(records, option):
            what = f"option '{option.id}' credits itself, through what it credits"
            yield Problem(option.place, "rule-conflict", what, "name another option or a part")


def _credited(records: Records, option: Option) -> set[str]:
    found: set[str] = set()
    waiting = [str(c.option) for c in option.credits if c.option is not None]
    while waiting:
        id = waiting.pop()
        if id not in found and id in records.options:
            found.add(id)
            credits = records.options[id].credits
            waiting.extend(str(c.option) for c in credits if c.option is not None)
    return found
