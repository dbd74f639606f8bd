"""How one folder gets from a build to the next, and what a run that was stopped left to do.

New files stand in one hidden place of the folder, each as soon as it is made, in the end with a
journal. It is `prepared` once the disk
has all of them: until then, and after, the folder is as it was. Renamed to `committed`, the build
counts: each file is put in its place by one rename, so that a reader finds the old or the new one
and never none. Every step can be done again, by the same run or the next.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from quoter.disk import sync, write_synced
from quoter.publish.manifest import (
    EARLIER_MARK,
    MANIFEST,
    STAGING,
    FolderError,
    Known,
    is_safe,
    read_manifest,
    written_in,
)
from quoter.publish.ours import survey

FORMAT = 2  # of the journal
_DRAFT, _PREPARED, _COMMITTED, _LIST = "journal", "prepared", "committed", "manifest"


@dataclass(frozen=True, slots=True)
class Journal:
    """What a folder is on its way to: the folders that go there with it, its new files' names.

    The folders are settled together. They are named by paths from this one, so that all of them may
    be moved together.
    """

    transaction: str
    folders: tuple[Path, ...]
    names: tuple[str, ...]
    build: int
    committed: bool


def number_of(name: str, build: int) -> str:
    """What a file is called while it is staged: a number, and another one in each build.

    One that a process of a stopped build still writes is thus none of the next.
    """
    return str(int.from_bytes(hashlib.sha256(f"{build} {name}".encode()).digest()[:12]))


def stage_file(folder: Path, name: str, content: bytes, build: int) -> None:
    """Have the disk keep one file beside those that stand.

    Args:
        folder: an output, resolved and locked
        name: of the file below it
        content: its bytes
        build: the number of the process that has the lock
    Raises:
        OSError: it can't be written.
    """
    place = folder / STAGING
    place.mkdir(exist_ok=True)
    write_synced(place / number_of(name, build), content)


def stage(
    folder: Path,
    transaction: str,
    folders: Sequence[Path],
    changed: Mapping[str, bytes],
    manifest: bytes,
    build: int,
) -> None:
    """Have the disk keep all that a folder needs for the next build, without touching a file of it.

    Args:
        folder: an output, resolved and locked
        transaction: what all folders of one build have in common
        folders: these, in the order in which they are committed
        changed: the files that don't stand there yet; those that are staged by their digests
        manifest: the list of all files
        build: the number of the process that has the lock
    Raises:
        OSError: it can't be written.
    """
    place = folder / STAGING
    place.mkdir(exist_ok=True)
    for name, content in changed.items():
        if not isinstance(content, Known):
            stage_file(folder, name, content, build)
    write_synced(place / _LIST, manifest)
    journal = {
        "format": FORMAT,
        "transaction": transaction,
        "folders": [_from(folder, other) for other in folders],
        "names": list(changed),
        "build": build,
    }
    write_synced(place / _DRAFT, json.dumps(journal, indent=0).encode())
    (place / _DRAFT).rename(place / _PREPARED)
    sync(place)
    sync(folder)


def _from(folder: Path, other: Path) -> str:
    """Where another folder is from here, which stays true when both are moved together."""
    try:
        return Path(os.path.relpath(other, folder)).as_posix()
    except ValueError:  # on another drive
        return other.as_posix()


def journal_of(folder: Path) -> Journal | None:
    """What a folder is on its way to, if to anything.

    Raises:
        FolderError: something else has the place of the journal, or it can't be understood.
    """
    place = _place(folder)
    for state in (_COMMITTED, _PREPARED):
        if place and (place / state).is_file():
            return _read(folder, place / state, committed=state == _COMMITTED)
    return None


def _read(folder: Path, path: Path, *, committed: bool) -> Journal:
    """A journal is renamed when whole, so one that isn't was changed by somebody."""
    try:
        given = json.loads(path.read_bytes())
        if given["format"] != FORMAT:
            raise FolderError(
                f"{path.parent} was left by another version that was stopped; build with that one"
            )
        transaction, build = str(given["transaction"]), int(given["build"])
        names = tuple(map(str, given["names"]))
        others = [Path(os.path.normpath(folder / other)) for other in given["folders"]]
    except (ValueError, KeyError, TypeError) as fault:
        raise FolderError(f"{path} is damaged; delete {path.parent}, and build again") from fault
    if not all(map(is_safe, names)):
        raise FolderError(f"{path} is damaged; delete {path.parent}, and build again")
    return Journal(transaction, tuple(others), names, build, committed)


def _place(folder: Path) -> Path | None:
    """Where new files stand, if they do.

    Raises:
        FolderError: something that is not of this program has that name.
    """
    place = folder / STAGING
    if not os.path.lexists(place):
        return None
    known = {_DRAFT, _PREPARED, _COMMITTED, _LIST}
    if (
        place.is_symlink()
        or not place.is_dir()
        or any(not path.name.isdecimal() for path in place.iterdir() if path.name not in known)
    ):
        raise FolderError(f"{place} is in the way and not of this program; move it elsewhere")
    return place


def commit(folder: Path) -> None:
    """Make what is prepared count. Done again, it does nothing."""
    place = folder / STAGING
    if (place / _PREPARED).exists():
        (place / _PREPARED).rename(place / _COMMITTED)
        sync(place)


def roll_back(folder: Path) -> None:
    """Throw away what does not count; first the journal, so that half of it is never taken up."""
    place = _place(folder)
    if place is not None:
        for state in (_COMMITTED, _PREPARED):
            (place / state).unlink(missing_ok=True)
        for path in sorted(place.iterdir()):
            path.unlink()
        place.rmdir()


def barred(folder: Path) -> list[str]:
    """Sentences about what changed, since a build was committed, in the way of finishing it."""
    return survey(folder, written_in(folder), _next(folder)).faults


def _next(folder: Path) -> Mapping[str, str]:
    path = folder / STAGING / _LIST
    if path.exists():
        return read_manifest(path.read_bytes(), path)
    return written_in(folder).digests  # it is in its place already


def roll_forward(folder: Path, journal: Journal) -> None:
    """Put a committed build in its place: what is new, then what changed, the first pages last.

    Only then goes what the build before wrote and this one didn't, so that no link leads nowhere.

    Raises:
        OSError: something can't be written; the rest is still to be done.
    """
    place, before, after = folder / STAGING, written_in(folder).digests, _next(folder)
    gone = sorted({*before} - {*after})
    in_the_way = [name for name in gone if _clashes(name, after)]
    _delete(folder, in_the_way, after)
    for name in sorted(journal.names, key=lambda name: _turn(name, before)):
        staged = place / number_of(name, journal.build)
        if staged.exists():
            _put(staged, folder / name)
    _delete(folder, [name for name in gone if name not in in_the_way], after)
    _sync_all(folder, [*journal.names, *gone])
    if (place / _LIST).exists():
        (place / _LIST).replace(folder / MANIFEST)
    (folder / EARLIER_MARK).unlink(missing_ok=True)
    sync(folder)
    roll_back(folder)


def _turn(name: str, before: Mapping[str, str]) -> tuple[bool, bool, bool, int, str]:
    """New before changed, then what pages use before pages, deep pages before those above."""
    path = PurePosixPath(name)
    return (
        name in before,
        path.suffix == ".html",
        path.name == "index.html",
        -len(path.parts),
        name,
    )


def _clashes(name: str, after: Mapping[str, str]) -> bool:
    """Whether a file stands where a folder has to, or in a folder where a file has to."""
    return any(str(above) in after for above in PurePosixPath(name).parents) or any(
        other.startswith(f"{name}/") for other in after
    )


def _put(staged: Path, path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    if path.is_dir():  # emptied before, since none but files of the build before were in it
        for below in sorted(path.rglob("*"), reverse=True):
            below.rmdir()
        path.rmdir()
    staged.replace(path)


def _delete(folder: Path, names: Iterable[str], after: Mapping[str, str]) -> None:
    """Delete files, and the folders that are empty without them."""
    folded = {name.casefold(): name for name in after}
    for name in names:
        path, twin = folder / name, folded.get(name.casefold())
        # Where the system takes both names for one, this would be the new file.
        if path.is_file() and not (twin and path.samefile(folder / twin)):
            path.unlink()
        for above in list(PurePosixPath(name).parents)[:-1]:
            try:
                (folder / above).rmdir()
            except FileNotFoundError:
                continue
            except OSError:
                break  # something else is in it


def _sync_all(folder: Path, names: Iterable[str]) -> None:
    above = {parent for name in names for parent in PurePosixPath(name).parents}
    for parent in sorted(above):
        if (folder / parent).is_dir():
            sync(folder / parent)
