"""What a build wrote into a folder, by name and digest: the only files that a later one touches.

The list is a text file in the folder, the same bytes for the same files. It may come from anywhere,
as with a clone of a repository, so that a name which leads out of the folder is refused.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

MANIFEST = ".quoter-manifest"
LOCK = ".quoter-lock"
STAGING = ".quoter-staging"
EARLIER_MARK = ".written-by-quoter"  # of versions that kept no list of their files
OWN = (MANIFEST, LOCK, STAGING, EARLIER_MARK)
FORMAT = 1

_HEAD = f"""\
# quoter build, format {FORMAT}: replaces and deletes the files listed here, and leaves all others
# `sha256sum --check {MANIFEST}` tells which of them were changed since
"""
_FORMAT = re.compile(r"# quoter build, format (\d{1,9}):")
_LINE = re.compile(r"([0-9a-f]{64})  (.+)")
_NOTE = re.compile(r"# ([a-z ]+): (.*)")

Notes = Sequence[tuple[str, str]]
_UNSAFE = re.compile(r"[\\:\x00-\x1f\x7f-\x9f\u2028\u2029]")


class Known(bytes):
    """In place of a file's content, which nobody holds any more: its digest."""


class Standing(Known):
    """Of a file that stands in a folder as a build would write it."""


class Staged(Known):
    """Of a file that is on the disk already, beside those that stand."""


class FolderError(Exception):
    """Raised when an output folder can't be written, or something of others would be lost."""

    code = "output-folder"


@dataclass(frozen=True, slots=True)
class WrittenFiles:
    """What a build wrote into a folder: digests by path below it.

    `listed` is false where nothing says so: in a new folder, or in one of an `earlier` version,
    which replaced folders as a whole.
    """

    digests: Mapping[str, str] = field(default_factory=dict)
    listed: bool = False
    earlier: bool = False


def digest_of(content: bytes) -> str:
    """The sha256 of a file's bytes, in hexadecimal digits."""
    return content.decode() if isinstance(content, Known) else hashlib.sha256(content).hexdigest()


def is_safe(name: str) -> bool:
    """Whether a path below a folder stays below it and touches nothing hidden.

    >>> is_safe("en/home/index.html"), is_safe("../costs.html"), is_safe(".git/config")
    (True, False, False)
    """
    return not _UNSAFE.search(name) and all(
        part and not part.startswith(".") for part in name.split("/")
    )


def manifest_text(digests: Mapping[str, str], notes: Notes = ()) -> bytes:
    """The list as it stands in a folder.

    Args:
        digests: by name
        notes: what to say of the build besides, each by a name without a colon, on one line
    Raises:
        ValueError: a name that no build may write.
    """
    unsafe = [name for name in digests if not is_safe(name)]
    if unsafe:
        raise ValueError(f"a build may not write '{unsafe[0]}'")
    lines = (f"{digest}  {name}\n" for name, digest in sorted(digests.items()))
    said = (f"# {name}: {words}\n" for name, words in notes)
    return (_HEAD + "".join(said) + "".join(lines)).encode("utf-8")


def notes_of(folder: Path) -> list[tuple[str, str]]:
    """What the list in a folder says of its build besides, in order; nothing where there is none.

    Raises:
        OSError: it can't be read.
    """
    text = (folder / MANIFEST).read_text(encoding="utf-8")
    found = (_NOTE.fullmatch(line) for line in text.removeprefix(_HEAD).split("\n"))
    return [(note[1], note[2]) for note in found if note]


def read_manifest(content: bytes, where: Path) -> dict[str, str]:
    """Digests by name, from a list as it stands in a folder.

    Raises:
        FolderError: it is of a newer version, or not whole.
    """
    try:
        head, *lines = content.decode("utf-8").split("\n")
    except UnicodeDecodeError:
        head, lines = "", []
    found = _FORMAT.match(head)
    if found and int(found[1]) > FORMAT:
        raise FolderError(
            f"{where} is of format {found[1]} and this version knows {FORMAT} at most; "
            "build with the newer version, or name another folder"
        )
    rows = [_LINE.fullmatch(line) for line in lines if line and not line.startswith("#")]
    names = [row[2] for row in rows if row]
    whole = content.endswith(b"\n") and len({*names}) == len(rows) and all(map(is_safe, names))
    if not found or not whole:
        raise FolderError(
            f"{where} is damaged, so that nothing says which files a build wrote; "
            "bring it back as it was, or empty the folder"
        )
    return {row[2]: row[1] for row in rows if row}


def written_in(folder: Path) -> WrittenFiles:
    """What a build wrote into a folder, as the folder says.

    Raises:
        FolderError: its list can't be read.
        OSError: the same, by the system.
    """
    where = folder / MANIFEST
    if where.is_symlink():
        raise FolderError(f"{where} is a link; a build follows none in its folders")
    if where.is_file():
        return WrittenFiles(read_manifest(where.read_bytes(), where), listed=True)
    return WrittenFiles(earlier=(folder / EARLIER_MARK).is_file())
