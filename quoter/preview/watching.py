"""Notices that the files of a catalogue or of the templates have changed.

It looks at names, sizes and times a few times a second, some milliseconds of work for a catalogue.
What systems report of themselves would come sooner, but says nothing of a drive on the network, of
what a link points at, and of a folder that was replaced as a whole: a price would stay old in
silence.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Event

PAUSE = 0.2  # seconds between two looks
QUIET = 0.1  # seconds without a change after which a file counts as saved
LONGEST = 20  # looks after which it does even if changes go on

Marks = dict[str, tuple[int, int]]
_READ = (".yaml", ".yml", ".csv", ".po")  # also misspelt files, since the catalogue minds them


def watch(look: Callable[[], Marks], changed: Callable[[], None], stopped: Event) -> None:
    """Call `changed` first and after every change that a look shows, until stopped.

    A look comes before the reading it leads to, so that what changes meanwhile is not missed.
    """
    seen = look()
    changed()
    while not stopped.wait(PAUSE):
        if (now := look()) != seen:
            seen = _settled(look, now, stopped)
            changed()


def _settled(look: Callable[[], Marks], now: Marks, stopped: Event) -> Marks:
    """The files once they rest, since editors save in steps."""
    for _ in range(LONGEST):
        if stopped.wait(QUIET):
            break
        before, now = now, look()
        if now == before:
            break
    return now


def catalogue_marks(folder: Path) -> Marks:
    """Size and time of each file that belongs to a catalogue; none where it is gone."""
    return _marks(
        path
        for inner in (folder, folder / "prices", folder / "translations")
        for path in _listed(inner)
        if path.suffix.lower() in _READ
    )


def template_marks(folder: Path) -> Marks:
    """Size and time of each template, with styles and scripts."""
    return _marks(
        Path(inner, name)
        for inner, _, names in os.walk(folder)  # passes over a folder that goes meanwhile
        for name in names
        if not name.startswith(".")
    )


def _listed(folder: Path) -> Iterator[Path]:
    try:
        yield from folder.iterdir()
    except OSError:  # it is gone, or is being replaced
        return


def _marks(paths: Iterator[Path]) -> Marks:
    found: Marks = {}
    for path in paths:
        try:
            stat = path.stat()
        except OSError:  # gone since it was listed, or a link to nothing
            found[path.as_posix()] = (-1, -1)
        else:
            found[path.as_posix()] = (stat.st_size, stat.st_mtime_ns)
    return found
