"""Catalogues changed at random: a task that would be spared would have made the same files."""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from quoter.catalogue.source import Text
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError
from quoter.tasks import Made, Task, Work
from quoter.workbook.limits import LimitError
from tests.demo import DEMO
from tests.trials.trial import Trial, Tried
from tests.trials.values import DAY, NUMBER, Change, values_of, written, yard

FACTORS = ("0", "0.5", "0.99", "1.02", "1.5", "3")


@dataclass(frozen=True)
class Build:
    """A catalogue's tasks: what each rests on, and what it makes when it is asked for."""

    work: Work
    keys: Mapping[Task, str]

    def made(self, task: Task) -> tuple[Mapping[str, bytes], Mapping[str, bytes]]:
        made: Made = self.work.do(task)
        return made.public, made.internal


def build_of(folder: Path) -> Build | None:
    """The tasks of a catalogue; None for one that is refused."""
    try:
        pricing, warnings = price_catalogue(folder)
        work = Work(folder, pricing, warnings, published=True)
        return Build(work, {task: work.key(task) for task in work.tasks()})
    except CatalogueError:
        return None


def changes_of(
    text: Text, others: Mapping[str, list[str]], draw: random.Random
) -> Iterator[Change]:
    """What somebody may write in the place of a value: a little more, another name, another id."""
    old = str(text)
    if DAY.match(old):
        yield Change(text.place, old, draw.choice(["2026-01-01", "2026-10-15", "2026-11-02"]))
    elif found := NUMBER.match(old):
        number = float(found[0]) * float(draw.choice(FACTORS))
        yield Change(text.place, old, f"{number:.6g}{old[found.end() :]}")
    else:
        yield Change(text.place, old, f"{old} changed")
        yield Change(text.place, old, draw.choice(others[text.place.key.rpartition(".")[2]]))


def drawn(folder: Path, draw: random.Random) -> Iterator[Change]:
    """Changes of one value each, without end, half of them of what single boats are made of."""
    texts = list(values_of(folder))
    others: dict[str, list[str]] = {}
    for text in texts:
        others.setdefault(text.place.key.rpartition(".")[2], []).append(str(text))
    of_boats = [t for t in texts if t.place.file in ("options.yaml", "models.yaml", "parts.yaml")]
    while True:
        yield from changes_of(draw.choice(draw.choice([texts, of_boats])), others, draw)


def tasks_are_spared_only_where_they_would_make_the_same(
    count: int, given: Path | None = None
) -> Tried:
    """Compare, after each of so many changes, what every task that would be spared makes."""
    tried, draw = Tried(), random.Random(11)
    with TemporaryDirectory() as kept:
        folder = yard(Path(kept))[0] if given is None else Path(kept, "yard")
        if given is not None:
            shutil.copytree(given, folder)
        first = build_of(folder)
        assert first is not None
        before = {task: first.made(task) for task in first.keys}
        for change in drawn(folder, draw):
            if tried.count >= count:
                return tried
            path = folder / change.place.file
            content = path.read_bytes()
            if written(folder, change) and (now := build_of(folder)) is not None:
                spared = [task for task, key in now.keys.items() if first.keys.get(task) == key]
                for task in spared:
                    try:
                        same = now.made(task) == before[task]
                    except (CatalogueError, LimitError) as fault:
                        same, change = False, Change(change.place, change.old, f"{fault}")
                    tried.expect(same, f"{task} would be spared after {change}")
            path.write_bytes(content)
    raise AssertionError("changes are without end")


TRIALS = (
    Trial(
        "spared-tasks",
        "tasks that rest on the same after a change make the same files",
        tasks_are_spared_only_where_they_would_make_the_same,
        short=40,
        long=10_000,
    ),
    Trial(
        "spared-tasks-demo",
        "the same of the demonstration",
        partial(tasks_are_spared_only_where_they_would_make_the_same, given=DEMO),
        short=1,
        long=2_000,
    ),
)
