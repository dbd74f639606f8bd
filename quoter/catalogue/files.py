"""Which files a catalogue has: the needed ones are there, and no misspelt one lies unread."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

from quoter.catalogue.source import Sources
from quoter.problems import Place, closest, nearest

_READ = (".yaml", ".yml", ".csv")  # what a person might take for a file of the catalogue
_TABLES = (*_READ, ".xlsx", ".xls", ".ods", ".tsv", ".txt")  # ... and for a table


def check_files(sources: Sources, known: Collection[str], needed: Collection[str]) -> None:
    """Record missing and misspelt files, and mark them as doubtful.

    Args:
        sources: the folder
        known: names of all files a catalogue may have, price lists apart
        needed: those it can't do without
    """
    if not sources.folder.is_dir():
        hint = "name the folder that holds yard.yaml"
        sources.problems.add(
            Place(sources.folder.name), "no-file", "the folder does not exist", hint
        )
        return
    for name in _strays(sources, known):
        hint = nearest(name, known) if "/" not in name else "give price lists the ending .csv"
        sources.problems.add(Place(name), "file-name", "no catalogue has a file of this name", hint)
        sources.doubtful.add(closest(name, known))
    for name in needed:
        if name not in sources.doubtful and not sources.has(name):
            hint = "a catalogue can't do without it; look at the demonstration catalogue's"
            sources.problems.add(Place(name), "no-file", "the file is missing", hint)
            sources.doubtful.add(name)


def _strays(sources: Sources, known: Collection[str]) -> Iterator[str]:
    for path in _listed(sources, ""):
        if path.suffix.lower() in _READ and path.name not in known:
            yield path.name
    for path in _listed(sources, "prices"):
        if path.suffix.lower() in _READ and path.suffix != ".csv":
            yield f"prices/{path.name}"
    _listed(sources, "translations")


def check_tables(sources: Sources, folder: str, known: Collection[str]) -> None:
    """Record what lies in an inner folder beside the tables that are read there.

    Args:
        sources: the folder of the catalogue
        folder: the inner one's name
        known: names of all its tables, from the catalogue's folder
    """
    for path in _listed(sources, folder):
        name = f"{folder}/{path.name}"
        if name in known or path.name.startswith(".") or path.suffix.lower() not in _TABLES:
            continue
        hint = nearest(name, known)
        sources.problems.add(
            Place(name), "file-name", "no file of what was booked has this name", hint
        )
        sources.doubtful.add(closest(name, known))


def _listed(sources: Sources, name: str) -> list[Path]:
    """What is in a folder, if there is one; that it or something in it is out of reach is told.

    A link to a file that is gone would else be a price list without a line.
    """
    folder = sources.folder / name
    try:
        found = sorted(folder.iterdir()) if folder.is_symlink() or folder.exists() else []
        for path in found:
            if path.is_symlink() and path.suffix.lower() in (*_READ, ".po"):
                path.stat()
    except OSError as fault:
        at = Path(fault.filename).relative_to(sources.folder).as_posix()
        kind = "folder" if at in (".", name) else "file"
        hint = f"the system says: {fault.strerror}"
        sources.problems.add(Place(at), "unreadable-file", f"the {kind} can't be opened", hint)
        sources.doubtful.add(at)
        return []
    return found
