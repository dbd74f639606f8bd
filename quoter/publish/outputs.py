"""The output folders of one build: held by one process, and changed all or none.

    with held([site, internal], keep=[catalogue]) as outputs:
        outputs.publish({site: ..., internal: ...})

They are held before the catalogue is read, so that a second build learns of the first at once. What
a stopped build left is finished or thrown away first, in all folders that it was to change, also
where this build has only one of them. A folder that was moved away meanwhile is not looked for:
what was committed is finished in those still there; in the one moved, by the first build into it if
it had got as far as that, else what was new for it is thrown away.
"""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from quoter.disk import give_back, holder_of, take_lock
from quoter.publish.manifest import (
    LOCK,
    MANIFEST,
    FolderError,
    Notes,
    Staged,
    Standing,
    WrittenFiles,
    digest_of,
    manifest_text,
    written_in,
)
from quoter.publish.ours import refuse_foreign, survey, unknown_in
from quoter.publish.staging import (
    Journal,
    barred,
    commit,
    journal_of,
    roll_back,
    roll_forward,
    stage,
    stage_file,
)

AGAIN = 20  # times that a folder is made anew which another build removes
PAUSE = 0.05  # seconds between looks at a lock of somebody else
LOOKS = 3  # before a holder is named: it may just be ending
SHOWN = 10  # refusals told by name
NOTHING = "no file of this build was put in place"
UNSURE = "the next build into any of its folders finishes this one or throws it away"
HALF = (
    "this build counts and is not all in place; the next one into any of its folders finishes it "
    "first"
)
WHOLE = "this build is in place as a whole"

Files = Mapping[str, bytes]


class Interrupted(KeyboardInterrupt):
    """Raised when somebody stops a run by Ctrl-C; the message says what became of the folders."""


@dataclass(slots=True)
class Outputs:
    """Folders that this process alone changes. `state` says in words what it has done to them.

    `standing` has digests of the files that stand as they are listed, by folder and name.
    """

    folders: tuple[Path, ...]
    build: int = field(default_factory=os.getpid)
    standing: dict[Path, dict[str, str]] = field(default_factory=dict)
    locks: dict[Path, int] = field(default_factory=dict)
    made: list[Path] = field(default_factory=list)
    state: str = NOTHING

    def keep(self, folder: Path, name: str, content: bytes) -> bytes:
        """Have the disk keep a finished file until all are published, so that nobody else has to.

        Of one that stands already, or is kept, nothing is written. A process forked from this one
        may do it too.

        Args:
            folder: one of those held
            name: path of the file below it
            content: its bytes
        Returns:
            what `publish` is to be given in its place
        Raises:
            FolderError: it can't be written.
        """
        folder, digest = folder.resolve(), digest_of(content)
        if self.standing[folder].get(name) == digest:
            return Standing(digest.encode())
        if not isinstance(content, Staged):
            with self._told():
                stage_file(folder, name, content, self.build)
        return Staged(digest.encode())

    def publish(
        self, outputs: Mapping[Path, Files], notes: Mapping[Path, Notes] = MappingProxyType({})
    ) -> list[str]:
        """Replace what builds wrote in the folders by new files; what is not of a build stays.

        Args:
            outputs: folder, one of those held -> path below it -> content, or that it stands
            notes: folder -> what its list is to say of the build besides
        Returns:
            sentences on what was left alone though it may be of an earlier version
        Raises:
            FolderError: something in a folder is not ours to replace, or can't be written. The
                message says what became of the folders.
            Interrupted: the same of Ctrl-C.
        """
        with self._told():
            plans = [
                _plan(folder.resolve(), files, notes.get(folder, ()))
                for folder, files in outputs.items()
            ]
            _refuse([fault for plan in plans for fault in plan.faults])
            changing = [plan for plan in plans if plan.is_change]
            if changing:
                self._change(sorted(changing, key=lambda plan: plan.folder))
            else:
                self.state = WHOLE
        return [note for plan in plans for note in plan.notes]

    def _change(self, plans: Sequence[_Plan]) -> None:
        """The one moment from which a build counts is when its first folder is committed."""
        mark = hashlib.sha256(b"".join(plan.manifest for plan in plans)).hexdigest()
        folders = [plan.folder for plan in plans]
        committed = False
        try:
            for plan in plans:
                stage(plan.folder, mark, folders, plan.changed, plan.manifest, self.build)
            self.state = UNSURE
            commit(folders[0])
            committed = True
            settle(folders)
            self.state = WHOLE
        except BaseException:
            self.state = HALF if committed or _is_any_committed(folders) else NOTHING
            with suppress(OSError, FolderError):
                settle(folders)
                self.state = NOTHING if self.state is NOTHING else WHOLE
            raise

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Tell what the system refuses in words that are true of the folders."""
        try:
            yield
        except OSError as fault:
            what = f"can't write {fault.filename or 'the output'}: {fault.strerror or fault}"
            raise FolderError(f"{what}; {self.state}") from fault

    def take(self, wait: bool, say: Callable[[str], None]) -> None:
        """Take the locks of the folders, and of those a stopped build was to change with them.

        In the order of their paths, and none is kept while another is waited for.
        """
        wanted, looks, told = {*self.folders}, 0, ""
        while True:
            busy = self._try(sorted(wanted))
            if busy is None:
                needed = {*self.folders}.union(*map(_companions, wanted))
                if needed <= wanted:
                    return
                wanted = needed
            self.release()
            looks += 1
            if busy is not None:
                words = f"{holder_of(busy / LOCK)} is building into {busy}"
                if not wait and looks >= LOOKS:
                    raise FolderError(f"{words}; build again when it has ended, or with --wait")
                if wait and words != told:
                    told = words
                    say(f"waiting: {words}")
                time.sleep(PAUSE)

    def _try(self, folders: Sequence[Path]) -> Path | None:
        """Take all locks; else which folder's somebody else has."""
        for folder in folders:
            if folder not in self.folders and not folder.is_dir():
                continue  # of a stopped build, and moved away
            handle = self._made_and_locked(folder)
            if handle is None:
                return folder
            self.locks[folder] = handle
        return None

    def _made_and_locked(self, folder: Path) -> int | None:
        for left in reversed(range(AGAIN)):
            missing = [path for path in (folder, *folder.parents) if not path.exists()]
            try:
                for path in reversed(missing):
                    path.mkdir(exist_ok=True)
                    self.made.append(path)
                return take_lock(folder / LOCK)
            except FileNotFoundError:  # removed again by another build that had made it for nothing
                if not left:
                    raise
        raise AssertionError("a range is not empty")

    def release(self) -> None:
        """Give all locks back, and remove the folders that were made for nothing."""
        while self.locks:
            folder, handle = self.locks.popitem()
            give_back(handle, folder / LOCK)
        while self.made:
            with suppress(OSError):  # something is in it
                self.made.pop().rmdir()

    def _begin(self, wait: bool, say: Callable[[str], None]) -> None:
        """Take the locks, settle what is left of stopped builds, refuse what would be refused."""
        with self._told():
            for folder in self.folders:
                if folder.exists() and not folder.is_dir():
                    raise FolderError(f"{folder} is a file; name a folder to write to")
            self.take(wait, say)
            settle([*self.locks])
            faults = []
            for folder in self.folders:
                written = written_in(folder)
                refuse_foreign(folder, written)
                found = survey(folder, written, {})
                faults += found.faults
                self.standing[folder] = found.standing
            _refuse(faults)

    def _clear(self) -> None:
        """Throw away what was kept and never published."""
        with suppress(OSError, FolderError):
            settle([*self.locks])


@contextmanager
def held(
    folders: Sequence[Path],
    keep: Sequence[Path] = (),
    *,
    wait: bool = False,
    say: Callable[[str], None] = lambda _: None,
) -> Iterator[Outputs]:
    """Hold output folders against other builds, with all that a stopped build left settled.

    Args:
        folders: where a build goes
        keep: what no output may hold, such as the catalogue
        wait: whether to wait for another build; otherwise it is told who builds
        say: is told whom it waits for
    Raises:
        FolderError: one is not ours to write to, another build has it, or it can't be written.
        Interrupted: somebody pressed Ctrl-C.
    """
    _refuse_overlap(folders, keep)
    outputs = Outputs(tuple(folder.resolve() for folder in folders))
    try:
        try:
            outputs._begin(wait, say)
            yield outputs
        finally:
            outputs._clear()
            outputs.release()
    except KeyboardInterrupt as stopped:
        raise Interrupted(f"interrupted; {outputs.state}") from stopped


@dataclass(frozen=True, slots=True)
class _Plan:
    """What publishing comes to in one folder."""

    folder: Path
    changed: Mapping[str, bytes]
    manifest: bytes
    is_change: bool
    faults: Sequence[str]
    notes: Sequence[str]


def _plan(folder: Path, files: Files, notes: Notes) -> _Plan:
    written = written_in(folder)
    wanted = {name: digest_of(content) for name, content in sorted(files.items())}
    manifest = manifest_text(wanted, notes)
    found = survey(folder, written, wanted)
    changed: dict[str, bytes] = {}
    for name, content in sorted(files.items()):
        if found.standing.get(name) != wanted[name]:
            if isinstance(content, Standing):
                found.faults.append(f"{folder / name} changed while this build ran; build again")
            else:
                changed[name] = content
    listed = (folder / MANIFEST).read_bytes() if written.listed else b""
    is_change = bool(changed) or listed != manifest
    return _Plan(
        folder, changed, manifest, is_change, found.faults, _notes(folder, written, wanted)
    )


def _notes(folder: Path, written: WrittenFiles, wanted: Mapping[str, str]) -> list[str]:
    unknown = unknown_in(folder, wanted) if written.earlier else []
    if not unknown:
        return []
    return [
        f"{folder}: left alone what is not of this build: {_some(unknown, ', ')}; "
        "the version that built last kept no list, so delete what is not yours"
    ]


def _some(words: Sequence[str], between: str) -> str:
    """The first of many.

    >>> _some(["a", "b"], ", ")
    'a, b'
    """
    more = [f"and {len(words) - SHOWN} more"] if len(words) > SHOWN else []
    return between.join([*words[:SHOWN], *more])


def _refuse(faults: Sequence[str]) -> None:
    if faults:
        raise FolderError(_some(faults, "\n"))


def settle(folders: Sequence[Path]) -> None:
    """Finish what was committed in locked folders, and throw away what was not.

    Raises:
        FolderError: what was committed can't be finished, since somebody changed a file meanwhile.
        OSError: the same by the system.
    """
    journals = {folder: journal_of(folder) for folder in folders}
    counts = {each.transaction for each in journals.values() if each and each.committed}
    forward: dict[Path, Journal] = {}
    for folder, journal in journals.items():
        if journal and journal.transaction in counts:
            forward[folder] = journal
        else:
            roll_back(folder)
    _refuse([fault for folder in forward for fault in barred(folder)])
    for folder in forward:
        commit(folder)
    for folder, journal in forward.items():
        roll_forward(folder, journal)


def _is_any_committed(folders: Sequence[Path]) -> bool:
    return any(journal is not None and journal.committed for journal in map(journal_of, folders))


def _companions(folder: Path) -> set[Path]:
    """Folders that a stopped build was to change with this one and has not finished."""
    journal = journal_of(folder)
    found = set()
    for other in journal.folders if journal else ():
        with suppress(FolderError, OSError):
            theirs = journal_of(other) if other.is_dir() else None
            if journal and theirs and theirs.transaction == journal.transaction:
                found.add(other.resolve())
    return found


def _refuse_overlap(outputs: Sequence[Path], keep: Sequence[Path]) -> None:
    """Internal files inside the public folder would be uploaded with it."""
    for number, folder in enumerate(outputs):
        if not folder.resolve().name:
            raise FolderError(f"{folder} is a whole disk; name a folder of its own")
        for other in outputs[number + 1 :]:
            if _holds(folder, other) or _holds(other, folder):
                raise FolderError(f"{folder} and {other} overlap; name two separate folders")
        for kept in keep:
            if _holds(folder, kept):
                raise FolderError(f"{folder} holds {kept}; name a folder of its own")


def _holds(outer: Path, inner: Path) -> bool:
    """Whether a folder is, or holds, another: by name, or under another name of the same folder."""
    own, theirs = outer.resolve(), inner.resolve()
    return any(path == own or _is_one(path, own) for path in (theirs, *theirs.parents))


def _is_one(path: Path, other: Path) -> bool:
    """Whether two names are of one folder: another build may just have removed one again."""
    try:
        return path.samefile(other)
    except (FileNotFoundError, NotADirectoryError):
        return False
