"""A law of the door: whatever a person writes into a catalogue, it loads or says what is wrong."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from quoter.catalogue.load import load_catalogue
from quoter.costing.rollup import roll_up
from quoter.problems import CatalogueError, Problem, Problems
from quoter.resources import demo_catalogue_folder
from tests.catalogue.broken import SOUND

Files = dict[str, str]

TRAPS = (
    *("no", "yes", "~", "12:30", "010", "1e3", "0", "-1", "2026-02-30", "1,5", ".", "", " "),
    *("[]", "{}", "[a]", "{a: b}", "- x", "a: b", "&a x", "*a", "|", ">", "<<", "'", '"', "#"),
    *("100 %", "0 %", "0.000001 kg", "99999999999 kg", "5 kg", "3 h", "2 m", "4 m2", "9 m3"),
    *("1 EUR", "1 USD", "1 EUR/kg", "1 EUR/drum", "5 each", "2 min/m", "50 kPa", "hull", "lid"),
    *("5 kg [4 to 6]", "5 [4 to Infinity]", "5 kg [sNaN to 6]", "30 % [20 to 40 triangular]"),
    *("\t", "\x00", "\x07", "\x85", "\u2028", "\ufffe", "é", "帆", "\\", "%", "@", "`"),
)
# Words of another library have no place in a message.
FOREIGN = re.compile(r"pydantic|validation|Input should|Value error|Traceback", re.IGNORECASE)


def read(folder: Path) -> Files:
    paths = (path for path in sorted(folder.rglob("*")) if path.suffix in (".yaml", ".csv"))
    return {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in paths}


CATALOGUES = {"sound": read(SOUND), "demo": read(demo_catalogue_folder())}


@st.composite
def scribbles(draw: st.DrawFn, files: Files) -> Files:
    """The files after a few slips of the hand."""
    broken = dict(files)
    for _ in range(draw(st.integers(1, 3))):
        name = draw(st.sampled_from(sorted(broken)))
        if draw(st.integers(0, 40)) == 40:
            del broken[name]
        else:
            broken[name] = draw(slips(broken[name]))
    return broken


@st.composite
def slips(draw: st.DrawFn, text: str) -> str:
    """The text with lines lost, doubled or swapped, or a value or a letter replaced."""
    lines = text.split("\n")
    at = draw(st.integers(0, len(lines) - 1))
    other = draw(st.integers(0, len(lines) - 1))
    kind = draw(st.sampled_from(["lose", "double", "swap", "move", "value", "value", "letter"]))
    if kind == "lose":
        del lines[at : at + draw(st.integers(1, 6))]
    elif kind == "double":
        lines.insert(at, lines[at])
    elif kind == "swap":
        lines[at], lines[other] = lines[other], lines[at]
    elif kind == "move":
        lines.insert(other, lines.pop(at))
    elif kind == "value":
        lines[at] = draw(replaced(lines[at], r"(?<=[:,\[] )[^,\[\]{}]+|(?<=,)[^,]*"))
    else:
        lines[at] = draw(replaced(lines[at], r"."))
    return "\n".join(lines)


def replaced(line: str, pattern: str) -> st.SearchStrategy[str]:
    """The line with one thing in it replaced by a trap, or by anything at all."""
    spots = [match.span() for match in re.finditer(pattern, line)] or [(len(line), len(line))]
    instead = st.sampled_from(TRAPS) | st.text(max_size=4)
    return st.builds(
        lambda spot, words: line[: spot[0]] + words + line[spot[1] :],
        st.sampled_from(spots),
        instead,
    )


def write(files: Files, folder: Path) -> None:
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        # Lone surrogates can't be written as UTF-8; a person's editor might, wrongly.
        (folder / name).write_bytes(text.encode("utf-8", "surrogatepass"))


def said_of(folder: Path) -> Iterator[Problem]:
    """Every problem and warning of reading and costing; anything but them is a crash."""
    problems = Problems()
    try:
        catalogue, warnings = load_catalogue(folder)
    except CatalogueError as stopped:
        yield from stopped.problems
        return
    yield from warnings
    roll_up(catalogue, problems)
    yield from problems.errors


@pytest.mark.parametrize(("name", "examples"), [("sound", 250), ("demo", 25)])
def test_a_scribbled_catalogue_loads_or_says_what_is_wrong(name: str, examples: int) -> None:
    """Whatever is lost, doubled, moved or misspelt, no other exception comes out, and every
    message has a file, a finding and advice, in words of our own, each on one line."""

    @settings(max_examples=examples, suppress_health_check=list(HealthCheck))
    @given(files=scribbles(CATALOGUES[name]))
    def law(files: Files) -> None:
        with tempfile.TemporaryDirectory() as folder:
            write(files, Path(folder))
            for problem in said_of(Path(folder)):
                assert problem.place.file
                assert not FOREIGN.search(f"{problem.what} {problem.hint}")
                for words in (problem.what, problem.hint):
                    assert words.strip() == words != ""
                    assert "\n" not in words

    law()


@given(raw=st.binary(max_size=60), name=st.sampled_from(sorted(CATALOGUES["sound"])))
def test_a_file_of_any_bytes_is_read_or_refused(raw: bytes, name: str) -> None:
    """A file may hold anything: a picture, another encoding, the half of a download."""
    with tempfile.TemporaryDirectory() as folder:
        write(CATALOGUES["sound"], Path(folder))
        (Path(folder) / name).write_bytes(raw)
        found: list[Any] = list(said_of(Path(folder)))
        assert found or raw.strip() == b""
