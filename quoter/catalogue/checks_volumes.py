"""Rules of the planned volumes."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.checks_ids import unknown
from quoter.catalogue.checks_options import offered
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.catalogue.tables import VolumeRow
from quoter.problems import Problem


def check_volumes(records: Records) -> Iterator[Problem]:
    """A line gives boats a year of a model, or the take rate of an option offered on it."""
    for row in records.volumes:
        yield from unknown_names(records, row.model, row.option)
        yield from not_offered(records, row.model, row.option)
        if fault := _filled_wrongly(row):
            hint = "a line has a model and boats, or a model, an option and a take rate"
            yield Problem(row.place, fault, hint)


def _filled_wrongly(row: VolumeRow) -> str:
    if row.boats is not None and row.take_rate is not None:
        return "boats and a take rate on one line"
    if row.boats is not None and row.option:
        return f"boats of the option '{row.option}'"
    if row.take_rate is not None and not row.option:
        return "a take rate of no option"
    if row.boats is None and row.take_rate is None:
        return "neither boats nor a take rate"
    return ""


def unknown_names(records: Records, model: Text, option: Text) -> Iterator[Problem]:
    """That a line names a model or option that does not exist."""
    for kind, word in (("model", model), ("option", option)):
        if word and records.lacks((kind,), word):
            yield unknown(records, (kind,), word, kind)


def not_offered(records: Records, model: Text, option: Text) -> Iterator[Problem]:
    """That a line is about an option its model is not offered with."""
    boat, choice = records.models.get(str(model)), records.options.get(str(option))
    if boat and choice and not offered(choice, boat):
        what = f"option '{option}' is not offered on '{model}'"
        yield Problem(option.place, what, "remove the line, or check the option's models")
