"""Builds of the real command into the same two folders: several at once, killed, interrupted."""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache, partial
from itertools import combinations
from multiprocessing.synchronize import Barrier
from pathlib import Path
from threading import BrokenBarrierError
from typing import Any

import pytest

from quoter import build
from quoter.cli import main
from quoter.publish.manifest import LOCK, FolderError
from quoter.publish.outputs import held
from tests.catalogues.written import COST_CARD, FOLDER, write_catalogue
from tests.processes import CONTEXT
from tests.trials.publishing import Builds, debris, standing, whole
from tests.trials.trial import Trial, Tried

PROJECT = Path(__file__).resolve().parents[2]
BRIEF = 10  # rounds up to which the command is forked from a process that has read the program
LONGEST = 120.0  # seconds for a build on a busy machine
BUSY = re.compile(
    r"process \d+ on \S+ is building into \S+; build again when it has ended, or with --wait "
    r"\[output-folder\]\n"
)
INTERRUPTED = re.compile(r"interrupted; [^\n]+\n")


def command(words: list[str], log: str, temporary: str, together: Barrier | None) -> None:
    """What `quoter WORDS` does, in a process that is there already.

    Those that are `together` publish at one moment, if all of them get as far within a second.
    """
    if together is not None:
        render = build.render

        def rendered(*given: Any, **more: Any) -> build.Report:
            made = render(*given, **more)
            with suppress(BrokenBarrierError):
                together.wait(1)
            return made

        pytest.MonkeyPatch().setattr(build, "render", rendered)
    handle = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(handle, 2)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    os.environ["TMPDIR"], tempfile.tempdir = temporary, None
    main(words, prog_name="quoter")


@dataclass(frozen=True, slots=True)
class Room:
    """Two output folders, and catalogues to build into them."""

    place: Path
    fresh: bool

    @classmethod
    def at(cls, place: Path, rounds: int) -> Room:
        """A room for so many rounds, without output folders yet."""
        room = cls(place, rounds > BRIEF)
        room.temporary.mkdir()
        name = {"yard.yaml": ("{name: Standard cost card", "{name: Another cost card")}
        write_catalogue(place / "another", {}, name)
        return room

    @property
    def catalogues(self) -> tuple[Path, ...]:
        """Catalogues whose builds differ in their files and in what these hold."""
        return COST_CARD, self.place / "another", FOLDER / "job_sheet"

    @property
    def out(self) -> Path:
        """Holds the output folders and nothing else."""
        return self.place / "out"

    @property
    def temporary(self) -> Path:
        """The system's folder for temporary files, for the commands of this room."""
        return self.place / "temporary"

    def start(self, number: int, *options: str, together: Barrier | None = None) -> Running:
        """Start a build of the catalogue of that number."""
        folders = ("--site", str(self.out / "site"), "--internal", str(self.out / "internal"))
        words = ["build", str(self.catalogues[number]), "--afresh", *folders, *options]
        return Running(words, self.place / f"{number}.log", self.temporary, self.fresh, together)

    def faults(self, among: Sequence[int]) -> list[str]:
        """What is wrong when the folders ought to hold one of some builds."""
        found = [f"left: {each}" for each in debris(self.out)]
        found += [f"left in the temporary folder: {p.name}" for p in self.temporary.iterdir()]
        if whole(self.out, *(builds()[number] for number in among)) is None:
            found.append("the folders don't hold one whole build")
        return found


@cache
def builds() -> tuple[Builds, ...]:
    """What each catalogue comes to when nothing disturbs its build."""
    made: list[Builds] = []
    with tempfile.TemporaryDirectory() as kept:
        room = Room.at(Path(kept), 1)
        for number in range(len(room.catalogues)):
            assert room.start(number).wait() == 0
            made.append({name: standing(room.out, name) for name in ("site", "internal")})
    return tuple(made)


class Running:
    """A command on its way."""

    def __init__(
        self, words: list[str], log: Path, temporary: Path, fresh: bool, together: Barrier | None
    ) -> None:
        self.log = log
        self.fresh: subprocess.Popen[bytes] | None = None
        if fresh:
            given = {**os.environ, "PYTHONPATH": str(PROJECT), "TMPDIR": str(temporary)}
            line = [sys.executable, "-m", "quoter", *words]
            with log.open("wb") as file:
                self.fresh = subprocess.Popen(
                    line, env=given, stdout=subprocess.DEVNULL, stderr=file
                )
        else:
            self.forked = CONTEXT.Process(
                target=command, args=(words, str(log), str(temporary), together)
            )
            self.forked.start()

    @property
    def is_alive(self) -> bool:
        return self.fresh.poll() is None if self.fresh else self.forked.is_alive()

    def send(self, number: signal.Signals) -> None:
        process = self.fresh or self.forked
        if self.is_alive and process.pid is not None:
            os.kill(process.pid, number)

    def wait(self) -> int | None:
        if self.fresh:
            return self.fresh.wait(LONGEST)
        self.forked.join(LONGEST)
        return self.forked.exitcode

    @property
    def said(self) -> str:
        return self.log.read_text()


def at_once(rounds: int, crowd: int) -> Tried:
    """Builds at once: one comes through and the others say so, or wait where they are told to."""
    tried = Tried()
    with tempfile.TemporaryDirectory() as kept:
        room = Room.at(Path(kept), rounds)
        crowds = [*combinations(range(3), crowd)]
        for turn in range(rounds):
            options, members = ("--wait",) * (turn % 2), crowds[turn % len(crowds)]
            together = CONTEXT.Barrier(crowd)
            running = {n: room.start(n, *options, together=together) for n in members}
            codes = {number: each.wait() for number, each in running.items()}
            through = [number for number, code in codes.items() if code == 0]
            refused = [each.said for number, each in running.items() if codes[number] == 1]
            faults = room.faults(through)
            faults += [words for words in refused if not BUSY.fullmatch(words) or options]
            faults += [f"exit {code}" for code in codes.values() if code not in (0, 1)]
            tried.expect(not faults, f"round {turn}: {'; '.join(faults)}")
    return tried


def stopped_by(number: signal.Signals, turns: int, rounds: int) -> Tried:
    """Builds stopped at random moments, half of them while they publish; another follows each.

    The command is forked from a process that has read the program: there is nothing to stop before.
    """
    tried, chance = Tried(), random.Random(f"{number.name} {turns}")
    with tempfile.TemporaryDirectory() as kept:
        room = Room.at(Path(kept), 1)
        before = chance.randrange(3)
        assert room.start(before).wait() == 0
        for turn in range(rounds):
            new, after = chance.randrange(3), chance.randrange(3)
            running = room.start(new)
            _pause(room, running, chance, publishing=turn % 2 == 0)
            running.send(number)
            code = running.wait()
            faults = _settled(room, [before, new])
            if number is signal.SIGINT and code != 0 and not INTERRUPTED.fullmatch(running.said):
                faults.append(f"it says {running.said!r}")
            code = room.start(after).wait()
            faults += [f"the next build ends with {code}"] * (code != 0) + room.faults([after])
            tried.expect(not faults, f"round {turn}: {'; '.join(faults)}")
            before = after
    return tried


def _pause(room: Room, running: Running, chance: random.Random, *, publishing: bool) -> None:
    """Any moment of a build; or one soon after files of it begin to stand somewhere."""
    if not publishing:
        time.sleep(chance.uniform(0, 1))
        return
    before = _entries(room.out)
    while running.is_alive and _entries(room.out) == before:
        time.sleep(0.001)
    time.sleep(chance.uniform(0, 0.15))


def _entries(folder: Path) -> set[str]:
    """What stands in and just below a folder, but for locks."""
    return {
        path.as_posix()
        for part in (folder, *folder.iterdir())
        for path in part.iterdir()
        if path.name != LOCK
    }


def _settled(room: Room, among: Sequence[int]) -> list[str]:
    """What is wrong when folders are settled without a build, in a copy of them."""
    copy = room.place / "copy"
    shutil.copytree(room.out, copy)
    faults = []
    try:
        with held([copy / "site", copy / "internal"]):
            pass
    except FolderError as fault:
        faults.append(str(fault))
    if whole(copy, *(builds()[number] for number in among)) is None:
        faults.append("settled, the folders don't hold one whole build")
    shutil.rmtree(copy)
    return faults


TRIALS = (
    Trial(
        "two_builds",
        "Rounds of two builds at once into the same folders: one whole build stands in both.",
        partial(at_once, crowd=2),
        short=2,
        long=60,
    ),
    Trial(
        "three_builds",
        "Rounds of three builds at once into the same folders: one whole build stands in both.",
        partial(at_once, crowd=3),
        short=1,
        long=60,
    ),
    Trial(
        "build_killed",
        "Builds killed at random: the next one makes it good and leaves nothing behind.",
        partial(stopped_by, signal.SIGKILL, 0),
        short=3,
        long=200,
    ),
    Trial(
        "build_interrupted",
        "Builds interrupted at random by Ctrl-C: they say so, and the next one just works.",
        partial(stopped_by, signal.SIGINT, 0),
        short=2,
        long=40,
    ),
)
