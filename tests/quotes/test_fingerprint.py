"""What was changed after a quote was issued is told by file and key, and nothing rests on it."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import kept, read_record
from quoter.quotes.kept.numbering import QuoteName
from quoter.quotes.kept.record_file import RecordError, from_json, to_json
from quoter.quotes.kept.standing import list_quotes
from quoter.quotes.kept.store import settle
from quoter.quotes.printed.files import reprinted
from tests.quotes.made import files, made, put, put_revision

OLD = Path(__file__).parent / "kept"  # a quote as the first format wrote it
LATER = date(2026, 11, 20)
CHANGED = (
    "{0} was changed after the quote was issued: {1} not what stood there; bring back the file as "
    "it was"
)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two quotes, the second revised."""
    for _ in range(2):
        put(tmp_path / "quotes")
    put_revision(tmp_path / "quotes", "2026-0002")
    return tmp_path / "quotes"


def rewritten(path: Path, **values: object) -> None:
    content = json.loads(path.read_bytes()) | values
    path.write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8")


RECORD: dict[str, Any] = json.loads(files(made())["record.json"])


@pytest.mark.parametrize("key", sorted(RECORD.keys() - {"fingerprint", "format"}))
def test_whatever_is_changed_in_a_record_is_told_by_its_key(key: str) -> None:
    others: tuple[object, ...] = (f"{RECORD[key]} ", None, [], False, "")
    for other in (other for other in others if other != RECORD[key]):
        content = json.dumps(RECORD | {key: other}).encode()
        with pytest.raises(RecordError) as caught:
            from_json(content)
        assert str(caught.value) == CHANGED.format("", f"'{key}' is").lstrip()
    left_out = json.dumps({name: value for name, value in RECORD.items() if name != key}).encode()
    with pytest.raises(RecordError, match=f"'{key}' is not what stood there"):
        from_json(left_out)


def test_a_key_that_is_added_and_several_that_are_changed_are_told() -> None:
    content = RECORD | {"paid": "yes", "total": "1.00", "net": "1.00"}
    with pytest.raises(RecordError) as caught:
        from_json(json.dumps(content).encode())
    assert str(caught.value) == CHANGED.format("", "'net', 'total' and 'paid' are").lstrip()


@pytest.mark.parametrize(
    ("fingerprint", "told"),
    [
        (None, "is no record of a quote: Input should be a valid dictionary or instance of Fi"),
        ({}, "is no record of a quote: keys: Field required"),
        ({"keys": {}, "files": {}}, "was changed after the quote was issued: 'format', 'numb"),
    ],
)
def test_a_fingerprint_that_is_none_is_told(fingerprint: object, told: str) -> None:
    with pytest.raises(RecordError) as caught:
        from_json(json.dumps(RECORD | {"fingerprint": fingerprint}).encode())
    assert str(caught.value).startswith(told)


def test_a_record_without_its_fingerprint_or_said_to_be_older_is_told() -> None:
    bare = {key: value for key, value in RECORD.items() if key != "fingerprint"}
    with pytest.raises(RecordError) as caught:
        from_json(json.dumps(bare).encode())
    assert str(caught.value) == "was changed after the quote was issued: its fingerprint is gone"
    with pytest.raises(RecordError, match="'format' is not what stood there"):
        from_json(json.dumps(RECORD | {"format": 1}).encode())


def test_how_a_record_is_laid_out_is_no_change() -> None:
    record = from_json(json.dumps(RECORD, sort_keys=True, indent=4).encode())
    assert record == from_json(files(made())["record.json"])
    assert to_json(record, files(made())) == files(made())["record.json"]


def test_a_changed_total_is_not_listed_reprinted_requoted_revised_or_won(
    folder: Path, tmp_path: Path
) -> None:
    path = folder / "2026-0001" / "record.json"
    rewritten(path, total="1.00")
    told = CHANGED.format(path, "'total' is")
    for act in (
        lambda: list_quotes(folder),
        lambda: settle(folder, "2026-0001", "won", LATER),
        lambda: put_revision(folder, "2026-0001"),
        lambda: kept(folder, "2026-0001"),
    ):
        with pytest.raises(QuoteError) as caught:
            act()
        assert str(caught.value) == told
    catalogue = Path(__file__).parents[1] / "catalogues" / "sound"
    for words in (
        ("quotes", "--quotes", folder),
        ("reprint", "2026-0001", "--into", tmp_path / "again", "--quotes", folder),
        ("requote", catalogue, "2026-0001", "--on", "2026-11-20", "--quotes", folder),
        ("outcome", "2026-0001", "won", "--on", "2026-11-20", "--quotes", folder),
    ):
        result = run(*words)
        assert (result.exit_code, result.stdout) == (1, "")
        assert result.stderr.startswith(told)
    assert not (tmp_path / "again").exists()
    assert not (folder / "outcomes.csv").exists()


def test_the_other_quotes_of_the_folder_are_still_to_be_had(folder: Path, tmp_path: Path) -> None:
    rewritten(folder / "2026-0001" / "record.json", customer={"name": "Somebody else"})
    assert run("reprint", "2026-0002", "--into", tmp_path, "--quotes", folder).exit_code == 0
    assert settle(folder, "2026-0002", "won", LATER).quote == "2026-0002-R1"
    assert put(folder) == "2026-0003"


def test_a_changed_file_for_the_customer_is_told_and_printed_again(
    folder: Path, tmp_path: Path
) -> None:
    """The record is sound, so the quote stands; its own files are at hand again."""
    (folder / "2026-0001" / "quote.html").write_text("for one euro")
    (folder / "2026-0002-R1" / "internal.xlsx").unlink()
    told = f"{folder / '2026-0001' / 'quote.html'} was changed after it was issued"
    gone = f"{folder / '2026-0002-R1' / 'internal.xlsx'} can't be read: No such file or directory"
    assert list_quotes(folder).notes == (told, gone)
    result = run("reprint", "2026-0001", "--into", tmp_path / "again", "--quotes", folder)
    assert (result.exit_code, result.stderr) == (
        0,
        f"warning: {told}\n2026-0001 is the newest of 2026-0001\n",
    )
    (page,) = (tmp_path / "again").glob("*.html")
    assert page.read_bytes() == reprinted(read_record(folder, QuoteName(2026, 1)))["quote.html"]
    words = ("outcome", "2026-0001", "won", "--on", "2026-11-20", "--quotes", folder)
    result = run(*words)
    assert (result.exit_code, result.stderr.splitlines()[0]) == (0, f"warning: {told}")


# The check of a whole folder


def test_a_folder_as_it_was_written_has_no_fault(folder: Path) -> None:
    settle(folder, "2026-0001", "won", LATER)
    result = run("quotes", "--check", "--quotes", folder)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == "3 quotes and 1 outcome checked: all as they were written\n"


def test_every_fault_of_a_folder_is_told_by_its_file_at_once(folder: Path) -> None:
    put(folder)
    rewritten(folder / "2026-0001" / "record.json", lines=[])
    (folder / "2026-0002" / "quote.xlsx").write_bytes(b"")
    shutil.rmtree(folder / "2026-0003")
    (folder / "2026-0004").write_text("a note")
    (folder / "2026-0005").mkdir()
    (folder / "letter.txt").write_text("ours")
    (folder / "outcomes.csv").write_text(
        "date,quote,outcome\n2026-11-01,2026-0002,won\n2026-11-20,2026-0009,won\n"
    )
    result = run("quotes", "--check", "--quotes", folder)
    assert result.exit_code == 1
    assert result.stdout == f"{folder / 'letter.txt'} is no quote and was left alone\n"
    assert result.stderr.splitlines() == [
        CHANGED.format(folder / "2026-0001" / "record.json", "'lines' is"),
        f"{folder / '2026-0002' / 'quote.xlsx'} was changed after it was issued",
        f"{folder / '2026-0004'} is no folder of a quote, but takes its number",
        f"can't read {folder / '2026-0005' / 'record.json'}: No such file or directory",
        f"{folder / '2026-0003'} is missing: there are later ones",
        f"{folder / 'outcomes.csv'} tells of 2026-0002 on 2026-11-01, before it was issued on "
        "2026-11-10",
        f"{folder / 'outcomes.csv'} tells of 2026-0009, which is not there",
        "5 quotes and 2 outcomes checked: 7 faults",
    ]


def test_a_table_of_outcomes_that_can_t_be_read_hides_no_other_fault(folder: Path) -> None:
    (folder / "outcomes.csv").write_text("nonsense\n")
    (folder / "2026-0001" / "record.json").unlink()
    result = run("quotes", "--check", "--quotes", folder)
    assert [line.partition(":")[0] for line in result.stderr.splitlines()] == [
        f"{folder / 'outcomes.csv'}",
        "    it needs date, quote, outcome",
        f"can't read {folder / '2026-0001' / 'record.json'}",
        "3 quotes and 0 outcomes checked",
    ]


def test_the_check_looks_at_all_and_takes_no_day(folder: Path) -> None:
    result = run("quotes", "--check", "--json", "--quotes", folder)
    assert result.exit_code == 2
    assert "--check looks at every quote as it stands; leave the rest out" in result.stderr
    none = run("quotes", "--check", "--quotes", folder / "none")
    assert (none.exit_code, none.stderr) == (
        1,
        f"there is no folder of quotes '{folder / 'none'}'; name it with --quotes [quotes]\n",
    )


# Other formats


def test_a_record_of_the_first_format_is_read_and_the_check_says_what_it_lacks(
    tmp_path: Path,
) -> None:
    shutil.copytree(OLD, tmp_path / "quotes")
    (old,) = list_quotes(tmp_path / "quotes").quotes
    assert (old.record.format, old.record.name) == (1, "2026-0007-R2")
    assert old.record.fingerprint is None
    result = run("quotes", "--check", "--quotes", tmp_path / "quotes")
    assert (
        f"{tmp_path / 'quotes' / '2026-0007-R2'} was written before fingerprints: nothing tells if "
        "it changed\n"
    ) in result.stdout
    assert run("quotes", "--quotes", tmp_path / "quotes").exit_code == 0
    words = ("reprint", "2026-0007", "--into", tmp_path, "--quotes", tmp_path / "quotes")
    assert run(*words).exit_code == 0


@pytest.mark.parametrize(
    ("stated", "told"),
    [
        (3, "can't be read: this record is of format 3; this program reads up to 2: upgrade quot"),
        (0, "can't be read: the format '0' is no whole number from 1 on"),
        ("2", "can't be read: the format '2' is no whole number from 1 on"),
        (True, "can't be read: the format 'True' is no whole number from 1 on"),
    ],
)
def test_a_record_of_another_format_is_refused_in_words(stated: object, told: str) -> None:
    with pytest.raises(RecordError) as caught:
        from_json(json.dumps(RECORD | {"format": stated, "new": "key"}).encode())
    assert str(caught.value).startswith(told)


def old_record(key: str, value: object, *within: str | int) -> bytes:
    """The quote of the first format, which has no fingerprint, with something else in it."""
    content = json.loads((OLD / "2026-0007-R2" / "record.json").read_bytes())
    inner = content
    for name in within:
        inner = inner[name]
    inner[key] = value
    return json.dumps(content).encode()


@pytest.mark.parametrize("share", ["0.081234567", "0.3333333333333333", "1e-30"])
@pytest.mark.parametrize(("key", "within"), [("rate", ("taxes", 0)), ("share", ("deposits", 0))])
def test_a_fraction_is_printed_with_all_the_decimals_it_has(
    key: str, within: tuple[str, int], share: str
) -> None:
    assert sorted(reprinted(from_json(old_record(key, share, *within)))) == [
        "quote.html",
        "quote.xlsx",
    ]


@pytest.mark.parametrize(
    ("key", "within", "value", "told"),
    [
        ("number", (), "\n\t", "number: String should match pattern"),
        ("number", (), "2026-7", "number: String should match pattern"),
        ("rate", ("taxes", 0), "1e-31", "taxes.0.rate: it is a fraction that nobody can mean"),
        ("rate", ("rate",), -1, "rate.rate: Input should be greater than 0"),
        ("net", (), "1e-61", "net: it is a number that nobody can mean"),
    ],
)
def test_what_no_quote_has_is_told_of_a_record_that_nothing_vouches_for(
    key: str, within: tuple[str | int, ...], value: object, told: str
) -> None:
    with pytest.raises(RecordError) as caught:
        from_json(old_record(key, value, *within))
    assert str(caught.value).startswith(f"is no record of a quote: {told}")
