"""What is wrong with the input, told so that a person can mend it: place, finding, hint."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a value stands: file from the catalogue's parent, line, column (from 1)."""

    file: str
    line: int = 0
    column: int = 0
    key: str = ""

    def __str__(self) -> str:
        """The form editors make clickable: ``file:line key``."""
        where = f"{self.file}:{self.line}" if self.line else self.file
        return f"{where} {self.key}".rstrip()

    @property
    def clickable(self) -> str:
        """``file:line:column`` as compilers print it."""
        return ":".join([self.file, *(str(n) for n in (self.line, self.column) if n)])


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One fault or warning: where, what was found, what would be right, and the source line."""

    place: Place
    what: str
    hint: str = ""
    excerpt: str = field(default="", compare=False)
    warning: bool = False

    def __str__(self) -> str:
        """Three parts, each on its own lines: the finding, the line with a caret, the hint."""
        lines = [f"{self.place.clickable}: {'warning: ' if self.warning else ''}{self.what}"]
        if self.excerpt.strip():
            text = self.excerpt.rstrip()
            lines.append("    " + text)
            if self.place.column:
                lines.append("    " + " " * (self.place.column - 1) + "^")
        if self.hint:
            lines.append(f"    {self.hint}")
        return "\n".join(lines)


class CatalogueError(Exception):
    """Raised once, at the end of a stage, with every problem the stage found."""

    def __init__(self, problems: list[Problem]) -> None:
        """Keep the problems sorted by place."""
        self.problems = sorted(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class Problems:
    """Collects what a stage finds; the stage ends with `stop_if_any`."""

    def __init__(self) -> None:
        """Start with nothing found."""
        self._found: dict[Problem, None] = {}

    def add(self, place: Place, what: str, hint: str = "", excerpt: str = "") -> None:
        """Record a fault."""
        self._found[Problem(place, what, hint, excerpt)] = None

    def warn(self, place: Place, what: str, hint: str = "") -> None:
        """Record something that is worth a look but stops nothing (unless asked to be strict)."""
        self._found[Problem(place, what, hint, warning=True)] = None

    def extend(self, problems: Iterable[Problem]) -> None:
        """Record what another function found."""
        self._found.update(dict.fromkeys(problems))

    def quote(self, excerpt: Callable[[Place], str]) -> None:
        """Add the source line to every fault that has none yet."""
        told = [p if p.excerpt else replace(p, excerpt=excerpt(p.place)) for p in self._found]
        self._found = dict.fromkeys(told)

    @property
    def errors(self) -> list[Problem]:
        """The faults, by place."""
        return sorted(p for p in self._found if not p.warning)

    @property
    def warnings(self) -> list[Problem]:
        """The warnings, by place."""
        return sorted(p for p in self._found if p.warning)

    def stop_if_any(self) -> None:
        """Raise `CatalogueError` with every fault found so far."""
        if self.errors:
            raise CatalogueError(self.errors)


def nearest(word: str, choices: Iterable[str]) -> str:
    """A hint that names the nearest of the choices, or lists a few when none is near."""
    known = sorted(set(choices))
    close = difflib.get_close_matches(word, known, n=1, cutoff=0.6)
    if close:
        return f"did you mean '{close[0]}'?"
    if not known:
        return "none is defined"
    listed = ", ".join(f"'{choice}'" for choice in known[:8])
    return f"expected one of {listed}" + (", …" if len(known) > 8 else "")
