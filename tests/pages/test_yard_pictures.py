"""The yard's own pictures on the price sheet: upright, in two sizes, with nothing but points.

What is asked of a file is read here from its bytes, or by Pillow; never by the program itself.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from PIL import Image

from quoter.catalogue.load import load_catalogue
from quoter.catalogue.mark import inputs
from quoter.catalogue.pictures import made_for_pages, made_small, on_pages
from quoter.keys import key_of_sheet
from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError
from quoter.workers import source_of
from tests.catalogues.written import FOLDER, priced, write_catalogue
from tests.pages.parsed import Page

RED, GREEN, BLUE, WHITE = (230, 20, 20), (20, 160, 40), (20, 40, 220), (250, 250, 250)
PLACE = b"54 deg 12 N"
# Exif 2.3 (CIPA DC-008-2012), 4.6.4 A, "Orientation": which side of the scene the stored picture's
# row 0 and column 0 are. With the scene's corners red, green, blue, white (top left, top right,
# bottom left, bottom right), the corners of what is stored, in the same order.
STORED = {
    1: (RED, GREEN, BLUE, WHITE),  # top, left
    2: (GREEN, RED, WHITE, BLUE),  # top, right
    3: (WHITE, BLUE, GREEN, RED),  # bottom, right
    4: (BLUE, WHITE, RED, GREEN),  # bottom, left
    5: (RED, BLUE, GREEN, WHITE),  # left, top
    6: (GREEN, WHITE, RED, BLUE),  # right, top
    7: (WHITE, GREEN, BLUE, RED),  # right, bottom
    8: (BLUE, RED, WHITE, GREEN),  # left, bottom
}
WIDE, HIGH = 1800, 1200  # of the scene


def stored(orientation: int, kind: str = "JPEG", width: int = WIDE, height: int = HIGH) -> bytes:
    """A scene as a camera stores it: with its orientation, its place, and who held it."""
    if orientation > 4:
        width, height = height, width
    image = Image.new("RGB", (width, height))
    half = width // 2, height // 2
    for at, colour in enumerate(STORED[orientation]):
        left, top = (at % 2) * half[0], (at // 2) * half[1]
        image.paste(colour, (left, top, left + half[0], top + half[1]))
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x013B] = "A. Photographer"
    exif.get_ifd(0x8825)[0x001D] = PLACE.decode()
    file = io.BytesIO()
    profile = b"profile " * 20  # no profile at all, as damaged files have
    if kind == "JPEG":
        image.save(file, kind, exif=exif, comment=b"a remark", icc_profile=profile, quality=92)
    else:
        image.save(file, kind, exif=exif)
    return file.getvalue()


def corners(image: Image.Image) -> list[tuple[int, ...]]:
    """The colours a little within each corner: top left, top right, bottom left, bottom right."""
    plain, (wide, high) = image.convert("RGB"), image.size
    places = [(x, y) for y in (high // 8, high * 7 // 8) for x in (wide // 8, wide * 7 // 8)]
    found = [plain.getpixel(place) for place in places]
    return [each for each in found if isinstance(each, tuple)]


def alike(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    return all(abs(a - b) < 12 for a, b in zip(one, other, strict=True))


def jpeg_markers(content: bytes) -> Iterator[int]:
    """The second byte of each marker up to the first scan (ITU-T T.81, B.1.1)."""
    at = 2
    while at < len(content):
        mark, length = struct.unpack_from(">xBH", content, at)
        yield mark
        if mark == 0xDA:
            return
        at += 2 + length


def png_chunks(content: bytes) -> Iterator[bytes]:
    """The kinds of its chunks, whose sums are looked at (PNG, 5.3)."""
    at = 8
    while at < len(content):
        length, kind = struct.unpack_from(">I4s", content, at)
        inside = content[at + 4 : at + 8 + length]
        assert struct.unpack_from(">I", content, at + 8 + length)[0] == zlib.crc32(inside)
        yield kind
        at += 12 + length


@pytest.mark.parametrize("orientation", STORED)
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_picture_is_upright_whatever_way_the_camera_was_held(orientation: int, kind: str) -> None:
    raw = stored(orientation, kind)
    assert PLACE in raw
    shown = on_pages(raw)
    assert shown.sizes == ((640, 427), (1280, 853))
    for content, size in zip(made_for_pages(raw), shown.sizes, strict=True):
        image = Image.open(io.BytesIO(content))
        assert image.size == size
        assert all(map(alike, corners(image), (RED, GREEN, BLUE, WHITE)))


def test_nothing_that_a_camera_wrote_is_left() -> None:
    for raw in (stored(6), stored(6, "PNG")):
        for content in made_for_pages(raw):
            assert not any(said in content for said in (PLACE, b"Photographer", b"remark", b"Exif"))
            # JFIF's own head, tables, the frame and its scans (ITU-T T.81, table B.1).
            assert set(jpeg_markers(content)) <= {0xE0, 0xDB, 0xC0, 0xC2, 0xC4, 0xDA}
            image = Image.open(io.BytesIO(content))
            assert not image.getexif()
            assert not {"icc_profile", "comment", "exif", "dpi"} & set(image.info)


def drawing() -> bytes:
    """A drawing with holes to see through, and words in it that no reader sees."""
    from PIL.PngImagePlugin import PngInfo

    told = PngInfo()
    told.add_text("Author", "A. Draughtsman")
    image = Image.new("RGBA", (900, 600), (0, 0, 0, 0))
    image.paste((10, 80, 120, 255), (300, 200, 600, 400))
    file = io.BytesIO()
    image.save(file, "PNG", pnginfo=told)
    return file.getvalue()


def test_a_drawing_stays_one_and_none_is_enlarged() -> None:
    raw = drawing()
    assert b"Draughtsman" in raw
    assert on_pages(raw).sizes == ((640, 427), (900, 600))
    for content in made_for_pages(raw):
        assert set(png_chunks(content)) <= {b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND"}
        assert Image.open(io.BytesIO(content)).convert("RGBA").getpixel((2, 2)) == (0, 0, 0, 0)
    small = stored(1, width=400, height=300)
    assert on_pages(small).sizes == ((400, 300),)
    assert [Image.open(io.BytesIO(each)).size for each in made_for_pages(small)] == [(400, 300)]


def test_the_same_picture_has_the_same_bytes() -> None:
    for raw in (stored(3), drawing()):
        assert made_for_pages(raw) == made_for_pages(raw)


def swapped_colours() -> bytes:
    """A profile in which what is called red is blue, and blue red (ICC.1:2010, 7 and 10.18)."""

    def xyz(*values: float) -> bytes:
        return b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(v * 65536)) for v in values)

    # The primaries of sRGB adapted to D50, as profiles of sRGB have them.
    red, green, blue = (0.4361, 0.2225, 0.0139), (0.3851, 0.7169, 0.0971), (0.1431, 0.0606, 0.7139)
    curve = b"curv\0\0\0\0" + struct.pack(">IH2x", 1, round(2.2 * 256))
    tags = {b"rXYZ": xyz(*blue), b"gXYZ": xyz(*green), b"bXYZ": xyz(*red)}
    tags |= {b"wtpt": xyz(0.9642, 1.0, 0.8249), b"rTRC": curve, b"gTRC": curve, b"bTRC": curve}
    at, table, inside = 128 + 4 + 12 * len(tags), struct.pack(">I", len(tags)), b""
    for name, content in tags.items():
        table += name + struct.pack(">II", at + len(inside), len(content))
        inside += content
    head = struct.pack(
        ">I4sI4s4s4s12x4s", at + len(inside), b"", 0x02100000, b"mntr", b"RGB ", b"XYZ ", b"acsp"
    )
    return head.ljust(68, b"\0") + xyz(0.9642, 1.0, 0.8249)[8:] + bytes(48) + table + inside


def test_colours_of_a_camera_are_told_in_those_of_every_screen() -> None:
    file = io.BytesIO()
    Image.new("RGB", (700, 500), (200, 30, 30)).save(file, "PNG", icc_profile=swapped_colours())
    for content in made_for_pages(file.getvalue()):
        found = Image.open(io.BytesIO(content)).convert("RGB").getpixel((300, 200))
        assert isinstance(found, tuple)
        assert alike(found, (30, 30, 200))
    assert made_small(file.getvalue(), 64, 64, 9000).startswith("data:image/")


IMAGE = "    image: {{file: {}, alt: {}}}\n"


def pictured(folder: Path, files: Mapping[str, bytes], boat: str, option: str) -> Path:
    """The small yard with a picture of its skiff and one of its hatch, by the names of files."""
    told = (
        IMAGE.format(boat, "The skiff at the quay"),
        IMAGE.format(option, "The hatch from above"),
    )
    changes = {
        "models.yaml": ("  - id: skiff\n", f"  - id: skiff\n{told[0]}"),
        "options.yaml": ("  - id: hatch\n", f"  - id: hatch\n{told[1]}"),
    }
    copy = write_catalogue(folder, {}, changes, FOLDER / "small")
    (copy / "pictures").mkdir()
    for name, content in files.items():
        (copy / "pictures" / name).write_bytes(content)
    return copy


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Pricing:
    files = {"skiff.jpg": stored(6), "hatch.png": drawing()}
    folder = tmp_path_factory.mktemp("pictured") / "yard"
    return priced(pictured(folder, files, "pictures/skiff.jpg", "pictures/hatch.png"))


def test_pages_show_each_picture_in_its_sizes_with_words(yard: Pricing) -> None:
    site = PublicSite(yard)
    made = site.pages()
    for path, depth in (("index.html", ""), ("models/skiff.html", "../")):
        images = list(Page(made[f"en/home/{path}"]).all("img"))
        assert images, path
        for image in images:
            said = image.attributes
            name = {"The skiff at the quay": "boat-skiff", "The hatch from above": "option-hatch"}
            ending = "jpg" if name[said["alt"]] == "boat-skiff" else "png"
            for asked in said["srcset"].split(", "):
                address, width = asked.split(" ")
                file = made[f"en/home/{address.removeprefix(depth)}"]
                found = Image.open(io.BytesIO(file)).size
                assert address == f"{depth}pictures/{name[said['alt']]}-{found[0]}.{ending}"
                assert width == f"{found[0]}w"
            assert (int(said["width"]), int(said["height"])) == found  # the last, the largest
            assert said["decoding"] == "async"
            assert said["sizes"].endswith("vw")
    on_page = list(Page(made["en/home/models/skiff.html"]).all("img"))
    assert [each.attributes.get("loading") for each in on_page] == [None, "lazy"]
    assert SiteGuard(site).leaks(made) == []


def test_each_folder_holds_its_pictures_and_each_is_made_once(
    yard: Pricing, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[int] = []

    def counted(content: bytes) -> tuple[bytes, ...]:
        seen.append(len(content))
        return made_for_pages(content)

    monkeypatch.setattr("quoter.pages.public.pictures.made_for_pages", counted)
    site = PublicSite(yard)
    pictures = {path: site.makers[path]() for path in site.makers if "/pictures/" in path}
    assert len(pictures) == 4 * len(site.sheets)
    assert len(set(pictures.values())) == 4
    assert len(seen) == 2


@pytest.mark.parametrize("added", [b"\xff\xfe\x00\x08secret", b"\xff\xe1\x00\x08secret"])
def test_the_guard_sees_what_is_no_part_of_a_picture(yard: Pricing, added: bytes) -> None:
    site, path = PublicSite(yard), "en/home/pictures/boat-skiff-640.jpg"
    content = site.makers[path]()
    guard = SiteGuard(site)
    assert guard.leaks({path: content}) == []
    for bad in (content[:2] + added + content[2:], content + added, content[:-2], b"", b"words"):
        assert guard.leaks({path: bad}), bad[:20]
    other = site.makers["en/home/pictures/boat-skiff-1280.jpg"]()
    assert "of other width and height than 640 × 427" in guard.leaks({path: other})[0].text
    drawn = "en/home/pictures/option-hatch-640.png"
    image = site.makers[drawn]()
    text = struct.pack(">I4s6sI", 6, b"tEXt", b"a\0bcde", zlib.crc32(b"tEXta\0bcde"))
    assert "tEXt" in guard.leaks({drawn: image[:33] + text + image[33:]})[0].text
    assert guard.leaks({"en/home/pictures/other.jpg": content})


def test_all_that_is_wrong_with_pictures_is_told_in_one_run(tmp_path: Path) -> None:
    cut = stored(1)
    files = {"cut.jpg": cut[: len(cut) // 2], "turned.jpg": with_orientation(9)}
    folder = pictured(tmp_path / "yard", files, "pictures/cut.jpg", "pictures/turned.jpg")
    with pytest.raises(CatalogueError) as caught:
        load_catalogue(folder)
    told = str(caught.value)
    assert "models.yaml" in told
    assert "'pictures/cut.jpg' is cut short [picture]" in told
    assert "'pictures/turned.jpg' has the orientation 9; Exif has those from 1 to 8" in told


def with_orientation(number: int) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = number
    file = io.BytesIO()
    Image.new("RGB", (700, 500)).save(file, "JPEG", exif=exif)
    return file.getvalue()


def test_a_damaged_drawing_and_one_of_too_many_bits_are_told(tmp_path: Path) -> None:
    good = drawing()
    fine = io.BytesIO()
    Image.new("I;16", (700, 500)).save(fine, "PNG")
    files = {"bad.png": good[:-40] + b"\1" + good[-39:], "fine.png": fine.getvalue()}
    folder = pictured(tmp_path / "yard", files, "pictures/bad.png", "pictures/fine.png")
    with pytest.raises(CatalogueError) as caught:
        load_catalogue(folder)
    assert "'pictures/bad.png' is damaged" in str(caught.value)
    assert "'pictures/fine.png' has more than 8 bits a point" in str(caught.value)


def test_a_narrow_picture_is_warned_of(tmp_path: Path) -> None:
    narrow = io.BytesIO()
    Image.new("RGB", (200, 160), RED).save(narrow, "PNG")
    files = {"skiff.jpg": stored(1), "small.png": narrow.getvalue()}
    folder = pictured(tmp_path / "yard", files, "pictures/skiff.jpg", "pictures/small.png")
    _, warnings = load_catalogue(folder)
    told = [str(each) for each in warnings if each.code == "picture"]
    assert len(told) == 1
    assert "'pictures/small.png' has only 200 pixels across" in told[0]


def test_another_picture_of_the_same_name_is_built_anew(yard: Pricing, tmp_path: Path) -> None:
    files = {"skiff.jpg": stored(6), "hatch.png": drawing()}
    folder = pictured(tmp_path / "yard", files, "pictures/skiff.jpg", "pictures/hatch.png")
    seen, key = inputs(folder), sheet_key(priced(folder))
    assert seen is not None
    assert seen["pictures/skiff.jpg"] == stored(6)
    sent = source_of(folder, None, (), published=True).files
    assert sent["pictures/hatch.png"] == drawing()
    (folder / "pictures" / "skiff.jpg").write_bytes(stored(6, width=1500, height=1000))
    assert inputs(folder) != seen
    assert sheet_key(priced(folder)) != key


def sheet_key(pricing: Pricing) -> str:
    return key_of_sheet(pricing, PublicSite(pricing).sheets["en/home"])
