"""The same secrets planted in what a customer gets: a quote's page, workbook, data and letter."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator, Mapping
from functools import cache

from quoter.catalogue.mark import fingerprint
from quoter.pricing.priced import price_catalogue
from quoter.quotes.draft import draft_of, record_of
from quoter.quotes.kept.record import Record
from quoter.quotes.printed.files import reprinted
from quoter.quotes.printed.pdf import pdf_of
from quoter.quotes.printed.shown import printed_on, shown_of
from quoter.quotes.request import read_request, sound_wish
from quoter.workbook.xlsx import zipped
from tests.demo import DEMO
from tests.trials.planted import OTHERS, Plant


@cache
def quoted(request: str) -> tuple[Record, Mapping[str, bytes]]:
    """A record of the demonstration and its customer's files."""
    asked = read_request(DEMO / "requests" / f"{request}.yaml", {})
    pricing, _ = price_catalogue(DEMO, asked.request.date)
    mark = fingerprint(DEMO, asked.request.date)
    draft = draft_of(pricing, sound_wish(asked, pricing), mark, None)
    record = record_of(draft, "2026-0001")
    return record, reprinted(record)


def in_quotes() -> Iterator[Plant]:
    """The same in what one customer gets."""
    for request in ("family_weekender", "northern_dealer"):
        record, files = quoted(request)
        inside = record.inside
        texts = {name: text for name, text in OTHERS.items() if name != "a dealer class"}
        texts |= {"the cost": f"{inside.cost:,.2f}", "the margin": f"{inside.margin:.2f}"}
        texts |= {
            "the share": f"{inside.margin_fraction * 100:.1f} %",
            "the mark": record.source.mark,
        }
        texts |= {
            "a line's cost": f"€{inside.lines[0].cost:,.2f}",
            "a note": inside.note or "hidden",
        }
        texts |= {"the buyer": inside.buyer, "the version": f"quoter {record.source.version}"}
        for name, text in texts.items():
            where = f"{name} in {request}"
            page = files["quote.html"].replace(b"</main>", f"<p>{text}</p></main>".encode(), 1)
            yield Plant(f"{where}, the page", f"{request}/quote.html", page)
            yield Plant(f"{where}, the PDF", f"{request}/quote.pdf", pdf_of(page, _paper(record)))
            letter = files["mail.txt"] + f"{text}\n".encode()
            yield Plant(f"{where}, the letter", f"{request}/mail.txt", letter)
            for place, data in _in_data(files["quotation.xml"].decode(), text):
                yield Plant(f"{where}, {place}", f"{request}/quotation.xml", data)
            for part, change in BOOK_PLACES.items():
                book = _book(files["quote.xlsx"], part, change, text)
                if book is not None:
                    yield Plant(f"{where}, {part}", f"{request}/quote.xlsx", book)
        pdf = files["quote.pdf"]
        yield Plant("behind the PDF", f"{request}/quote.pdf", pdf + f"{inside.cost:.2f}".encode())
        yield from _zips(request, files["quote.xlsx"], f"{inside.cost:.2f}")


def _paper(record: Record) -> str:
    return printed_on(shown_of(record))


def _in_data(data: str, text: str) -> Iterator[tuple[str, bytes]]:
    """A text in each sort of place that a quotation has, with the place."""
    said = text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
    for place, mark, new in (
        ("a note", "</cbc:Note>", " {}</cbc:Note>"),
        ("a line's text", "</cbc:Description>", " {}</cbc:Description>"),
        ("a property", "</cbc:Value>", "</cbc:Value><cbc:ValueQualifier>{}</cbc:ValueQualifier>"),
        ("an attribute", "<cbc:Note ", '<cbc:Note languageLocaleID="{}" '),
        ("a comment", "<cac:TaxTotal>", "<!-- {} --><cac:TaxTotal>"),
        ("an amount", "</cbc:PayableAmount>", "{}</cbc:PayableAmount>"),
        ("a code", "</cbc:UBLVersionID>", "{}</cbc:UBLVersionID>"),
    ):
        assert mark in data, mark
        yield f"data, {place}", data.replace(mark, new.replace("{}", said), 1).encode()


def _after(mark: str, new: str) -> Callable[[str, str], str]:
    return lambda part, text: part.replace(mark, new.replace("{}", text) + mark, 1)


# Parts of a workbook, and how a text gets into each.
BOOK_PLACES: dict[str, Callable[[str, str], str]] = {
    "xl/sharedStrings.xml": _after("</sst>", "<si><t>{}</t></si>"),
    "docProps/core.xml": _after("</cp:coreProperties>", "<dc:creator>{}</dc:creator>"),
    "docProps/app.xml": _after("</Properties>", "<Company>{}</Company>"),
    "xl/workbook.xml": _after("</definedNames>", '<definedName name="x">"{}"</definedName>'),
    "xl/styles.xml": _after("</cellStyles>", '<cellStyle name="{}" xfId="0"/>'),
    "xl/theme/theme1.xml": _after("</a:theme>", "<!-- {} -->"),
    "xl/worksheets/sheet1.xml": _after("</worksheet>", "<legacy>{}</legacy>"),
    "xl/worksheets/sheet2.xml": _after(
        "</sheetData>", '<row r="999"><c t="str"><v>{}</v></c></row>'
    ),
    "[Content_Types].xml": _after("</Types>", '<Default Extension="{}" ContentType="x"/>'),
    "_rels/.rels": _after("</Relationships>", '<Relationship Id="x" Type="x" Target="{}"/>'),
}


def _book(book: bytes, part: str, change: Callable[[str, str], str], text: str) -> bytes | None:
    """A workbook with one part changed and zipped as the program does; None without the part."""
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    said = text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
    parts[part] = change(parts[part].decode(), said).encode()
    return zipped(parts)


def _zips(request: str, book: bytes, amount: str) -> Iterator[Plant]:
    """What a zip can hold besides its parts, and what a sheet can but by its texts."""
    path = f"{request}/quote.xlsx"
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    for name in ("docProps/custom.xml", "xl/comments1.xml", f"xl/{amount}.xml", "xl/media/a.png"):
        yield Plant(f"a part {name}", path, zipped(parts | {name: f"<x>{amount}</x>".encode()}))
    yield Plant("behind the zip", path, book + amount.encode())
    yield Plant("before the zip", path, amount.encode() + book)
    commented = io.BytesIO(book)
    with zipfile.ZipFile(commented, "a") as archive:
        archive.comment = amount.encode()
    yield Plant("a remark of the zip", path, commented.getvalue())
    again = io.BytesIO(book)
    with zipfile.ZipFile(again, "a") as archive:
        archive.writestr("xl/cost.txt", amount)
    yield Plant("a part more", path, again.getvalue())
    sheet = "xl/worksheets/sheet1.xml"
    for name, found, new in (
        ("a cell's number", r"(?<=<v>)\d{4,}(?:\.\d+)?(?=</v>)", amount),
        ("a row's height", r'(?<=ht=")[\d.]+', amount),
        ("a small row's height", r'(?<=ht=")[\d.]+', "31.42"),
        ("a column's width", r'(?<= width=")[\d.]+', "31.42"),
        ("a formula", r"(?<=<v>)\d{4,}(?:\.\d+)?(?=</v>)", f"1</v><f>{amount}</f><v>2"),
        ("a header", r"<oddFooter>", f"<oddHeader>{amount}</oddHeader><oddFooter>"),
        ("a footer", r"(?<=&amp;L)", amount),
        ("an instruction", r"<sheetData>", f"<?cost {amount}?><sheetData>"),
        ("a comment", r"<sheetData>", f"<!-- {amount} --><sheetData>"),
        ("a namespace", r"<worksheet ", f'<worksheet xmlns:x="{amount}" '),
        (
            "a prefix",
            r"<worksheet ",
            '<worksheet xmlns:dolvane="http://www.w3.org/2001/XMLSchema-instance" ',
        ),
        ("an element", r"<sheetData>", "<dolvane/><sheetData>"),
        ("a margin", r'(?<=left=")[\d.]+', "0.3142"),
        ("a joined cell", r'(?<=mergeCell ref=")[^"]*', "A2128:B2128"),
    ):
        changed = re.sub(found, new.replace("\\", r"\\"), parts[sheet].decode(), count=1)
        yield Plant(f"{name} of a sheet", path, zipped(parts | {sheet: changed.encode()}))
    styles = parts["xl/styles.xml"].decode()
    for name, found, new in (
        ("a format", 'formatCode="', f'formatCode="&quot;{amount}&quot;'),
        ("a size of letters", '<sz val="10"', '<sz val="31.42"'),
        ("a colour", 'rgb="FF1B4B49"', 'rgb="FF212845"'),
        ("a face", 'val="Arial"', 'val="Dolvane"'),
    ):
        changed = styles.replace(found, new, 1)
        yield Plant(f"{name} of a style", path, zipped(parts | {"xl/styles.xml": changed.encode()}))
