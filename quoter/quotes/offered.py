"""What a quote offers beside the boat: what can be offered, and on which condition."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from quoter.catalogue.quoting import OfferedBeside
from quoter.pricing.configured import Configured
from quoter.pricing.price import PricedModel
from quoter.pricing.rules import Rule, boarded
from quoter.problems import Problem, nearest, quoted
from quoter.quotes.language import Language


def offered_faults(
    offered: Iterable[OfferedBeside], chosen: Mapping[str, int], model: PricedModel
) -> Iterator[Problem]:
    """Options that can't be offered beside: unknown here, on the boat already, or named twice."""
    seen: set[str] = set()
    for id in (each.option for each in offered if each.option is not None):
        name = model.model.name
        if id in model.model.standard:
            what = f"{model.options[id].assembly.name} is standard on the {name}"
            yield Problem(id.place, "not-offered", what, "leave it out: the boat has it")
        elif id not in model.extras:
            what = f"the {name} can't be had with {quoted(id)}"
            yield Problem(id.place, "not-offered", what, nearest(id, model.extras))
        elif id in chosen:
            what = f"{quoted(id)} is chosen already"
            yield Problem(id.place, "not-offered", what, "offer it or choose it, not both")
        elif id in seen:
            what, hint = f"{quoted(id)} is offered twice", "write its quantity once"
            yield Problem(id.place, "written-twice", what, hint)
        seen.add(str(id))


def conditions(model: PricedModel, boat: Configured, id: str, language: Language) -> Iterator[str]:
    """What has to be taken or left with something that is added, in the quote's language.

    Args:
        model: the boat's
        boat: as chosen, with what is added
        id: of what is added, an option or a package
        language: of the quote
    """
    aboard = {one for one, count in boarded(model, boat.quantities).items() if count.value}
    package = next((each for each in model.offered_packages if each.id == id), None)
    added = {id} if package is None else {str(one) for one in package.options}
    told = (
        _told(model, rule, added, aboard, language) for rule in boat.rules if not rule.holds.value
    )
    yield from dict.fromkeys(filter(None, told))


def _told(
    model: PricedModel, rule: Rule, added: set[str], aboard: set[str], language: Language
) -> str:
    """A broken rule as a condition on what is added."""

    def named(ids: Iterable[str]) -> str:
        options = (model.options[one].option for one in ids if one in model.options)
        return ", ".join(language.words(option.name) for option in options if option is not None)

    if rule.kind == "needs":
        return language.say("Only together with {options}", options=named(rule.others))
    if rule.kind == "most":
        return language.say("At most {count} can be fitted", count=rule.most)
    others = [one for one in (rule.option, *rule.others) if one in aboard and one not in added]
    if rule.kind == "conflicts":
        return language.say("Not together with {options}", options=named(others or rule.others))
    return language.say("Only in place of {options}", options=named(dict.fromkeys(others)))
