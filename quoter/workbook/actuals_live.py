"""What it really took, over standards that a reader may change: the figures of its workbook.

Behind a comparison lies all that makes a standard: shapes, laminates, drivers, learning. The
workbook begins at what comes of them, hours and material of a piece, and each of these is an input
there; prices, wages, rates and yields stay those of the catalogue.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from quoter.actuals.account import Account
from quoter.actuals.after import AfterCalculation
from quoter.actuals.compared import Actuals, Compared, Job, Unbooked
from quoter.costing.assembly import Assembly, in_building_order
from quoter.costing.operations import OperationCost
from quoter.figures import Figure, constant, stated, total
from quoter.figures.figure import Origin
from quoter.figures.graph import Cut, in_order
from quoter.phrases import phrase, together
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.problems import Place

MACHINE_HOURS = "machine hours"


@dataclass(frozen=True, slots=True)
class GivenStandard:
    """A standard of a piece as an input: of which part, what it is, where the catalogue has it.

    `of` is "hours" of an operation or "material" of a line; "job" what a job begun by the recipes
    of another day should have taken in all.
    """

    of: str
    part: str
    what: str
    where: str
    figure: Figure
    place: Place
    key: str = ""


@dataclass(frozen=True, slots=True)
class JobAccount:
    """A job's cost and margin over the standards: what was not compared stands as it is.

    `variance` is that of all lines on the job; `planned` and `left` are margins of `price`.
    """

    after: AfterCalculation
    price: Figure
    standard: Figure
    variance: Figure
    cost: Figure
    again: Figure
    planned: Figure
    left: Figure
    left_fraction: Figure | None

    @property
    def job(self) -> Job:
        """The job as it was booked."""
        return self.after.job


@dataclass(frozen=True, slots=True)
class Live:
    """Actuals whose figures rest on standards that are given, these standards, and the jobs."""

    actuals: Actuals
    standards: tuple[GivenStandard, ...]
    jobs: tuple[JobAccount, ...]

    @property
    def nothing(self) -> Figure:
        """No money."""
        return constant(0.0, self.actuals.pricing.catalogue.currency)


def live(account: Account) -> Live:
    """An account over standards as inputs; every number in it stays what it was."""
    actuals = account.actuals
    roots = [
        figure
        for one in actuals.compared
        for figure in (one.actual, one.standard, *(line.amount for line in one.lines))
    ]
    roots += [figure for one in actuals.unbooked for figure in (one.quantity, one.standard)]
    standards = _entries(actuals, in_order(roots))
    cut = Cut({figure: standard.figure for figure, standard in standards.items()})
    compared = tuple(_compared(one, cut) for one in actuals.compared)
    unbooked = tuple(
        Unbooked(one.scope, cut.of(one.quantity), cut.of(one.standard)) for one in actuals.unbooked
    )
    over = replace(actuals, compared=compared, unbooked=unbooked)
    each = dict.fromkeys(standard.figure for standard in standards.values())
    told = {standard.figure: standard for standard in standards.values()}
    return Live(over, tuple(told[figure] for figure in each), tuple(_jobs(over, account.after)))


def _entries(actuals: Actuals, order: Sequence[Figure]) -> dict[Figure, GivenStandard]:
    """What stands in for figures of an order: the same standard of the same value once."""
    known = set(order)
    found: dict[Figure, GivenStandard] = {}
    alike: dict[tuple[str, float], GivenStandard] = {}
    for standard in (*_of_pieces(actuals), *_of_jobs(order)):
        figure = standard.figure
        if figure not in known or figure in found or _is_written(figure):
            continue
        one = figure.key or standard.key, figure.value
        if one not in alike:
            alike[one] = replace(standard, figure=_entry(standard))
        found[figure] = alike[one]
    return found


def _is_written(figure: Figure) -> bool:
    """Whether somebody wrote the figure, in whatever unit: then it is an input as it is."""
    return figure.op == "input" or figure.key.endswith(".working")


def _entry(standard: GivenStandard) -> Figure:
    figure = standard.figure
    return Figure(
        figure.value,
        figure.unit,
        "input",
        label=figure.label or together(", ", (standard.part, standard.what)),
        key=figure.key or standard.key,
        form=figure.form,
        origin=Origin(standard.place),
    )


def _compared(one: Compared, cut: Cut) -> Compared:
    def of(figure: Figure | None) -> Figure | None:
        return None if figure is None else cut.of(figure)

    return replace(
        one,
        actual=cut.of(one.actual),
        standard=cut.of(one.standard),
        lines=tuple(replace(line, amount=cut.of(line.amount)) for line in one.lines),
        actual_quantity=of(one.actual_quantity),
        standard_quantity=of(one.standard_quantity),
    )


def assemblies_of(actuals: Actuals) -> list[Assembly]:
    """All that jobs were made of, then all else that is costed; those of jobs come first."""
    found: dict[int, Assembly] = {}
    for job in actuals.jobs.values():
        for made in in_building_order(job.built.whole):
            found.setdefault(id(made.assembly), made.assembly)
    costing = actuals.pricing.costing
    others = [*costing.parts.values()]
    others += [
        a for model in costing.models.values() for a in (*model.options.values(), model.base)
    ]
    for assembly in others:
        found.setdefault(id(assembly), assembly)
    return list(found.values())


def _of_pieces(actuals: Actuals) -> Iterator[GivenStandard]:
    """Hours of each operation, then material of each line, of one piece of every assembly."""
    names = actuals.pricing.costing.rates.names
    stations = actuals.pricing.costing.rates.station_names
    every = assemblies_of(actuals)
    called = _called(every, actuals)
    for assembly in every:
        for done in assembly.operations:
            where = stations[str(done.operation.station)]
            for what, figure in _hours(done, actuals):
                place = done.operation.place
                yield GivenStandard(
                    "hours", called[assembly.recipe.key], what, where, figure, place
                )
        for number, material in enumerate(assembly.materials, 1):
            line = material.line
            yield GivenStandard(
                of="material",
                part=called[assembly.recipe.key],
                what=names[line.material],
                where=line.use,
                figure=line.issued,
                place=line.place,
                key=f"{assembly.recipe.key}.line{number}.issued",
            )


def _called(every: Iterable[Assembly], actuals: Actuals) -> dict[str, str]:
    """Assemblies by the key of their recipes; of a name that several have, with what differs."""
    models = actuals.pricing.catalogue.records.models
    names = {assembly.recipe.key: assembly.name for assembly in every}
    times = Counter(names.values())
    found = {}
    for key, name in names.items():
        kind, _, rest = key.partition(".")
        model = models.get(rest.partition(".")[0]) if kind == "option" else None
        variant = key.partition("__")[2].replace("__", ", ").replace("_", " ")
        which = [str(model.name)] if model is not None else []
        which += [variant] if variant else []
        found[key] = together(", ", [name, *which]) if times[name] > 1 else name
    return found


def _hours(done: OperationCost, actuals: Actuals) -> Iterator[tuple[str, Figure]]:
    name, station = str(done.operation.name), str(done.operation.station)
    yield name, done.paid
    machine = actuals.pricing.costing.stations[station].overhead.base == MACHINE_HOURS
    if machine:
        yield phrase("{name}, machine hours", name=name), done.base
    if done.rework is not None:
        yield phrase("{name}, rework", name=name), done.rework.paid
        if machine:
            yield phrase("{name}, machine hours of rework", name=name), done.rework.base


def _of_jobs(order: Iterable[Figure]) -> Iterator[GivenStandard]:
    """What is given of jobs as a whole, since they were begun by the recipes of another day."""
    for figure in order:
        if figure.op == "const" and figure.key and figure.origin is not None:
            yield GivenStandard("job", figure.label, "", "", figure, figure.origin.place)


def _jobs(actuals: Actuals, after: Mapping[str, AfterCalculation]) -> Iterator[JobAccount]:
    nothing = constant(0.0, actuals.pricing.catalogue.currency)
    by_job: dict[str, list[Compared]] = {}
    for one in actuals.compared:
        by_job.setdefault(one.scope.job, []).append(one)
    for number, each in after.items():
        yield _job(actuals, each, by_job.get(number, []), nothing)


def _job(
    actuals: Actuals, after: AfterCalculation, compared: list[Compared], nothing: Figure
) -> JobAccount:
    number, provisions = after.job.number, actuals.pricing.terms.provisions
    name = phrase("Job {number}", number=number)

    def called(figure: Figure, what: str, words: str, form: str = "") -> Figure:
        label = phrase("{name}: {what}", name=name, what=words)
        return figure.named(f"actual.job.{number}.{what}", label, form)

    def given(figure: Figure, what: str, words: str) -> Figure:
        label = phrase("{name}: {what}", name=name, what=words)
        return stated(figure, f"actual.job.{number}.{what}", label, after.job.row.place)

    should = total([one.standard for one in compared], nothing)
    besides = given(after.standard - should, "besides", phrase("cost by standard of all else"))
    standard = called(besides + should, "standard", phrase("cost by standard"))
    variance = total([line.amount for one in compared for line in one.lines], nothing)
    variance = called(variance, "variance", phrase("variances"))
    cost = besides + total([one.actual for one in compared], nothing)
    cost = called(cost, "cost", phrase("actual cost"))
    again = called(standard + variance, "again", phrase("standard and variances"))
    price = given(after.price, "price", phrase("net price"))
    if after.quoted is not None and after.quoted.margin is not None:
        planned = given(after.planned, "planned", phrase("margin planned"))
    else:
        planned = left_after(price, provisions, standard)
        planned = called(planned, "planned", phrase("margin planned"))
    left = called(left_after(price, provisions, cost), "left", phrase("margin left"))
    fraction = None
    if price.value:
        fraction = fraction_of_price(left, price)
        fraction = called(fraction, "left_fraction", phrase("margin left of the price"), "percent")
    return JobAccount(after, price, standard, variance, cost, again, planned, left, fraction)
