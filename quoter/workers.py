"""Who does the tasks of a build: this process, several that are forked from it, or other machines.

Whoever does them, the bytes are the same. Forked processes find the priced catalogue in their
memory, so that nothing is read or costed again; they end with the process they were forked from,
however it ends, and hold none of its locks. On another machine a worker is sent the catalogue's
files, reads and costs them once, and keeps the result for the next task.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import date
from functools import lru_cache, partial
from pathlib import Path
from tempfile import TemporaryDirectory

from quoter.catalogue.mark import looked_at
from quoter.intake import LARGEST_PICTURE, IntakeError, read_file
from quoter.pricing.priced import price_catalogue
from quoter.publish.kept import program
from quoter.tasks import LONGEST_FIRST, Made, Task, Work

Say = Callable[[str], None]
Doing = Callable[[Work, Sequence[Task], Say], Iterator[Made]]
"""Gives what each task made, in the order of the tasks; the first that can't be done says why."""

_work: list[Work] = []  # in a forked process: what it was forked to do


def alone(work: Work, tasks: Sequence[Task], say: Say) -> Iterator[Made]:
    """This process does one task after the other."""
    for task in tasks:
        say(work.said(task))
        yield work.do(task)


def shared_by(workers: int) -> Doing:
    """So many processes do them, forked from this one when the catalogue is priced."""

    def doing(work: Work, tasks: Sequence[Task], say: Say) -> Iterator[Made]:
        count = min(workers, len(tasks))
        if count < 2:
            yield from alone(work, tasks, say)
            return
        work.ready(tasks)
        with _forked(work, count) as executor:
            yield from _results(executor, _do_here, work, tasks, say)

    return doing


def done_by(executor: Executor, source: Source) -> Doing:
    """Whoever an executor of the standard interface has do them, on whatever machine."""

    def doing(work: Work, tasks: Sequence[Task], say: Say) -> Iterator[Made]:
        yield from map(work.kept, _results(executor, partial(_do_far, source), work, tasks, say))

    return doing


def _results(
    executor: Executor, do: Callable[[Task], Made], work: Work, tasks: Sequence[Task], say: Say
) -> Iterator[Made]:
    begun: dict[Task, Future[Made]] = {}
    for task in sorted(tasks, key=lambda task: LONGEST_FIRST.index(task.kind)):
        begun[task] = executor.submit(do, task)
    for task in tasks:
        say(work.said(task))
        yield begun.pop(task).result()


def _do_here(task: Task) -> Made:
    return _work[0].do(task)


@contextmanager
def _forked(work: Work, count: int) -> Iterator[Executor]:
    """Processes that end when a pipe does whose other end this one alone has."""
    ends, stays = os.pipe()
    context = multiprocessing.get_context("fork")
    executor = ProcessPoolExecutor(count, context, _begin, (work, ends, stays))
    try:
        with _uninterrupted():
            executor.submit(int)  # the first to be submitted has all of them forked
        yield executor
        executor.shutdown()
    finally:
        os.close(stays)  # whoever still works on what nobody waits for any more ends at once
        executor.shutdown(cancel_futures=True)
        os.close(ends)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Ctrl-C is for this process, after it has forked; those that it forks never hear of it."""
    before = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin(work: Work, ends: int, stays: int) -> None:
    """In a forked process: keep what it is to do, and end with who forked it."""
    os.close(stays)
    _work.append(work)
    threading.Thread(target=_end_with, args=(ends,), daemon=True).start()


def _end_with(ends: int) -> None:
    os.read(ends, 1)
    os._exit(1)


@dataclass(frozen=True)
class Source:
    """All that a build rests on, to be sent to another machine.

    `files` are the catalogue's by name; a folder, which has none, is there for its name.
    """

    files: Mapping[str, bytes | None]
    as_of: date | None
    settings: tuple[str, ...]
    published: bool
    program: str

    def __hash__(self) -> int:
        """By the names and contents of the files: what is equal has been read before."""
        return hash((frozenset(self.files.items()), self.as_of, self.settings, self.published))


def source_of(folder: Path, as_of: date | None, settings: Sequence[str], published: bool) -> Source:
    """What another machine is sent of a catalogue: all that a reading may look at.

    Of what can't be read the name is sent alone: who reads the catalogue here is told of it.
    """
    files: dict[str, bytes | None] = {}
    for name, path in looked_at(folder):
        files[name] = None if path.is_dir() else b""
        with suppress(OSError, IntakeError):
            if path.is_file():
                files[name] = read_file(path, LARGEST_PICTURE)
    return Source(files, as_of, tuple(settings), published, program())


def _do_far(source: Source, task: Task) -> Made:
    """On another machine: one task of a catalogue that is read and costed when it is new here."""
    return _far_work(source)[0].do(task)


@lru_cache(maxsize=1)
def _far_work(source: Source) -> tuple[Work, TemporaryDirectory[str]]:
    """What a catalogue's build consists of, and the folder that it is read from.

    Raises:
        RuntimeError: another version of the program is installed here.
    """
    if source.program != program():
        raise RuntimeError("a worker has another version of quoter, or of what it writes with")
    kept = TemporaryDirectory(prefix="quoter-")
    folder = Path(kept.name, "catalogue")
    for name, content in source.files.items():
        path = folder / name
        (path.parent if content is not None else path).mkdir(parents=True, exist_ok=True)
        if content is not None:
            path.write_bytes(content)
    pricing, warnings = price_catalogue(folder, source.as_of, settings=source.settings)
    return Work(folder, pricing, warnings, published=source.published), kept
