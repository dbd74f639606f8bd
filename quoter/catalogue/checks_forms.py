"""Rules of what boats are drawn by: forms, positions on them, and colours."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_options import offered
from quoter.catalogue.forms import Form
from quoter.catalogue.options import Model, Option
from quoter.catalogue.records import Records
from quoter.figures import Figure
from quoter.problems import Problem


def check_positions(records: Records) -> Iterator[Problem]:
    """A position is on a boat that can have the option, and within its length and beam."""
    for option in records.options.values():
        yield from _position_faults(records, option)


def _position_faults(records: Records, option: Option) -> Iterator[Problem]:
    for at in option.at:
        model = records.models.get(at.model)
        if model is None:
            continue  # told by `check_references`
        if not offered(option, model):
            what = f"option '{option.id}' is not offered on '{at.model}', where it has a position"
            hint = "remove it, or check the option's models and minimum length"
            yield Problem(at.model.place, "not-offered", what, hint)
        elif at.distance.value > model.length.value:
            what = f"'{option.id}' sits {at.distance.value:.2f} m from the {at.end} of "
            what += f"'{at.model}', which is {model.length.value:.2f} m long"
            hint = "write how far its middle is from that end, with its unit"
            yield Problem(figure_place(at.distance), "does-not-fit", what, hint)
        elif at.offset is not None and at.offset.value > model.beam.value / 2:
            what = f"'{option.id}' sits {at.offset.value:.2f} m from the centreline of "
            what += f"'{at.model}', which is {model.beam.value:.2f} m wide"
            hint = "write how far its middle is from the centreline, with its unit"
            yield Problem(figure_place(at.offset), "does-not-fit", what, hint)


def check_forms(records: Records) -> Iterator[Problem]:
    """What a boat is drawn by lies on the boat, and ends before it begins nowhere."""
    for model in records.models.values():
        if model.form is not None:
            yield from _form_faults(model, model.form)


def _form_faults(model: Model, form: Form) -> Iterator[Problem]:
    length, beam = model.length.value, model.beam.value
    spans = [each for each in (form.cockpit, form.rail, *form.houses) if each is not None]
    lengthwise = [form.least_at, form.widest_at, form.stem_rake, form.transom_rake]
    for along in (*lengthwise, *(span.fore for span in spans)):
        yield from _beyond(model, along, length, "long")
    yield from _beyond(model, form.transom_beam, beam, "wide")
    for span in spans:
        if span.aft.value >= span.fore.value:
            what = f"it begins {span.aft.value:.2f} m from the transom of '{model.id}', and ends "
            what += f"{span.fore.value:.2f} m from it"
            hint = "write the distance of its after end as 'aft', that of its fore end as 'fore'"
            yield Problem(figure_place(span.fore), "does-not-fit", what, hint)
    for name in ("transom", "stem"):
        end, least = getattr(form, f"freeboard_{name}"), form.freeboard_least
        if end is not None and least is not None and least.value > end.value:
            what = f"the least freeboard of '{model.id}', {least.value:.2f} m, is more than that "
            what += f"at the {name}, {end.value:.2f} m"
            hint = "write how high the deck's edge is where it is lowest"
            yield Problem(figure_place(least), "does-not-fit", what, hint)


def _beyond(model: Model, measure: Figure | None, most: float, how: str) -> Iterator[Problem]:
    if measure is not None and measure.value > most:
        what = f"'{model.id}' is {most:.2f} m {how}, less than {measure.value:.2f} m"
        hint = "measure from the transom, and check the number with its unit"
        yield Problem(figure_place(measure), "does-not-fit", what, hint)


def check_swatches(records: Records) -> Iterator[Problem]:
    """A swatch colours the hull, so only a colour has one."""
    for option in records.options.values():
        if option.swatch is not None and option.kind != "colour":
            what = f"option '{option.id}' is of kind {option.kind}, which gives the hull no colour"
            yield Problem(option.swatch.place, "bad-colour", what, "remove it, or correct the kind")
