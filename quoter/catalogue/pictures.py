"""Pictures that a yard gives: held against what can be shown, and made small for customers.

What goes out is drawn anew from the picture's points: no word, place, person or preview that a
camera or a program put into the file goes with it.
"""

from __future__ import annotations

import base64
import io
import warnings
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.intake import IntakeError, read_file
from quoter.problems import Problem, quoted

if TYPE_CHECKING:
    from PIL import Image as pillow

KINDS = {"PNG": "image/png", "JPEG": "image/jpeg"}
MOST_PIXELS = 40_000_000  # of one picture; a telephone's have a quarter to half of it
LEAST_PIXELS = 16  # of its width and height
_QUALITIES = (85, 75, 65, 50, 35, 20)  # of JPEG, the first that is small enough
_COLOURS = (256, 64, 16)  # of a drawing that is too large with all it has


class Image(CatalogueRecord):
    """A picture, PNG or JPEG, in the catalogue's folder; public."""

    file: f.Words
    """The file, as it is called from the catalogue's folder.
    Example: `pictures/weekender.jpg`"""
    alt: f.Translated
    """What it shows, in a few words for who can't see it.
    Example: `The cabin boat at the quay, seen from port.`"""


class PictureError(ValueError):
    """Raised for a file that is no picture which can be shown; says what it is."""


def picture_problems(folder: Path, records: Iterable[CatalogueRecord]) -> Iterator[Problem]:
    """What is wrong with the files of pictures, each told where it is named."""
    for record in records:
        if isinstance(record, Image):
            try:
                read_picture(folder, record.file)
            except PictureError as fault:
                hint = "name a PNG or JPEG file in the catalogue's folder"
                yield Problem(record.file.place, "picture", str(fault), hint)


def read_picture(folder: Path, name: Text) -> bytes:
    """The bytes of a picture's file, which is one that can be shown.

    Raises:
        PictureError: it is not in the folder, too large, or no PNG or JPEG file.
    """
    path = PurePosixPath(str(name))
    if path.is_absolute() or ".." in path.parts or "\\" in str(name) or ":" in str(name):
        raise PictureError(f"{quoted(name)} is not within the catalogue's folder")
    try:
        content = read_file(folder / path)
    except FileNotFoundError:
        raise PictureError(f"there is no file {quoted(name)}") from None
    except IntakeError as fault:
        raise PictureError(f"{quoted(name)} can't be shown: {fault.what}") from None
    _opened(content, str(name))
    return content


def made_small(content: bytes, width: int, height: int, most: int) -> str:
    """A picture as a `data:` address: no larger than so many pixels, and about so many bytes.

    Args:
        content: of a file that `read_picture` let pass
        width: in pixels, at most; a smaller one is not enlarged
        height: likewise
        most: bytes that it may have before it is written as text
    Raises:
        PictureError: its points can't be read, or nothing makes it small enough.
    """
    from PIL import ImageOps

    image = _opened(content, "the picture")
    try:
        turned = ImageOps.exif_transpose(image)
        seen = turned.has_transparency_data or image.format == "PNG"
        plain = turned.convert("RGBA" if turned.has_transparency_data else "RGB")
    except (OSError, SyntaxError, ValueError) as fault:
        raise PictureError(f"it is damaged: {fault}") from fault
    plain.thumbnail((width, height))
    plain.info.clear()
    for kind, made in _written(plain, drawn=seen):
        if len(made) <= most:
            return f"data:{KINDS[kind]};base64,{base64.b64encode(made).decode()}"
    raise PictureError(f"it can't be made smaller than {most:,} bytes")


def _written(image: pillow.Image, drawn: bool) -> Iterator[tuple[str, bytes]]:
    """A picture as files, each smaller than the one before: a drawing first as what it is."""
    if drawn:
        yield "PNG", _saved(image, "PNG", optimize=True)
        for colours in _COLOURS:
            yield "PNG", _saved(image.quantize(colours, method=2), "PNG", optimize=True)
    if image.mode == "RGB":
        for quality in _QUALITIES:
            yield "JPEG", _saved(image, "JPEG", quality=quality, optimize=True)


def _saved(image: pillow.Image, kind: str, **how: object) -> bytes:
    file = io.BytesIO()
    image.save(file, kind, **how)
    return file.getvalue()


def _opened(content: bytes, name: str) -> pillow.Image:
    """A picture whose head was read and whose size can be shown."""
    from PIL import Image as pillow  # only who shows pictures waits for it

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", pillow.DecompressionBombWarning)  # MOST_PIXELS decides
            image = pillow.open(io.BytesIO(content), formats=tuple(KINDS))
    except (OSError, SyntaxError, ValueError, pillow.DecompressionBombError):
        raise PictureError(f"{quoted(name)} is no PNG or JPEG file") from None
    across, down = image.size
    if across * down > MOST_PIXELS:
        what = f"{quoted(name)} has {across:,} × {down:,} pixels, more than {MOST_PIXELS:,}"
        raise PictureError(what)
    if min(across, down) < LEAST_PIXELS:
        raise PictureError(f"{quoted(name)} has only {across} × {down} pixels")
    return image
