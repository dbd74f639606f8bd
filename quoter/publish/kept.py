"""Whether a build would change anything: what the last one was made from is noted in its list.

The note stands in the private folder's list alone, since readers of a price sheet have no use for
it. It covers the program as well as the catalogue: whoever changes either builds.
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
    digest_of,
    manifest_text,
    notes_of,
    written_in,
)
from quoter.publish.ours import refuse_quotes, survey
from quoter.resources import PACKAGE, templates_folder

MADE, BESIDE, WARNING = "made from", "beside", "warning"
# What numbers, pages and workbooks are written with; another version may write other bytes.
WRITTEN_WITH = ("babel", "jinja2", "lxml", "markupsafe", "numpy", "openpyxl", "pydantic", "pyyaml")


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands in the folders as a build would write it: names of files, and its warnings."""

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
    digest = hashlib.sha256()
    for part in (sys.version, str(as_of), str(strict), *settings, *_libraries()):
        digest.update(f"{part}\0".encode())
    for path in _program():
        digest.update(path.read_bytes() + b"\0")
    for name, content in sorted(inputs.items()):
        digest.update(f"{name}\0".encode() + hashlib.sha256(content).digest())
    return digest.hexdigest()


def _libraries() -> Iterator[str]:
    for name in WRITTEN_WITH:
        with suppress(PackageNotFoundError):
            yield f"{name} {version(name)}"


def _program() -> Iterator[Path]:
    yield from sorted(PACKAGE.rglob("*.py"))
    yield from (path for path in sorted(templates_folder().rglob("*")) if path.is_file())


def notes(
    made: str, public: Mapping[str, bytes] | None, warnings: Sequence[str]
) -> list[tuple[str, str]]:
    """What the private folder's list is to say of a build.

    Args:
        made: what it was made from
        public: the files published with it, if any
        warnings: what it told of the catalogue, each as it was told
    """
    beside = "nothing" if public is None else _digest_of_list(public)
    told = [(WARNING, json.dumps(words)) for words in warnings]
    return [(MADE, made), (BESIDE, beside), *told]


def _digest_of_list(files: Mapping[str, bytes]) -> str:
    digests = {name: digest_of(content) for name, content in files.items()}
    return digest_of(manifest_text(digests))


def kept(site: Path | None, internal: Path, made: str) -> Standing | None:
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
        public = [] if site is None else _standing(site)
        private = _standing(internal)
        warnings = [str(json.loads(words)) for name, words in found if name == WARNING]
    except (OSError, ValueError, FolderError):  # a list that somebody wrote in tells nothing
        return None
    if public is None or private is None:
        return None
    return Standing(public, private, warnings)


def _standing(folder: Path) -> list[str] | None:
    """The files that a build wrote into a folder, if all of them are as it wrote them."""
    if (folder / STAGING).exists():
        return None
    written = written_in(folder)
    found = survey(folder, written, {})
    whole = not found.faults and found.standing == written.digests
    return sorted(written.digests) if whole else None
