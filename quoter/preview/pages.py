"""The preview's own pages, and what it adds to those of the price sheet."""

from __future__ import annotations

import traceback
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import groupby
from pathlib import Path

from babel import Locale
from jinja2 import TemplateError, TemplateSyntaxError

from quoter.catalogue.languages import SOURCE
from quoter.leaks import Leak, LeakError
from quoter.pages.environment import page_environment, render
from quoter.preview.reading import Reading
from quoter.problems import CatalogueError, Place, Problem, quoted
from quoter.resources import PACKAGE, templates_folder

NO_CURRENCY = "XXX"  # as ISO 4217 writes that no money is spoken of
HEAD_ENDS = b"</head>"


@dataclass(frozen=True, slots=True)
class Shown:
    """A problem in its parts: its place as editors take it, and the line it is in with a caret."""

    place: str
    what: str
    excerpt: str
    hint: str


def problem_page(reading: Reading, problems: Sequence[Problem], page: str = "") -> bytes:
    """What stands in the way of all pages, or of the one named."""
    try:
        return _render(reading, "problems.html", problems=list(_shown(problems)), page=page)
    except Exception as fault:  # the templates themselves may be what is being mended
        told = "\n\n".join([*map(str, problems), f"This page's own template fails: {fault}"])
        return _PLAIN.format(told=escape(told)).encode("utf-8")


def warnings_page(reading: Reading) -> bytes:
    """What is worth a look in the catalogue, folded by file."""
    files = groupby(sorted(reading.warnings), lambda warning: warning.place.file)
    shown = [(file, list(_shown(warnings))) for file, warnings in files]
    return _render(reading, "warnings.html", files=shown)


def missing_page(reading: Reading, path: str) -> bytes:
    """There is no page of this name."""
    return _render(reading, "missing.html", path=quoted(f"/{path}"))


def with_reload(page: bytes, reading: Reading, *, troubled: bool = False) -> bytes:
    """A page that asks for a later reading than its own and shows it; the others stay as they are.

    A file from this folder does it, which the pages' own policy allows.
    """
    trouble = " data-troubled" if troubled else ""
    script = f'<script src="/-/reload.js" data-reading="{reading.id}"{trouble} defer></script>\n'
    before, end, after = page.partition(HEAD_ENDS)
    return before + script.encode("utf-8") + end + after if end else page


_PLAIN = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Problems</title>
</head>
<body>
<main>
<h1>Problems</h1>
<pre>{told}</pre>
</main>
</body>
</html>
"""


def _render(reading: Reading, template: str, **context: object) -> bytes:
    folder = reading.folder
    return render(
        page_environment(Locale(SOURCE), NO_CURRENCY),
        f"preview/{template}",
        root="/-/",
        name=folder.resolve().name,
        folder=folder.as_posix(),
        warnings=len(reading.warnings),
        **context,
    )


def _shown(problems: Iterable[Problem]) -> Iterator[Shown]:
    for problem in problems:
        place = problem.place.clickable
        _, *excerpt = str(replace(problem, hint="")).split("\n")
        indented = "\n".join(line[4:] for line in excerpt)
        yield Shown(place, problem.what, indented, problem.hint)


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
