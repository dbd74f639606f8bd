"""The demonstration as a yard of many boats: each of its own is built again and again."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

from quoter.pricing.price import Pricing
from tests.catalogues.written import priced
from tests.demo import DEMO

BOATS = ("open_68", "longshore_76", "weekender_86", "coastal_98", "passage_120")
_ENTRY = re.compile(r'msgctxt "models\.models\.(\w+)\..+?(?:\n\n|\Z)', re.DOTALL)


def fleet(folder: Path, count: int) -> Pricing:
    """Prices of a copy with so many boats, in every language; the first five are as they were."""
    return priced(fleet_catalogue(folder, count))


def fleet_catalogue(folder: Path, count: int) -> Path:
    """The catalogue of so many boats, at least the demonstration's own five."""
    copy = folder / f"fleet_{count}"
    shutil.copytree(DEMO, copy)
    again = [_again(BOATS[number % len(BOATS)], number) for number in range(len(BOATS), count)]
    _models(copy / "models.yaml", again)
    _options(copy / "options.yaml", again)
    for name in ("price_book.csv", "volumes.csv"):
        _rows(copy / name, again)
    for file in (copy / "translations").glob("*.po"):
        _translations(file, again)
    return copy


def _again(boat: str, number: int) -> tuple[str, str]:
    """A boat and the id of its next copy, such as open_68_b."""
    return boat, f"{boat}_{chr(ord('a') + number // len(BOATS))}"


def _named(text: str, boat: str, other: str) -> str:
    """A text about a boat as one about its copy, whose name has the copy's letter at its end."""
    text = re.sub(rf"\b{boat}\b", other, text)
    return re.sub(r'(name: |msgid "|msgstr ")(Orvesund [\d.,]+ \w+)', rf"\1\2 {other[-1]}", text)


def _models(file: Path, again: list[tuple[str, str]]) -> None:
    text = file.read_text(encoding="utf-8").rstrip() + "\n"
    blocks = {boat: _block(text, boat) for boat in BOATS}
    copies = [f"\n{_named(blocks[boat], boat, other)}" for boat, other in again]
    file.write_text(text + "".join(copies), encoding="utf-8")


def _block(text: str, boat: str) -> str:
    """The lines of one boat."""
    begun = text.index(f"  - id: {boat}\n")
    return text[begun:].partition("\n\n")[0].rstrip() + "\n"


def _options(file: Path, again: list[tuple[str, str]]) -> None:
    """What says that an option is for a boat, or how large it is there, says it of its copies."""
    lines = []
    for line in file.read_text(encoding="utf-8").splitlines():
        boats = [each for each in again if re.search(rf"\b{each[0]}\b", line)]
        if boats and line.lstrip().startswith("models: ["):
            line = line.replace("]", "".join(f", {other}" for _, other in boats) + "]")
        lines.append(line)
        if boats and not line.lstrip().startswith("models: ["):
            lines += [line.replace(boat, other) for boat, other in boats]
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")


def _rows(file: Path, again: list[tuple[str, str]]) -> None:
    lines = file.read_text(encoding="utf-8").splitlines()
    rows = [
        re.sub(rf"\b{boat}\b", other, line)
        for boat, other in again
        for line in lines
        if re.search(rf"(?:^|,){boat},", line)
    ]
    file.write_text("\n".join([*lines, *rows]) + "\n", encoding="utf-8")


def _translations(file: Path, again: list[tuple[str, str]]) -> None:
    text = file.read_text(encoding="utf-8").rstrip() + "\n\n"
    file.write_text(text + "\n\n".join(_said(text, again)) + "\n", encoding="utf-8")


def _said(text: str, again: list[tuple[str, str]]) -> Iterator[str]:
    entries = [(found[1], found[0].rstrip()) for found in _ENTRY.finditer(text)]
    for boat, other in again:
        yield from (_named(entry, boat, other) for named, entry in entries if named == boat)
