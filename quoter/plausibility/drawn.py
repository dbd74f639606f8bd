"""The pulls of each mould that a year's planned boats and options draw, before scrap."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from quoter.catalogue.parts import ClosedMouldPart
from quoter.catalogue.records import Records
from quoter.catalogue.volumes import boats_planned, take_rates


def pulls_drawn(records: Records) -> dict[str, float]:
    """Mould -> pulls a year, of moulds that any are drawn of; nothing where no boats are planned.

    Scrap and spares come on top, several of an option on one boat too: it is an order of
    magnitude, to hold a plan against.
    """
    found: dict[str, float] = {}
    for id, model in records.models.items():
        boats = boats_planned(records, id)
        if boats is None:
            continue
        shares = {name: rate.value for name, rate in take_rates(records, id).items()}
        shares |= {str(name): 1.0 for name in model.standard}
        for owner, share in (
            (model.base, 1.0),
            *((records.options.get(name), share) for name, share in shares.items()),
        ):
            for mould, pulls in _of_owner(records, owner):
                drawn = boats.value * share * pulls
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
