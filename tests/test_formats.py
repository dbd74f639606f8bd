"""Newer formats are refused in words, older ones read; what JSON's readers differ on is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from quoter import formats
from quoter.catalogue.load import load_catalogue
from quoter.formats import Format, StrictError, read_json
from quoter.problems import CatalogueError
from quoter.quotes.kept.record_file import RecordError, from_json
from quoter.quotes.request import read_request
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

OLD = json.loads(
    (Path(__file__).parent / "quotes" / "kept" / "2026-0007-R2" / "record.json").read_bytes()
)


def test_every_format_is_stated_once_and_says_what_each_number_brought() -> None:
    found = [each for each in vars(formats).values() if isinstance(each, Format)]
    assert len({each.what for each in found}) == len(found) == 8
    for each in found:
        assert each.refusal(each.newest) == ""
        assert all(each.refusal(number) == "" for number in range(1, each.newest + 1))
        assert each.refusal(each.newest + 1) == (
            f"{each.what} is of format {each.newest + 1}; this program reads up to {each.newest}: "
            "upgrade quoter"
        )


@pytest.mark.parametrize("stated", [0, -1, "1", 1.0, True, None])
def test_a_format_that_is_no_number_of_one_is_told(stated: object) -> None:
    assert Format("this", ("the first",)).refusal(stated) == (
        f"the format '{stated}' is no whole number from 1 on"
    )


DEEP = "holds lists within lists beyond all measure"


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "can't be read as JSON, line 1, column 1: Expecting value"),
        (b'{\n"a": 1,}', "can't be read as JSON, line 2, column 8: "),
        (b"\n\xff", "is not in UTF-8, see line 2"),
        (b'{"a": 1, "b": {"c": 1, "c": 2}}', "holds the key 'c' twice"),
        (b"[NaN]", "holds 'NaN', which is no number of JSON"),
        (b"[-Infinity]", "holds '-Infinity', which is no number of JSON"),
        (b"[1e999999]", "holds the number '1e999999', which nobody can mean"),
        (b"9" * 31, f"holds the number '{'9' * 31}', which nobody can mean"),
        (b"9" * 5_000_000, f"holds the number '{'9' * 59}…', which nobody can mean"),
        (b'{"a": ["x", "\\u0000"]}', "holds an unprintable character, #x0000 in a.2"),
        (b'{"a": "\xef\xbf\xbe"}', "holds an unprintable character, #xfffe in a"),
        (b'{"a": {"\\ud800": 1}}', "holds an unprintable character, #xd800 in a"),
        (b'"\\u001b"', "holds an unprintable character, #x001b"),
        (b"[" * 52 + b"]" * 52, DEEP),
        (b"[" * 900 + b"]" * 900, DEEP),
        (b'{"a":' * 1_000_000, DEEP),
    ],
    ids=lambda each: str(each)[:24],
)
def test_what_readers_of_json_differ_on_is_refused_in_words(content: bytes, told: str) -> None:
    """RFC 8259: names within an object should be unique (4), NaN and Infinity are not permitted
    (6), text is in UTF-8 (8.1), lone surrogates make software unpredictable (8.2)."""
    with pytest.raises(StrictError) as caught:
        read_json(content)
    assert str(caught.value).startswith(told)


def test_a_record_of_a_hundred_megabytes_is_told() -> None:
    content = b'{"format": 2, "title": "' + b"o" * 100_000_000 + b'"}'
    with pytest.raises(RecordError) as caught:
        from_json(content)
    assert str(caught.value) == ("was changed after the quote was issued: its fingerprint is gone")


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("total", "1e999999", "is no record of a quote: total: it is a number that nobody can m"),
        ("total", "1e-999999", "is no record of a quote: total: it is a number that nobody can"),
        ("total", "9" * 1000, "is no record of a quote: total: it is a number that nobody can"),
        ("total", "1e15", "is no record of a quote: total: it is a number that nobody can mean"),
        ("revision", 10**7, "is no record of a quote: revision: Input should be less than or eq"),
        ("currency", "€", "is no record of a quote: currency: String should match pattern"),
        ("note", "o" * 10_001, "is no record of a quote: note: String should have at most 10000"),
        ("net", "NaN", "is no record of a quote: net: Input should be a finite number"),
        ("net", "Infinity", "is no record of a quote: net: Input should be a finite number"),
        ("title", "Boat\0", "holds an unprintable character, #x0000 in title"),
        ("terms", ["", "\ufffe"], "holds an unprintable character, #xfffe in terms.2"),
        ("language", "xx-yy", "is in 'xx-yy', a language that nothing is printed in"),
        ("language", "", "is in '', a language that nothing is printed in"),
        ("issued", "2026-02-30", "is no record of a quote: issued: Input should be a valid date"),
        ("lines", {}, "is no record of a quote: lines: Input should be a valid tuple"),
    ],
)
def test_a_record_with_what_nobody_can_print_is_refused(key: str, value: object, told: str) -> None:
    """One of the first format, which has no fingerprint that would tell."""
    content = json.dumps(OLD | {key: value}).encode("utf-8", "surrogatepass")
    with pytest.raises(RecordError) as caught:
        from_json(content)
    assert str(caught.value).startswith(told)


def test_a_catalogue_that_states_its_format_is_read_as_one_that_does_not(tmp_path: Path) -> None:
    plain = write_catalogue(tmp_path / "plain", {})
    text = (plain / "yard.yaml").read_text("utf-8")
    stated = write_catalogue(tmp_path / "stated", {"yard.yaml": f"format: 1\n{text}"})
    first, second = (load_catalogue(folder)[0] for folder in (plain, stated))
    assert [row.price.value for row in first.prices.values()] == [
        row.price.value for row in second.prices.values()
    ]
    assert (first.yard.format, second.yard.format) == (None, 1)


@pytest.mark.parametrize(
    ("stated", "told"),
    [
        (
            "3",
            "request.yaml:1:9: this request is of format 3; this program reads up to 1 "
            "[newer-format]\n"
            "    format: 3\n            ^\n    upgrade quoter",
        ),
        (
            "new",
            "request.yaml:1:9: format 'new' is no format [unknown-word]\n"
            "    format: new\n            ^\n"
            "    write the number of the file's format, for example '1'",
        ),
    ],
)
def test_a_request_of_another_format_is_refused_in_words(
    tmp_path: Path, stated: str, told: str
) -> None:
    text = (DEMO / "requests" / "family_weekender.yaml").read_text("utf-8")
    path = tmp_path / "request.yaml"
    path.write_text(f"format: {stated}\n{text}", encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        read_request(path)
    assert str(caught.value) == told
    path.write_text(f"format: 1\n{text}", encoding="utf-8")
    assert read_request(path).request.format == 1
