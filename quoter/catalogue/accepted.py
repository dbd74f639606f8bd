"""Accepted standards: values of YAML files that were others until a day, and the files of before.

Recipes have no dates. So each value that was accepted from what jobs took has a line in
accepted.csv, and on an earlier day the files are read as if it had not been: as text, in which each
such value is what it was. What was changed by hand since is as it stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from quoter.catalogue.records import Records
from quoter.catalogue.rewriting import RewriteError, WrittenFile
from quoter.catalogue.source import Sources, Text
from quoter.catalogue.tables import AcceptedRow
from quoter.intake import read_file
from quoter.problems import Place, Problem, closest, quoted

ACCEPTED = "accepted.csv"


def later_rows(rows: Iterable[AcceptedRow], day: date) -> dict[str, AcceptedRow]:
    """Key -> the first line later than a day: what it says was there, was there on that day."""
    found: dict[str, AcceptedRow] = {}
    for row in sorted((row for row in rows if row.date > day), key=lambda row: row.date):
        found.setdefault(str(row.key), row)
    return found


def files_before(sources: Sources, rows: Iterable[AcceptedRow], day: date) -> dict[str, bytes]:
    """The files that were otherwise on a day, by name, as they were; what can't be told is left.

    Args:
        sources: the catalogue, which has been read
        rows: of accepted.csv
        day: the one asked about
    """
    values: dict[str, dict[Place, str]] = {}
    for key, row in later_rows(rows, day).items():
        if key in sources.scalars:
            place = sources.scalars[key].place
            values.setdefault(place.file, {})[place] = str(row.was)
    found: dict[str, bytes] = {}
    for name, of_file in values.items():
        content = sources.instead.get(name) or read_file(sources.folder / name)
        if (before := _before(WrittenFile(name, content), of_file)) != content:
            found[name] = before
    return found


def _before(file: WrittenFile, values: dict[Place, str]) -> bytes:
    """A file with other values, without those that can't stand where they stood."""
    try:
        return file.rewritten(values, tokens=True)
    except RewriteError:
        able = {place: was for place, was in values.items() if not _fault(file, place, was)}
        return file.rewritten(able, tokens=True)


def _fault(file: WrittenFile, place: Place, was: str) -> str:
    """Why a value can't be told as it was; nothing if it can."""
    try:
        file.rewritten({place: was}, tokens=True)
    except RewriteError as fault:
        return fault.what
    return ""


def check_accepted(records: Records) -> Iterator[Problem]:
    """Lines of one value follow each other, since what is in force is told by their order."""
    last: dict[str, AcceptedRow] = {}
    for row in records.accepted:
        before = last.get(str(row.key))
        if before is not None and row.date < before.date:
            what = f"{quoted(row.key)} was accepted on {before.date} already, on line "
            hint = "lines are added at the end, the newest last"
            yield Problem(row.place, "date-order", f"{what}{before.place.line}", hint)
        last[str(row.key)] = row


def recipe_changes(records: Records, sources: Sources) -> Iterator[Problem]:
    """Values that were accepted and are not there any more, or not as a text that can be put back.

    A day before is then priced with the recipe as it stands, which somebody should know.
    """
    files: dict[str, WrittenFile] = {}
    for row in records.accepted:
        key = str(row.key)
        file = f"{key.partition('.')[0]}.yaml"
        if file in sources.doubtful:
            continue
        text = sources.scalars.get(key)
        if text is None:
            yield _told(row.key, f"no value has the key {quoted(key)}", _gone(sources, key))
            continue
        if file not in files:
            content = sources.instead.get(file) or read_file(sources.folder / file)
            files[file] = WrittenFile(file, content)
        if fault := _fault(files[file], text.place, str(row.was)):
            hint = f"an earlier day is priced as it stands at {text.place.clickable}"
            yield _told(row.was, f"{quoted(row.was)} can't be put back: {fault}", hint)


def _gone(sources: Sources, key: str) -> str:
    near = closest(key, sources.scalars)
    hint = "the recipe has changed since: an earlier day is priced as it stands"
    return f"{hint}; if it has moved, its key may be '{near}' now" if near else hint


def _told(text: Text, what: str, hint: str) -> Problem:
    return Problem(text.place, "recipe-changed", what, hint, warning=True)
