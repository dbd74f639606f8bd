"""What always holds of material against standard, on random jobs, purchases, issues and pulls."""

from __future__ import annotations

import random
from collections import Counter
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.actuals.after import after_calculations
from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals
from quoter.actuals.summaries import DIMENSIONS, summary_of
from quoter.catalogue.booked import Booked
from quoter.catalogue.booked_files import file_of, read_booked
from quoter.problems import Problems
from tests.actuals.cases import Row, priced_on, table
from tests.catalogues.written import FOLDER, write_catalogue

CLOSE = 1e-9  # relative
DAY = date(2026, 6, 30)
FIRST = date(2026, 2, 2)
# By model what can be chosen together, and the parts that its boats may have.
CHOICES = {"skiff": ["box", "green"], "cutter": ["side_door", "green", "box"]}
PARTS = ["block", "surround", "lid", "box", "side_door"]
# Some of it the boats state in money by class, some of it parts take by quantity.
MATERIALS = {
    "mat": ("kg", "EUR", 2.6),
    "hand_resin": ("kg", "EUR", 3.35),
    "injection_resin": ("kg", "EUR", 3.75),
    "green": ("kg", "GBP", 9.1),
    "foam_a": ("kg", "EUR", 5.4),
    "hinge": ("each", "EUR", 21.5),
    "cleat": ("each", "EUR", 17.3),
}
PRICES = """\
material,supplier,price,note
mat,brisk,2.95 EUR/kg,
green,morgat,8.70 GBP/kg,
hand_resin,brisk,3.60 EUR/kg,
"""
RATES = """\
date,currency,rate,note
2026-01-01,GBP,0.86 GBP/EUR,
2026-03-15,GBP,0.83 GBP/EUR,
"""
Tables = dict[str, list[Row]]


@pytest.fixture(scope="session")
def yards(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The small catalogue with prices and rates that move, by either rule of price variances."""
    folder = tmp_path_factory.mktemp("laws")
    files = {"prices/2026-03-20.csv": PRICES, "exchange.csv": RATES}
    use = write_catalogue(folder / "use", files, base=FOLDER / "small")
    rule = "  actuals: {price_variance: purchase}\ndealer_classes:"
    change = {"yard.yaml": ("dealer_classes:", rule)}
    return use, write_catalogue(folder / "purchase", files, change, base=FOLDER / "small")


def day_of(draw: random.Random) -> date:
    return FIRST + timedelta(days=draw.randint(0, 150))


def jobs_by_chance(draw: random.Random) -> list[Row]:
    rows: list[Row] = []
    for number in range(draw.randint(1, 4)):
        model, started = draw.choice([*CHOICES]), FIRST + timedelta(days=draw.randint(0, 60))
        chosen = [id for id in CHOICES[model] if draw.random() < 0.6]
        row: Row = {
            "job": f"J-{number}",
            "model": model,
            "options": "; ".join(chosen),
            "boats": draw.randint(1, 3),
            "started": started,
            "finished": started + timedelta(days=draw.randint(0, 60)) if number else "",
        }
        rows.append(row)
    return rows


def tables_by_chance(seed: int) -> Tables:
    draw = random.Random(seed)
    jobs = jobs_by_chance(draw)
    owners = [str(row["job"]) for row in jobs] + [""]
    issues: list[Row] = []
    for number in range(draw.randint(1, 60)):
        id = draw.choice([*MATERIALS])
        unit, _, price = MATERIALS[id]
        known = draw.random() < 0.3
        issues.append(
            {
                "reference": f"S-{number}",
                "date": day_of(draw),
                "kind": "return" if draw.random() < 0.15 else "issue",
                "job": draw.choice(owners),
                "part": draw.choice(["", "", *PARTS]),
                "material": id,
                "quantity": f"{draw.uniform(0.1, 40):.3f} {unit}",
                "price": f"{price * draw.uniform(0.7, 1.4):.3f} EUR/{unit}" if known else "",
            }
        )
    purchases: list[Row] = []
    for number in range(draw.randint(0, 12)):
        id = draw.choice([*MATERIALS])
        unit, currency, price = MATERIALS[id]
        foreign = currency != "EUR" and draw.random() < 0.6
        purchases.append(
            {
                "reference": f"I-{number}",
                "date": day_of(draw),
                "supplier": "brisk" if currency == "EUR" else "morgat",
                "material": id,
                "quantity": f"{draw.uniform(1, 900):.2f} {unit}",
                "price": f"{price * draw.uniform(0.7, 1.4):.3f} {currency}/{unit}",
                "freight": f"{draw.uniform(0, 90):.2f} {currency}" if draw.random() < 0.4 else "",
                "rate": f"{draw.uniform(0.7, 0.95):.4f} GBP/EUR" if foreign else "",
            }
        )
    pulls: list[Row] = []
    for number in range(draw.randint(0, 10)):
        good, part = draw.randint(0, 5), draw.choice(["block", "lid"])
        row: Row = {"reference": f"P-{number}", "date": day_of(draw), "part": part}
        pulls.append({**row, "job": "", "good": good, "scrapped": draw.randint(0, 3)})
    return {"jobs": jobs, "issues": issues, "purchases": purchases, "pulls": pulls}


def booked_of(yard: Path, tables: Tables) -> Booked:
    """Rows as they are read, also those that a check would send back: sums hold for any."""
    files = {file_of(kind): table(kind, rows) for kind, rows in tables.items() if rows}
    return read_booked(yard, priced_on(yard, DAY).catalogue.records, Problems(), files)


def held(yard: Path, tables: Tables) -> Actuals:
    return compare(priced_on(yard, DAY), booked_of(yard, tables))


@given(seed=st.integers(0, 2**32), rule=st.integers(0, 1))
@settings(max_examples=60, deadline=None)
def test_lines_add_up_to_actual_less_standard(
    yards: tuple[Path, Path], seed: int, rule: int
) -> None:
    actuals = held(yards[rule], tables_by_chance(seed))
    for one in actuals.compared:
        lines = sum(line.amount.value for line in one.lines)
        size = max(1.0, abs(one.actual.value), abs(one.standard.value))
        assert abs(lines - (one.actual.value - one.standard.value)) <= CLOSE * size, one.scope


@given(seed=st.integers(0, 2**32))
@settings(max_examples=60, deadline=None)
def test_no_issue_is_lost_or_compared_twice(yards: tuple[Path, Path], seed: int) -> None:
    tables = tables_by_chance(seed)
    pricing = priced_on(yards[0], DAY)
    booked = booked_of(yards[0], tables)
    actuals = compare(pricing, booked)
    places = Counter(place for one in actuals.compared for place in one.rows)
    began = {str(row.job) for row in booked.jobs if row.started <= DAY}
    expected = {
        row.place
        for row in booked.issues
        if row.date <= DAY and (row.job is None or str(row.job) in began)
    }
    assert {place for place in places if place.file == "actuals/issues.csv"} == expected
    assert set(places.values()) <= {1}


@given(seed=st.integers(0, 2**32))
@settings(max_examples=25, deadline=None)
def test_all_that_is_paid_for_is_in_the_actual_cost(yards: tuple[Path, Path], seed: int) -> None:
    """Where the store knows each price, actual cost is the sum of its rows, by hand."""
    tables = tables_by_chance(seed)
    rows: list[Row] = []
    for row in tables["issues"]:
        unit, _, price = MATERIALS[str(row["material"])]
        rows.append({**row, "price": row["price"] or f"{price} EUR/{unit}"})
    actuals = held(yards[0], {**tables, "issues": rows})
    paid = sum(
        float(str(row["quantity"]).split()[0])
        * float(str(row["price"]).split()[0])
        * (-1 if row["kind"] == "return" else 1)
        for row in rows
        if str(row["date"]) <= str(DAY)
    )
    material = sum(
        one.actual.value for one in actuals.compared if one.scope.resource.startswith("material.")
    )
    assert material == pytest.approx(paid, rel=CLOSE, abs=1e-6)


@given(seed=st.integers(0, 2**32))
@settings(max_examples=15, deadline=None)
def test_the_order_of_rows_moves_nothing(yards: tuple[Path, Path], seed: int) -> None:
    tables = tables_by_chance(seed)
    before = held(yards[0], tables)
    for rows in tables.values():
        random.Random(seed).shuffle(rows)
    after = held(yards[0], tables)
    found = {one.scope: (one.actual.value, one.standard.value) for one in after.compared}
    assert found.keys() == {one.scope for one in before.compared}
    for one in before.compared:
        told = one.actual.value, one.standard.value
        assert found[one.scope] == pytest.approx(told, rel=CLOSE, abs=1e-9)


@given(seed=st.integers(0, 2**32))
@settings(max_examples=15, deadline=None)
def test_every_summary_adds_up_and_so_does_every_job(yards: tuple[Path, Path], seed: int) -> None:
    actuals = held(yards[0], tables_by_chance(seed))
    whole = sum(line.amount.value for line in actuals.lines)
    size = max(1.0, sum(abs(line.amount.value) for line in actuals.lines))
    for of in DIMENSIONS:
        summary = summary_of(actuals, of)
        told = sum(each.amount.value for each in summary.sums)
        assert abs(told - whole) <= CLOSE * size, of
        assert abs(summary.total.value - whole) <= CLOSE * size, of
        sizes = [abs(each.amount.value) for each in summary.sums]
        assert sizes == sorted(sizes, reverse=True)
    for number, after in after_calculations(actuals, {}).items():
        causes = sum(line.amount.value for line in after.causes)
        difference = after.cost.value - after.standard.value
        assert abs(causes - difference) <= CLOSE * max(size, after.cost.value), number
        elements = sum(row.standard.value for row in after.rows)
        assert elements == pytest.approx(after.standard.value, rel=CLOSE), number


def test_the_tables_by_chance_show_every_kind_of_material_variance(
    yards: tuple[Path, Path],
) -> None:
    """The laws are tried where all of it can go wrong: levels, mixes, money, scrap, exchange."""
    kinds, levels, money = set(), set(), set()
    for seed in range(40):
        for one in held(yards[0], tables_by_chance(seed)).compared:
            if one.scope.resource.startswith("material."):
                kinds |= {line.kind for line in one.lines}
                levels.add(one.scope.level)
                money.add(one.actual_quantity is None)
    assert kinds == {"price", "exchange", "usage", "mix", "yield", "scrap"}
    assert levels == {"part", "job", "month"}
    assert money == {True, False}
