"""Index series of the yard's own and the surcharge clauses that follow them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.day import catalogue_day
from quoter.catalogue.markets import Surcharge
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.catalogue.tables import IndexRow
from quoter.figures.graph import input_behind
from quoter.problems import Place, Problem, Problems, nearest, quoted


def index_series(records: Records, index: str) -> list[IndexRow]:
    """The values of an index, oldest first."""
    rows = (row for row in records.indices if row.index == index)
    return sorted(rows, key=lambda row: row.date)


def index_on(records: Records, index: str, day: date) -> IndexRow | None:
    """The newest value of an index on or before a day."""
    begun = [row for row in index_series(records, index) if row.date <= day]
    return begun[-1] if begun else None


def check_surcharges(records: Records) -> Iterator[Problem]:
    """A clause follows an index that exists, its cap leaves it room and its exit can be reached.

    The index is of plain numbers.
    """
    yield from _value_faults(records)
    clauses = records.yard.surcharges if records.yard is not None else ()
    first: dict[str, Surcharge] = {}
    for clause in clauses:
        if clause.id in first:
            hint = f"the first is at {first[clause.id].id.place.clickable}; every id must differ"
            yield Problem(
                clause.id.place, "id-twice", f"id {quoted(clause.id)} is used twice", hint
            )
        first.setdefault(str(clause.id), clause)
        yield from _unknown_index(records, clause.index)
        yield from _limit_faults(clause)
    followed = {str(clause.index) for clause in clauses}
    for row in records.indices if clauses else ():
        if row.index not in followed:
            what = f"no surcharge follows the index {quoted(row.index)}"
            yield Problem(
                row.index.place, "no-effect", what, nearest(row.index, followed), warning=True
            )


def _value_faults(records: Records) -> Iterator[Problem]:
    """A value is what was published: no part of something else, and no guess."""
    for row in records.indices:
        place, origin = figure_place(row.value), input_behind(row.value).origin
        if row.value.form == "percent":
            what = "an index value as a percentage"
            yield Problem(
                place, "plain-number", what, "write the number that was published, such as '104.2'"
            )
        if origin is not None and origin.low is not None:
            what = "an index value with a range"
            yield Problem(place, "plain-number", what, "write the one number that was published")


def _unknown_index(records: Records, index: Text) -> Iterator[Problem]:
    known = {str(row.index) for row in records.indices}
    if index in known or records.unread.may_hold(IndexRow.__name__, str(index)):
        return
    hint = nearest(index, known)
    if not known:
        hint = "write its values into indices.csv, with date,index,value,note"
    yield Problem(index.place, "unknown-id", f"unknown index {quoted(index)}", hint)


def _limit_faults(clause: Surcharge) -> Iterator[Problem]:
    cap = clause.cap
    if cap is None:
        return
    least = 0.0 if clause.only_excess else clause.threshold.value * clause.share.value
    if cap.value <= least:
        what = f"the least surcharge of '{clause.id}' reaches its cap of {cap.value * 100:g} %"
        hint = f"expected more than {least * 100:g} %, the threshold times the share"
        yield Problem(figure_place(cap), "values-disagree", what, hint)
    leave = clause.leave_above
    if leave is not None and leave.value >= cap.value:
        what = f"nobody can leave '{clause.id}': its cap comes before {leave.value * 100:g} %"
        hint = f"expected less than the cap of {cap.value * 100:g} %"
        yield Problem(figure_place(leave), "values-disagree", what, hint)


def look_up_indices(records: Records, day: date, problems: Problems) -> None:
    """Record the clauses whose index has no value on a day, and the values that are old by then.

    Before the day that commands price on it is a warning: costs of a month can be rebuilt although
    a clause came later.
    """
    if records.yard is None:
        return
    days = int(records.yard.policy.prices_stale_after_days.value)
    for clause in records.yard.surcharges:
        index = str(clause.index)
        series, row = index_series(records, index), index_on(records, index, day)
        if row is not None and (day - row.date).days > days:
            what = f"the index '{index}' is of {row.date}, older than {days} days on {day}"
            problems.warn(
                row.place, "stale", what, "look it up again, and add a line to indices.csv"
            )
        elif row is None and series and not records.unread.may_hold(IndexRow.__name__, index):
            past = bool(records.price_lists) and day < catalogue_day(records).prices
            missing = no_value(clause.index.place, series[0], day)
            problems.extend([replace(missing, warning=past)])


def no_value(place: Place, first: IndexRow, day: date) -> Problem:
    """That an index, whose first row it is, has no value yet on a day."""
    what = f"the index '{first.index}' has no value in force on {day}"
    return Problem(
        place, "not-in-force", what, f"its first is of {first.date}; add a line to indices.csv"
    )
