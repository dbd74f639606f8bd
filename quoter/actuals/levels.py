"""At which level what was booked can be compared, and what of a standard belongs there.

Hours and material alike. Of a job and a station (or a material) it is the finest level at which
the data are whole; a part that no row names, where all rows name one, is left out and told, since
it would be taken for zero. Rows without a job are pools of a month.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from quoter.actuals.compared import LEVELS, Level, Unbooked
from quoter.actuals.matched import Entry, Matched, Matching, Need, grouped
from quoter.actuals.pieces import Ground, Pulled, begun_of
from quoter.actuals.standards import JobStandard, Standard, as_numbers, of_piece
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

    for months, called in matching.early.items():
        yield phrase(
            "{resources}: no job was finished in that month or later, so that rows without job or"
            " part count at standard: {months}",
            resources=", ".join(called),
            months=", ".join(months),
        )


def _job_needs(ground: Ground, job: JobStandard, reading: Reading) -> list[Need]:
    above = {} if job.open else ground.begun_above_plan(job)
    found = []
    for need in reading.needs(job.standard):
        if need.part in above:
            begun = above[need.part]
            need = replace(need, flexed=begun.times(need.lost), pulls=begun.rows)
        found.append(need)
    return found


def _part(of: Need | Entry) -> str:
    return of.part


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
                into.matched += self._of_job(number, rows, left, into)
            elif left and month in by_month:
                pooled.setdefault(month, []).extend(left)
            elif left:
                into.unbooked.append(self._unbooked(left, number))
        for part, rows in by_part.items():
            self._of_part(part, rows, own, of_parts, into)
        for month, rows in sorted(by_month.items()):
            pool, early = tuple(pooled.get(month, [])), self._is_early(month)
            of = Matched(self.reading.pool, self.resource, tuple(rows), pool, open=early)
            into.matched.append(of)
        self._keep(sorted(by_month), into)

    def _is_early(self, month: str) -> bool:
        """Whether no job was finished in a month or after it that its rows could be held against;
        a later one says what they were for, together with what was booked in its own month."""
        done = [job.row.finished for job in self.ground.jobs.values() if not job.open]
        return all(day is None or month_of(day) < month for day in done)

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

    def _of_job(
        self, number: str, rows: list[Entry], needs: list[Need], into: Matching
    ) -> list[Matched]:
        """The job's rows part by part where all of them name one that is needed, else as a whole.

        A part that no row names is not booked: hours of the others say nothing of it. Of one that
        is, operations are told apart where none lacks a row, since a step that was not scanned is
        mostly booked with the next.
        """
        of_part, named = grouped(needs, _part), grouped(rows, _part)
        if not needs or not named.keys() <= of_part.keys():
            self.told.setdefault("job", []).append(number)
            self._tell_whole(number, needs, named)
            return [Matched("job", self.resource, tuple(rows), tuple(needs), number)]
        found = []
        for part, answered in of_part.items():
            if part not in named:
                into.unbooked.append(self._unbooked(answered, number, part))
                continue
            booked = {entry.operation for entry in named[part]}
            whole = 0 not in booked and booked == {need.operation for need in answered}
            level: Level = "operation" if self.reading.by_operation and whole else "part"
            found += self._apart(level, number, named[part], answered)
        return found

    def _tell_whole(
        self, number: str, needs: Sequence[Need], named: Mapping[str, Sequence[Entry]]
    ) -> None:
        """Why the parts of a job are not told apart, where that is not plain from its rows."""
        called = self.reading.called(self.resource)
        if not needs:
            words = phrase(
                "Job {job} has rows at {resource}, where it needs nothing",
                job=number,
                resource=called,
            )
            self.ground.notes.append(words)
        elif any(named):
            words = phrase(
                "Job {job}, {resource}: compared as a whole, since rows name no part, or one that"
                " needs nothing there",
                job=number,
                resource=called,
            )
            self.ground.notes.append(words)

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
                last = max(each.day for each in counted[month])
                into.unbooked.append(self._unbooked(needs, "", part, month, last))

    def _pulled(self, part: str, month: str, pulls: Sequence[Pulled]) -> list[Need]:
        """What the pieces pulled in a month should have taken, by the recipes of their days."""
        needs: list[Need] = []
        by_recipe = grouped(pulls, lambda pull: id(self.ground.part_on(part, pull.day)))
        for alike in by_recipe.values():
            assembly, key = self.ground.part_on(part, alike[0].day), f"actual.pulls.{month}"
            older = assembly is not self.ground.parts[part]
            key += f".{alike[0].day}.{self.resource}" if older else f".{self.resource}"
            good = total([each.good for each in alike], constant(0.0))
            if not good.value:
                continue  # nothing good came of it: all that was taken is above standard
            planned = of_piece(assembly, good, key, month)
            if older:
                planned = as_numbers(planned, key, alike[0].place)
            begun = begun_of(planned.pieces[0], alike, f"{key}.{part}")
            needs += [
                replace(need, flexed=begun.times(need.lost), pulls=begun.rows)
                for need in self.reading.needs(planned)
                if need.resource == self.resource
            ]
        return needs

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
        for early, of in grouped(months, self._is_early).items():
            (into.early if early else into.pools).setdefault(tuple(of), []).append(called)
