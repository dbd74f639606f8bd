"""Readings of the catalogue, again whenever it changes: a site, or the trouble in its way.

Files are looked at again and again, instead of listening to the system. The program's own code and
translations are read once, at its start.
"""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from secrets import token_hex
from threading import Condition, Event, Lock
from time import perf_counter
from typing import Protocol

from jinja2 import TemplateError, TemplateSyntaxError

from quoter.catalogue.day import day_words
from quoter.leaks import Leak, LeakError, SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import earlier_lists
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError, Place, Problem
from quoter.resources import PACKAGE, templates_folder

SECRET = "customers would read it, so a build stops at it; change what says it"
OWN = "a fault of the program, not of the catalogue; the terminal tells more"


@dataclass(frozen=True, slots=True)
class Trouble:
    """Problems that stand in the way of a page; and where the program failed, if it did."""

    problems: tuple[Problem, ...]
    trace: str = ""


def trouble_of(fault: Exception, folder: Path, page: str = "") -> Trouble:
    """What a person is told of an exception, with places that lead from the working folder.

    Args:
        fault: what was raised
        folder: the catalogue's
        page: which was being made, if one was
    """
    if isinstance(fault, CatalogueError):
        return Trouble(below(folder, fault.problems))
    if isinstance(fault, LeakError):
        return Trouble(tuple(_of_leak(leak) for leak in fault.leaks))
    place, excerpt = _raised_at(fault)
    what = f"{type(fault).__name__}: {' '.join(str(fault).split())}"
    if isinstance(fault, TemplateError):
        return Trouble((Problem(place, "program-fault", what, excerpt=excerpt),))
    trace = "".join(traceback.format_exception(fault))
    return Trouble((Problem(place, "program-fault", what, OWN, excerpt),), trace)


def _of_leak(leak: Leak) -> Problem:
    place = Place(f"site/{leak.file}", leak.line, leak.column)
    return Problem(place, "leak", f"no public view or phrase accounts for {leak.said}", SECRET)


def below(folder: Path, problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """Problems of a catalogue with its folder before their places, as the terminal shows them."""
    found = []
    for problem in problems:
        place = problem.place
        if not place.file.startswith("--"):  # an option of the command line
            place = replace(place, file=(folder / place.file).as_posix())
        found.append(replace(problem, place=place))
    return tuple(found)


def _raised_at(fault: Exception) -> tuple[Place, str]:
    """The innermost line of a template that led to a fault, else of the program; and its text."""
    if isinstance(fault, TemplateSyntaxError) and fault.filename:
        return _line(Path(fault.filename), fault.lineno)
    frames = traceback.extract_tb(fault.__traceback__)
    for folder in (templates_folder(), PACKAGE):
        for frame in reversed(frames):
            if Path(frame.filename).is_relative_to(folder):
                return _line(Path(frame.filename), frame.lineno or 0)
    return Place("quoter"), ""


def _line(file: Path, line: int) -> tuple[Place, str]:
    """A line by the name that the project has for its file, and its text."""
    folder = next(
        (each for each in (templates_folder(), PACKAGE) if file.is_relative_to(each)), file.parent
    )
    name = f"{folder.name}/{file.relative_to(folder).as_posix()}"
    try:
        lines = file.read_text("utf-8", "replace").splitlines()
    except OSError:
        lines = []
    return Place(name, line), lines[line - 1] if 0 < line <= len(lines) else ""


@dataclass(frozen=True, slots=True)
class PreviewOf:
    """Which catalogue is shown, and how: as of a day, with settings as KEY=VALUE."""

    folder: Path
    as_of: date | None = None
    settings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """What a reading gave: a site with its warnings, or the trouble that stands in its way.

    `id` differs from that of any other reading, also of another run; `day` tells which day it is
    priced on, where it could be.
    """

    id: str
    folder: Path
    found: Site | Trouble
    warnings: Sequence[Problem] = ()
    day: str = ""


class Site:
    """The public pages of a priced catalogue; what was made is kept."""

    def __init__(self, pricing: Pricing, folder: Path, failed: Callable[[Trouble], None]) -> None:
        """Find out which pages there are; `failed` hears of each that can't be made.

        Raises:
            CatalogueError: a market's language is unknown or has no wording.
        """
        self._folder, self._failed = folder, failed
        site = PublicSite(pricing, earlier_lists(folder, pricing))
        self._makers, self._guard = site.makers, SiteGuard(site)
        self._made: dict[str, bytes | Trouble] = {}
        self._lock = Lock()  # several pages asked for at once share what they are made from

    def __contains__(self, path: str) -> bool:
        """Whether there is a page or file of this name."""
        return path in self._makers

    def page(self, path: str) -> bytes | Trouble:
        """A page, if it can be made and all it says is accounted for."""
        with self._lock:
            if path not in self._made:
                self._made[path] = self._make(path)
            return self._made[path]

    def _make(self, path: str) -> bytes | Trouble:
        try:
            content = self._makers[path]()
            self._guard.look_through({path: content})
        except Exception as fault:
            trouble = trouble_of(fault, self._folder, path)
            self._failed(trouble)
            return trouble
        return content


def read(asked: PreviewOf, id: str, failed: Callable[[Trouble], None]) -> Reading:
    """Read, cost and price a catalogue, whatever its state; `failed` is told of pages later."""
    folder = asked.folder
    try:
        pricing, warnings = price_catalogue(folder, asked.as_of, settings=asked.settings)
        site = Site(pricing, folder, failed)
    except Exception as fault:  # a preview lives on, whatever a half-written file leads to
        return Reading(id, folder, trouble_of(fault, folder))
    day = day_words(pricing.catalogue.records, pricing.catalogue.as_of)
    return Reading(id, folder, site, below(folder, warnings), day)


class Listener(Protocol):
    """Who hears, on whatever thread, what a preview does."""

    def was_read(self, reading: Reading, seconds: float) -> None:
        """The catalogue was read, which took so long."""

    def page_failed(self, trouble: Trouble) -> None:
        """A page can't be made, or says what nothing accounts for."""


class Latest:
    """Keeps the latest reading; another thread may wait until there is a later one."""

    def __init__(self, asked: PreviewOf, listener: Listener) -> None:
        """Nothing is read yet."""
        self.asked, self._listener = asked, listener
        self._run, self._count = token_hex(4), 0
        self._reading: Reading | None = None
        self._changed = Condition()
        self._closed = False

    def keep(self, stopped: Event) -> None:
        """Read the catalogue, and again whenever it or a template changes, until stopped."""
        folder, templates = self.asked.folder, templates_folder()
        watch(lambda: catalogue_marks(folder) | template_marks(templates), self.refresh, stopped)

    def refresh(self) -> None:
        """Read the catalogue anew."""
        self._count += 1
        start = perf_counter()
        reading = read(self.asked, f"{self._run}-{self._count}", self._listener.page_failed)
        self._listener.was_read(reading, perf_counter() - start)
        with self._changed:
            self._reading = reading
            self._changed.notify_all()

    def reading(self) -> Reading | None:
        """The latest reading, once there is one; None if there won't be any."""
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self._reading is not None)
            return self._reading

    def later_than(self, id: str, seconds: float) -> bool:
        """Whether the latest reading is another than this, or becomes so within some seconds."""

        def another() -> bool:
            return self._reading is not None and self._reading.id != id

        with self._changed:
            self._changed.wait_for(lambda: self._closed or another(), seconds)
            return another()

    def close(self) -> None:
        """Let everyone go who waits."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()


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
