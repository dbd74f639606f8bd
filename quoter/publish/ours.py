"""What stands in a folder, held against what a build wrote there and what it would put there.

No link is followed: a name with one on its way is refused, so that nothing outside is touched.
"""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from quoter.formats import RECORD_FILE
from quoter.publish.manifest import MANIFEST, OWN, FolderError, WrittenFiles

_BARRED = "; a build follows none in its folders: put a real one there, or name another folder"


@dataclass(slots=True)
class Survey:
    """Digests of what stands under the names looked at, and a sentence for each that is barred."""

    standing: dict[str, str] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)


def survey(folder: Path, written: WrittenFiles, wanted: Mapping[str, str]) -> Survey:
    """Look at every file that a build would replace or delete.

    What may go has the digest of the build before or already that of the new one; a file of any
    digest may where an earlier version replaced folders as a whole.

    Args:
        folder: an output
        written: what the build before wrote there
        wanted: digests of the new one's files by name
    """
    found = Survey()
    ours, going = {*written.digests, *wanted}, {*written.digests} - {*wanted}
    folded = {name.casefold(): digest for name, digest in written.digests.items()}
    ways: dict[PurePosixPath, str | None] = {PurePosixPath(): None}
    for name in sorted(ours):
        barred = _way(folder, PurePosixPath(name).parent, ours, ways)
        barred = barred or _look(folder, name, going, found.standing)
        if name in found.standing and not written.earlier:
            # Where names differ in case alone, systems may take them for one.
            known = {written.digests.get(name), wanted.get(name), folded.get(name.casefold())}
            if found.standing[name] not in known:
                barred = _another(folder / name, listed=name in written.digests)
        if barred:
            found.faults.append(barred)
    found.faults = [*dict.fromkeys(found.faults)]
    return found


def _another(path: Path, *, listed: bool) -> str:
    if listed:
        return (
            f"{path} was changed since a build wrote it; "
            "move it elsewhere or delete it, and build again"
        )
    return f"{path} is not of a build and in the way of one; move it elsewhere, and build again"


def _look(folder: Path, name: str, going: set[str], standing: dict[str, str]) -> str | None:
    """Take down what stands under a name; a sentence where no file can be put there."""
    path = folder / name
    try:
        mode = path.lstat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return None
    if stat.S_ISLNK(mode):
        return f"{path} is a link{_BARRED}"
    if stat.S_ISDIR(mode) and (name in going or going.issuperset(files_in(folder, name))):
        return None  # not ours, and nothing to delete; or empty when what is ours is deleted
    if not stat.S_ISREG(mode):
        return f"{path} is in the way of a file of that name; move it elsewhere, and build again"
    with path.open("rb") as file:
        standing[name] = hashlib.file_digest(file, "sha256").hexdigest()
    return None


def _way(
    folder: Path, way: PurePosixPath, ours: set[str], known: dict[PurePosixPath, str | None]
) -> str | None:
    """Why no file can be put into a folder below an output, if so; found out once for each."""
    if way not in known:
        known[way] = _way(folder, way.parent, ours, known) or _barrier(folder, way, ours)
    return known[way]


def _barrier(folder: Path, way: PurePosixPath, ours: set[str]) -> str | None:
    path = folder / way
    try:
        there = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    if stat.S_ISLNK(there.st_mode):
        return f"{path} is a link{_BARRED}"
    if not stat.S_ISDIR(there.st_mode):
        if str(way) in ours:
            return None  # looked at as a file, which goes before the folder is made
        return f"{path} is in the way of a folder of that name; move it elsewhere, and build again"
    if there.st_dev != folder.stat().st_dev:
        return f"{path} is another disk than {folder}; name a folder that is on one disk"
    if not os.access(path, os.W_OK | os.X_OK):
        return f"{path} can't be written to; let whoever builds write there, or name another folder"
    return None


def files_in(folder: Path, below: str = "") -> Iterator[str]:
    """Names of all files at or below a place, hidden ones of the top left out; follows no link."""
    for path in sorted((folder / below).iterdir()):
        name = path.relative_to(folder).as_posix()
        if path.is_dir() and not path.is_symlink():
            if below or not is_hidden(path.name):
                yield from files_in(folder, name)
        elif below or not is_hidden(name):
            yield name


def is_hidden(name: str) -> bool:
    """Whether an entry is one that people don't see in a folder, or a disk's own."""
    return name.startswith(".") or name == "lost+found"


def refuse_foreign(folder: Path, written: WrittenFiles) -> None:
    """Build into an empty folder or into one of ours, but not among what somebody keeps.

    Pages strewn among private files would have these uploaded with them. Hidden entries, as of a
    repository or a web server, and the folder of a disk's lost files are no sign of that.

    Raises:
        FolderError: it is neither.
    """
    if written.listed or written.earlier:
        return
    strange = sorted(path.name for path in folder.iterdir() if not is_hidden(path.name))
    if strange:
        raise FolderError(
            f"{folder} holds files this program did not write, such as {strange[0]} (it has no "
            f"{MANIFEST}); name another folder, or move them elsewhere for the first build: later "
            "ones leave alone what they did not write"
        )


def unknown_in(folder: Path, wanted: Mapping[str, str]) -> list[str]:
    """Files in a folder of an earlier version, which kept no list, that a build would not write."""
    return [name for name in files_in(folder) if name not in wanted and name not in OWN]


def refuse_quotes(site: Path) -> None:
    """Quotes hold costs; in a public folder they would be uploaded with it.

    Raises:
        FolderError: there is one.
    """
    for name in files_in(site) if site.is_dir() else ():
        if PurePosixPath(name).name == RECORD_FILE:
            quote = (site / name).parent
            raise FolderError(
                f"{quote} holds a quote with its costs, and {site} is public; "
                "move the quotes elsewhere, and build again"
            )
