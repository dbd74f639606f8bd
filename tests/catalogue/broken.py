"""Broken catalogues: the sound one with an edit or two, and all that is said of it.

A file of bad/ begins with a sentence that tells why it is there. Then lines that begin with
``--- `` part it:

    --- change stations.yaml          text that stands in that file exactly once ...
    --- to                            ... and what takes its place
    --- write notes.csv               a whole file, new or instead of the old one, maybe in a folder
    --- delete wages.csv
    --- encode yard.yaml in cp1252    the file is saved in another encoding
    --- as of 2026-10-15              the date to read it for
    --- says                          every problem that loading finds, what was booked included
    --- warns                         ... or else every warning it gives
    --- roll-up says                  ... and every problem that costing finds

What is said is compared as a whole, so a fault must also say nothing else.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from quoter.catalogue.load import load_catalogue
from quoter.costing.rollup import roll_up
from quoter.problems import CatalogueError, Problem, Problems

SOUND = Path(__file__).resolve().parent.parent / "catalogues" / "sound"
BAD = Path(__file__).resolve().parent / "bad"

_PART = re.compile(
    r"^--- (change|to|write|delete|encode|as of|says|warns|roll-up says)(?: (.+))?\n", re.MULTILINE
)
_SAYING = ("says", "warns", "roll-up says")


@dataclass(frozen=True)
class Broken:
    """A file of bad/: what to do to the sound catalogue, as (order, object, text); what is said."""

    name: str
    why: str
    orders: tuple[tuple[str, str, str], ...]
    expected: str

    @property
    def as_of(self) -> date | None:
        """The date to load it for, None for that of its newest price list."""
        days = [date.fromisoformat(about) for order, about, _ in self.orders if order == "as of"]
        return days[0] if days else None


def read_broken(path: Path) -> Broken:
    """Read a file of bad/.

    Raises:
        ValueError: when it says nothing, or has no sentence at its beginning.
    """
    why, *parts = _PART.split(path.read_text(encoding="utf-8"))
    orders = [
        (order, about or "", text.rstrip("\n"))
        for order, about, text in zip(parts[::3], parts[1::3], parts[2::3], strict=True)
    ]
    said = [f"--- {order}\n{text}\n" for order, _, text in orders if order in _SAYING]
    if not said or not why.strip():
        raise ValueError(f"{path.name}: needs a sentence at its beginning and what is said")
    done = tuple(row for row in orders if row[0] not in _SAYING)
    return Broken(path.stem, why.strip(), done, "".join(said))


def every_broken() -> list[Broken]:
    """All files of bad/, by name."""
    return [read_broken(path) for path in sorted(BAD.glob("*.txt"))]


def write_broken(broken: Broken, folder: Path) -> Path:
    """Write the sound catalogue, broken, into a folder.

    Raises:
        ValueError: when a text to change does not stand in its file exactly once.
    """
    shutil.copytree(SOUND, folder, dirs_exist_ok=True)
    find = ""
    changed = folder
    for order, about, text in broken.orders:
        if order in ("change", "write", "delete"):
            changed = folder / about
        if order == "change":
            find = text
        elif order == "to":
            whole = changed.read_text(encoding="utf-8")
            if whole.count(find) != 1:
                raise ValueError(f"{changed.name} holds {whole.count(find)} times: {find}")
            changed.write_text(whole.replace(find, text), encoding="utf-8")
        elif order == "write":
            changed.parent.mkdir(exist_ok=True)
            changed.write_text(text + "\n", encoding="utf-8")
        elif order == "delete":
            changed.unlink()
        elif order == "encode":
            name, _, encoding = about.partition(" in ")
            encoded = (folder / name).read_text(encoding="utf-8").encode(encoding)
            (folder / name).write_bytes(encoded)
    return folder


def problems_of(folder: Path, as_of: date | None) -> dict[str, list[Problem]]:
    """What reading and costing a catalogue says, by the order that would announce it."""
    try:
        catalogue, warnings = load_catalogue(folder, as_of, booked=True)
    except CatalogueError as fault:
        return {"says": fault.problems}
    problems = Problems()
    roll_up(catalogue, problems)
    problems.quote(catalogue.excerpt)
    return {"warns": warnings, "roll-up says": problems.errors}


def told(found: dict[str, list[Problem]]) -> str:
    """The problems in the form of a file of bad/."""
    lines = []
    for order, problems in found.items():
        lines += [f"--- {order}", *map(str, problems)] if problems else []
    return "".join(f"{line}\n" for line in lines)
