"""Read what was booked: the tables of `actuals/`, whole or with every fault of them at its place.

Commands that hold actual against standard read them, and the check of a catalogue; what is quoted
or published rests on none of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from quoter.catalogue.adding import ACTUALS, pending
from quoter.catalogue.booked import TABLES, Booked
from quoter.catalogue.checks_booked import BOOKED_CHECKS
from quoter.catalogue.checks_jobs import Tables
from quoter.catalogue.files import check_tables
from quoter.catalogue.reading import read
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records, Unread
from quoter.catalogue.source import Sources, line_at
from quoter.problems import Problems

# The columns by which a row of a table is known; the keys of its figures hold them. A line of the
# ledger may be shared among stations and months.
KNOWN_BY = {"jobs": ("job",), "overhead": ("reference", "station", "month", "kind")}


def file_of(table: str) -> str:
    """The file of a table, from the catalogue's folder.

    >>> file_of("hours")
    'actuals/hours.csv'
    """
    return f"{ACTUALS}/{table}.csv"


def read_booked(
    folder: Path,
    records: Records,
    problems: Problems,
    instead: Mapping[str, bytes] | None = None,
) -> Booked:
    """The tables of what was booked, read and checked; a table may be absent.

    Rows that can't be read are left out, and all that is wrong is recorded, each fault by itself
    (`problems.gather` tells those together that are alike): whoever uses the rows stops where there
    is an error.

    Args:
        folder: the catalogue's
        records: the catalogue's records, which rows name
        problems: where faults are recorded, each with the line it stands on
        instead: files by name, such as `actuals/hours.csv`, that take the place of the folder's
    """
    unfinished, _ = pending(folder)
    sources = Sources(folder, problems, instead={**unfinished, **(instead or {})})
    check_tables(sources, ACTUALS, [file_of(table) for table in TABLES])
    unread = Unread()
    rows: dict[str, Any] = {
        table: list(_rows(sources, table, kind, unread)) for table, kind in TABLES.items()
    }
    booked = Booked(**rows)
    tables = Tables(records, booked, unread)
    for check in BOOKED_CHECKS:
        problems.extend(check(tables))
    problems.quote(partial(line_at, sources.lines))
    return booked


def as_far_as_read(folder: Path, records: Records) -> Booked:
    """What of the tables can be read, whatever is wrong beside it: for who asks only what a text
    or a number is, and for nothing that is computed."""
    return read_booked(folder, records, Problems())


def _rows(
    sources: Sources, table: str, kind: type[CatalogueRecord], unread: Unread
) -> Iterator[CatalogueRecord]:
    """The rows of a table that could be read; what the others are known by is kept as unread."""
    name, keys = file_of(table), KNOWN_BY.get(table, ("reference",))
    spared = tuple(name for name, field in kind.model_fields.items() if not field.is_required())
    for raw in sources.csv(name, tuple(kind.model_fields), keys, spared):
        for column in spared:
            if not raw.get(column):
                raw.pop(column, None)  # a cell that is left empty says nothing
        record = read(sources, kind, raw) if raw.whole else None
        if record is not None:
            yield record
        else:
            unread.rows.setdefault(kind.__name__, set()).add(str(raw.get(keys[0], "")))
    if name in sources.doubtful:
        unread.tables.add(kind.__name__)
