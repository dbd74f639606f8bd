"""Pictures of a quote: held against what can be shown, drawn anew, and kept in the record."""

from __future__ import annotations

import io
import re
from base64 import b64decode
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from quoter.catalogue.pictures import PictureError, made_small, read_picture
from quoter.catalogue.source import Text
from quoter.leaks import LeakError
from quoter.quotes.kept.pictures import Picture
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json, to_json
from quoter.quotes.printed.files import reprinted
from quoter.quotes.printed.guard import look_through_quote
from tests.quotes.samples import short

SECRET = b"Undercover photographer"


def photo(width: int = 1600, height: int = 1000) -> bytes:
    """A photograph as a camera writes it: with an artist and a remark."""
    exif = Image.Exif()
    exif[0x013B] = SECRET.decode()
    file = io.BytesIO()
    drawn = Image.effect_noise((width, height), 80).convert("RGB")
    drawn.save(file, "JPEG", exif=exif, comment=SECRET)
    return file.getvalue()


def drawing() -> bytes:
    file = io.BytesIO()
    Image.new("RGBA", (300, 90), (10, 80, 120, 90)).save(file, "PNG")
    return file.getvalue()


def with_pictures() -> Record:
    told = (
        ("yard", "Tern Quay Boats", "A tern over the quay", drawing(), 40_000),
        ("boat", "Tern Cutter 82", "The cutter from port", photo(), 60_000),
        ("option", "Pair of cleats", "A cleat on the deck", photo(64, 48), 25_000),
    )
    pictures = [
        Picture.model_validate(
            {"of": of, "name": name, "alt": alt, "data": made_small(raw, 480, 360, most)}
        )
        for of, name, alt, raw, most in told
    ]
    return short(pictures=tuple(pictures))


def test_a_picture_is_drawn_anew_small_and_without_what_its_file_said() -> None:
    raw = photo()
    assert SECRET in raw
    small = made_small(raw, 480, 360, 60_000)
    assert small == made_small(raw, 480, 360, 60_000)
    kind, _, text = small.partition(";base64,")
    content = b64decode(text)
    assert (kind, SECRET in content) == ("data:image/jpeg", False)
    assert len(content) <= 60_000
    found = Image.open(io.BytesIO(content))
    assert found.size == (480, 300)
    assert not found.getexif()
    with pytest.raises(PictureError) as caught:
        made_small(raw, 480, 360, 100)
    assert str(caught.value) == "it can't be made smaller than 100 bytes"
    assert made_small(drawing(), 480, 360, 40_000).startswith("data:image/png;base64,")


def test_what_is_no_picture_is_told(tmp_path: Path) -> None:
    (tmp_path / "right.png").write_bytes(drawing())
    assert read_picture(tmp_path, Text("right.png")) == drawing()
    (tmp_path / "words.png").write_bytes(b"no picture")
    tiny = io.BytesIO()
    Image.new("L", (8, 900)).save(tiny, "PNG")
    (tmp_path / "tiny.png").write_bytes(tiny.getvalue())
    (tmp_path / "film.gif").write_bytes(b"GIF89a" + bytes(100))
    for name, told in {
        "gone.png": "there is no file 'gone.png'",
        "../right.png": "'../right.png' is not within the catalogue's folder",
        "words.png": "'words.png' is no PNG or JPEG file",
        "film.gif": "'film.gif' is no PNG or JPEG file",
        "tiny.png": "'tiny.png' has only 8 × 900 pixels",
    }.items():
        with pytest.raises(PictureError) as caught:
            read_picture(tmp_path, Text(name))
        assert str(caught.value) == told


def test_a_quote_shows_its_pictures_with_words_for_who_cannot_see_them() -> None:
    asked = with_pictures()
    files = reprinted(asked)
    page = files["quote.html"].decode()
    assert re.findall(r'<img[^>]* alt="([^"]*)"', page) == [each.alt for each in asked.pictures]
    assert all(f'src="{each.data}"' in page for each in asked.pictures)
    reader = PdfReader(io.BytesIO(files["quote.pdf"]))
    assert len(reader.pages[0].images) == 3
    assert "Pair of cleats" in reader.pages[0].extract_text()
    assert reprinted(from_json(to_json(asked, files))) == files


def test_no_other_picture_passes_than_those_of_the_record() -> None:
    asked = with_pictures()
    files = reprinted(asked)
    other = files["quote.html"].replace(
        asked.pictures[2].data.encode(), asked.pictures[1].data.encode()
    )
    look_through_quote({"quote.html": other}, asked)
    foreign = made_small(photo(32, 32), 32, 32, 60_000).encode()
    page = files["quote.html"].replace(asked.pictures[0].data.encode(), foreign)
    with pytest.raises(LeakError):
        look_through_quote({"quote.html": page}, asked)
