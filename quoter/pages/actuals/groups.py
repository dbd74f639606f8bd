"""Variances of a month or a job as tables: by kind, station, material, option, part and job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from quoter.actuals.account import Account
from quoter.actuals.compared import KINDS, Compared, Kind, Line
from quoter.actuals.summaries import Dimension, names_of, summary_of
from quoter.figures import Figure, constant, total
from quoter.pages.actuals.names import Names
from quoter.phrases import phrase
from quoter.problems import Place

# What a month is looked at by: the dimension, the table's heading, and that of its first column.
DIMENSIONS: Sequence[tuple[Dimension, str, str]] = (
    ("station", phrase("By station"), phrase("Station")),
    ("material", phrase("By material"), phrase("Material")),
    ("option", phrase("By option"), phrase("Option or boat")),
    ("part", phrase("By part"), phrase("Part")),
    ("job", phrase("By job"), phrase("Job")),
)
LEAST = 0.005  # of the currency; less is no cause


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
    """Groups of one dimension, the largest variance first, last what belongs to none.

    `kinds` are those of what has a name; `others` what each group and `whole` have besides, empty
    where they have nothing.
    """

    id: str
    title: str
    head: str
    groups: Sequence[Group]
    kinds: Sequence[Kind]
    whole: Group
    others: Mapping[str, Figure]


WHOLE = "*"  # among `others`


@dataclass(frozen=True, slots=True)
class Cause:
    """Lines of one kind about one thing: what it is, whose, how much, and the rows it rests on."""

    kind: Kind
    name: str
    amount: Figure
    jobs: tuple[str, ...] = ()
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
        """By station, material, option, part and job, each that tells several things apart."""
        found = [self._table(of, title, head) for of, title, head in DIMENSIONS]
        return [table for table in found if any(group.id for group in table.groups)]

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
        jobs = tuple(dict.fromkeys(each.scope.job for _, each in of if each.scope.job))
        job = jobs[0] if len(jobs) == 1 else ""
        rows = dict.fromkeys(place for _, each in of for place in each.rows)
        return Cause(
            kind=line.kind,
            name=self._names.of(line.scope),
            amount=total([each.amount for _, each in of], self._zero),
            jobs=jobs,
            job=job or (phrase("{count} jobs", count=len(jobs)) if len(jobs) > 1 else ""),
            href=self._names.job_page(job) if job else "",
            actual=one.actual_quantity if alone else _summed([c.actual_quantity for c, _ in of]),
            standard=one.standard_quantity
            if alone
            else _summed([c.standard_quantity for c, _ in of]),
            rows=tuple(sorted(rows)),
        )

    def _table(self, of: Dimension, title: str, head: str) -> Table:
        actuals, kinds = self._account.actuals, self.kinds()
        by_kind: dict[str, dict[Kind, Figure]] = {}
        for kind in kinds:
            lines = [line for line in self.lines if line.kind == kind]
            for each in summary_of(actuals, of, lines).sums:
                by_kind.setdefault(each.id, {})[kind] = each.amount
        sides: dict[str, list[Compared]] = {}
        for one in self.compared if of != "option" else ():
            sides.setdefault(str(getattr(one.scope, of)), []).append(one)
        called = names_of(actuals, of)
        groups = []
        for id in dict.fromkeys((*by_kind, *sides)):
            found, ones = by_kind.get(id, {}), sides.get(id)
            groups.append(
                Group(
                    id,
                    self._names.part(id) if of == "part" and id else called(id),
                    total(list(found.values()), self._zero),
                    found,
                    self._names.job_page(id) if of == "job" else "",
                    total([one.standard for one in ones], self._zero) if ones else None,
                    total([one.actual for one in ones], self._zero) if ones else None,
                )
            )
        groups.sort(key=lambda group: (not group.id, -abs(group.amount.value), group.name))
        shown = [kind for kind in kinds if any(kind in each.kinds for each in groups if each.id)]
        whole = Group(WHOLE, phrase("together"), self.variance, kinds)
        whole = replace(whole, standard=self.standard, actual=self.actual)
        others = {}
        for group in (*groups, whole):
            rest = [amount for kind, amount in group.kinds.items() if kind not in shown]
            if rest:
                others[group.id] = total(rest, self._zero)
        return Table(of, title, head, groups, shown, whole, others)


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
    return abs(amount.value) >= LEAST
