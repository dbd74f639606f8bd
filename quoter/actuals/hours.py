"""Paid hours against standard: labour rate, efficiency, rework, and what scrap took of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from quoter.actuals.compared import KINDS, Compared, Kind, Line, Unbooked
from quoter.actuals.levels import Reading, match
from quoter.actuals.matched import Entry, Group, Matched, Need, allotted, groups_of
from quoter.actuals.pieces import Ground, operation_of
from quoter.actuals.standards import Owners, Standard
from quoter.catalogue.booked import HoursRow
from quoter.costing.assembly import Assembly
from quoter.engineering.labour import labour_cost, labour_rate
from quoter.engineering.variances import price_variance, quantity_variance
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase, together
from quoter.problems import Place

NO_HOURS = constant(0.0, "h")
NO_RATIO = constant(0.0)


@dataclass(frozen=True, slots=True)
class Load:
    """Hours of a station in a month as a base that absorbs overhead.

    `standard` is what good pieces should have taken, `flexed` what all that were begun should have.
    """

    station: str
    month: str
    actual: Figure
    standard: Figure
    flexed: Figure
    owners: Owners
    rows: tuple[Place, ...]


def compare_hours(ground: Ground) -> tuple[list[Compared], list[Unbooked], list[Load]]:
    """All hours that were booked, compared; and what they absorb overhead on."""
    names = ground.pricing.costing.rates.station_names
    reading = Reading(
        needs=_needs,
        called=lambda resource: names[resource.partition(".")[2]],
        rate=lambda resource, day: ground.rates.labour(resource.partition(".")[2], day),
        pool="station",
        by_operation=True,
    )
    matching = match(_entries(ground), ground, reading)
    compared, loads = [], []
    for matched in matching.matched:
        for one, load in _compared(matched, ground, reading.called(matched.resource)):
            compared.append(one)
            loads.append(load)
    return compared, matching.unbooked, loads


def _needs(standard: Standard) -> Iterator[Need]:
    """The hours that a standard has at each operation."""
    for work in standard.works:
        resource = f"labour.{work.station}"
        yield Need(
            resource=resource,
            part=work.part,
            operation=work.operation,
            quantity=work.hours,
            rework=work.rework,
            base=work.base,
            owners=work.owners,
            lost=work.lost,
        )


def _entries(ground: Ground) -> Iterator[Entry]:
    """The rows of hours, each with its rates; one that fits nothing is told and left out."""
    for row in ground.booked.hours:
        job = str(row.job) if row.job is not None else ""
        if job and job not in ground.jobs:
            words = phrase("{place}: no job '{job}' was begun by then", place=row.place, job=job)
            ground.notes.append(words)
            continue
        part, operation, station = _where(ground, row, job)
        if not station:
            words = phrase("{place}: hours of no station are left out", place=row.place)
            ground.notes.append(words)
            continue
        yield Entry(
            resource=f"labour.{station}",
            day=row.date,
            reference=str(row.reference),
            place=row.place,
            quantity=row.hours,
            paid=_paid(ground, row, station),
            standard=ground.rates.labour(station, row.date),
            job=job,
            part=part,
            operation=operation,
            rework=row.rework,
        )


def _where(ground: Ground, row: HoursRow, job: str) -> tuple[str, int, str]:
    """Part, operation and station of a row.

    Where it names a station that is not the operation's, the hours were booked there: then the
    operation is taken for a slip, since a station's pay and budget are held against its hours. A
    part that the job does not have still says where the work was done.
    """
    named = str(row.station) if row.station is not None else ""
    part = ground.part(row.part, job)
    if row.part is not None and not part:
        words = phrase(
            "{place}: '{part}' is no part of it; compared more coarsely",
            place=row.place,
            part=row.part,
        )
        ground.notes.append(words)
    alike = [ground.parts[part]] if part else ground.alike(row.part)
    found = {_at(assembly, row, named) for assembly in alike}
    operation, station = found.pop() if len(found) == 1 else (0, named)
    return part, operation if part else 0, station


def _at(assembly: Assembly, row: HoursRow, station: str) -> tuple[int, str]:
    """The operation of an assembly that a row is of, or 0, and the station."""
    operation = operation_of(assembly, row.operation)
    route = [str(done.operation.station) for done in assembly.operations]
    if operation and station in ("", route[operation - 1]):
        return operation, route[operation - 1]
    return 0, station or (route[0] if len(set(route)) == 1 else "")


def _paid(ground: Ground, row: HoursRow, station: str) -> Figure:
    """What an hour cost with on-costs: at the row's wage, else at its group's of the day."""
    if row.wage is None:
        return ground.rates.labour(station, row.date, str(row.group or ""))
    on_costs = ground.pricing.costing.stations[station].on_costs
    label = phrase("Hours {reference}: rate paid", reference=row.reference)
    return labour_rate(row.wage, on_costs).named(f"actual.hours.{row.reference}.rate", label)


@dataclass(frozen=True, slots=True)
class _Stream:
    """Work, or rework where it is told apart: by group of rows, what was booked beside standard.

    `flexed` is the standard of all pieces that were begun; the very list `planned` where nobody
    counted them.
    """

    kind: Kind
    booked: list[Figure]
    planned: list[Figure]
    flexed: list[Figure]


def _streams(matched: Matched, groups: Sequence[Group], label: str) -> list[_Stream]:
    """Where every row says whether it was rework, planned rework is held against what was; else it
    is part of the standard. While a job is open, it counts at what was booked."""
    booked = [group.amount() for group in groups]
    if matched.open:
        return [_Stream("efficiency", booked, booked, booked)]
    key = matched.scope("whole" if matched.job else groups[0].month).key
    if any(entry.rework is None for entry in matched.entries):
        whole = [(need.whole, need) for need in matched.needs]
        return [_stream("efficiency", booked, whole, f"{key}.planned", label)]
    worked = [group.amount(rework=False) for group in groups]
    work = [(need.quantity, need) for need in matched.needs]
    streams = [_stream("efficiency", worked, work, f"{key}.planned", label)]
    mended = [group.amount(rework=True) for group in groups]
    again = [(need.rework, need) for need in matched.needs if need.rework is not None]
    if again or any(entry.rework for entry in matched.entries):
        streams.append(_stream("rework", mended, again, f"{key}.planned_rework", label))
    return streams


def _stream(
    kind: Kind,
    booked: list[Figure],
    needs: Sequence[tuple[Figure, Need]],
    key: str,
    label: str,
) -> _Stream:
    words = phrase("{label}, hours by standard", label=label)
    planned = total([hours for hours, _ in needs], NO_HOURS).named(key, words)
    shared = allotted(planned, booked)
    if all(need.flexed is None for _, need in needs):
        return _Stream(kind, booked, shared, shared)
    words = phrase("{label}, hours by standard of pieces begun", label=label)
    begun = [hours if need.flexed is None else hours * need.flexed for hours, need in needs]
    flexed = total(begun, NO_HOURS).named(f"{key}_of_begun", words)
    return _Stream(kind, booked, shared, allotted(flexed, booked))


def _compared(matched: Matched, ground: Ground, station: str) -> Iterator[tuple[Compared, Load]]:
    """One scope, for each month that it has rows of."""
    groups, label = groups_of(matched.entries), _label(matched, ground, station)
    streams = _streams(matched, groups, label)
    for month in dict.fromkeys(group.month for group in groups):
        within = [n for n, group in enumerate(groups) if group.month == month]
        yield _of_month(_Month(matched, ground, month, label, groups, streams, within))


@dataclass(frozen=True, slots=True)
class _Month:
    """The groups of a scope that are of a month, by their numbers `within` all of them."""

    matched: Matched
    ground: Ground
    month: str
    label: str
    groups: Sequence[Group]
    streams: Sequence[_Stream]
    within: Sequence[int]

    @property
    def key(self) -> str:
        """What begins the keys of its figures."""
        return self.matched.scope(self.month).key

    @property
    def rows(self) -> tuple[Place, ...]:
        """The rows of hours, by day."""
        return tuple(entry.place for n in self.within for entry in self.groups[n].entries)

    def keyed(self, figures: list[Figure], what: str, words: str) -> Figure:
        """A sum under a name of the scope."""
        label = phrase("{label}: {words}", label=self.label, words=words)
        return total(figures, figures[0]).named(f"{self.key}.{what}", label)

    def line(self, kind: Kind, amounts: list[Figure], more: tuple[Place, ...] = ()) -> Line:
        """A variance of the month, summed over its groups."""
        figure = self.keyed(amounts, kind, KINDS[kind])
        scope = self.matched.scope(self.month)
        return Line(kind, scope, figure, self.rows + more, self.matched.owners)

    def hours(self, of: Sequence[Sequence[Figure]]) -> list[Figure]:
        """What each stream has in the month's groups."""
        return [amounts[n] for amounts in of for n in self.within]

    def costs(self, of: Sequence[Sequence[Figure]]) -> list[Figure]:
        """The same at standard rates."""
        return [
            labour_cost(amounts[n], self.groups[n].standard) for amounts in of for n in self.within
        ]


def _of_month(month: _Month) -> tuple[Compared, Load]:
    planned = [stream.planned for stream in month.streams]
    flexed = [stream.flexed for stream in month.streams]
    paid = [
        labour_cost(hours, rate)
        for n in month.within
        for rate, hours in month.groups[n].by_paid.items()
    ]
    actual_hours = month.keyed(
        [month.groups[n].amount() for n in month.within], "hours", phrase("hours")
    )
    standard_hours = month.keyed(month.hours(planned), "standard_hours", phrase("standard hours"))
    compared = Compared(
        scope=month.matched.scope(month.month),
        actual=month.keyed(paid, "actual", phrase("labour cost")),
        standard=month.keyed(month.costs(planned), "standard", phrase("standard labour cost")),
        lines=tuple(_lines(month)),
        actual_quantity=actual_hours,
        standard_quantity=standard_hours,
        rows=month.rows,
    )
    flexed_hours = standard_hours
    if any(stream.flexed is not stream.planned for stream in month.streams):
        words = phrase("standard hours of pieces begun")
        flexed_hours = month.keyed(month.hours(flexed), "flexed_hours", words)
    return compared, _load(month, compared, flexed_hours, month.costs(flexed))


def _lines(month: _Month) -> Iterator[Line]:
    rates = [
        price_variance(paid, month.groups[n].standard, hours)
        for n in month.within
        for paid, hours in month.groups[n].by_paid.items()
        if paid is not month.groups[n].standard
    ]
    if rates:
        yield month.line("rate", rates)
    for stream in month.streams:
        if not month.matched.open:
            used = [
                quantity_variance(stream.booked[n], stream.flexed[n], month.groups[n].standard)
                for n in month.within
            ]
            yield month.line(stream.kind, used)
    begun = [
        quantity_variance(stream.flexed[n], stream.planned[n], month.groups[n].standard)
        for stream in month.streams
        if stream.flexed is not stream.planned
        for n in month.within
    ]
    if begun:
        yield month.line("scrap", begun, month.matched.pulls)


def _load(month: _Month, compared: Compared, flexed: Figure, at_rates: list[Figure]) -> Load:
    """What the hours absorb overhead on.

    Machine hours are not booked: they are taken at standard for the hours of work, so that nothing
    is said of their efficiency.
    """
    _, _, station = month.matched.resource.partition(".")
    base = str(month.ground.pricing.costing.stations[station].overhead.base)
    hours, standard = compared.actual_quantity, compared.standard_quantity
    if hours is None or standard is None:
        raise ValueError("hours are compared by quantity")
    if base == "labour cost":
        hours, standard = compared.actual, compared.standard
        flexed = total(at_rates, at_rates[0])
    elif base == "machine hours":
        ratio = _machine_hours(month.matched)
        standard, flexed = standard * ratio, flexed * ratio
        hours = flexed
    owners = month.matched.owners
    return Load(station, month.month, hours, standard, flexed, owners, compared.rows)


def _machine_hours(matched: Matched) -> Figure:
    """Machine hours for each hour of work by standard."""
    bases = [need.base for need in matched.needs if need.base is not None]
    whole = total([need.whole for need in matched.needs], NO_HOURS)
    return total(bases, NO_HOURS) / whole if whole.value else NO_RATIO


def _label(matched: Matched, ground: Ground, station: str) -> str:
    """A scope in words."""
    words = [station]
    if matched.job:
        words.append(phrase("job {number}", number=matched.job))
    if matched.part:
        assembly = ground.parts[matched.part]
        words.append(assembly.name)
        if matched.operation:
            words.append(str(assembly.operations[matched.operation - 1].operation.name))
    return together(", ", tuple(words))
