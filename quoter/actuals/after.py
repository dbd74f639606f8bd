"""After-calculation of a job: what it was sold for, what it should have cost, and what it left."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from quoter.actuals.compared import Actuals, Job, Kind, Line, Scope
from quoter.actuals.rates import settled
from quoter.actuals.summaries import largest_first
from quoter.catalogue.booked_words import options_of
from quoter.catalogue.prices import book_key, newest, published
from quoter.costing.elements import in_element_order, label_of
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.configured import configure
from quoter.pricing.margin import fraction_of_price, left_after
from quoter.pricing.price import BOAT, Priced, saved_price

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
    it, as amounts. `causes` are the job's lines, the largest first; they add up to cost - standard.
    """

    job: Job
    quoted: Quoted | None
    price: Figure
    standard: Figure
    cost: Figure
    planned: Figure
    left: Figure
    rows: tuple[ElementRow, ...]
    causes: tuple[Line, ...]
    doubts: tuple[str, ...]

    @property
    def planned_fraction(self) -> Figure:
        """The margin planned as a fraction of the price."""
        return fraction_of_price(self.planned, self.price)

    @property
    def left_fraction(self) -> Figure:
        """The margin left as a fraction of the price."""
        return fraction_of_price(self.left, self.price)


def after_calculation(
    actuals: Actuals, number: str, quoted: Quoted | None = None
) -> AfterCalculation:
    """The account of one job, all its boats together; see `after_calculations`.

    Args:
        actuals: all that was booked
        number: of the job, one of `actuals.jobs`
        quoted: what its quote says of one boat, if it has one
    """
    said = {} if quoted is None else {number: quoted}
    one = replace(actuals, jobs={number: actuals.jobs[number]})
    return after_calculations(one, said)[number]


def after_calculations(
    actuals: Actuals, quoted: Mapping[str, Quoted]
) -> dict[str, AfterCalculation]:
    """The account of each job by its number, all its boats together.

    What is compared of a job makes its cost another than its standard; of all else the standard
    stands, such as waste disposal, handling and general overhead, and what was booked in pools.

    Args:
        actuals: all that was booked
        quoted: what the quotes of jobs say of one boat each, by the job's number
    """
    return {
        number: _account(actuals, job, quoted.get(number)) for number, job in actuals.jobs.items()
    }


def _account(actuals: Actuals, job: Job, quoted: Quoted | None) -> AfterCalculation:
    number, terms = job.number, actuals.pricing.terms
    boats, name = constant(job.boats), phrase("Job {number}", number=job.number)

    def keyed(figure: Figure, what: str, words: str) -> Figure:
        label = phrase("{name}: {what}", name=name, what=words)
        return figure.named(f"actual.job.{number}.{what}", label)

    rows = tuple(_rows(actuals, job, quoted))
    nothing = constant(0.0, actuals.pricing.catalogue.currency)
    cost = keyed(total([row.actual for row in rows], nothing), "cost", phrase("actual cost"))
    each = quoted.price if quoted is not None else _listed(actuals, job)
    price = keyed(each * boats, "price", phrase("net price"))
    if quoted is not None and quoted.margin is not None:
        planned = quoted.margin * boats
    else:
        planned = left_after(price, terms.provisions, job.standard)
    planned = keyed(planned, "planned", phrase("margin planned"))
    return AfterCalculation(
        job=job,
        quoted=quoted,
        price=price,
        standard=job.standard,
        cost=cost,
        planned=planned,
        left=keyed(left_after(price, terms.provisions, cost), "left", phrase("margin left")),
        rows=rows,
        causes=tuple(largest_first(actuals.lines_of_jobs.get(number, ()))),
        doubts=tuple(_doubts(actuals, job, quoted, price, planned)),
    )


def _rows(actuals: Actuals, job: Job, quoted: Quoted | None) -> Iterator[ElementRow]:
    """Each element of the job: its standard, and with its lines of variance what it came to."""
    boats, rates = constant(job.boats), actuals.pricing.costing.rates
    lines: dict[str, list[Line]] = {}
    for each in actuals.compared_of_jobs.get(job.number, ()):
        lines.setdefault(element_of(each.scope, rates.classes), [])
        for line in each.lines:
            element = element_of(line.scope, rates.classes, line.kind)
            lines.setdefault(element, []).append(line)
    for element in in_element_order([*job.elements, *lines]):
        key, name = f"actual.job.{job.number}.{element}", label_of(element, rates.station_names)
        label = phrase("Job {number}: {name}", number=job.number, name=name)
        should = job.elements.get(element, rates.nothing) * boats
        should = should.named(f"{key}.standard", phrase("{label}, standard", label=label))
        moved = [line.amount for line in lines.get(element, ())]
        came_to = should + total(moved, rates.nothing) if moved else should
        said = quoted.elements.get(element) if quoted is not None else None
        yield ElementRow(
            element=element,
            name=name,
            quoted=None if said is None else said * boats,
            standard=should,
            actual=came_to.named(f"{key}.actual", phrase("{label}, actual", label=label)),
            at_standard=element not in lines,
        )


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
    return f"material.{classes.get(id, id.removeprefix('class_'))}"


def _listed(actuals: Actuals, job: Job) -> Figure:
    """The list price of one boat on the day that work on it began, in the home market."""
    priced, listed_then = job.built.priced, price_when_begun(actuals, job)
    key = f"actual.job.{job.number}.configured"
    chosen = configure(actuals.pricing.terms, priced, options_of(job.row), key)
    moved: list[Figure] = []
    for id, item in ((BOAT, priced.boat), *priced.extras.items()):
        then, count = listed_then(id), chosen.quantities.get(id)
        if then is item.list_price:
            continue
        if not id:
            moved.append(then - item.list_price)
        elif count is not None and count.value:
            moved.append((then - item.list_price) * count)
    listed = chosen.list_price if not moved else chosen.list_price + total(moved, moved[0])
    return settled(listed, job, actuals.pricing)


def item_of(job: Job, id: str) -> Priced:
    """The boat of a job, for no id, or an option or package of it, with price and cost."""
    priced = job.built.priced
    return priced.boat if not id else priced.packages.get(id) or priced.options[id]


def price_when_begun(actuals: Actuals, job: Job) -> Callable[[str], Figure]:
    """What tells the home list price of a boat, an option or a package on the day a job was begun.

    What was published then counts; what nobody published is at its price of the day asked about,
    by the recipes that the job was made by.
    """
    catalogue, priced = actuals.pricing.catalogue, job.built.priced
    day = replace(catalogue, book=newest(catalogue.records.book, job.row.started, book_key))
    home = str(catalogue.yard.markets[0].id)
    packages = {str(package.id): package for package in priced.offered_packages}

    def then(id: str) -> Figure:
        item = item_of(job, id)
        if id in packages:
            inside = [then(str(option)) for option in packages[id].options]
            saving, rule = packages[id].saving, catalogue.yard.policy.rounding
            listed = saved_price(total(inside, inside[0]), saving, rule)
        else:
            row = published(day, home, str(priced.model.id), id)
            listed = item.list_price if row is None else row.list_price
        return item.list_price if listed.value == item.list_price.value else listed

    return then


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
    bare = {each.scope.resource for each in actuals.unbooked_of_jobs.get(job.number, ())}
    if bare:
        yield phrase(
            "Nothing was booked of {count} things that it needs: their standard stands",
            count=len(bare),
        )
