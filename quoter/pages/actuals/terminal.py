"""What it really took, in a terminal: what matters first, then where it is from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.actuals.compared import KINDS, Kind
from quoter.actuals.estimates import Interval
from quoter.figures import Figure
from quoter.figures.readers import Reader
from quoter.pages.actuals.doubts import Doubts, rows_words
from quoter.pages.actuals.groups import Cause, Told
from quoter.pages.actuals.jobs import JobView
from quoter.pages.actuals.months import Month
from quoter.pages.actuals.operations import OperationView
from quoter.pages.figured import unit_words
from quoter.units import NONE

LARGEST = 8  # causes
SPANS = 3  # of rows of a cause
OF_EACH = 3  # of a dimension
WIDEST = 44  # what a name may take
HALF = 0.5  # of the currency; less is written as 0


class Lines:
    """Lines of a terminal, in the units of the yard and its currency."""

    def __init__(self, currency: str, reader: Reader) -> None:
        """For one yard."""
        self._currency, self._reader = currency, reader

    def month(self, month: Month) -> Iterator[str]:
        """A month: its sum, what to know before, the largest, by kind and by each dimension."""
        told = month.told
        yield f"{month.name}: {self._sum(month)}"
        yield from self._before(month.doubts)
        if not told.compared:
            yield from self._notes(month.doubts.notes)
            return
        yield from self._causes(told.causes(), "Largest variances")
        yield from self._kinds(told)
        for table in told.tables():
            yield from ("", f"{table.title}, {self._currency}")
            for group in [group for group in table.groups if group.id][:OF_EACH]:
                split = sorted(group.kinds.items(), key=lambda each: -abs(each[1].value))
                kinds = ", ".join(f"{KINDS[k]} {against(v)}" for k, v in split[:2] if v.value)
                yield f"  {cut(group.name)}  {against(group.amount):>14}  {kinds}".rstrip()
        yield from self._notes(month.doubts.notes)

    def job(self, view: JobView) -> Iterator[str]:
        """A job: what it left, its cost by element, and what made the difference."""
        job, after = view.job, view.after
        until = "at work still" if job.open else f"finished {job.row.finished}"
        yield f"Job {job.number}: {job.built.priced.model.name}, started {job.row.started}, {until}"
        if after is not None:
            sold = f"by quote {after.quoted.name}" if after.quoted else "at the price list"
            planned, left = after.planned_fraction.value, after.left_fraction.value
            yield f"sold {sold} for {self._money(after.price)} without tax"
            yield f"margin planned  {self._money(after.planned):>14}  {planned:.1%} of the price"
            if not job.open:
                yield f"margin left     {self._money(after.left):>14}  {left:.1%} of the price"
        yield from self._before(view.doubts)
        if after is not None:
            yield from ("", f"By cost element, {self._currency}")
            yield f"  {cut('')}  {'standard':>10}  {'actual':>10}"
            for row in after.rows:
                moved = against(row.actual - row.standard)
                told = "at standard, none booked" if row.at_standard else moved
                both = f"{whole(row.standard):>10}  {whole(row.actual):>10}"
                yield f"  {cut(row.name)}  {both}  {told}"
            moved = against(after.cost - after.standard)
            both = f"{whole(after.standard):>10}  {whole(after.cost):>10}"
            yield f"  {cut('together')}  {both}  {moved}"
        yield from self._causes(view.told.causes(), "What made the difference", jobs=False)
        doubts = () if after is None else after.doubts
        yield from self._notes([*doubts, *view.notes])

    def operation(self, view: OperationView) -> Iterator[str]:
        """An operation: what its samples say, and each of them."""
        one = view.estimate
        yield f"{view.name}{f', {view.part}' if view.part else ''}  [{one.key}]"
        if one.ratio is None:
            yield "Too few data to say how good this standard is."
        else:
            yield f"actual to standard: {interval(one.ratio)}"
        if one.spread is not None:
            yield f"spread of the ratio: {one.spread:.2f}, one standard deviation"
        if one.trend is not None:
            yield f"trend of the ratio, a year: {interval(one.trend)}"
        if one.learning is not None:
            yield f"time at each doubling of pieces: {interval(one.learning)}"
        if one.held is not None:
            yield f"the P80 held {one.held[0]} times of {one.held[1]}; four in five are expected"
        if one.doubt:
            yield str(one.doubt)
        yield from (
            "",
            f"  {'job':<14}  {'day':<10}  {'actual':>9}  {'standard':>9}  hours a piece",
        )
        for sample in one.samples:
            far = f"  far from the others: {sample.outlier}" if sample.outlier else ""
            took = f"{sample.actual:>9.2f}  {sample.standard:>9.2f}"
            yield f"  {sample.job:<14}  {sample.day}  {took}  [{rows_words(sample.rows)}]{far}"
        for each in view.proposals:
            yield from ("", f"proposed: {each.name}, {each.was} -> {each.text}: {each.reason}")

    def _sum(self, month: Month) -> str:
        told = month.told
        if not told.compared:
            return "nothing that was booked in it can be held against a standard"
        much, moved = f"{self._money(told.actual)} booked", against(told.variance)
        if moved == "0":
            return f"{much}, as by standard"
        if month.fraction is None:
            return f"{much}, for which there is no standard"
        return f"{much}, {moved} standard ({abs(month.fraction):.1%})"

    def _before(self, doubts: Doubts) -> Iterator[str]:
        if not doubts.open and not doubts.missing:
            return
        yield from ("", "Before the numbers")
        if doubts.open:
            numbers = ", ".join(number for number, _ in doubts.open)
            yield f"  at work still, time and material counted at standard: {numbers}"
        if doubts.missing:
            much = self._money(doubts.left_out)
            yield f"  not booked, left out on both sides: {much} by standard"
        for one in doubts.missing[:LARGEST]:
            jobs = ", ".join(number for number, _ in one.jobs) or "-"
            much = "" if one.quantity is None else self._quantity(one.quantity)
            yield f"    {cut(one.name)}  {much:>10}  {whole(one.standard):>10}  {jobs}"
        if len(doubts.missing) > LARGEST:
            yield f"    and {len(doubts.missing) - LARGEST} more; --json has all"

    def _causes(self, causes: Sequence[Cause], title: str, *, jobs: bool = True) -> Iterator[str]:
        if not causes:
            return
        yield from ("", f"{title}, {self._currency}")
        for cause in causes[:LARGEST]:
            rows = rows_words(cause.rows, SPANS)
            job = f"  {cause.job or '-':<14}" if jobs else ""
            words = f"{KINDS[cause.kind]:<28}"
            yield (f"  {cut(cause.name)}  {words}{job}  {against(cause.amount):>14}  [{rows}]")
        if len(causes) > LARGEST:
            yield f"  and {len(causes) - LARGEST} more; --json has all"

    def _kinds(self, told: Told) -> Iterator[str]:
        yield from ("", f"By kind, {self._currency}")
        kinds: dict[Kind, Figure] = told.kinds()
        for kind, amount in kinds.items():
            yield f"  {KINDS[kind]:<28}  {against(amount):>14}  {verdict(amount)}".rstrip()
        both = f"standard {whole(told.standard)}, actual {whole(told.actual)}"
        yield f"  {'together':<28}  {against(told.variance):>14}  {both}"

    def _notes(self, notes: Sequence[str]) -> Iterator[str]:
        if notes:
            yield from ("", "How it was compared")
        for note in notes:
            yield f"  {note}"

    def _money(self, amount: Figure) -> str:
        return f"{whole(amount)} {self._currency}"

    def _quantity(self, figure: Figure) -> str:
        shown = self._reader.shown(figure)
        pieces = figure.unit == NONE and shown.value == round(shown.value)
        return f"{shown.value:,.{0 if pieces else 1}f} {unit_words(shown)}"


def whole(amount: Figure) -> str:
    """An amount in whole units of its currency."""
    return f"{amount.value:,.0f}" if abs(amount.value) >= HALF else "0"


def against(amount: Figure) -> str:
    """A variance in words: over standard or under it."""
    told = f"{abs(amount.value):,.0f}"
    return "0" if told == "0" else f"{told} {'over' if amount.value > 0 else 'under'}"


def verdict(amount: Figure) -> str:
    """What the trade calls it."""
    if against(amount) == "0":
        return ""
    return "unfavourable" if amount.value > 0 else "favourable"


def interval(one: Interval) -> str:
    """An estimate with where it lies."""
    where = f"with {one.level:.0%} confidence between {one.low:.2f} and {one.high:.2f}"
    return f"{one.likely:.2f}; {where}"


def cut(name: str) -> str:
    """A name as wide as its column; a longer one ends in dots."""
    told = str(name)
    short = told if len(told) <= WIDEST else f"{told[: WIDEST - 1]}…"
    return f"{short:<{WIDEST}}"
