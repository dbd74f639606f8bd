"""Rules of the table of jobs: a boat has what its model can have, and was built in some days."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from quoter.catalogue.booked import Booked, JobRow
from quoter.catalogue.booked_names import PartNames
from quoter.catalogue.booked_words import options_in
from quoter.catalogue.checks_ids import unknown
from quoter.catalogue.checks_options import conflicting, crowding, offered
from quoter.catalogue.options import Model, Option
from quoter.catalogue.records import Records, Unread
from quoter.catalogue.source import Text
from quoter.problems import Problem, nearest, quoted

CHOSEN = ("option", "package")
LOOK = "look whether it was built so: the list of its options may be wrong"


@dataclass(frozen=True)
class Tables:
    """What was booked, beside the records that it names.

    `unread` holds the rows that could not be read, which is told elsewhere: what refers to them is
    not to be blamed.
    """

    records: Records
    booked: Booked
    unread: Unread

    _told: dict[tuple[str, ...], Problem] = field(default_factory=dict, repr=False)

    def unknown(self, kinds: tuple[str, ...], word: Text, called: str) -> Iterator[Problem]:
        """That an id names no record of these kinds; what is near is looked up once for a word."""
        if self.records.lacks(kinds, word):
            yield self.once(word, called, lambda: unknown(self.records, kinds, word, called).hint)

    def once(self, word: Text, called: str, hint: Callable[[], str]) -> Problem:
        """That a word is unknown; thousands of rows may hold the same one, and one hint does."""
        known = self._told.get((called, str(word)))
        if known is None:
            what = f"unknown {called} {quoted(word)}"
            known = Problem(word.place, "unknown-id", what, hint())
            self._told[called, str(word)] = known
        return replace(known, place=word.place)

    @cached_property
    def names(self) -> PartNames:
        """What parts and operations are called."""
        return PartNames(self.records)

    @cached_property
    def jobs(self) -> dict[str, JobRow]:
        """The jobs by number; of one that stands twice, the first."""
        found: dict[str, JobRow] = {}
        for row in self.booked.jobs:
            found.setdefault(str(row.job), row)
        return found


def check_jobs(tables: Tables) -> Iterator[Problem]:
    """A job is one boat, or several alike, and is done once, after it was begun."""
    for row in tables.booked.jobs:
        first = tables.jobs[str(row.job)]
        if row is not first:
            what = f"job {quoted(row.job)} stands here twice"
            if row.finished is not None and first.finished is not None:
                what = f"job {quoted(row.job)} is finished twice"
            hint = f"line {first.place.line} has it already: keep the one that is right"
            yield Problem(row.job.place, "booked-twice", what, hint)
        if row.finished is not None and row.finished < row.started:
            what = f"job {quoted(row.job)} is finished on {row.finished}, before it was started "
            hint = "correct one of the days"
            yield Problem(row.job.place, "date-order", f"{what}on {row.started}", hint)


def check_quotes_of_jobs(tables: Tables) -> Iterator[Problem]:
    """A quote is of one order: two jobs that name it are one job, or one of them has a slip."""
    first: dict[str, JobRow] = {}
    for row in tables.booked.jobs:
        if row.quote is None:
            continue
        before = first.setdefault(str(row.quote), row)
        if before.job != row.job:
            what = f"quote {quoted(row.quote)} is that of job {quoted(before.job)}, too"
            hint = f"line {before.place.line} names it: each job is held against its whole price"
            yield Problem(row.quote.place, "quote-twice", what, hint, warning=True)


def check_boats(tables: Tables) -> Iterator[Problem]:
    """What a boat has must be what its model can have, or nothing says what it should have cost."""
    records = tables.records
    for row in tables.booked.jobs:
        yield from tables.unknown(("model",), row.model, "model")
        if row.options is None:
            continue
        chosen, faults = options_in(row.options)
        yield from faults
        model = records.models.get(row.model)
        sound = not faults
        for id in chosen:
            found = list(_option_faults(records, id, model))
            yield from found
            sound &= not found
        if sound and model is not None:
            yield from _broken_rules(records, row, chosen, model)


def _option_faults(records: Records, id: Text, model: Model | None) -> Iterator[Problem]:
    if records.lacks(CHOSEN, id):
        yield unknown(records, CHOSEN, id, "option")
        return
    package = records.packages.get(id)
    held = [str(one) for one in package.options] if package is not None else [str(id)]
    options = [records.options[one] for one in held if one in records.options]
    if model is not None and not all(offered(option, model) for option in options):
        what = f"'{model.id}' can't be had with {quoted(id)}"
        can = [one for one, option in records.options.items() if offered(option, model)]
        yield Problem(id.place, "not-offered", what, nearest(id, can))


def _broken_rules(
    records: Records, row: JobRow, chosen: Mapping[Text, int], model: Model
) -> Iterator[Problem]:
    """The rules that requests keep, on a boat that stands already: so none of them is an error.

    Rules have no dates, and may have been others when it was sold.
    """
    aboard = _aboard(records, chosen, model)
    places = {str(id): id.place for id in chosen}
    there = [records.options[id] for id in records.options if aboard.get(id)]
    for option, words in _rules_broken(there, aboard):
        place = places.get(str(option.id), row.options.place if row.options else row.place)
        yield Problem(place, "broken-rule", words, LOOK, warning=True)


def _aboard(records: Records, chosen: Mapping[Text, int], model: Model) -> dict[str, int]:
    """How many of each option are on a boat; what a chosen one credits is not there."""
    found: dict[str, int] = {}
    for id, count in chosen.items():
        package = records.packages.get(id)
        for one in package.options if package is not None else (id,):
            found[str(one)] = found.get(str(one), 0) + count
    credited = {
        str(credit.option)
        for id in found
        if id in records.options
        for credit in records.options[id].credits
    }
    for name in model.standard:
        if name not in credited:
            found.setdefault(str(name), 1)
    return found


def _rules_broken(there: list[Option], aboard: Mapping[str, int]) -> Iterator[tuple[Option, str]]:
    for option in there:
        for other in option.requires:
            if not aboard.get(str(other)):
                yield option, f"'{option.id}' needs '{other}', which the boat does not have"
        most = 1 if option.most is None else int(option.most.value)
        if aboard[str(option.id)] > most:
            count = aboard[str(option.id)]
            yield option, f"{count} of '{option.id}', of which a boat can have {most}"
    by_id = {str(option.id): option for option in there}
    for one, barred in conflicting(there):
        yield by_id[one], f"'{one}' can't be had with '{barred}', which the boat has"
    for one, second, group in crowding(there):
        yield by_id[second], f"'{one}' and '{second}' are both there, and a boat has one {group}"
