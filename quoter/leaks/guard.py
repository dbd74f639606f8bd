"""The guard: every number and word of a public file is accounted for, or nothing is published.

A text of a view counts as a whole. A number counts by its value and by what stands beside it; alone
it is nothing. What no reader knows how to read is not published.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import islice

from quoter.figures.readers import CHOICES
from quoter.leaks.allowed import KILOGRAM, METRE, MONEY, POUNDS, Allowed
from quoter.leaks.books import BookKind
from quoter.leaks.data import (
    boats_rests,
    csv_rests,
    json_rests,
    local_rests,
    script_rests,
)
from quoter.leaks.drawings import Drawings
from quoter.leaks.found import found_rests
from quoter.leaks.known import Known
from quoter.leaks.pages import Pages, foot_rests
from quoter.leaks.pictures import picture_rests
from quoter.leaks.reduction import Rest
from quoter.pages.environment import asset
from quoter.pages.public.data_schema import schema_file
from quoter.pages.public.found import ROBOTS, SITEMAP
from quoter.pages.public.local_table import LocalTable
from quoter.pages.public.price_book import (
    FROZEN,
    boat_widths,
    boats_widths,
    measure_code,
    sheet_titles,
)
from quoter.pages.public.site import ASSETS, MarketSheet, PublicSite, boat_script, search_script
from quoter.pages.public.views import PictureSize, SheetView
from quoter.workbook.columns import Look, minor_digits
from quoter.workbook.xlsx import zipped

MOST_TOLD = 20  # of one file; whoever mends the first mends most
LONGEST_TOLD = 80
MORE = "more than is told here"
NOT_OURS = "other bytes than the program's own file has"
NO_SUCH_FILE = "a file that is none of those which customers get"
HEAD = "nothing was written, since no public view or phrase accounts for this:"
_DATA = ("prices.json", "prices.csv-metadata.json", "offers.jsonld")
_SCRIPT = re.compile(r"models/[^/]+\.js\Z")
_OWN_FILES: dict[str, Callable[[], bytes]] = {
    **{path: partial(asset, source) for path, source in ASSETS.items()},
    "assets/boat.js": boat_script,
    "assets/search.js": search_script,
    "prices.schema.json": schema_file,
}
_BOOK, _LOCAL = "prices.xlsx", "prices-local.csv"
_MARK = "\ufeff"  # of the order of bytes, before the table of prices


def _codes(allowed: Allowed) -> dict[str, str]:
    """The number formats of prices and measures in a price book, each with what the number is."""
    found = {
        Look(digits, allowed.currency).code: MONEY for digits in (0, minor_digits(allowed.currency))
    }
    for kind, name, decimals in (
        (KILOGRAM, "mass-kilogram", (0, 1)),
        (POUNDS, "mass-pound", (0, 1)),
        (METRE, "length-meter", (2,)),
    ):
        found |= {measure_code(name, allowed.locale, digits): kind for digits in decimals}
    return found


_PRICE_WIDTHS = [widths(units) for units in CHOICES for widths in (boats_widths, boat_widths)]
_PRICE_BOOK = BookKind(
    _PRICE_WIDTHS, _codes, max(map(len, _PRICE_WIDTHS)), frozen=FROZEN, stored=True
)

Reader = Callable[[str], Iterator[Rest]]


@dataclass(frozen=True, slots=True)
class Leak:
    """What nobody accounts for: the file, where in it, the text, and what that is if it is known.

    `line` and `column` are 0 where a file has none; `part` is one of a workbook, or the name.
    """

    file: str
    text: str
    line: int = 0
    column: int = 0
    part: str = ""
    known: str = ""

    @property
    def said(self) -> str:
        """The text, not all of a long one, and what it is."""
        text = " ".join(self.text.split())
        if len(text) > LONGEST_TOLD:
            text = f"{text[:LONGEST_TOLD]}…"
        return f"'{text}'{self.known}"

    def __str__(self) -> str:
        """On one line, with its place as editors take it."""
        place = f":{self.line}:{self.column}" if self.line else ""
        return f"{self.file}{place}: {f'{self.part}: ' if self.part else ''}{self.said}"


class LeakError(Exception):
    """Raised instead of publishing when a public file says what no public view accounts for."""

    code = "leak"

    def __init__(self, leaks: Sequence[Leak]) -> None:
        """Keep the leaks for whoever shows them one by one."""
        self.leaks = tuple(leaks)
        super().__init__("\n".join([HEAD, *map(str, leaks)]))


class SiteGuard:
    """Looks through files of one site; what was worked out for one is kept for the next."""

    def __init__(self, site: PublicSite) -> None:
        """Nothing is worked out yet."""
        self._site = site
        self._known = Known(site.pricing)
        self._pages: dict[str, Pages] = {}
        self._own: dict[str, bytes | None] = {}
        self._sizes: dict[str, dict[str, PictureSize]] = {}

    def ready(self) -> None:
        """Work out what all sheets share, before they are looked through in their own processes."""
        _ = self._known.clashes

    def look_through(self, files: Mapping[str, bytes]) -> None:
        """Account for every number and word of files of the site, and of their names.

        Raises:
            LeakError: naming each file, the place and what is not accounted for.
        """
        stop_at(self.leaks(files))

    def leaks(self, files: Mapping[str, bytes]) -> list[Leak]:
        """What of files of the site, and of their names, is not accounted for."""
        return [leak for path in sorted(files) for leak in self._leaks(path, files[path], files)]

    def _leaks(self, path: str, content: bytes, beside: Mapping[str, bytes]) -> Iterator[Leak]:
        sheet = self._site.sheet_of(path)
        own = self._own_file(path if sheet is None else path.removeprefix(sheet.folder).lstrip("/"))
        if own is not None or sheet is None:
            if own != content:
                told = NOT_OURS if own else NO_SUCH_FILE
                yield Leak(path, told)
            return
        pages = self._pages_of(sheet)
        for rest in pages.allowed.rests(path):
            yield Leak(path, rest.text, part="its name", known=self._known.what(rest.text))
        inner = path.removeprefix(sheet.folder).lstrip("/")
        if inner == sheet.zip:
            yield from self._zip_leaks(path, content, sheet, beside)
            return
        if inner == _BOOK:
            for part, rest in islice(_PRICE_BOOK.rests(content, pages.allowed), MOST_TOLD):
                yield Leak(path, rest.text, part=part, known=self._known.what(rest.text))
            return
        if (size := self._sizes_of(sheet).get(inner)) is not None:
            yield from (Leak(path, text) for text in picture_rests(content, size))
            return
        reader = _reader(inner, pages, sheet.view)
        if reader is None:
            yield Leak(path, NO_SUCH_FILE)
        else:
            yield from leaks_in(path, content, reader, self._known)

    def _zip_leaks(
        self, path: str, content: bytes, sheet: MarketSheet, beside: Mapping[str, bytes]
    ) -> Iterator[Leak]:
        """What of a folder in one file is a leak: each of its files is read as one of the folder.

        One that is the very file which stands beside it is read there.
        """
        try:
            with zipfile.ZipFile(io.BytesIO(content)) as archive:
                files = {name: archive.read(name) for name in archive.namelist()}
        except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError) as fault:
            yield Leak(path, f"no zip: {fault}")
            return
        if zipped(files, stored=True) != content:
            yield Leak(path, "more than the files of a folder, or others than it lists")
        top = f"{sheet.zip.removesuffix('.zip')}/"
        for name, each in files.items():
            inner = name.removeprefix(top)
            standing = f"{sheet.folder}/{inner}"
            if not name.startswith(top) or inner == sheet.zip:
                yield Leak(path, NO_SUCH_FILE, part=name)
            elif beside.get(standing) != each:
                for leak in self._leaks(standing, each, {}):
                    yield replace(leak, file=path, part=name, line=0, column=0)

    def _own_file(self, inner: str) -> bytes | None:
        """A file that goes out as the program has it, whatever the catalogue; None for others."""
        if inner not in self._own:
            make = _OWN_FILES.get(inner)
            self._own[inner] = None if make is None else make()
        return self._own[inner]

    def _sizes_of(self, sheet: MarketSheet) -> dict[str, PictureSize]:
        """What a sheet's pages say of its pictures, by the name of the file."""
        if sheet.folder not in self._sizes:
            every = (picture for model in sheet.view.models for picture in model.pictures)
            self._sizes[sheet.folder] = {size.file: size for each in every for size in each.sizes}
        return self._sizes[sheet.folder]

    def _pages_of(self, sheet: MarketSheet) -> Pages:
        if sheet.folder not in self._pages:
            allowed = Allowed(sheet.views, sheet.locale, sheet.view.currency)
            allowed.add_texts(*_joined(sheet.view))
            self._known.strike_out(allowed)
            self._pages[sheet.folder] = Pages(allowed, Drawings(sheet.view, allowed))
        return self._pages[sheet.folder]


def stop_at(leaks: Sequence[Leak]) -> None:
    """Let nothing pass where there is a leak.

    Raises:
        LeakError: there is one.
    """
    if leaks:
        raise LeakError(leaks)


def leaks_in(path: str, content: bytes, reader: Reader, known: Known) -> Iterator[Leak]:
    """What a reader finds in a text file, by line and column."""
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as fault:
        yield Leak(path, f"a byte that is no text: {fault.object[fault.start]:02x}")
        return
    told: set[str] = set()
    for rest in reader(text):
        if rest.text in told:
            continue
        told.add(rest.text)
        if len(told) > MOST_TOLD:
            yield Leak(path, MORE)
            return
        line = text.count("\n", 0, rest.start) + 1
        column = rest.start - text.rfind("\n", 0, rest.start)
        yield Leak(path, rest.text, line, column, known=known.what(rest.text))


def _reader(inner: str, pages: Pages, sheet: SheetView) -> Reader | None:
    """What reads a file of a price sheet; None for a kind of file that none has."""
    allowed = pages.allowed
    if inner.endswith(".html"):
        return pages.rests
    if inner in _DATA:
        return partial(json_rests, allowed=allowed)
    if inner == "prices.csv":
        return lambda text: csv_rests(text.removeprefix(_MARK), allowed)
    if inner == _LOCAL:
        table = LocalTable(sheet)
        return lambda text: local_rests(text.removeprefix(_MARK), allowed, table)
    if inner in (SITEMAP, ROBOTS):
        return partial(found_rests, name=inner, allowed=allowed)
    if inner == "assets/foot.css":
        return partial(foot_rests, allowed=allowed)
    if inner == "assets/boats.js":
        return partial(boats_rests, allowed=allowed)
    return partial(script_rests, allowed=allowed) if _SCRIPT.match(inner) else None


def _joined(sheet: SheetView) -> Iterator[str]:
    """What data files make of two texts of a sheet."""
    yield f"{sheet.company.name} {sheet.version}"
    yield from sheet_titles(sheet)
    table = LocalTable(sheet)
    yield from (table.day(on) for on in (sheet.valid_from, sheet.valid_until))
    yield f"{sheet.valid_from.isoformat()}/{sheet.valid_until.isoformat()}"
