"""What the last finished jobs left of each boat, option and package, beside the margin planned.

Of each job it is the list price of the day that work on it began, less what the thing should have
cost by the recipes and rates of the job's days, less its share of what the job took beyond that.
So it stays what it was when a standard is accepted, or a price published, after the job.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from quoter.actuals.after import item_of, price_when_begun
from quoter.actuals.compared import Actuals, Job
from quoter.actuals.rates import Rates, on_days, others_of, settled
from quoter.analysis.margins import Key, MarginLine
from quoter.catalogue.booked_words import options_of
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.margin import fraction_of_price, left_after, net_price

MOST = 3  # jobs that are looked at


@dataclass(frozen=True, slots=True)
class Left:
    """Margins of net that the last finished jobs left, the newest first, and their numbers."""

    jobs: tuple[str, ...]
    fractions: tuple[Figure, ...]

    @property
    def middle(self) -> float:
        """The median of them."""
        return median(fraction.value for fraction in self.fractions)


def left_by_last(actuals: Actuals, lines: Sequence[MarginLine], buyer: str) -> dict[Key, Left]:
    """Model and option -> what the last finished jobs left that had it, at most three.

    A job tells nothing of what no line of variance is shared out to: of that nothing is known.

    Args:
        actuals: all that was booked
        lines: of a margin review, in the home market
        buyer: the class of buyer at whose discount
    """
    had = _had(actuals, [line for line in lines if buyer in line.sales])
    costs: dict[str, dict[str, Figure]] = {}
    for (_, option), jobs in had.items():
        for job, _ in jobs:
            costs.setdefault(job.number, {})[option] = item_of(job, option).assembly.cost
    rates = Rates(actuals.pricing, others_of(actuals.pricing, actuals.jobs.values()))
    by_day = on_days(costs, actuals.jobs, rates)
    prices = {number: price_when_begun(actuals, actuals.jobs[number]) for number in costs}
    found = {}
    for line in lines:
        jobs = had.get(line.key, [])
        fractions = []
        for job, beyond in jobs:
            net = net_price(prices[job.number](line.option), line.sales[buyer].buyer.discount)
            cost = by_day[job.number][line.option] + beyond
            left = fraction_of_price(left_after(net, actuals.pricing.terms.provisions, cost), net)
            what = phrase("{name}: margin left by job {number}", name=line.words, number=job.number)
            key = f"actual.left.{line.model}.{line.option or 'boat'}.{job.number}"
            fractions.append(settled(left, job, actuals.pricing).named(key, what, "percent"))
        if jobs:
            found[line.key] = Left(tuple(job.number for job, _ in jobs), tuple(fractions))
    return found


def _had(actuals: Actuals, lines: Iterable[MarginLine]) -> dict[Key, list[tuple[Job, Figure]]]:
    """The last finished jobs that had each line and tell of it, with what one took beyond."""
    shares = _shares(actuals)
    done = [job for job in actuals.jobs.values() if not job.open]
    done.sort(key=lambda job: (job.row.finished or job.row.started, job.number), reverse=True)
    found = {}
    for line in lines:
        told = (
            (job, _beyond(line, job, shares.get(job.number, {})))
            for job in done
            if job.model == line.model
        )
        found[line.key] = [(job, each) for job, each in told if each is not None][:MOST]
    return found


def _shares(actuals: Actuals) -> dict[str, dict[str, list[Figure]]]:
    """Job -> option, or "" for the boat itself -> its shares of the job's variances."""
    found: dict[str, dict[str, list[Figure]]] = {}
    for line in actuals.lines:
        for owner, share in line.owners.items():
            of_job = found.setdefault(line.scope.job, {})
            of_job.setdefault(owner, []).append(line.amount * constant(share))
    return found


def _beyond(line: MarginLine, job: Job, shares: Mapping[str, list[Figure]]) -> Figure | None:
    """What one of a line took beyond standard on a job; None where the job tells nothing of it."""
    counts = {str(one.option.id): one for one in job.built.aboard}
    if not line.option:
        owners, count = ["", *(id for id, one in counts.items() if one.standard)], 1.0
    elif line.option in counts:
        owners, count = [line.option], counts[line.option].count.value
    else:
        owners, count = _packaged(job, line.option), float(options_of(job.row).get(line.option, 0))
    taken = [amount for owner in owners for amount in shares.get(owner, ())]
    return total(taken, taken[0]) / constant(count * job.boats) if taken and count else None


def _packaged(job: Job, package: str) -> list[str]:
    """The options of a package, as the model has it."""
    offered: Iterable[tuple[str, list[str]]] = (
        (str(one.id), [str(id) for id in one.options]) for one in job.built.priced.offered_packages
    )
    return next((options for id, options in offered if id == package), [])
