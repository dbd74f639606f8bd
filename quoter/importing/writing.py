"""Lines are tried in memory first, and then written without a trace of halves."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from quoter.catalogue.adding import (
    JOURNAL,
    bytes_of,
    journal_of,
    pending,
    replace_file,
    sole_writer,
    with_corrected,
    with_lines,
)
from quoter.catalogue.csv_cells import csv_rows
from quoter.catalogue.day import catalogue_day
from quoter.catalogue.load import PRICE_KEYS, load_catalogue, read_records
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.records import Records
from quoter.problems import CatalogueError, Place, Problem, Problems


@dataclass(slots=True)
class Import:
    """What an import would do: lines to show, faults of what was given, files as they would be.

    Without faults and with nothing in `files`, nothing moved. `day` is what the command says first
    of the catalogue's day, `coming` what becomes of that, and `done` in words what is written. Of a
    file in which lines are corrected, `replaced` has what it was.
    """

    shown: list[str] = field(default_factory=list)
    faults: list[Problem] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)
    replaced: dict[str, bytes] = field(default_factory=dict)
    done: str = ""
    day: str = ""
    coming: list[str] = field(default_factory=list)


class ChangedError(Exception):
    """Raised instead of writing when a file is not what it was when it was read."""

    code = "changed"


def read_sound(folder: Path) -> Records:
    """A catalogue's records, whether or not every material has a price yet.

    Raises:
        CatalogueError: something else is wrong, which no import can mend.
    """
    problems = Problems()
    records, sources = read_records(folder, problems)
    problems.gather()
    problems.quote(sources.excerpt)
    problems.stop_if_any()
    return records


def longer(
    folder: Path,
    name: str,
    columns: Iterable[str],
    rows: Iterable[Mapping[str, str]],
    corrected: Mapping[tuple[str, ...], Mapping[str, str]] | None = None,
    keys: tuple[str, ...] = PRICE_KEYS,
) -> bytes:
    """A table of the catalogue with rows at its end, others corrected by what `keys` hold.

    Raises:
        CatalogueError: the table lacks a column that a row fills.
    """
    try:
        whole = with_corrected(bytes_of(folder / name), keys, corrected or {})
        added = list(rows)
        return with_lines(whole, tuple(columns), added) if added or whole is None else whole
    except ValueError as fault:
        hint = "add it to the first line, and a comma to every other"
        raise CatalogueError(
            [Problem(Place(name, 1, 1), "missing-key", str(fault), hint)]
        ) from fault


def try_out(folder: Path, files: Mapping[str, bytes], day: date) -> Catalogue:
    """The catalogue as of a day as it would be with files written; nothing is written anywhere.

    Raises:
        CatalogueError: with the problems that it would have, that day, on its own day or by a list
            ahead.
    """
    catalogue, _ = load_catalogue(folder, day, instead=files)
    stands = catalogue_day(catalogue.records)
    for later in (stands.prices, *stands.ahead):
        if day < later:
            load_catalogue(folder, later, instead=files)
    return catalogue


def at_options(
    problems: Iterable[Problem], name: str, table: bytes, options: Mapping[str, str], lines: int = 1
) -> Iterator[Problem]:
    """Those of a table's last lines, which are not written yet, each at the option that gave it.

    Args:
        problems: of the catalogue as it would be
        name: of the table
        table: as it would be
        options: by column, where one is not called as the column is
        lines: how many are new
    """
    head, *rows = csv_rows(re.sub("\r\n?", "\n", table.decode("utf-8-sig")))
    cells = [pair for row in rows[-lines:] for pair in zip(row, head, strict=True)]
    for problem in problems:
        here = problem.place.line, problem.place.column
        before = [column.text for cell, column in cells if (cell.line, cell.column) <= here]
        if problem.place.file == name and before:
            option = options.get(before[-1], f"--{before[-1]}")
            yield replace(problem, place=Place(option), excerpt="")


def write(
    folder: Path, files: Mapping[str, bytes], replaced: Mapping[str, bytes] | None = None
) -> None:
    """Write files that grow at their end, all of them or none; one that is `replaced` stands alone.

    Of several files a journal is kept while they are written: if the program is killed meanwhile,
    the next writer writes the rest.

    Raises:
        ChangedError: one is not what it was when it was read.
        BusyError: somebody else has been writing for minutes.
        OSError: one can't be written.
    """
    with sole_writer(folder):
        _finish(folder)
        before = {name: bytes_of(folder / name) for name in files}
        for name, content in files.items():
            known = before[name] or b""
            kept = (replaced or {}).get(name)
            if not content.startswith(known) if kept is None else kept != known:
                raise ChangedError(f"{folder / name} was changed meanwhile")
        journal = folder / JOURNAL
        written: list[str] = []
        try:
            if len(files) > 1:
                replace_file(journal, journal_of(before, files))
            for name, content in files.items():
                replace_file(folder / name, content)
                written.append(name)
        except BaseException:
            for name in written:
                _restore(folder / name, before[name])
            raise
        finally:
            journal.unlink(missing_ok=True)


def settle(folder: Path) -> None:
    """Finish what a stopped writer had begun to, before anything is read to be written anew.

    Raises:
        ChangedError: somebody has changed a file since; it is left as it is, and the journal of
            the writer is dropped, so that this is told once.
        BusyError: somebody else has been writing for minutes.
        OSError: it can't be written.
    """
    if (folder / JOURNAL).exists():
        with sole_writer(folder):
            _finish(folder)


def _finish(folder: Path) -> None:
    files, changed = pending(folder)
    for name, content in files.items():
        replace_file(folder / name, content)
    (folder / JOURNAL).unlink(missing_ok=True)
    if changed:
        told = " and ".join(str(folder / name) for name in changed)
        what = "was changed since an import was stopped that was to add lines to it"
        raise ChangedError(f"{told} {what}; look whether they are there")


def _restore(path: Path, content: bytes | None) -> None:
    if content is None:
        path.unlink()
    else:
        replace_file(path, content)
