"""What reaches the disk, and who may write: files that outlast a power cut, locks that don't."""

from __future__ import annotations

import os
import platform
import re
import stat
from contextlib import suppress
from pathlib import Path

from filelock import FileLock, Timeout, lock_descriptor

LOCK = ".lock"
PATIENCE = 120.0  # seconds; a writer needs less than one
_NOT_A_LINK = getattr(os, "O_NOFOLLOW", 0)
# Where systems lock a file's first byte against readers too, the words about the holder are behind.
_WORDS_FROM = 1
_held: set[int] = set()  # handles of locks that this process has
_HOLDER = re.compile(r"process \d+ on [\w.-]+")


class BusyError(OSError):
    """Raised instead of writing while somebody else is."""

    code = "busy"


def write_synced(path: Path, content: bytes) -> None:
    """Write a file and have the disk keep what is in it.

    Raises:
        OSError: it can't be written.
    """
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def sync(folder: Path) -> None:
    """Have the disk keep what now stands in a folder, where systems offer that of a folder."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def wait_for_lock(folder: Path) -> FileLock:
    """Become the only writer of a folder, for whoever may write in it, until the lock is released.

    The system holds it for the process and drops it when the process ends, however it ends.

    Raises:
        BusyError: somebody else has been writing for minutes.
        OSError: the folder can't be written to.
    """
    mode = stat.S_IMODE(folder.stat().st_mode) & 0o666 | 0o600
    lock = FileLock(folder / LOCK, timeout=PATIENCE, mode=mode)
    try:
        lock.acquire()
    except Timeout as fault:
        what = f"somebody else has been writing to {folder} for {PATIENCE:g} s"
        raise BusyError(f"{what}; try again later") from fault
    return lock


def take_lock(path: Path) -> int | None:
    """Take the lock that a file stands for; made if need be, for whoever may write beside it.

    The system holds it for the process and drops it when the process ends, however it ends. Its
    file is removed when it is given back, so whoever locks one that is not the file of that name
    any more tries again.

    Returns:
        a handle to give back; None while another process has the lock
    Raises:
        OSError: the file can't be written; FileNotFoundError if its folder is gone.
    """
    mode = stat.S_IMODE(path.parent.stat().st_mode) & 0o666 | 0o600
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | _NOT_A_LINK, mode)
        try:
            if not lock_descriptor(handle, blocking=False):
                os.close(handle)
                return None
            if _stands(handle, path):
                _sign(handle, path, mode)
                _held.add(handle)
                return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)


def _sign(handle: int, path: Path, mode: int) -> None:
    """Say in a lock's file who has it."""
    with suppress(PermissionError):  # another user's file, left by a killed process
        path.chmod(mode)
    os.ftruncate(handle, 0)
    words = f"process {os.getpid()} on {platform.node()}"
    os.write(handle, b"\n" * _WORDS_FROM + words.encode())


def _stands(handle: int, path: Path) -> bool:
    """Whether the file that was locked is still the one of that name: its holder removes it."""
    try:
        return os.path.samestat(os.fstat(handle), path.lstat())
    except FileNotFoundError:
        return False


def give_back(handle: int, path: Path) -> None:
    """Give a lock back and leave no file behind."""
    try:
        with suppress(OSError):  # some systems don't remove what is open; it is known as a lock
            path.unlink()
    finally:
        _held.discard(handle)
        os.close(handle)


def _let_go() -> None:
    """In a forked process: a lock is of the process that took it, and ends with that one."""
    while _held:
        os.close(_held.pop())


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_let_go)


def holder_of(path: Path) -> str:
    """Who has a lock, in words."""
    try:
        with path.open("rb") as file:
            file.seek(_WORDS_FROM)
            words = file.read(300).decode("utf-8", "replace")
    except OSError:
        words = ""
    return words if _HOLDER.fullmatch(words) else "another process"
