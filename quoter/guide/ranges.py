"""The table of usual ranges as Markdown: what the check holds values against, each with its source.

The ranges themselves stand in `quoter/plausibility/`; here they are put under the files and blocks
that they are of.
"""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.reference import FileTold, files_told
from quoter.guide.markdown import cell, table
from quoter.plausibility.table import EXEMPT, TABLE
from quoter.plausibility.usual import Usual
from quoter.problems import nearest

TOPIC = "usual-ranges"
_INTRO = (
    "# Usual ranges",
    "What `quoter check` holds every measure of a catalogue against, with where each range is "
    "from. A value outside is a warning, and no fault: only what physics forbids is an error.",
    "## Saying that a value is meant",
    "In a block of a YAML file, say why beside the value, under its key; in a table, begin the "
    "line's note with `expected:`. The reason is kept and stays internal. One that keeps nothing "
    "quiet is told.",
    "```yaml\ngelcoats:\n  - id: gel_bottom\n    wet_thickness: 1.8 mm\n"
    "    expected: {wet_thickness: two coats for the bottom}\n```",
    "Money is told in euros: in another currency an order of magnitude is compared. A move of a "
    "price, wage or rate is compared with the one before it.",
)
_HEADS = ("in", "measure", "usual", "where the range is from")


def ranges_topic() -> str:
    """Every usual range by file, then what has none and why, as Markdown."""
    parts = list(_INTRO)
    for name, rows in _by_file().items():
        parts += [f"## {name}", table(_HEADS, rows)]
    parts.append("## Without a range")
    exempt = [
        [_named(kind.__name__), f"`{field}`", cell(why)] for (kind, field), why in EXEMPT.items()
    ]
    parts.append(table(("in", "measure", "why"), exempt))
    return "\n\n".join(parts) + "\n"


def ranges_told(word: str) -> str:
    """The ranges of a measure, or of all measures of a file or block.

    Raises:
        ValueError: nothing of that name has a usual range; says what is near.
    """
    parts: list[str] = []
    known: dict[str, None] = {}
    for name, rows in _by_file().items():
        stem = name.partition(".")[0].partition("/")[0]
        known |= dict.fromkeys([name, stem])
        words = [_words_of(row) for row in rows]
        for each in words:
            known |= dict.fromkeys(each)
        kept = [
            row
            for row, each in zip(rows, words, strict=True)
            if word in (name, stem) or word in each
        ]
        if kept:
            parts += [f"## {name}", table(_HEADS, kept)]
    if not parts:
        raise ValueError(f"no usual range is of '{word}'; {nearest(word, known)}")
    return "\n\n".join([f"# Usual ranges of {word}", *parts]) + "\n"


def _words_of(row: list[str]) -> list[str]:
    """The names that a row may be asked for by."""
    measure = row[1].partition("`")[2].partition("`")[0]
    return [measure, *row[0].split(", ")]


def _by_file() -> dict[str, list[list[str]]]:
    """The rows of each file; what several files have stands with the first."""
    told: set[int] = set()
    found: dict[str, list[list[str]]] = {}
    for file in files_told().values():
        rows = []
        for usual in TABLE:
            names = [*_names_in(file, usual)]
            if names and id(usual) not in told:
                told.add(id(usual))
                rows.append(_row(", ".join(dict.fromkeys(names)), usual))
        if rows:
            found[file.name] = rows
    return found


def _names_in(file: FileTold, usual: Usual) -> Iterator[str]:
    """The blocks of a file that a range is of; those with a range of their own left out."""
    for told in file.records:
        if usual.record not in told.record.__mro__:
            continue
        nearer = told.record.__mro__[: told.record.__mro__.index(usual.record)]
        own = any(u.record in nearer and u.field == usual.field for u in TABLE)
        if not own:
            yield from told.names or ("line" if file.name.endswith(".csv") else "file",)


def _row(names: str, usual: Usual) -> list[str]:
    measure = f"`{usual.field}`"
    if usual.relation:
        measure += f": {usual.relation}"
    elif usual.case:
        measure += f", {usual.case}"
    within = usual.within + (f"; possible is {usual.never}" if usual.never else "")
    source = usual.source + (f"; {usual.why_never}" if usual.never else "")
    return [names, cell(measure), cell(within), cell(source)]


def _named(record: str) -> str:
    """The table or file that a kind of record is of."""
    for file in files_told().values():
        if any(told.record.__name__ == record for told in file.records):
            return file.name
    return record
