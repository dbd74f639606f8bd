"""The year of the catalogue in round numbers: what it comes to on paper, and its plan."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from quoter.analysis.moulds import MouldLoad
from quoter.analysis.plan import MaterialNeed, Plan, StationLoad, plan_of
from quoter.figures import Figure
from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue

YEAR = FOLDER / "year"
# 40 dinghies, of which half take a bench and a quarter a locker; 20 launches, all with a locker
# (standard), 30 % with a bench, 10 % with a lid in place of half a tray.
BENCHES, LOCKERS, LIDS = 20 + 6, 10 + 20, 2
# A bench has two trays; every other locker is scrapped, with its tray.
TRAYS, COVERS = 2 * BENCHES + 2 * LOCKERS - LIDS / 2, BENCHES + LIDS
TRAY, COVER = 0.90 * 0.95, 0.80  # what passes


@cache
def year() -> Pricing:
    return priced(YEAR)


@cache
def plan() -> Plan:
    return plan_of(year())


def changed(folder: Path, file: str, old: str, new: str) -> Plan:
    """The plan of a catalogue with one text in place of another."""
    return plan_of(priced(write_catalogue(folder, {}, {file: (old, new)}, base=YEAR)))


def mould(plan: Plan, id: str) -> MouldLoad:
    return next(load for load in plan.moulds if load.mould.id == id)


def station(plan: Plan, id: str) -> StationLoad:
    return next(load for load in plan.stations if load.station == id)


def need(plan: Plan, id: str) -> MaterialNeed:
    return next(need for need in plan.materials if need.material == id)


def value(figure: Figure | None) -> float:
    """The value of a figure that must be there."""
    assert figure is not None
    return figure.value
