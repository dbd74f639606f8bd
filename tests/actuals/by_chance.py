"""Jobs and rows made up by chance, booked at random levels: what laws are tried on."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals
from tests.actuals.cases import Row, booked_in, priced_on
from tests.catalogues.written import FOLDER, write_catalogue

DAY = date(2026, 6, 30)
FIRST = date(2026, 2, 2)
# Options without a credit: what these boats draw on is then what their options do, and their own.
CHOICES = {"dinghy": ("bench", "locker"), "launch": ("bench",), "dream": ("bench",)}
PARTS = {"tray": 3, "cover": 2, "bench": 1, "locker": 1}  # operations of each
STATIONS = ("moulding", "machining", "fitting")
WAGES = """\
date,group,wage,note
2026-01-01,hands,20 EUR/h,
2026-01-01,fitters,24 EUR/h,
2026-03-10,hands,21 EUR/h,
2026-04-01,fitters,25.5 EUR/h,
"""


@dataclass
class Tables:
    """Tables of what was booked, made up by chance."""

    rows: dict[str, list[Row]] = field(default_factory=dict)

    def add(self, kind: str, /, **row: object) -> None:
        rows = self.rows.setdefault(kind, [])
        number = f"{kind}-{len(rows)}"
        rows.append(row if kind == "jobs" else {"reference": number, **row})


def yard_of_chance(folder: Path) -> Path:
    """The year's catalogue with wages that rise, so that rows of a job have several rates."""
    return write_catalogue(folder, {"wages.csv": WAGES}, base=FOLDER / "year")


def jobs_by_chance(draw: random.Random, tables: Tables) -> None:
    for number in range(draw.randint(1, 4)):
        model = draw.choice([*CHOICES])
        chosen = [f"{id} x 1" for id in CHOICES[model] if draw.random() < 0.7]
        started = FIRST + timedelta(days=draw.randint(0, 60))
        finished = started + timedelta(days=draw.randint(0, 60))
        tables.add(
            "jobs",
            job=f"J-{number}",
            model=model,
            options="; ".join(chosen),
            boats=draw.randint(1, 3),
            started=started,
            finished=finished if draw.random() < 0.8 else "",
        )


def hours_by_chance(draw: random.Random, tables: Tables, *, pools: bool) -> None:
    """Rows of each job at its own level, of some not at all; and rows of no job."""
    told = draw.choice(["", "no", "mixed"])
    for job in [*tables.rows["jobs"], *([None] * 2 if pools else [])]:
        level = draw.choice(["none", "station", "part", "operation", "mixed"])
        for _ in range(0 if level == "none" else draw.randint(1, 40)):
            fine = level if level != "mixed" else draw.choice(["station", "part", "operation"])
            part = draw.choice([*PARTS])
            row: dict[str, object] = {
                "date": FIRST + timedelta(days=draw.randint(0, 140)),
                "job": "" if job is None else job["job"],
                "hours": f"{draw.uniform(0.05, 24):.3f} h",
                "rework": draw.choice(["yes", "no"]) if told == "mixed" else told,
                "group": draw.choice(["", "", "hands", "fitters"]),
                "wage": draw.choice(["", "", f"{draw.uniform(15, 40):.2f} EUR/h"]),
            }
            if fine == "operation" and part in ("tray", "cover", "bench", "locker"):
                row |= {"part": part, "operation": draw.randint(1, PARTS[part])}
            elif fine == "part":
                row |= {"part": part, "station": draw.choice(STATIONS)}
            else:
                row |= {"station": draw.choice(STATIONS)}
            if job is None and fine != "station" and draw.random() < 0.5:
                row = {k: v for k, v in row.items() if k not in ("part", "operation")}
                row["station"] = draw.choice(STATIONS)
            tables.add("hours", **row)


def pulls_by_chance(draw: random.Random, tables: Tables) -> None:
    for _ in range(draw.randint(0, 8)):
        job = draw.choice([*(str(job["job"]) for job in tables.rows["jobs"]), ""])
        tables.add(
            "pulls",
            date=FIRST + timedelta(days=draw.randint(0, 140)),
            part=draw.choice(["tray", "cover"]),
            job=job,
            good=draw.randint(0, 6),
            scrapped=draw.randint(0, 3),
        )


def overhead_by_chance(draw: random.Random, tables: Tables) -> None:
    for month in ("2026-02", "2026-03", "2026-05"):
        for station in STATIONS:
            for kind in ("variable", "fixed"):
                if draw.random() < 0.5:
                    amount = f"{draw.uniform(0, 900):.2f} EUR"
                    tables.add("overhead", month=month, station=station, kind=kind, spent=amount)


def booked_by_chance(seed: int, *, pulls: bool = True, pools: bool = True) -> Tables:
    draw, tables = random.Random(seed), Tables()
    jobs_by_chance(draw, tables)
    hours_by_chance(draw, tables, pools=pools)
    if pulls:
        pulls_by_chance(draw, tables)
    overhead_by_chance(draw, tables)
    return tables


def held(yard: Path, tables: Tables) -> Actuals:
    pricing = priced_on(yard, DAY)
    return compare(pricing, booked_in(pricing, yard, tables.rows, sound=False))
