"""Pictures read part by part: points and what tells how to draw them, and nothing else.

JPEG by ITU-T T.81, annex B, and PNG by its third edition (W3C), 5.6 and 11: what either lets a
program, a camera or a person say besides stands in parts of its own, which none of ours has.
"""

from __future__ import annotations

import struct
from collections.abc import Generator, Iterator

from quoter.pages.public.views import PictureSize

Size = tuple[int, int]

_PNG = b"\x89PNG\r\n\x1a\n"
_CHUNKS = (b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND")
_START, _END, _SCAN = 0xD8, 0xD9, 0xDA
_JFIF, _FRAMES = 0xE0, (0xC0, 0xC2)
_TABLES = (0xC4, 0xDB)  # of Huffman codes and of quantisation
_PLAIN_JFIF = b"JFIF\0"
_JFIF_LENGTH = 14  # without a small picture within


def picture_rests(content: bytes, size: PictureSize) -> Iterator[str]:
    """What of a picture's file is no part of the picture, or is not as the pages say.

    Args:
        content: of the file
        size: what pages say of it
    """
    read = _png_parts if content.startswith(_PNG) else _jpeg_parts
    try:
        across_down = yield from read(content)
    except (IndexError, ValueError, struct.error):
        yield "a picture that ends too early"
        return
    if across_down != (size.width, size.height):
        yield f"a picture of other width and height than {size.width} × {size.height}"


def _png_parts(content: bytes) -> Generator[str, None, Size]:
    """Tell of foreign chunks; gives width and height."""
    at, kind, found = len(_PNG), b"", (0, 0)
    while kind != b"IEND":
        length, kind = struct.unpack_from(">I4s", content, at)
        if kind not in _CHUNKS:
            yield f"a part that no picture needs: {kind.decode('latin-1')}"
        if kind == b"IHDR":
            found = struct.unpack_from(">II", content, at + 8)
        at += 12 + length
    if at != len(content):
        yield "what follows the picture's end"
    return found


def _jpeg_parts(content: bytes) -> Generator[str, None, Size]:
    """Tell of foreign segments; gives width and height."""
    if content[:2] != bytes((0xFF, _START)):
        yield "what is no picture"
    at, found = 2, (0, 0)
    while content[at + 1] != _END:
        mark, length = content[at + 1], struct.unpack_from(">H", content, at + 2)[0]
        inside = content[at + 4 : at + 2 + length]
        if content[at] != 0xFF or not _is_own(mark, inside):
            yield f"a part that no picture needs: {mark:02X}"
        if mark in _FRAMES:
            down, across = struct.unpack_from(">HH", inside, 1)
            found = across, down
        at += 2 + length
        if mark == _SCAN:
            at = _behind_scan(content, at)
    if at + 2 != len(content):
        yield "what follows the picture's end"
    return found


def _is_own(mark: int, inside: bytes) -> bool:
    if mark == _JFIF:
        return inside.startswith(_PLAIN_JFIF) and len(inside) == _JFIF_LENGTH
    return mark in (*_FRAMES, *_TABLES, _SCAN)


def _behind_scan(content: bytes, at: int) -> int:
    """Where the coded points end: at a marker that is neither a stuffed byte nor a restart."""
    while True:
        at = content.index(b"\xff", at)
        if content[at + 1] != 0 and not 0xD0 <= content[at + 1] <= 0xD7:
            return at
        at += 2
