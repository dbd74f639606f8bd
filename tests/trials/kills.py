"""Every command that writes, killed at any moment: nothing is lost, doubled, halved or left lying.

Twice: a run whose every step on the disk is looked at as a kill before that step would leave it,
and real processes that are killed at random. A killed process leaves what stands on the disk, since
the system has its files and drops its locks; what it had not handed over yet is gone.
"""

from __future__ import annotations

import atexit
import os
import random
import shutil
import stat
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from quoter.cli import main
from quoter.quotes.checking import check_archive
from tests.catalogues.written import write_catalogue
from tests.quotes.processes import started
from tests.trials.trial import Trial, Tried

SMALL = Path(__file__).parents[1] / "catalogues" / "small"
Tree = dict[str, bytes]
STEPS = {
    *("os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod", "os.truncate", "os.link"),
    *("os.symlink", "os.utime"),
}


@dataclass(frozen=True, slots=True)
class Act:
    """A command, its words within a folder, and whether it writes several files one by one."""

    name: str
    words: tuple[str, ...]
    several: bool = False

    def within(self, root: Path) -> list[str]:
        """The words with the folder's own files for names in braces."""
        return [word.format(root=root) for word in self.words]


RISE = ("rise", "{root}/yard", "--supplier", "brisk", "--family", "polyester", "--by", "4 %")
ACTS = (
    Act(
        "import-prices",
        (
            *("import-prices", "{root}/yard", "{root}/prices.csv", "--supplier", "brisk"),
            *("--effective", "2026-03-01"),
        ),
    ),
    Act(
        "import-rates",
        ("import-rates", "{root}/yard", "{root}/rates.csv", "--effective", "2026-03-01"),
    ),
    Act(
        "rise",
        (
            *(*RISE, "--effective", "2026-03-01", "--state", "confirmed"),
            *("--dated", "2026-02-10", "--note", "letter"),
        ),
        several=True,
    ),
    Act(
        "reprice",
        ("reprice", "{root}/yard", "--accept", "--meant", "--effective", "2026-03-01"),
    ),
    Act(
        "quote",
        (
            *("quote", "{root}/yard", "{root}/request.yaml", "--quotes", "{root}/quotes"),
            "--even-so",  # a quote of the same request is open
        ),
    ),
    Act(
        "requote",
        (
            *("requote", "{root}/yard", "2026-0001", "--on", "2026-02-20", "--revise"),
            *("--quotes", "{root}/quotes"),
        ),
    ),
    Act(
        "outcome",
        (
            *("outcome", "2026-0001", "won", "--on", "2026-02-20", "--reason", "=the roof"),
            *("--quotes", "{root}/quotes"),
        ),
    ),
    Act(
        "outcome-sent",
        (
            *("outcome", "2026-0001", "sent", "--on", "2026-02-12", "--chance", "60 %"),
            *("--quotes", "{root}/quotes"),
        ),
    ),
    Act("translations", ("translations", "{root}/yard"), several=True),
)

QUOTES = """
rate_file:
  headings: {date: Date}
  quoted: foreign per home
quotes:
  valid_for: 30
  payment: [Ten days after its invoice.]
  deposits: [{due: with the order, share: 100 %}]
  delivery: {term: EXW, named_place: Sundby, edition: Incoterms 2020}
  schemes: [{id: domestic, charged: yes}]
"""
SUPPLIER = "{id: brisk, name: Brisk Chemicals Wholesale, currency: EUR, freight: 2 %}\n"
LISTED = """id: brisk
    name: Brisk Chemicals Wholesale
    currency: EUR
    freight: 2 %
    price_file:
      headings: {code: Code, price: Price}
      per: kg
      codes:
        - {code: B-1, material: mat}
        - {code: B-2, material: hand_resin}
        - {code: B-3, material: injection_resin}
"""
REQUEST = """date: 2026-02-10
prepared_by: Ilsabet Harrow
market: home
buyer: direct
model: skiff
customer: {name: Mirelle Astrup}
"""


@cache
def template() -> Path:
    """A small yard that every command finds something to do in, and a quote of it."""
    root = Path(tempfile.mkdtemp(prefix="killed."))
    atexit.register(shutil.rmtree, root)
    yard = (SMALL / "yard.yaml").read_text("utf-8")
    rounding = "  rounding: {step: 5 EUR, direction: up}\n"
    assert rounding in yard
    assert "prices: without tax}" in yard
    yard = yard.replace(
        rounding, rounding + "  repricing: {hold_within: 2 %, largest_step: 30 %}\n"
    )
    yard = yard.replace("Abroad, language: en", "Abroad, language: de, other_languages: [fr, nb]")
    materials = (SMALL / "materials.yaml").read_text("utf-8")
    for name in ("Hand resin", "Injection resin"):
        assert materials.count(f"    name: {name}\n") == 1
        materials = materials.replace(
            f"    name: {name}\n", f"    name: {name}\n    family: polyester\n"
        )
    files = {"yard.yaml": yard + QUOTES, "materials.yaml": materials}
    write_catalogue(root / "yard", files, {"suppliers.yaml": (SUPPLIER, LISTED)}, base=SMALL)
    (root / "prices.csv").write_text("Code,Price\nB-1,2.70\nB-2,3.45\nB-3,3.90\n", "utf-8")
    (root / "rates.csv").write_text("Date,GBP\n2026-02-28,0.87\n2026-03-01,0.88\n", "utf-8")
    (root / "request.yaml").write_text(REQUEST, "utf-8")
    quote = next(act for act in ACTS if act.name == "quote")
    if ran(quote, root):
        raise ValueError("the yard of the trial can't make a quote")
    return root


def ran(act: Act, root: Path) -> int:
    """Run a command to its end within this process; its exit code."""
    result = CliRunner().invoke(main, act.within(root))
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code


def tree(root: Path) -> Tree:
    """Every file that a person sees, by its place."""
    found = everything(root).items()
    return {name: content for name, content in found if not hidden(name) and name[-1] != "/"}


def everything(root: Path) -> Tree:
    """Every file, and every empty folder with a stroke behind it."""
    paths = sorted(root.rglob("*"))
    empty = [path for path in paths if path.is_dir() and not any(path.iterdir())]
    files = {path.relative_to(root).as_posix(): path for path in paths if path.is_file()}
    return {name: path.read_bytes() for name, path in files.items()} | {
        f"{path.relative_to(root).as_posix()}/": b"" for path in empty
    }


def hidden(name: str) -> bool:
    return any(part.startswith(".") for part in Path(name).parts)


@contextmanager
def watched(folder: Path) -> Iterator[Path]:
    """Have this process put its temporary files into a folder of its own."""
    before = tempfile.tempdir
    folder.mkdir(exist_ok=True)
    tempfile.tempdir = str(folder)
    try:
        yield folder
    finally:
        tempfile.tempdir = before


@dataclass(frozen=True, slots=True)
class Expected:
    """What a command makes of the template: before it, after it, and after it ran once more."""

    before: Tree
    after: Tree
    again: Tree
    lasting: frozenset[str]  # hidden files that stay, such as the lock


@cache
def expected(act: Act) -> Expected:
    with tempfile.TemporaryDirectory() as kept:
        root = shutil.copytree(template(), Path(kept) / "root")
        before = tree(root)
        if ran(act, root):
            raise ValueError(f"{act.name} does not do what it is tried with")
        after = tree(root)
        if after == before:
            raise ValueError(f"{act.name} finds nothing to do")
        ran(act, root)
        lasting = frozenset(name for name in everything(root) if hidden(name))
        return Expected(before, after, tree(root), lasting)


def judge(act: Act, root: Path, temporary: Path, when: str, tried: Tried) -> None:
    """Look at what a killed run left, run the command once more, and look again."""
    want, left = expected(act), tree(root)
    told = f"{act.name} killed {when}"
    partly = [
        name
        for name in {*left, *want.before, *want.after}
        if left.get(name) not in (want.before.get(name), want.after.get(name))
    ]
    tried.expect(not partly, f"{told}: {', '.join(sorted(partly))} is neither old nor new")
    whole = left in (want.before, want.after)
    tried.expect(whole or act.several, f"{told}: some files are old and some are new")
    strays = sorted(path.name for path in temporary.iterdir())
    tried.expect(not strays, f"{told}: {', '.join(strays)} is left in the temporary folder")
    ran(act, root)
    if whole:
        made = want.after if left == want.before else want.again
        tried.expect(tree(root) == made, f"{told}: the next run does not go on from there")
    else:
        mended = tree(root) in (want.after, want.again)
        tried.expect(mended, f"{told}: the next run does not mend it")
    debris = [name for name in everything(root) if hidden(name) and name not in want.lasting]
    tried.expect(not debris, f"{told}: {', '.join(debris)} is left after the next run")
    faults = check_archive(root / "quotes").faults
    tried.expect(not faults, f"{told}: {'; '.join(faults)}")


# Every step


def act_and_copy(words: list[str], root: Path, temporary: Path, states: Path) -> None:
    """Run a command, and copy what stands on the disk before every step it takes there.

    What is being written when it is handed to the disk is copied by half.
    """
    count, busy, real = 0, False, os.fsync

    def copy(half: str = "") -> None:
        nonlocal count, busy
        busy = True
        state = states / f"{count:04}"
        shutil.copytree(root, state / "root", symlinks=True)
        shutil.copytree(temporary, state / "temporary", symlinks=True)
        if half.startswith(f"{root}{os.sep}"):
            written = state / "root" / Path(half).relative_to(root)
            os.truncate(written, written.stat().st_size // 2)
        count, busy = count + 1, False

    def step(event: str, words: tuple[Any, ...]) -> None:
        if busy or not words or not isinstance(words[0], str | bytes | os.PathLike):
            return
        if event == "open":
            _, mode, flags = words
            writes = any(letter in "wax+" for letter in mode or "") or (
                mode is None and flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
            )
        else:
            writes = event in STEPS
        path = os.fsdecode(words[0])
        if writes and path.startswith((str(root), str(temporary))):
            copy()

    def fsync(fd: Any) -> None:
        handle = fd if isinstance(fd, int) else fd.fileno()
        file = str(Path(f"/proc/self/fd/{handle}").readlink())
        copy(file if stat.S_ISREG(os.fstat(handle).st_mode) else "")
        real(fd)

    tempfile.tempdir = str(temporary)
    os.fsync = fsync
    sys.addaudithook(step)
    CliRunner().invoke(main, words)


def walk(act: Act, tried: Tried, every: int = 1) -> None:
    """Judge what a kill before each step of a command would leave; like states once.

    Args:
        act: the command
        tried: what comes of it
        every: how many unlike states one is judged of
    """
    with tempfile.TemporaryDirectory() as kept:
        place = Path(kept).resolve()
        root = shutil.copytree(template(), place / "root")
        states = place / "states"
        for folder in (states, place / "temporary"):
            folder.mkdir()
        child = started(act_and_copy, act.within(root), root, place / "temporary", states)
        child.join()
        tried.expect(child.exitcode == 0, f"{act.name} ended with {child.exitcode}")
        seen: list[tuple[Tree, Tree]] = []
        for number, state in enumerate(sorted(states.iterdir())):
            found = everything(state / "root"), everything(state / "temporary")
            if found in seen:
                continue
            seen.append(found)
            if len(seen) % every:
                continue
            with watched(place / "next"):
                when = f"before its step {number}"
                judge(act, state / "root", state / "temporary", when, tried)
            shutil.rmtree(state)


def every_step(every: int) -> Tried:
    """Walk through every command."""
    tried = Tried()
    for act in ACTS:
        walk(act, tried, every)
    return tried


# At random


def acting(words: list[str], temporary: Path) -> None:
    """Run a command, as a process of its own."""
    tempfile.tempdir = str(temporary)
    CliRunner().invoke(main, words)


def killed(act: Act, moment: float, place: Path) -> tuple[Path, Path]:
    """What a run leaves that is killed some seconds after its start."""
    root, temporary = shutil.copytree(template(), place / "root"), place / "temporary"
    temporary.mkdir()
    child = started(acting, act.within(root), temporary)
    child.join(moment)
    child.kill()
    child.join()
    return root, temporary


def at_random(count: int) -> Tried:
    """Kill each command so many times, at moments of its run."""
    tried, chance = Tried(), random.Random(20261110)
    for act in ACTS:
        with tempfile.TemporaryDirectory() as kept:
            start = time.monotonic()
            killed(act, 600.0, Path(kept).resolve())
            span = time.monotonic() - start
        for _ in range(count):
            moment = chance.uniform(0, span)
            with tempfile.TemporaryDirectory() as kept:
                place = Path(kept).resolve()
                root, temporary = killed(act, moment, place)
                with watched(place / "next"):
                    judge(act, root, temporary, f"after {moment:.3f} s", tried)
    return tried


TRIALS = (
    Trial(
        "killed-at-every-step",
        "Each writing command as a kill before each of its steps on the disk leaves it.",
        every_step,
        short=3,
        long=1,
    ),
    Trial(
        "killed-at-random",
        "Each writing command, killed at random moments of its run.",
        at_random,
        short=1,
        long=200,
    ),
)
