"""After-calculation of a job: what it was sold for, what it should have cost, and what it left."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.actuals.compared import Job, Line
from quoter.figures import Figure


@dataclass(frozen=True, slots=True)
class Quoted:
    """What a quote's frozen record says, in home currency: price after discounts, cost, margin.

    `name` is its number with its revision; `by` who prepared it, which stays in the yard.
    """

    name: str
    price: Figure
    cost: Figure
    elements: dict[str, Figure]
    by: str = ""


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
