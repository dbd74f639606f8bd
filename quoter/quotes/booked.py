"""What a built boat was sold for: the quote that its job names, from the frozen record alone.

A quote is known by its number and revision, in a folder of quotes. A record that was changed since
is refused: what it says is not what was sold.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from pathlib import Path

from quoter.actuals.after import Quoted
from quoter.catalogue.booked import JobRow
from quoter.figures import Figure, constant, stated
from quoter.formats import RECORD_FILE
from quoter.phrases import phrase
from quoter.problems import Place, Problem, listed
from quoter.quotes import QuoteError
from quoter.quotes.change_orders import order_of
from quoter.quotes.kept.archive import kept
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.standing import Listing, list_all


def quoted_of(record: Record, listing: Listing | None = None) -> Quoted:
    """What a quote's frozen record says of its boat, in home currency without tax and delivery.

    Args:
        record: sound, of one boat
        listing: of all quotes of its folder, to tell whether it is the order that stands
    """
    inside, name = record.inside, record.name

    def told(amount: Decimal, what: str, words: str) -> Figure:
        place = Place(f"{name}/{RECORD_FILE}", key=f"inside.{what}")
        label = phrase("Quote {name}: {what}", name=name, what=words)
        number = constant(float(amount), str(inside.home))
        return stated(number, f"actual.quoted.{name}.{what}", label, place)

    return Quoted(
        name=name,
        price=told(inside.net, "net", phrase("net price")),
        cost=told(inside.cost, "cost", phrase("cost")),
        margin=told(inside.margin, "margin", phrase("margin")),
        elements={},
        by=record.prepared_by,
        doubts=tuple(_doubts(record, listing)),
    )


def quoted_jobs(
    folder: Path, jobs: Iterable[JobRow]
) -> tuple[dict[str, Quoted], tuple[Problem, ...]]:
    """What each job was sold for that names a quote, by the job's number, and what is wrong.

    A job whose quote is not there, or was changed, is left out; each has a problem at its own line.

    Args:
        folder: of quotes
        jobs: lines of jobs.csv
    Raises:
        QuoteError: the folder is not there or can't be read, and a job names a quote.
    """
    named = [job for job in jobs if job.quote is not None]
    if not named:
        return {}, ()
    try:
        listing = list_all(folder)
    except QuoteError:
        if not folder.is_dir():
            raise
        listing = None  # a record that can't be read is told with the job that names it
    found: dict[str, Quoted] = {}
    problems = []
    for job in named:
        try:
            found[str(job.job)] = quoted_of(kept(folder, str(job.quote)), listing)
        except QuoteError as fault:
            place = job.quote.place if job.quote is not None else job.place
            hint = "write the quote's number with its revision, or leave the cell empty"
            problems.append(Problem(place, "quotes", str(fault), hint))
    return found, tuple(problems)


def _doubts(record: Record, listing: Listing | None) -> Iterator[str]:
    """What to know before a boat is held against its quote."""
    yield phrase(
        "Quote {name} keeps its cost as a whole: elements are held against standard alone",
        name=record.name,
    )
    own = [line.name for line in record.inside.lines if line.own and line.cost]
    if own:
        yield phrase(
            "Quote {name} has lines of its own, which the catalogue has no standard for: {lines}",
            name=record.name,
            lines=listed(own),
        )
    order = None if listing is None else order_of(listing, record.name)
    if listing is not None and order is None:
        yield phrase("Quote {name} is not won", name=record.name)
    elif order is not None and order.record.name != record.name:
        yield phrase(
            "Quote {name} was changed: {order} is the order that stands",
            name=record.name,
            order=order.record.name,
        )
