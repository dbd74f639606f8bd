"""The workbook of what it really took: live over standards of a piece, prices, rates and rows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from quoter.actuals.account import Account
from quoter.actuals.compared import KINDS
from quoter.actuals.summaries import largest_sums, summary_of
from quoter.figures import Figure
from quoter.phrases import phrase, together
from quoter.pricing.controls import master
from quoter.workbook.actuals_live import Live, live
from quoter.workbook.addresses import shown_in
from quoter.workbook.paper import footer_of, on_paper_of
from quoter.workbook.sheets.actuals import (
    Sums,
    actual_controls,
    front_sheet,
    job_sheet,
    labour_sheet,
    material_sheet,
    month_sheet,
    overhead_sheet,
    sums_of,
)
from quoter.workbook.sheets.actuals_given import (
    note_sheet,
    row_controls,
    row_sheet,
    standard_sheet,
)
from quoter.workbook.sheets.proof import Told, check_sheet, method_sheet
from quoter.workbook.sheets.rates import FILES, input_sheet
from quoter.workbook.table import MARK, Book, lead_on

ACTUALS_BOOK = "actuals.xlsx"
METHOD = (
    phrase(
        "Price variance = (actual price - standard price) x actual quantity; usage = (actual "
        "quantity - standard quantity) x standard price. Rate and efficiency of hours alike."
    ),
    phrase(
        "Where resin and glass of one laminate are both known, mix and yield stand in the place "
        "of usage: mix = (actual quantity - all of both x standard share) x standard price; yield "
        "= (all of both x standard share - standard quantity) x standard price."
    ),
    phrase(
        "Variable overhead: spending = spent - base as worked x rate; efficiency = (base as worked "
        "- base by standard) x rate. Fixed: budget = spent - budget of the month; volume = budget "
        "- base by standard x rate."
    ),
    phrase(
        "A standard quantity is shared among the rows it is held against in proportion to what "
        "they say, so that each counts at the price or rate of its own day."
    ),
    phrase(
        "Where pieces begun were counted, standards are raised to them, and scrap = (standard of "
        "what was begun - standard of what was planned to be) x standard price. Jobs at work "
        "count at what was booked."
    ),
    phrase(
        "A job's cost = standard of what was not compared on it + what was; margin left = price x "
        "(1 - provisions) - cost."
    ),
)


def actuals_book(account: Account) -> Book:
    """The workbook of what it really took, before it becomes a file."""
    over = live(account)
    sums = sums_of(over)
    compared = over.actuals.compared
    amounts = [f for one in compared for f in (one.actual, one.standard)]
    amounts += [line.amount for line in over.actuals.lines]
    controls = [*actual_controls(over, sums), *row_controls(over, amounts)]
    proved = master(controls).named("control.all", "All checks hold")
    shown = (
        front_sheet(over, sums, tuple(_found(over, sums)), proved),
        month_sheet(sums),
        job_sheet(over),
        labour_sheet(over),
        material_sheet(over),
        overhead_sheet(over),
    )
    checks, notes = check_sheet(controls, proved), note_sheet(over)
    names = dict(_names(over, sums))
    roots = [*shown_in([*shown, notes, checks]), *names.values()]
    catalogue = account.actuals.pricing.catalogue
    return Book(
        phrase("{company}: what it really took", company=catalogue.yard.company.name),
        (
            *shown,
            standard_sheet(over),
            replace(input_sheet(roots, FILES), then=lead_on("Rows", "what was booked, to change")),
            row_sheet(over, roots),
            checks,
            notes,
            method_sheet(_about(over), roots, [Told(words) for words in METHOD]),
        ),
        footer_of(phrase("what it really took"), catalogue),
        catalogue.currency,
        names,
        workings_before="Checks",
        reader=catalogue.reader,
        on_paper=on_paper_of(catalogue),
    )


def _about(over: Live) -> tuple[str, ...]:
    catalogue = over.actuals.pricing.catalogue
    return (
        phrase(
            "Live over hours and material of a piece, prices, wages, exchange, rates, yields and "
            "what was booked. How a standard of a piece comes about, net prices, and what of a job "
            "is not compared are numbers of this build; the workbook of each model shows the first."
        ),
        phrase(
            "Booked up to {as_of}, newest price list of {price_list}, workbook {mark}.",
            as_of=catalogue.as_of,
            price_list=catalogue.price_list,
            mark=MARK,
        ),
        phrase("Sources name the file and line of the catalogue."),
        phrase(
            "Hours are by wage group, and nobody is named. What may be kept and shown of the hours "
            "of people is a matter of local law: ask."
        ),
    )


def _found(over: Live, sums: Sequence[Sums]) -> Iterator[str]:
    """What stands out, in words."""
    whole, currency = sums[-1], over.actuals.pricing.catalogue.currency
    above = whole.variance.value
    said = f"{currency} {abs(above):,.0f}"
    months = len(over.actuals.months)
    if above >= 0:
        yield phrase("{amount} above standard in {months} months.", amount=said, months=months)
    else:
        yield phrase("{amount} below standard in {months} months.", amount=said, months=months)
    largest = largest_sums(summary_of(over.actuals, "kind").sums)[:3]
    told = [
        together(" ", (KINDS[each.lines[0].kind], f"{each.amount.value:+,.0f}")) for each in largest
    ]
    if told:
        yield phrase("The largest: {kinds}.", kinds=together(", ", told))
    if over.actuals.unbooked:
        yield phrase(
            "Needed, and nothing booked: {count}, named on Notes.",
            count=len(over.actuals.unbooked),
        )


def _names(over: Live, sums: Sequence[Sums]) -> Iterator[tuple[str, Figure]]:
    """Defined names of key results: of all, of each month and of each job."""
    for each in sums:
        start = f"actual.{each.month.replace('-', '_')}" if each.month else "actual.all"
        yield f"{start}.standard", each.standard
        yield f"{start}.variance", each.variance
        yield f"{start}.actual", each.actual
        for kind, amount in each.kinds.items():
            yield f"{start}.{kind.replace(' ', '_')}", amount
    for job in over.jobs:
        start = "job." + "".join(c if c.isalnum() else "_" for c in job.job.number)
        yield f"{start}.standard", job.standard
        yield f"{start}.variance", job.variance
        yield f"{start}.cost", job.cost
        yield f"{start}.left", job.left
