"""The inside of a workbook file: read a part, or change one to plant a fault."""

from __future__ import annotations

import zipfile
from pathlib import Path


def part(book: Path, name: str) -> str:
    with zipfile.ZipFile(book) as archive:
        return archive.read(name).decode()


def parts(book: Path) -> list[str]:
    with zipfile.ZipFile(book) as archive:
        return archive.namelist()


def with_change(book: Path, name: str, old: str, new: str, copy: Path) -> Path:
    """A copy of the book in which `old`, which occurs once in the part, has become `new`."""
    with zipfile.ZipFile(book) as source, zipfile.ZipFile(copy, "w") as target:
        for each in source.namelist():
            data = source.read(each).decode()
            if each == name:
                assert data.count(old) == 1, (name, old, data.count(old))
                data = data.replace(old, new)
            target.writestr(each, data)
    return copy
