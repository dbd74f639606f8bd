"""A workbook for people outside the yard, read part by part: texts, numbers, attributes, the zip.

What the program writes into any such workbook is its own: it is taken from a specimen that holds
nothing but every style there is. The rest are texts and numbers of views, and numbers that say
where a cell is or how large, which can be few.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cached_property

from lxml import etree

from quoter.figures.readers import PAPERS
from quoter.leaks.allowed import KILOGRAM, METRE, MONEY, POUNDS, SHARE, Allowed
from quoter.leaks.reduction import Rest
from quoter.workbook.addresses import letters
from quoter.workbook.measure import row_height
from quoter.workbook.portrait import BLANK, Piece, Portrait, write_portraits
from quoter.workbook.styles import ROLES
from quoter.workbook.xlsx import zipped

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_SHEET = re.compile(r"xl/worksheets/sheet\d{1,3}\.xml\Z")
_STRINGS, _STYLES, _THEME = "xl/sharedStrings.xml", "xl/styles.xml", "xl/theme/theme1.xml"
# Where something is: a cell, an area, a part by its number.
_CELL = re.compile(r"([A-Z])(\d{1,4})(?::([A-Z])(\d{1,4}))?\Z")
_PART = re.compile(r"(?:/?xl/)?worksheets/sheet\d{1,3}\.xml\Z")
_RELATION = re.compile(r"rId\d{1,3}\Z")
_AREA = re.compile(r"(?:'(.*)'|([^\W\d]\w*))!(?:\$[A-Z])?\$\d{1,4}:(?:\$[A-Z])?\$\d{1,4}\Z")
_FOOTER = re.compile(r"&L&8 (.*)&R&8 &P / &N\Z", re.DOTALL)
_COUNTS = frozenset(
    {"count", "manualBreakCount", "uniqueCount", "sheetId", "localSheetId", "min", "max"}
)
_INDICES = frozenset({"numFmtId", "fontId", "fillId", "borderId", "xfId"})
_PAGE = 1000.0  # points: higher than any page
_MOST_LINES = 200  # of a row: more are higher than a row can be
_MOST_STYLES = 200
_PERCENT_FORMATS = ("9", "10")  # as the file format numbers them, ECMA-376 part 1, 18.8.30
_WHOLE_FORMATS = ("1", "3")
WHOLE = "whole"  # a count


@dataclass(frozen=True, slots=True)
class _Specimen:
    """What the program writes whoever it is for: (element, attribute, value), texts, parts."""

    elements: frozenset[str]
    values: frozenset[tuple[str, str, str]]
    texts: frozenset[tuple[str, str]]
    names: frozenset[str]
    spaces: frozenset[str]
    theme: bytes


@dataclass(frozen=True)
class BookKind:
    """What workbooks of a kind are like, whoever they are for.

    `widths` are the columns of each sheet that one can have, `codes` the number formats of amounts
    and measures for a reader, each with what the number is; `heights` those of rows that no text
    makes, `frozen` how many rows stay in view; `columns` how many a sheet has at most; `stored`
    whether parts are put in as they are.
    """

    widths: Sequence[Sequence[float]]
    codes: Callable[[Allowed], Mapping[str, str]]
    columns: int
    heights: tuple[float, ...] = ()
    frozen: int = 0
    stored: bool = False

    def rests(self, content: bytes, allowed: Allowed) -> Iterator[tuple[str, Rest]]:
        """What of a workbook nobody accounts for, each with the part it is in.

        Args:
            content: the file
            allowed: what its reader may see
        """
        try:
            with zipfile.ZipFile(io.BytesIO(content)) as archive:
                parts = {name: archive.read(name) for name in archive.namelist()}
        except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError) as fault:
            yield "", Rest(f"no workbook: {fault}", 0)
            return
        if zipped(parts, stored=self.stored) != content:
            yield "", Rest("more than the parts of a workbook, or others than it lists", 0)
        for name, part in parts.items():
            if name not in self.specimen.names and not _SHEET.match(name):
                yield name, Rest("a part that no such workbook has", 0)
            elif name == _THEME:
                if part != self.specimen.theme:
                    yield name, Rest("not the program's own colours", 0)
            else:
                yield from ((name, rest) for rest in self._part_rests(part, parts, allowed))

    def _part_rests(
        self, part: bytes, parts: Mapping[str, bytes], allowed: Allowed
    ) -> Iterator[Rest]:
        parser = etree.XMLParser(resolve_entities=False, no_network=True)
        try:
            root = etree.fromstring(part, parser)
        except etree.XMLSyntaxError as fault:
            yield Rest(f"no XML: {fault.msg}", 0)
            return
        if b"<!" in part or root.getprevious() is not None or root.getnext() is not None:
            yield Rest("something that is no element of the part", 0)
        codes = self.codes(allowed)
        formats = _formats(parts.get(_STYLES, b""), codes, parser)
        reader = _Part(self, allowed, formats, parts, frozenset(codes), root)
        for element in root.iter():
            if not isinstance(element.tag, str):
                yield Rest(str(element.text), 0)
                continue
            yield from reader.rests(element)

    @cached_property
    def row_heights(self) -> frozenset[str]:
        """How high a row can be: of so many lines in one of the sizes, blank, or as is said."""
        sizes = {style.size for style in ROLES.values()}
        found = {row_height(lines, size) for lines in range(_MOST_LINES) for size in sizes}
        return frozenset(f"{height:g}" for height in (*found, BLANK, *self.heights))

    @cached_property
    def last_column(self) -> str:
        """The letter of the last column that a sheet can have."""
        return letters(self.columns)

    @cached_property
    def specimen(self) -> _Specimen:
        """A workbook of every style, with all kinds of sheets and without a word."""
        kinds = enumerate(self.widths, 1)
        sheets = [Portrait(" " * n, widths, repeated=1, frozen=self.frozen) for n, widths in kinds]
        for sheet in sheets[1:]:
            sheet.repeated = 0
            for _page in range(2):
                sheet.blank(_PAGE)
        sheets[0].across(" ")
        sheets[0].add(Piece(1, "number", "0.000"))
        for role in ROLES:
            for text in (None, "=", 1):
                sheets[0].add(Piece(text, role), Piece(None, role))
        return _specimen_of(sheets, stored=self.stored)


class _Part:
    """Reads the elements of a part; `row` is that of the cells being read."""

    def __init__(
        self,
        kind: BookKind,
        allowed: Allowed,
        formats: list[str],
        parts: Mapping[str, bytes],
        codes: frozenset[str],
        root: etree._Element,
    ) -> None:
        self._kind, self._allowed, self._formats, self._codes = kind, allowed, formats, codes
        self._rows = len(root.findall(f".//{_MAIN}row"))
        self._sheets = sum(1 for name in parts if _SHEET.match(name))
        self._texts = parts.get(_STRINGS, b"").count(b"<si>")
        self._uses = sum(part.count(b' t="s"') for part in parts.values())
        self._own = kind.specimen
        self._row = 0

    def rests(self, element: etree._Element) -> Iterator[Rest]:
        tag = _name(element)
        for prefix, space in element.nsmap.items():
            if not {str(prefix or ""), str(space)} <= self._own.spaces:
                yield Rest(" ".join([str(prefix), str(space)]), 0)
        if tag not in self._own.elements:
            yield Rest(f"<{tag}>", 0)
        if tag == "row":
            self._row += 1
        for key, value in element.attrib.items():
            if not self._is_attribute(element, tag, str(key), str(value)):
                yield Rest(f"<{tag} {etree.QName(str(key)).localname}={str(value)!r}>", 0)
        if element.tail and element.tail.strip():
            yield Rest(element.tail, 0)
        if element.text:
            yield from self._text(element, tag, element.text)

    def _is_attribute(self, element: etree._Element, tag: str, key: str, value: str) -> bool:
        if (tag, key, value) in self._own.values:
            return True
        if tag == "row" and key == "r":
            return value == str(self._row)
        if tag == "c" and key == "r":
            return self._is_cell(value) and value[1:] == str(self._row)
        if tag == "row" and key == "ht":
            return value in self._kind.row_heights
        if key in ("ref", "sqref", "activeCell"):
            return self._is_cell(value) and self._within(value)
        if tag == "brk" and key == "id":
            return value.isdecimal() and self._within(value)
        if tag == "c" and key == "s":
            return value.isdecimal() and int(value) < len(self._formats)
        if key in _INDICES:
            return value.isdecimal() and int(value) < _MOST_STYLES
        if key in _COUNTS:
            return value.isdecimal() and int(value) in self._counts(element, tag, key)
        if tag == "sheet" and key == "name":
            return self._allowed.knows(value)
        if tag == "numFmt" and key == "formatCode":
            return value in self._codes
        if key in ("Target", "PartName"):
            return bool(_PART.match(value))
        return bool(_RELATION.match(value)) and etree.QName(key).localname.casefold() == "id"

    def _is_cell(self, value: str) -> bool:
        """Whether it is a cell or an area of one of the columns that a sheet can have."""
        found = _CELL.match(value)
        last = self._kind.last_column
        return found is not None and max(found[1], found[3] or "A") <= last

    def _within(self, value: str) -> bool:
        """Whether an area is no longer than its sheet."""
        return all(int(row) <= max(self._rows, 1) for row in re.findall(r"\d+", value))

    def _counts(self, element: etree._Element, tag: str, key: str) -> range | tuple[int, ...]:
        """What a count can be: of the element's own children, of the sheets, of the columns."""
        if tag == "sst" and key == "count":
            return (self._uses,)
        if key in ("min", "max", "sheetId", "localSheetId"):
            return range(max(self._sheets, self._kind.columns) + 1)
        return (len(element),)

    def _text(self, element: etree._Element, tag: str, text: str) -> Iterator[Rest]:
        if (tag, text) in self._own.texts:
            return
        if tag == "t" or tag == "title":
            yield from self._allowed.rests(text.replace("_x005F_", "_"))
        elif tag == "v":
            if not self._is_value(element, text):
                yield Rest(text, 0)
        elif tag == "definedName":
            found = _AREA.match(text)
            title = "" if found is None else found[2] or found[1].replace("''", "'")
            if not title or not self._allowed.knows(title):
                yield Rest(text, 0)
        elif tag == "oddFooter":
            found = _FOOTER.match(text)
            if found is None or not self._allowed.knows(found[1].replace("&&", "&")):
                yield Rest(text, 0)
        elif text.strip():
            yield Rest(text, 0)

    def _is_value(self, element: etree._Element, text: str) -> bool:
        """Whether a cell's number is a text's, or of the kind that its format shows."""
        cell = element.getparent()
        if cell is None or _name(cell) != "c":
            return False
        if cell.get("t") == "s":
            return text.isdecimal() and int(text) < self._texts
        try:
            value = Decimal(text)
        except InvalidOperation:
            return False
        style = cell.get("s", "")
        known = style.isdecimal() and int(style) < len(self._formats)
        kind = self._formats[int(style)] if known else ""
        if kind == SHARE:
            return self._allowed.holds(value * 100, SHARE)
        if kind in (MONEY, KILOGRAM, POUNDS, METRE):
            return self._allowed.holds(value, kind)
        return kind == WHOLE and value in self._allowed.counts


def _formats(styles: bytes, codes: Mapping[str, str], parser: etree.XMLParser) -> list[str]:
    """What numbers the styles of a workbook show, by their number."""
    try:
        root = etree.fromstring(styles, parser)
    except etree.XMLSyntaxError:
        return []
    formats = root.iter(f"{_MAIN}numFmt")
    named = {each.get("numFmtId"): each.get("formatCode", "") for each in formats}
    found = []
    for style in root.findall(f"{_MAIN}cellXfs/{_MAIN}xf"):
        number = style.get("numFmtId", "")
        if number in _PERCENT_FORMATS:
            found.append(SHARE)
        elif number in _WHOLE_FORMATS:
            found.append(WHOLE)
        else:
            found.append(codes.get(named.get(number, ""), ""))
    return found


def _name(element: etree._Element) -> str:
    return etree.QName(element).localname


def _specimen_of(sheets: Sequence[Portrait], *, stored: bool) -> _Specimen:
    """What these sheets hold, on every paper."""
    content = b""
    elements: set[str] = set()
    values: set[tuple[str, str, str]] = set()
    texts: set[tuple[str, str]] = set()
    names: set[str] = set()
    spaces = {"", "xml"}
    for paper in PAPERS:
        content = write_portraits(sheets, " ", " ", paper, stored=stored)
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            for name in archive.namelist():
                names.add(name)
                for element in etree.fromstring(archive.read(name)).iter():
                    tag = _name(element)
                    elements.add(tag)
                    spaces.update(filter(None, (*element.nsmap, *element.nsmap.values())))
                    if tag not in ("c", "row", "mergeCell", "sst"):
                        values |= {(tag, str(k), str(v)) for k, v in element.attrib.items()}
                    if element.text and tag not in ("v", "t"):
                        texts.add((tag, element.text))
            theme = archive.read(_THEME)
    values |= {("c", "t", "s"), ("row", "customHeight", "1")}
    return _Specimen(
        frozenset(elements),
        frozenset(values),
        frozenset(texts),
        frozenset(names),
        frozenset(spaces),
        theme,
    )
