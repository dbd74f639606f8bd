"""A customer's workbook, read part by part: every text, number and attribute, and the zip itself.

What the program writes into any workbook is its own: it is taken from a specimen that holds
nothing but every style there is. The rest are texts and numbers of the quote, and numbers that say
where a cell is or how large, which can be few.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import cache
from itertools import islice

from lxml import etree

from quoter.figures.readers import PAPERS
from quoter.leaks.allowed import MONEY, SHARE, Allowed
from quoter.leaks.guard import MOST_TOLD, NO_SUCH_FILE, Leak, leaks_in, stop_at
from quoter.leaks.known import Known
from quoter.leaks.pages import Pages
from quoter.leaks.reduction import Rest
from quoter.pricing.price import Pricing
from quoter.quotes.kept.amounts import SHARE_DECIMALS
from quoter.quotes.kept.archive import CUSTOMERS, DATA, MAIL
from quoter.quotes.kept.record import Record
from quoter.quotes.printed.guard_data import allowed_data, data_rests
from quoter.quotes.printed.pdf import pdf_of, strings_of
from quoter.quotes.printed.quotation import sums_of
from quoter.quotes.printed.quote_book import (
    CHANGES_WIDTHS,
    NOTE_APART,
    SIGNED,
    WIDTHS,
    exact_percent,
    money_code,
)
from quoter.quotes.printed.shown import printed_on, shown_of
from quoter.workbook.measure import row_height
from quoter.workbook.portrait import BLANK, Piece, Portrait, write_portraits
from quoter.workbook.styles import ROLES
from quoter.workbook.xlsx import zipped

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_SHEET = re.compile(r"xl/worksheets/sheet\d{1,2}\.xml\Z")
_STRINGS, _STYLES, _THEME = "xl/sharedStrings.xml", "xl/styles.xml", "xl/theme/theme1.xml"
# Where something is: a cell, an area, a part by its number.
_CELL = re.compile(r"[A-G]\d{1,4}(?::[A-G]\d{1,4})?\Z")
_PART = re.compile(r"(?:/?xl/)?worksheets/sheet\d{1,2}\.xml\Z")
_RELATION = re.compile(r"rId\d{1,2}\Z")
_AREA = re.compile(r"(?:'(.*)'|([^\W\d]\w*))!(?:\$[A-G])?\$\d{1,4}:(?:\$[A-G])?\$\d{1,4}\Z")
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


@dataclass(frozen=True, slots=True)
class _Specimen:
    """What the program writes whoever it is for: (element, attribute, value), texts, parts."""

    elements: frozenset[str]
    values: frozenset[tuple[str, str, str]]
    texts: frozenset[tuple[str, str]]
    names: frozenset[str]
    spaces: frozenset[str]
    theme: bytes


def look_through_quote(
    files: Mapping[str, bytes],
    record: Record,
    pricing: Pricing | None = None,
    more: Iterable[object] = (),
) -> None:
    """Account for every number and word of a quote's files for its customer.

    Args:
        files: the page, the PDF, the workbook, the data and the letter, by their names
        record: what they are made from; only what its customer sees accounts for anything
        pricing: to say of a leak what it is, where it is at hand
        more: other views that they are made from
    Raises:
        LeakError: naming each file, the place and what is not accounted for.
    """
    shown, known = shown_of(record), Known(pricing)
    sums = sums_of(shown)
    allowed = Allowed([shown, *more], record.locale, shown.currency)
    lines = [line for section in shown.sections for line in section.lines]
    allowed.add_texts(*(str(line.quantity) for line in (*lines, *shown.offered)), *CUSTOMERS)
    in_data = Allowed([shown, sums], record.locale, shown.currency)
    allowed_data(shown, sums, in_data)
    for each in (allowed, in_data):
        known.strike_out(each)
    leaks: list[Leak] = []
    for name, content in sorted(files.items()):
        if name.endswith(".html"):
            leaks += leaks_in(name, content, Pages(allowed).rests, known)
        elif name.endswith(".xlsx"):
            for part, rest in islice(book_rests(content, allowed), MOST_TOLD):
                leaks.append(Leak(name, rest.text, part=part, known=known.what(rest.text)))
        elif name == MAIL:
            leaks += leaks_in(name, content, allowed.rests, known)
        elif name == DATA:
            for rest in islice(data_rests(content, shown, in_data), MOST_TOLD):
                leaks.append(Leak(name, rest.text, known=known.what(rest.text)))
        elif name.endswith(".pdf"):
            page = files.get(name.replace(".pdf", ".html"), b"")
            for text in islice(_pdf_rests(content, page, printed_on(shown), allowed), MOST_TOLD):
                leaks.append(Leak(name, text, known=known.what(text)))
        else:
            leaks.append(Leak(name, NO_SUCH_FILE))
    stop_at(leaks)


def _pdf_rests(content: bytes, page: bytes, paper: str, allowed: Allowed) -> Iterator[str]:
    """What of a PDF nobody accounts for: a text it was made from, or that it is made otherwise.

    Nothing can be read out of a PDF as surely as it is put in, so it has to be what its page gives.
    """
    if not page or pdf_of(page, paper) != content:
        yield "other bytes than its page gives"
        return
    for text in strings_of(page):
        yield from (rest.text for rest in allowed.rests(text))


def book_rests(content: bytes, allowed: Allowed) -> Iterator[tuple[str, Rest]]:
    """What of a workbook nobody accounts for, each with the part it is in.

    Args:
        content: the file
        allowed: what its customer may see
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = {name: archive.read(name) for name in archive.namelist()}
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError) as fault:
        yield "", Rest(f"no workbook: {fault}", 0)
        return
    if zipped(parts) != content:
        yield "", Rest("more than the parts of a workbook, or others than it lists", 0)
    specimen = _specimen()
    for name, part in parts.items():
        if name not in specimen.names and not _SHEET.match(name):
            yield name, Rest("a part that no quote has", 0)
        elif name == _THEME:
            if part != specimen.theme:
                yield name, Rest("not the program's own colours", 0)
        else:
            yield from ((name, rest) for rest in _part_rests(name, part, parts, allowed))


def _part_rests(
    name: str, part: bytes, parts: Mapping[str, bytes], allowed: Allowed
) -> Iterator[Rest]:
    parser = etree.XMLParser(resolve_entities=False, no_network=True)
    try:
        root = etree.fromstring(part, parser)
    except etree.XMLSyntaxError as fault:
        yield Rest(f"no XML: {fault.msg}", 0)
        return
    if b"<!" in part or root.getprevious() is not None or root.getnext() is not None:
        yield Rest("something that is no element of the part", 0)
    reader = _Part(allowed, _formats(parts.get(_STYLES, b""), parser), parts)
    for element in root.iter():
        if not isinstance(element.tag, str):
            yield Rest(str(element.text), 0)
            continue
        yield from reader.rests(element)


class _Part:
    """Reads the elements of a part; `row` is that of the cells being read."""

    def __init__(self, allowed: Allowed, formats: list[str], parts: Mapping[str, bytes]) -> None:
        self._allowed, self._formats = allowed, formats
        self._texts = parts.get(_STRINGS, b"").count(b"<si>")
        self._uses = sum(part.count(b' t="s"') for part in parts.values())
        self._own = _specimen()
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
            return bool(_CELL.match(value)) and value.lstrip("ABCDEFG") == str(self._row)
        if tag == "row" and key == "ht":
            return value in _heights()
        if key in ("ref", "sqref", "activeCell"):
            return bool(_CELL.match(value)) and self._within(element, value)
        if tag == "brk" and key == "id":
            return value.isdecimal() and self._within(element, value)
        if tag == "c" and key == "s":
            return value.isdecimal() and int(value) < len(self._formats)
        if key in _INDICES:
            return value.isdecimal() and int(value) < _MOST_STYLES
        if key in _COUNTS:
            return value.isdecimal() and int(value) in self._counts(element, tag, key)
        if tag == "sheet" and key == "name":
            return self._allowed.knows(value)
        if tag == "numFmt" and key == "formatCode":
            return value in _codes(self._allowed)
        if key in ("Target", "PartName"):
            return bool(_PART.match(value))
        return bool(_RELATION.match(value)) and etree.QName(key).localname.casefold() == "id"

    def _within(self, element: etree._Element, value: str) -> bool:
        """Whether an area is no longer than its sheet."""
        rows = element.getroottree().getroot().findall(f".//{_MAIN}row")
        return all(int(row) <= max(len(rows), 1) for row in re.findall(r"\d+", value))

    def _counts(self, element: etree._Element, tag: str, key: str) -> range | tuple[int, ...]:
        """What a count can be: of the element's own children, of the sheets, of the columns."""
        if tag == "sst" and key == "count":
            return (self._uses,)
        if key in ("min", "max", "sheetId", "localSheetId"):
            return range(8)
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
        if kind == MONEY:
            return self._allowed.holds(value, MONEY)
        return kind == "whole" and value in self._allowed.counts


@cache
def _heights() -> frozenset[str]:
    """How high a row can be: of so many lines in one of the sizes, blank, or to be signed in."""
    sizes = {style.size for style in ROLES.values()}
    found = {row_height(lines, size) for lines in range(_MOST_LINES) for size in sizes}
    return frozenset(f"{height:g}" for height in (*found, BLANK, NOTE_APART, SIGNED))


def _formats(styles: bytes, parser: etree.XMLParser) -> list[str]:
    """What numbers the styles of a workbook show, by their number."""
    try:
        root = etree.fromstring(styles, parser)
    except etree.XMLSyntaxError:
        return []
    formats = root.iter(f"{_MAIN}numFmt")
    codes = {each.get("numFmtId"): each.get("formatCode", "") for each in formats}
    found = []
    for style in root.findall(f"{_MAIN}cellXfs/{_MAIN}xf"):
        number = style.get("numFmtId", "")
        code = codes.get(number, "")
        if number in _PERCENT_FORMATS or code.endswith("%"):
            found.append(SHARE)
        elif code.startswith("[$"):
            found.append(MONEY)
        else:
            found.append("whole" if number in _WHOLE_FORMATS else "")
    return found


def _codes(allowed: Allowed) -> set[str]:
    """The formats of amounts and of percentages with any decimals."""
    shares = {exact_percent(Decimal(10) ** -n) for n in range(2, SHARE_DECIMALS + 1)}
    return {money_code(allowed.currency)} | shares


def _name(element: etree._Element) -> str:
    return etree.QName(element).localname


@cache
def _specimen() -> _Specimen:
    """A workbook of every style, with two sheets and without a word."""
    sheets = [Portrait(" ", WIDTHS, repeated=1), Portrait("  ", CHANGES_WIDTHS)]
    for _page in range(2):
        sheets[1].blank(_PAGE)
    sheets[0].across(" ")
    sheets[0].add(Piece(1, "number", money_code("XXX")))
    for role in ROLES:
        for text in (None, "=", 1):
            sheets[0].add(Piece(text, role), Piece(None, role))
    content = b""
    elements: set[str] = set()
    values: set[tuple[str, str, str]] = set()
    texts: set[tuple[str, str]] = set()
    names: set[str] = set()
    spaces = {"", "xml"}
    for paper in PAPERS:
        content = write_portraits(sheets, " ", " ", paper)
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
