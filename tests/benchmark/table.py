"""The table that is printed, and the figures of the last release that it compares with."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

LAST = Path(__file__).with_name("last_release.json")
SECONDS, TIMES, BYTES, COUNT, RATE = "s", "x", "bytes", "", "/s"
Aim = Literal["at most", "at least", ""]


@dataclass(frozen=True, slots=True)
class Line:
    """Something measured: its name, value and unit; the target if it has one; a remark.

    Seconds are of CPU unless the name says otherwise.
    """

    name: str
    value: float
    unit: str
    aim: Aim = ""
    target: float = 0
    remark: str = ""

    @property
    def verdict(self) -> str:
        """Whether the target is met; nothing where there is none."""
        if not self.aim:
            return ""
        within = self.value <= self.target if self.aim == "at most" else self.value >= self.target
        return "met" if within else "MISSED"

    def aimed_if(self, holds: bool) -> Line:
        """The line, without its target where that is none of this size."""
        return self if holds else replace(self, aim="", target=0)


@dataclass(frozen=True, slots=True)
class Missing:
    """A target that can't be measured, and why."""

    name: str
    why: str


# What a release was measured at, by size and name: its value, and beside it what the fixed work of
# `measured.calibration` took on that machine at that time.
Kept = dict[str, dict[str, tuple[float, float]]]


def shown(value: float, unit: str) -> str:
    """A number as the table shows it."""
    if unit == SECONDS:
        return f"{value:,.2f} s"
    if unit == TIMES:
        return f"{value:.2f} x"
    if unit == BYTES:
        return f"{value / 1e6:,.1f} MB" if value >= 1e6 else f"{value:,.0f} B"
    return f"{value:,.0f}{f' {unit}' if unit else ''}"


def since(line: Line, kept: Kept, size: str, calibration: float) -> float | None:
    """A line's value over that of the last release; seconds as this machine would have had them."""
    if line.name not in kept.get(size, {}) or line.unit == TIMES:
        return None
    value, theirs = kept[size][line.name]
    scale = {SECONDS: calibration / theirs, RATE: theirs / calibration}.get(line.unit, 1.0)
    return line.value / (value * scale) if value else None


def rows_of(
    lines: Iterable[tuple[Line | Missing, float]], kept: Kept, size: str
) -> list[tuple[str, ...]]:
    """The table's rows: what, measured, target, verdict, against the last release, remark.

    Args:
        lines: each with the calibration of the time it was measured
        kept: the last release's figures
        size: of the yard
    """
    rows: list[tuple[str, ...]] = []
    for line, calibration in lines:
        if isinstance(line, Missing):
            rows.append((line.name, "-", "", "not measured", "", line.why))
            continue
        ratio = since(line, kept, size, calibration)
        aim = f"{line.aim} {shown(line.target, line.unit)}" if line.aim else ""
        against = f"{ratio:.2f} x" if ratio is not None else ""
        told = shown(line.value, line.unit)
        rows.append((line.name, told, aim, line.verdict, against, line.remark))
    return rows


HEADINGS = ("what", "measured", "target", "", "last release", "")


def laid_out(rows: Sequence[tuple[str, ...]]) -> str:
    """The table as Markdown has it, its columns beneath each other."""
    widths = [max(len(row[i]) for row in (HEADINGS, *rows)) for i in range(len(HEADINGS))]

    def written(row: tuple[str, ...]) -> str:
        cells = [
            cell.rjust(width) if i in (1, 4) else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        return f"| {' | '.join(cells)} |"

    rule = "|".join("-" * (width + 2) for width in widths)
    return "\n".join([written(HEADINGS), f"|{rule}|", *map(written, rows)])


def last_release(path: Path = LAST) -> tuple[str, Kept]:
    """The name of the last release and its figures, if any were kept."""
    if not path.exists():
        return "", {}
    read = json.loads(path.read_text("utf-8"))
    figures = {
        size: {name: (each["value"], each["calibration"]) for name, each in found.items()}
        for size, found in read["figures"].items()
    }
    return read["release"], figures


def keep(
    release: str, size: str, lines: Iterable[tuple[Line | Missing, float]], path: Path = LAST
) -> None:
    """Write down what was measured as a release's figures.

    What else was measured of the same release stays; that of another one goes.
    """
    before, kept = last_release(path)
    figures = kept if before == release else {}
    for line, calibration in lines:
        if isinstance(line, Line) and line.unit != TIMES:
            figures.setdefault(size, {})[line.name] = (line.value, calibration)
    listed = {
        size: {
            name: {"value": round(value, 3), "calibration": round(theirs, 4)}
            for name, (value, theirs) in found.items()
        }
        for size, found in sorted(figures.items())
    }
    text = json.dumps({"release": release, "figures": listed}, indent=1)
    path.write_text(f"{text}\n", "utf-8")
