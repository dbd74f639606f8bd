"""What a year's planned boats draw, before scrap: units of options, pulls of moulds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from quoter.catalogue.options import Model
from quoter.catalogue.parts import ClosedMouldPart
from quoter.catalogue.records import Records


@dataclass(frozen=True, slots=True)
class Planned:
    """A model's boats a year, and the take rates of its options by id."""

    boats: float
    takes: dict[str, float]


def planned(records: Records) -> dict[str, Planned]:
    """The models that any boats are planned of, of one look through the volumes."""
    boats: dict[str, float] = {}
    takes: dict[str, dict[str, float]] = {}
    for row in records.volumes:
        if row.boats is not None:
            boats.setdefault(str(row.model), row.boats.value)
        if row.take_rate is not None:
            takes.setdefault(str(row.model), {})[str(row.option)] = row.take_rate.value
    return {
        id: Planned(boats[id], takes.get(id, {})) for id in records.models if boats.get(id, 0.0) > 0
    }


def units_drawn(records: Records) -> dict[str, float]:
    """Units a year of each option that any are planned of, those that are standard included."""
    found: dict[str, float] = {}
    for id, year in planned(records).items():
        for name, share in _shares(records.models[id], year).items():
            found[name] = found.get(name, 0.0) + year.boats * share
    return found


def _shares(model: Model, year: Planned) -> dict[str, float]:
    """The part of a model's boats that have each option."""
    return year.takes | {str(name): 1.0 for name in model.standard}


def pulls_drawn(records: Records) -> dict[str, float]:
    """Mould -> pulls a year, of moulds that any are drawn of; nothing where no boats are planned.

    Scrap and spares come on top, several of an option on one boat too: it is an order of
    magnitude, to hold a plan against.
    """
    found: dict[str, float] = {}
    for id, year in planned(records).items():
        model = records.models[id]
        shares = _shares(model, year)
        for owner, share in (
            (model.base, 1.0),
            *((records.options.get(name), share) for name, share in shares.items()),
        ):
            for mould, pulls in _of_owner(records, owner):
                drawn = year.boats * share * pulls
                found[mould] = found.get(mould, 0.0) + drawn
    return {mould: pulls for mould, pulls in found.items() if pulls and mould in records.moulds}


def _of_owner(records: Records, owner: Any) -> Iterator[tuple[str, float]]:
    """The pulls of one option, or of what a boat is built up from, if it is."""
    for use in getattr(owner, "parts", ()):
        count = 1.0 if use.quantity is None else use.quantity.value
        yield from ((mould, count * pulls) for mould, pulls in _of_part(records, str(use.part)))


def _of_part(records: Records, id: str) -> Iterator[tuple[str, float]]:
    part = records.parts.get(id)
    if part is None:
        return
    yield from ((str(mould), 1.0) for mould in part.moulds)
    for core in part.cores if isinstance(part, ClosedMouldPart) else ():
        count = 1.0 if core.quantity is None else core.quantity.value
        yield from ((mould, count * pulls) for mould, pulls in _of_part(records, str(core.part)))
