"""How many boats a year are planned, and how many of them take an option."""

from __future__ import annotations

from quoter.catalogue.records import Records
from quoter.figures import Figure


def boats_planned(records: Records, model: str) -> Figure | None:
    """Boats of a model a year; None where none are planned."""
    return next(
        (r.boats for r in records.volumes if r.model == model and r.boats is not None), None
    )


def units_planned(records: Records, model: str, option: str) -> Figure | None:
    """Units of an option on a model a year; None where none are planned."""
    boats, take = boats_planned(records, model), take_rates(records, model).get(option)
    return None if boats is None or take is None else boats * take


def take_rates(records: Records, model: str) -> dict[str, Figure]:
    """The take rate of each option of a model that has one, by option id."""
    return {
        str(row.option): row.take_rate
        for row in records.volumes
        if row.model == model and row.take_rate is not None
    }
