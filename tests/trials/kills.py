"""Every command that writes, killed at any moment: nothing is lost, doubled, halved or left lying.

Twice: a run whose every step on the disk is looked at as a kill before that step would leave it,
and real processes that are killed at random. A killed process leaves what stands on the disk, since
the system has its files and drops its locks; what it had not handed over yet is gone.
"""

from __future__ import annotations

import os
import random
import shutil
import stat
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from quoter.cli import main
from quoter.quotes.kept.checking import check_archive
from tests.quotes.processes import started
from tests.trials.acts import ACTS, Act, ran, template
from tests.trials.trial import Trial, Tried

Tree = dict[str, bytes]
STEPS = {
    *("os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod", "os.truncate", "os.link"),
    *("os.symlink", "os.utime"),
}


def tree(root: Path) -> Tree:
    """Every file that a person sees, by its place."""
    found = everything(root).items()
    return {name: content for name, content in found if not hidden(name) and name[-1] != "/"}


def everything(root: Path) -> Tree:
    """Every file, and every empty folder with a stroke behind it."""
    paths = sorted(root.rglob("*"))
    empty = [path for path in paths if path.is_dir() and not any(path.iterdir())]
    files = {path.relative_to(root).as_posix(): path for path in paths if path.is_file()}
    return {name: path.read_bytes() for name, path in files.items()} | {
        f"{path.relative_to(root).as_posix()}/": b"" for path in empty
    }


def hidden(name: str) -> bool:
    return any(part.startswith(".") for part in Path(name).parts)


@contextmanager
def watched(folder: Path) -> Iterator[Path]:
    """Have this process put its temporary files into a folder of its own."""
    before = tempfile.tempdir
    folder.mkdir(exist_ok=True)
    tempfile.tempdir = str(folder)
    try:
        yield folder
    finally:
        tempfile.tempdir = before


@dataclass(frozen=True, slots=True)
class Expected:
    """What a command makes of the template: before it, after it, and after it ran once more."""

    before: Tree
    after: Tree
    again: Tree
    lasting: frozenset[str]  # hidden files that stay, such as the lock


@cache
def expected(act: Act) -> Expected:
    with tempfile.TemporaryDirectory() as kept:
        root = shutil.copytree(template(), Path(kept) / "root")
        before = tree(root)
        if ran(act, root):
            raise ValueError(f"{act.name} does not do what it is tried with")
        after = tree(root)
        if after == before:
            raise ValueError(f"{act.name} finds nothing to do")
        ran(act, root)
        lasting = frozenset(name for name in everything(root) if hidden(name))
        return Expected(before, after, tree(root), lasting)


def judge(act: Act, root: Path, temporary: Path, when: str, tried: Tried) -> None:
    """Look at what a killed run left, run the command once more, and look again."""
    want, left = expected(act), tree(root)
    told = f"{act.name} killed {when}"
    partly = [
        name
        for name in {*left, *want.before, *want.after}
        if left.get(name) not in (want.before.get(name), want.after.get(name))
    ]
    tried.expect(not partly, f"{told}: {', '.join(sorted(partly))} is neither old nor new")
    whole = left in (want.before, want.after)
    tried.expect(whole or act.several, f"{told}: some files are old and some are new")
    strays = sorted(path.name for path in temporary.iterdir())
    tried.expect(not strays, f"{told}: {', '.join(strays)} is left in the temporary folder")
    ran(act, root)
    if whole:
        made = want.after if left == want.before else want.again
        tried.expect(tree(root) == made, f"{told}: the next run does not go on from there")
    else:
        mended = tree(root) in (want.after, want.again)
        tried.expect(mended, f"{told}: the next run does not mend it")
    debris = [name for name in everything(root) if hidden(name) and name not in want.lasting]
    tried.expect(not debris, f"{told}: {', '.join(debris)} is left after the next run")
    faults = check_archive(root / "quotes").faults
    tried.expect(not faults, f"{told}: {'; '.join(faults)}")


# Every step


def act_and_copy(words: list[str], root: Path, temporary: Path, states: Path) -> None:
    """Run a command, and copy what stands on the disk before every step it takes there.

    What is being written when it is handed to the disk is copied by half.
    """
    count, busy, real = 0, False, os.fsync

    def copy(half: str = "") -> None:
        nonlocal count, busy
        busy = True
        state = states / f"{count:04}"
        shutil.copytree(root, state / "root", symlinks=True)
        shutil.copytree(temporary, state / "temporary", symlinks=True)
        if half.startswith(f"{root}{os.sep}"):
            written = state / "root" / Path(half).relative_to(root)
            os.truncate(written, written.stat().st_size // 2)
        count, busy = count + 1, False

    def step(event: str, words: tuple[Any, ...]) -> None:
        if busy or not words or not isinstance(words[0], str | bytes | os.PathLike):
            return
        if event == "open":
            _, mode, flags = words
            writes = any(letter in "wax+" for letter in mode or "") or (
                mode is None and flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
            )
        else:
            writes = event in STEPS
        path = os.fsdecode(words[0])
        if writes and path.startswith((str(root), str(temporary))):
            copy()

    def fsync(fd: Any) -> None:
        handle = fd if isinstance(fd, int) else fd.fileno()
        file = str(Path(f"/proc/self/fd/{handle}").readlink())
        copy(file if stat.S_ISREG(os.fstat(handle).st_mode) else "")
        real(fd)

    tempfile.tempdir = str(temporary)
    os.fsync = fsync
    sys.addaudithook(step)
    CliRunner().invoke(main, words)


def walk(act: Act, tried: Tried, every: int = 1) -> None:
    """Judge what a kill before each step of a command would leave; like states once.

    Args:
        act: the command
        tried: what comes of it
        every: how many unlike states one is judged of
    """
    with tempfile.TemporaryDirectory() as kept:
        place = Path(kept).resolve()
        root = shutil.copytree(template(), place / "root")
        states = place / "states"
        for folder in (states, place / "temporary"):
            folder.mkdir()
        child = started(act_and_copy, act.within(root), root, place / "temporary", states)
        child.join()
        tried.expect(child.exitcode == 0, f"{act.name} ended with {child.exitcode}")
        seen: list[tuple[Tree, Tree]] = []
        for number, state in enumerate(sorted(states.iterdir())):
            found = everything(state / "root"), everything(state / "temporary")
            if found in seen:
                continue
            seen.append(found)
            if len(seen) % every:
                continue
            with watched(place / "next"):
                when = f"before its step {number}"
                judge(act, state / "root", state / "temporary", when, tried)
            shutil.rmtree(state)


def every_step(every: int) -> Tried:
    """Walk through every command."""
    tried = Tried()
    for act in ACTS:
        walk(act, tried, every)
    return tried


# At random


def acting(words: list[str], temporary: Path) -> None:
    """Run a command, as a process of its own."""
    tempfile.tempdir = str(temporary)
    CliRunner().invoke(main, words)


def killed(act: Act, moment: float, place: Path) -> tuple[Path, Path]:
    """What a run leaves that is killed some seconds after its start."""
    root, temporary = shutil.copytree(template(), place / "root"), place / "temporary"
    temporary.mkdir()
    child = started(acting, act.within(root), temporary)
    child.join(moment)
    child.kill()
    child.join()
    return root, temporary


def at_random(count: int) -> Tried:
    """Kill each command so many times, at moments of its run."""
    tried, chance = Tried(), random.Random(20261110)
    for act in ACTS:
        with tempfile.TemporaryDirectory() as kept:
            start = time.monotonic()
            killed(act, 600.0, Path(kept).resolve())
            span = time.monotonic() - start
        for _ in range(count):
            moment = chance.uniform(0, span)
            with tempfile.TemporaryDirectory() as kept:
                place = Path(kept).resolve()
                root, temporary = killed(act, moment, place)
                with watched(place / "next"):
                    judge(act, root, temporary, f"after {moment:.3f} s", tried)
    return tried


TRIALS = (
    Trial(
        "killed-at-every-step",
        "Each writing command as a kill before each of its steps on the disk leaves it.",
        every_step,
        short=3,
        long=1,
    ),
    Trial(
        "killed-at-random",
        "Each writing command, killed at random moments of its run.",
        at_random,
        short=1,
        long=200,
    ),
)
