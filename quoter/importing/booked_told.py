"""What an import of an export says of itself, in words and as data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from quoter.catalogue.day import catalogue_day
from quoter.catalogue.records import Records
from quoter.columns import columns
from quoter.importing.booked_beside import CORRECT, KNOWN, NEW, Sorted
from quoter.importing.booked_rows import BookedRows

KINDS = (NEW, KNOWN, CORRECT)
_TOLD = 8  # rows passed over that are named one by one


def shown(records: Records, rows: BookedRows, found: Sorted) -> Iterator[str]:
    """Rows by month, and what was left out."""
    months = found.by_month()
    if months:
        kinds = [
            kind
            for kind in (NEW, KNOWN, CORRECT)
            if any(counts[kind] for counts in months.values())
        ]
        table = [("month", "rows", *kinds)]
        for month, counts in months.items():
            each = (str(counts[kind]) for kind in kinds)
            table.append((month, str(sum(counts.values())), *each))
        yield from columns(table, {*range(1, len(kinds) + 2)})
    for why, numbers in _passed(rows).items():
        yield f"Passed over, {why}: {_named(numbers)}."
    if rows.skipped:
        told = [f"{number} (row {row})" for number, row in rows.skipped.items()]
        yield f"Skipped: {', '.join(told)}."
    yield from rows.remarks()
    day = catalogue_day(records).prices
    later = sum(line.values.get("date", "") > str(day) for line in found.new)
    if later:
        of = "1 new row is of a day" if later == 1 else f"{later} new rows are of days"
        yield f"{of} after {day}, the catalogue's day: compared once it has come to that."


def _passed(rows: BookedRows) -> dict[str, list[int]]:
    """Rows passed over, by why."""
    found: dict[str, list[int]] = {}
    for row, why in rows.passed:
        same = "the same as a row above" if why.startswith("the same as") else why
        found.setdefault(same, []).append(row)
    return found


def _named(numbers: Sequence[int]) -> str:
    more = f" and {len(numbers) - _TOLD} more" if len(numbers) > _TOLD else ""
    return f"row{'' if len(numbers) == 1 else 's'} {', '.join(map(str, numbers[:_TOLD]))}{more}"


def done(found: Sorted, path: Path) -> str:
    """What is written, in words."""
    told = []
    if found.new:
        told.append(f"{_count(len(found.new))} added to {path}")
    if found.other:
        corrected = f"{_count(len(found.other))} corrected"
        told.append(corrected if found.new else f"{corrected} in {path}")
    return ", ".join(told)


def _count(rows: int) -> str:
    return f"{rows} row{'' if rows == 1 else 's'}"


def data_of(rows: BookedRows, found: Sorted, path: Path, name: str) -> dict[str, Any]:
    """What was read as data: counts in all and by month, and the rows that were left out."""
    months = found.by_month()
    counts = Counter[str]()
    for each in months.values():
        counts.update(each)
    return {
        "export": str(rows.export.id),
        "file": path.as_posix(),
        "table": name,
        "rows": sum(counts.values()),
        **{kind: counts[kind] for kind in KINDS},
        "months": [
            {"month": month, **{kind: each[kind] for kind in KINDS}}
            for month, each in months.items()
        ],
        "passed_over": [{"row": row, "why": why} for row, why in sorted(rows.passed)],
        "skipped": [{"reference": number, "row": row} for number, row in rows.skipped.items()],
        "remarks": [*rows.remarks()],
    }
