"""Real processes that write quotes at once, and that are killed at a chosen moment."""

from __future__ import annotations

import os
import signal
import stat
import sys
import time
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerProcess
from multiprocessing.synchronize import Barrier
from pathlib import Path
from types import FrameType
from typing import Any

from quoter.catalogue import adding
from quoter.quotes import QuoteError
from quoter.quotes.kept import archive, store
from quoter.quotes.kept.archive import ORDER_FILES, locked
from quoter.quotes.kept.numbering import QuoteName
from quoter.quotes.kept.outcomes import DECIDED
from quoter.quotes.kept.store import confirm, settle
from tests.processes import CONTEXT
from tests.quotes.made import ISSUED, put, put_revision

KILLED = -signal.SIGKILL
WRITERS = {module.__file__ for module in (adding, archive, store)}
NOBODY = 65534
WISH: dict[str, object] = {"model": "punt", "note": "in blue"}
CHANCE = Decimal("0.25")


def started(target: Callable[..., None], *words: Any) -> ForkServerProcess:
    process = CONTEXT.Process(target=target, args=words)
    process.start()
    return process


def ended(target: Callable[..., None], *words: Any) -> int | None:
    """How a process ended: 0, or -9 where it was killed."""
    process = started(target, *words)
    process.join()
    return process.exitcode


# What they do


def issuing(folder: Path) -> None:
    put(folder, prepared_by="the killed")


def revising(folder: Path) -> None:
    put_revision(folder, "2026-0002", prepared_by="the killed")


def settling(folder: Path) -> None:
    settle(folder, "2026-0002", "won", date(2026, 11, 20), reason="the killed")


def confirming(folder: Path) -> None:
    confirm(folder, QuoteName(2026, 2), lambda name: order_of(str(name)))


def order_of(name: str) -> dict[str, bytes]:
    """The files of a confirmation; each tells its name, and none fits in one small write."""
    return dict.fromkeys(ORDER_FILES, f"{name} by the killed\n".encode() * 500)


ACTIONS = {"issue": issuing, "revise": revising, "settle": settling, "confirm": confirming}


def issue_once(folder: Path, ready: Barrier, issued: date, worker: str, log: Path) -> None:
    """Wait for all the others, then take a number and write it down."""
    ready.wait()
    log.write_text(put(folder, issued, prepared_by=worker))


def issue_on_and_on(folder: Path, years: tuple[int, ...], log: Path) -> None:
    """Take numbers until killed; each is written down as soon as it was given."""
    handle = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    while True:
        for year in years:
            os.write(handle, f"{put(folder, date(year, 11, 10))}\n".encode())


def issue_the_same(folder: Path, ready: Barrier, worker: str, log: Path) -> None:
    """Wait for all the others, then quote the request that they quote too."""
    ready.wait()
    try:
        log.write_text(put(folder, request=WISH, prepared_by=worker))
    except QuoteError as fault:
        log.write_text(f"refused: {fault}")


def live(folder: Path, ready: Barrier, worker: int, log: Path) -> None:
    """Wait for all the others; then issue a quote, send it and decide it, or revise another's."""
    ready.wait()
    name = put(folder, prepared_by=f"worker {worker}")
    settle(folder, name, "sent", ISSUED, chance=Decimal(worker) / 100, by=f"worker {worker}")
    result = DECIDED[worker % 4] if worker % 4 < 3 else None
    if result is not None:
        settle(folder, name, result, ISSUED, reason=f"of {worker}", by=f"worker {worker}")
    else:
        put_revision(folder, name, prepared_by=f"worker {worker}")
    log.write_text(name)


def live_on_and_on(folder: Path, log: Path, worker: int) -> None:
    """Issue, send, state and decide until killed; each is written down as soon as it is done."""
    handle = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    while True:
        name = put(folder, prepared_by=f"worker {worker}")
        os.write(handle, f"{name} issued\n".encode())
        for result in ("sent", None, "lost"):
            settle(folder, name, result, ISSUED, chance=None if result == "lost" else CHANCE)
            os.write(handle, f"{name} {result}\n".encode())
        put_revision(folder, name, even_so=True, prepared_by=f"worker {worker}")
        os.write(handle, f"{name} revised\n".encode())


def hold_the_lock(folder: Path, held: Connection) -> None:
    with locked(folder):
        held.send("held")
        time.sleep(3600)


def issue_as_nobody(elsewhere: Path, folder: Path, told: Connection) -> None:
    """Try to issue without the rights of an administrator, for whom nothing is read-only.

    First elsewhere with them, so that all modules are read that only an administrator may read.
    """
    put(elsewhere)
    if os.geteuid() == 0:
        os.setgid(NOBODY)
        os.setuid(NOBODY)
    try:
        told.send(put(folder))
    except QuoteError as fault:
        told.send(str(fault))


# How they are killed


def unconfirmed(fd: object) -> None:
    """Spares the disk where nothing hangs on it."""


def killed_at_line(action: str, folder: Path, line: int) -> None:
    """Act, and be killed before a line of what writes, counted as they run.

    What the system was told outlives a process, so that nothing need reach the disk.
    """
    left = line
    os.fsync = unconfirmed

    def trace(frame: FrameType, event: str, _: object) -> Any:
        nonlocal left
        if frame.f_code.co_filename not in WRITERS:
            return None
        if event == "line":
            left -= 1
            if left < 0:
                os.kill(os.getpid(), signal.SIGKILL)
        return trace

    sys.settrace(trace)
    ACTIONS[action](folder)
    sys.settrace(None)


def killed_in_write(action: str, folder: Path, call: int) -> None:
    """Act, and be killed at a request to the disk: of a file, half is there."""
    left, real = call, os.fsync

    def fsync(fd: Any) -> None:
        nonlocal left
        if left == 0:
            if stat.S_ISREG(os.fstat(fd).st_mode):
                os.ftruncate(fd, os.fstat(fd).st_size // 2)
            os.kill(os.getpid(), signal.SIGKILL)
        left -= 1
        real(fd)

    os.fsync = fsync
    ACTIONS[action](folder)


def killed_in_clearing(action: str, folder: Path, call: int) -> None:
    """Act, and be killed after a removal of what an earlier one left."""
    left, real = call, os.unlink

    def unlink(*words: Any, **other: Any) -> None:
        nonlocal left
        real(*words, **other)
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        left -= 1

    os.unlink = unlink
    ACTIONS[action](folder)
