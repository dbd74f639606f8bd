"""Every fault a person can make in a catalogue is told at its place, whole and alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.catalogue.broken import (
    BAD,
    SOUND,
    Broken,
    every_broken,
    problems_of,
    read_broken,
    told,
    write_broken,
)

ALL = every_broken()


def test_the_sound_catalogue_has_nothing_to_say() -> None:
    assert told(problems_of(SOUND, None)) == ""


@pytest.mark.parametrize("broken", ALL, ids=lambda broken: broken.name)
def test_a_broken_catalogue_says_exactly_what_is_wrong(broken: Broken, tmp_path: Path) -> None:
    found = problems_of(write_broken(broken, tmp_path), broken.as_of)
    assert broken.expected == told(found)


@pytest.mark.parametrize("broken", ALL, ids=lambda broken: broken.name)
def test_a_message_has_a_place_a_finding_and_a_remedy(broken: Broken, tmp_path: Path) -> None:
    for problems in problems_of(write_broken(broken, tmp_path), broken.as_of).values():
        for problem in problems:
            assert problem.what, problem
            assert problem.hint, problem
            # Of a file as a whole, or one that is not there, the name is the place.
            of_a_file = "file" in problem.what or "price list" in problem.what
            assert problem.place.column or of_a_file, problem


def test_there_are_many_and_the_largest_tells_five_problems_of_four_files() -> None:
    assert len(ALL) >= 40
    (largest,) = (b for b in ALL if b.name == "every_problem_of_every_file_is_told_in_one_run")
    firsts = [line for line in largest.expected.splitlines() if line[:1] not in (" ", "-")]
    assert len(firsts) == 5
    assert len({line.partition(":")[0] for line in firsts}) == 4


def test_an_edit_that_finds_no_place_is_refused(tmp_path: Path) -> None:
    broken = Broken("", "", (("change", "yard.yaml", "nowhere"), ("to", "", "here")), "")
    with pytest.raises(ValueError, match=r"^yard\.yaml holds 0 times: nowhere$"):
        write_broken(broken, tmp_path)


def test_a_broken_catalogue_that_says_nothing_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "silent.txt"
    path.write_text("Why.\n--- delete wages.csv\n", encoding="utf-8")
    with pytest.raises(ValueError, match=r"^silent\.txt: needs a sentence"):
        read_broken(path)


def test_every_file_of_the_folder_is_read() -> None:
    assert len(list(BAD.iterdir())) == len(ALL)
