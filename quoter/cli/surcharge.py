"""Commands about prices that a customer has in hand."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import click
from babel.numbers import get_currency_precision

from quoter.analysis.why import amount
from quoter.catalogue.day import asked_day
from quoter.catalogue.indices import look_up_indices
from quoter.catalogue.load import read_records
from quoter.catalogue.markets import Surcharge
from quoter.catalogue.records import Records
from quoter.catalogue.tables import IndexRow
from quoter.cli.terminal import Day, Folder, day, example_command, stopping, tell
from quoter.figures import Figure, constant
from quoter.figures.trail import expression
from quoter.pricing.clauses import (
    DRAFT,
    Applied,
    applied_data,
    apply_clause,
    clause_text,
    percent,
)
from quoter.problems import CatalogueError, Place, Problem, Problems, nearest
from quoter.units import UnitError, quantity

Excerpt = Callable[[Place], str]


def _price(_: click.Context, parameter: click.Parameter, text: str) -> Figure:
    """An amount of money as written, such as ``4350 EUR``."""
    try:
        found = quantity(text)
    except UnitError as bad:
        what = f"{bad.what}; {bad.hint or 'write for example 4350 EUR'}"
        raise click.BadParameter(what, param=parameter) from bad
    if found.base.currencies != (str(found.base),) or found.number <= 0:
        what = f"'{text}' is no price; write for example '4350 EUR'"
        raise click.BadParameter(what, param=parameter)
    written = found.number * float(found.factor)
    return constant(written, str(found.base), "price of the quote")


@example_command(
    "surcharge",
    'surcharge demo_catalog resin --price "4350 EUR" --quoted 2026-09-05',
    'surcharge demo_catalog resin --price "4350 EUR" --quoted 2026-09-05 --on 2026-11-20 --json',
)
@click.argument("catalogue", type=Folder)
@click.argument("clause")
@click.option("--price", callback=_price, required=True, help="The price without tax.")
@click.option("--quoted", type=Day, required=True, metavar="DATE", help="The day of the quote.")
@click.option("--on", type=Day, metavar="DATE", help="The day asked about (else the catalogue's).")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead of steps in words.")
def surcharge_command(
    catalogue: Path,
    clause: str,
    price: Figure,
    quoted: datetime,
    on: datetime | None,
    as_json: bool,
) -> None:
    """Apply a surcharge clause to a price quoted on a day, and tell every step."""
    _check_order(quoted.date(), day(on), "the day asked about")
    with stopping(catalogue):
        records, excerpt = read_whole(catalogue)
        asked = asked_day(records, day(on))
        _check_order(quoted.date(), asked, "the catalogue's day; name a later one with --on")
        applied = _applied(records, _clause(records, clause), price, quoted.date(), asked, excerpt)
    tell(catalogue, old_values(records, asked, excerpt))
    if as_json:
        click.echo(json.dumps(applied_data(applied), indent=1, ensure_ascii=False))
    else:
        for line in _lines(applied):
            click.echo(line)


def _check_order(quoted: date, asked: date | None, called: str) -> None:
    if asked is not None and asked < quoted:
        raise click.UsageError(f"the quote is of {quoted}, after {asked}, {called}")


def read_whole(folder: Path) -> tuple[Records, Excerpt]:
    """A catalogue's records, whether or not prices are in force: an index alone says what is added.

    Raises:
        CatalogueError: something is wrong with it.
    """
    problems = Problems()
    records, sources = read_records(folder, problems)
    problems.gather()
    problems.quote(sources.excerpt)
    problems.stop_if_any()
    return records, sources.excerpt


def _applied(
    records: Records, clause: Surcharge, price: Figure, quoted: date, on: date, excerpt: Excerpt
) -> Applied:
    """The clause applied.

    Raises:
        CatalogueError: its index has no value on one of the days, with the line that is about.
    """
    try:
        return apply_clause(records, clause, price, quoted, on)
    except CatalogueError as fault:
        told = [replace(each, excerpt=excerpt(each.place)) for each in fault.problems]
        raise CatalogueError(told) from fault


def old_values(records: Records, on: date, excerpt: Excerpt) -> list[Problem]:
    """Warnings of index values that are old by a day."""
    problems = Problems()
    look_up_indices(records, on, problems)
    problems.quote(excerpt)
    return [each for each in problems.warnings if each.place.file == "indices.csv"]


def _clause(records: Records, id: str) -> Surcharge:
    clauses = records.yard.surcharges if records.yard is not None else ()
    known = {str(clause.id): clause for clause in clauses}
    if id not in known:
        hint = nearest(id, known) if known else "yard.yaml lists none under 'surcharges:'"
        raise click.UsageError(f"unknown surcharge clause '{id}': {hint}")
    return known[id]


def _lines(applied: Applied) -> Iterator[str]:
    clause, steps = applied.clause, applied.steps
    yield f"{clause.name}: a price of {_money(steps.price)} quoted on {applied.quoted},"
    yield f"asked about on {applied.on}, {applied.days} days later."
    yield ""
    yield f"index '{clause.index}' on {applied.quoted}: {_row(applied.base)}"
    yield f"index '{clause.index}' on {applied.on}: {_row(applied.now)}"
    for given in (clause.threshold, clause.share, clause.cap, clause.leave_above):
        if given is not None:
            yield f"{given.label}: {amount(given)}{_place(given)}"
    for step in steps.taken:
        shown = _money(step) if str(step.unit) else amount(step)
        yield f"{step.label}: {shown}  = {expression(step)}"
    yield ""
    if applied.open:
        yield f"The quote stands without a surcharge for {clause.open_for.value:g} days."
    yield f"To be paid: {_money(applied.adjusted)} without tax."
    yield f"The customer {'may' if applied.may_leave else 'may not'} leave{_above(clause)}."
    yield ""
    yield "The clause, in words for the customer:"
    for number, sentence in enumerate((*clause_text(clause), DRAFT), 1):
        yield f"{number}. {sentence}"


def _row(row: IndexRow) -> str:
    note = f" ({row.note})" if row.note else ""
    return f"{amount(row.value)}{_place(row.value)}, since {row.date}{note}"


def _place(figure: Figure) -> str:
    return f"  [{figure.origin.place}]" if figure.origin is not None else ""


def _money(figure: Figure) -> str:
    currency = str(figure.unit)
    return f"{figure.value:,.{get_currency_precision(currency)}f} {currency}"


def _above(clause: Surcharge) -> str:
    if clause.leave_above is None:
        return "; the clause gives no such right"
    return f": the clause says above {percent(clause.leave_above)} of the price"
