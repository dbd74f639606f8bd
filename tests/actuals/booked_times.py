"""A yard whose work takes what one catalogue says, and whose standards are those of another.

Hours are booked by operation, each as the true catalogue has it times log-normal noise; then the
other catalogue is held against them as the commands do it.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals
from quoter.actuals.standards import Recipes, Work, job_standards
from quoter.catalogue.booked_files import read_booked
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import Problems
from tests.catalogues.written import write_catalogue

SMALL = Path(__file__).resolve().parent.parent / "catalogues" / "small"
FIRST, DAY = date(2026, 3, 2), date(2026, 12, 31)
# Boats state hours at a station of their own, so that all work elsewhere is built up of operations.
UNSTATED = {
    "models.yaml": {
        "hours: {laminating: 62 h, assembly: 48 h}": "hours: {hulls: 110 h}",
        "hours: {laminating: 190 h, assembly: 260 h}": "hours: {hulls: 450 h}",
    },
    "stations.yaml": {
        "stations:\n": """stations:
  - id: hulls
    name: Hulls
    wage_group: hands
    on_costs: 40 %
    efficiency: 100 %
    overhead: {base: labour hours, capacity: 2000 h, variable: 2000 EUR, fixed: 9000 EUR}
"""
    },
}
JOBS = ("side_door", "hatch x 2", "side_door; hatch", "side_door; box", "hatch")


@dataclass(frozen=True, slots=True)
class Yard:
    """Two catalogues: of the standards, and of what work really takes, each priced."""

    folder: Path
    standards: Pricing
    true: Pricing


def edited(folder: Path, changes: Mapping[str, Mapping[str, str]]) -> Path:
    """The small catalogue with hours stated apart, and some more texts changed."""
    write_catalogue(folder, {}, base=SMALL)
    for name, texts in {**UNSTATED, **changes}.items():
        text = (folder / name).read_text("utf-8")
        for old, new in {**UNSTATED.get(name, {}), **texts}.items():
            assert text.count(old) == 1, (name, old, text.count(old))
            text = text.replace(old, new)
        (folder / name).write_text(text, "utf-8")
    return folder


def yard(
    folder: Path, true: Mapping[str, Mapping[str, str]], shuffled: Mapping[str, Mapping[str, str]]
) -> Yard:
    """A yard by the texts of the small catalogue that are otherwise in truth, and by standard."""
    standards, really = edited(folder / "standards", shuffled), edited(folder / "true", true)
    (standards / "actuals").mkdir()
    return Yard(standards, price_catalogue(standards, DAY)[0], price_catalogue(really, DAY)[0])


@dataclass(frozen=True, slots=True)
class Floor:
    """How work goes: its noise, and what times are besides what the true catalogue has.

    `factor` of a work and of how many pieces of it were made before; `coarse` where hours are
    booked by job and station alone; `stray` multiplies the third row of every job.
    """

    jobs: int = 40
    noise: float = 0.08
    seed: int = 1
    stray: float = 1.0
    coarse: bool = False
    factor: Callable[[Work, int], float] = lambda work, before: 1.0


def booked(of: Yard, floor: Floor = Floor()) -> Actuals:
    """Jobs booked as they went, held against the yard's standards."""
    random = np.random.default_rng(floor.seed)
    jobs = [("job", "model", "options", "started", "finished")]
    for number in range(floor.jobs):
        start = FIRST + timedelta(days=7 * number)
        words = JOBS[number % len(JOBS)], str(start), str(start + timedelta(days=4))
        jobs.append((f"T-{number + 1}", "cutter", *words))
    write(of, "jobs", jobs)
    write(of, "hours", [HEAD])
    lines = read_booked(of.folder, of.standards.catalogue.records, Problems()).jobs
    hours, before = [HEAD], dict[tuple[str, int], int]()
    for job in job_standards(Recipes(of.true, None), lines, Problems()).values():
        works = [work for work in job.standard.works if work.operation]
        for number, work in enumerate(works):
            made = before.get((work.part, work.operation), 0)
            before[work.part, work.operation] = made + round(work.pieces.value)
            took = work.hours.value * math.exp(floor.noise * random.standard_normal())
            took *= floor.factor(work, made) * (floor.stray if number == 2 else 1.0)
            day = str(job.row.started + timedelta(days=1))
            part, operation = work.part.partition(".")[2], str(work.operation)
            where = ("", "", work.station) if floor.coarse else (part, operation, "")
            hours.append((f"H-{len(hours)}", day, job.number, *where, f"{took:.6f} h", "no"))
    write(of, "hours", hours)
    return read(of)


def read(of: Yard) -> Actuals:
    """What stands in the tables, compared."""
    problems = Problems()
    rows = read_booked(of.folder, of.standards.catalogue.records, problems)
    problems.stop_if_any()
    return compare(of.standards, rows, of.folder)


HEAD = ("reference", "date", "job", "part", "operation", "station", "hours", "rework")


def write(of: Yard, table: str, rows: Sequence[Sequence[str]]) -> None:
    """A table of a yard, its heads first."""
    with (of.folder / "actuals" / f"{table}.csv").open("w", encoding="utf-8", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows(rows)
