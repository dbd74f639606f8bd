"""`quoter accept`: better standards, each written at its value's own place, with what it rests on.

The catalogue is tried out in memory first. Only if it then reads as it did but for the values that
are meant, files are written: those of the values, and `accepted.csv`, which says what each was.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from pathlib import Path

from quoter.catalogue.accepted import ACCEPTED
from quoter.catalogue.adding import bytes_of
from quoter.catalogue.certainty import BASES, TIMED
from quoter.catalogue.day import catalogue_day, day_words
from quoter.catalogue.load import read_records
from quoter.catalogue.records import Records
from quoter.catalogue.rewriting import RewriteError, WrittenFile
from quoter.catalogue.source import Sources
from quoter.catalogue.tables import AcceptedRow
from quoter.figures import money_in
from quoter.importing.days import far_ahead
from quoter.importing.writing import Import, at_options, longer, try_out
from quoter.intake import LONGEST_TEXT
from quoter.pricing.price import BOAT, Priced, Pricing
from quoter.problems import CatalogueError, Place, Problem, Problems, nearest, quoted

ONLY, ON, VALUE = "--only", "--on", "--value"
_OLD_NOTE = re.compile(r"\(([^()]*)\)\s*\Z")
_AMOUNT = re.compile(r"[^\[(]*")
# What an earlier acceptance noted, which the new one takes the place of.
_EVIDENCE = re.compile(r"\d+ samples? to \d{4}-\d\d|median .*|was .*")


@dataclass(frozen=True, slots=True)
class NewStandard:
    """A value that somebody accepts, by its key: its text with unit and range, and its evidence.

    `was` is the text that it was proposed for. `samples` is how many it rests on; `median`, `low`
    and `high` are what they say, with their unit. A `text` that has a note of its own keeps it.
    """

    key: str
    was: str
    text: str
    samples: int
    median: str = ""
    low: str = ""
    high: str = ""


@dataclass(frozen=True, slots=True)
class Written:
    """A value before and after, as it stands in the file, at its place."""

    key: str
    place: Place
    was: str
    becomes: str


@dataclass(frozen=True, slots=True)
class Moved:
    """What new standards do to an option, or to the boat (option ""): costs in home currency, and
    margins at the first class of buyer as fractions of the net price, None without a price."""

    model: str
    option: str
    name: str
    cost: Decimal
    new_cost: Decimal
    margin: float | None
    new_margin: float | None


@dataclass(slots=True)
class Accepting(Import):
    """What accepting would do: as any import, with the values that are written."""

    values: list[Written] = field(default_factory=list)


def accept_standards(
    folder: Path, wanted: Sequence[NewStandard], day: date, note: str = "", by: str = ""
) -> Accepting:
    """What accepting standards from a day on changes: nothing is written here.

    Args:
        folder: the catalogue's
        wanted: the values, each key once
        day: from which they hold
        note: what to note beside the lines of accepted.csv
        by: who accepts, by a role or a number
    Raises:
        CatalogueError: the catalogue has problems, or would have some with the new values.
    """
    records, sources = _read(folder, {})
    says = day_words(records, catalogue_day(records).prices)
    faults = [*_day_faults(records, day), *_key_faults(records, sources, wanted, day)]
    if faults:
        return Accepting(faults=sorted(faults), day=says)
    texts = {one.key: noted(one, str(sources.scalars[one.key]), day) for one in wanted}
    faults = [*_long(sources, texts)]
    if faults:
        return Accepting(faults=faults, day=says)
    files, values, before = _rewritten(sources, texts)
    rows = [_row(one, value, day, note, by) for one, value in zip(wanted, values, strict=True)]
    files[ACCEPTED] = longer(folder, ACCEPTED, AcceptedRow.model_fields, rows)
    _need_the_rest_alike(folder, files, sources, texts)
    try:
        try_out(folder, files, day)
    except CatalogueError as stopped:
        options = {"date": ON}
        told = [*at_options(stopped.problems, ACCEPTED, files[ACCEPTED], options, len(rows))]
        raise (CatalogueError(told) if told else stopped) from stopped
    made = Accepting(files=files, replaced=before, day=says, values=values)
    made.shown = list(_difference(before, files, len(rows)))
    one = len(values) == 1
    made.done = f"{len(values)} {'value' if one else 'values'} written, and noted in "
    made.done += f"{folder / ACCEPTED}"
    return made


def _read(folder: Path, instead: Mapping[str, bytes]) -> tuple[Records, Sources]:
    """The catalogue as it stands or would stand, without regard to a day.

    Raises:
        CatalogueError: it has problems.
    """
    problems = Problems()
    records, sources = read_records(folder, problems, instead=instead)
    problems.gather()
    problems.quote(sources.excerpt)
    problems.stop_if_any()
    return records, sources


def _day_faults(records: Records, day: date) -> Iterator[Problem]:
    """What is closed stays as it is, so nothing is accepted for a day that is past."""
    now = catalogue_day(records).prices
    if day < now:
        what = f"{day} is before {now}, the day that commands price on"
        hint = "what has been priced stays as it is: name that day or a later one"
        yield Problem(Place(ON), "past-day", what, hint)
    for fault in far_ahead(records, day, accepted=False):
        hint = "check the year"
        yield Problem(Place(ON), fault.code, fault.what, hint)


def _key_faults(
    records: Records, sources: Sources, wanted: Sequence[NewStandard], day: date
) -> Iterator[Problem]:
    """Keys that are none, values that are others by now, and days that have a line already."""
    last = {str(row.key): row for row in records.accepted}
    for one in wanted:
        if one.key not in sources.scalars:
            near = nearest(one.key, sources.scalars)
            yield Problem(Place(ONLY), "unknown-key", f"unknown key {quoted(one.key)}", near)
            continue
        text = sources.scalars[one.key]
        if not text.startswith(one.was):
            what = f"{quoted(one.key)} is {quoted(text)} by now, and was proposed for "
            hint = "see with 'quoter propose' what is proposed now"
            yield Problem(text.place, "changed", f"{what}{quoted(one.was)}", hint)
        if one.key in last and last[one.key].date >= day:
            row = last[one.key]
            what = f"{quoted(one.key)} was accepted for {row.date}, at {row.place.clickable}"
            hint = f"what is accepted stays as it is: name a day after {row.date}"
            yield Problem(Place(ON), "already-listed", what, hint)


def noted(new: NewStandard, old: str, day: date) -> str:
    """A new value's text with its evidence beside it, and what the old note said besides.

    Of the old note what still holds is kept; a basis becomes `timed`, since it was.

    >>> new = NewStandard("", "", "39 min [36 to 43]", 17, "41 min")
    >>> noted(new, "34 min [26 to 60] (invented; similar)", date(2026, 10, 31))
    '39 min [36 to 43] (17 samples to 2026-10; median 41 min; was 34 min; invented; timed)'
    """
    if _OLD_NOTE.search(new.text):
        return new.text
    found = _OLD_NOTE.search(old)
    parts = [part.strip() for part in found[1].split(";")] if found else []
    kept = [part for part in parts if part and not _EVIDENCE.fullmatch(part)]
    rests = any(part in BASES for part in kept)
    samples = f"{new.samples} sample{'' if new.samples == 1 else 's'} to {day:%Y-%m}"
    said = [samples, *([f"median {new.median}"] if new.median else []), f"was {_amount(old)}"]
    said += [part for part in kept if part not in BASES]
    return f"{new.text} ({'; '.join([*said, *([TIMED] if rests else [])])})"


def _amount(text: str) -> str:
    """A value without its range and note."""
    found = _AMOUNT.match(text)
    return found[0].strip() if found else ""


def _long(sources: Sources, texts: Mapping[str, str]) -> Iterator[Problem]:
    """Texts beyond what is read, which an old note may make of new ones."""
    for key, text in texts.items():
        if len(text) > LONGEST_TEXT:
            what = f"the value and its note would have {len(text)} characters"
            hint = f"at most {LONGEST_TEXT} fit: shorten the note that stands there"
            yield Problem(sources.scalars[key].place, "too-much", what, hint)


def _rewritten(
    sources: Sources, texts: Mapping[str, str]
) -> tuple[dict[str, bytes], list[Written], dict[str, bytes]]:
    """Files with new values, by name; the values in the order given; and the files as they are.

    Raises:
        CatalogueError: a value can't be written at its place.
    """
    by_file: dict[str, dict[Place, str]] = {}
    for key, text in texts.items():
        place = sources.scalars[key].place
        by_file.setdefault(place.file, {})[place] = text
    before = {
        name: sources.instead[name] if name in sources.instead else _standing(sources, name)
        for name in by_file
    }
    old = {name: WrittenFile(name, content) for name, content in before.items()}
    try:
        files = {name: old[name].rewritten(values) for name, values in by_file.items()}
        new = {name: WrittenFile(name, content) for name, content in files.items()}
        values = []
        for key in texts:
            place = sources.scalars[key].place
            shift = _shift(old[place.file], new[place.file], by_file[place.file], place)
            was, becomes = old[place.file].token(place), new[place.file].token(shift)
            values.append(Written(key, place, was, becomes))
    except RewriteError as fault:
        told = Problem(fault.place, fault.code, fault.what, fault.hint)
        raise CatalogueError([told]) from fault
    return files, values, before


def _standing(sources: Sources, name: str) -> bytes:
    return bytes_of(sources.folder / name) or b""


def _shift(old: WrittenFile, new: WrittenFile, values: Mapping[Place, str], place: Place) -> Place:
    """Where a value stands after those before it on its line were written."""
    column = place.column
    for other in sorted(values, key=lambda place: place.column):
        if other.line == place.line and other.column < place.column:
            here = Place(other.file, other.line, other.column + column - place.column)
            column += len(new.token(here)) - len(old.token(other))
    return Place(place.file, place.line, column, place.key)


def _row(one: NewStandard, value: Written, day: date, note: str, by: str) -> dict[str, str]:
    return {
        "date": str(day),
        "key": one.key,
        "was": value.was,
        "becomes": value.becomes,
        "samples": str(one.samples),
        "median": one.median,
        "low": one.low,
        "high": one.high,
        "by": by,
        "note": note,
    }


def _need_the_rest_alike(
    folder: Path, files: Mapping[str, bytes], sources: Sources, texts: Mapping[str, str]
) -> None:
    """Read the catalogue as it would be: the values that are meant are new, all others stay.

    Raises:
        CatalogueError: it would have problems.
        RuntimeError: another value would be another (our fault, not the user's).
    """
    _, after = _read(folder, files)
    wanted = {key: texts.get(key, str(text)) for key, text in sources.scalars.items()}
    if {key: str(text) for key, text in after.scalars.items()} != wanted:
        raise RuntimeError("a value that nobody accepted would be another")


def _difference(
    before: Mapping[str, bytes], files: Mapping[str, bytes], rows: int
) -> Iterator[str]:
    """The lines that change, as a comparison of files shows them."""
    for name, content in files.items():
        new = content.decode("utf-8-sig").splitlines()
        if name not in before:
            yield f"{name}"
            yield from (f"+{line}" for line in new[-rows:])
            continue
        old = before[name].decode("utf-8-sig").splitlines()
        for number, (was, becomes) in enumerate(zip(old, new, strict=True), 1):
            if was != becomes:
                yield f"{name}:{number}"
                yield f"-{was}"
                yield f"+{becomes}"


def moved_by(before: Pricing, after: Pricing) -> list[Moved]:
    """Every boat and option whose cost is another after some values are, what moves most first.

    Args:
        before: as it is
        after: of the same boats on the same day, with the new values
    """
    currency = before.catalogue.currency
    found = []
    for id, model in before.models.items():
        then = after.models[id]
        both = [(BOAT, model.boat, then.boat)]
        both += [(name, one, then.options[name]) for name, one in model.options.items()]
        for name, old, new in both:
            costs = [money_in(each.assembly.cost, currency) for each in (old, new)]
            if costs[0] != costs[1]:
                called = str(old.option.name) if old.option is not None else ""
                margins = (_margin(old), _margin(new))
                found.append(Moved(id, name, called, costs[0], costs[1], *margins))
    return sorted(found, key=lambda one: -abs(one.new_cost - one.cost))


def _margin(priced: Priced) -> float | None:
    """The margin at the first class of buyer, as a fraction of the net price."""
    sale = next(iter(priced.sales.values()), None)
    return None if sale is None else sale.margin_fraction.value
