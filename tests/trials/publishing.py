"""Publishing stopped at every event of the file system, and read while it goes on."""

from __future__ import annotations

import os
import shutil
import signal
import stat
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import Any

import pytest

from quoter.publish.manifest import (
    EARLIER_MARK,
    LOCK,
    MANIFEST,
    STAGING,
    FolderError,
    digest_of,
    manifest_text,
)
from quoter.publish.outputs import HALF, NOTHING, WHOLE, Interrupted, held
from tests.processes import CONTEXT
from tests.trials.trial import Trial, Tried

Contents = dict[str, bytes]
Builds = dict[str, Contents]  # files by output folder

# What an event is: everything that changes what stands on a disk, or has it kept there.
CHANGES = {"os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate"}
CHANGES |= {"os.chmod", "shutil.rmtree", "shutil.move", "fcntl.flock"}


def build_of(word: str, *more: str, without: tuple[str, ...] = ()) -> Builds:
    """Files that differ from those of another word in every byte that counts."""
    names = [*(f"{part}/{name}.html" for part in "ab" for name in "xyz"), "index.html", *more]
    kept = [name for name in names if name not in without]
    site = {name: f"{word}: {name}\n".encode() * 50 for name in kept}
    inside = {"costing.json": b"{}", "review/index.html": b"", "workbooks/m.xlsx": b""}
    return {"site": site, "internal": {name: word.encode() * 60 for name in inside}}


NOTHING_YET: Builds = {}
OLD = build_of("old", "gone.html", "only/here.html", "was_file", "was_folder/inside.html")
PLAIN = build_of("old")
NEW = build_of(
    "new", "added.html", "c/x.html", "was_file/now.html", "was_folder", without=("b/z.html",)
)
NEWER = build_of("newer", "index.json", without=("a/x.html",))
OWN = {".git/config": b"mine", ".htaccess": b"mine", "about/me.html": b"mine", "a/own.css": b"mine"}
STARTS: dict[str, tuple[Builds, Builds]] = {
    "a first build": (NOTHING_YET, NEW),
    "the same files": (PLAIN, build_of("new")),
    "files that come and go": (OLD, NEW),
}


def publish(room: Path, build: Builds, *only: str) -> None:
    outputs = {room / name: files for name, files in build.items() if name in (only or build)}
    with held(list(outputs)) as held_ones:
        held_ones.publish(outputs)


def standing(room: Path, name: str) -> Contents:
    """What stands in a folder, but for what is the publisher's own and somebody else's."""
    folder = room / name
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
    return {name: content for name, content in found.items() if not aside(name)}


def aside(name: str) -> bool:
    return name in OWN or name.split("/")[0] in (MANIFEST, LOCK, STAGING, EARLIER_MARK)


def whole(room: Path, *among: Builds) -> Builds | None:
    """Which of some builds stands in both folders, every file and no other."""
    names = ("site", "internal")
    found = {name: standing(room, name) for name in names}
    return next((b for b in among if found == {n: b.get(n, {}) for n in names}), None)


def debris(room: Path, names: tuple[str, ...] = ("site", "internal")) -> list[str]:
    """What no finished run leaves: locks, stagings, empty folders, anything beside the folders."""
    found = [path.name for path in room.iterdir() if path.name not in ("site", "internal")]
    for name in names:
        for path in sorted((room / name).rglob("*")):
            below = path.relative_to(room / name).as_posix()
            empty = path.is_dir() and not any(path.iterdir())
            if empty or path.name in (LOCK, STAGING):
                found.append(f"{name}/{below}")
    return found


def faults_of(room: Path, build: Builds, name: str) -> list[str]:
    """What is wrong with a folder that a build was just published into."""
    found = []
    if standing(room, name) != build[name]:
        found.append(f"{name} is not the build")
    digests = {file: digest_of(content) for file, content in build[name].items()}
    if (room / name / MANIFEST).read_bytes() != manifest_text(digests):
        found.append(f"{name} has another list")
    return found + [f"left: {each}" for each in debris(room, (name,))]


@contextmanager
def unconfirmed() -> Iterator[None]:
    """Spares the disk: what the system was told outlives a process."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, "fsync", lambda _: None)
        yield


# What stops a run


def at_every_event(what: Callable[[int | None], None]) -> None:
    """From now on, do something before each event; it gets the handle of what the disk is to keep.

    What it does itself is no event.
    """
    busy = False

    def event(handle: int | None = None) -> None:
        nonlocal busy
        if not busy:
            busy = True
            try:
                what(handle)
            finally:
                busy = False

    def audit(name: str, arguments: tuple[Any, ...]) -> None:
        if name == "open":
            flags = arguments[2]
            if isinstance(flags, int) and flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
                event()
        elif name in CHANGES:
            event()

    pytest.MonkeyPatch().setattr(os, "fsync", event)
    sys.addaudithook(audit)


def stop_at(number: int, what: Callable[[int | None], None]) -> None:
    """From now on, do something before the event of that number."""
    left = number

    def one_more(handle: int | None) -> None:
        nonlocal left
        left -= 1
        if left == -1:
            what(handle)

    at_every_event(one_more)


def die(handle: int | None) -> None:
    """Die, and of a file that the disk was not asked to keep yet leave half."""
    if handle is not None and stat.S_ISREG(os.fstat(handle).st_mode):
        os.ftruncate(handle, os.fstat(handle).st_size // 2)
    os.kill(os.getpid(), signal.SIGKILL)


def interrupt(_: int | None) -> None:
    raise KeyboardInterrupt


def stopped(room: Path, build: Builds, event: int, said: Path | None) -> None:
    """Publish and be killed at an event, or interrupted where there is a file for what it says."""
    stop_at(event, die if said is None else interrupt)
    try:
        publish(room, build)
    except Interrupted as fault:
        assert said is not None
        said.write_text(str(fault))
        os._exit(1)
    os._exit(0)


def ended(target: Callable[..., None], *words: Any) -> int | None:
    process = CONTEXT.Process(target=target, args=words)
    process.start()
    process.join()
    return process.exitcode


# The walk


def walk(name: str, before: Builds, after: Builds, step: int, tried: Tried, *, kill: bool) -> None:
    how = "killed" if kill else "interrupted"
    with tempfile.TemporaryDirectory() as kept:
        start, said = Path(kept) / "start", Path(kept) / "said"
        start.mkdir()
        publish(start, before)
        for folder in before:
            for own, content in OWN.items():
                (start / folder / own).parent.mkdir(parents=True, exist_ok=True)
                (start / folder / own).write_bytes(content)
        for event in count(0, step):
            room = Path(kept) / "room"
            shutil.copytree(start, room)
            said.write_text("")
            code = ended(stopped, room, after, event, None if kill else said)
            if code == 0:
                return
            where = f"{name}, {how} at event {event}"
            for fault in _after(room, before, after, said.read_text()):
                tried.failed.append(f"{where}: {fault}")
            tried.count += 1
            shutil.rmtree(room)


def _after(room: Path, before: Builds, after: Builds, said: str) -> list[str]:
    """What is wrong after a stopped run, with each way in which work may go on."""
    faults = _untrue(room, before, after, said) if said else []
    ways = (_next_has_both, _next_has_one, _next_fails, _folder_moved)
    for way in ways:
        copy = room.with_name("copy")
        shutil.copytree(room, copy)
        try:
            faults += [f"{way.__name__.strip('_')}: {fault}" for fault in way(copy, before, after)]
            lost = [f"{f}/{own}" for f in before for own in OWN if not (copy / f / own).is_file()]
            faults += [f"lost {each}" for each in lost if "moved" not in way.__name__]
        except (FolderError, OSError) as fault:
            faults.append(f"{way.__name__.strip('_')}: {fault}")
        shutil.rmtree(copy)
    return faults


def _untrue(room: Path, before: Builds, after: Builds, said: str) -> list[str]:
    state = said.removeprefix("interrupted; ")
    true = {
        NOTHING: whole(room, before) is not None,
        WHOLE: whole(room, after) is not None,
        HALF: whole(room, before) is None,
    }
    return [] if true.get(state) else [f"says {said}"]


def _next_has_both(room: Path, before: Builds, after: Builds) -> list[str]:
    publish(room, NEWER)
    return faults_of(room, NEWER, "site") + faults_of(room, NEWER, "internal")


def _next_has_one(room: Path, before: Builds, after: Builds) -> list[str]:
    publish(room, NEWER, "site")
    faults = faults_of(room, NEWER, "site")
    if standing(room, "internal") not in (before.get("internal", {}), after["internal"]):
        faults.append("internal is of no build")
    publish(room, NEWER, "internal")
    return faults + faults_of(room, NEWER, "internal")


def _next_fails(room: Path, before: Builds, after: Builds) -> list[str]:
    """The next build finds the folders settled, also if it then publishes nothing."""
    with held([room / "site", room / "internal"]):
        pass
    faults = [] if whole(room, before, after) is not None else ["folders of different builds"]
    return faults + [f"left: {each}" for each in debris(room)]


def _folder_moved(room: Path, before: Builds, after: Builds) -> list[str]:
    """What stands where it stood is of one build, and what was moved away takes the next one."""
    if not (room / "internal").exists():
        return []
    (room / "internal").rename(room / "moved")
    with held([room / "site"]):
        pass
    faults = []
    if standing(room, "site") not in (before.get("site", {}), after["site"]):
        faults.append("site is of no build")
    (room / "moved").rename(room / "internal")
    publish(room, NEWER)
    return faults + faults_of(room, NEWER, "site") + faults_of(room, NEWER, "internal")


def walked(step: int, *, kill: bool) -> Tried:
    tried = Tried()
    with unconfirmed():
        for name, (before, after) in STARTS.items():
            walk(name, before, after, step, tried, kill=kill)
    return tried


# The reader


BOTH = {name: {OLD["site"][name], NEW["site"][name]} for name in OLD["site"] if name in NEW["site"]}


def unread(room: Path) -> list[str]:
    """What a reader finds missing or half of the files that are in both builds."""
    found = []
    for name, contents in BOTH.items():
        try:
            if (room / "site" / name).read_bytes() not in contents:
                found.append(f"{name} is half written")
        except (FileNotFoundError, NotADirectoryError):
            found.append(f"{name} is missing")
    return found


def publish_in_turn(room: Path, times: int) -> None:
    for turn in range(times):
        publish(room, (NEW, OLD)[turn % 2])


def publish_looked_at(room: Path, times: int, log: Path) -> None:
    """Publish, and look before each event; what is found is written down."""
    handle = os.open(log, os.O_WRONLY | os.O_APPEND | os.O_CREAT)

    def look(_: int | None) -> None:
        for word in unread(room):
            os.write(handle, f"{word}\n".encode())

    at_every_event(look)
    publish_in_turn(room, times)


def read_meanwhile(times: int) -> Tried:
    """Read files while builds are published in turn: whenever a reader gets round to, and then
    between every two events of the file system.
    """
    tried = Tried()
    with tempfile.TemporaryDirectory() as kept:
        room, log = Path(kept), Path(kept) / "log"
        publish(room, OLD)
        process: ForkServerProcess = CONTEXT.Process(target=publish_in_turn, args=(room, times))
        process.start()
        while process.is_alive():
            tried.failed += unread(room)
        process.join()
        tried.expect(process.exitcode == 0, "a publish failed")
        publish(room, OLD)
        code = ended(publish_looked_at, room, 2, log)
        tried.expect(code == 0, "a publish that was looked at failed")
        tried.failed += log.read_text().splitlines()
    tried.count += times
    return tried


TRIALS = (
    Trial(
        "publish_killed",
        "Publishes killed at every event of the file system: the next run makes it good.",
        lambda step: walked(step, kill=True),
        short=23,
        long=1,
    ),
    Trial(
        "publish_interrupted",
        "Publishes interrupted at every event of the file system: what is said is true.",
        lambda step: walked(step, kill=False),
        short=23,
        long=1,
    ),
    Trial(
        "publish_read",
        "Publishes, while a reader looks: no file is ever missing or half.",
        read_meanwhile,
        short=6,
        long=120,
    ),
)
