"""Output folders appear whole or not at all, and nothing secret leaves in the public one."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from quoter.catalogue.checks import every_record
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.pricing.price import Priced, Pricing, public_amount, with_tax

MARK = ".written-by-quoter"
MARK_TEXT = (
    b"This folder is replaced as a whole by `quoter build`: keep nothing of your own in it.\n"
)
SMALLEST_AMOUNT = 20  # smaller ones occur by chance everywhere, and tell nobody anything
DRAWN = (".css", ".svg")  # full of numbers that are sizes and colours; searched for words only
SHORTEST_NOTE = 12  # shorter notes ("invented") are common words, not secrets


class LeakError(Exception):
    """Raised instead of publishing when a public file holds something secret."""


class FolderError(Exception):
    """Raised when an output folder is not one of ours and would be lost."""


def publish(outputs: Mapping[Path, Mapping[str, bytes]]) -> None:
    """Replace each folder by its files; all are written aside first, then swapped.

    Raises:
        FolderError: when a folder holds something this program did not write.
        OSError: when writing fails; the folders are then as they were.
    """
    for folder in outputs:
        _refuse_foreign(folder)
    fresh: list[tuple[Path, Path]] = []
    try:
        for folder, files in outputs.items():
            aside = folder.with_name(f".{folder.name}.new")
            _remove(aside)
            fresh.append((folder, aside))
            _write(aside, files)
        _swap(fresh)
    finally:
        for _, aside in fresh:
            _remove(aside)


def _refuse_foreign(folder: Path) -> None:
    if not folder.exists():
        return
    if not folder.is_dir():
        raise FolderError(f"{folder} is a file; name a folder to write to")
    if any(folder.iterdir()) and not (folder / MARK).is_file():
        raise FolderError(
            f"{folder} holds files this program did not write (it has no {MARK}); "
            "name another folder, or empty it first"
        )


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, content in sorted({**files, MARK: MARK_TEXT}.items()):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _swap(fresh: list[tuple[Path, Path]]) -> None:
    """Put every new folder in place, and every old one back if one of them can't be."""
    moved: list[tuple[Path, Path]] = []
    try:
        for folder, aside in fresh:
            old = folder.with_name(f".{folder.name}.old")
            _remove(old)
            if folder.exists():
                folder.rename(old)
                moved.append((folder, old))
            aside.rename(folder)
    except OSError:
        for folder, old in reversed(moved):
            _remove(folder)
            old.rename(folder)
        raise
    for _, old in moved:
        _remove(old)


def _remove(folder: Path) -> None:
    if folder.exists():
        shutil.rmtree(folder)


@dataclass(frozen=True, slots=True)
class Secrets:
    """What must not be in a public file: numbers as people would print them, and words."""

    numbers: frozenset[str]
    words: frozenset[str]


_NUMBER = re.compile(r"\d[\d.,'\u00a0\u202f\u2009 ]*\d|\d")


def numbers_in(text: str) -> Iterator[str]:
    """Every number of a text: no separators of thousands, decimals after a point."""
    for match in _NUMBER.finditer(text):
        token = re.sub(r"[\s']", "", match[0])
        whole, separator, decimals = _parts(token)
        digits = re.sub(r"\D", "", whole)
        yield f"{digits}.{decimals}" if separator else digits


def _parts(token: str) -> tuple[str, str, str]:
    at = max(token.rfind("."), token.rfind(","))
    if at < 0 or len(token) - at - 1 == 3 or not token[at + 1 :]:
        return token, "", ""
    return token[:at], ".", token[at + 1 :]


def _as_printed(value: float) -> Iterator[str]:
    """A secret amount to the cent; to the whole only where that many digits can't be by chance."""
    exact = Decimal(repr(abs(value)))
    if exact < SMALLEST_AMOUNT:
        return
    yield str(exact.quantize(Decimal("0.01"), ROUND_HALF_UP))
    whole = str(exact.quantize(Decimal(1), ROUND_HALF_UP))
    if len(whole) >= 4:
        yield whole


def secrets_of(pricing: Pricing) -> Secrets:
    """Every cost, margin and dealer price of a costing, every supplier and internal note.

    A number that is public in its own right (a list price, a tax, a mass) is no secret.
    """
    figures: list[Figure] = []
    public: set[str] = {"0.00"}
    catalogue = pricing.catalogue
    tax = catalogue.yard.markets[0].tax
    for model in pricing.models.values():
        for priced in (model.boat, *model.options.values()):
            figures += _secret_figures(priced)
            prices = (
                public_amount(priced.list_price, catalogue.currency),
                with_tax(priced.list_price, tax, catalogue.currency),
            )
            for price in prices:
                public |= set(_as_printed(float(price)))
            public |= set(_as_printed(priced.assembly.mass.value))
    for text in _public_texts(pricing):
        public |= set(numbers_in(text))
    numbers = {text for figure in figures for text in _as_printed(figure.value)}
    return Secrets(frozenset(numbers - public), frozenset(_secret_words(pricing)))


def _secret_figures(priced: Priced) -> Iterator[Figure]:
    """Every amount of money behind a price except the list price itself."""
    roots = [priced.assembly.cost, priced.assembly.variable]
    for sale in priced.sales.values():
        roots += [sale.net, sale.contribution, sale.margin]
    yield from roots
    money = priced.list_price.unit
    for figure in in_order(roots):
        named = figure.key and not figure.key.endswith((".list_price", ".recommended"))
        if named and figure.unit == money and figure.value:
            yield figure


def _public_texts(pricing: Pricing) -> Iterator[str]:
    yard = pricing.catalogue.yard
    yield from (str(value) for value in yard.company.model_dump().values() if value)
    yield from (str(value) for value in yard.price_sheet.model_dump().values())
    for model in pricing.models.values():
        yield f"{model.model.name} {model.model.text} {model.model.length.value:.2f}"
        for priced in model.options.values():
            option = priced.option
            if option is not None:
                texts = (option.name, option.text, option.lead_time, *option.includes)
                yield " ".join([*texts, *option.excludes])


def _secret_words(pricing: Pricing) -> Iterator[str]:
    records = pricing.catalogue.records
    for supplier in records.suppliers.values():
        yield str(supplier.name)
    for record in every_record(records):
        note = getattr(record, "note", None)
        if note and len(note) >= SHORTEST_NOTE:
            yield str(note)
    for buyer in pricing.terms.buyers:
        yield str(buyer.name)


def guard(files: Mapping[str, bytes], secrets: Secrets) -> None:
    """Search the public files.

    Raises:
        LeakError: naming each file and what it holds.
    """
    found = [
        f"{name}: {what}"
        for name, content in sorted(files.items())
        for what in _leaks(name, content.decode("utf-8", "replace"), secrets)
    ]
    if found:
        raise LeakError("nothing was published, since it would hold secrets:\n" + "\n".join(found))


def _leaks(name: str, text: str, secrets: Secrets) -> Iterator[str]:
    numbers = () if name.endswith(DRAWN) else numbers_in(text)
    for number in sorted(secrets.numbers.intersection(numbers)):
        yield f"the amount {number}"
    plain = " ".join(text.split()).casefold()
    for word in sorted(secrets.words):
        if " ".join(word.split()).casefold() in plain:
            yield f"the words '{word}'"
