"""An account made by hand of the small yard: two months, three jobs, an operation with data.

Amounts are round, so that what is read off a page can be added up in the head. Skiff T-1 was
finished in August and held against standard by station and material; cutter T-2 in September,
with its hours in assembly not booked; T-3 is at work still.
"""

from __future__ import annotations

from datetime import date

from quoter.actuals.account import Account
from quoter.actuals.after import AfterCalculation, ElementRow, Quoted
from quoter.actuals.compared import Actuals, Compared, Job, Kind, Level, Line, Scope, Unbooked
from quoter.actuals.estimates import Estimate, Estimates, Interval, Sample
from quoter.actuals.proposals import Proposal
from quoter.catalogue.booked import JobRow
from quoter.catalogue.source import Text
from quoter.figures import Figure, constant, stated
from quoter.phrases import phrase
from quoter.pricing.built import built
from quoter.pricing.price import Pricing
from quoter.problems import Place

HOURS, ISSUES = "actuals/hours.csv", "actuals/issues.csv"
BLOCK = "part.block"


def money(amount: float) -> Figure:
    return constant(amount, "EUR")


def hours(number: float) -> Figure:
    return constant(number, "h")


def _job(pricing: Pricing, number: str, model: str, chosen: dict[str, int], until: str) -> Job:
    row = JobRow.model_construct(
        job=number,
        model=model,
        options=Text.at("; ".join(chosen), Place("actuals/jobs.csv")) if chosen else None,
        boats=None,
        quote=None,
        started=date(2026, 8, 3),
        finished=date.fromisoformat(until) if until else None,
        note=None,
    )
    boat = built(pricing, pricing.models[model], chosen)
    return Job(row, number, model, 1.0, boat, boat.whole.cost, not until)


def compared_of(
    resource: str,
    month: str,
    standard: float,
    lines: dict[Kind, float],
    *,
    job: str = "",
    part: str = "",
    quantities: tuple[Figure, Figure] | None = None,
    rows: tuple[int, ...] = (4, 5, 6),
    owners: dict[str, float] | None = None,
) -> Compared:
    kind, _, id = resource.partition(".")
    level: Level = "part" if part else "job" if job else "month"
    scope = Scope(
        resource,
        level,
        month,
        job,
        part,
        station="" if kind == "material" else id,
        material=id if kind == "material" else "",
    )
    file = ISSUES if kind == "material" else HOURS
    places = tuple(Place(file, row) for row in rows)
    told = tuple(
        Line(
            each,
            scope,
            stated(money(amount), f"actual.{month}.{job}.{part}.{resource}.{each}", "A variance"),
            places,
            owners or {},
        )
        for each, amount in lines.items()
    )
    actual = standard + sum(lines.values())
    one, other = quantities or (None, None)
    return Compared(scope, money(actual), money(standard), told, one, other, places)


def account_by_hand(pricing: Pricing) -> Account:
    """All of it, over the pricing of the small yard."""
    jobs = [
        _job(pricing, "T-1", "skiff", {"box": 1}, "2026-08-28"),
        _job(pricing, "T-2", "cutter", {"green": 1}, "2026-09-25"),
        _job(pricing, "T-3", "skiff", {}, ""),
    ]
    shared = {"box": 0.25, "": 0.75}
    compared = (
        compared_of(
            "labour.laminating",
            "2026-08",
            2000.0,
            {"rate": 40.0, "efficiency": 300.0},
            job="T-1",
            quantities=(hours(71.3), hours(62.0)),
            rows=(2, 3, 4, 9),
            owners=shared,
        ),
        compared_of(
            "variable.laminating",
            "2026-08",
            400.0,
            {"variable efficiency": 60.0},
            job="T-1",
            owners=shared,
        ),
        compared_of(
            "labour.assembly", "2026-08", 1500.0, {"efficiency": -120.0}, job="T-1", rows=(7,)
        ),
        compared_of(
            "material.foam",
            "2026-08",
            90.0,
            {"price": 4.0, "usage": 16.0},
            job="T-1",
            part=BLOCK,
            quantities=(constant(5.9, "kg"), constant(5.0, "kg")),
            owners={"box": 1.0},
        ),
        compared_of("fixed.laminating", "2026-08", 8000.0, {"budget": 250.0, "volume": -900.0}),
        compared_of(
            "labour.laminating", "2026-09", 6200.0, {"rate": 90.0, "efficiency": 1100.0}, job="T-2"
        ),
        compared_of("labour.laminating", "2026-09", 500.0, {"rate": 15.0}, job="T-3", rows=(30,)),
    )
    unbooked = (
        Unbooked(
            Scope("labour.assembly", "job", "", "T-2", station="assembly"),
            hours(260.0),
            money(7800.0),
        ),
    )
    notes = (
        phrase("{what}: compared by job: {jobs}", what="Laminating", jobs="T-1, T-2"),
        phrase("{what}: compared by month: {months}", what="Fixed overhead", months="2026-08"),
    )
    actuals = Actuals(
        pricing,
        pricing.catalogue.as_of,
        {job.number: job for job in jobs},
        compared,
        unbooked,
        notes,
        ("2026-08", "2026-09"),
    )
    return Account(actuals, {"T-1": _after(actuals)}, _estimates(), (_proposal(),))


def _after(actuals: Actuals) -> AfterCalculation:
    quoted = Quoted("2026-0012-R1", money(22000.0), money(18000.0), {}, "PK")
    rows = (
        ElementRow("labour.laminating", "Labour, Laminating", money(2100.0), money(2000.0),
                   money(2340.0), False),
        ElementRow("tooling", "Tooling", None, money(800.0), money(800.0), True),
    )  # fmt: skip
    causes = tuple(line for line in actuals.lines if line.scope.job == "T-1")
    causes = tuple(sorted(causes, key=lambda line: -abs(line.amount.value)))
    return AfterCalculation(
        actuals.jobs["T-1"],
        quoted,
        money(22000.0),
        money(2800.0),
        money(3140.0),
        money(4000.0),
        money(3660.0),
        rows,
        causes,
        ("Tooling is taken at standard.",),
    )


def _estimates() -> Estimates:
    samples = tuple(
        Sample(
            job,
            date(2026, month, 10),
            actual,
            0.2,
            3.0,
            float(number),
            {},
            (Place(HOURS, 40 + number), Place(HOURS, 41 + number)),
            outlier,
        )
        for number, (job, month, actual, outlier) in enumerate(
            (
                ("T-1", 8, 0.24, ""),
                ("T-2", 9, 0.23, ""),
                ("T-3", 10, 0.52, "more than three spreads above the others"),
            ),
            1,
        )
    )
    foam = Estimate(
        f"{BLOCK}.operation1",
        BLOCK,
        1,
        "laminating",
        "Foam",
        samples,
        hours(0.2),
        Interval(1.18, 1.10, 1.25, 0.9),
        0.05,
        Interval(0.02, -0.10, 0.14, 0.9),
        Interval(0.88, 0.82, 0.95, 0.9),
        (1, 3),
    )
    few = Estimate("station.assembly", "", 0, "assembly", "Assembly", samples[:1], None,
                   None, None, None, None, None, "One sample says little.")  # fmt: skip
    return Estimates((foam,), (few,), ())


def _proposal() -> Proposal:
    return Proposal(
        f"{BLOCK}.operation1.fixed",
        Place("parts.yaml", 63, 7),
        "fixed time of Foam",
        "12 min",
        "14 min",
        14.0,
        "min",
        Interval(14.2, 13.2, 15.0, 0.9),
        3,
        0.8,
        "The median of 3 jobs is 18 % over standard.",
        (),
    )
