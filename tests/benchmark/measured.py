"""What a process costs: CPU and wall seconds, and the most memory it held; stages within one."""

from __future__ import annotations

import gc
import importlib
import json
import os
import resource
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from time import perf_counter, process_time
from typing import Any

from quoter.cli import COLLECTED

PROJECT = Path(__file__).resolve().parent.parent.parent


@dataclass(frozen=True, slots=True)
class Cost:
    """What a process took: seconds of CPU, its children's included, and of wall; bytes of memory.

    `said` is what it wrote to its standard output.
    """

    cpu: float
    wall: float
    memory: float
    said: str


def run(*words: str) -> Cost:
    """The cost of a process of these words.

    A process is measured from outside, so whoever measures has to stay small: what it holds counts
    as its child's until the child's own program begins.

    Raises:
        RuntimeError: it failed, with the end of what it said.
    """
    with tempfile.TemporaryFile() as said, tempfile.TemporaryFile() as told:
        start = perf_counter()
        process = subprocess.Popen(words, cwd=PROJECT, stdout=said, stderr=told)
        _, status, used = os.wait4(process.pid, 0)
        wall = perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
        said.seek(0)
        told.seek(0)
        if process.returncode:
            raise RuntimeError(f"{' '.join(words)}: {told.read()[-2000:].decode()}")
        cpu = used.ru_utime + used.ru_stime
        return Cost(cpu, wall, used.ru_maxrss * 1024, said.read().decode())


def quickest(times: int, *words: str) -> Cost:
    """The least of several runs, since others take from a process and never give to it."""
    return min((run(*words) for _ in range(times)), key=lambda cost: cost.cpu)


def python(*words: str) -> tuple[str, ...]:
    """The words that start Python as the program is started."""
    return (sys.executable, *words)


def quoter(*words: str | Path) -> tuple[str, ...]:
    """The words that start a command of the program."""
    return python("-m", "quoter", *map(str, words))


def elsewhere(name: str, *arguments: object) -> Any:
    """What a function of a module of this package gives in a process of its own.

    It is told by name, as `module:function`, since whoever measures would grow by importing it.
    Arguments and result are what JSON holds.
    """
    given = json.dumps([str(each) if isinstance(each, Path) else each for each in arguments])
    return json.loads(run(*python("-m", __name__, name, given)).said.splitlines()[-1])


@dataclass(slots=True)
class Stages:
    """CPU and wall seconds by stage, in the order they were first entered."""

    cpu: dict[str, float] = field(default_factory=dict)
    wall: dict[str, float] = field(default_factory=dict)

    @contextmanager
    def of(self, name: str) -> Iterator[None]:
        """Count what is done within as one stage."""
        cpu, wall = process_time(), perf_counter()
        yield
        self.cpu[name] = self.cpu.get(name, 0) + process_time() - cpu
        self.wall[name] = self.wall.get(name, 0) + perf_counter() - wall


def least(rounds: int, *works: Callable[[], object]) -> list[float]:
    """CPU seconds of each work, the least of some rounds in which they take turns."""
    found = [float("inf")] * len(works)
    for _ in range(rounds):
        for index, work in enumerate(works):
            gc.collect()
            start = process_time()
            work()
            found[index] = min(found[index], process_time() - start)
    return found


def memory_so_far() -> float:
    """The most bytes of memory that this process has held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def calibration() -> float:
    """CPU seconds of a fixed piece of work, by which seconds of two machines are compared.

    It is what the program does most: small objects, dictionaries, texts joined, bytes compressed.
    The median of some, and no least, for what it is compared with has others beside it too.
    """
    return median(least(1, _work)[0] for _ in range(5))


def _work() -> int:
    cells = {n: (n % 97, f"row {n}", n / 7) for n in range(60_000)}
    total = sum(cell[0] for cell in cells.values())
    text = "".join([f'<c r="{n}"><v>{cell[2]!r}</v></c>' for n, cell in cells.items()])
    return total + len(zlib.compress(text.encode(), 6))


def main(words: Sequence[str]) -> None:
    """Call `module:function` with the arguments that follow as JSON; write what it gives."""
    gc.set_threshold(*COLLECTED)  # as the command does
    module, _, function = words[0].partition(":")
    given = getattr(importlib.import_module(f"tests.benchmark.{module}"), function)(
        *json.loads(words[1])
    )
    sys.stdout.write(f"{json.dumps(given)}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
