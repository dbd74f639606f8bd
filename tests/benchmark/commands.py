"""Whole processes as a person starts them: commands, builds after a change, growth."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator
from dataclasses import astuple, dataclass
from pathlib import Path

from tests.benchmark.changes import add_daily_rates, book_again, change
from tests.benchmark.measured import Cost, elsewhere, python, quickest, quoter, run
from tests.benchmark.table import BYTES, SECONDS, TIMES, Line, Missing
from tests.benchmark.yards import Size

REQUEST = "requests/northern_dealer.yaml"  # one boat; each size of yard has it
BOAT = ("coastal_98", "side_ramp")
NEEDED_TWICE = {"models": (Size(5, 10), Size(10, 10)), "options": (Size(5, 10), Size(5, 20))}
DAYS = (15, 30)  # of exchange rates more
BOOKED = (5, 10)  # times the demonstration's jobs
LANGUAGES = (("de",), ("de", "fr", "nb"))  # of the home market besides English
PAGES_OF = (5, 10, 20, 40)  # models, each with as many options
OPTIONS_EACH = 12


@dataclass(frozen=True, slots=True)
class Bench:
    """What is measured: a size, with a folder to work in, and how often each thing is run."""

    size: str
    scratch: Path
    rounds: int

    @property
    def yard(self) -> Path:
        """The yard of this size."""
        return self.yard_of("yard", self.size)

    def yard_of(
        self, name: str, size: Size | str, languages: tuple[str, ...] | None = None
    ) -> Path:
        """A yard in the folder to work in, made unless it stands there."""
        folder = self.scratch / name
        if not folder.exists():
            told = size if isinstance(size, str) else astuple(size)
            elsewhere("yards:written", folder, told, languages)
        return folder

    def build(self, yard: Path, into: str = "", *words: str) -> Cost:
        """The cost of a build, into folders that are empty unless they are named."""
        folder = self.scratch / (into or "built")
        if not into:
            shutil.rmtree(folder, ignore_errors=True)
        folders = ("--site", folder / "site", "--internal", folder / "internal")
        return run(*quoter("build", yard, *folders, *words))


def starting() -> float:
    """CPU seconds in which the interpreter starts and ends without doing anything."""
    return quickest(7, *python("-c", "pass")).cpu


def importing() -> float:
    """CPU seconds in which all that a build needs is imported."""
    return quickest(5, *python("-c", "import quoter.build")).cpu


def commands(bench: Bench) -> Iterator[Line | Missing]:
    """Start-up and the commands that only answer."""
    interpreter, start_up = starting(), importing()
    yield Line("interpreter alone", interpreter, SECONDS)
    yield Line("start-up: all a build imports", start_up, SECONDS)
    help = quickest(bench.rounds + 2, *quoter("--help"))
    yield Line("--help over the interpreter", help.cpu - interpreter, SECONDS, "at most", 0.15)
    check = quickest(bench.rounds, *quoter("check", bench.yard))
    yield Line("check", check.cpu, SECONDS)
    over = Line("check over start-up", check.cpu - start_up, SECONDS, "at most", 0.6)
    yield over.aimed_if(bench.size == "S")
    yield Line("check, peak memory", check.memory, BYTES)
    for name, words in _answers(bench.yard).items():
        cost = quickest(bench.rounds, *quoter(*words))
        yield Line(name, cost.cpu, SECONDS)
        yield Line(f"{name}, peak memory", cost.memory, BYTES)
    days = ("--from", "2026-10-01", "--to", "2026-11-01")
    compare = quickest(bench.rounds, *quoter("compare", bench.yard, *days))
    yield Line("compare two days", compare.cpu, SECONDS)


def _answers(yard: Path) -> dict[str, tuple[str | Path, ...]]:
    return {
        "why of one option": ("why", yard, *BOAT),
        "quote of one boat": ("quote", yard, yard / REQUEST, "--dry-run"),
    }


def one_boat(bench: Bench) -> Iterator[Line | Missing]:
    """One boat's question in this yard over the same in the demonstration."""
    small = bench.yard_of("demonstration", "S")
    for name, words in _answers(bench.yard).items():
        mine = quickest(1, *quoter(*words)).cpu
        theirs = quickest(bench.rounds, *quoter(*_answers(small)[name])).cpu
        yield Line(f"{name}, {bench.size} over S", mine / theirs, TIMES, "at most", 2)


def rebuilds(bench: Bench) -> Iterator[Line | Missing]:
    """A build, then again after nothing or one thing changed, then one with more daily rates."""
    yard = bench.scratch / "changing"
    shutil.copytree(bench.yard, yard)
    full = bench.build(yard, "changed")
    yield Line("build", full.cpu, SECONDS)
    yield Line("build, wall", full.wall, SECONDS)
    memory = Line("build, peak memory", full.memory, BYTES, "at most", 400e6)
    yield memory.aimed_if(bench.size == "M")
    help = quickest(3, *quoter("--help")).cpu
    again = bench.build(yard, "changed")
    yield Line("nothing changed, over --help", again.cpu - help, SECONDS, "at most", 0.3)
    for what, most in (("label", 0.15), ("note", 0.1), ("price", 0.6)):
        before = _digests(bench.scratch / "changed")
        change(yard, what)
        cost = bench.build(yard, "changed")
        told = _rewritten(before, _digests(bench.scratch / "changed"))
        yield Line(
            f"one {what} changed, over a build", cost.cpu / full.cpu, TIMES, "at most", most, told
        )
    add_daily_rates(yard, 30)
    dated = bench.build(yard)
    yield Line("thirty daily rates more, over a build", dated.cpu / full.cpu, TIMES, "at most", 1.1)
    yield Line("the same, peak memory", dated.memory / full.memory, TIMES, "at most", 1.1)


def _digests(folder: Path) -> dict[str, str]:
    """Each file of a folder by its path there."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _rewritten(before: dict[str, str], after: dict[str, str]) -> str:
    """How many files of each kind have other bytes now."""
    other = [path for path, digest in after.items() if before.get(path) != digest]
    kinds = {"public": "site/", "workbooks": "internal/workbooks/"}
    told = [
        f"{sum(path.startswith(start) for path in other)} of "
        f"{sum(path.startswith(start) for path in after)} {kind}"
        for kind, start in kinds.items()
    ]
    return f"other bytes: {', '.join(told)}"


def workers(bench: Bench) -> Iterator[Line | Missing]:
    """A build on two cores over the same on one."""
    if "--workers" not in run(*quoter("build", "--help")).said:
        yield Missing("two cores over one, wall", "a build has no --workers")
        return
    found = []
    for count in ("1", "2"):
        shutil.rmtree(bench.scratch / f"on_{count}", ignore_errors=True)
        cost = bench.build(bench.yard, f"on_{count}", "--workers", count)
        found.append((cost.wall, _digests(bench.scratch / f"on_{count}")))
    (one, plain), (two, forked) = found
    told = "same bytes" if plain == forked else "OTHER BYTES"
    yield Line("two cores over one, wall", one / two, TIMES, "at least", 1.7, told)


def page_size(bench: Bench) -> Iterator[Line | Missing]:
    """Bytes of one model's public page as the yard grows by other models."""
    sizes = {}
    for models in PAGES_OF:
        yard = bench.yard_of(f"{models}_models", Size(models, OPTIONS_EACH))
        sizes[models] = elsewhere("stages:page", yard, "open_68")["page"]
        yield Line(f"a model's page, of {models} models", sizes[models], BYTES)
    least, most = sizes[PAGES_OF[0]], sizes[PAGES_OF[-1]]
    name = f"a model's page, {PAGES_OF[-1]} models over {PAGES_OF[0]}"
    yield Line(name, most / least, TIMES, "at most", 1.0)


def growth(bench: Bench) -> Iterator[Line | Missing]:
    """Time over start-up and memory of a build, of twice as much over once."""
    start_up = importing()
    for what, sizes in NEEDED_TWICE.items():
        yards = [
            bench.yard_of(f"{size.models}x{size.options}", Size(size.models, size.options))
            for size in sizes
        ]
        yield from _twice(bench, what, yards, start_up)
    yards = [
        bench.yard_of(f"{len(languages)}_languages", "S", languages) for languages in LANGUAGES
    ]
    yield from _twice(bench, "languages of a market", yards, start_up)
    yards = [bench.yard_of(f"{days}_days", "S") for days in DAYS]
    for yard, days in zip(yards, DAYS, strict=True):
        add_daily_rates(yard, days)
    yield from _twice(bench, "days of rates", yards, start_up)
    yards = [bench.yard_of(f"{times}_times_booked", "S") for times in BOOKED]
    for yard, times in zip(yards, BOOKED, strict=True):
        book_again(yard, times)
    yield from _twice(bench, "rows booked", yards, start_up)


def _twice(bench: Bench, what: str, yards: list[Path], start_up: float) -> Iterator[Line]:
    once, twice = (bench.build(yard) for yard in yards)
    time = (twice.cpu - start_up) / (once.cpu - start_up)
    yield Line(f"twice the {what}: time", time, TIMES, "at most", 2)
    yield Line(f"twice the {what}: memory", twice.memory / once.memory, TIMES, "at most", 2)


def preview(bench: Bench) -> Iterator[Line | Missing]:
    """The first page of a preview, and the page looked at after somebody saved a price."""
    changed = bench.scratch / "previewed"
    shutil.copytree(bench.yard, changed)
    change(changed, "price")
    found = elsewhere("stages:preview", bench.yard, changed)
    yield Line("preview: reading", found["reading"], SECONDS)
    yield Line("preview: first page over reading", found["first page"], SECONDS, "at most", 1)
    yield Line("preview: page after a change", found["after a change"], SECONDS, "at most", 0.5)
