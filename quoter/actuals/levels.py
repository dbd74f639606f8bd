"""At which level what was booked can be compared, and what of a standard belongs there.

Hours and material alike. Of a job and a station (or a material) it is the finest level at which
the data are whole: one that lacks rows for something the job needs would take unbooked for zero.
Rows without a job are pools of a month.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from quoter.actuals.compared import LEVELS, Level, Unbooked
from quoter.actuals.matched import Entry, Matched, Matching, Need, grouped
from quoter.actuals.pieces import Ground, Pulled
from quoter.actuals.standards import JobStandard, Standard, of_piece
from quoter.catalogue.booked_words import month_of
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase


@dataclass(frozen=True, slots=True)
class Reading:
    """How a kind of resource is read: which needs a standard has, what one is called, its rate."""

    needs: Callable[[Standard], Iterator[Need]]
    called: Callable[[str], str]
    rate: Callable[[str, date], Figure]
    pool: Level
    by_operation: bool = False


def match(entries: Iterable[Entry], ground: Ground, reading: Reading) -> Matching:
    """Hold rows of a kind of resource against what all jobs and pulls should have taken of it.

    The order of the rows in their tables moves nothing: they are taken by day and reference.
    """
    by_resource: dict[str, list[Entry]] = {}
    for entry in sorted(entries, key=lambda entry: (entry.day, entry.reference)):
        by_resource.setdefault(entry.resource, []).append(entry)
    needs = {number: _job_needs(ground, job, reading) for number, job in ground.jobs.items()}
    by_job = {
        number: grouped(of_job, lambda need: need.resource) for number, of_job in needs.items()
    }
    every = dict.fromkeys(resource for of_job in by_job.values() for resource in of_job)
    matching = Matching()
    for resource in dict.fromkeys([*every, *sorted(by_resource)]):
        of_resource = {number: of_job.get(resource, []) for number, of_job in by_job.items()}
        one = _Resource(resource, ground, reading, by_resource.get(resource, []), of_resource)
        one.match(matching)
    ground.notes.extend(_told(matching, ground))
    return matching


def _told(matching: Matching, ground: Ground) -> Iterator[str]:
    """At which level what was compared, and what pools leave open, in words."""
    for (level, numbers), called in matching.levels.items():
        every = len(numbers) == len(ground.jobs) > 1
        yield phrase(
            "{resources}: compared {level}: {jobs}",
            resources=", ".join(called),
            level=LEVELS[level],
            jobs=phrase("every job") if every else ", ".join(numbers),
        )
    for months, called in matching.pools.items():
        yield phrase(
            "{resources}: rows without job or part are held against what jobs finished in their"
            " month, without rows of their own, should have taken; what jobs at work took of them"
            " is in there, too: {months}",
            resources=", ".join(called),
            months=", ".join(months),
        )


def _job_needs(ground: Ground, job: JobStandard, reading: Reading) -> list[Need]:
    above = {} if job.open else ground.begun_above_plan(job)
    found = []
    for need in reading.needs(job.standard):
        if need.part in above:
            ratio, rows = above[need.part]
            need = replace(need, flexed=ratio, pulls=rows)
        found.append(need)
    return found


@dataclass(slots=True)
class _Resource:
    """One station or material: its rows, and what each job needs of it."""

    resource: str
    ground: Ground
    reading: Reading
    entries: list[Entry]
    needs: dict[str, list[Need]]
    told: dict[Level, list[str]] = field(default_factory=dict)

    def match(self, into: Matching) -> None:
        """Jobs one by one, then the pools of parts and of the station or material."""
        own = grouped(self.entries, lambda entry: entry.job)
        loose = own.pop("", [])
        by_part = grouped(loose, lambda entry: entry.part)
        by_month = grouped(by_part.pop("", []), lambda entry: entry.month)
        pooled: dict[str, list[Need]] = {}
        of_parts: dict[tuple[str, str], list[Need]] = {}
        for number, job in self.ground.jobs.items():
            rows = own.get(number, [])
            if job.open:
                into.matched += self._still_open(number, rows)
                continue
            month = "" if job.row.finished is None else month_of(job.row.finished)
            left = self._left_to_job(number, month, rows, by_part, of_parts)
            if rows:
                into.matched += self._of_job(number, rows, left)
            elif left and month in by_month:
                pooled.setdefault(month, []).extend(left)
            elif left:
                into.unbooked.append(self._unbooked(left, number))
        for part, rows in by_part.items():
            self._of_part(part, rows, own, of_parts, into)
        for month, rows in sorted(by_month.items()):
            pool = tuple(pooled.get(month, []))
            into.matched.append(Matched(self.reading.pool, self.resource, tuple(rows), pool))
        self._keep(sorted(by_month), into)

    def _left_to_job(
        self,
        number: str,
        month: str,
        rows: Sequence[Entry],
        by_part: Mapping[str, Sequence[Entry]],
        of_parts: dict[tuple[str, str], list[Need]],
    ) -> list[Need]:
        """What rows of the job answer for: all but parts whose hours or material are pooled."""
        named, left = {entry.part for entry in rows}, []
        for need in self.needs[number]:
            pool = by_part.get(need.part, ())
            if need.part in named or not pool:
                left.append(need)
            elif need.part in self.ground.pulled_parts:
                continue  # what was pulled says what the pool should have taken
            elif any(entry.month == month for entry in pool):
                of_parts.setdefault((need.part, month), []).append(need)
            else:
                left.append(need)
        return [need for need in left if need.whole.value > 0]

    def _of_job(self, number: str, rows: list[Entry], needs: list[Need]) -> list[Matched]:
        """The job's rows at the finest level at which none of its needs lacks one."""
        operations = {(need.part, need.operation) for need in needs}
        booked = {(entry.part, entry.operation) for entry in rows}
        parts, of = {part for part, _ in operations}, {part for part, _ in booked}
        whole = needs and operations == booked and all(number for _, number in booked)
        if self.reading.by_operation and whole:
            return self._apart("operation", number, rows, needs)
        if needs and parts == of:
            return self._apart("part", number, rows, needs)
        self.told.setdefault("job", []).append(number)
        if not needs:
            words = phrase(
                "Job {job} has rows at {resource}, where it needs nothing",
                job=number,
                resource=self.reading.called(self.resource),
            )
            self.ground.notes.append(words)
        elif any(of):
            self._tell_lacking(number, sorted(parts - of))
        return [Matched("job", self.resource, tuple(rows), tuple(needs), number)]

    def _apart(
        self,
        level: Level,
        number: str,
        rows: Sequence[Entry],
        needs: Sequence[Need],
        *,
        open: bool = False,
    ) -> list[Matched]:
        """One scope for each operation or part, in the order of the needs."""
        self.told.setdefault(level, []).append(number)

        def key(of: Need | Entry) -> tuple[str, int]:
            return of.part, of.operation if level == "operation" else 0

        found = []
        by_key, of_need = grouped(rows, key), grouped(needs, key)
        for part, operation in dict.fromkeys([*of_need, *sorted(by_key)]):
            mine = tuple(by_key.get((part, operation), ()))
            if mine:
                answered = tuple(of_need.get((part, operation), ()))
                found.append(
                    Matched(
                        level, self.resource, mine, answered, number, part, operation, open=open
                    )
                )
        return found

    def _still_open(self, number: str, rows: list[Entry]) -> list[Matched]:
        """Rows of a job at work, as fine as all of them say."""
        if not rows:
            return []
        needs = self.needs[number]
        if self.reading.by_operation and all(entry.operation for entry in rows):
            return self._apart("operation", number, rows, needs, open=True)
        if all(entry.part for entry in rows):
            return self._apart("part", number, rows, needs, open=True)
        self.told.setdefault("job", []).append(number)
        return [Matched("job", self.resource, tuple(rows), tuple(needs), number, open=True)]

    def _of_part(
        self,
        part: str,
        rows: Sequence[Entry],
        own: Mapping[str, Sequence[Entry]],
        of_parts: Mapping[tuple[str, str], list[Need]],
        into: Matching,
    ) -> None:
        """Pools of a part by month: held against pulls, or where none are booked against jobs."""
        by_month = grouped(rows, lambda entry: entry.month)
        pulls = self.ground.pulled_parts.get(part, [])
        answered = {job for job, of in own.items() if any(entry.part == part for entry in of)}
        counted = grouped((p for p in pulls if p.job not in answered), lambda p: p.month)
        for month in sorted({*by_month, *counted}):
            needs = of_parts.get((part, month), [])
            if pulls:
                needs = self._pulled(part, month, counted.get(month, []))
            if month in by_month:
                mine = tuple(by_month[month])
                into.matched.append(Matched("part", self.resource, mine, tuple(needs), part=part))
            elif needs:
                into.unbooked.append(self._unbooked(needs, "", part, month, counted[month][-1].day))

    def _pulled(self, part: str, month: str, pulls: Sequence[Pulled]) -> list[Need]:
        """What the pieces pulled in a month should have taken; what was scrapped flexes it."""
        if not pulls:
            return []
        assembly, zero = self.ground.parts[part], constant(0.0)
        good = total([each.good for each in pulls], zero)
        begun = good + total([each.scrapped for each in pulls], zero)
        key, places = f"actual.pulls.{month}.{self.resource}", tuple(p.place for p in pulls)
        planned = of_piece(assembly, good, key, month)
        if good.value:
            ratio = begun / planned.pieces[0].entering
            needs = [
                replace(need, flexed=ratio, pulls=places) for need in self.reading.needs(planned)
            ]
        else:
            needs = []  # nothing good came of it: all that was taken is above standard
        return [need for need in needs if need.resource == self.resource]

    def _unbooked(
        self,
        needs: Sequence[Need],
        job: str,
        part: str = "",
        month: str = "",
        day: date | None = None,
    ) -> Unbooked:
        if job:
            day = self.ground.jobs[job].row.finished
        day = day or self.ground.as_of
        level: Level = "job" if job else "part"
        scope = Matched(level, self.resource, (), (), job, part).scope(month or month_of(day))
        whole = [need.whole for need in needs]
        quantity = total(whole, whole[0])
        label = phrase("{resource}: not booked", resource=self.reading.called(self.resource))
        return Unbooked(
            scope,
            quantity.named(f"{scope.key}.unbooked", label),
            (quantity * self.reading.rate(self.resource, day)).named(
                f"{scope.key}.unbooked_cost", phrase("{label}, cost", label=label)
            ),
        )

    def _keep(self, months: Sequence[str], into: Matching) -> None:
        """Keep what was decided, since the same is told of several resources at once."""
        called = self.reading.called(self.resource)
        for level, numbers in self.told.items():
            into.levels.setdefault((level, tuple(dict.fromkeys(numbers))), []).append(called)
        if months:
            into.pools.setdefault(tuple(months), []).append(called)

    def _tell_lacking(self, number: str, parts: Sequence[str]) -> None:
        names = [str(self.ground.parts[part].name) for part in parts]
        words = phrase(
            "Job {job}, {resource}: compared as a whole, since not all rows name a part, or no row"
            " names {parts}",
            job=number,
            resource=self.reading.called(self.resource),
            parts=", ".join(names) or phrase("one that it needs"),
        )
        self.ground.notes.append(words)
