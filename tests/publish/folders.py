"""What these tests do to output folders, and what they see in them."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from quoter.publish.manifest import MANIFEST, FolderError
from quoter.publish.outputs import held

Files = dict[str, str]
FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "costing.json")


def put(outputs: dict[Path, Files], keep: tuple[Path, ...] = ()) -> list[str]:
    """Publish texts; what was left alone though it may be of an earlier version."""
    given = {f: {n: t.encode() for n, t in files.items()} for f, files in outputs.items()}
    with held(list(outputs), keep) as folders:
        return folders.publish(given)


def refused(outputs: dict[Path, Files], keep: tuple[Path, ...] = ()) -> str:
    with pytest.raises(FolderError) as caught:
        put(outputs, keep)
    return str(caught.value)


def read(folder: Path) -> Files:
    """Path below the folder -> content, the list of what was written aside."""
    files = {name: content.decode() for name, content in everything(folder).items()}
    return {name: text for name, text in files.items() if name != MANIFEST}


def everything(folder: Path) -> dict[str, bytes]:
    files = (path for path in sorted(folder.rglob("*")) if not path.is_dir())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def broken_disk(
    monkeypatch: pytest.MonkeyPatch, method: str, name: str, fault: BaseException
) -> None:
    """From now on `method` of a path fails where its name is `name`."""
    original = getattr(Path, method)

    def failing(self: Path, *given: object, **more: object) -> object:
        if self.name == name or any(getattr(path, "name", "") == name for path in given):
            raise fault
        return original(self, *given, **more)

    monkeypatch.setattr(Path, method, failing)
