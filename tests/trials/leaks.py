"""Secrets planted in all that leaves the yard, and honest price sheets, which are not refused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from quoter.catalogue.checks import every_record
from quoter.leaks import LeakError, SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.pricing.earlier import EarlierLists, earlier_lists
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.quotes.printed.guard import look_through_quote
from tests.catalogues.written import FOLDER
from tests.demo import DEMO, all_figures, demo
from tests.pages.asked import asked
from tests.pages.laden import laden
from tests.pages.moving import BEGUN, moving
from tests.pages.ruled import ruled
from tests.trials.planted import (
    MODEL,
    PLACES,
    SHEETS,
    Plant,
    amount_forms,
    in_sites,
    pages,
    site_guard,
)
from tests.trials.planted_quotes import in_quotes, quoted
from tests.trials.trial import Trial, Tried

DAYS = (date(2026, 9, 1), date(2026, 9, 30), date(2026, 10, 1), date(2026, 10, 31))
WHAT_IFS = (
    ("yard.markets.home.tax=19 %",),
    ("yard.price_sheet.address=https://boats.example.com",),
    ("models.models.weekender_86.length=8.2 m",),
)


def refusal(plant: Plant) -> str:
    """What the guard tells of a plant; nothing where it lets it pass."""
    request, _, name = plant.path.partition("/")
    try:
        if name.startswith("quote."):
            record, files = quoted(request)
            page = {"quote.html": files["quote.html"]} if name == "quote.pdf" else {}
            look_through_quote({**page, name: plant.content}, record)
        else:
            site_guard().look_through({plant.path: plant.content})
    except LeakError as fault:
        return str(fault)
    return ""


def planted(times: int) -> Tried:
    """So many of the plants, evenly taken, and as many forms as there are of an amount."""
    tried, plants = Tried(), [*in_sites(), *in_quotes()]
    step = max(1, len(plants) // times)
    for plant in plants[::step]:
        told = refusal(plant)
        where = plant.path.partition("/")[2] if "quote." in plant.path else plant.path
        tried.expect(where in told, f"{plant.name} in {plant.path}: {told or 'let pass'}")
    return tried


def at_random(times: int) -> Tried:
    """Figures and words of the costing in any form at any place; never one that is public too."""
    tried, random = Tried(), Random(13)
    while tried.count < times:
        folder = random.choice(SHEETS)
        if not (text := _secret(random, folder)):
            continue
        plant = _anywhere(random, folder, text)
        told = refusal(plant)
        tried.expect(plant.path in told, f"{text!r}, {plant.name}: let pass")
    return tried


def _secret(random: Random, folder: str) -> str:
    """A figure or a word of the catalogue that no file of a sheet holds; or nothing."""
    if random.random() < 0.3:
        text = random.choice(_words())
        parts = re.findall(r"\w+", text)
        return "" if all(part.casefold() in _said(folder) for part in parts) else text
    value = abs(random.choice(all_figures()).value)
    if not 0.1 < value < 1e7:
        return ""
    text = random.choice(list(amount_forms(value).values()))
    numbers = re.findall(r"\d[\d.,]*\d|\d", text)
    return "" if any(number in _said(folder) for number in numbers) else text


@cache
def _said(folder: str) -> str:
    """All that a sheet's files say, in small letters."""
    files = (content for path, content in pages().items() if path.startswith(folder))
    found = (content.decode("utf-8", "replace") for content in files)
    return "\n".join(found).casefold()


@cache
def _words() -> tuple[str, ...]:
    """What suppliers, materials, stations and moulds are called, and every note."""
    records, words = demo().catalogue.records, []
    for kind in (records.suppliers, records.materials, records.stations, records.moulds):
        for id, record in kind.items():
            words += [str(id), str(getattr(record, "name", id))]
    notes = (str(getattr(record, "note", None) or "") for record in every_record(records))
    return tuple(dict.fromkeys([*words, *filter(None, notes)]))


def _anywhere(random: Random, folder: str, text: str) -> Plant:
    """A file with a text at any place."""
    said = text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
    kind = random.choice(("page", "page", "page", "json", "csv", "script", "styles", "name"))
    if kind == "page":
        place = random.choice(list(PLACES))
        after, new = PLACES[place]
        path = f"{folder}/models/{MODEL}.html"
        changed = pages()[path].decode().replace(after, new.replace("{}", said), 1)
        return Plant(place, path, changed.encode())
    if kind == "name":
        name = re.sub(r"[^\w.-]", "-", text)
        return Plant("a name", f"{folder}/{name}.html", pages()[f"{folder}/index.html"])
    path, pattern = {
        "json": (random.choice(("prices.json", "offers.jsonld")), r'(?<=": ")[^"]*(?=")'),
        "csv": ("prices.csv", r'(?<=,")[^"]*(?=")'),
        "script": (f"models/{MODEL}.js", r'(?<=":")[^"]*(?=")'),
        "styles": ("assets/sheet.css", r"(?<=\n)(?=\.)"),
    }[kind]
    content = pages()[f"{folder}/{path}"].decode()
    found = random.choice(list(re.finditer(pattern, content)))
    new = text.replace("\\", "\\\\").replace('"', "'")
    changed = content[: found.start()] + new + content[found.end() :]
    return Plant(f"a text of {path}", f"{folder}/{path}", changed.encode())


def honest(times: int) -> Tried:
    """Every yard of the tests, the demonstration on its days and after so many random months."""
    tried = Tried()
    with TemporaryDirectory() as folder:
        yards = _yards(Path(folder), small=times < len(DAYS))
        for name, pricing, earlier in (*yards, *_demonstrations(times)):
            site = PublicSite(pricing, earlier)
            found = site.pages()
            try:
                SiteGuard(site).look_through(found)
            except LeakError as fault:
                tried.failed.append(f"{name}: {fault}")
            tried.count += len(found)
    return tried


Yard = tuple[str, Pricing, list[EarlierLists]]


def _yards(folder: Path, small: bool) -> Iterator[Yard]:
    """The tests' own catalogues."""
    for catalogue in ("small", "sound", "cost_card", "job_sheet", "year"):
        yield catalogue, price_catalogue(FOLDER / catalogue)[0], []
    yield "ruled", ruled(folder / "a"), []
    yield "asked", asked(folder / "b"), []
    pricing, _ = price_catalogue(moving(folder / "c"), BEGUN)
    yield "moving", pricing, earlier_lists(folder / "c" / "moving", pricing)
    if not small:
        yield "laden", laden(folder / "d"), []


def _demonstrations(times: int) -> Iterator[Yard]:
    """The demonstration on its days, in what-ifs, and when prices move by who knows how much."""
    for day in DAYS[: max(0, times - 1)]:
        yield f"on {day}", *_priced(day, ())
    for what_if in WHAT_IFS[: max(0, times - 1)]:
        yield " ".join(what_if), *_priced(None, what_if)
    random = Random(7)
    for _ in range(times):
        moves = [f"{random.uniform(-9, 9):+.2f}%" for _ in range(3)]
        keys = ("class.resin", "currency.USD", "wages")
        settings = tuple(f"{key}={move}" for key, move in zip(keys, moves, strict=True))
        yield " ".join(settings), *_priced(None, settings)


def _priced(day: date | None, settings: tuple[str, ...]) -> tuple[Pricing, list[EarlierLists]]:
    pricing, _ = price_catalogue(DEMO, day, settings=settings)
    return pricing, earlier_lists(DEMO, pricing)


TRIALS = (
    Trial("leaks planted", "A secret in a file of a sheet or quote is caught.", planted, 130, 2000),
    Trial("leaks at random", "So is any figure or word, anywhere.", at_random, 60, 4000),
    Trial("honest sites", "No file of an honest yard is refused.", honest, 1, 25),
)
