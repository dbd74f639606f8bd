"""The file format: a workbook's parts as XML, put into a package.

Only what our books use of ECMA-376 is written; what a sheet's part holds stands in `sheet_part`.
Nothing comes from a clock or a random source, so the same book is the same bytes. No author, no
path and no person's name goes into the file.

A well-kept library would be the rule. But formula and value of a cell must go in together, and the
aim is a quarter of openpyxl's CPU from costing to bytes, for which none leaves room: writing the
demonstration's 160,872 finished cells, openpyxl with its best habits takes 1.00, without values
beside formulas, and XlsxWriter, which takes both, 1.2; this takes 0.17. What comes before (books as
objects, layout, formulas) makes it 0.45 to 0.60, as `python3 -m tests.benchmark` measures it.
"""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from quoter.workbook.addresses import letters, quoted
from quoter.workbook.charts import drawing_part
from quoter.workbook.limits import check_text
from quoter.workbook.sheet_part import RELATIONS, SheetFile, Texts, escaped, sheet_part
from quoter.workbook.styles import MAIN, StyleTable
from quoter.workbook.table import MARK

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_SCHEMAS = "http://schemas.openxmlformats.org"
_OFFICE = f"{_SCHEMAS}/officeDocument/2006"
_PACKAGE = f"{_SCHEMAS}/package/2006"
_SHEET_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_DRAWING_KIND = "application/vnd.openxmlformats-officedocument"
_THEME = (Path(__file__).parent / "theme.xml").read_text("utf-8")
_EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can say
_EPOCH_TEXT = "1980-01-01T00:00:00Z"
_LEVEL = 6


def file_of(
    title: str, sheets: Sequence[SheetFile], names: Mapping[str, str], *, stored: bool = False
) -> bytes:
    """The bytes of a workbook.

    Args:
        title: of the document, for who asks for its properties
        sheets: in their order
        names: defined names, each with the absolute address of its cell
        stored: whether its parts are put in as they are

    Raises:
        LimitError: when a footer or the title is more than an application takes.
    """
    styles, texts = StyleTable(), Texts()
    parts: dict[str, str] = {}
    for index, sheet in enumerate(sheets, 1):
        parts[f"xl/worksheets/sheet{index}.xml"] = sheet_part(sheet, styles, texts)
    _add_charts(parts, sheets)
    parts |= {
        "docProps/core.xml": _core(check_text(title)),
        "docProps/app.xml": _app(),
        "xl/theme/theme1.xml": _THEME,
        "xl/styles.xml": styles.xml(),
        "xl/sharedStrings.xml": texts.xml(),
        "xl/workbook.xml": _workbook(sheets, names),
        "xl/_rels/workbook.xml.rels": _relations(
            *(("worksheet", f"/xl/worksheets/sheet{i}.xml") for i in range(1, len(sheets) + 1)),
            ("styles", "/xl/styles.xml"),
            ("theme", "/xl/theme/theme1.xml"),
            ("sharedStrings", "/xl/sharedStrings.xml"),
        ),
        "_rels/.rels": _relations(
            ("officeDocument", "xl/workbook.xml"),
            ("extended-properties", "docProps/app.xml"),
            (f"{_PACKAGE}/relationships/metadata/core-properties", "docProps/core.xml"),
        ),
    }
    parts["[Content_Types].xml"] = _types(parts)
    made = _marked({name: (_HEAD + part).encode() for name, part in parts.items()})
    return zipped(made, stored=stored)


def _marked(parts: Mapping[str, bytes]) -> dict[str, bytes]:
    """The parts with a mark of what they hold in place of `MARK`, wherever a text has it.

    What tells two printed workbooks apart is what stands in them: one in which nothing has changed
    is the same file, whatever else has.
    """
    digest = hashlib.sha256(b"".join(parts.values())).hexdigest()[: len(MARK)].encode()
    return {name: part.replace(MARK.encode(), digest) for name, part in parts.items()}


def _add_charts(parts: dict[str, str], sheets: Sequence[SheetFile]) -> None:
    """The charts of each sheet, and the drawing that says where they stand."""
    drawings = charts = 0
    for index, sheet in enumerate(sheets, 1):
        if not sheet.pictures:
            continue
        drawings += 1
        drawn = []
        for picture in sheet.pictures:
            charts += 1
            parts[f"xl/charts/chart{charts}.xml"] = picture.chart
            drawn.append(("chart", f"/xl/charts/chart{charts}.xml"))
        drawing = f"drawings/drawing{drawings}.xml"
        parts[f"xl/{drawing}"] = drawing_part(sheet.pictures)
        parts[f"xl/drawings/_rels/drawing{drawings}.xml.rels"] = _relations(*drawn)
        own = _relations(("drawing", f"/xl/{drawing}"))
        parts[f"xl/worksheets/_rels/sheet{index}.xml.rels"] = own


def _workbook(sheets: Sequence[SheetFile], names: Mapping[str, str]) -> str:
    listed = "".join(
        f'<sheet name={quoteattr(sheet.title)} sheetId="{i}" r:id="rId{i}"/>'
        for i, sheet in enumerate(sheets, 1)
    )
    defined = [_name(name, target) for name, target in names.items()]
    for index, sheet in enumerate(sheets):
        title, local = quoted(sheet.title), f' localSheetId="{index}"'
        if sheet.repeated:
            first, last = sheet.repeated
            defined.append(_name("_xlnm.Print_Titles", f"{title}!${first}:${last}", local))
        across, down = sheet.printed or (len(sheet.widths), sheet.last_row)
        corner = f"${letters(across)}${down}"
        defined.append(_name("_xlnm.Print_Area", f"{title}!$A$1:{corner}", local))
        if sheet.filtered:
            ends = (_fixed(end) for end in sheet.filtered.split(":"))
            hidden = f'{local} hidden="1"'
            defined.append(_name("_xlnm._FilterDatabase", f"{title}!{':'.join(ends)}", hidden))
    return (
        f'<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}"><workbookPr/>'
        "<bookViews><workbookView/></bookViews>"
        f"<sheets>{listed}</sheets><definedNames>{''.join(defined)}</definedNames>"
        '<calcPr calcId="124519" fullCalcOnLoad="1"/></workbook>'
    )


def _fixed(cell: str) -> str:
    column = cell.rstrip("0123456789")
    return f"${column}${cell[len(column) :]}"


def _name(name: str, target: str, more: str = "") -> str:
    return f'<definedName name="{name}"{more}>{escaped(target)}</definedName>'


def _relations(*targets: tuple[str, str]) -> str:
    """What a part refers to, by kind (one of an office document's unless it is a whole address)."""
    listed = "".join(
        f'<Relationship Id="rId{i}" Type="{kind if ":" in kind else f"{RELATIONS}/{kind}"}" '
        f'Target="{target}"/>'
        for i, (kind, target) in enumerate(targets, 1)
    )
    return f'<Relationships xmlns="{_PACKAGE}/relationships">{listed}</Relationships>'


_KINDS = {
    "xl/workbook.xml": f"{_SHEET_KIND}.sheet.main+xml",
    "xl/styles.xml": f"{_SHEET_KIND}.styles+xml",
    "xl/sharedStrings.xml": f"{_SHEET_KIND}.sharedStrings+xml",
    "xl/theme/theme1.xml": f"{_DRAWING_KIND}.theme+xml",
    "docProps/core.xml": "application/vnd.openxmlformats-package.core-properties+xml",
    "docProps/app.xml": f"{_DRAWING_KIND}.extended-properties+xml",
}
_KINDS_IN = {
    "xl/worksheets": f"{_SHEET_KIND}.worksheet+xml",
    "xl/drawings": f"{_DRAWING_KIND}.drawing+xml",
    "xl/charts": f"{_DRAWING_KIND}.drawingml.chart+xml",
}


def _types(parts: Iterable[str]) -> str:
    """The list of all parts with their kinds."""
    listed = "".join(
        f'<Override PartName="/{part}" ContentType="{kind}"/>'
        for part in parts
        if (kind := _KINDS.get(part) or _KINDS_IN.get(part.rpartition("/")[0]))
    )
    relations = "application/vnd.openxmlformats-package.relationships+xml"
    return (
        f'<Types xmlns="{_PACKAGE}/content-types">'
        f'<Default Extension="rels" ContentType="{relations}"/>'
        f'<Default Extension="xml" ContentType="application/xml"/>{listed}</Types>'
    )


def _core(title: str) -> str:
    stamp = "".join(
        f'<dcterms:{what} xsi:type="dcterms:W3CDTF">{_EPOCH_TEXT}</dcterms:{what}>'
        for what in ("created", "modified")
    )
    spaces = (
        f'xmlns:cp="{_PACKAGE}/metadata/core-properties" '
        'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" '
        'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
    )
    said = f"<dc:title>{escape(title)}</dc:title>{stamp}"
    return f"<cp:coreProperties {spaces}>{said}</cp:coreProperties>"


def _app() -> str:
    space = f'xmlns="{_OFFICE}/extended-properties"'
    return f"<Properties {space}><Application>quoter</Application></Properties>"


def zipped(parts: Mapping[str, bytes], *, stored: bool = False) -> bytes:
    """A zip with its parts in a fixed order, the list of types first, and fixed times.

    Args:
        parts: by name
        stored: whether they are put in as they are: then the bytes are the same whichever library
            there is to deflate them, as those of a file that is kept in a repository must be
    """
    how = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name in sorted(parts, key=lambda name: (name != "[Content_Types].xml", name)):
            entry = zipfile.ZipInfo(name, _EPOCH)
            entry.create_system = 3  # the same on every machine
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, parts[name], how, _LEVEL)
    return buffer.getvalue()
