"""A yard whose work takes what one catalogue says, and whose standards are those of another.

Hours are booked by operation, each as the true catalogue has it times log-normal noise; then the
other catalogue is held against them as the commands do it.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np

from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals
from quoter.actuals.standards import Recipes, job_standards
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


def booked(of: Yard, jobs: int, noise: float, seed: int, stray: float = 1.0) -> Actuals:
    """So many jobs, booked with noise; the first hours of every tenth job are `stray` times so."""
    random = np.random.default_rng(seed)
    rows = [("job", "model", "options", "started", "finished")]
    for number in range(jobs):
        start = FIRST + timedelta(days=7 * number)
        words = JOBS[number % len(JOBS)], str(start), str(start + timedelta(days=4))
        rows.append((f"T-{number + 1}", "cutter", *words))
    _write(of.folder / "actuals" / "jobs.csv", rows)
    _write(of.folder / "actuals" / "hours.csv", [HEAD])
    lines = read_booked(of.folder, of.standards.catalogue.records, Problems()).jobs
    hours = [HEAD]
    for job in job_standards(Recipes(of.true, None), lines, Problems()).values():
        far = stray
        for work in job.standard.works:
            if not work.operation:
                continue
            took = work.hours.value * math.exp(noise * random.standard_normal()) * far
            far = 1.0 if len(hours) % 7 else stray
            day = str(job.row.started + timedelta(days=1))
            reference = f"H-{len(hours)}"
            hours.append((reference, day, job.number, work.part.partition(".")[2],
                          str(work.operation),
                          f"{took:.6f} h", "no"))  # fmt: skip
    _write(of.folder / "actuals" / "hours.csv", hours)
    return read(of)


def read(of: Yard) -> Actuals:
    """What stands in the tables, compared."""
    problems = Problems()
    rows = read_booked(of.folder, of.standards.catalogue.records, problems)
    problems.stop_if_any()
    return compare(of.standards, rows, of.folder)


HEAD = ("reference", "date", "job", "part", "operation", "hours", "rework")


def _write(file: Path, rows: Sequence[Sequence[str]]) -> None:
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows(rows)


__all__ = ["Yard", "booked", "cache", "edited", "read", "yard"]
