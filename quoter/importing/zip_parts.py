"""The parts of a workbook, a zip archive of XML, read in pieces and never all at once.

What the archive says of itself is looked at first, and what it really holds is counted as it is
read. No part may declare anything: entities of entities, and those that name another file, are
refused before they mean something.

The reader is our own, so that all it unpacks is counted.
"""

from __future__ import annotations

import io
import posixpath
import struct
from collections.abc import Iterator, Mapping
from typing import IO, NoReturn
from xml.parsers import expat
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile

from quoter.intake import (
    LARGEST_UNPACKED,
    LONGEST_CELL,
    MOST_ELEMENTS,
    MOST_PARTS,
    ONLY_THE_LIST,
    IntakeError,
    counted,
)

WITHOUT_PASSWORD = "save it in a spreadsheet program as .xlsx, without a password"
PIECE = 1 << 15  # bytes that are unpacked at a time
LONGEST_MARK = 1 << 20  # bytes of a tag with its attributes, or of a comment
_END = struct.Struct("<4s4H2LH")  # the archive's last record: marks, counts, the directory's size
_NAMED = 400  # bytes of the directory that one part may have: its name is in it
# Where an element begins it has attributes, where it ends the text since the last one began.
Event = tuple[str, Mapping[str, str] | None, str]


class ZipParts:
    """The parts of a zip archive by name; what is counted goes over all that is read of them."""

    def __init__(self, raw: bytes) -> None:
        """Read the directory.

        Raises:
            IntakeError: it has too many parts, unpacks to too much, or is locked.
            BadZipFile: it is damaged.
        """
        _need_short_directory(raw)
        self._zip = ZipFile(io.BytesIO(raw))
        parts = self._zip.infolist()
        if len(parts) > MOST_PARTS:
            raise _many_parts(counted(len(parts)))
        if sum(part.file_size for part in parts) > LARGEST_UNPACKED:
            raise _unpacked()
        if any(part.flag_bits & 1 for part in parts):
            what = "the file can't be read: it is locked with a password"
            raise IntakeError("unreadable-file", what, WITHOUT_PASSWORD)
        self.parts = {part.filename.lower(): part for part in parts}
        self._bytes = self._elements = 0

    def __contains__(self, name: str) -> bool:
        """Whether there is a part of this name."""
        return name.lower() in self.parts

    def first(self, name: str) -> bytes:
        """The beginning of a part."""
        with self._open(name) as part:
            return part.read(PIECE)

    def elements(self, name: str) -> Iterator[Event]:
        """The elements of a part by their names without namespaces, as they begin and end.

        Raises:
            IntakeError: there are too many, or a text is too long.
            KeyError, BadZipFile, ExpatError: the part is not there, or damaged.
        """
        found = _Found()
        with self._open(name) as part:
            while piece := part.read(PIECE):
                self._bytes += len(piece)
                if self._bytes > LARGEST_UNPACKED:
                    raise _unpacked()
                found.parse(piece)
                self._elements += found.begun
                if self._elements > MOST_ELEMENTS:
                    what = f"the workbook has more than {counted(MOST_ELEMENTS)} cells and marks"
                    raise beyond(what)
                yield from found.taken()
        found.parser.Parse(b"", True)
        yield from found.taken()

    def related(self, name: str) -> Iterator[tuple[str, str, str]]:
        """The parts that a part refers to: id, kind and name of each."""
        folder, file = posixpath.split(name)
        list_of = f"{folder}/_rels/{file}.rels".lstrip("/")
        for tag, has, _ in self.elements(list_of) if list_of in self else ():
            if tag == "Relationship" and has is not None and has.get("TargetMode") != "External":
                target = posixpath.normpath(posixpath.join("/", folder, has["Target"]))
                yield has["Id"], posixpath.basename(has["Type"]), target.lstrip("/")

    def _open(self, name: str) -> IO[bytes]:
        part = self.parts[name.lower()]
        if part.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
            # The library unpacks the others without a limit, and no workbook has them.
            raise BadZipFile("a part is packed in a way that no workbook is")
        return self._zip.open(part)


class _Found:
    """What a parser finds, until it is taken."""

    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._begin
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.StartDoctypeDeclHandler = self._declared
        self.begun = self._given = 0
        self._events: list[Event] = []
        self._words: list[str] = []
        self._length = 0

    def parse(self, piece: bytes) -> None:
        """Read on. The parser begins a mark that has no end anew with each piece of it.

        Raises:
            IntakeError: a mark is so long that this would take forever.
        """
        self.parser.Parse(piece, False)
        self._given += len(piece)
        if self._given - self.parser.CurrentByteIndex > LONGEST_MARK:
            what = f"a mark within the workbook has more than {counted(LONGEST_MARK)} bytes"
            raise IntakeError("too-much", f"{what}, which no program writes", ONLY_THE_LIST)

    def taken(self) -> list[Event]:
        """The events since the last time."""
        events, self._events, self.begun = self._events, [], 0
        return events

    def _begin(self, name: str, has: dict[str, str]) -> None:
        self.begun += 1
        self._words = []
        self._length = 0
        self._events.append((name[name.rfind(" ") + 1 :], has, ""))

    def _end(self, name: str) -> None:
        words = self._words
        self._events.append((name[name.rfind(" ") + 1 :], None, "".join(words) if words else ""))
        self._words = []

    def _text(self, words: str) -> None:
        self._length += len(words)
        need_short(self._length)
        self._words.append(words)

    def _declared(self, *_: object) -> NoReturn:
        what = "the file declares what no workbook does, as one does that is made to do harm"
        raise IntakeError(
            "unreadable-file", what, "ask the supplier for another, or save it anew as .xlsx"
        )


def need_short(length: int) -> None:
    """Refuse a text that no spreadsheet's cell can hold.

    Raises:
        IntakeError: it is longer.
    """
    if length > LONGEST_CELL:
        raise beyond(f"a cell has more than {counted(LONGEST_CELL)} characters")


def _need_short_directory(raw: bytes) -> None:
    """Look at how long the directory is before the library makes an object of each entry."""
    at = raw.rfind(b"PK\x05\x06")
    if at < 0 or len(raw) - at < _END.size:
        raise BadZipFile("the archive has no end")
    size = _END.unpack_from(raw, at)[5]
    if size > MOST_PARTS * _NAMED:
        raise _many_parts(f"more than {counted(MOST_PARTS)}")


def _many_parts(count: str) -> IntakeError:
    what = f"the workbook has {count} parts, and {counted(MOST_PARTS)} are the most that are read"
    return IntakeError("too-much", what, ONLY_THE_LIST)


def _unpacked() -> IntakeError:
    return beyond(f"the workbook unpacks to more than {counted(LARGEST_UNPACKED)} bytes")


def beyond(what: str) -> IntakeError:
    """A workbook that has more of something than is read."""
    return IntakeError("too-much", f"{what}, which is the most that is read", ONLY_THE_LIST)
