"""Rules of what was booked: every row names what there is, once, within what can have happened."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import partial
from typing import Any

from quoter.catalogue.booked import Booked, HoursRow, IssueRow, PullRow, PurchaseRow
from quoter.catalogue.booked_names import operation_number
from quoter.catalogue.booked_words import month_in, quantity_in, rows_after
from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_jobs import Tables, check_boats, check_jobs, check_quotes_of_jobs
from quoter.catalogue.checks_prices import amount_faults, price_converts, price_hint
from quoter.catalogue.materials import price_per, said
from quoter.catalogue.records import MATERIAL_KINDS
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.problems import Place, Problem, nearest, quoted

DAY = 24.0  # hours
FEW = 4  # lines of rows alike that are told
TINY = 1e-9  # of what was drawn; a smaller difference is rounding
_OF_ITS_OWN = ("reference", "note")  # what tells rows apart that say the same


def check_references_once(tables: Tables) -> Iterator[Problem]:
    """A reference is of one row: a second one is the same thing, booked once more."""
    booked = tables.booked
    for rows in (booked.hours, booked.issues, booked.purchases, booked.pulls):
        first: dict[str, Any] = {}
        for row in rows:
            before = first.setdefault(str(row.reference), row)
            if before is not row:
                yield _again(row.reference, before.place, "")
    split: dict[tuple[str, ...], Any] = {}
    for spent in booked.overhead:
        # A line of the ledger may be shared among stations and months.
        key = (str(spent.reference), str(spent.station), str(spent.month), spent.kind)
        same = split.setdefault(key, spent)
        if same is not spent:
            where = f" for {spent.kind} overhead of '{spent.station}' in {spent.month}"
            yield _again(spent.reference, same.place, where)


def _again(reference: Text, first: Place, where: str) -> Problem:
    what = f"reference {quoted(reference)} is booked twice{where}"
    hint = f"line {first.line} has it already: remove one, or correct its reference"
    return Problem(reference.place, "booked-twice", what, hint)


def check_rows_alike(tables: Tables) -> Iterator[Problem]:
    """Rows that differ by their reference alone may be one, sent twice; or two people alike."""
    booked = tables.booked
    for rows in (booked.hours, booked.issues, booked.purchases, booked.pulls, booked.overhead):
        first: dict[tuple[object, ...], Any] = {}
        seen: set[str] = set()
        alike: list[tuple[Any, Any]] = []
        for row in rows:
            before = first.setdefault(_said(row), row)
            if before is not row and str(row.reference) not in seen:
                alike.append((row, before))
            seen.add(str(row.reference))
        if alike:
            yield _alike(alike)


def _said(row: Any) -> tuple[object, ...]:
    """What a row says, but for its own number and note."""
    return tuple(
        (value.value, value.unit) if isinstance(value, Figure) else value
        for name, value in row
        if name not in _OF_ITS_OWN
    )


def _alike(alike: Sequence[tuple[Any, Any]]) -> Problem:
    row, before = alike[0]
    what = f"the row says what line {before.place.line} says, under another reference"
    others = [f"line {row.place.line} as {before.place.line}" for row, before in alike[1:]]
    hint = "if it is the same once more, remove one"
    if others:
        more = f" and {len(others) - FEW} more" if len(others) > FEW else ""
        hint += f" (also {', '.join(others[:FEW])}{more})"
    return Problem(row.reference.place, "booked-alike", what, hint, warning=True)


def check_jobs_named(tables: Tables) -> Iterator[Problem]:
    """What is booked to a job that is not there would be lost; and a job has its days."""
    booked, records = tables.booked, tables.records
    rows: list[HoursRow | IssueRow | PullRow] = [*booked.hours, *booked.issues, *booked.pulls]
    for row in rows:
        if row.job is None or tables.unread.may_hold("JobRow", str(row.job)):
            continue
        job = tables.jobs.get(str(row.job))
        if job is None:
            yield tables.once(row.job, "job", partial(_near_job, tables, row.job))
            continue
        brought_back = isinstance(row, IssueRow) and row.kind == "return"
        if row.date < job.started:
            yield _outside(row, f"before job '{job.job}' was started on {job.started}")
        elif job.finished is not None and row.date > job.finished and not brought_back:
            yield _outside(row, f"after job '{job.job}' was finished on {job.finished}")
        yield from _of_another(row, str(job.model), set(records.models))


def _near_job(tables: Tables, number: str) -> str:
    return nearest(number, tables.jobs) if tables.jobs else "add it to actuals/jobs.csv"


def _outside(row: HoursRow | IssueRow | PullRow, words: str) -> Problem:
    hint = "correct the day, the job, or the job's days"
    return Problem(row.place, "outside-job", f"{row.date} is {words}", hint)


def _of_another(
    row: HoursRow | IssueRow | PullRow, model: str, models: set[str]
) -> Iterator[Problem]:
    """An option or boat of one model on a job of another."""
    of = "" if row.part is None else row.part.partition(".")[0]
    if row.part is not None and of in models and of != model:
        what = f"{quoted(row.part)} is of the model '{of}', and job '{row.job}' is a '{model}'"
        yield Problem(row.part.place, "values-disagree", what, "correct the part or the job")


def check_parts_named(tables: Tables) -> Iterator[Problem]:
    """A part is called as on its papers, and an operation is one of that part."""
    booked, names = tables.booked, tables.names
    rows: list[HoursRow | IssueRow | PullRow] = [*booked.hours, *booked.issues, *booked.pulls]
    for row in rows:
        if row.part is not None and not names.may_be(row.part):
            yield tables.once(row.part, "part", partial(names.hint, row.part))


def check_where_worked(tables: Tables) -> Iterator[Problem]:
    """Hours count at a station: that which is named, or that of the operation."""
    names = tables.names
    for row in tables.booked.hours:
        if row.station is not None:
            yield from tables.unknown(("station",), row.station, "station")
        if row.operation is None or row.part is None:
            yield from _no_station(row)
            continue
        recipe = names.recipe_of(row.part)
        if recipe is None:
            continue
        number = operation_number(recipe.operations, row.operation)
        if not number:
            called = [str(one.name) for one in recipe.operations]
            what = f"{quoted(row.part)} has no operation {quoted(row.operation)}"
            yield Problem(row.operation.place, "unknown-id", what, _meant(row.operation, called))
            continue
        operation = recipe.operations[number - 1]
        if row.station is not None and row.station != operation.station:
            what = f"'{operation.name}' is done at '{operation.station}', and was booked at "
            hint = "leave the station out, unless it was done there"
            yield Problem(
                row.station.place, "other-station", f"{what}'{row.station}'", hint, warning=True
            )


def _no_station(row: HoursRow) -> Iterator[Problem]:
    if row.operation is not None:
        what = f"no part is named that {quoted(row.operation)} would be an operation of"
        hint = "name the part as on its papers"
        warning = row.station is not None
        if warning:
            hint += "; without it the hours count at the station alone"
        yield Problem(row.operation.place, "missing-key", what, hint, warning=warning)
    elif row.station is None:
        what = "nothing says at which station the hours were worked"
        hint = "name the station, or the part with its operation"
        yield Problem(row.place, "missing-key", what, hint)


def _meant(words: str, called: Sequence[str]) -> str:
    """The operations that there are, by number and name, or the one that is near."""
    if not called:
        return "it has none: name the station"
    if words.isdecimal():
        return f"they are numbered 1 to {len(called)}" if len(called) > 1 else "it has number 1"
    numbered = [f"{number} {name}" for number, name in enumerate(called, 1)]
    near = nearest(words, called)
    return near if near.startswith("did you") else f"write one of {', '.join(numbered)}"


def check_hours(tables: Tables) -> Iterator[Problem]:
    """A day has 24 hours, and who works is of a wage group, paid in home currency."""
    records = tables.records
    groups = {str(row.group) for row in records.wages}
    for row in tables.booked.hours:
        if row.hours.value > DAY:
            what = f"{row.hours.value:g} h are more than a day has"
            hint = "write a row for each person and day, or correct the hours"
            yield Problem(figure_place(row.hours), "hours-of-a-day", what, hint)
        group = row.group
        if not (group is None or group in groups or records.unread.may_hold("WageRow", group)):
            yield tables.once(group, "wage group", partial(nearest, group, groups))
        if row.wage is not None:
            yield from _at_home(tables, row.wage, "the wage")


def _at_home(tables: Tables, amount: Figure, called: str) -> Iterator[Problem]:
    """That an amount is in another currency than the yard's own."""
    home, found = tables.records.home, amount.unit.currencies
    if home is not None and found != (home,):
        what = f"{called} is in {' and '.join(found)}"
        yield Problem(figure_place(amount), "wrong-currency", what, f"write it in {home}")


def check_issues(tables: Tables) -> Iterator[Problem]:
    """What is drawn is a material, in a unit that says how much, at a cost in home currency."""
    records = tables.records
    for row in tables.booked.issues:
        yield from _material_faults(tables, row)
        if row.station is not None:
            yield from tables.unknown(("station",), row.station, "station")
        material = records.materials.get(row.material)
        if row.price is None:
            continue
        yield from _at_home(tables, row.price, "what it had cost")
        if material is not None and not price_converts(material, row.price):
            per = price_per(row.price)
            what = f"'{row.material}' can't be priced per {said(per)}"
            hint = price_hint(material, per)
            yield Problem(figure_place(row.price), "wrong-unit", what, hint)


def _material_faults(tables: Tables, row: IssueRow | PurchaseRow) -> Iterator[Problem]:
    records = tables.records
    if row.material in records.ids.get("foam", {}):
        what = f"foam '{row.material}' is not bought as such"
        yield Problem(row.material.place, "unknown-id", what, "book its two components")
    else:
        yield from tables.unknown(MATERIAL_KINDS, row.material, "material")
    material = records.materials.get(row.material)
    if material is not None:
        _, fault = quantity_in(row.quantity, material)
        if fault is not None:
            yield fault


def check_stock(tables: Tables) -> Iterator[Problem]:
    """No more can come back than was drawn by that day: for a job, or of the material at all."""
    if tables.unread.touches("IssueRow"):
        return  # what could not be read may have been drawn
    materials = tables.records.materials
    of_jobs: dict[tuple[str, str], float] = {}
    of_all: dict[str, float] = {}
    # A day's draws come before its returns.
    rows = sorted(tables.booked.issues, key=lambda row: (row.date, row.kind == "return"))
    for row in rows:
        material = materials.get(row.material)
        found = quantity_in(row.quantity, material)[0] if material is not None else None
        if found is None:
            continue
        id, amount = str(row.material), found.value
        key = (id, str(row.job or ""))
        drawn = of_jobs.get(key, 0.0) if row.job is not None else of_all.get(id, 0.0)
        if row.kind == "return":
            if amount > drawn * (1 + TINY) + TINY:
                where = f" for job '{row.job}'" if row.job is not None else ""
                unit = f" {found.unit}".rstrip()
                what = f"{amount:g}{unit} of '{id}' come back on {row.date}, and {drawn:g}{unit} "
                hint = "correct the quantity, the day or the job, or book what was drawn"
                what += f"were out by then{where}"
                yield Problem(row.quantity.place, "more-returned", what, hint)
            amount = -min(amount, drawn)
        of_jobs[key] = of_jobs.get(key, 0.0) + amount
        of_all[id] = max(of_all.get(id, 0.0) + amount, 0.0)


def check_purchases(tables: Tables) -> Iterator[Problem]:
    """An invoice is in its supplier's currency, its freight too, and its rate is of that one."""
    home = tables.records.home
    for row in tables.booked.purchases:
        yield from tables.unknown(("supplier",), row.supplier, "supplier")
        yield from amount_faults(tables.records, row)
        yield from _material_faults(tables, row)
        currencies = row.price.unit.currencies
        if row.freight is not None and row.freight.unit.currencies != currencies:
            what = f"the freight is in {row.freight.unit}, the price in {' and '.join(currencies)}"
            hint = "write both in the currency of the invoice"
            yield Problem(figure_place(row.freight), "wrong-currency", what, hint)
        if row.rate is None or home is None or len(currencies) != 1:
            continue
        wanted = f"{currencies[0]}/{home}"
        if currencies[0] == home:
            what = f"{home} is the home currency and needs no rate"
            yield Problem(figure_place(row.rate), "no-effect", what, "leave the rate empty")
        elif str(row.rate.unit) != wanted:
            what = f"a rate of {currencies[0]} in {str(row.rate.unit) or 'no unit'}"
            hint = f"write how much {currencies[0]} one {home} bought, in {wanted}"
            yield Problem(figure_place(row.rate), "wrong-unit", what, hint)


def check_pulls(tables: Tables) -> Iterator[Problem]:
    """A row of pulls says that something was made."""
    for row in tables.booked.pulls:
        if not row.good.value and not row.scrapped.value:
            what = "neither a good piece nor a scrapped one"
            hint = "write how many there were, or leave the row out"
            yield Problem(figure_place(row.good), "empty", what, hint)


def check_spent(tables: Tables) -> Iterator[Problem]:
    """Overhead is of a month and a station, in home currency."""
    for row in tables.booked.overhead:
        if month_in(row.month) is None:
            what = f"{quoted(row.month)} is no month"
            hint = "write year and month, for example '2026-08'"
            yield Problem(row.month.place, "not-a-month", what, hint)
        yield from tables.unknown(("station",), row.station, "station")
        yield from _at_home(tables, row.spent, "what was spent")


def check_come(booked: Booked, day: date) -> Iterator[Problem]:
    """What is of a day after the catalogue's own counts only for who asks about a later day."""
    later = rows_after(booked, day)
    if later:
        _, place = later[0]
        last, _ = max(later)
        many = f"this row and {len(later) - 1} more are" if len(later) > 1 else "the row is"
        what = f"{many} of days after {day}, the catalogue's own, and count for nothing yet"
        hint = (
            f"the last is of {last}: say in yard.yaml that today is that far, or ask with --as-of"
        )
        yield Problem(place, "not-come-yet", what, hint, warning=True)


BOOKED_CHECKS: tuple[Callable[[Tables], Iterator[Problem]], ...] = (
    check_jobs,
    check_quotes_of_jobs,
    check_boats,
    check_references_once,
    check_rows_alike,
    check_jobs_named,
    check_parts_named,
    check_where_worked,
    check_hours,
    check_issues,
    check_stock,
    check_purchases,
    check_pulls,
    check_spent,
)
