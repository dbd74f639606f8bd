"""Hold all that was booked up to a day against standard: what everything about actuals begins with.

Gather first: which job was which boat, what each should have taken, what rows mean. Then hours,
material and overhead are compared, each at the finest level that its rows allow.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from quoter.actuals.compared import Actuals, Job
from quoter.actuals.hours import compare_hours
from quoter.actuals.materials import compare_materials
from quoter.actuals.overhead import compare_overhead
from quoter.actuals.pieces import Ground, ground_of
from quoter.actuals.rates import standard_costs
from quoter.catalogue.booked import Booked
from quoter.catalogue.booked_words import month_of
from quoter.figures import plain_number
from quoter.phrases import phrase
from quoter.pricing.price import Pricing


def compare(pricing: Pricing, booked: Booked, folder: Path | None = None) -> Actuals:
    """Actual against standard, as of the catalogue's day; later rows are left out.

    Args:
        pricing: of the whole catalogue on the day asked about
        booked: its rows, read and checked
        folder: the catalogue's, from which standards before a change that was accepted are priced
    Raises:
        CatalogueError: jobs that the catalogue can't build, all at once.
    """
    ground = ground_of(pricing, booked, folder)
    hours, unbooked, loads = compare_hours(ground)
    materials, undrawn = compare_materials(ground)
    overhead = compare_overhead(ground, loads)
    return Actuals(
        pricing=pricing,
        as_of=ground.as_of,
        jobs=_jobs(ground),
        compared=(*hours, *materials, *overhead),
        unbooked=(*unbooked, *undrawn),
        notes=tuple(dict.fromkeys([*_open(ground), *ground.notes])),
        months=tuple(sorted(set(_months(ground.booked)))),
        pulled=ground.pulled,
        booked=booked,
    )


def _jobs(ground: Ground) -> dict[str, Job]:
    costs = standard_costs(ground.jobs, ground.rates)
    return {
        number: Job(
            row=job.row,
            number=number,
            model=str(job.row.model),
            boats=float(plain_number(job.boats)),
            built=job.boat,
            standard=costs[number][0],
            open=job.open,
            pricing=job.pricing,
            elements=costs[number][1],
        )
        for number, job in ground.jobs.items()
    }


def _months(booked: Booked) -> Iterator[str]:
    """The months that rows are of; of jobs only what was booked on them counts."""
    for rows in (booked.hours, booked.issues, booked.purchases, booked.pulls):
        for row in rows:
            yield month_of(row.date)
    for spent in booked.overhead:
        yield str(spent.month)


def _open(ground: Ground) -> Iterator[str]:
    """Which jobs are at work, and so count at what was booked."""
    at_work = [number for number, job in ground.jobs.items() if job.open]
    if at_work:
        yield phrase(
            "Not finished, and so counted at what was booked until they are: {jobs}",
            jobs=", ".join(at_work),
        )
