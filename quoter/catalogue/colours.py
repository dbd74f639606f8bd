"""Hull colours: which options give a boat another one, and which options take it on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from quoter.catalogue.checks_options import offered
from quoter.catalogue.options import Model, Option
from quoter.catalogue.parts import AnyPart
from quoter.catalogue.records import Records
from quoter.problems import Problem

HULL = "hull"  # in the place of a gelcoat, on a face that takes the colour of the boat


def has_hull_face(part: AnyPart) -> bool:
    """Whether a part has a face in the colour of the boat's hull."""
    return any(face.colour == HULL for face in getattr(part, "gelcoat", ()))


def follows_hull(records: Records, option: Option) -> bool:
    """Whether what an option holds or leaves out changes with the boat's hull colour.

    A colour itself does not: it is what it is on every boat.
    """
    if option.hull_colour is not None:
        return False
    parts = [use.part for use in option.parts]
    parts += [credit.part for credit in option.credits if credit.part is not None]
    if any(part in records.parts and has_hull_face(records.parts[part]) for part in parts):
        return True
    deleted = [credit.option for credit in option.credits if credit.option is not None]
    return any(follows_hull(records, records.options[id]) for id in deleted)


def standard_colour(records: Records, model: Model) -> str:
    """The gelcoat of hull-coloured faces on a boat as it comes: a standard option may set it."""
    standard = (records.options[id] for id in model.standard)
    painted = (str(o.hull_colour) for o in standard if o.hull_colour is not None)
    return next(painted, str(model.hull_colour))


def other_colours(records: Records, model: Model) -> dict[str, str]:
    """The colours that a model can have in place of its own: option id -> gelcoat."""
    own = standard_colour(records, model)
    return {
        id: str(option.hull_colour)
        for id, option in records.options.items()
        if option.hull_colour is not None and option.hull_colour != own and offered(option, model)
    }


def go_together(one: Option, other: Option) -> bool:
    """Whether neither of two options bars the other."""
    if one.at_most_one is not None and one.at_most_one == other.at_most_one:
        return False
    return other.id not in one.conflicts and one.id not in other.conflicts


def check_hull_colours(records: Records) -> Iterator[Problem]:
    """A colour says what hull-coloured faces get, and a boat gets one; nothing else says so."""
    options = records.options.values()
    followed = any(has_hull_face(part) for part in records.parts.values())
    for option in options:
        if option.kind == "colour" and option.hull_colour is None and followed:
            what = f"colour '{option.id}' does not say what faces of colour 'hull' get on its boat"
            hint = "write 'hull_colour:' with the gelcoat that it brings, such as "
            example = next(iter(records.of("gelcoat")), "gel_blue")
            yield Problem(option.place, "missing-key", what, f"{hint}'hull_colour: {example}'")
        elif option.kind != "colour" and option.hull_colour is not None:
            what = f"option '{option.id}' is of kind {option.kind} and gives a hull colour"
            hint = "write 'kind: colour', or leave 'hull_colour' out"
            yield Problem(option.hull_colour.place, "hull-colour", what, hint)
        yield from _surcharge_faults(records, option)
    colours = [each for each in options if each.kind == "colour" and each.hull_colour is not None]
    for one, other in combinations(colours, 2):
        if go_together(one, other) and _meet(records, one, other):
            what = f"a boat could have both colours, '{one.id}' and '{other.id}'"
            hint = "give both the same words under 'at_most_one:'"
            yield Problem(other.place, "hull-colour", what, hint)


def _surcharge_faults(records: Records, option: Option) -> Iterator[Problem]:
    told: set[str] = set()
    for surcharge in option.colour_surcharges:
        colour = records.options.get(surcharge.colour)
        if surcharge.colour in told:
            what = f"a second surcharge of '{option.id}' in '{surcharge.colour}'"
            yield Problem(surcharge.colour.place, "written-twice", what, "write it once")
        told.add(str(surcharge.colour))
        if colour is None:
            continue  # told by `check_references`
        if colour.kind != "colour" or option.kind == "colour":
            what = f"'{option.id}' asks a surcharge for '{colour.id}'"
            hint = "only an option that is no colour asks one, and only for an option of that kind"
            yield Problem(surcharge.colour.place, "hull-colour", what, hint)
        elif colour.hull_colour is None:
            what = f"'{option.id}' asks a surcharge for '{colour.id}', which gives no hull colour"
            hint = f"write 'hull_colour:' with the gelcoat that '{colour.id}' brings"
            yield Problem(surcharge.colour.place, "hull-colour", what, hint)
        elif not go_together(option, colour) or not _meet(records, option, colour):
            what = f"no boat can have '{option.id}' with '{colour.id}', which asks a surcharge"
            yield Problem(surcharge.colour.place, "hull-colour", what, "leave it out")


def _meet(records: Records, one: Option, other: Option) -> bool:
    """Whether some model is offered both; true as well where models could not all be read."""
    models = records.models.values()
    return any(offered(one, model) and offered(other, model) for model in models)
