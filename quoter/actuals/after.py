"""After-calculation of a job: what it was sold for, what it should have cost, and what it left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from quoter.actuals.compared import Actuals, Compared, Job, Kind, Line, Scope
from quoter.actuals.summaries import largest_first, of_job
from quoter.catalogue.booked_words import options_of
from quoter.catalogue.prices import Catalogue, book_key, newest, published
from quoter.costing.assembly import Assembly
from quoter.costing.elements import in_element_order, label_of
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.configured import Configured, configure
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.pricing.price import BOAT

A_CENT = 0.005  # what two margins may differ by and be the same
# The element that a kind of variance belongs to; any other to that of its resource.
_OWN_ELEMENT: Mapping[Kind, str] = {"scrap": "yield", "rework": "rework"}


@dataclass(frozen=True, slots=True)
class Quoted:
    """What a quote's frozen record says, in home currency: price after discounts, cost, margin.

    All of one boat. `name` is its number with its revision; `by` who prepared it, which stays in
    the yard. `elements` are empty where the record does not keep them, `doubts` what to know of it.
    """

    name: str
    price: Figure
    cost: Figure
    elements: dict[str, Figure]
    by: str = ""
    margin: Figure | None = None
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ElementRow:
    """A cost element of a job: as quoted, by standard, and actual; None where it is not known.

    `at_standard` where nothing actual is booked for it, so that the standard stands for it.
    """

    element: str
    name: str
    quoted: Figure | None
    standard: Figure
    actual: Figure
    at_standard: bool


@dataclass(frozen=True, slots=True)
class AfterCalculation:
    """A job's account. `price` is the quote's, else the list's; `planned` and `left` are margins of
    it, as amounts and as fractions. `causes` are the job's lines, the largest first; they add up to
    cost - standard.
    """

    job: Job
    quoted: Quoted | None
    price: Figure
    standard: Figure
    cost: Figure
    planned: Figure
    left: Figure
    planned_fraction: Figure
    left_fraction: Figure
    rows: tuple[ElementRow, ...]
    causes: tuple[Line, ...]
    doubts: tuple[str, ...]


def after_calculation(
    actuals: Actuals, number: str, quoted: Quoted | None = None
) -> AfterCalculation:
    """The account of a job, all its boats together.

    What is compared of the job makes its cost another than its standard; of all else the standard
    stands, such as waste disposal, handling and general overhead, and what was booked in pools.

    Args:
        actuals: all that was booked
        number: of the job, one of `actuals.jobs`
        quoted: what its quote says of one boat, if it has one
    """
    job = actuals.jobs[number]
    key, boats = f"actual.job.{number}", constant(job.boats)
    compared = [each for each in actuals.compared if each.scope.job == number]
    built = configure(actuals.pricing.terms, job.built.priced, options_of(job.row))
    rows = tuple(_rows(actuals, job, built, compared, quoted))
    name = phrase("Job {number}", number=number)
    nothing = constant(0.0, actuals.pricing.catalogue.currency)
    cost = total([row.actual for row in rows], nothing)
    cost = cost.named(f"{key}.cost", phrase("{name}: actual cost", name=name))
    price = (quoted.price if quoted is not None else _listed(actuals, job, built)) * boats
    price = price.named(f"{key}.price", phrase("{name}: net price", name=name))
    provisions = actuals.pricing.terms.provisions
    if quoted is not None and quoted.margin is not None:
        planned = quoted.margin * boats
    else:
        planned = left_after(price, provisions, job.standard)
    planned = planned.named(f"{key}.planned", phrase("{name}: margin planned", name=name))
    left = left_after(price, provisions, cost)
    left = left.named(f"{key}.left", phrase("{name}: margin left", name=name))
    return AfterCalculation(
        job=job,
        quoted=quoted,
        price=price,
        standard=job.standard,
        cost=cost,
        planned=planned,
        left=left,
        planned_fraction=fraction_of_price(planned, price).named(
            f"{key}.planned_fraction",
            phrase("{name}: margin planned, of price", name=name),
            "percent",
        ),
        left_fraction=fraction_of_price(left, price).named(
            f"{key}.left_fraction", phrase("{name}: margin left, of price", name=name), "percent"
        ),
        rows=rows,
        causes=tuple(largest_first(of_job(actuals.lines, number))),
        doubts=tuple(_doubts(actuals, job, quoted, price, planned)),
    )


def _rows(
    actuals: Actuals,
    job: Job,
    built: Configured,
    compared: list[Compared],
    quoted: Quoted | None,
) -> Iterator[ElementRow]:
    """Each element of the job: its standard, and with its lines of variance what it came to."""
    boats, currency = constant(job.boats), actuals.pricing.catalogue.currency
    nothing, stations = constant(0.0, currency), actuals.pricing.costing.rates.station_names
    standard = _elements(job, built, nothing)
    lines: dict[str, list[Line]] = {}
    classes = actuals.pricing.costing.rates.classes
    for each in compared:
        lines.setdefault(element_of(each.scope, classes), [])
        for line in each.lines:
            lines.setdefault(element_of(line.scope, classes, line.kind), []).append(line)
    for element in in_element_order([*standard, *lines]):
        key, name = f"actual.job.{job.number}.{element}", label_of(element, stations)
        label = phrase("Job {number}: {name}", number=job.number, name=name)
        should = standard.get(element, nothing) * boats
        should = should.named(f"{key}.standard", phrase("{label}, standard", label=label))
        moved = [line.amount for line in lines.get(element, ())]
        came_to = should + total(moved, nothing) if moved else should
        said = quoted.elements.get(element) if quoted is not None else None
        yield ElementRow(
            element=element,
            name=name,
            quoted=None if said is None else said * boats,
            standard=should,
            actual=came_to.named(f"{key}.actual", phrase("{label}, actual", label=label)),
            at_standard=element not in lines,
        )


def _elements(job: Job, built: Configured, nothing: Figure) -> dict[str, Figure]:
    """What one boat of a job costs by element: the boat, its extras, and what its colour changes."""
    priced, terms = job.built.priced, dict[str, list[Figure]]()

    def add(assembly: Assembly, count: Figure | None = None) -> None:
        for element, cost in assembly.elements.items():
            terms.setdefault(element, []).append(cost if count is None else cost * count)

    add(priced.boat.assembly)
    for id, count in built.quantities.items():
        if count.value:
            add(priced.extras[id].assembly, count)
    for pair in built.pairs:
        if pair.count.value:
            add(pair.of.assembly, pair.count)
    return {element: total(costs, nothing) for element, costs in terms.items()}


def element_of(scope: Scope, classes: Mapping[str, str], kind: Kind | None = None) -> str:
    """The element of a cost that a scope is of; scrap and rework are elements of their own.

    Args:
        scope: of which resource it is
        classes: of materials, by id
        kind: of a line, if it is asked about one
    """
    what, _, id = scope.resource.partition(".")
    own = _OWN_ELEMENT.get(kind) if kind is not None else None
    if own is not None:
        return f"{own}_{'fixed' if what == 'fixed' else 'variable'}"
    if what == "labour":
        return f"labour.{id}"
    if what in ("variable", "fixed"):
        return f"overhead_{what}"
    return f"material.{classes.get(id, id)}"


def _listed(actuals: Actuals, job: Job, built: Configured) -> Figure:
    """The list price of one boat on the day that work on it began, in the home market.

    What was published then counts; what nobody published is at its price of the day asked about.
    """
    catalogue, priced = actuals.pricing.catalogue, job.built.priced
    book = newest(catalogue.records.book, job.row.started, book_key)
    on_day = partial(_published, replace(catalogue, book=book), str(priced.model.id))
    moved = []
    for id, item in ((BOAT, priced.boat), *priced.options.items()):
        then, count = on_day(id), built.quantities.get(id)
        if then is None or then.value == item.list_price.value:
            continue
        if not id:
            moved.append(then - item.list_price)
        elif count is not None and count.value:
            moved.append((then - item.list_price) * count)
    return built.list_price if not moved else built.list_price + total(moved, moved[0])


def _published(catalogue: Catalogue, model: str, option: str) -> Figure | None:
    home = str(catalogue.yard.markets[0].id)
    row = published(catalogue, home, model, option)
    return None if row is None else row.list_price


def _doubts(
    actuals: Actuals, job: Job, quoted: Quoted | None, price: Figure, planned: Figure
) -> Iterator[str]:
    """What to know before somebody draws conclusions from an account."""
    if job.open:
        yield phrase(
            "Job {number} is still at work: its quantities count at par", number=job.number
        )
    if quoted is None:
        words = phrase("It is held against the list price of {day}", day=job.row.started)
        if job.row.quote is not None:
            words = phrase(
                "Quote {name} was not found: it is held against the list price of {day}",
                name=job.row.quote,
                day=job.row.started,
            )
        yield words
    else:
        yield from quoted.doubts
        now = left_after(price, actuals.pricing.terms.provisions, quoted.cost * constant(job.boats))
        if abs(now.value - planned.value) > A_CENT * job.boats:
            yield phrase("Quote {name} reckoned with other provisions", name=quoted.name)
    names = dict.fromkeys(
        each.scope.resource for each in actuals.unbooked if each.scope.job == job.number
    )
    for resource in names:
        yield phrase("Nothing was booked of {what}: its standard stands", what=resource)
