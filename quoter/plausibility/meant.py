"""What the yard says it means: a value told as `expected` with its reason raises no warning.

In a block of a YAML file it is a key beside the value, `expected: {wet_thickness: why}`; in a line
of a table its note begins with it, `expected: why`. One that keeps nothing quiet is told, since
the value may have been put right without it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from quoter.catalogue.checks_ids import every_record
from quoter.catalogue.record import EXPECTED, CatalogueRecord
from quoter.catalogue.records import Records
from quoter.catalogue.source import Block, Text
from quoter.catalogue.tables import VolumeRow
from quoter.problems import Place, Problem, nearest, quoted

UNUSUAL = "unusual"
SIGN = f"{EXPECTED}:"


@dataclass(slots=True)
class Doubts:
    """The warnings that are found, without those of values that are said to be meant.

    That a value is unusual is not told beside what is known to be wrong with it. `kept` has, by
    place, the reason of each that kept a warning quiet.
    """

    found: list[Problem] = field(default_factory=list)
    kept: dict[Place, str] = field(default_factory=dict)
    _places: set[Place] = field(default_factory=set)
    _strange: bool = False

    def add(self, records: Iterable[CatalogueRecord], name: str, problem: Problem) -> None:
        """Tell of a value of a record, unless it or a record around it says it is meant."""
        if problem.warning and any(self.means(record, name) for record in records):
            return
        self._strange |= problem.code == UNUSUAL
        if problem.code == UNUSUAL and problem.place in self._places:
            return
        self._places.add(problem.place)
        self.found = [p for p in self.found if p.code != UNUSUAL or p.place != problem.place]
        self.found.append(problem)

    @property
    def unexplained(self) -> bool:
        """Whether a value is unusual and nobody says that it is meant."""
        return self._strange

    def told(self, place: Place) -> bool:
        """Whether something is told of the value at a place."""
        return place in self._places

    def means(self, record: CatalogueRecord, name: str) -> bool:
        """Whether a record says that a value of it is meant."""
        reason = reason_in(record, name)
        if reason is None:
            return False
        self.kept[reason.place] = str(reason).removeprefix(SIGN).strip()
        return True


def reason_in(record: CatalogueRecord, name: str) -> Text | None:
    """The reason that a record gives for a value of it, if it does."""
    if _is_row(record):
        note = getattr(record, "note", None)
        return note if note and note.startswith(SIGN) and note != SIGN else None
    reason = record.expected.get(name) if isinstance(record.expected, Block) else None
    return reason if isinstance(reason, Text) and reason.strip() else None


def as_accepted(note: str) -> str:
    """The note of a line whose value somebody accepted as meant when it was written.

    >>> as_accepted("imported from list.csv")
    'expected: accepted as meant; imported from list.csv'
    """
    return f"{SIGN} accepted as meant; {note}"


def how_to_say(record: CatalogueRecord, name: str) -> str:
    """How to write that a value is meant."""
    if _is_row(record):
        return f"if it is meant, begin its note with '{SIGN} ' and why"
    return f"if it is meant, say why beside it: '{EXPECTED}: {{{name}: …}}'"


def _is_row(record: CatalogueRecord) -> bool:
    return record.place.file.endswith(".csv")


def needless(records: Records, doubts: Doubts, known: Iterable[tuple[type, str]]) -> list[Problem]:
    """What is said to be meant and is usual, or is said in a way that means nothing.

    A line with a day stays as it is: what was unusual then may be usual later.

    Args:
        records: the whole catalogue, which has been gone through
        doubts: what was kept quiet
        known: kinds of record, and the names of values of theirs that may be unusual
    """
    names: dict[type, set[str]] = {}
    for kind, name in known:
        names.setdefault(kind, set()).add(name)
    found: dict[Problem, None] = {}
    for record in every_record(records):
        if isinstance(record, VolumeRow):
            found.update(dict.fromkeys(_of_row(record, doubts)))
        elif record.expected is not None:
            allowed = {n for kind in type(record).__mro__ for n in names.get(kind, ())}
            found.update(dict.fromkeys(_of_block(record, allowed, doubts)))
    return list(found)


def _of_row(record: CatalogueRecord, doubts: Doubts) -> Iterator[Problem]:
    note = getattr(record, "note", None)
    if note and note.startswith(SIGN) and note.place not in doubts.kept:
        yield _told(
            note.place, "nothing of this line is unusual", f"leave '{SIGN}' out of its note"
        )


def _of_block(record: CatalogueRecord, allowed: set[str], doubts: Doubts) -> Iterator[Problem]:
    if not isinstance(record.expected, Block):
        place = getattr(record.expected, "place", record.place)
        hint = f"write '{EXPECTED}: {{key: why}}' with the key of a value of this block"
        yield _told(place, f"'{EXPECTED}' names no value", hint, warning=False)
        return
    for name, reason in record.expected.items():
        at: Place = name.place  # type: ignore[attr-defined]  # keys of a block are texts
        if name not in allowed:
            what = f"'{EXPECTED}' is of {quoted(name)}, which is no value that may be unusual here"
            yield _told(at, what, nearest(name, allowed), warning=False)
        elif not isinstance(reason, Text) or not reason.strip():
            what = f"'{EXPECTED}' gives no reason for {quoted(name)}"
            yield _told(at, what, "say in words why it is meant", warning=False)
        elif reason.place not in doubts.kept:
            what = f"{quoted(name)} is said to be {EXPECTED}, and nothing of it is unusual"
            yield _told(at, what, f"leave it out of '{EXPECTED}'")


def _told(place: Place, what: str, hint: str, *, warning: bool = True) -> Problem:
    return Problem(place, "expected", what, hint, warning=warning)
