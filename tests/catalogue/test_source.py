"""Files become texts that know where they stand; nothing but text comes out of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.catalogue.source import Block, Items, Sources, Text
from quoter.problems import Place, Problems

COLUMNS = ("date", "currency", "rate", "note")
KEYS = ("currency", "date")


def sources(folder: Path, **files: str) -> Sources:
    """A folder with files, named without a dot: `a_yaml`, `rates_csv`."""
    for name, text in files.items():
        (folder / name.replace("_", ".")).write_text(text, encoding="utf-8", newline="")
    return Sources(folder, Problems())


def read_yaml(folder: Path, text: str) -> Block:
    found = sources(folder, a_yaml=text).yaml("a.yaml")
    assert found is not None
    return found


def read_csv(folder: Path, text: str) -> list[Block]:
    return sources(folder, rates_csv=text).csv("rates.csv", COLUMNS, KEYS)


def problems_of_csv(folder: Path, text: str) -> list[str]:
    found = sources(folder, rates_csv=text)
    found.csv("rates.csv", COLUMNS, KEYS)
    return [f"{p.place.clickable}: {p.what}" for p in found.problems.errors]


def place_of(value: object) -> str:
    assert isinstance(value, Text | Block | Items)
    return value.place.clickable


@pytest.mark.parametrize("written", ["no", "on", "12:30", "010", "1e3", "0x1F", "4.10", "~", "1,5"])
def test_a_scalar_stays_the_text_it_is(tmp_path: Path, written: str) -> None:
    assert read_yaml(tmp_path, f"key: {written}\n") == {"key": written}
    assert type(read_yaml(tmp_path, f"key: {written}\n")["key"]) is Text


def test_values_blocks_and_lists_know_their_place(tmp_path: Path) -> None:
    block = read_yaml(tmp_path, "top:\n  - {a: 1, b: [x, y]}\nlast: z\n")
    assert place_of(block) == "a.yaml:1:1"
    assert place_of(block["top"]) == "a.yaml:2:3"
    assert place_of(block["top"][0]) == "a.yaml:2:5"
    assert place_of(block["top"][0]["a"]) == "a.yaml:2:9"
    assert place_of(block["top"][0]["b"][1]) == "a.yaml:2:19"
    assert place_of(block["last"]) == "a.yaml:3:7"


def test_a_key_is_a_text_with_its_place(tmp_path: Path) -> None:
    keys = list(read_yaml(tmp_path, "one: 1\ntwo: 2\n"))
    assert [place_of(key) for key in keys] == ["a.yaml:1:1", "a.yaml:2:1"]


def test_a_value_is_called_by_ids_and_names_along_its_way(tmp_path: Path) -> None:
    block = read_yaml(tmp_path, "resins:\n  - id: r1\n    name: Resin one\n    loss: 5 %\n")
    loss = block["resins"][0]["loss"]
    assert (loss.key, loss.label) == ("a.resins.r1.loss", "Resin one, loss")
    assert loss.place.key == "loss"


def test_an_item_without_id_is_called_by_number_and_what_it_is_about(tmp_path: Path) -> None:
    block = read_yaml(tmp_path, "plies:\n  - {glass: mat, layers: 2}\n  - 7\n")
    layers = block["plies"][0]["layers"]
    assert (layers.key, layers.label) == ("a.plies.1.layers", "mat, layers")
    assert block["plies"][1].key == "a.plies.2"


def test_an_anchored_block_may_be_used_again(tmp_path: Path) -> None:
    block = read_yaml(tmp_path, "one: &route [a, b]\ntwo: *route\n")
    assert block["two"] == ["a", "b"]
    assert place_of(block["two"][1]) == "a.yaml:1:17"  # where it is written
    assert block["two"] is block["one"]  # one line is one input, however often it is used


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system_count_lines(tmp_path: Path, end: str) -> None:
    assert place_of(read_yaml(tmp_path, f"one: 1{end}two: 2{end}")["two"]) == "a.yaml:2:6"
    (row,) = read_csv(tmp_path, f"date,currency,rate,note{end}2026-01-01,USD,1.1 USD/EUR,{end}")
    assert place_of(row["rate"]) == "rates.csv:2:16"


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path: Path) -> None:
    block = read_yaml(tmp_path, "\ufeffone: 1\n")
    assert list(block) == ["one"]
    assert place_of(next(iter(block))) == "a.yaml:1:1"


def test_an_empty_yaml_file_is_an_empty_block(tmp_path: Path) -> None:
    assert read_yaml(tmp_path, "# nothing yet\n") == {}


def test_a_missing_file_is_nothing_and_no_problem_of_its_own(tmp_path: Path) -> None:
    found = sources(tmp_path)
    assert found.yaml("a.yaml") is None
    assert found.csv("rates.csv", COLUMNS, KEYS) == []
    assert found.problems.errors == []


def test_the_first_of_two_equal_keys_is_kept_and_the_block_is_not_whole(tmp_path: Path) -> None:
    found = sources(tmp_path, a_yaml="cost: 2\ncost: 3\n")
    block = found.yaml("a.yaml")
    assert block == {"cost": "2"}
    assert block is not None
    assert not block.whole
    assert found.doubtful == {"a.yaml"}


def test_the_line_of_a_place_can_be_shown(tmp_path: Path) -> None:
    found = sources(tmp_path, a_yaml="one: 1\ntwo: 2\n")
    found.yaml("a.yaml")
    assert found.excerpt(Place("a.yaml", 2, 6)) == "two: 2"
    assert found.excerpt(Place("a.yaml", 9)) == ""
    assert found.excerpt(Place("b.yaml", 1)) == ""


def test_yaml_that_grows_without_end_is_refused(tmp_path: Path) -> None:
    lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"{b}: &{b} [{', '.join([f'*{a}'] * 10)}]" for a, b in zip("abcdef", "bcdefg")]  # noqa: B905 - of one length
    found = sources(tmp_path, a_yaml="\n".join(lines))
    assert found.yaml("a.yaml") is None
    assert [problem.what for problem in found.problems.errors] == ["more than 200000 values"]


def test_yaml_nested_without_end_is_refused(tmp_path: Path) -> None:
    found = sources(tmp_path, a_yaml="a: " + "[" * 100_000)
    assert found.yaml("a.yaml") is None
    assert [problem.what for problem in found.problems.errors] == ["more than 40 levels"]


def test_a_file_that_can_not_be_opened_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").mkdir()
    found = Sources(tmp_path, Problems())
    assert found.yaml("a.yaml") is None
    assert [str(problem) for problem in found.problems.errors] == [
        "a.yaml: a folder where a file belongs [unreadable-file]\n"
        "    put a file in its place, or name another"
    ]


def test_a_csv_cell_knows_its_place_key_label_and_since_when_it_holds(tmp_path: Path) -> None:
    (row,) = read_csv(tmp_path, 'currency,note,date,rate\nUSD,"a, b", 2026-10-01 , 1.1 USD/EUR\n')
    rate = row["rate"]
    assert (str(rate), place_of(rate)) == ("1.1 USD/EUR", "rates.csv:2:26")
    assert rate.key == "rates.USD.2026-10-01.rate"
    assert rate.label == "USD, 2026-10-01, rate"
    assert rate.effective == "2026-10-01"
    assert str(row["note"]) == "a, b"
    assert place_of(row["note"]) == "rates.csv:2:5"


def test_a_row_of_a_dated_file_holds_since_that_date(tmp_path: Path) -> None:
    (tmp_path / "prices").mkdir()
    (tmp_path / "prices" / "2026-11-01.csv").write_text("material,price\nwax,3 EUR/kg\n")
    (row,) = Sources(tmp_path, Problems()).csv(
        "prices/2026-11-01.csv", ("material", "price"), ("material",)
    )
    assert row["price"].effective == "2026-11-01"
    assert row["price"].key == "prices.2026-11-01.wax.price"


def test_a_quoted_csv_cell_may_go_over_lines(tmp_path: Path) -> None:
    text = 'date,currency,rate,note\n2026-10-01,USD,1 USD/EUR,"two\nlines"\n\n2026-11-01,USD,,x\n'
    first, second = read_csv(tmp_path, text)
    assert str(first["note"]) == "two\nlines"
    assert place_of(first) == "rates.csv:2:1"
    assert place_of(second) == "rates.csv:5:1"
    assert place_of(second["note"]) == "rates.csv:5:17"


def test_csv_lines_without_values_are_no_rows(tmp_path: Path) -> None:
    assert read_csv(tmp_path, "date,currency,rate,note\n,,,\n\n  \n") == []


def test_a_csv_fault_is_told_at_its_cell(tmp_path: Path) -> None:
    assert problems_of_csv(tmp_path, "date,currency,rate,note\na,b,c,d,e\nf\n") == [
        "rates.csv:2:9: the line has 5 values for 4 columns",
        "rates.csv:3:1: the line has 1 value for 4 columns",
    ]
    assert problems_of_csv(tmp_path, 'date,currency,rate,note\na,b, "c" d,e\n') == [
        "rates.csv:2:6: the text in double quotes is followed by 'd'"
    ]
    assert problems_of_csv(tmp_path, 'date,currency,rate,note\na,b,c,"d\ne,f\n') == [
        "rates.csv:2:7: a double quote is opened and never closed"
    ]
