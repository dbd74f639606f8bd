"""Lines added to a dated table: what stands in it already keeps its every byte.

A supplier's correction of its own list, by consent, is the one exception: it takes a line's place.
So does a value of a YAML file that is accepted, beside the line that says what it was.

One writes at a time, and holds the catalogue's `.lock`. Whoever reads needs none: a file is
replaced as a whole. A writer of several files keeps a journal, `.unfinished.json`: after a kill the
next command that writes finishes it first, and whoever reads takes it as finished.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from quoter.catalogue.csv_cells import csv_rows
from quoter.disk import wait_for_lock

JOURNAL = ".unfinished.json"
ACTUALS = "actuals"  # the folder of what was booked
INNER = ("prices", "translations", ACTUALS)  # folders of a catalogue that are written to
# What `replace_file` calls a file that is not in place yet.
_UNFINISHED = re.compile(r"\..+\.(?:csv|po|json|yaml)\.[a-z0-9_]{8}\Z")
# The tables that grow, by name, and the files that hold what may be accepted: what another name
# says in a journal is not ours to write.
_GROWS = re.compile(r"(?:(?:prices|actuals)/)?[a-z0-9_-]+\.csv|[a-z]+\.yaml")


def with_lines(
    existing: bytes | None, columns: Sequence[str], rows: Iterable[Mapping[str, str]]
) -> bytes:
    """A table with rows at its end, in the order and with the line ends of the file as it is.

    Args:
        existing: the file's bytes, None for a new one; sound, since the catalogue was read
        columns: columns of a new file
        rows: by column; one that is not given stays empty, one the file lacks must be empty
    Raises:
        ValueError: a row has something for a column that the file does not have.
    """
    text = (existing or b"").decode("utf-8-sig")
    ends = "\r\n" if "\r\n" in text else "\n"
    head = next(csv_rows(text.replace("\r\n", "\n").replace("\r", "\n")), None)
    names = [cell.text for cell in head] if head else list(columns)
    added = io.StringIO()
    if not head:
        added.write(",".join(names) + ends)
    elif not text.endswith(("\n", "\r")):
        added.write(ends)
    for row in rows:
        added.write(_line(names, row) + ends)
    return (existing or b"") + added.getvalue().encode("utf-8")


def with_corrected(
    existing: bytes | None,
    keys: tuple[str, ...],
    rows: Mapping[tuple[str, ...], Mapping[str, str]],
) -> bytes | None:
    """A table with some of its rows in another form, each in its place; all else keeps its bytes.

    Args:
        existing: the file's bytes; sound, since the catalogue was read
        keys: the columns by which a row is known
        rows: by what it has there, each by column
    Raises:
        ValueError: a row has something for a column that the file does not have.
    """
    if existing is None or not rows:
        return existing
    text = existing.decode("utf-8-sig")
    ends = "\r\n" if "\r\n" in text else "\n"
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    head, *found = csv_rows(plain)
    names = [cell.text for cell in head]
    lines = plain.split("\n")
    for row in reversed(found):
        by_name = {name: cell.text for name, cell in zip(names, row, strict=True)}
        new = rows.get(tuple(by_name[key] for key in keys))
        if new is not None:
            last = row[0].line + sum(cell.text.count("\n") for cell in row)
            lines[row[0].line - 1 : last] = [_line(names, {**by_name, **new})]
    begins = existing[:3] if existing.startswith(b"\xef\xbb\xbf") else b""
    return begins + ends.join(lines).encode()


def _line(names: Sequence[str], row: Mapping[str, str]) -> str:
    """A row as a line, without its end.

    Raises:
        ValueError: it has something for a column that is not among them.
    """
    lost = [name for name, value in row.items() if value and name not in names]
    if lost:
        raise ValueError(f"the file has no column {lost[0]}")
    made = io.StringIO()
    csv.writer(made, lineterminator="").writerow([row.get(name, "") for name in names])
    return made.getvalue()


def replace_file(path: Path, content: bytes) -> None:
    """Put a file in place as a whole: at no moment is there half of it.

    Raises:
        OSError: the folder can't be written to; the file is as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(path.stat().st_mode & 0o777 if path.exists() else 0o644)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def journal_of(before: Mapping[str, bytes | None], files: Mapping[str, bytes]) -> bytes:
    """What is kept while several files are written: for each what it was, by a mark, what is added
    and, where that is not at its end, after how many bytes."""
    parts = {name: _part(before[name], content) for name, content in files.items()}
    return json.dumps(parts).encode()


def _part(before: bytes | None, content: bytes) -> tuple[str, str] | tuple[str, str, int]:
    known = before or b""
    if content.startswith(known):
        return _mark(before), content[len(known) :].decode()
    pairs = enumerate(zip(known, content, strict=False))
    alike = next((at for at, (old, new) in pairs if old != new), len(content))
    kept = known.rfind(b"\n", 0, alike) + 1
    return _mark(before), content[kept:].decode("utf-8"), kept


def pending(folder: Path) -> tuple[dict[str, bytes], list[str]]:
    """What a stopped writer had still to write, by file; and files that somebody changed since."""
    found: dict[str, bytes] = {}
    changed: list[str] = []
    for name, mark, added, kept in _journal_in(folder):
        content = bytes_of(folder / name)
        if _mark(content) == mark:
            found[name] = (content or b"")[:kept] + added.encode()
        elif not (content or b"").endswith(added.encode()):
            changed.append(name)
    return found, changed


def _journal_in(folder: Path) -> Iterator[tuple[str, str, str, int | None]]:
    """The files of a journal, each with its mark, what is added and after what; nothing of one that
    no writer of ours wrote."""
    try:
        journal = json.loads((folder / JOURNAL).read_bytes())
        parts = [
            (str(name), str(mark), str(added), int(kept[0]) if kept else None)
            for name, (mark, added, *kept) in journal.items()
        ]
    except (OSError, ValueError, TypeError, AttributeError):
        return
    yield from (part for part in parts if _GROWS.fullmatch(part[0]))


def bytes_of(path: Path) -> bytes | None:
    """A file's bytes; None where there is none."""
    return path.read_bytes() if path.exists() else None


def _mark(content: bytes | None) -> str:
    return "" if content is None else hashlib.sha256(content).hexdigest()


@contextmanager
def sole_writer(folder: Path) -> Iterator[None]:
    """Be the only one who writes to a catalogue; what killed writers left of a file is cleared.

    Raises:
        BusyError: somebody else has been writing for minutes.
        OSError: the folder can't be written to.
    """
    lock = wait_for_lock(folder)
    try:
        for inner in (folder, *(folder / name for name in INNER)):
            for path in inner.iterdir() if inner.is_dir() else ():
                if _UNFINISHED.match(path.name):
                    path.unlink()
        yield
    finally:
        lock.release()
