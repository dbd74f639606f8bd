"""What always holds of actual against standard, on random jobs and rows booked at random levels.

It holds of rows that the checks of the tables would refuse, too, such as those outside their job.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals, Compared
from quoter.costing.assembly import in_building_order
from quoter.costing.draws import Draw, draws_of
from quoter.figures import constant
from quoter.pricing.built import built
from quoter.pricing.price import Pricing
from tests.actuals.cases import Row, booked_in, priced_on
from tests.catalogues.written import FOLDER, write_catalogue

CLOSE = 1e-9  # relative
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


@pytest.fixture(scope="session")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The year's catalogue with wages that rise, so that rows of a job have several rates."""
    folder = tmp_path_factory.mktemp("laws") / "c"
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


def scale(compared: Compared) -> float:
    return max(1.0, abs(compared.actual.value), abs(compared.standard.value))


@given(seed=st.integers(0, 2**32))
@settings(max_examples=50, deadline=None)
def test_variances_add_up_to_actual_less_standard(yard: Path, seed: int) -> None:
    actuals = held(yard, booked_by_chance(seed))
    for one in actuals.compared:
        lines = sum(line.amount.value for line in one.lines)
        difference = one.actual.value - one.standard.value
        assert abs(lines - difference) <= CLOSE * scale(one), one.scope
    every = sum(one.actual.value - one.standard.value for one in actuals.compared)
    size = sum(map(scale, actuals.compared))
    assert abs(sum(line.amount.value for line in actuals.lines) - every) <= CLOSE * max(1.0, size)


@given(seed=st.integers(0, 2**32))
@settings(max_examples=25, deadline=None)
def test_no_hour_is_lost_or_compared_twice(yard: Path, seed: int) -> None:
    """All hours that were booked on a station are compared, whatever level they are booked at."""
    tables = booked_by_chance(seed)
    pricing = priced_on(yard, DAY)
    booked = booked_in(pricing, yard, tables.rows, sound=False)
    actuals = compare(pricing, booked)
    compared = [one for one in actuals.compared if one.scope.resource.startswith("labour.")]
    places = Counter(place for one in compared for place in one.rows)
    began = {str(row.job) for row in booked.jobs if row.started <= DAY}
    expected = {
        row.place
        for row in booked.hours
        if row.date <= DAY and (row.job is None or str(row.job) in began)
    }
    assert set(places) == expected
    assert set(places.values()) <= {1}


def drawn(pricing: Pricing, model: str, chosen: tuple[str, ...]) -> dict[str, float]:
    """Hours of one boat by station, as the plan of a year draws on them."""
    priced = pricing.models[model]
    ids = [*chosen, *map(str, priced.model.standard)]
    boat = built(pricing, priced, dict.fromkeys(chosen, 1))
    bare = next(m.assembly for m in reversed(in_building_order(boat.whole)))
    stated = {str(station): hours.value for station, hours in bare.recipe.stated.hours.items()}
    for id in ids:
        draws = draws_of(priced.options[id].assembly, {})
        for station in STATIONS:
            amount = draws.get(Draw("hours", station), constant(0.0, "h")).value
            stated[station] = stated.get(station, 0.0) + amount
    return stated


@given(seed=st.integers(0, 2**32))
@settings(max_examples=25, deadline=None)
def test_standards_compared_and_unbooked_are_all_that_finished_jobs_should_have_taken(
    yard: Path, seed: int
) -> None:
    """Each hour of a standard is held against rows once, or told as unbooked."""
    tables = booked_by_chance(seed, pulls=False)
    actuals = held(yard, tables)
    for station in STATIONS:
        resource = f"labour.{station}"
        finished = {number for number, job in actuals.jobs.items() if not job.open}
        last = max((str(actuals.jobs[number].row.finished)[:7] for number in finished), default="")
        compared = sum(
            one.standard_quantity.value
            for one in actuals.compared
            if one.scope.resource == resource
            and (one.scope.job in finished or not one.scope.job)
            # What was booked after the last was finished is for jobs at work, at standard.
            and (one.scope.level != "station" or one.scope.month <= last)
            and one.standard_quantity is not None
        )
        compared += sum(
            one.quantity.value for one in actuals.unbooked if one.scope.resource == resource
        )
        expected = 0.0
        for number in finished:
            row = actuals.jobs[number].row
            chosen = tuple(id for id in CHOICES[str(row.model)] if id in str(row.options or ""))
            of_boat = drawn(actuals.pricing, str(row.model), chosen)
            expected += of_boat.get(station, 0.0) * actuals.jobs[number].boats
        assert compared == pytest.approx(expected, rel=CLOSE, abs=1e-9), station


def numbers(actuals: Actuals) -> dict[object, list[float]]:
    """All that is compared, by its scope; variances by kind."""
    found: dict[object, list[float]] = {
        one.scope: [one.actual.value, one.standard.value]
        + [line.amount.value for line in sorted(one.lines, key=lambda line: line.kind)]
        for one in actuals.compared
    }
    found |= {
        ("unbooked", one.scope): [one.quantity.value, one.standard.value]
        for one in actuals.unbooked
    }
    return found


@given(seed=st.integers(0, 2**32))
@settings(max_examples=15, deadline=None)
def test_the_order_of_rows_moves_nothing(yard: Path, seed: int) -> None:
    tables = booked_by_chance(seed)
    before = held(yard, tables)
    shuffled = Tables({kind: [*rows] for kind, rows in tables.rows.items()})
    for rows in shuffled.rows.values():
        random.Random(seed).shuffle(rows)
    after = held(yard, shuffled)
    found = numbers(after)
    assert found.keys() == numbers(before).keys()
    for scope, told in numbers(before).items():
        assert found[scope] == pytest.approx(told, rel=1e-12, abs=1e-9), scope
    assert after.months == before.months


@given(seed=st.integers(0, 2**32))
@settings(max_examples=15, deadline=None)
def test_a_row_split_in_two_moves_no_total(yard: Path, seed: int) -> None:
    tables = booked_by_chance(seed)
    before = numbers(held(yard, tables))
    rows = tables.rows.get("hours", [])
    if not rows:
        return
    at = random.Random(seed).randrange(len(rows))
    hours = float(str(rows[at]["hours"]).removesuffix(" h"))
    split = [
        {**rows[at], "hours": f"{part!r} h", "reference": f"{rows[at]['reference']}-{n}"}
        for n, part in enumerate((hours * 0.25, hours * 0.75))
    ]
    after = numbers(
        held(yard, Tables({**tables.rows, "hours": [*rows[:at], *split, *rows[at + 1 :]]}))
    )
    assert after.keys() == before.keys()
    for scope, told in before.items():
        assert after[scope] == pytest.approx(told, rel=CLOSE, abs=1e-7), scope
