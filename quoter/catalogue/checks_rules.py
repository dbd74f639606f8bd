"""Whether the rules between options can be kept at all, on every model that offers them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.catalogue.checks_options import contradicts_itself, offered
from quoter.catalogue.options import Model, Option
from quoter.catalogue.records import Records
from quoter.problems import Problem


def check_options_can_be_chosen(records: Records) -> Iterator[Problem]:
    """An option whose requirements can't be met on a model would be offered and never sold."""
    for option in records.options.values():
        if contradicts_itself(records.options, option):
            continue  # told by `check_option_rules`
        for model in records.models.values():
            if offered(option, model):
                why = _unreachable(records, option, model)
                if why:
                    what = f"option '{option.id}' can never be chosen on '{model.id}': {why}"
                    hint = "drop a rule, or list the models that can have it"
                    yield Problem(option.place, what, hint)


def _unreachable(records: Records, option: Option, model: Model) -> str:
    """Why an option with all it requires can't be on a boat; empty when it can."""
    required = _with_required(records, option)
    standard = {str(name) for name in model.standard if str(name) in records.options}
    together = {id for id in standard if offered(records.options[id], model)} | required
    known = [records.options[id] for id in sorted(together) if id in records.options]
    for needed in known:
        if str(needed.id) in required and not offered(needed, model):
            return f"it requires '{needed.id}', which this model can't have"
    for one in known:
        for other in map(str, one.conflicts):
            if other in together and str(option.id) not in map(str, model.standard):
                return f"'{one.id}' conflicts with '{other}', which would be there too"
    return _crowded(known)


def _with_required(records: Records, option: Option) -> set[str]:
    found: set[str] = set()
    waiting = [str(option.id)]
    while waiting:
        id = waiting.pop()
        if id not in found and id in records.options:
            found.add(id)
            waiting.extend(map(str, records.options[id].requires))
    return found


def _crowded(known: Sequence[Option]) -> str:
    groups: dict[str, list[str]] = {}
    for option in known:
        if option.at_most_one is not None:
            groups.setdefault(str(option.at_most_one), []).append(str(option.id))
    for group, ids in groups.items():
        if len(ids) > 1:
            return f"'{ids[0]}' and '{ids[1]}' would both be there, and a boat has one {group}"
    return ""


def check_standard_options_agree(records: Records) -> Iterator[Problem]:
    """What a model has as standard must fit together, or every boat breaks its own rules."""
    for model in records.models.values():
        standard = {str(name): name for name in model.standard}
        for id, name in standard.items():
            option = records.options.get(id)
            for other in map(str, option.conflicts if option else ()):
                if other in standard:
                    what = f"standard options '{id}' and '{other}' of '{model.id}' conflict"
                    yield Problem(name.place, what, "keep one of the two")


def check_packages(records: Records) -> Iterator[Problem]:
    """A package bundles at least two options that some model can have together."""
    for package in records.packages.values():
        ids = [str(name) for name in package.options]
        if len(set(ids)) < 2:
            what = f"package '{package.id}' holds fewer than two options"
            yield Problem(package.place, what, "list at least two")
        known = [records.options[id] for id in ids if id in records.options]
        models = [
            model
            for model in records.models.values()
            if all(offered(option, model) for option in known)
            and not set(ids) & {str(name) for name in model.standard}
        ]
        if known and records.models and not models:
            what = f"no model can have package '{package.id}'"
            yield Problem(package.place, what, "each model lacks one of its options")
        for option in known:
            for other in option.conflicts:
                if str(other) in ids:
                    what = f"package '{package.id}' holds '{option.id}' and '{other}'"
                    yield Problem(package.place, what, "they conflict; keep one of the two")


def check_credits(records: Records) -> Iterator[Problem]:
    """A credit names one thing it deletes, a part or an option, and never leads back to itself."""
    for option in records.options.values():
        for credit in option.credits:
            if (credit.part is None) == (credit.option is None):
                what = "a credit names neither a part nor an option, or both"
                yield Problem(credit.place, what, "give 'part:' or 'option:'")
        if str(option.id) in _credited(records, option):
            what = f"option '{option.id}' credits itself, through what it credits"
            yield Problem(option.place, what, "name another option or a part")


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
