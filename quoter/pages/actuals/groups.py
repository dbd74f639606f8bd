"""Variances added up by what they are of: a kind, a station, a material, an option, a part, a job."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from quoter.actuals.account import Account
from quoter.actuals.compared import KINDS, Compared, Kind, Line
from quoter.figures import Figure, constant, total
from quoter.pages.actuals.names import Names
from quoter.phrases import phrase
from quoter.problems import Place

NOT_OF_ONE = ""
Parts = Iterable[tuple[str, Figure]]  # what an amount is of, and how much of it


@dataclass(frozen=True, slots=True)
class Group:
    """What belongs together: its variance, by kind too, and both its costs where they are known."""

    id: str
    name: str
    amount: Figure
    kinds: Mapping[Kind, Figure]
    href: str = ""
    standard: Figure | None = None
    actual: Figure | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """Groups of one dimension, the largest variance first, and the kinds that occur in them."""

    id: str
    title: str
    head: str
    groups: Sequence[Group]
    kinds: Sequence[Kind]


@dataclass(frozen=True, slots=True)
class Cause:
    """Lines of one kind about one thing: what it is, whose, how much, and the rows it rests on."""

    kind: Kind
    name: str
    amount: Figure
    job: str = ""
    href: str = ""
    actual: Figure | None = None
    standard: Figure | None = None
    rows: tuple[Place, ...] = field(default=())


class Told:
    """What was compared in a month or for a job, added up every way that somebody asks for."""

    def __init__(self, account: Account, names: Names, compared: Sequence[Compared]) -> None:
        """Nothing is added up yet."""
        self._account, self._names, self.compared = account, names, compared
        self.lines = tuple(line for one in compared for line in one.lines)
        self._zero = constant(0.0, account.actuals.pricing.catalogue.currency)

    @property
    def standard(self) -> Figure:
        """What all of it should have cost."""
        return total([one.standard for one in self.compared], self._zero)

    @property
    def actual(self) -> Figure:
        """What it cost."""
        return total([one.actual for one in self.compared], self._zero)

    @property
    def variance(self) -> Figure:
        """By how much it was over standard."""
        return total([line.amount for line in self.lines], self._zero)

    def kinds(self, lines: Sequence[Line] | None = None) -> dict[Kind, Figure]:
        """The sum of each kind that occurs, in the order of a table."""
        found: dict[Kind, list[Figure]] = {}
        for line in self.lines if lines is None else lines:
            found.setdefault(line.kind, []).append(line.amount)
        return {kind: total(found[kind], self._zero) for kind in KINDS if kind in found}

    def of_kinds(self, kinds: Sequence[Kind]) -> Figure:
        """The sum of several kinds."""
        return total([line.amount for line in self.lines if line.kind in kinds], self._zero)

    def tables(self) -> list[Table]:
        """By station, material, option, part and job, each that has anything."""
        names, jobs = self._names, self._account.actuals.jobs
        found = [
            self._table(
                "station", phrase("By station"), phrase("Station"), _station, names.station
            ),
            self._table(
                "material", phrase("By material"), phrase("Material"), _material, names.material
            ),
            self._by_option(),
            self._table("part", phrase("By part"), phrase("Part"), _part, names.part),
            self._table("job", phrase("By job"), phrase("Job"), _job, lambda id: id),
        ]
        linked = [table for table in found if table.groups]
        return [table for table in linked if table.id != "job" or jobs]

    def by_job(self) -> Sequence[Group]:
        """The jobs alone."""
        return self._table("job", "", "", _job, lambda id: id).groups

    def causes(self) -> list[Cause]:
        """What it was, the largest first; what is alike is one cause.

        A price, a rate and overhead are nobody's in particular; usage and time are those of a job.
        """
        together: dict[tuple[str, ...], list[tuple[Compared, Line]]] = {}
        for one in self.compared:
            for line in one.lines:
                together.setdefault(_alike(line), []).append((one, line))
        found = [self._cause(each) for each in together.values()]
        return sorted(
            (cause for cause in found if _counts(cause.amount)), key=lambda c: -abs(c.amount.value)
        )

    def _cause(self, of: Sequence[tuple[Compared, Line]]) -> Cause:
        (one, line), alone = of[0], len(of) == 1
        jobs = list(dict.fromkeys(each.scope.job for _, each in of))
        job = jobs[0] if len(jobs) == 1 else ""
        rows = dict.fromkeys(place for _, each in of for place in each.rows)
        return Cause(
            kind=line.kind,
            name=self._names.of(line.scope),
            amount=total([each.amount for _, each in of], self._zero),
            job=job or (phrase("{count} jobs", count=len(jobs)) if len(jobs) > 1 else ""),
            href=self._names.job_page(job) if job else "",
            actual=one.actual_quantity if alone else _summed([c.actual_quantity for c, _ in of]),
            standard=one.standard_quantity
            if alone
            else _summed([c.standard_quantity for c, _ in of]),
            rows=tuple(sorted(rows)),
        )

    def _table(
        self,
        id: str,
        title: str,
        head: str,
        of: Callable[[Compared | Line], str],
        name: Callable[[str], str],
    ) -> Table:
        lines: dict[str, list[Line]] = {}
        sides: dict[str, list[Compared]] = {}
        for one in self.compared:
            sides.setdefault(of(one), []).append(one)
            for line in one.lines:
                lines.setdefault(of(line), []).append(line)
        groups = []
        for each, ones in sides.items():
            if not each and id in ("station", "material"):
                continue  # of the other kind
            groups.append(
                Group(
                    each,
                    name(each) if each else _unnamed(id),
                    total([line.amount for line in lines.get(each, [])], self._zero),
                    self.kinds(lines.get(each, [])),
                    self._names.job_page(each) if id == "job" else "",
                    total([one.standard for one in ones], self._zero),
                    total([one.actual for one in ones], self._zero),
                )
            )
        return Table(id, title, head, _largest_first(groups), _kinds_of(groups))

    def _by_option(self) -> Table:
        """Each line shared among what the boat consists of; amounts of no job stand apart."""
        jobs = self._account.actuals.jobs
        amounts: dict[tuple[str, str], dict[Kind, list[Figure]]] = {}
        for line in self.lines:
            job = jobs.get(line.scope.job)
            if not line.owners or job is None:
                amounts.setdefault(("", "-"), {}).setdefault(line.kind, []).append(line.amount)
                continue
            for option, share in line.owners.items():
                owner = ("" if option else job.model, option)
                part = line.amount * constant(share)
                amounts.setdefault(owner, {}).setdefault(line.kind, []).append(part)
        groups = []
        for (model, option), by_kind in amounts.items():
            kinds = {k: total(by_kind[k], self._zero) for k in KINDS if k in by_kind}
            named = phrase("of no one job") if option == "-" else self._names.option(option, model)
            amount = total(list(kinds.values()), self._zero)
            groups.append(Group(option if option != "-" else "", named, amount, kinds))
        if all(not group.id for group in groups):
            groups = [] if len(groups) < 2 else groups
        title = phrase("By option")
        return Table(
            "option", title, phrase("Option or boat"), _largest_first(groups), _kinds_of(groups)
        )


def _unnamed(dimension: str) -> str:
    told = {"part": phrase("of no one part"), "job": phrase("of no one job")}
    return told.get(dimension, phrase("the rest"))


def _station(one: Compared | Line) -> str:
    kind, _, id = one.scope.resource.partition(".")
    return "" if kind == "material" else id


def _material(one: Compared | Line) -> str:
    kind, _, id = one.scope.resource.partition(".")
    return id if kind == "material" else ""


def _part(one: Compared | Line) -> str:
    return one.scope.part


def _job(one: Compared | Line) -> str:
    return one.scope.job


def _alike(line: Line) -> tuple[str, ...]:
    scope = line.scope
    if line.kind in ("price", "exchange", "rate", "spending", "budget", "volume"):
        return (line.kind, scope.resource)
    return (line.kind, scope.resource, scope.job, scope.part, str(scope.operation), scope.station)


def _summed(quantities: Sequence[Figure | None]) -> Figure | None:
    """The sum, where all are known and in one unit."""
    known = [one for one in quantities if one is not None]
    if not known or len(known) < len(quantities) or len({one.unit for one in known}) > 1:
        return None
    return total(known, known[0])


def _counts(amount: Figure) -> bool:
    return abs(amount.value) >= 0.005


def _largest_first(groups: Sequence[Group]) -> list[Group]:
    return sorted(groups, key=lambda group: (-abs(group.amount.value), group.name))


def _kinds_of(groups: Sequence[Group]) -> list[Kind]:
    return [kind for kind in KINDS if any(kind in group.kinds for group in groups)]
