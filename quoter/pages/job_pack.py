"""Papers for one boat on the floor: all that its job needs, in one document, in its real colours.

The lists and cards are those of the shop papers, whose batch is here all pieces of the job.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil

from quoter.catalogue.forms import Position
from quoter.costing.assembly import Assembly, Made, in_building_order
from quoter.costing.quantities import STATED, entry_of
from quoter.costing.schedule import Clock, Stop, Stops, clock_of, last_day, schedule
from quoter.figures import Figure, constant, plain_number, total
from quoter.figures.readers import THIN, Reader
from quoter.pages.amounts import DIGITS
from quoter.pages.booking import Code, booking_text, code_of, station_text
from quoter.pages.environment import assets, office_environment, render
from quoter.pages.figured import digits_of, unit_words
from quoter.pages.job_views import (
    Day,
    Job,
    JobPaper,
    MassRow,
    NotMadeRow,
    OptionRow,
    Passing,
    PositionRow,
    StationSheet,
    Store,
    StoreRow,
)
from quoter.pages.mixing import DOSED
from quoter.pages.paper_views import Paper, PartPaper
from quoter.pages.papers import ASSETS, paper_for
from quoter.pages.picture_views import Amount
from quoter.phrases import phrase
from quoter.pricing.built import Aboard, Built
from quoter.pricing.price import Pricing
from quoter.units import NONE

DOCUMENT = "papers.html"
JOB_ASSETS = {**ASSETS, "assets/job.css": "internal/papers/job.css"}
WHOLE = "whole-boat"  # in the place of an option's id, which has no hyphen
DECIMALS = {**DIGITS, "in": 1, "gal": 3}
SAME = 6  # decimals of a piece to which it is whole
NO_MASS, NO_TIME = constant(0.0, "kg"), Decimal(0)
BOTH = ("port", "starboard")
PLACES = {
    "port": phrase("port"),
    "centre": phrase("centre"),
    "starboard": phrase("starboard"),
    "stem": phrase("stem"),
    "transom": phrase("transom"),
    "sole": phrase("sole"),
    "waterline": phrase("waterline"),
    "deck": phrase("deck"),
}
# What most builders look at before a boat with openings and lids leaves (common practice).
HANDOVER = (
    phrase("Every opening, lid and hatch is sealed, and tight under the hose"),
    phrase("Every latch closes and holds, and locks where it has a lock"),
    phrase("Hinges turn freely, and nothing touches over the whole swing"),
    phrase("Drains run"),
    phrase("The boat is weighed, and its mass is written down"),
    phrase("The owner's manual is aboard"),
)


@dataclass(frozen=True, slots=True)
class _Work:
    """What is made for a job, and when: parts in building order, and where each is on which day."""

    pricing: Pricing
    job: Job
    boat: Built
    made: Sequence[Made]
    clock: Clock | None
    stops: Stops


def job_files(pricing: Pricing, boat: Built, job: Job) -> dict[str, bytes]:
    """Path below the job's folder -> content: one document and its styles.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    catalogue = pricing.catalogue
    environment = office_environment(catalogue)
    pack = job_paper(pricing, boat, job)
    page = render(
        environment,
        "internal/papers/job.html",
        root="",
        pack=pack,
        paper=pack.paper,
        yard=str(catalogue.yard.company.name),
        as_of=catalogue.as_of,
    )
    return {DOCUMENT: page, **assets(JOB_ASSETS, catalogue.paper)}


def job_paper(pricing: Pricing, boat: Built, job: Job) -> JobPaper:
    """What a job's papers show."""
    made, catalogue = in_building_order(boat.whole), pricing.catalogue
    calendar = catalogue.yard.policy.shift_calendar
    clock = None if calendar is None else clock_of(calendar, job.start)
    stops = {} if clock is None else schedule(made, job.boats, clock)
    work = _Work(pricing, job, boat, made, clock, stops)
    masses = tuple(_masses(boat))
    port, starboard = (
        total([each.mass for each in masses if each.side == side], NO_MASS).value for side in BOTH
    )
    model = boat.priced.model
    paper = paper_for(
        pricing, boat.priced, WHOLE, phrase("Job {number}", number=job.number), _batched(work)
    )
    paper = replace(paper, hull_colour=str(boat.colour.colour), colours=(), left_out=())
    sheets = tuple(_stations(work, paper))
    return JobPaper(
        job=job,
        paper=paper,
        options=tuple(
            OptionRow(str(each.option.name), plain_number(each.count), each.standard)
            for each in boat.aboard
        ),
        not_made=tuple(
            NotMadeRow(each.name, Decimal(repr(each.quantity)), each.instead)
            for each in boat.not_made
        ),
        stores=tuple(_stores(work)),
        stations=sheets,
        positions=tuple(_positions(catalogue.reader, boat.aboard, str(model.id))),
        masses=tuple(_mass_rows(catalogue.reader, masses)),
        heavier=BOTH[starboard > port] if port != starboard else "",
        difference=told(catalogue.reader, constant(abs(port - starboard), "kg"), 1),
        handover=tuple(map(str, catalogue.yard.handover)) or HANDOVER,
        code=code_of(booking_text(job.number), phrase("The whole job")),
        further=tuple(_further(work, sheets)),
        days=None if clock is None else _day(work, last_day(stops)),
    )


def told(reader: Reader, amount: Figure, digits: int | None = None) -> Amount:
    """An amount as these papers show it: the one place that chooses its unit and decimals."""

    def one(figure: Figure) -> Amount:
        usual = DECIMALS.get(str(figure.unit), digits_of(figure))
        shown = usual if digits is None else digits
        return Amount(plain_number(figure), unit_words(figure), shown)

    other = reader.besides(amount)
    return replace(one(reader.shown(amount)), beside=None if other is None else one(other))


def _batched(work: _Work) -> Assembly:
    """The boat with all pieces of the job in the place of each part's usual batch."""
    pieces = {
        one.assembly.recipe.key: one.quantity * constant(float(work.job.boats)) for one in work.made
    }

    def anew(assembly: Assembly) -> Assembly:
        uses = [replace(use, assembly=anew(use.assembly)) for use in assembly.recipe.uses]
        batch = pieces.get(assembly.recipe.key)
        return replace(assembly, recipe=replace(assembly.recipe, batch=batch, uses=uses))

    return anew(work.boat.whole)


def _day(work: _Work, number: int) -> Day:
    return Day(number, None if work.clock is None else work.clock.date_of(number))


Fetched = dict[tuple[int, str], tuple[list[Figure], list[str]]]


def _stores(work: _Work) -> Iterator[Store]:
    """What is fetched from each store, by day; stores in the order of the catalogue's materials."""
    materials = work.pricing.catalogue.records.materials
    rates, found = work.pricing.costing.rates, dict[str, Fetched]()
    reader = work.pricing.catalogue.reader
    for one in work.made:
        for material in one.assembly.materials:
            id = material.line.material
            store = found.setdefault(str(materials[id].store or ""), {})
            for day, amount in _drawn(work, one, material.line.stage, material.line.issued):
                amounts, parts = store.setdefault((day, id), ([], []))
                amounts.append(amount)
                parts.append(one.assembly.name)
    order = list(materials)
    names = dict.fromkeys(str(material.store or "") for material in materials.values())
    for name in sorted(names, key=lambda name: not name):  # without a store last
        rows = []
        fetched = found.get(name, {})
        for day, id in sorted(fetched, key=lambda at: (at[0], order.index(at[1]))):
            amounts, parts = fetched[day, id]
            amount = _taken(total(amounts, amounts[0]), rates.classes[id] in DOSED)
            if amount.value:
                when = _day(work, day) if day else None
                rows.append(
                    StoreRow(
                        when, rates.names[id], told(reader, amount), tuple(dict.fromkeys(parts))
                    )
                )
        if rows:
            yield Store(name, tuple(rows))


def _taken(amount: Figure, dosed: bool) -> Figure:
    """An amount as a store hands it out: catalyst weighed in grams, pieces whole."""
    if dosed:
        return amount.shown_in("g")
    if amount.unit == NONE:
        return constant(float(ceil(round(amount.value, SAME))))
    return amount


def _drawn(work: _Work, one: Made, stage: str, issued: Figure) -> Iterator[tuple[int, Figure]]:
    """On which days how much of a line is taken; day 0 for what belongs to no operation."""
    stops = work.stops.get(one.assembly.recipe.key, ())
    if stage == STATED or not stops:
        yield 0, issued * one.quantity * float(work.job.boats)
        return
    for stop in stops[entry_of(one.assembly.recipe.operations, stage)]:
        yield stop.begins, issued * stop.pieces


def _stations(work: _Work, paper: Paper) -> Iterator[StationSheet]:
    """A sheet for each station that has work, in the order of the catalogue."""
    made = {part_id(one.assembly): one for one in work.made}
    for id, station in work.pricing.catalogue.records.stations.items():
        parts: list[PartPaper] = []
        passing: list[Passing] = []
        codes: list[Code] = []
        for part in paper.parts:
            one = made[part.id]
            here = [
                number
                for number, done in enumerate(one.assembly.operations)
                if str(done.operation.station) == id
            ]
            if here:
                parts.append(_at_station(part, one.assembly, id, here))
                passing.append(_passing(work, one, here))
                codes += _codes(work.job, one.assembly, here)
        if parts:
            sheet = replace(paper, parts=tuple(parts))
            coarse = _coarse(work.job, id, phrase("All work of the job here"))
            yield StationSheet(id, str(station.name), tuple(passing), sheet, (coarse, *codes))


def part_id(assembly: Assembly) -> str:
    """What a shop paper calls a part where it needs a name without spaces."""
    return assembly.recipe.key.replace(".", "-")


def _at_station(
    part: PartPaper, assembly: Assembly, station: str, here: Sequence[int]
) -> PartPaper:
    """A part with its steps at one station alone, and what its mould or bag is set to there."""
    steps = tuple(part.steps[number] for number in here)
    route = assembly.recipe.operations
    core, resin, foam = (entry_of(route, stage) in here for stage in ("core", "resin", "foam"))
    return replace(
        part,
        id=f"{station}-{part.id}",
        steps=steps,
        passed=None,
        thickness=part.thickness if foam else None,
        cavities=part.cavities if core or resin else (),
        clamp=part.clamp if resin else None,
        bag=part.bag if resin else None,
        time=sum((step.one for step in steps), NO_TIME),
        batch_time=sum((step.batch for step in steps), NO_TIME),
    )


def _passing(work: _Work, one: Made, here: Sequence[int]) -> Passing:
    recipe = one.assembly.recipe
    days: list[Stop] = []
    for operations in [work.stops.get(recipe.key)]:
        if operations is not None:
            days = [stop for number in here for stop in operations[number]]
    return Passing(
        part=one.assembly.name,
        pieces=plain_number(one.quantity * float(work.job.boats)),
        batch=Decimal(1) if recipe.batch is None else plain_number(recipe.batch),
        begins=_day(work, min(stop.begins for stop in days)) if days else None,
        ends=_day(work, max(stop.ends for stop in days)) if days else None,
    )


def _coarse(job: Job, station: str, words: str) -> Code:
    """What is booked by where not by operation: all that the job takes at a station."""
    return code_of(station_text(job.number, station), words)


def _further(work: _Work, sheets: Sequence[StationSheet]) -> Iterator[Code]:
    """Codes of stations that the boat states hours of and has no operation at, so no sheet."""
    with_sheet = {sheet.id for sheet in sheets}
    hours = work.boat.whole.hours
    for id, station in work.pricing.catalogue.records.stations.items():
        if id not in with_sheet and id in hours and hours[id].value > 0:
            yield _coarse(work.job, id, str(station.name))


def _codes(job: Job, assembly: Assembly, here: Sequence[int]) -> Iterator[Code]:
    for number in here:
        operation = assembly.operations[number].operation
        text = booking_text(job.number, assembly.recipe.key, number + 1)
        yield code_of(text, assembly.name, f"{number + 1} {operation.name}")


@dataclass(frozen=True, slots=True)
class _Mass:
    """What some of an option weighs on one side of one boat."""

    option: str
    side: str
    mass: Figure


def _masses(boat: Built) -> Iterator[_Mass]:
    """What is added to the boat as it comes, where it weighs; what has no place is centred."""
    model = str(boat.priced.model.id)
    for each in boat.aboard:
        if each.standard:
            continue
        mass = each.assembly.mass * each.count
        places = [at.side or "centre" for at in each.option.at if at.model == model] or ["centre"]
        for side in places:
            yield _Mass(each.assembly.name, side, mass / float(len(places)))
    if boat.restyled.value:
        yield _Mass(phrase("Standard equipment, in the boat's colour"), "centre", boat.restyled)


def _mass_rows(reader: Reader, masses: Sequence[_Mass]) -> Iterator[MassRow]:
    """A row for each option, and the sums."""
    by_option: Mapping[str, list[_Mass]] = {
        each.option: [other for other in masses if other.option == each.option] for each in masses
    }
    for name, inside in [*by_option.items(), (phrase("In all"), [*masses])]:
        on = {
            side: told(
                reader, total([each.mass for each in inside if each.side == side], NO_MASS), 1
            )
            for side in ("port", "centre", "starboard")
        }
        yield MassRow(
            name, **on, all=told(reader, total([each.mass for each in inside], NO_MASS), 1)
        )


def _positions(reader: Reader, aboard: Sequence[Aboard], model: str) -> Iterator[PositionRow]:
    """Where each option sits; openings that were not measured on the model are told as well."""
    for each in aboard:
        name, opening = str(each.option.name), each.option.kind == "opening"
        places = [at for at in each.option.at if at.model == model]
        for at in places:
            yield _position(reader, name, opening, at)
        if opening and not places:
            yield PositionRow(name, opening)


def _position(reader: Reader, name: str, opening: bool, at: Position) -> PositionRow:
    return PositionRow(
        name,
        opening,
        PLACES[str(at.side or "centre")],
        PLACES[str(at.end)],
        _on_the_boat(reader, at.distance),
        PLACES[str(at.level)],
        _on_the_boat(reader, at.height),
    )


def _on_the_boat(reader: Reader, length: Figure) -> Amount:
    """A length to mark out, in mm or inches however it was written."""
    return told(reader, replace(constant(length.value, "m"), form=THIN))
