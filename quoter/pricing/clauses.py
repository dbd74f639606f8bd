"""Surcharge clauses applied: the steps from an index to a price, and the clause in plain words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from babel.numbers import get_currency_precision

from quoter.catalogue.indices import index_on, index_series, no_value
from quoter.catalogue.markets import Surcharge
from quoter.catalogue.records import Records
from quoter.catalogue.tables import IndexRow
from quoter.figures import Figure, constant, plain_number
from quoter.pricing.surcharge import (
    capped_fraction,
    charged_fraction,
    excess_move,
    index_ratio,
    may_leave,
    only_rises,
    surcharge_amount,
    whole_move,
)
from quoter.problems import CatalogueError

DRAFT = "A draft wording, made from the yard's own settings: a lawyer should look at it before use."


@dataclass(frozen=True, slots=True)
class ClauseSteps:
    """From two index values to a price: every step a figure, in the order it is taken."""

    price: Figure
    base: Figure
    now: Figure
    ratio: Figure
    counted: Figure
    fraction: Figure
    surcharge: Figure
    adjusted: Figure
    leave: Figure

    @property
    def taken(self) -> tuple[Figure, ...]:
        """The calculated steps; the three before them are given."""
        return (self.ratio, self.counted, self.fraction, self.surcharge, self.adjusted)


@dataclass(frozen=True, slots=True)
class Applied:
    """A clause applied to a quote: the rows of the index it rests on, and the steps.

    While the quote is `open`, its price stands whatever the steps say.
    """

    clause: Surcharge
    quoted: date
    on: date
    base: IndexRow
    now: IndexRow
    steps: ClauseSteps

    @property
    def days(self) -> int:
        """How old the quote is."""
        return (self.on - self.quoted).days

    @property
    def open(self) -> bool:
        """Whether the quote is within the days that its price stands without a surcharge."""
        return self.days <= self.clause.open_for.value

    @property
    def due(self) -> Figure:
        """The surcharge that is to be paid: none while the quote is open."""
        return self.steps.surcharge * 0.0 if self.open else self.steps.surcharge

    @property
    def adjusted(self) -> Figure:
        """What is to be paid."""
        return self.steps.price if self.open else self.steps.adjusted

    @property
    def may_leave(self) -> bool:
        """Whether the customer may leave the contract."""
        return not self.open and bool(self.steps.leave.value)


def steps_of(
    clause: Surcharge, price: Figure, base: Figure, now: Figure, currency: str
) -> ClauseSteps:
    """The steps for a price in some currency [money] and two values of the clause's index [1]."""
    ratio = index_ratio(now, base).named("surcharge.ratio", "index now to index then")
    counted = (excess_move if clause.only_excess else whole_move)(ratio, clause.threshold)
    if not clause.downward:
        counted = only_rises(counted)
    counted = counted.named("surcharge.counted", "move that counts", "percent")
    fraction = charged_fraction(counted, clause.share)
    if clause.cap is not None:
        fraction = capped_fraction(fraction, clause.cap)
    fraction = fraction.named("surcharge.fraction", "surcharge as part of the price", "percent")
    smallest = constant(10.0 ** -get_currency_precision(currency), currency)
    amount = surcharge_amount(price, fraction, smallest).named("surcharge.amount", "surcharge")
    leave = constant(0.0)
    if clause.leave_above is not None:
        leave = may_leave(fraction, clause.leave_above)
    return ClauseSteps(
        price=price,
        base=base,
        now=now,
        ratio=ratio,
        counted=counted,
        fraction=fraction,
        surcharge=amount,
        adjusted=(price + amount).named("surcharge.adjusted", "price with surcharge"),
        leave=leave.named("surcharge.leave", "customer may leave"),
    )


def apply_clause(
    records: Records, clause: Surcharge, price: Figure, quoted: date, on: date
) -> Applied:
    """A clause applied to a price quoted on one day and asked about on another.

    Args:
        records: of the catalogue whose index series it follows
        clause: one of its clauses
        price: price without tax [one currency]
        quoted: day of the quote
        on: a day not before it
    Raises:
        CatalogueError: the index has no value in force on one of the days.
    """
    base = _value_on(records, clause, quoted)
    now = _value_on(records, clause, on)
    steps = steps_of(clause, price, base.value, now.value, str(price.unit))
    return Applied(clause, quoted, on, base, now, steps)


def _value_on(records: Records, clause: Surcharge, day: date) -> IndexRow:
    index = str(clause.index)
    row = index_on(records, index, day)
    if row is None:
        first = index_series(records, index)[0]
        raise CatalogueError([no_value(first.place, first, day)])
    return row


def clause_text(
    clause: Surcharge,
    _: Callable[[str], str] = str,
    written: Callable[[Decimal], str] = lambda fraction: f"{float(fraction) * 100:.10g} %",
    index: str = "",
) -> tuple[str, ...]:
    """The clause in plain words, a sentence or two each; all of it may go to a customer.

    Args:
        clause: what it says
        _: the program's phrases in the language it is written in
        written: a fraction as people of that language write a percentage
        index: what the index is called in that language, if not as in the catalogue
    """

    def percent(fraction: Figure) -> str:
        return written(plain_number(fraction))

    return (
        _(
            "This price follows the index '{index}'. Its base is the value in force on the day of "
            "the quote; it is compared with the value in force on the day of delivery, unless the "
            "quote names another day. A value is in force from its date until the next one's."
        ).format(index=index or clause.index_name or clause.index),
        _("What counts is the later value divided by the base, not the difference in points."),
        _open_words(int(clause.open_for.value), _),
        _threshold_words(clause, _, percent),
        _(
            "{share} of the price without tax follows the index; the rest stands. The surcharge is "
            "rounded to the smallest unit of the currency."
        ).format(share=percent(clause.share)),
        _limit_words(clause, _, percent),
        _leave_words(clause, _, percent),
        _(
            "If a value is revised after the quote, the one first published counts. If the series "
            "ends, or is no longer made in the same way, the yard and the customer agree on a "
            "successor; until then the last value made in the old way counts."
        ),
    )


def applied_data(applied: Applied) -> dict[str, Any]:
    """A clause applied, as plain data: each step, and the clause in words."""
    steps = applied.steps
    return {
        "clause": str(applied.clause.id),
        "index": str(applied.clause.index),
        "quoted": str(applied.quoted),
        "on": str(applied.on),
        "days": applied.days,
        "base": _row_data(applied.base),
        "now": _row_data(applied.now),
        "price": steps.price.value,
        "currency": str(steps.price.unit),
        "ratio": steps.ratio.value,
        "counted": steps.counted.value,
        "fraction": steps.fraction.value,
        "surcharge": applied.due.value,
        "adjusted": applied.adjusted.value,
        "open": applied.open,
        "may_leave": applied.may_leave,
        "text": (*clause_text(applied.clause), DRAFT),
    }


def _row_data(row: IndexRow) -> dict[str, Any]:
    place = row.place
    return {"value": row.value.value, "date": str(row.date), "file": place.file, "line": place.line}


def percent(fraction: Figure) -> str:
    """A fraction as people write it.

    >>> percent(constant(0.075))
    '7.5 %'
    """
    return f"{fraction.value * 100:.10g} %"


def _open_words(days: int, _: Callable[[str], str]) -> str:
    if not days:
        return _("The clause holds from the day after the quote.")
    if days == 1:
        return _("For the first day after the quote the price stands without a surcharge.")
    return _(
        "For the first {days} days after the quote the price stands without a surcharge."
    ).format(days=days)


def _threshold_words(
    clause: Surcharge, _: Callable[[str], str], percent: Callable[[Figure], str]
) -> str:
    if not clause.threshold.value:
        return _("Every move of the index counts, however small.")
    if clause.only_excess:
        counts = _("Then only what lies beyond these {threshold} counts.")
    else:
        counts = _("Then the whole move counts.")
    nothing = _("Nothing changes unless the index has moved by more than {threshold} of its base.")
    return f"{nothing} {counts}".format(threshold=percent(clause.threshold))


def _limit_words(
    clause: Surcharge, _: Callable[[str], str], percent: Callable[[Figure], str]
) -> str:
    cap = _("There is no limit to a rise.")
    if clause.cap is not None:
        cap = _("The surcharge is at most {cap} of the price.").format(cap=percent(clause.cap))
    fall = _("A fall in the index does not lower the price.")
    if clause.downward:
        fall = _("A fall in the index lowers the price in the same way, without a limit.")
    return f"{cap} {fall}"


def _leave_words(
    clause: Surcharge, _: Callable[[str], str], percent: Callable[[Figure], str]
) -> str:
    if clause.leave_above is None:
        return _("The surcharge gives no right to leave the contract beyond what the law gives.")
    return _(
        "If the surcharge is more than {above} of the price, the customer may withdraw from the "
        "contract."
    ).format(above=percent(clause.leave_above))
