"""What the keys mean that programs read of what it really took."""

from __future__ import annotations

from quoter.formats import ACTUALS
from quoter.pages.public.data_schema import DIALECT, Schema, object_of, text_of


def actuals_schema() -> Schema:
    """What the keys mean that ``quoter actuals --json`` prints, as a JSON Schema."""
    whole = object_of(
        "What it really took: the month, the job or the operation asked about. Money is in home "
        "currency without tax; a variance is positive where it is over standard, unfavourable.",
        {
            "format": {"const": ACTUALS.newest, "description": "Format of the answer."},
            "currency": text_of("The home currency, by its three letters."),
            "as_of": text_of("The day up to which rows count."),
            "months": _list("Every month with rows, the oldest first.", text_of("")),
            "month": _month_schema(),
            "job": _job_schema(),
            "operation": _operation_schema(),
        },
        ("month", "job", "operation"),
    )
    return {"$schema": DIALECT, "title": "actuals.json"} | whole


def _compared_schema() -> dict[str, Schema]:
    cause = object_of(
        "One kind of variance of one thing.",
        {
            "kind": text_of("The kind."),
            "name": text_of("What it is of, in words."),
            "jobs": _list("The jobs it is of; none where it is of no one job.", text_of("")),
            "amount": _number("The variance."),
            "actual": _quantity_schema("The actual quantity."),
            "standard": _quantity_schema("The standard quantity."),
            "rows": _list("The rows it rests on, as file:line.", text_of("")),
        },
        ("actual", "standard"),
    )
    return {
        "standard": _number("What the compared should have cost."),
        "actual": _number("What it cost."),
        "variance": _number("Actual less standard."),
        "kinds": _by("The variance by kind.", _number("")),
        "causes": _list("Alike variances as one, the largest first.", cause),
    }


def _month_schema() -> Schema:
    group = object_of(
        "What belongs to one thing; its id is empty where it belongs to none.",
        {
            "id": text_of("Its id."),
            "name": text_of("Its name."),
            "variance": _number("Its variance."),
            "standard": _number("Its cost by standard, where it was compared by it."),
            "actual": _number("Its actual cost, where it was compared by it."),
            "kinds": _by("Its variance by kind.", _number("")),
        },
        ("standard", "actual"),
    )
    return object_of(
        "A month.",
        {
            "month": text_of("The month, as 2026-08."),
            **_compared_schema(),
            "by": _by("By station, material, option, part and job.", _list("", group)),
            "open": _list("Jobs at work still, compared at standard.", text_of("")),
            "unbooked": _list("What was needed and not booked.", _missing_schema()),
            "notes": _list("How it was compared.", text_of("")),
        },
    )


def _missing_schema() -> Schema:
    return object_of(
        "Something that was needed and not booked; it is left out on both sides.",
        {
            "name": text_of("What, in words."),
            "jobs": _list("Of which jobs.", text_of("")),
            "quantity": _quantity_schema("How much by standard, unless it is stated in money."),
            "standard": _number("What it costs by standard."),
        },
        ("quantity",),
    )


def _job_schema() -> Schema:
    element = object_of(
        "A cost element.",
        {
            "element": text_of("Its id, such as labour.gelcoat."),
            "name": text_of("Its name."),
            "quoted": _number("As quoted, where the quote keeps it."),
            "standard": _number("By standard."),
            "actual": _number("Actual."),
            "at_standard": {
                "type": "boolean",
                "description": "Whether nothing is booked for it, so that the standard stands.",
            },
        },
        ("quoted",),
    )
    account = object_of(
        "The after-calculation.",
        {
            "quote": text_of("The quote it was sold by."),
            "price": _number("The price without tax."),
            "planned": _number("The margin planned."),
            "left": _number("The margin left."),
            "planned_fraction": _number("The margin planned, as a fraction of the price."),
            "left_fraction": _number("The margin left, as a fraction of the price."),
            "standard": _number("Cost by standard."),
            "actual": _number("Actual cost."),
            "elements": _list("By cost element.", element),
            "doubts": _list("What to know before.", text_of("")),
        },
        ("quote",),
    )
    return object_of(
        "A job.",
        {
            "job": text_of("Its number."),
            "model": text_of("The model."),
            "boats": _number("How many boats."),
            "started": text_of("The first day of work."),
            "finished": text_of("The day it was done, if it is."),
            **_compared_schema(),
            "account": account,
            "unbooked": _list("What was needed and not booked.", _missing_schema()),
            "notes": _list("How it was compared.", text_of("")),
        },
        ("finished", "account"),
    )


def _operation_schema() -> Schema:
    sample = object_of(
        "What a job took, in hours a piece.",
        {
            "job": text_of("The job."),
            "day": text_of("The day."),
            "pieces": _number("How many pieces."),
            "actual": _number("Hours a piece."),
            "standard": _number("Hours a piece by standard."),
            "rows": _list("The rows it rests on, as file:line.", text_of("")),
            "outlier": text_of("Why it is far from the others, if it is."),
        },
        ("outlier",),
    )
    proposed = object_of(
        "A better standard.",
        {
            "key": text_of("The value's key."),
            "was": text_of("What stands there."),
            "text": text_of("What would be written."),
            "reason": text_of("Why."),
        },
    )
    return object_of(
        "An operation, or a station where operations are not booked.",
        {
            "key": text_of("Its key."),
            "name": text_of("Its name."),
            "station": text_of("The station."),
            "samples": _list("Job by job.", sample),
            "ratio": _interval_schema("Actual to standard."),
            "spread": _number("Robust standard deviation of the ratio."),
            "trend": _interval_schema("How the ratio moves a year."),
            "learning": _interval_schema("Time at each doubling of pieces, as a fraction."),
            "held": _list("How often the P80 held, and of how many.", {"type": "integer"}),
            "doubt": text_of("What can't be said, and why."),
            "proposed": _list("Better standards that the data support.", proposed),
        },
        ("ratio", "spread", "trend", "learning", "held", "doubt"),
    )


def _interval_schema(words: str) -> Schema:
    return object_of(
        words,
        {
            "likely": _number("The estimate."),
            "low": _number("The low end of its interval."),
            "high": _number("The high end."),
            "level": _number("The confidence that it lies within."),
        },
    )


def _quantity_schema(words: str) -> Schema:
    return object_of(words, {"number": _number("The number."), "unit": text_of("Its unit.")})


def _list(words: str, each: Schema) -> Schema:
    return {"type": "array", "items": each, "description": words}


def _by(words: str, each: Schema) -> Schema:
    return {"type": "object", "description": words, "additionalProperties": each}


def _number(words: str) -> Schema:
    return {"type": "number", "description": words}
