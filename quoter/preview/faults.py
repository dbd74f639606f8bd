"""Whatever goes wrong in a reading or a page, as problems with their places."""

from __future__ import annotations

import traceback
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from jinja2 import TemplateError, TemplateSyntaxError

from quoter.leaks import Leak, LeakError
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
        return Trouble((Problem(place, what, excerpt=excerpt),))
    trace = "".join(traceback.format_exception(fault))
    return Trouble((Problem(place, what, OWN, excerpt),), trace)


def _of_leak(leak: Leak) -> Problem:
    place = Place(f"site/{leak.file}", leak.line, leak.column)
    return Problem(place, f"no public view or phrase accounts for {leak.said}", SECRET)


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
