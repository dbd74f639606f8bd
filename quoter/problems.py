"""What is wrong with the input, told so that a person can mend it: place, finding, hint.

Each kind of problem has a code, two words or so, whose paragraph is in the guide's problems.md.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

LONGEST_EXCERPT = 100
LONGEST_WORDS = 60
MANY = 4  # times the same is said of a file before it is told once for all
UNPRINTABLE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a value stands: file from the catalogue's folder, line, column (from 1).

    In a spreadsheet they are row and column, and `cell` is what people call it: ``Prices!C14``.
    """

    file: str
    line: int = 0
    column: int = 0
    key: str = ""
    cell: str = ""

    def __str__(self) -> str:
        """The form editors make clickable: ``file:line key``."""
        where = f"{self.file}:{self.line}" if self.line else self.file
        return f"{where} {self.key}".rstrip()

    @property
    def clickable(self) -> str:
        """``file:line:column`` as compilers print it, or the file and its cell."""
        if self.cell:
            return f"{self.file}, {self.cell}"
        return ":".join([self.file, *(str(n) for n in (self.line, self.column) if n)])


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One fault or warning: where, what was found, what would be right, and the source line.

    The code names its kind: what is mended in the same way has the same one.
    """

    place: Place
    code: str = field(compare=False)
    what: str
    hint: str = ""
    excerpt: str = field(default="", compare=False)
    warning: bool = False

    def __str__(self) -> str:
        """Three parts, each on its own lines: the finding, the line with a caret, the hint."""
        kind = "warning: " if self.warning else ""
        lines = [f"{self.place.clickable}: {kind}{self.what} [{self.code}]"]
        lines += [f"    {line}" for line in _pointed_at(self.excerpt.rstrip(), self.place.column)]
        if self.hint:
            lines.append(f"    {self.hint}")
        return "\n".join(lines)


class CatalogueError(Exception):
    """Raised once, at the end of a stage, with every problem the stage found."""

    def __init__(self, problems: list[Problem]) -> None:
        """Keep the problems sorted by place."""
        self.problems = sorted(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[CatalogueError], tuple[list[Problem]]]:
        """From one process to another with its problems, not only their words."""
        return CatalogueError, (self.problems,)


class MalformedError(ValueError):
    """A text that can't be read as YAML or CSV: where it breaks, what was found, what is right."""

    def __init__(self, code: str, line: int, column: int, what: str, hint: str) -> None:
        """Keep them apart for the message."""
        super().__init__(what)
        self.code, self.line, self.column = code, line, column
        self.what, self.hint = what, hint


class Problems:
    """Collects what a stage finds; the stage ends with `stop_if_any`."""

    def __init__(self) -> None:
        """Start with nothing found."""
        self._found: dict[Problem, None] = {}

    def add(self, place: Place, code: str, what: str, hint: str = "", excerpt: str = "") -> None:
        """Record a fault."""
        self._found[Problem(place, code, what, hint, excerpt)] = None

    def warn(self, place: Place, code: str, what: str, hint: str = "") -> None:
        """Record something that is worth a look but stops nothing (unless asked to be strict)."""
        self._found[Problem(place, code, what, hint, warning=True)] = None

    def extend(self, problems: Iterable[Problem]) -> None:
        """Record what another function found."""
        self._found.update(dict.fromkeys(problems))

    def quote(self, excerpt: Callable[[Place], str]) -> None:
        """Add the source line to everything found that has none yet."""
        told = [p if p.excerpt else replace(p, excerpt=excerpt(p.place)) for p in self._found]
        self._found = dict.fromkeys(told)

    def gather(self) -> None:
        """Tell what holds of many places of one file once, with the lines of the others."""
        alike: dict[tuple[str, str, str, bool], list[Problem]] = {}
        for found in sorted(self._found):
            alike.setdefault((found.place.file, found.what, found.hint, found.warning), []).append(
                found
            )
        gathered: list[Problem] = []
        for first, *others in alike.values():
            if len(others) < MANY:
                gathered += [first, *others]
                continue
            lines = [str(line) for line in sorted({other.place.line for other in others})]
            more = f" and {len(lines) - MANY} more" if len(lines) > MANY else ""
            hint = f"{first.hint} (also on lines {', '.join(lines[:MANY])}{more})"
            gathered.append(replace(first, hint=hint))
        self._found = dict.fromkeys(gathered)

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
    close = closest(word, known)
    if close:
        return f"did you mean '{close}'?"
    if not known:
        return "none is defined"
    if len(known) == 1:
        return f"the only one is '{known[0]}'"
    listed = ", ".join(f"'{choice}'" for choice in known[:8])
    return f"expected one of {listed}" + (", …" if len(known) > 8 else "")


def closest(word: str, choices: Iterable[str]) -> str:
    """The choice a misspelt word is likely to mean, or nothing."""
    known = sorted(set(choices))
    by_case = {choice.lower(): choice for choice in reversed(known)}
    if word.lower() in by_case:
        return by_case[word.lower()]
    return next(iter(difflib.get_close_matches(word, known, n=1, cutoff=0.6)), "")


def quoted(words: str) -> str:
    """A text from a file in quotes, on one line, cut where it is long, nothing unprintable."""
    line = UNPRINTABLE.sub("�", " ".join(words.split()))
    return f"'{line}'" if len(line) <= LONGEST_WORDS else f"'{line[: LONGEST_WORDS - 1]}…'"


def unprintable(found: re.Match[str]) -> str:
    """What to call a character that `UNPRINTABLE` found."""
    return f"an unprintable character, #x{ord(found[0]):02x}"


def listed(words: Iterable[str]) -> str:
    """Words in quotes, the first three of them and how many more there are."""
    told = [quoted(word) for word in words]
    if len(told) > 4:
        told = [*told[:3], f"{len(told) - 3} more"]
    return " and ".join(part for part in (", ".join(told[:-1]), told[-1]) if part)


def _pointed_at(line: str, column: int) -> list[str]:
    """The line, shortened around the column, with a caret under it."""
    if not line.strip():
        return []
    before, after = line[: max(column - 1, 0)], line[max(column - 1, 0) :]
    if len(before) > LONGEST_EXCERPT // 2:
        before = "…" + before[1 - LONGEST_EXCERPT // 2 :]
    if len(before + after) > LONGEST_EXCERPT:
        after = after[: LONGEST_EXCERPT - len(before) - 1] + "…"
    shown = [UNPRINTABLE.sub("�", before + after).rstrip()]
    if column:
        shown.append("".join(map(_blank, before)) + "^")
    return shown


def _blank(letter: str) -> str:
    """Blank space as wide as a letter is on a terminal."""
    if letter == "\t" or unicodedata.combining(letter):
        return "\t" if letter == "\t" else ""
    return "  " if unicodedata.east_asian_width(letter) in "WF" else " "
