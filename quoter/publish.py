"""Output folders appear whole or not at all."""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

MARK = ".written-by-quoter"
MARK_TEXT = (
    b"This folder is replaced as a whole by `quoter build`: keep nothing of your own in it.\n"
)


class FolderError(Exception):
    """Raised when an output folder can't be written, or is not one of ours and would be lost."""


def publish(outputs: Mapping[Path, Mapping[str, bytes]], keep: Sequence[Path] = ()) -> None:
    """Replace each folder by its files; all are written aside first, then swapped.

    Args:
        outputs: folder -> path below it -> content
        keep: folders that no output may replace, such as the catalogue itself

    Raises:
        FolderError: when a folder holds something this program did not write, or can't be
            written; the folders are then as they were.
    """
    folders = {folder.resolve(): files for folder, files in outputs.items()}
    _refuse_overlap(list(outputs), keep)
    try:
        for folder in folders:
            for own in (folder, _beside(folder, "new"), _beside(folder, "old")):
                _refuse_foreign(own)
            _recover(folder)
        try:
            for folder, files in folders.items():
                _remove(_beside(folder, "new"))
                _write(_beside(folder, "new"), files)
            _swap(list(folders))
        finally:
            for folder in folders:
                _remove(_beside(folder, "new"))
    except OSError as fault:
        what = f"can't write {fault.filename or 'the output'}: {fault.strerror or fault}"
        raise FolderError(f"{what}; the output folders are as they were") from fault


def _beside(folder: Path, kind: str) -> Path:
    return folder.with_name(f".{folder.name}.{kind}")


def _refuse_overlap(outputs: Sequence[Path], keep: Sequence[Path]) -> None:
    """A folder within another would be swept away with it, and internal files be public."""
    for number, folder in enumerate(outputs):
        own = folder.resolve()
        if not own.name:
            raise FolderError(f"{folder} is a whole disk; name a folder of its own")
        for other in outputs[number + 1 :]:
            theirs = other.resolve()
            if own == theirs or own in theirs.parents or theirs in own.parents:
                raise FolderError(f"{folder} and {other} overlap; name two separate folders")
        for kept in keep:
            if own == kept.resolve() or own in kept.resolve().parents:
                raise FolderError(f"{folder} holds {kept}, which would be lost; name another")


def _refuse_foreign(folder: Path) -> None:
    if not folder.exists():
        return
    if not folder.is_dir():
        raise FolderError(f"{folder} is a file; name a folder to write to")
    if any(folder.iterdir()) and not (folder / MARK).is_file():
        raise FolderError(
            f"{folder} holds files this program did not write (it has no {MARK}); "
            "name another folder, or empty it first"
        )


def _recover(folder: Path) -> None:
    """Undo a swap that was killed half-way: the old folder goes back to its place."""
    if not folder.exists() and _beside(folder, "old").exists():
        _beside(folder, "old").rename(folder)


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    """The mark first, so that what a killed run leaves is known as ours."""
    for name, content in {MARK: MARK_TEXT, **dict(sorted(files.items()))}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _swap(folders: Sequence[Path]) -> None:
    """Put every new folder in place; if one of them can't be, or we are stopped, none is."""
    touched: list[Path] = []
    try:
        for folder in folders:
            old = _beside(folder, "old")
            _remove(old)
            touched.append(folder)
            if folder.exists():
                folder.rename(old)
            _beside(folder, "new").rename(folder)
        touched.clear()
    finally:
        for folder in reversed(touched):
            if not _beside(folder, "new").exists():
                _remove(folder)
            _recover(folder)
    for folder in folders:
        shutil.rmtree(_beside(folder, "old"), ignore_errors=True)


def _remove(folder: Path) -> None:
    if folder.exists():
        shutil.rmtree(folder)
