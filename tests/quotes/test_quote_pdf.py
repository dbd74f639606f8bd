"""A quote's PDF: tagged, the same bytes each time, word for word its page, and well broken."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from quoter.catalogue.languages import languages
from quoter.leaks import LeakError
from quoter.quotes.kept.archive import CUSTOMERS
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json, to_json
from quoter.quotes.printed.files import printed_again, quote_page, reprinted, why_no_pdf
from quoter.quotes.printed.guard import look_through_quote
from quoter.quotes.printed.pdf import UnprintableError, pdf_of, strings_of
from tests.quotes.samples import END, FULL, SAMPLES, TERMS, line, record, short, usual

PAPERS = {"A4": (595, 842), "Letter": (612, 792)}  # points; ISO 216, ANSI/ASME Y14.1
every_language = pytest.mark.parametrize("language", languages())
every_paper = pytest.mark.parametrize("paper", PAPERS)
KEPT = Path(__file__).parent / "kept" / "2026-0007-R2" / "record.json"


def squeezed(text: str) -> str:
    return re.sub(r"\s", "", text)


def sheets(pdf: bytes) -> list[str]:
    """The text of each sheet."""
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def fonts_in(reader: PdfReader) -> Iterator[Any]:
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            yield font.get_object()


@every_paper
@pytest.mark.parametrize("sample", SAMPLES)
def test_the_same_page_gives_the_same_bytes_tagged_and_with_its_fonts(
    sample: str, paper: str
) -> None:
    page = quote_page(SAMPLES[sample]())
    pdf = pdf_of(page, paper)
    assert pdf == pdf_of(page, paper)
    reader = PdfReader(io.BytesIO(pdf))
    catalog: Any = reader.root_object
    assert catalog["/MarkInfo"]["/Marked"].value is True
    assert "/StructTreeRoot" in catalog
    assert catalog["/Lang"] == "en"
    assert reader.metadata is not None
    name = SAMPLES[sample]().name
    assert reader.metadata.title == f"Quote {name}, Tern Quay Boats"
    assert reader.metadata.author == "Tern Quay Boats"
    assert reader.metadata.creation_date is None
    assert b"pdfuaid" in catalog["/Metadata"].get_object().get_data()
    for each in reader.pages:
        assert (round(each.mediabox.width), round(each.mediabox.height)) == PAPERS[paper]
    found = list(fonts_in(reader))
    assert found
    for font in found:
        (inner,) = font["/DescendantFonts"]
        descriptor = inner.get_object()["/FontDescriptor"].get_object()
        assert "/FontFile3" in descriptor or "/FontFile2" in descriptor
        assert "/ToUnicode" in font


def tags_in(node: Any) -> Iterator[str]:
    """The roles of a tree of structure, from the top down."""
    node = node.get_object() if hasattr(node, "get_object") else node
    if not isinstance(node, dict):
        return
    if "/S" in node:
        yield node["/S"]
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        yield from tags_in(kid)


def test_headings_tables_and_lists_are_tagged_as_such() -> None:
    reader = PdfReader(io.BytesIO(pdf_of(quote_page(usual()), "A4")))
    found = list(tags_in(reader.root_object["/StructTreeRoot"]))
    assert found.count("/H1") == 1
    assert found.index("/H1") < found.index("/H2")
    assert found.count("/Table") == 2
    assert found.count("/TH") >= 4 + 3
    assert {"/L", "/LI", "/Link", "/P", "/TD", "/TR"} <= {*found}


@every_language
@pytest.mark.parametrize("sample", SAMPLES)
def test_a_pdf_says_what_its_page_says_in_its_order_and_no_word_more(
    sample: str, language: str
) -> None:
    page = quote_page(SAMPLES[sample](language=language))
    pdf = pdf_of(page, "A4")
    title, yard, *texts = strings_of(page)
    found = sheets(pdf)
    flat = squeezed(" ".join(found))
    at = 0
    for text in texts:
        if text.startswith(("mailto:", "https:")) and squeezed(text) not in flat:
            continue  # a link's address; what is linked is said
        place = flat.find(squeezed(text), at)
        assert place >= 0, text
        at = max(at, place)
    known = {word for text in (title, yard, *texts) for word in re.findall(r"\w+", text)}
    numbers = {str(number) for number in range(len(found) + 1)}
    said = {word for sheet in found for word in re.findall(r"\w+", sheet)}
    # A word may be broken at a hyphen or an address between its signs, never within.
    assert said <= known | numbers


def lines_of(count: int, **other: Any) -> Record:
    """A quote with so many options, all of the same height or with a text on every third."""
    boat = line("boat", "Tern Cutter 82", "93125.00", text="Open boat for two rods and a flask.")
    options = [
        line("option", f"Option no. {n:03}", f"{1000 + n}.50", text=TERMS[0] * (n % 3 // 2) + END)
        for n in range(1, count + 1)
    ]
    return record([boat, *options], rates={FULL.id: FULL}, currency="EUR", with_tax=True, **other)


def where(sheets: list[str], text: str) -> list[int]:
    flat = squeezed(text)
    return [number for number, sheet in enumerate(sheets, 1) if flat in squeezed(sheet)]


@every_paper
@pytest.mark.parametrize("count", [*range(5, 45), 120])
def test_nothing_is_orphaned_wherever_the_lines_end(count: int, paper: str) -> None:
    asked = lines_of(count)
    found = sheets(pdf_of(quote_page(asked), paper))
    for number, sheet in enumerate(found, 1):
        assert f"{number} / {len(found)}" in sheet
        assert "Quote 2026-0007, Tern Quay Boats" in sheet
    for number in range(1, count + 1):
        (place,) = where(found, f"Option no. {number:03}")
        assert place in where(found, f"€{1000 + number:,}.50")
        assert "Unit price" in found[place - 1]
    (first,) = where(found, "Option no. 001")
    assert first in [n for n, sheet in enumerate(found, 1) if re.search("^Options$", sheet, re.M)]
    (last,) = where(found, f"Option no. {count:03}")
    for total in ("Total to pay", "This includes 25% VAT", "Total without tax"):
        assert where(found, total) == [last]
    (due,) = where(found, "With the order")
    assert where(found, "Before the boat is handed over") == [due]
    assert due in where(found, "Payment")
    (signed,) = where(found, "Place and date")
    for text in ("Acceptance", "To accept quote", "This quote approves no structure"):
        assert where(found, text) == [signed]


@every_paper
def test_five_lines_take_two_sheets_and_forty_a_few(paper: str) -> None:
    assert len(sheets(pdf_of(quote_page(lines_of(5)), paper))) <= 2
    assert 3 <= len(sheets(pdf_of(quote_page(lines_of(40)), paper))) <= 4


def test_a_long_note_keeps_its_lines_and_breaks_where_it_must() -> None:
    note = "\n".join(f"Line {number} of a long note." for number in range(1, 101))
    found = sheets(pdf_of(quote_page(short(note=note)), "A4"))
    assert len(found) >= 3
    for number in range(1, 101):
        assert len(where(found, f"Line {number} of a long note.")) == 1


def test_a_text_longer_than_a_sheet_is_not_cut_off() -> None:
    text = " ".join(f"word{number}" for number in range(1, 1200))
    found = sheets(pdf_of(quote_page(short(terms=(text,), payment=(text,))), "A4"))
    flat = " ".join(found)
    for number in range(1, 1200):
        assert len(re.findall(rf"\bword{number}\b", flat)) == 2
    boat = line("boat", "Tern Cutter 82", "93125.00", text=text)
    wide = record([boat], rates={FULL.id: FULL}, currency="EUR", with_tax=True)
    flat = " ".join(sheets(pdf_of(quote_page(wide), "Letter")))
    assert len(re.findall(r"\bword\d+\b", flat)) == 1199


# What it may not say


def test_the_guard_lets_no_other_pdf_pass_than_that_of_its_page() -> None:
    asked = usual()
    files = reprinted(asked)
    assert sorted(files) == sorted(CUSTOMERS)
    for other in (
        files["quote.pdf"] + b"31313",
        files["quote.pdf"].replace(b"/Lang", b"/Cost", 1),
        pdf_of(files["quote.html"].replace(b"October", b"Undercover"), "A4"),
        pdf_of(files["quote.html"], "A4" if asked.currency == "USD" else "Letter"),
    ):
        with pytest.raises(LeakError) as caught:
            look_through_quote({**files, "quote.pdf": other}, asked)
        (leak,) = caught.value.leaks
        assert (leak.file, leak.text) == ("quote.pdf", "other bytes than its page gives")


def test_a_word_that_nobody_may_see_is_found_in_the_pdf_as_well_as_on_the_page() -> None:
    asked = usual()
    page = reprinted(asked)["quote.html"].replace(b"</main>", b"<p>31,313.00</p></main>")
    with pytest.raises(LeakError) as caught:
        look_through_quote({"quote.html": page, "quote.pdf": pdf_of(page, "Letter")}, asked)
    assert {leak.file for leak in caught.value.leaks} == {"quote.html", "quote.pdf"}


# Letters without a font, and quotes without a PDF


def test_a_letter_that_no_font_has_leaves_the_pdf_out_and_says_so() -> None:
    asked = short(note="For 株式 and nobody else.")
    with pytest.raises(UnprintableError) as caught:
        pdf_of(quote_page(asked), "A4")
    told = "no font that the PDF is set in has a letter for '株'"
    assert str(caught.value) == told
    assert why_no_pdf(asked) == f"it has no quote.pdf: {told}"
    assert why_no_pdf(short()) == ""
    assert {*reprinted(asked)} == {*CUSTOMERS} - {"quote.pdf"}


def test_letters_of_greek_and_cyrillic_names_are_set() -> None:
    note = "Ελληνικά, Кириллица, Łódź, Ærø, ß, œ, “quoted” „words“ – and…"
    (first, *_) = sheets(pdf_of(quote_page(short(note=note)), "A4"))
    assert squeezed(note) in squeezed(first)


def test_a_quote_that_was_issued_without_a_pdf_reprints_without_one() -> None:
    old = from_json(KEPT.read_bytes())
    assert sorted(reprinted(old)) == ["quote.html", "quote.xlsx"]
    fresh = short()
    files = reprinted(fresh)
    four = {name: content for name, content in files.items() if name != "quote.pdf"}
    assert {*reprinted(from_json(to_json(fresh, four)))} == {*four}
    assert reprinted(from_json(to_json(fresh, files))) == files


def test_what_was_issued_is_handed_out_again_and_what_is_gone_is_made_anew() -> None:
    fresh = short()
    kept = {"quote.pdf": b"as another typesetter made it", "quote.html": b"and an old page"}
    assert printed_again(fresh, kept) == {**reprinted(fresh), **kept}
