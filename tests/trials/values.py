"""Values that nobody means, under every key: each is told in a sentence, or it is borne."""

from __future__ import annotations

import random
import re
import traceback
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from quoter.build import render
from quoter.catalogue.adding import replace_file
from quoter.catalogue.load import read_records
from quoter.catalogue.source import Block, Items, Text
from quoter.leaks import LeakError
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError, Place, Problems
from quoter.quotes import QuoteError
from quoter.quotes.draft import draft_of, record_of
from quoter.quotes.printed.files import files_of
from quoter.quotes.request import read_request, sound_wish
from tests.catalogues.written import FOLDER, write_catalogue
from tests.trials.trial import Trial, Tried

SMALL = FOLDER / "small"
NUMBERS = ("0", "-1", "0.000000000002", "999999999999", "1e-300", "1e300", "1", "0.5")
DAYS = ("0001-01-01", "1900-01-01", "2199-12-31", "9999-12-31")
LETTERS = "Ångström " * 34  # three hundred letters and more, as names on sheets and in footers
WORDS = (LETTERS.strip(), "x" * 300, "0", "-", "'", "[]:*?/\\", "=1+1", "\N{SAILBOAT}" * 40)
NUMBER = re.compile(r"[+-]?\d+(\.\d+)?(?![\w-])")
DAY = re.compile(r"\d{4}-\d\d-\d\d\Z")
QUOTES = """
quotes:
  valid_for: 30
  deposits: [{due: with the order, share: 100 %}]
  delivery: {term: EXW, named_place: Sundby, edition: Incoterms 2020, price: 100 EUR}
  schemes: [{id: domestic, charged: yes}]
"""
MORE_POLICY = (
    "  prices_stale_after_days: 120",
    "  prices_stale_after_days: 120\n  shift_calendar: {shifts: 1, hours: 8 h, days: 5}\n"
    "  mould_availability: 90 %\n  import_limit: 12 %\n"
    "  repricing: {hold_within: 2 %, largest_step: 8 %}",
)
REQUEST = """\
date: 2026-03-01
prepared_by: Ilse Maravant
market: home
buyer: direct
customer: {name: Torbenia Quell, address: [Quay 1], country: Inland}
model: cutter
options:
  - {option: hatch, quantity: 2}
discount: 2 %
delivery: {term: DAP, named_place: Tern Harbour, edition: Incoterms 2020, price: 145 GBP}
valid_until: 2026-04-01
shown_total: 90000 EUR
note: A note.
"""
VOLUMES = """\
model,option,boats,take_rate,note
skiff,,12 each,,
cutter,,8 each,,
cutter,hatch,,25 %,
"""
# Keys whose texts are names and words, not ids and choices.
SAID = {"name", "group", "text", "note", "tax_name", "version", "model_year", "term", "due"}
SAID |= {"named_place", "edition", "lead_time", "address", "email", "phone"}


@dataclass(frozen=True)
class Change:
    """A value of a file, and what is written in its place."""

    place: Place
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.place}: {self.old!r} -> {self.new[:40]!r}"


def values_of(folder: Path) -> Iterator[Text]:
    """Every single value of a catalogue's files, with its place."""
    sources = read_records(folder, Problems())[1]
    for block in sources.blocks.values():
        yield from _texts(block)
    for path in sorted(folder.rglob("*.csv")):
        name = path.relative_to(folder).as_posix()
        lines = path.read_text("utf-8").split("\n")
        for number, line in enumerate(lines[1:], 2):
            column = 1
            for cell in line.split(","):
                if cell and '"' not in line:
                    yield Text.at(cell, Place(name, number, column))
                column += len(cell) + 1


def _texts(value: object) -> Iterator[Text]:
    if isinstance(value, Text):
        yield value
    inner: Iterable[object] = value if isinstance(value, Items) else ()
    for each in value.values() if isinstance(value, Block) else inner:
        yield from _texts(each)


def changes_of(text: Text) -> Iterator[Change]:
    """The hostile values for one, with its own unit where it has one."""
    old = str(text)
    if DAY.match(old):
        yield from (Change(text.place, old, day) for day in DAYS)
    elif found := NUMBER.match(old):
        yield from (Change(text.place, old, n + old[found.end() :]) for n in NUMBERS)
    else:
        yield from (Change(text.place, old, word) for word in WORDS)


def written(folder: Path, change: Change) -> bool:
    """Write a change into its file; whether its old value stood there."""
    path = folder / change.place.file
    lines = path.read_text("utf-8").split("\n")
    line, at = lines[change.place.line - 1], change.place.column - 1
    for old in (change.old, f'"{change.old}"'):
        if line[at:].startswith(old):
            new = change.new if path.suffix == ".csv" else f'"{change.new}"'.replace("\\", "\\\\")
            lines[change.place.line - 1] = line[:at] + new + line[at + len(old) :]
            replace_file(path, "\n".join(lines).encode())
            return True
    return False


def fault_of(folder: Path, request: Path, *, build: bool) -> str:
    """The traceback that a catalogue's check, build or quote ends in, if one does."""
    try:
        asked = read_request(request)
        price_catalogue(folder)
        if build:
            render(folder, None, strict=False, say=lambda _: None)
        on_day, _ = price_catalogue(folder, asked.request.date)
        draft = draft_of(on_day, sound_wish(asked, on_day), "mark", None)
        record = record_of(draft, "2026-0001")
        if build:
            files_of(draft, record)
    except (CatalogueError, LeakError, QuoteError) as told:
        return "" if str(told).strip() else "says nothing"
    except Exception as fault:
        last = traceback.extract_tb(fault.__traceback__)[-1]
        return f"{type(fault).__name__} at {last.name}:{last.lineno}: {str(fault)[:100]}"
    return ""


def yard(folder: Path) -> tuple[Path, Path]:
    """The small catalogue with all that it leaves out, and a request of it."""
    made = write_catalogue(
        folder / "yard", {"volumes.csv": VOLUMES}, {"yard.yaml": MORE_POLICY}, SMALL
    )
    policy = made / "yard.yaml"
    policy.write_text(policy.read_text("utf-8") + QUOTES, encoding="utf-8")
    request = folder / "request.yaml"
    request.write_text(REQUEST, encoding="utf-8")
    return made, request


def no_value_ends_in_a_traceback(count: int, *, build: bool = False) -> Tried:
    """Try so many changes, drawn over all values of a catalogue."""
    tried, draw = Tried(), random.Random(7)
    with TemporaryDirectory() as kept:
        folder, request = yard(Path(kept))
        tried.expect(not fault_of(folder, request, build=False), "the catalogue itself is no good")
        found = [change for text in values_of(folder) for change in changes_of(text)]
        for change in draw.sample(found, min(count, len(found))):
            path = folder / change.place.file
            before = path.read_bytes()
            if written(folder, change):
                fault = fault_of(folder, request, build=build)
                tried.expect(not fault, f"{change}: {fault}")
            path.write_bytes(before)
    return tried


def every_value_is_built(count: int) -> Tried:
    """The same, with all that a build and a quote write of it."""
    return no_value_ends_in_a_traceback(count, build=True)


def long_names_are_built(count: int) -> Tried:
    """Every name, note and word at once with as many letters; the request's on one line's most."""
    tried = Tried()
    for letters in (LETTERS, "ß" * 400, "&" * 400)[:count]:
        with TemporaryDirectory() as kept:
            folder, request = yard(Path(kept))
            texts = [text for text in values_of(folder) if text.place.key in SAID]
            for number, text in enumerate(sorted(texts, key=lambda text: text.place, reverse=True)):
                change = Change(text.place, str(text), f"{number} {letters}"[:300].strip())
                tried.expect(written(folder, change), f"{change}: is not there")
            named = request.read_text("utf-8").replace("Torbenia Quell", letters.strip()[:190])
            request.write_text(named.replace("Ilse Maravant", letters.strip()[:190]), "utf-8")
            fault = fault_of(folder, request, build=True)
            tried.expect(not fault, f"names of {letters[:8]}: {fault}")
    return tried


TRIALS = (
    Trial(
        "values",
        "A value that nobody means is told in a sentence, or borne, by check and quote.",
        no_value_ends_in_a_traceback,
        short=20,
        long=2000,
    ),
    Trial(
        "values_built",
        "The same of builds, with all of their pages and workbooks.",
        every_value_is_built,
        short=1,
        long=300,
    ),
    Trial(
        "long_names",
        "Names of three hundred letters fit on every sheet, page and footer, or are told.",
        long_names_are_built,
        short=1,
        long=3,
    ),
)
