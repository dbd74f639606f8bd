"""The catalogue's day: which day commands price on, since no clock is read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from quoter.catalogue.records import Records
from quoter.problems import Place, Problem

FARTHEST = 366  # days at once that dated rows go on; beyond, a slip in the year is likelier


@dataclass(frozen=True, slots=True)
class CatalogueDay:
    """Where a catalogue stands in time.

    `prices` is the day that commands price on unless they are told another; `today` how far the
    catalogue has come, which is the same day where it is `stated`. The price lists that are
    `ahead` come into force later, the first of them first.
    """

    prices: date
    today: date
    stated: bool
    ahead: tuple[date, ...]


def catalogue_day(records: Records) -> CatalogueDay:
    """Where a catalogue that has a price list stands in time; this is the one rule for it.

    Its day is `today:` of yard.yaml where that is stated, and commands price on it. Else it is the
    newest day of what can't lie ahead: exchange rates, index values, letters on rises, and price
    lists but for those that a confirmed rise wrote. Commands then price on the newest list up to
    it. So confirming a rise for a later day moves nothing until `today:` or another row comes to
    that day. The first list always counts, since a rise raises what a list before it has. Wages,
    published prices and editions may be written ahead, and count for nothing; nor does a row more
    than a year after the one before it.

    Raises:
        ValueError: there is no price list.
    """
    lists = sorted(records.price_lists)
    if not lists:
        raise ValueError("a catalogue without a price list has no day")
    stated = _stated(records)
    raised = _raised_alone(records)
    today = stated or _come(records, max(day for day in lists if day not in raised), raised)
    begun = [day for day in lists if day <= today] or lists[:1]
    prices = stated or begun[-1]
    return CatalogueDay(
        prices, today, stated is not None, tuple(day for day in lists if day > prices)
    )


def day_words(records: Records, priced: date, beside: date | None = None) -> str:
    """What every command that prices says first: its day, and which lists are ahead of that.

    Args:
        records: the catalogue's
        priced: the day that is priced on
        beside: the day whose costs it is compared with, if there is one
    """
    ahead = [str(day) for day in catalogue_day(records).ahead if day > priced]
    told = f"Prices of {priced}" + (f" beside those of {beside}" if beside is not None else "")
    if not ahead:
        return told
    if len(ahead) == 1:
        return f"{told}; a list of {ahead[0]} is ahead"
    return f"{told}; lists of {', '.join(ahead[:-1])} and {ahead[-1]} are ahead"


def asked_day(records: Records, as_of: date | None) -> date:
    """The day asked about, by default that of the catalogue; the last there is without a list."""
    if as_of is None and not records.price_lists:
        return date.max
    return as_of or catalogue_day(records).prices


def _stated(records: Records) -> date | None:
    today = records.yard.today if records.yard is not None else None
    return None if today is None else date.fromisoformat(today)


def _raised_alone(records: Records) -> set[date]:
    """The days of lists that hold nothing but prices of rises confirmed for that day.

    One that holds another price, too, was written or taken in by somebody, and is no rise's.
    """
    confirmed = {
        (row.effective, str(row.supplier), str(row.family))
        for row in records.rises
        if row.state == "confirmed"
    }
    if not confirmed:
        return set()
    families = {id: str(each.family) for id, each in records.materials.items()}
    return {
        day
        for day in sorted(records.price_lists)[1:]
        if records.price_lists[day]
        and all(
            (day, str(row.supplier), families.get(str(row.material), "")) in confirmed
            for row in records.price_lists[day]
        )
    }


def _come(records: Records, start: date, raised: set[date]) -> date:
    """How far what can't lie ahead has come from a day, without leaps of more than a year."""
    days = {row.date for rows in (records.exchange, records.indices, records.rises) for row in rows}
    for day in sorted(days | (records.price_lists.keys() - raised)):
        if (day - start).days > FARTHEST:
            break
        start = max(start, day)
    return start


def how_far(records: Records) -> date:
    """What a day that may be a slip is measured from: the catalogue's own, unless that is one."""
    come = _come(records, min(records.price_lists), _raised_alone(records))
    stated = _stated(records)
    return stated if stated is not None and (stated - come).days <= FARTHEST else come


def check_days(records: Records) -> Iterator[Problem]:
    """A price, rate or wage far ahead is in force when nobody looks at it any more.

    A list far ahead may be worse: its day may be the one that all is priced on.
    """
    if not records.price_lists:
        return
    since = how_far(records)
    days = [
        *((row.place, row.date) for row in records.exchange),
        *((row.place, row.date) for row in records.wages),
        *((row.place, row.date) for row in records.book),
        *((row.place, row.date) for row in records.indices),
        *((row.place, row.effective) for row in records.rises),
        *((row.place, row.valid_from) for row in records.editions),
        *((row.place, row.date) for row in records.accepted),
        *((Place(f"prices/{day}.csv"), day) for day in records.price_lists),
    ]
    stated, first = _stated(records), min(records.price_lists)
    if stated is not None and records.yard is not None and records.yard.today is not None:
        place = records.yard.today.place
        days.append((place, stated))
        if stated < first:
            what = f"today, {stated}, is before the first price list"
            hint = f"the first is of {first}: write that day or a later one"
            yield Problem(place, "past-day", what, hint)
    for place, day in days:
        if (day - since).days > FARTHEST:
            yield Problem(place, "far-ahead", far_words(day, since), "check the year", warning=True)


def far_words(day: date, since: date) -> str:
    """How far a day is ahead."""
    return f"{day} is {(day - since).days} days after {since}, how far the catalogue has come"
