"""Whether a build would change anything: what the last one was made from is noted in its list.

The notes stand in the private folder's list alone, since readers of a price sheet have no use for
them. One covers all of the catalogue and the program; the others tell what the files of each task
rest on, so that a build does only the tasks whose files would differ.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from quoter.publish.manifest import (
    MANIFEST,
    STAGING,
    FolderError,
    Notes,
    Standing,
    digest_of,
    manifest_text,
    notes_of,
    written_in,
)
from quoter.publish.ours import refuse_quotes, survey
from quoter.resources import PACKAGE, templates_folder

MADE, BESIDE, DAY, WARNING, TASK = "made from", "beside", "day", "warning", "task"
# What numbers, pages and workbooks are written with; another version may write other bytes.
WRITTEN_WITH = (
    "babel",
    "jinja2",
    "lxml",
    "markupsafe",
    "numpy",
    "openpyxl",
    "pillow",
    "pydantic",
    "pyyaml",
)


@dataclass(frozen=True, slots=True)
class Unchanged:
    """What stands in the folders as a build would write it: names of files, and its warnings; and
    what it said of its day."""

    day: str
    public: Sequence[str]
    internal: Sequence[str]
    warnings: Sequence[str]


def made_from(
    inputs: Mapping[str, bytes] | None, as_of: date | None, settings: Sequence[str], *, strict: bool
) -> str:
    """A digest of all that the bytes of a build rest on; nothing where that can't be told.

    Args:
        inputs: every file of the catalogue by name
        as_of: the day asked for, if one is
        settings: what is set instead of the catalogue's own
        strict: whether warnings stop it
    """
    if inputs is None:
        return ""
    digest = hashlib.sha256(program().encode())
    for part in (str(as_of), str(strict), *settings):
        digest.update(f"{part}\0".encode())
    for name, content in sorted(inputs.items()):
        digest.update(f"{name}\0".encode() + hashlib.sha256(content).digest())
    return digest.hexdigest()


def program() -> str:
    """A digest of the program, its templates, and what it writes with."""
    digest = hashlib.sha256()
    for part in (sys.version, *_libraries()):
        digest.update(f"{part}\0".encode())
    for path in (*sorted(PACKAGE.rglob("*.py")), *sorted(templates_folder().rglob("*"))):
        if path.is_file():
            digest.update(path.read_bytes() + b"\0")
    return digest.hexdigest()


def _libraries() -> Iterator[str]:
    for name in WRITTEN_WITH:
        with suppress(PackageNotFoundError):
            yield f"{name} {version(name)}"


def notes(
    made: str,
    day: str,
    public: Mapping[str, bytes] | None,
    warnings: Sequence[str],
    tasks: Sequence[str],
) -> list[tuple[str, str]]:
    """What the private folder's list is to say of a build.

    Args:
        made: what it was made from
        day: what it says of its day
        public: the files published with it, if any
        warnings: what it told of the catalogue, each as it was told
        tasks: the note of each task
    """
    beside = "nothing" if public is None else _digest_of_list(public)
    told = [(WARNING, json.dumps(words)) for words in warnings]
    return [(MADE, made), (BESIDE, beside), (DAY, day), *told, *((TASK, words) for words in tasks)]


def _digest_of_list(files: Mapping[str, bytes]) -> str:
    digests = {name: digest_of(content) for name, content in files.items()}
    return digest_of(manifest_text(digests))


def kept(site: Path | None, internal: Path, made: str) -> Unchanged | None:
    """What stands in the folders, if it is what a build would write; None if anything differs.

    Nothing is locked: while another build is under way, files or lists differ.
    """
    try:
        found = notes_of(internal)
        if not made or found[:1] != [(MADE, made)]:
            return None
        beside = "nothing"
        if site is not None:
            refuse_quotes(site)
            beside = digest_of((site / MANIFEST).read_bytes())
        if found[1:2] != [(BESIDE, beside)]:
            return None
        (day,) = (words for name, words in found if name == DAY)
        public = [] if site is None else _standing(site)
        private = _standing(internal)
        warnings = [str(json.loads(words)) for name, words in found if name == WARNING]
    except (OSError, ValueError, FolderError):  # a list that somebody wrote in tells nothing
        return None
    if public is None or private is None:
        return None
    return Unchanged(day, public, private, warnings)


def _standing(folder: Path) -> list[str] | None:
    """The files that a build wrote into a folder, if all of them are as it wrote them."""
    if (folder / STAGING).exists():
        return None
    written = written_in(folder)
    found = survey(folder, written, {})
    whole = not found.faults and found.standing == written.digests
    return sorted(written.digests) if whole else None


class Before:
    """The public and the internal files that stand as the build before wrote them, by name."""

    def __init__(
        self, public: Mapping[str, str], internal: Mapping[str, str], notes: Notes
    ) -> None:
        """What is known of them.

        Args:
            public: digests of the files that stand in the public folder as they are listed
            internal: the same of the private folder
            notes: what its list says of the build before
        """
        self.public = {name: Standing(digest.encode()) for name, digest in public.items()}
        self.internal = {name: Standing(digest.encode()) for name, digest in internal.items()}
        self._said = {words for name, words in notes if name == TASK}

    def says(self, words: str) -> bool:
        """Whether it noted this of a task."""
        return words in self._said


def task_note(
    task: str, key: str, public: Mapping[str, bytes], internal: Mapping[str, bytes]
) -> str:
    """A digest of what the files of a task rest on, the program included, and of the files; and
    its name."""
    listed = [
        sorted((name, digest_of(content)) for name, content in files.items())
        for files in (public, internal)
    ]
    return f"{digest_of(json.dumps([key, listed]).encode())} {task}"
