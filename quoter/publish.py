"""Output folders appear whole or not at all, and nothing secret leaves in the public one."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from html import unescape
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
SHORTEST_NOTE = 16  # shorter notes ("common practice") are common words, not secrets


class LeakError(Exception):
    """Raised instead of publishing when a public file holds something secret."""


class FolderError(Exception):
    """Raised when an output folder can't be written, or is not one of ours and would be lost."""


def publish(outputs: Mapping[Path, Mapping[str, bytes]], keep: Sequence[Path] = ()) -> None:
    """Replace each folder by its files; all are written aside first, then swapped.

    Args:
        outputs: folder -> path below it -> content
        keep: folders that no output may replace, such as the catalogue itself

    Raises:
        FolderError: when a folder holds something this program did not write, or can't be
            written; the folders are then as they were.
    """
    folders = {folder.resolve(): files for folder, files in outputs.items()}
    _refuse_overlap(list(outputs), keep)
    try:
        for folder in folders:
            for own in (folder, _beside(folder, "new"), _beside(folder, "old")):
                _refuse_foreign(own)
            _recover(folder)
        try:
            for folder, files in folders.items():
                _remove(_beside(folder, "new"))
                _write(_beside(folder, "new"), files)
            _swap(list(folders))
        finally:
            for folder in folders:
                _remove(_beside(folder, "new"))
    except OSError as fault:
        what = f"can't write {fault.filename or 'the output'}: {fault.strerror or fault}"
        raise FolderError(f"{what}; the output folders are as they were") from fault


def _beside(folder: Path, kind: str) -> Path:
    return folder.with_name(f".{folder.name}.{kind}")


def _refuse_overlap(outputs: Sequence[Path], keep: Sequence[Path]) -> None:
    """A folder within another would be swept away with it, and internal files be public."""
    for number, folder in enumerate(outputs):
        own = folder.resolve()
        if not own.name:
            raise FolderError(f"{folder} is a whole disk; name a folder of its own")
        for other in outputs[number + 1 :]:
            theirs = other.resolve()
            if own == theirs or own in theirs.parents or theirs in own.parents:
                raise FolderError(f"{folder} and {other} overlap; name two separate folders")
        for kept in keep:
            if own == kept.resolve() or own in kept.resolve().parents:
                raise FolderError(f"{folder} holds {kept}, which would be lost; name another")


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


def _recover(folder: Path) -> None:
    """Undo a swap that was killed half-way: the old folder goes back to its place."""
    if not folder.exists() and _beside(folder, "old").exists():
        _beside(folder, "old").rename(folder)


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    """The mark first, so that what a killed run leaves is known as ours."""
    for name, content in {MARK: MARK_TEXT, **dict(sorted(files.items()))}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)


def _swap(folders: Sequence[Path]) -> None:
    """Put every new folder in place; if one of them can't be, or we are stopped, none is."""
    touched: list[Path] = []
    try:
        for folder in folders:
            old = _beside(folder, "old")
            _remove(old)
            touched.append(folder)
            if folder.exists():
                folder.rename(old)
            _beside(folder, "new").rename(folder)
        touched.clear()
    finally:
        for folder in reversed(touched):
            if not _beside(folder, "new").exists():
                _remove(folder)
            _recover(folder)
    for folder in folders:
        shutil.rmtree(_beside(folder, "old"), ignore_errors=True)


def _remove(folder: Path) -> None:
    if folder.exists():
        shutil.rmtree(folder)


@dataclass(frozen=True, slots=True)
class Secrets:
    """What must not be in a public file: numbers as people would print them, and words."""

    numbers: frozenset[str]
    words: frozenset[str]


_SPACES = "\u00a0\u202f\u2009"  # what locales put between thousands
_RUN = re.compile(rf"\d+(?:[.,'\u2019 {_SPACES}]\d+)*")
_GROUPED = re.compile(
    rf"(\d{{1,3}}([.,'\u2019 {_SPACES}])(?:\d{{2,3}}\2)*\d{{3}})(?:(?!\2)[.,](\d+))?\Z"
)
_TAG = re.compile(r"<[^<>]*>")
_PLAIN = re.compile(r"(\d+)(?:[.,](\d+))?\Z")


def numbers_in(text: str) -> Iterator[str]:
    """Every number of a text: no separators of thousands, decimals after a point.

    What can be read in two ways is given in both; a space that does not break is one way, since
    only digits of one number stand beside it. Decimals beyond those of money are given to the cent
    as well.
    """
    for run in _RUN.finditer(text):
        grouped = _GROUPED.match(run[0])
        if grouped and grouped[2] in _SPACES:
            yield from _readings(run[0])
            continue
        pieces = re.split(rf"[ {_SPACES}]", run[0])
        for token in dict.fromkeys((run[0], *pieces)):
            yield from _readings(token)


def _readings(token: str) -> Iterator[str]:
    if grouped := _GROUPED.match(token):
        whole = re.sub(r"\D", "", grouped[1])
        yield f"{whole}.{grouped[3]}" if grouped[3] else whole
    elif plain := _PLAIN.match(token):
        yield f"{plain[1]}.{plain[2]}" if plain[2] else plain[1]
        if len(plain[2] or "") > 3:
            yield str(Decimal(f"{plain[1]}.{plain[2]}").quantize(Decimal("0.01"), ROUND_HALF_UP))
    else:
        for piece in re.split(r"[.,'\u2019]", token):
            if piece.isdigit():
                yield piece


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
    roots: list[Figure] = []
    public: set[str] = set()
    catalogue = pricing.catalogue
    tax = catalogue.yard.markets[0].tax
    for model in pricing.models.values():
        for priced in (model.boat, *model.options.values()):
            roots += _secret_results(priced)
            prices = (
                public_amount(priced.list_price, catalogue.currency),
                with_tax(priced.list_price, tax, catalogue.currency),
            )
            for price in prices:
                public |= set(_as_printed(float(price)))
            public |= set(_as_printed(priced.assembly.mass.value))
    for text in _public_texts(pricing):
        public |= set(numbers_in(text))
    amounts = (figure for figure in in_order(roots) if figure.key and _is_money(figure))
    numbers = {text for figure in amounts for text in _as_printed(figure.value)}
    return Secrets(frozenset(numbers - public), frozenset(_secret_words(pricing)))


def _secret_results(priced: Priced) -> Iterator[Figure]:
    """What no other figure of a costing is made from; behind these stand wages and prices."""
    yield priced.recommended
    for sale in priced.sales.values():
        yield from (sale.net, sale.contribution, sale.margin)
    waiting = [priced.assembly]
    while waiting:
        made = waiting.pop()
        yield from (made.cost, made.variable, *made.groups.values())
        waiting += [use.assembly for use in made.recipe.uses]


def _is_money(figure: Figure) -> bool:
    """Whether an amount has a currency in its unit, as a wage per hour has too."""
    return any(len(symbol) == 3 and symbol.isupper() for symbol, _ in figure.unit.parts)


def _public_texts(pricing: Pricing) -> Iterator[str]:
    yard = pricing.catalogue.yard
    yield from (str(value) for value in yard.company.model_dump().values() if value)
    edition = pricing.catalogue.edition
    yield f"{edition.version}, {edition.model_year}, {edition.valid_from}, {edition.valid_until}"
    yield from (str(term) for term in yard.price_sheet.terms)
    for model in pricing.models.values():
        sizes = f"{model.model.length.value:.2f} m, {model.model.beam.value:.2f} m"
        yield f"{model.model.name}, {model.model.text}, {sizes}"
        for priced in model.options.values():
            option = priced.option
            if option is not None:
                texts = (option.name, option.text, option.lead_time, *option.includes)
                yield ", ".join([*texts, *option.excludes])


def _secret_words(pricing: Pricing) -> Iterator[str]:
    records = pricing.catalogue.records
    yield from (str(supplier.name) for supplier in records.suppliers.values())
    told = [str(buyer.name) for buyer in pricing.terms.buyers]
    for record in every_record(records):
        told.append(str(getattr(record, "note", None) or ""))
        for name in type(record).model_fields:
            told += _written_notes(getattr(record, name))
    yield from (words for words in told if len(words) >= SHORTEST_NOTE)


def _written_notes(value: object) -> Iterator[str]:
    """The notes that stand in parentheses behind a quantity, or behind each of several."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from _written_notes(inner)
    elif isinstance(value, Figure):
        for figure in in_order([value]):
            if figure.origin is not None:
                yield figure.origin.note


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
    """What a file holds, also where it is written in the entities of a page or has tags within."""
    plain = unescape(text)
    numbers = () if name.endswith(DRAWN) else {*numbers_in(text), *numbers_in(plain)}
    for number in sorted(secrets.numbers.intersection(numbers)):
        yield f"the amount {number}"
    read = _one_line(plain) + "\n" + _one_line(_TAG.sub("", plain))
    for words in sorted(secrets.words):
        if re.search(rf"(?<!\w){re.escape(_one_line(words))}(?!\w)", read):
            yield f"the words '{words}'"


def _one_line(text: str) -> str:
    return " ".join(text.split()).casefold()
