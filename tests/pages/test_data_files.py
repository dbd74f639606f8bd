"""The data files of all price sheets: as another program reads the table, and without secrets."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from csvw import CSVW, Table

from quoter.formats import TABLE
from quoter.leaks import LeakError, SiteGuard
from quoter.pages.public.data_table import COLUMNS
from quoter.pages.public.site import DATA, PublicSite, public_pages
from quoter.pages.public.views import SheetView
from quoter.pricing.price import Pricing
from tests.demo import demo
from tests.pages.data_sheets import DELIVERY, english, files, hostile, sheets, site_files
from tests.pages.variants import small_with

SCHEMA = "prices.schema.json"


def read(folder: Path, sheet: SheetView, changes: tuple[bytes, bytes] | None = None) -> CSVW:
    """The table as a validating processor of CSV on the Web finds and reads it.

    It is given the address of the table alone, and looks for the metadata where the Recommendation
    says (W3C, "Model for Tabular Data and Metadata on the Web", 5.3: the table's address with
    "-metadata.json" behind it).
    """
    for name, content in files(sheet).items():
        (folder / name).write_bytes(content)
    table = folder / "prices.csv"
    if changes is not None:
        assert changes[0] in table.read_bytes()
        table.write_bytes(table.read_bytes().replace(*changes))
    return CSVW(str(table), validate=True)


def read_whole(table: Table) -> list[dict[str, Any]]:
    """Every line; a fault is an error."""
    lines = [dict(line) for line in table.iterdicts()]
    table.check_primary_key()
    return lines


def test_the_table_is_as_its_metadata_say_for_another_program(
    tmp_path: Path, small_pricing: Pricing
) -> None:
    home = english(demo(), "home")
    found = [*sheets(demo()), hostile(english(small_pricing, "home"))]
    for sheet in (*found, replace(home, delivery=DELIVERY)):
        read_back = read(tmp_path, sheet)
        assert (read_back.no_metadata, read_back.is_valid) == (False, True)
        assert [str(warning.message) for warning in read_back.warnings] == []
        assert len(read_whole(read_back.tables[0])) > 10


def test_another_program_reads_the_same_values(tmp_path: Path) -> None:
    sheet = english(demo(), "home")
    (table,) = read(tmp_path, sheet).tables
    lines = read_whole(table)
    prices = {(ln["model"], ln["id"]): ln["price"] for ln in lines if ln["item"] == "option"}
    assert prices == {
        (model.id, option.id): option.price.amount
        for model in sheet.models
        for option in model.options
    }
    assert all(type(price) is Decimal for price in prices.values())
    step = next(line for line in lines if line["id"] == "side_step")
    assert step["not_with"] == ["side_single", "side_pair"]
    assert (step["most"], step["tax_rate"]) == (1, Decimal("0.24"))
    assert step["valid_until"].date() == sheet.valid_until


REFUSED = [
    (b",550.00,", b",five,", "price: Invalid value for decimal"),
    (b"2026-08-31", b"31.08.2026", "31.08.2026"),
    (b',"EUR",', b',"",', "currency"),
    (b",model_name,", b",modelname,", "missing required columns {'model_name'}"),
    (b'"option","hatch"', b'"option","box"', "duplicate primary key"),
]


@pytest.mark.parametrize(("old", "new", "told"), REFUSED)
def test_another_program_refuses_what_the_metadata_do_not_allow(
    tmp_path: Path, small_pricing: Pricing, old: bytes, new: bytes, told: str
) -> None:
    (table,) = read(tmp_path, english(small_pricing, "home"), (old, new)).tables
    with pytest.raises(ValueError, match=re.escape(told)):
        read_whole(table)


def test_the_metadata_say_what_every_column_means(small_pricing: Pricing) -> None:
    found = json.loads(files(english(small_pricing, "home"))["prices.csv-metadata.json"])
    columns = found["tableSchema"]["columns"]
    assert found["tableSchema"]["schema:version"] == str(TABLE.newest)
    assert [column["name"] for column in columns] == [column.name for column in COLUMNS]
    assert all(column["dc:description"].endswith(".") for column in columns)


@pytest.mark.parametrize("catalogue", ["demo", "small"])
def test_the_site_holds_the_files_of_every_sheet_the_same_every_time(
    catalogue: str, small_pricing: Pricing
) -> None:
    pricing = demo() if catalogue == "demo" else small_pricing
    expected = site_files(pricing)
    assert len(expected) == len(sheets(pricing)) * 6
    pages = public_pages(pricing)
    assert {path: page for path, page in pages.items() if path.rpartition("/")[2] in DATA} == (
        expected
    )


@pytest.mark.parametrize("catalogue", ["demo", "small"])
def test_all_that_the_files_hold_is_accounted_for(catalogue: str, small_pricing: Pricing) -> None:
    pricing = demo() if catalogue == "demo" else small_pricing
    SiteGuard(PublicSite(pricing)).look_through(site_files(pricing))


def test_the_schema_is_the_program_s_own(small_pricing: Pricing) -> None:
    found = {files(sheet)[SCHEMA] for sheet in (*sheets(demo()), *sheets(small_pricing))}
    assert len(found) == 1


@pytest.mark.parametrize("name", sorted({*DATA} - {SCHEMA}))
def test_a_cost_planted_in_a_file_is_found(small_pricing: Pricing, name: str) -> None:
    path = f"en/home/{name}"
    found = {path: files(english(small_pricing, "home"))[name]}
    cost = small_pricing.models["cutter"].options["hatch"].assembly.cost
    found[path] += f'{{"price": "{cost.value:.2f}"}}'.encode()
    with pytest.raises(LeakError, match=rf"{path}:\d+:\d+: '.*{cost.value:.2f}.*'"):
        SiteGuard(PublicSite(small_pricing)).look_through(found)


def test_masses_and_sizes_can_t_be_taken_for_thousands(tmp_path: Path) -> None:
    sizes = {"length: 6.20 m": "length: 20.3428 ft", "mass: 610 kg": "mass: 1344.9 lb"}
    pricing = small_with(tmp_path, {"models.yaml": sizes})
    found = site_files(pricing)
    SiteGuard(PublicSite(pricing)).look_through(found)
    skiff = json.loads(found["en/home/prices.json"])["models"][0]
    assert (skiff["length"], skiff["mass"]) == (6.2, 610.04)
    numbers = "\n".join(content.decode() for content in found.values())
    assert not re.search(r"\d[.]\d{3}\b", numbers)
