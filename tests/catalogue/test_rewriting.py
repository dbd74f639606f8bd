"""A value is rewritten at its own place, and nothing else of its file is touched.

What a file says is read by PyYAML's own composer in plain Python, not by the program's reading.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.catalogue.rewriting import RewriteError, WrittenFile
from quoter.problems import Place
from tests.demo import DEMO

FILES = sorted(path.name for path in DEMO.glob("*.yaml"))
NUMBERED = re.compile(r"[0-9.]+( ?%| [a-zA-Z]|\Z)")
TEXTS = (
    "41 min [38 to 45 triangular] (17 jobs to 2026-10; median 41 min; was 34 min; timed)",
    "9.5 min/m",
    "12 %",
    'the "best" of it\'s kind',
    "a: b # c, {d} \\ e",
)


def scalars_of(text: str) -> list[yaml.ScalarNode]:
    """Every scalar of a file in order, keys among them; what an alias repeats stands once."""
    found: list[yaml.ScalarNode] = []
    seen: set[int] = set()

    def walk(node: yaml.Node) -> None:
        if id(node) in seen:
            return
        seen.add(id(node))
        if isinstance(node, yaml.ScalarNode):
            found.append(node)
        elif isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                walk(key)
                walk(value)
        else:
            for item in node.value:
                walk(item)

    root = yaml.compose(text, Loader=yaml.SafeLoader)
    assert root is not None
    walk(root)
    return found


@cache
def numbers_of(name: str) -> list[tuple[int, Place]]:
    """Every value of a file that begins with a number: which scalar it is, and its place."""
    text = (DEMO / name).read_bytes().decode()
    return [
        (at, Place(name, node.start_mark.line + 1, node.start_mark.column + 1))
        for at, node in enumerate(scalars_of(text))
        if NUMBERED.match(node.value) and node.start_mark.line == node.end_mark.line
    ]


EVERY = [(name, at) for name in FILES for at in range(len(numbers_of(name)))]


@settings(deadline=None, max_examples=60, derandomize=True, database=None)
@given(which=st.sampled_from(EVERY), text=st.sampled_from(TEXTS))
def test_any_number_of_the_demonstration_is_rewritten_and_no_other_line_moves(
    which: tuple[str, int], text: str
) -> None:
    name, number = which
    at, place = numbers_of(name)[number]
    before = (DEMO / name).read_bytes()
    after = WrittenFile(name, before).rewritten({place: text})
    old, new = before.decode().split("\n"), after.decode().split("\n")
    assert len(old) == len(new)
    assert [n for n, (a, b) in enumerate(zip(old, new, strict=True), 1) if a != b] == [place.line]
    assert new[place.line - 1].startswith(old[place.line - 1][: place.column - 1])
    values = [node.value for node in scalars_of(before.decode())]
    values[at] = text
    assert [node.value for node in scalars_of(after.decode())] == values


@pytest.mark.parametrize("name", FILES)
def test_all_numbers_of_a_file_at_once_and_back_again_give_the_same_bytes(name: str) -> None:
    before = (DEMO / name).read_bytes()
    file = WrittenFile(name, before)
    places = [place for _, place in numbers_of(name)]
    assert places
    new = {place: f"{n} min [1 to {n + 9}] (n {n})" for n, place in enumerate(places, 1)}
    after = file.rewritten(new)
    values = [node.value for node in scalars_of(before.decode())]
    for (at, _), text in zip(numbers_of(name), new.values(), strict=True):
        values[at] = text
    nodes = scalars_of(after.decode())
    assert [node.value for node in nodes] == values
    # Back again: each at the place that it has now.
    there = WrittenFile(name, after)
    back = {
        Place(name, nodes[at].start_mark.line + 1, nodes[at].start_mark.column + 1): file.token(old)
        for at, old in numbers_of(name)
    }
    assert there.rewritten(back, tokens=True) == before


LINES = [
    "# a comment: 9 min",
    "fixed: 9 min   # timed: twice",
    "rates: {perimeter: 9 min/m, each: '4 min', none: \"5 min\"}",
    "usual: &usual",
    "  fixed: &time 12 min (timed)",
    "other: *usual",
    "again: *time",
    "é: 3 h",
    "last: 7 kg",
]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("begins", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ends", ["", "\n"])
def test_line_ends_mark_and_last_line_stay(end: str, begins: bytes, ends: str) -> None:
    def raw(lines: list[str]) -> bytes:
        return begins + (end.join(lines) + ends.replace("\n", end)).encode()

    file = WrittenFile("x.yaml", raw(LINES))
    after = file.rewritten(
        {
            Place("x.yaml", 2, 8): "8 min [7 to 9] (4 jobs)",
            Place("x.yaml", 3, 20): "8 min/m [7 to 9]",
            Place("x.yaml", 3, 35): "it's 5",
            Place("x.yaml", 5, 10): "13 min",
            Place("x.yaml", 8, 4): "2 h",
            Place("x.yaml", 9, 7): "8 kg",
        }
    )
    lines = list(LINES)
    lines[1] = "fixed: 8 min [7 to 9] (4 jobs)   # timed: twice"
    lines[2] = "rates: {perimeter: \"8 min/m [7 to 9]\", each: 'it''s 5', none: \"5 min\"}"
    lines[4], lines[7], lines[8] = "  fixed: &time 13 min", "é: 2 h", "last: 8 kg"
    assert after == raw(lines)


@pytest.mark.parametrize(
    ("text", "place", "value", "told"),
    [
        ("a: |\n  9 min\n", (1, 4), "8 min", "stands on several lines; write it on the line of"),
        ("a: >-\n  9 min\n", (1, 4), "8 min", "stands on several lines"),
        ("a: 9\n  min\n", (1, 4), "8 min", "stands on several lines"),
        ('a: "9\n  min"\n', (1, 4), "8 min", "stands on several lines"),
        ("a:\nb: 9 min\n", (1, 3), "8 min", "no value stands there"),
        ("a: 9 min\n", (7, 1), "8 min", "no value stands there"),
        ("a: [1, 2]\n", (1, 4), "8 min", "no value stands there"),
        ("a: 9 min\n", (1, 4), "8\nmin", "is no value on one line"),
        ("a: 9 min\n", (1, 4), " ", "is no value on one line"),
        ("a: 9 min\n", (1, 4), "8\x07", "is no value on one line"),
    ],
)
def test_what_cant_be_rewritten_is_refused_with_its_place(
    text: str, place: tuple[int, int], value: str, told: str
) -> None:
    at = Place("x.yaml", *place)
    with pytest.raises(RewriteError, match=re.escape(told)) as refused:
        WrittenFile("x.yaml", text.encode()).rewritten({at: value})
    assert str(refused.value).startswith(f"x.yaml:{place[0]}:{place[1]}: ")


def test_a_value_put_back_by_hand_without_quotes_gets_those_it_needs() -> None:
    file = WrittenFile("x.yaml", b'a: {b: "9 min [8 to 10]", c: 1 h}\n')
    back = file.rewritten({Place("x.yaml", 1, 8): "7 min [6 to 8]"}, tokens=True)
    assert back == b'a: {b: "7 min [6 to 8]", c: 1 h}\n'


def test_files_of_the_demonstration_have_hundreds_of_numbers() -> None:
    assert len(EVERY) > 800
    assert Path(DEMO).is_dir()
