"""The rows of an export beside those that stand in its table: new, known, or saying otherwise."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from quoter.catalogue.booked_files import file_of
from quoter.catalogue.csv_cells import csv_rows
from quoter.catalogue.exports import HELPING
from quoter.catalogue.prices import CORRECTS
from quoter.importing.booked_rows import SKIP, BookedLine, BookedRows
from quoter.importing.moves import CORRECTED
from quoter.importing.per_words import option
from quoter.problems import MalformedError, Problem, quoted
from quoter.units import UnitError, quantity

NEW, KNOWN, CORRECT = "new", "known", "corrected"
ALIKE = 1e-9  # of two cells in different units that say the same


@dataclass(frozen=True, slots=True)
class Standing:
    """A row that stands in the table: its line there, and its cells by column."""

    line: int
    cells: dict[str, str]


@dataclass(slots=True)
class Sorted:
    """The sound rows of an export beside what stands: which are new, known, or say otherwise."""

    new: list[BookedLine] = field(default_factory=list)
    known: list[BookedLine] = field(default_factory=list)
    other: list[tuple[BookedLine, Standing, list[str]]] = field(default_factory=list)

    def by_month(self) -> dict[str, Counter[str]]:
        """How many rows of each month are what."""
        found: dict[str, Counter[str]] = {}
        kinds = ((NEW, self.new), (KNOWN, self.known), (CORRECT, [each[0] for each in self.other]))
        for kind, lines in kinds:
            for line in lines:
                found.setdefault(line.month, Counter())[kind] += 1
        return dict(sorted(found.items()))


def standing_rows(content: bytes | None, keys: tuple[str, ...]) -> dict[tuple[str, ...], Standing]:
    """The rows of a table as it stands; of one that can't be read, what comes before its fault."""
    found: dict[tuple[str, ...], Standing] = {}
    names: list[str] = []
    try:
        text = re.sub("\r\n?", "\n", (content or b"").decode("utf-8-sig"))
        for cells in csv_rows(text):
            if not names:
                names = [cell.text for cell in cells]
                continue
            row = {name: cell.text for name, cell in zip(names, cells, strict=False)}
            key = tuple(row.get(name, "") for name in keys)
            found.setdefault(key, Standing(cells[0].line, row))
    except (MalformedError, UnicodeDecodeError):
        pass  # what is wrong with it is told when it is tried out
    return found


def spoken(rows: BookedRows) -> list[str]:
    """The columns of ours that an export says something of, but for notes: those are the yard's."""
    heads = {*rows.table.columns, *rows.cells.always}
    heads |= {serves for name in heads & {*HELPING} for serves in HELPING[name]}
    if str(rows.export.of) == "issues":
        heads.add("kind")
    heads.update(rows.keys)
    return [name for name in rows.cells.columns if name in heads and name != "note"]


def sorted_rows(
    rows: BookedRows, lines: Sequence[BookedLine], standing: Mapping[tuple[str, ...], Standing]
) -> Sorted:
    """The sound rows by what they are beside those that stand, by what those are known by."""
    found, columns = Sorted(), spoken(rows)
    for line in lines:
        if not line.sound:
            continue
        before = standing.get(line.known_by(rows.keys))
        if before is None:
            found.new.append(line)
            continue
        other = [
            name
            for name in columns
            if not _same(line.values.get(name, ""), before.cells.get(name, ""))
        ]
        if other:
            found.other.append((line, before, other))
        else:
            found.known.append(line)
    return found


_TRUE, _FALSE = ("yes", "true"), ("no", "false")


def _same(new: str, old: str) -> bool:
    """Whether two cells say the same, be it in other units or words."""
    if new == old or any({new, old} <= {*words} for words in (_TRUE, _FALSE)):
        return True
    if not new[:1].isdigit() or not old[:1].isdigit():
        return False
    try:
        one, other = quantity(new), quantity(old)
    except UnitError:
        return False
    sizes = [each.number * float(each.factor) for each in (one, other)]
    return one.base == other.base and math.isclose(*sizes, rel_tol=ALIKE)


def otherwise(rows: BookedRows, found: Sorted) -> Iterator[Problem]:
    """Rows that stand already and say something else there."""
    for line, before, other in found.other:
        number = line.values[rows.keys[0]]
        old = ", ".join(f"{name} {quoted(before.cells.get(name, ''))}" for name in other)
        new = ", ".join(quoted(line.values.get(name, "")) for name in other)
        what = f"{quoted(number)} stands already with {old}, and would have {new}"
        where = f"{file_of(str(rows.export.of))}:{before.line}"
        hint = f"look at {where}; {CORRECTED} replaces what stands, and notes it"
        own = rows.numbered or ""
        hint += f", {option(SKIP, number if own else str(line.row))} leaves it"
        place = line.places.get(other[0], line.places[""])
        yield rows.table.sheet.problem(place, "already-listed", what, hint)


def corrected_note(line: BookedLine, before: Standing, other: Sequence[str]) -> str:
    """The note of a row that corrects another: what stood there, and its note."""
    stood = ", ".join(f"{name} {before.cells.get(name, '') or '(nothing)'}" for name in other)
    noted, note = before.cells.get("note", ""), line.values.get("note", "")
    kept = f" ({noted})" if noted and noted != note else ""
    return f"{note}{CORRECTS}{stood}{kept}".removeprefix("; ")
