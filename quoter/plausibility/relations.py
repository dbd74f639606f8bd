"""Values held against each other: areas of a part, pulls, volumes, what is spent once.

Each has its range in `of_relations`, where it is written with its source. What only a costing knows
of boats and options is in `built`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from quoter.catalogue.checks import offered
from quoter.catalogue.checks_ids import every_record, figure_place
from quoter.catalogue.markets import Rounding
from quoter.catalogue.operations import CLOSED_MOULD
from quoter.catalogue.options import Model, Option
from quoter.catalogue.parts import Face, MouldedPart, Vacuum, Zone
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.costing.quantities import TakeOff, add_geometry, region
from quoter.plausibility import of_relations as usual
from quoter.plausibility.cases import Cases
from quoter.plausibility.drawn import planned, pulls_drawn, units_drawn
from quoter.plausibility.meant import Doubts, how_to_say
from quoter.plausibility.usual import Usual, shown
from quoter.problems import Place, Problem

YEARS = 10  # in which what is spent once is to be borne


@dataclass(frozen=True, slots=True)
class Ratio:
    """What a relation came to: of which records, at which place, about what, and its size."""

    usual: Usual
    records: tuple[CatalogueRecord, ...]
    place: Place
    about: str
    size: float


def related(catalogue: Catalogue, doubts: Doubts) -> None:
    """Tell of values that do not fit to each other."""
    tell(_ratios(catalogue.records), doubts)
    _without_take_rate(catalogue.records, doubts)
    _stated_as_injected(catalogue.records, doubts)


def tell(ratios: Iterable[Ratio], doubts: Doubts) -> None:
    """Tell of relations that are outside their usual range, once for each line."""
    told: set[tuple[Place, str]] = set()
    for found in ratios:
        if found.usual.bounds.hold(found.size):
            continue
        first = (found.place, found.about) not in told
        told.add((found.place, found.about))
        name = found.usual.field
        if first:
            size = shown(found.usual, found.size)
            what = f"{found.about} is {size}, and {found.usual.within} is usual"
            hint = f"{found.usual.relation}: {found.usual.source}; "
            hint += how_to_say(found.records[0], name)
            problem = Problem(found.place, "unusual", what, hint, warning=True)
            doubts.add(found.records, name, problem)
        else:
            any(doubts.means(record, name) for record in found.records)


def _ratios(records: Records) -> Iterator[Ratio]:
    cases = Cases(records)
    for part in records.parts.values():
        if isinstance(part, MouldedPart):
            yield from _areas(part)
    for record in every_record(records):
        if isinstance(record, Vacuum):
            yield from _cavity(record)
        elif isinstance(record, Rounding) and record.ending is not None:
            size = abs(record.ending.value) / record.step.value
            place = figure_place(record.ending)
            yield Ratio(usual.ENDING, (record,), place, "the ending, of its step,", size)
    yield from _overheads(records, cases)
    for foam in records.of("foam").values():
        size = foam.parts_a.value / foam.parts_b.value
        place = figure_place(foam.parts_a)
        yield Ratio(usual.MIX, (foam,), place, "one component, of the other,", size)
    for model in records.models.values():
        size = model.beam.value / model.length.value
        about = f"the beam of '{model.id}', of its length,"
        yield Ratio(usual.BEAM, (model,), figure_place(model.beam), about, size)
    yield from _spent_once(records)
    for mould, pulls in pulls_drawn(records).items():
        record = records.moulds[mould]
        size = record.pulls_per_year.value / pulls
        about = f"what '{mould}' plans of the {pulls:.4g} pulls a year that the volumes draw"
        yield Ratio(usual.PULLS, (record,), figure_place(record.pulls_per_year), about, size)


def _cavity(vacuum: Vacuum) -> Iterator[Ratio]:
    if vacuum.flange_pressure.value:
        size = vacuum.cavity_pressure.value / vacuum.flange_pressure.value
        place = figure_place(vacuum.cavity_pressure)
        yield Ratio(usual.CAVITY, (vacuum,), place, "the cavity's vacuum, of the flange's,", size)


def _overheads(records: Records, cases: Cases) -> Iterator[Ratio]:
    for station in records.stations.values():
        overhead = station.overhead
        budget = overhead.variable.value + overhead.fixed.value
        in_euros = cases.euros(budget, records.home or "")
        if overhead.capacity.unit.currencies or not budget or in_euros is None:
            continue
        place = figure_place(overhead.capacity)
        about = f"the overhead of '{station.id}' over an hour"
        size = in_euros / overhead.capacity.value
        yield Ratio(usual.OVERHEAD, (overhead,), place, about, size)


def _spent_once(records: Records) -> Iterator[Ratio]:
    """The units that bear what is spent once, against those that the volumes plan."""
    boats, options = planned(records), units_drawn(records)
    owners: list[tuple[Model | Option, float]] = [
        *((records.models[id], year.boats) for id, year in boats.items()),
        *((option, options.get(id, 0.0)) for id, option in records.options.items()),
    ]
    for owner, yearly in owners:
        units = YEARS * yearly
        for cost in owner.one_off if units else ():
            size = cost.units.value / units
            about = f"the units that bear the {cost.kind} of '{owner.id}', of the {units:.4g} that"
            about += f" {YEARS} years plan,"
            yield Ratio(usual.UNITS, (cost,), figure_place(cost.units), about, size)


def _areas(part: MouldedPart) -> Iterator[Ratio]:
    off = TakeOff(part, str(part.id), str(part.name), part.shape)
    add_geometry(off)
    whole = off.drivers["area"].value if "area" in off.drivers else 0.0
    zones = usual.ZONES[type(part)]
    found: tuple[tuple[tuple[Usual, ...], tuple[Zone | Face, ...], str], ...] = (
        ((usual.ZONE, usual.ZONE_LAP, zones), part.zones, "zone"),
        ((usual.FACE, usual.FACE_LAP, usual.FACES), part.gelcoat, "face"),
    )
    for ranges, regions, called in found:
        one, lap, together = ranges
        for each in regions:
            about = f"{called} '{each.name if isinstance(each, Zone) else each.colour}'"
            yield from _written(one, each, f"{about} of '{part.id}', of its area,", whole)
            yield from _lap(lap, each, about, off)
        areas = [_area(off, each, f"{called}{number}") for number, each in enumerate(regions)]
        known = [area for area in areas if area is not None]
        written = [each.area.value for each in regions if each.area is not None]
        alone = [one.bounds.hold(area / whole) for area in written if whole]
        if known and len(known) == len(areas) and whole and all(alone):
            about = f"all {called}s of '{part.id}', of its area,"
            where = regions[0].place
            yield Ratio(together, (part, *regions), where, about, sum(known) / whole)


def _written(range: Usual, region: Zone | Face, about: str, whole: float) -> Iterator[Ratio]:
    """An area that was written by hand, against that of its part."""
    if region.area is not None and whole:
        place = figure_place(region.area)
        yield Ratio(range, (region,), place, about, region.area.value / whole)


def _lap(range: Usual, region: Zone | Face, about: str, off: TakeOff) -> Iterator[Ratio]:
    """A strip outside the edge or upright on it; inside, the take-off refuses one too wide."""
    if region.strip is None or region.lies in (None, "inside") or off.widest_strip is None:
        return
    side = 2 * off.widest_strip.value
    about = f"the strip of {about}, of its part's shorter side,"
    yield Ratio(range, (region,), figure_place(region.strip), about, region.strip.value / side)


def _area(off: TakeOff, each: Zone | Face, key: str) -> float | None:
    """The area of a region, as the take-off has it; None where the shape does not say it."""
    if isinstance(each, Zone) and each.is_rest:
        return None  # what the others leave makes up the whole
    needed = "perimeter" if each.strip is not None else "area"
    if each.area is None and needed not in off.drivers:
        return None
    return region(off, each, key, key).value


def _without_take_rate(records: Records, doubts: Doubts) -> None:
    """An option that no plan knows of, although the boats that have it are planned."""
    if not any(row.take_rate is not None for row in records.volumes):
        return
    years = planned(records)
    standard = {id: set(map(str, records.models[id].standard)) for id in years}
    for option in records.options.values():
        lacking = [
            id
            for id, year in years.items()
            if option.id not in year.takes
            and option.id not in standard[id]
            and offered(option, records.models[id])
        ]
        if not lacking:
            continue
        names = ", ".join(lacking)
        what = f"option '{option.id}' has no take rate on {names}"
        hint = f"add lines to volumes.csv; {how_to_say(option, usual.TAKE_RATE.field)}"
        place = option.id.place
        problem = Problem(place, "unusual", what, hint, warning=True)
        doubts.add((option,), usual.TAKE_RATE.field, problem)


def _stated_as_injected(records: Records, doubts: Doubts) -> None:
    """Resin of a whole boat, or of moulds, that is said to give off nothing in a closed mould."""
    stated = [(model.base, f"the resin that '{id}' states") for id, model in records.models.items()]
    found: list[tuple[CatalogueRecord, str]] = [*stated]
    if records.yard is not None:
        built = records.yard.policy.moulds_built
        found += [(each, f"'{each.name}' for moulds") for each in built]
    for record, called in found:
        if getattr(record, "applied", None) != CLOSED_MOULD:
            continue
        what = f"{called} is applied in a closed mould, and {usual.APPLIED.within} is usual"
        hint = f"{usual.APPLIED.source}; {how_to_say(record, usual.APPLIED.field)}"
        place = getattr(record.applied, "place", record.place)  # type: ignore[attr-defined]
        doubts.add(
            (record,), usual.APPLIED.field, Problem(place, "unusual", what, hint, warning=True)
        )
