"""The preview's own pages, and what it adds to those of the price sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import groupby

from babel import Locale

from quoter.catalogue.languages import SOURCE
from quoter.pages.environment import page_environment, render
from quoter.preview.reading import Reading
from quoter.problems import Problem, quoted

NO_CURRENCY = "XXX"  # as ISO 4217 writes that no money is spoken of
HEAD_ENDS = b"</head>"


@dataclass(frozen=True, slots=True)
class ShownProblem:
    """A problem in its parts: its place as editors take it, and the line it is in with a caret."""

    place: str
    code: str
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


def _shown(problems: Iterable[Problem]) -> Iterator[ShownProblem]:
    for problem in problems:
        place = problem.place.clickable
        _, *excerpt = str(replace(problem, hint="")).split("\n")
        indented = "\n".join(line[4:] for line in excerpt)
        yield ShownProblem(place, problem.code, problem.what, indented, problem.hint)
