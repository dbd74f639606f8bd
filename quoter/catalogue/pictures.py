"""Pictures that a yard gives: held against what can be shown, and made small for customers.

What goes out is drawn anew from the picture's points, upright and in the colours that every screen
takes for granted: no word, place, person or preview that a camera or a program put into the file
goes with it.
"""

from __future__ import annotations

import base64
import io
import struct
import warnings
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.source import Text
from quoter.intake import LARGEST_PICTURE, IntakeError, read_file
from quoter.problems import Problem, quoted

if TYPE_CHECKING:
    from PIL import Image as pillow

KINDS = {"PNG": "image/png", "JPEG": "image/jpeg"}
ENDINGS = {"PNG": "png", "JPEG": "jpg"}
WIDTHS = (640, 1280)  # in pixels, of the sizes in which the price sheet shows a picture
MOST_PIXELS = 40_000_000  # of one picture; a telephone's have a quarter to half of it
LEAST_PIXELS = 16  # of its width and height
LEAST_SHOWN = 320  # of its width on a price sheet: what a telephone shows in points
_MOST_BYTES = (110_000, 320_000)  # of the sizes on a price sheet
_QUALITIES = (85, 75, 65, 50, 35, 20)  # of JPEG, the first that is small enough
_COLOURS = (256, 64, 16)  # of a drawing that is too large with all it has
_ORIENTATION = 0x0112  # the tag of Exif that tells which way a camera was held
_TURNS = {  # what makes a picture upright, by that tag
    **{1: "", 2: "FLIP_LEFT_RIGHT", 3: "ROTATE_180", 4: "FLIP_TOP_BOTTOM"},
    **{5: "TRANSPOSE", 6: "ROTATE_270", 7: "TRANSVERSE", 8: "ROTATE_90"},
}
_LYING = (5, 6, 7, 8)  # orientations in which rows and columns change places
_FINE = ("I", "F")  # how modes of more than eight bits a point begin, as Pillow calls them
_SCAN, _END = b"\xff\xda", b"\xff\xd9"  # markers of JPEG
_UNREADABLE = (OSError, SyntaxError, ValueError, TypeError, KeyError, struct.error)


class Image(CatalogueRecord):
    """A picture, PNG or JPEG, in the catalogue's folder; public."""

    file: f.Words
    """The file, as it is called from the catalogue's folder.
    Example: `pictures/weekender.jpg`"""
    alt: f.Translated
    """What it shows, in a few words for who can't see it.
    Example: `The cabin boat at the quay, seen from port.`"""
    credit: f.Words | None = None
    """Who made it, as the price sheet says below the picture.
    Unless given: nobody is named.
    Example: `Ansa Brekkeli`"""


class PictureError(ValueError):
    """Raised for a file that is no picture which can be shown; says what it is."""


@dataclass(frozen=True, slots=True)
class OnPages:
    """How pages show a picture: its kind, and width and height of each size, smallest first."""

    kind: str
    sizes: tuple[tuple[int, int], ...]


def picture_problems(folder: Path, records: Iterable[CatalogueRecord]) -> Iterator[Problem]:
    """What is wrong with the files of pictures, each told where it is named."""
    records = list(records)
    on_sheet = {id(getattr(record, "image", None)) for record in records}
    for record in records:
        if not isinstance(record, Image):
            continue
        try:
            content = read_picture(folder, record.file)
        except PictureError as fault:
            hint = "name a PNG or JPEG file in the catalogue's folder"
            yield Problem(record.file.place, "picture", str(fault), hint)
            continue
        across, _ = on_pages(content).sizes[-1]
        if across < LEAST_SHOWN and id(record) in on_sheet:
            what = f"{quoted(record.file)} has only {across} pixels across"
            hint = f"give one of {WIDTHS[-1]} or more; it is shown small, never enlarged"
            yield Problem(record.file.place, "picture", what, hint, warning=True)


def read_picture(folder: Path, name: Text) -> bytes:
    """The bytes of a picture's file, which is one that can be shown.

    Raises:
        PictureError: it is not in the folder, too large, no whole PNG or JPEG file, or turned in a
            way that nobody knows.
    """
    path = PurePosixPath(str(name))
    if path.is_absolute() or ".." in path.parts or "\\" in str(name) or ":" in str(name):
        raise PictureError(f"{quoted(name)} is not within the catalogue's folder")
    try:
        content = read_file(folder / path, LARGEST_PICTURE)
    except FileNotFoundError:
        raise PictureError(f"there is no file {quoted(name)}") from None
    except IntakeError as fault:
        raise PictureError(f"{quoted(name)} can't be shown: {fault.what}") from None
    _look_at(_opened(content, str(name)), content, quoted(name))
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
    image = _opened(content, "the picture")
    seen = image.has_transparency_data or image.format == "PNG"
    plain = _upright(image)
    plain.thumbnail((width, height))
    for kind, made in _written(_in_common_colours(plain, image), drawn=seen):
        if len(made) <= most:
            return f"data:{KINDS[kind]};base64,{base64.b64encode(made).decode()}"
    raise PictureError(f"it can't be made smaller than {most:,} bytes")


def on_pages(content: bytes) -> OnPages:
    """How pages show a picture, by what its head says; `made_for_pages` makes them.

    A drawing of few colours, or with holes to see through, stays PNG; what else there is is JPEG.

    Args:
        content: of a file that `read_picture` let pass
    """
    image = _opened(content, "the picture")
    across, down = image.size
    if _orientation(image) in _LYING:
        across, down = down, across
    widths = sorted({min(width, across) for width in WIDTHS})
    drawn = image.format == "PNG" and (image.has_transparency_data or image.mode != "RGB")
    sizes = ((width, max(1, round(down * width / across))) for width in widths)
    return OnPages("PNG" if drawn else "JPEG", tuple(sizes))


def made_for_pages(content: bytes) -> tuple[bytes, ...]:
    """The files of a picture, one for each size of `on_pages`.

    Raises:
        PictureError: its points can't be read, or nothing makes it small enough.
    """
    shown = on_pages(content)
    image = _opened(content, "the picture")
    across, down = shown.sizes[-1]
    # A camera's points are read no finer than they are shown.
    image.draft(image.mode, (down, across) if _orientation(image) in _LYING else (across, down))
    plain = _upright(image)
    files = []
    for size, most in zip(shown.sizes, _MOST_BYTES, strict=False):
        small = _in_common_colours(plain.resize(size, _filter(), reducing_gap=3.0), image)
        made = _written(small, drawn=shown.kind == "PNG", progressive=True)
        fitting = (file for kind, file in made if kind == shown.kind and len(file) <= most)
        files.append(next(fitting, b""))
    if not all(files):
        raise PictureError(f"it can't be made smaller than {_MOST_BYTES[0]:,} bytes")
    return tuple(files)


def _upright(image: pillow.Image) -> pillow.Image:
    """A picture's points alone, turned as the camera was held.

    Exif 2.3 (CIPA DC-008), 4.6.4 A, "Orientation", says which side of the scene row 0 and column 0
    are for each of its eight values.

    Raises:
        PictureError: its points can't be read.
    """
    from PIL import Image as pillow

    turn = _TURNS.get(_orientation(image))
    try:
        turned = image.transpose(pillow.Transpose[turn]) if turn else image
        plain = turned.convert("RGBA" if turned.has_transparency_data else "RGB")
    except _UNREADABLE as fault:
        raise PictureError(f"it is damaged: {fault}") from fault
    plain.info.clear()
    return plain


def _in_common_colours(plain: pillow.Image, image: pillow.Image) -> pillow.Image:
    """The points in sRGB, which is what a file without a profile is taken for.

    Args:
        plain: the points as they were read
        image: the file, which may have a profile of its own colours
    """
    profile = image.info.get("icc_profile")
    if not profile:
        return plain
    from PIL import ImageCms

    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        common = ImageCms.createProfile("sRGB")
        found = ImageCms.profileToProfile(plain, own, common, outputMode=plain.mode)
    except (OSError, ImageCms.PyCMSError):
        return plain  # one that is damaged, or of other inks than the points have
    if found is None:
        return plain
    found.info.clear()
    return found


def _filter() -> pillow.Resampling:
    from PIL import Image as pillow

    return pillow.Resampling.LANCZOS


def _written(
    image: pillow.Image, drawn: bool, progressive: bool = False
) -> Iterator[tuple[str, bytes]]:
    """A picture as files, each smaller than the one before: a drawing first as what it is."""
    if drawn:
        yield "PNG", _saved(image, "PNG", optimize=True)
        for colours in _COLOURS:
            yield "PNG", _saved(image.quantize(colours, method=2), "PNG", optimize=True)
    if image.mode == "RGB":
        how = {"optimize": True} | ({"progressive": True} if progressive else {})
        for quality in _QUALITIES:
            yield "JPEG", _saved(image, "JPEG", quality=quality, **how)


def _saved(image: pillow.Image, kind: str, **how: object) -> bytes:
    file = io.BytesIO()
    image.save(file, kind, **how)
    return file.getvalue()


def _look_at(image: pillow.Image, content: bytes, name: str) -> None:
    """Whether a picture is whole, of eight bits a point, and turned in a way that Exif has.

    Raises:
        PictureError: it is not.
    """
    if image.mode.startswith(_FINE):
        raise PictureError(f"{name} has more than 8 bits a point; save it with 8")
    turned = _orientation(image)
    if turned not in _TURNS:
        raise PictureError(f"{name} has the orientation {turned}; Exif has those from 1 to 8")
    if image.format == "PNG":
        try:
            image.verify()  # which reads what follows the head, and its sums
        except _UNREADABLE:
            raise PictureError(f"{name} is damaged") from None
    elif content.rfind(_END) < content.rfind(_SCAN):
        raise PictureError(f"{name} is cut short")


def _orientation(image: pillow.Image) -> int:
    """Which way a camera says it was held; 1 where it says nothing that can be read."""
    from PIL import Image as pillow

    exif = pillow.Exif()
    try:
        exif.load(image.info.get("exif") or _exif_of_png(image))
        found = exif.get(_ORIENTATION, 1)
    except _UNREADABLE:
        return 1
    return found if isinstance(found, int) else 1


def _exif_of_png(image: pillow.Image) -> bytes:
    """The chunk eXIf of a PNG file, which may stand behind all points; they are not read for it."""
    file = getattr(image, "fp", None)
    if image.format != "PNG" or not isinstance(file, io.BytesIO):
        return b""
    content, at = file.getvalue(), 8
    while at + 8 <= len(content):
        size = int.from_bytes(content[at : at + 4], "big")
        if content[at + 4 : at + 8] == b"eXIf":
            return content[at + 8 : at + 8 + size]
        at += 12 + size
    return b""


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
