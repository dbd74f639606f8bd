"""What the last finished jobs left of each boat, option and package, beside the margin planned.

Held against the price and cost of today, so that it stands beside the margin of a review: what a
job took beyond the standards of its days comes off the margin that is planned now.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from quoter.actuals.compared import Actuals, Job
from quoter.analysis.margins import Key, MarginLine
from quoter.catalogue.booked_words import options_of
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase
from quoter.pricing.margin import fraction_of_price

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
        lines: of a margin review, in one market
        buyer: the class of buyer at whose price
    """
    shares = _shares(actuals)
    done = [job for job in actuals.jobs.values() if not job.open]
    done.sort(key=lambda job: (job.row.finished or job.row.started, job.number), reverse=True)
    found = {}
    for line in lines:
        told = [
            (job.number, fraction)
            for job in done
            if job.model == line.model
            and (fraction := _left_of(line, job, shares.get(job.number, {}), buyer)) is not None
        ][:MOST]
        if told:
            numbers, fractions = zip(*told, strict=True)
            found[line.key] = Left(tuple(numbers), tuple(fractions))
    return found


def _shares(actuals: Actuals) -> dict[str, dict[str, list[Figure]]]:
    """Job -> option, or "" for the boat itself -> its shares of the job's variances."""
    found: dict[str, dict[str, list[Figure]]] = {}
    for line in actuals.lines:
        for owner, share in line.owners.items():
            of_job = found.setdefault(line.scope.job, {})
            of_job.setdefault(owner, []).append(line.amount * constant(share))
    return found


def _left_of(
    line: MarginLine, job: Job, shares: Mapping[str, list[Figure]], buyer: str
) -> Figure | None:
    """The margin of net that a job left of a line; None where it had none, or tells nothing."""
    counts = {str(one.option.id): one for one in job.built.aboard}
    if not line.option:
        owners, count = ["", *(id for id, one in counts.items() if one.standard)], 1.0
    elif line.option in counts:
        owners, count = [line.option], counts[line.option].count.value
    else:
        owners, count = _packaged(job, line.option), float(options_of(job.row).get(line.option, 0))
    taken = [amount for owner in owners for amount in shares.get(owner, ())]
    if not taken or not count or buyer not in line.sales:
        return None
    sale = line.sales[buyer]
    beyond = total(taken, taken[0]) / constant(count * job.boats)
    what = phrase("{name}: margin left by job {number}", name=line.words, number=job.number)
    key = f"actual.left.{line.model}.{line.option or 'boat'}.{job.number}"
    return fraction_of_price(sale.margin - beyond, sale.net).named(key, what, "percent")


def _packaged(job: Job, package: str) -> list[str]:
    """The options of a package, as the model has it."""
    offered: Iterable[tuple[str, list[str]]] = (
        (str(one.id), [str(id) for id in one.options]) for one in job.built.priced.offered_packages
    )
    return next((options for id, options in offered if id == package), [])
