"""On which working day of a job each operation of each part falls.

A plain walk, no plan of the shop: every part has a chain of its own, they run beside each other
from the first day, and nobody waits for a busy station. A part goes on once all that it takes is
made. What has a mould is pulled one after the other, since there is one of each; all else goes
through an operation together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, floor

from quoter.catalogue.yard import ShiftCalendar
from quoter.costing.assembly import Assembly, Made
from quoter.costing.occupation import DAY, by_the_clock, in_the_mould
from quoter.costing.quantities import entry_of
from quoter.engineering.calendar import after_work, hours_worked, working_day

SAME = 6  # decimals of an hour to which work ends with a shift
WEEKDAYS = 7


@dataclass(frozen=True, slots=True)
class Stop:
    """Some pieces at one operation: the working days of the job on which work begins and ends."""

    pieces: float
    begins: int
    ends: int


@dataclass(frozen=True, slots=True)
class Clock:
    """Time of a job, which may begin within a week, counted from that week's first shift.

    `offset` are the calendar days before the job's start in that week, `monday` the week's first.
    """

    shift: float
    days: float
    offset: int = 0
    monday: date | None = None

    def day_of(self, time: float) -> int:
        """The working day of the job on which work falls that may begin at a time."""
        return self._number(time) - self._number(self.start) + 1

    def ended(self, time: float, begun: int) -> int:
        """The working day on which work ended that was done by a time."""
        worked = round(hours_worked(time, self.shift, self.days, DAY), SAME)
        return max(begun, ceil(worked / self.shift) - self._number(self.start) + 1)

    def after(self, time: float, work: float) -> float:
        """When work ends that may begin at a time."""
        return after_work(time, work, self.shift, self.days, DAY)

    def date_of(self, day: int) -> date | None:
        """The date of a working day of the job, where the job has one."""
        if self.monday is None:
            return None
        weeks, rest = divmod(day - 1 + self._number(self.start) - 1, int(self.days))
        return self.monday + timedelta(days=weeks * WEEKDAYS + rest)

    @property
    def start(self) -> float:
        """When the job may begin."""
        return self.offset * DAY

    def _number(self, time: float) -> int:
        worked = round(hours_worked(time, self.shift, self.days, DAY), SAME)
        return floor(working_day(worked, self.shift))


def clock_of(calendar: ShiftCalendar, start: date | None) -> Clock:
    """The clock of a job that begins on a date, else with a week; working weeks begin on Mondays.

    Holidays are not known to it.
    """
    shift = calendar.shifts.value * calendar.hours.value
    if start is None:
        return Clock(shift, calendar.days.value)
    offset = start.weekday()
    return Clock(shift, calendar.days.value, offset, start - timedelta(days=offset))


Stops = Mapping[str, Sequence[Sequence[Stop]]]


def schedule(made: Sequence[Made], boats: int, clock: Clock) -> Stops:
    """Where each assembly is on which day: by its key, for each operation the stops in order.

    Args:
        made: everything that one boat takes, in building order
        boats: of the job
        clock: of the job
    """
    ready: dict[str, float] = {}
    found: dict[str, list[list[Stop]]] = {}
    for one in made:
        assembly = one.assembly
        uses = [u.assembly.recipe.key for u in assembly.recipe.uses if not u.credit]
        taken = max((ready.get(key, clock.start) for key in uses), default=clock.start)
        stops: list[list[Stop]] = [[] for _ in assembly.operations]
        free = done = clock.start
        for pieces in _lots(assembly, one.quantity.value * boats):
            free, ended = _through(assembly, pieces, free, taken, clock, stops)
            done = max(done, ended)
        ready[assembly.recipe.key] = max(done, taken)
        found[assembly.recipe.key] = stops
    return found


def _lots(assembly: Assembly, pieces: float) -> Iterator[float]:
    """Single pulls where it has a mould, else all at once."""
    if not assembly.tooling:
        yield pieces
        return
    for number in range(ceil(round(pieces, SAME))):
        yield min(1.0, pieces - number)


def _through(
    assembly: Assembly,
    pieces: float,
    free: float,
    taken: float,
    clock: Clock,
    stops: list[list[Stop]],
) -> tuple[float, float]:
    """Send pieces through all operations; when the mould is free again, and when they are done."""
    enters = entry_of(assembly.recipe.operations, "core")
    moulded = {*in_the_mould(assembly)}
    time = free
    for number, done in enumerate(assembly.operations):
        begins = max(time, taken) if number >= enters else time
        ends = clock.after(begins, by_the_clock(done).value * pieces)
        day = clock.day_of(begins)
        stops[number].append(Stop(pieces, day, clock.ended(ends, day)))
        cure = done.operation.cure
        time = ends if cure is None else ends + cure.value
        if number in moulded:
            free = time
    return free, time


def last_day(stops: Stops) -> int:
    """The last working day of a job; 1 of one without work."""
    every = (each for operations in stops.values() for lots in operations for each in lots)
    return max((each.ends for each in every), default=1)
