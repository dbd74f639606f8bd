"""The skeleton that openpyxl saved becomes the finished file: rows, texts, order, fixed dates.

Nothing here comes from a clock or a random source, so the same book is the same bytes. No author,
no path and no person's name goes into the file.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from lxml import etree
from openpyxl import Workbook
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.writer.excel import ExcelWriter

from quoter.workbook.styles import FACE

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can say
_EPOCH_TEXT = "1980-01-01T00:00:00Z"
_LEVEL = 6
_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'

TEXTS_PART = "xl/sharedStrings.xml"
_ROWS = re.compile(rb"<sheetData\s*/>|<sheetData>.*?</sheetData>", re.DOTALL)
_MERGES = re.compile(rb"(<mergeCell [^>]*>)+")
_EXTENT = re.compile(rb'<dimension ref="[^"]*"\s*/>')
# The order in which the children of a font have to come.
_FONT_ORDER = ("b", "i", "strike", "condense", "extend", "outline", "shadow", "u", "vertAlign",
               "sz", "color", "name", "family", "charset", "scheme")  # fmt: skip


class _InMemory(ExcelWriter):
    """Writes sheets without temporary files of the system's, which a killed build would leave."""

    def __init__(self, workbook: Workbook, archive: zipfile.ZipFile) -> None:
        super().__init__(workbook, archive)
        self.archive = archive

    def write_worksheet(self, ws: Any) -> None:
        """Write one sheet; its drawings and tables follow it as they do for openpyxl's own."""
        ws._drawing = SpreadsheetDrawing()
        ws._drawing.charts, ws._drawing.images = ws._charts, ws._images
        buffer = io.BytesIO()
        writer: Any = WorksheetWriter(ws, buffer)
        writer.write()
        ws._rels = writer._rels
        self.archive.writestr(ws.path[1:], buffer.getvalue())
        self.manifest.append(ws)


def skeleton_of(workbook: Workbook) -> bytes:
    """What openpyxl saves of a workbook; stored, since sealing compresses."""
    buffer = io.BytesIO()
    _InMemory(workbook, zipfile.ZipFile(buffer, "w")).save()
    return buffer.getvalue()


@dataclass(frozen=True, slots=True)
class SheetParts:
    """What a sheet's skeleton lacks: its rows, their extent, a description of each chart."""

    rows: str
    extent: str
    descriptions: tuple[str, ...]


def seal(skeleton: bytes, sheets: Sequence[SheetParts], texts: str, title: str) -> bytes:
    """The finished file; `sheets` in the order of the book.

    Raises:
        SealError: when the skeleton is not as expected, which would be this program's fault.
    """
    with zipfile.ZipFile(io.BytesIO(skeleton)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    drawing = 0
    for index, sheet in enumerate(sheets, 1):
        name = f"xl/worksheets/sheet{index}.xml"
        data = _once(_ROWS, sheet.rows.encode(), parts[name], name)
        data = _MERGES.sub(_sorted_merges, data)
        extent = f'<dimension ref="{sheet.extent}"/>'.encode()
        parts[name] = _once(_EXTENT, extent, data, name)
        if sheet.descriptions:
            drawing += 1
            name = f"xl/drawings/drawing{drawing}.xml"
            parts[name] = _described(parts[name], sheet.descriptions, name)
    parts["xl/styles.xml"] = _ordered_fonts(parts["xl/styles.xml"])
    parts["docProps/core.xml"] = _core(title)
    parts["docProps/app.xml"] = _app()
    _add_texts(parts, texts)
    return zipped(parts)


def _sorted_merges(found: re.Match[bytes]) -> bytes:
    """openpyxl keeps joined cells in a set, whose order changes from run to run."""
    return b"".join(sorted(re.findall(rb"<mergeCell [^>]*>", found[0])))


class SealError(RuntimeError):
    """openpyxl saved something else than this module builds on."""


def _once(pattern: re.Pattern[bytes], new: bytes, data: bytes, name: str) -> bytes:
    data, count = pattern.subn(lambda _: new, data)
    if count != 1:
        raise SealError(f"{name}: {pattern.pattern!r} found {count} times, not once")
    return data


def _described(data: bytes, descriptions: Sequence[str], name: str) -> bytes:
    """Charts with a description for those who can't see them."""
    for number, description in enumerate(descriptions, 1):
        label = f'name="Chart {number}"'
        said = f"{label} descr={quoteattr(description)}"
        data = _once(re.compile(re.escape(label.encode())), said.encode(), data, name)
    return data


def _ordered_fonts(data: bytes) -> bytes:
    """Fonts with their children in the order the schema asks for, the default one our own."""
    root = etree.fromstring(data)
    fonts = root.findall(f".//{{{_MAIN}}}font")
    default = fonts[0]
    for tag, value in (("sz", "10"), ("name", FACE)):
        child = default.find(f"{{{_MAIN}}}{tag}")
        if child is None:
            raise SealError(f"xl/styles.xml: the default font has no {tag}")
        child.set("val", value)
    for scheme in default.findall(f"{{{_MAIN}}}scheme"):
        default.remove(scheme)
    for font in fonts:
        font[:] = sorted(font, key=lambda child: _FONT_ORDER.index(etree.QName(child).localname))
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)


def _core(title: str) -> bytes:
    stamp = "".join(
        f'<dcterms:{what} xsi:type="dcterms:W3CDTF">{_EPOCH_TEXT}</dcterms:{what}>'
        for what in ("created", "modified")
    )
    spaces = (
        'xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" '
        'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" '
        'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
    )
    said = f"<dc:title>{escape(title)}</dc:title>{stamp}"
    return f"{_HEAD}<cp:coreProperties {spaces}>{said}</cp:coreProperties>".encode()


def _app() -> bytes:
    space = f'xmlns="{_OFFICE}/extended-properties"'
    return f"{_HEAD}<Properties {space}><Application>quoter</Application></Properties>".encode()


def _add_texts(parts: dict[str, bytes], texts: str) -> None:
    """The table of texts, listed where the package lists its parts."""
    if TEXTS_PART not in parts:
        kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
        listed = f'<Override PartName="/{TEXTS_PART}" ContentType="{kind}"/></Types>'
        _append(parts, "[Content_Types].xml", "</Types>", listed)
        relation = (
            f'<Relationship Id="rIdTexts" Type="{_OFFICE}/relationships/sharedStrings" '
            f'Target="/{TEXTS_PART}"/></Relationships>'
        )
        _append(parts, "xl/_rels/workbook.xml.rels", "</Relationships>", relation)
    parts[TEXTS_PART] = texts.encode()


def _append(parts: dict[str, bytes], name: str, end: str, new: str) -> None:
    parts[name] = _once(re.compile(re.escape(end.encode())), new.encode(), parts[name], name)


def zipped(parts: Mapping[str, bytes]) -> bytes:
    """A zip with its parts in a fixed order, the list of types first, and fixed times."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name in sorted(parts, key=lambda name: (name != "[Content_Types].xml", name)):
            entry = zipfile.ZipInfo(name, _EPOCH)
            entry.create_system = 3  # the same on every machine
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, parts[name], zipfile.ZIP_DEFLATED, _LEVEL)
    return buffer.getvalue()
