"""Lines are tried in a copy of the catalogue first, and then written without a trace of halves."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from quoter.catalogue.adding import replace_file, with_lines
from quoter.catalogue.load import load_catalogue, read_records
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.records import Records
from quoter.problems import CatalogueError, Place, Problem, Problems

OF_A_CATALOGUE = (".yaml", ".yml", ".csv", ".po")


@dataclass(slots=True)
class Import:
    """What an import would do: lines to show, faults of what was given, files as they would be.

    Without faults and with nothing in `files`, nothing moved. `done` says in words what is written.
    """

    shown: list[str] = field(default_factory=list)
    faults: list[Problem] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)
    done: str = ""


class ChangedError(Exception):
    """Raised instead of writing when a file is not what it was when it was read."""


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
    folder: Path, name: str, columns: Iterable[str], rows: Iterable[Mapping[str, str]]
) -> bytes:
    """A table of the catalogue with rows at its end.

    Raises:
        CatalogueError: the table lacks a column that a row fills.
    """
    path = folder / name
    existing = path.read_bytes() if path.exists() else None
    try:
        return with_lines(existing, tuple(columns), rows)
    except ValueError as fault:
        hint = "add it to the first line, and a comma to every other"
        raise CatalogueError([Problem(Place(name, 1, 1), str(fault), hint)]) from fault


def try_out(folder: Path, files: Mapping[str, bytes], day: date) -> Catalogue:
    """The catalogue as of a day as it would be with files written; nothing is written to it.

    Raises:
        CatalogueError: with the problems that it would have, that day or by its newest list.
    """
    with TemporaryDirectory() as kept:
        copy = Path(kept) / folder.resolve().name
        for name in ("prices", "translations"):
            (copy / name).mkdir(parents=True)
        beside = (*(folder / "prices").glob("*"), *(folder / "translations").glob("*"))
        for path in (*folder.iterdir(), *beside):
            if path.is_file() and path.suffix.lower() in OF_A_CATALOGUE:
                shutil.copyfile(path, copy / path.relative_to(folder))
        for name, content in files.items():
            (copy / name).write_bytes(content)
        catalogue, _ = load_catalogue(copy, day)
        if day < max(catalogue.records.price_lists):
            load_catalogue(copy)
        return catalogue


def write(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files that grow at their end, all of them or none.

    Raises:
        ChangedError: one is not what it was when it was read.
        OSError: one can't be written.
    """
    before = {name: _bytes_of(folder / name) for name in files}
    for name, content in files.items():
        if not content.startswith(before[name] or b""):
            raise ChangedError(f"{folder / name} was changed meanwhile")
    written: list[str] = []
    try:
        for name, content in files.items():
            replace_file(folder / name, content)
            written.append(name)
    except BaseException:
        for name in written:
            _restore(folder / name, before[name])
        raise


def _bytes_of(path: Path) -> bytes | None:
    return path.read_bytes() if path.exists() else None


def _restore(path: Path, content: bytes | None) -> None:
    if content is None:
        path.unlink()
    else:
        replace_file(path, content)
