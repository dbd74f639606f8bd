"""The tables of what was booked: read whole, row by row, and what their texts say."""

from __future__ import annotations

import json
import shutil
from datetime import date
from hashlib import sha256
from pathlib import Path

import pytest

from quoter.catalogue.adding import JOURNAL
from quoter.catalogue.booked import TABLES, Booked
from quoter.catalogue.booked_files import file_of, read_booked
from quoter.catalogue.booked_names import PartNames, operation_number
from quoter.catalogue.booked_words import (
    Booking,
    booking_in,
    month_in,
    month_of,
    options_in,
    options_of,
    quantity_in,
    quantity_of,
)
from quoter.catalogue.load import load_catalogue, read_records
from quoter.catalogue.mark import fingerprint, inputs
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.figures.graph import input_behind
from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError, Place, Problems
from quoter.resources import demo_catalogue_folder
from tests.catalogue.broken import SOUND

HOURS = b"reference,date,job,station,hours,rework\n"
JOBS = b"job,model,options,started\n2026-0001,tarn_31,side_door; hatch x 1,2026-08-03\n"


@pytest.fixture(scope="module")
def records() -> Records:
    return read_records(SOUND, Problems())[0]


@pytest.fixture
def sound_copy(tmp_path: Path) -> Path:
    return shutil.copytree(SOUND, tmp_path / "yard")


@pytest.fixture(scope="module")
def demo() -> Records:
    return read_records(demo_catalogue_folder(), Problems())[0]


def booked(records: Records, **tables: bytes) -> Booked:
    """Sound tables of these contents."""
    problems = Problems()
    instead = {file_of(name): content for name, content in tables.items()}
    found = read_booked(SOUND, records, problems, instead)
    assert [*problems.errors, *problems.warnings] == []
    return found


def at(words: str) -> Text:
    return Text.at(
        words, Place("actuals/issues.csv", 2, 30, "quantity"), "actuals.issues.S-1.quantity"
    )


def test_a_yard_that_books_nothing_has_no_rows_and_no_problem(records: Records) -> None:
    found = booked(records)
    assert [getattr(found, table) for table in TABLES] == [[]] * 6


def test_a_column_left_out_and_an_empty_cell_say_nothing(records: Records) -> None:
    rows = b"H-1,2026-08-05,2026-0001,laminating,210 min,\nH-2,2026-08-05,,laminating,3 h,no\n"
    first, second = booked(records, jobs=JOBS, hours=HOURS + rows).hours
    assert (first.rework, first.part, first.group, first.note) == (None, None, None, None)
    assert (second.rework, second.job) == (False, None)
    # 210 min are 3.5 h: 60 min to the hour, SI Brochure table 8.
    assert first.hours.value == pytest.approx(3.5, rel=1e-15)
    assert first.place == Place("actuals/hours.csv", 2, 1)


def test_a_row_is_an_input_at_its_own_place_with_a_key_of_its_own(records: Records) -> None:
    rows = b"H-1,2026-08-05,2026-0001,laminating,210 min,\n"
    (row,) = booked(records, jobs=JOBS, hours=HOURS + rows).hours
    written = input_behind(row.hours)
    assert written.key == "actuals.hours.H-1.hours"
    assert written.origin is not None
    assert written.origin.place == Place("actuals/hours.csv", 2, 37, "hours")
    assert (written.origin.text, written.origin.effective) == ("210 min", "2026-08-05")


def test_a_line_of_the_ledger_that_is_shared_has_a_key_for_each_share(records: Records) -> None:
    rows = (
        b"reference,month,station,kind,spent\n"
        b"L-1,2026-08,laminating,variable,10 EUR\nL-1,2026-08,assembly,variable,10 EUR\n"
    )
    keys = [input_behind(row.spent).key for row in booked(records, overhead=rows).overhead]
    assert len(set(keys)) == 2


# NIST Handbook 44, Appendix C: 1 gal = 3.785 411 784 L, 1 lb = 0.453 592 37 kg, 1 yd = 0.9144 m.
@pytest.mark.parametrize(
    ("material", "words", "expected"),
    [
        ("resin_lam", "12.5 kg", 12.5),
        ("resin_lam", "5 gal", 5 * 3.785411784 * 1.10),
        ("resin_lam", "20 lb", 20 * 0.45359237),
        ("resin_inj", "2 drum", 2 * 220.0),
        ("flow_600", "3 roll", 3 * 48.0),
        ("mat_450", "10 yd", 10 * 0.9144 * 1.25 * 0.450),
        ("mat_450", "8 m2", 8 * 0.450),
        ("hinge", "4", 4.0),
        ("screws", "2 box", 2 * 200.0),
        ("seal", "10 ft", 10 * 0.3048),
        ("wax", "500 g", 0.5),
    ],
)
def test_a_quantity_is_in_what_its_material_is_counted_in(
    records: Records, material: str, words: str, expected: float
) -> None:
    text = at(words)
    found = quantity_of(text, records.materials[material])
    assert found.value == pytest.approx(expected, rel=1e-12)
    assert quantity_of(text, records.materials[material]).value == found.value


@pytest.mark.parametrize(
    ("material", "words"),
    [("resin_lam", "2 drum"), ("hinge", "1 kg"), ("seal", "4"), ("wax", "1 L"), ("hinge", "5 %")],
)
def test_a_quantity_that_says_nothing_of_its_material_is_refused(
    records: Records, material: str, words: str
) -> None:
    found, fault = quantity_in(at(words), records.materials[material])
    assert found is None
    assert fault is not None
    assert (fault.code, fault.place.column) == ("wrong-unit", 30)
    with pytest.raises(ValueError, match="does not say how much"):
        quantity_of(at(words), records.materials[material])


def test_options_are_ids_with_quantities_each_at_its_place(records: Records) -> None:
    found, faults = options_in(at("side_door;  hatch x 2 ;blue_hull × 1;"))
    assert faults == []
    assert found == {"side_door": 1, "hatch": 2, "blue_hull": 1}
    assert [id.place.column for id in found] == [30, 42, 53]
    (row,) = booked(records, jobs=JOBS).jobs
    assert options_of(row) == {"side_door": 1, "hatch": 1}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("job=2026-0007;part=side_door__gel_blue;operation=3", ("side_door__gel_blue", "3")),
        (
            "job=2026-0007;part=weekender_86.side_single;operation=1",
            ("weekender_86.side_single", "1"),
        ),
        ("job=2026-0007", ("", "")),
    ],
)
def test_a_code_to_book_by_says_its_job_part_and_operation(
    text: str, expected: tuple[str, str]
) -> None:
    assert booking_in(text) == Booking("2026-0007", *expected)


@pytest.mark.parametrize("text", ["", "2026-0007", "part=x;job=y", "job=", "job=1;part=2;x=3"])
def test_other_words_are_no_code_to_book_by(text: str) -> None:
    assert booking_in(text) is None


@pytest.mark.parametrize("text", ["2026-13", "2026-00", "26-08", "2026-8", "0000-01", "2026-08-01"])
def test_a_month_is_a_year_and_a_month(text: str) -> None:
    assert month_in("2026-08") == date(2026, 8, 1)
    assert month_of(date(2026, 8, 31)) == "2026-08"
    assert month_in(text) is None


def test_every_part_of_the_costing_is_called_as_its_papers_call_it(
    demo_pricing: Pricing, demo: Records
) -> None:
    costing, names = demo_pricing.costing, PartNames(demo)
    keys = {*costing.parts}
    for model in costing.models.values():
        keys |= {option.recipe.key for option in model.options.values()}
        keys.add(model.base.recipe.key)
        moved = [use for one in model.recoloured.values() for use in one.recipe.uses]
        keys |= {use.assembly.recipe.key for use in moved}
    assert len(keys) > 50
    assert {key for key in keys if names.key_of(key.partition(".")[2]) != key} == set()


@pytest.mark.parametrize(
    "words", ["fram", "frame__gel_red", "frame__", "tarn_26.side_door", "x.hatch"]
)
def test_what_the_costing_never_makes_is_an_unknown_part(records: Records, words: str) -> None:
    assert PartNames(records).key_of(words) == ""
    assert not PartNames(records).may_be(words)


def test_an_operation_is_told_by_its_number_or_its_name(records: Records) -> None:
    operations = records.parts["frame"].operations
    told = [
        operation_number(operations, w) for w in ("1", "2", "laminate  the frame", "0", "3", "")
    ]
    assert told == [1, 2, 2, 0, 0, 0]


def test_a_row_that_is_no_row_leaves_the_others_and_is_told(records: Records) -> None:
    problems = Problems()
    rows = HOURS + b"H-1,5 August,,laminating,3 h,\nH-2,2026-08-05,,laminating,3 h,\n"
    found = read_booked(SOUND, records, problems, {file_of("hours"): rows})
    assert [str(row.reference) for row in found.hours] == ["H-2"]
    (fault,) = problems.errors
    assert (fault.place, fault.code) == (Place("actuals/hours.csv", 2, 5, "date"), "not-a-date")
    assert fault.excerpt.startswith("H-1,5 August")


def test_what_a_killed_writer_had_still_to_write_is_read_as_written(
    records: Records, tmp_path: Path
) -> None:
    rows = b"H-1,2026-08-05,,laminating,3 h,\n"
    (tmp_path / "actuals").mkdir()
    (tmp_path / file_of("hours")).write_bytes(HOURS)
    journal = {file_of("hours"): [sha256(HOURS).hexdigest(), rows.decode()]}
    (tmp_path / JOURNAL).write_text(json.dumps(journal), encoding="utf-8")
    assert len(read_booked(tmp_path, records, Problems()).hours) == 1


def test_a_table_with_quotation_and_line_ends_of_a_spreadsheet_is_read(records: Records) -> None:
    text = HOURS + b"H-1,2026-08-05,,laminating,3 h,\n"
    other = b"\xef\xbb\xbf" + text.replace(b"\n", b"\r\n").replace(b"laminating", b'"laminating"')
    assert booked(records, hours=other).hours[0].station == "laminating"


def write(folder: Path, **tables: bytes) -> None:
    (folder / "actuals").mkdir(exist_ok=True)
    for name, content in tables.items():
        (folder / file_of(name)).write_bytes(content)


def test_faults_of_the_catalogue_and_of_what_was_booked_are_told_together(
    sound_copy: Path,
) -> None:
    write(sound_copy, hours=HOURS + b"H-1,2026-08-05,,lamination,25 h,\n")
    wages = (sound_copy / "wages.csv").read_text(encoding="utf-8")
    (sound_copy / "wages.csv").write_text(wages.replace("24.00 EUR/h", "24.00"), encoding="utf-8")
    with pytest.raises(CatalogueError) as stopped:
        load_catalogue(sound_copy, booked=True)
    files = [problem.place.file for problem in stopped.value.problems]
    assert files == ["actuals/hours.csv", "actuals/hours.csv", "wages.csv"]


def test_only_who_asks_for_them_reads_the_rows(sound_copy: Path) -> None:
    write(sound_copy, jobs=JOBS)
    assert load_catalogue(sound_copy)[0].booked is None
    read = load_catalogue(sound_copy, booked=True)[0].booked
    assert read is not None
    assert [str(row.job) for row in read.jobs] == ["2026-0001"]
    write(sound_copy, hours=b"nonsense\n")
    assert load_catalogue(sound_copy)[0].booked is None


def test_no_price_rests_on_what_was_booked_but_a_build_looks_at_it(sound_copy: Path) -> None:
    day = date(2026, 11, 1)
    before, looked = fingerprint(sound_copy, day), inputs(sound_copy)
    write(sound_copy, jobs=JOBS)
    assert fingerprint(sound_copy, day) == before
    assert inputs(sound_copy) != looked
    added = {file_of("pulls"): ["", "reference,date,part,good,scrapped\n"]}
    (sound_copy / JOURNAL).write_text(json.dumps(added), encoding="utf-8")
    assert fingerprint(sound_copy, day) == before
