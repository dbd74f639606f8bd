"""The workbook of what it really took: what it stores, what adds up, what follows a standard."""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
import python_calamine
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from quoter.actuals.account import Account, account_of
from quoter.actuals.after import after_calculations
from quoter.actuals.estimates import Estimates
from quoter.costing.assembly import in_building_order
from quoter.pricing.priced import price_catalogue
from quoter.resources import demo_catalogue_folder
from quoter.workbook import Book, write_book
from quoter.workbook.actuals_book import actuals_book
from tests.actuals.by_chance import booked_by_chance, held, yard_of_chance
from tests.actuals.cases import Row, actuals_of, made, spent, textbook, worked
from tests.workbook.compare import RELATIVE, alike, differences, values
from tests.workbook.recalculate import recalculate
from tests.workbook.validity import schema_errors

RANDOM_YARDS = 8
LARGEST = 2_000_000  # bytes of the demonstration's
# OpenStax, Principles of Accounting vol. 2, 8.2: 8 oz at 0.85, 11,000 made, 89,000 oz for 74,760;
# 8.3: 1.5 h at 35, 11,000 made, 16,000 h for 565,600; 8.4: 2,500 h and 7,000 spent where 2,000 h at
# 2.00 should have been.
MATERIAL, LABOUR = {"price": -890, "usage": 850}, {"rate": 5_600, "efficiency": -17_500}
OVERHEAD = {"spending": 2_000, "variable_efficiency": 1_000}
# A file of the demonstration, what stands in its line, the new value there and in the cell.
CHANGES = (
    ("prices/2026-07-01.csv", "resin_lam,dolvane,", "2.98 EUR/kg", "3.17 EUR/kg", 3.17),
    ("prices/2026-10-01.csv", "resin_inj,quenmoor,", "1.99 USD/lb", "1.91 USD/lb", 1.91),
    ("wages.csv", "2026-01-01,moulder,", "25.00 EUR/h", "26.50 EUR/h", 26.5),
)


@dataclass(frozen=True)
class Built:
    account: Account = field(repr=False)
    book: Book = field(repr=False)
    file: Path
    recalculated: Path


def account_in(folder: Path) -> Account:
    account, _ = account_of(folder, price_catalogue(folder)[0])
    assert account is not None
    return account


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Built:
    folder = tmp_path_factory.mktemp("actuals")
    account = account_in(demo_catalogue_folder())
    book = actuals_book(account)
    file = folder / "actuals.xlsx"
    file.write_bytes(write_book(book))
    return Built(account, book, file, recalculate([file], folder / "recalculated")[0])


def of_tables(folder: Path, *tables: Mapping[str, Sequence[Row]]) -> Account:
    actuals = actuals_of(folder, *tables)
    return Account(actuals, after_calculations(actuals, {}), Estimates((), (), ()))


def named(file: Path) -> dict[str, Any]:
    workbook = load_workbook(file, data_only=True)
    found = {}
    for name, defined in workbook.defined_names.items():
        sheet, cell = next(iter(defined.destinations))
        found[name] = workbook[sheet][cell.replace("$", "")].value
    return found


def rows_of(file: Path, sheet: str) -> list[dict[str, Any]]:
    """Each row that has numbers under the last headings above it, totals too."""
    found, heads = [], list[str]()
    for cells in load_workbook(file, data_only=True)[sheet].iter_rows(values_only=True):
        texts = [str(cell) for cell in cells if isinstance(cell, str)]
        if "Month" in texts[:1] or "Job" in texts[:1]:
            heads = [str(cell or "").partition(" [")[0] for cell in cells]
        elif heads and any(isinstance(cell, float | int) for cell in cells):
            found.append(dict(zip(heads, cells, strict=True)))
    return found


def open_rows(sheet: Any, words: Sequence[str]) -> list[Any]:
    """The rows with all these words and a cell to change."""
    return [
        row
        for row in sheet.iter_rows()
        if all(any(word in str(cell.value) for cell in row) for word in words)
        and any(not cell.protection.locked for cell in row)
    ]


def edited(file: Path, sheet: str, words: Sequence[str], value: float, to: Path) -> Path:
    """A copy whose one open cell, in the row with all these words, holds another number."""
    workbook = load_workbook(file)
    (row,) = open_rows(workbook[sheet], words)
    (cell,) = [cell for cell in row if not cell.protection.locked]
    cell.value = value
    workbook.save(to)
    return to


def kinds_of(file: Path) -> dict[str, float]:
    """Variances of all months by kind."""
    start = "actual.all."
    found = named(file)
    sums = ("standard", "variance", "actual")
    return {n.removeprefix(start): v for n, v in found.items()
            if n.startswith(start) and n.removeprefix(start) not in sums}  # fmt: skip


def assert_adds_up(file: Path) -> None:
    """Σ variances = actual - standard on every row of every sheet, in every month."""
    seen = 0
    for sheet in ("Labour", "Material", "Overhead"):
        if sheet not in load_workbook(file, read_only=True).sheetnames:
            continue
        for row in rows_of(file, sheet):
            heads = list(row)
            within = heads[heads.index("Standard cost") + 1 : heads.index("Actual cost")]
            variances = sum(row[head] or 0.0 for head in within)
            assert row["Standard cost"] + variances == pytest.approx(
                row["Actual cost"], rel=RELATIVE, abs=RELATIVE
            )
            seen += 1
    assert seen
    for row in rows_of(file, "Months"):
        heads = list(row)
        kinds = heads[heads.index("Standard") + 1 : heads.index("All variances")]
        assert sum(row[kind] or 0.0 for kind in kinds) == pytest.approx(
            row["All variances"], rel=RELATIVE, abs=RELATIVE
        )
        assert row["Standard"] + row["All variances"] == pytest.approx(row["Actual"], rel=RELATIVE)
        assert row["Adds up"] == "OK"
    assert "CHECK" not in values(file).values()


@pytest.mark.slow
def test_every_cell_recalculated_elsewhere_is_what_the_file_stores(demo: Built) -> None:
    assert differences(demo.file, demo.recalculated) == []
    assert demo.file.stat().st_size < LARGEST


@pytest.mark.slow
def test_a_schema_validator_finds_no_error(demo: Built) -> None:
    assert schema_errors(demo.file) == []


@pytest.mark.slow
def test_another_reader_sees_the_same(demo: Built) -> None:
    reader = python_calamine.CalamineWorkbook.from_path(demo.file)
    got = {
        f"{title}!{get_column_letter(column)}{row}": value
        for title in reader.sheet_names
        for row, cells in enumerate(
            reader.get_sheet_by_name(title).to_python(skip_empty_area=False), 1
        )
        for column, value in enumerate(cells, 1)
        if value != ""
    }
    wanted = values(demo.file)
    assert got.keys() == wanted.keys()
    assert [cell for cell in wanted if not alike(got[cell], wanted[cell])] == []


@pytest.mark.slow
def test_variances_add_up_to_actual_less_standard(demo: Built) -> None:
    assert_adds_up(demo.recalculated)
    found, compared = named(demo.recalculated), demo.account.actuals.compared
    for month in demo.account.actuals.months:
        own = [one for one in compared if one.scope.month == month]
        start = f"actual.{month.replace('-', '_')}"
        difference = sum(one.actual.value - one.standard.value for one in own)
        assert found[f"{start}.variance"] == pytest.approx(difference, abs=1e-6)
        actual = sum(one.actual.value for one in own)
        assert found[f"{start}.actual"] == pytest.approx(actual, rel=RELATIVE)
    assert len(rows_of(demo.recalculated, "Labour")) > 300


@pytest.mark.slow
def test_variances_of_random_jobs_add_up_when_recalculated_elsewhere(tmp_path: Path) -> None:
    """Rows at mixed levels, pools, scrap, rework and overhead, as laws of comparing have them."""
    yard = yard_of_chance(tmp_path / "yard")
    files = []
    for seed in range(RANDOM_YARDS):
        actuals = held(yard, booked_by_chance(seed))
        account = Account(actuals, after_calculations(actuals, {}), Estimates((), (), ()))
        files.append(tmp_path / f"{seed}.xlsx")
        files[-1].write_bytes(write_book(actuals_book(account)))
    recalculated = recalculate(files, tmp_path / "recalculated")
    for file, again in zip(files, recalculated, strict=True):
        assert differences(file, again) == []
        assert_adds_up(again)


@pytest.mark.slow
def test_jobs_left_what_their_after_calculations_say(demo: Built) -> None:
    rows = {row["Job"]: row for row in rows_of(demo.recalculated, "Jobs")}
    assert rows.keys() == demo.account.after.keys()
    for number, after in demo.account.after.items():
        row = rows[number]
        assert row["Actual cost"] == pytest.approx(after.cost.value, rel=1e-6), number
        assert row["Margin planned"] == pytest.approx(after.planned.value, rel=1e-6), number
        assert row["Margin left"] == pytest.approx(after.left.value, rel=1e-6), number


@pytest.mark.slow
def test_changed_prices_and_wages_give_what_comparing_with_them_gives(
    demo: Built, tmp_path: Path
) -> None:
    catalogue, file = tmp_path / "catalogue", demo.file
    shutil.copytree(demo_catalogue_folder(), catalogue)
    for number, (name, start, was, new, value) in enumerate(CHANGES):
        text = (catalogue / name).read_text("utf-8")
        assert text.count(f"{start}{was}") == 1
        line = text.count("\n", 0, text.index(f"{start}{was}")) + 1
        (catalogue / name).write_text(text.replace(f"{start}{was}", f"{start}{new}"), "utf-8")
        to = tmp_path / f"edited{number}.xlsx"
        file = edited(file, "Inputs", [f"{name}:{line} "], value, to)
    changed = recalculate([file], tmp_path / "recalculated")[0]
    assert_adds_up(changed)
    told, before = named(changed), named(demo.recalculated)
    wanted = named(_written(account_in(catalogue), tmp_path / "anew.xlsx"))
    ours = [name for name in wanted if name.startswith("actual.") or name.endswith(".variance")]
    for name in ours:
        assert told[name] == pytest.approx(wanted[name], rel=RELATIVE, abs=1e-6), name
    moved = {name for name in ours if not alike(told[name], before[name])}
    assert {"actual.2026_07.price", "actual.2026_10.usage", "actual.2026_08.efficiency"} <= moved


def _written(account: Account, to: Path) -> Path:
    to.write_bytes(write_book(actuals_book(account)))
    return to


@pytest.mark.slow
def test_a_longer_standard_of_a_piece_makes_less_of_the_variance_and_moves_no_cost(
    demo: Built, tmp_path: Path
) -> None:
    actuals = demo.account.actuals
    assemblies = {
        made.assembly.recipe.key: made.assembly
        for job in actuals.jobs.values()
        for made in in_building_order(job.built.whole)
    }
    workbook = load_workbook(demo.file)
    for one in actuals.compared:
        if one.scope.level == "operation" and not actuals.jobs[one.scope.job].open:
            done = assemblies[one.scope.part].operations[one.scope.operation - 1]
            name, place = assemblies[one.scope.part].name, str(done.operation.place)
            words = [name, str(done.operation.name), place]
            if len(open_rows(workbook["Standards"], words)) == 1:
                break
    else:
        pytest.fail("no operation that only one piece has was compared")
    value = done.paid.value * 2
    file = edited(demo.file, "Standards", words, value, tmp_path / "e.xlsx")
    changed = recalculate([file], tmp_path / "recalculated")[0]
    assert_adds_up(changed)
    then, now = named(demo.recalculated), named(changed)
    assert now["actual.all.actual"] == pytest.approx(then["actual.all.actual"], rel=RELATIVE)
    assert now["actual.all.efficiency"] < then["actual.all.efficiency"]
    jobs = [name for name in then if name.startswith("job.")]
    for name in jobs:
        if name.endswith((".cost", ".left")):
            assert now[name] == pytest.approx(then[name], rel=RELATIVE), name
    job = f"job.{one.scope.job.replace('-', '_')}"
    assert now[f"{job}.standard"] > then[f"{job}.standard"]


@pytest.mark.slow
def test_published_examples_in_the_workbook_and_after_another_standard(tmp_path: Path) -> None:
    """The book's numbers recalculated elsewhere; then by hand with a standard moved."""
    labour = textbook(tmp_path / "l", hours="1.5 h", wage="35 USD/h")
    hours = of_tables(labour, made(11_000), worked(16_000, wage="35.35 USD/h"))
    ounces = textbook(tmp_path / "m", material="8 oz", price="0.85 USD/oz")
    row = {"date": "2026-03-16", "job": "J-1", "material": "direct_material", "kind": "issue"}
    issue: Row = {"reference": "S-1", **row, "quantity": "89000 oz", "price": "0.84 USD/oz"}
    material = of_tables(ounces, made(11_000), {"issues": [issue]})
    station = textbook(tmp_path / "o", hours="2 h", variable="24000 USD")
    overhead = of_tables(station, made(1_000), worked(2_500), spent(variable="7000 USD"))
    files = [
        _written(hours, tmp_path / "hours.xlsx"),
        _written(material, tmp_path / "material.xlsx"),
        _written(overhead, tmp_path / "overhead.xlsx"),
    ]
    files += [
        # 1.6 h: (16,000 - 17,600) x 35
        edited(files[0], "Standards", ["Assembling"], 1.6, tmp_path / "slower.xlsx"),
        # 36 an hour: (35.35 - 36) x 16,000, and (16,000 - 16,500) x 36
        edited(files[0], "Inputs", ["wages.csv"], 36.0, tmp_path / "dearer.xlsx"),
        # 0.86: (0.84 - 0.86) x 89,000, and (89,000 - 88,000) x 0.86
        edited(files[1], "Inputs", ["prices/", "Direct material"], 0.86, tmp_path / "price.xlsx"),
    ]
    found = [kinds_of(file) for file in recalculate(files, tmp_path / "recalculated")]
    approx = pytest.approx
    assert {kind: found[0][kind] for kind in LABOUR} == approx(LABOUR, rel=RELATIVE)
    assert found[1] == approx(MATERIAL, rel=RELATIVE)
    assert {kind: found[2][kind] for kind in OVERHEAD} == approx(OVERHEAD, rel=RELATIVE)
    assert found[3]["efficiency"] == approx(-56_000, rel=RELATIVE)
    assert found[3]["rate"] == approx(5_600, rel=RELATIVE)
    assert found[4]["rate"] == approx(-10_400, rel=RELATIVE)
    assert found[4]["efficiency"] == approx(-18_000, rel=RELATIVE)
    assert found[5] == approx({"price": -1_780, "usage": 860}, rel=RELATIVE)


@pytest.mark.slow
def test_standards_rates_and_rows_can_be_changed_and_nothing_is_hidden(demo: Built) -> None:
    workbook = load_workbook(demo.file)
    unlocked = {
        sheet.title
        for sheet in workbook
        if any(not cell.protection.locked for row in sheet.iter_rows() for cell in row)
    }
    assert unlocked == {"Standards", "Inputs", "Rows"}
    texts = values(demo.file)
    given = [cell for cell, text in texts.items() if text == "as given" and "Workings!" in cell]
    told = {str(texts[re.sub("![A-Z]+", "!A", cell)]) for cell in given}
    allowed = ("cost by standard of all else", "net price", "margin planned")
    assert [label for label in told if not label.endswith(allowed)] == []
    rows = demo.account.actuals.compared
    shown = {text for cell, text in texts.items() if cell.startswith("Rows!")}
    booked = {f"{place.file}:{place.line}" for one in rows for place in one.rows}
    assert booked <= shown


def test_jobs_begun_by_earlier_recipes_have_standards_of_their_own(tmp_path: Path) -> None:
    """An hour a unit until 10 March, two since; ten units each, and fifteen hours each."""
    folder = textbook(tmp_path / "c", hours="2 h")
    key = "options.options.unit.operations.1.fixed"
    (folder / "accepted.csv").write_text(
        "date,key,was,becomes,samples,median,low,high,by,note\n"
        f"2026-03-10,{key},1 h,2 h,9,2 h,1.9 h,2.1 h,,\n"
    )
    second = {**made(10)["jobs"][0], "job": "J-2", "started": "2026-03-11"}
    jobs = {"jobs": [*made(10)["jobs"], second]}
    rows = [*worked(15, 15.0)["hours"], *worked(15, 15.0, job="J-2", reference="H-9")["hours"]]
    file = _written(of_tables(folder, jobs, {"hours": rows}), tmp_path / "a.xlsx")
    assert rows_of(file, "Jobs")[0]["Variances"] == pytest.approx(50.0)
    assert rows_of(file, "Jobs")[1]["Variances"] == pytest.approx(-50.0)
    own = [text for cell, text in values(file).items() if cell.startswith("Standards!A")]
    assert "Of jobs begun by the recipes of another day" in own
    assert sum("J-1" in str(text) for text in own) == 1


def test_of_jobs_with_nothing_booked_there_is_a_book_all_the_same(tmp_path: Path) -> None:
    file = _written(of_tables(textbook(tmp_path / "c"), made(1)), tmp_path / "a.xlsx")
    names = load_workbook(file).sheetnames
    assert {"Summary", "Jobs", "Notes"} <= set(names)
    assert "Labour" not in names
    assert "CHECK" not in values(file).values()
