"""The command for a boat's papers: which boats it takes, what it refuses, what it leaves behind."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from tests.demo import DEMO

FAMILY = DEMO / "requests" / "family_weekender.yaml"


def papers(*words: str | Path, into: Path) -> Result:
    said = ["papers", DEMO, *words, "--into", into]
    return CliRunner().invoke(main, [str(word) for word in said])


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture(scope="module")
def quoted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one quote that nobody has decided on."""
    folder = tmp_path_factory.mktemp("sold") / "quotes"
    assert run("quote", DEMO, FAMILY, "--quotes", folder).exit_code == 0
    return folder


def test_a_boat_by_words_gets_one_folder_that_is_printed(tmp_path: Path) -> None:
    words = ("weekender_86", "--option", "seat_base=2", "--colour", "hull_blue", "--job", "B-7")
    result = papers(*words, into=tmp_path / "jobs")
    assert result.exit_code == 0, result.output
    folder = tmp_path / "jobs" / "B-7"
    assert result.stdout == (
        f"Prices of 2026-11-01\n{folder}: open {folder / 'papers.html'} and print it\n"
    )
    assert {path.name for path in folder.iterdir()} >= {"papers.html", "assets"}
    assert [path.name for path in (tmp_path / "jobs").iterdir()] == ["B-7"]
    text = (folder / "papers.html").read_text(encoding="utf-8")
    assert "deep blue" in text
    assert 'src="http' not in text


def test_the_same_boat_has_the_same_number_again_and_another_has_another(tmp_path: Path) -> None:
    def number(*words: str) -> str:
        result = papers("open_68", *words, into=tmp_path)
        assert result.exit_code == 0, result.output
        return Path(result.stdout.partition(":")[0]).name

    first = number("--option", "anchor_lid", "--option", "roof_panel")
    before = (tmp_path / first / "papers.html").read_bytes()
    assert number("--option", "roof_panel", "--option", "anchor_lid=1") == first
    assert (tmp_path / first / "papers.html").read_bytes() == before
    others = {number("--option", "anchor_lid"), number(), number("--boats", "2")}
    assert first not in others
    assert len(others) == 3
    assert all(name.startswith("J-") and len(name) == 10 for name in others)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("weekender_86", "--option", "side_ramp"),
            "--option: the Orvesund 8.6 Weekender can't be had with 'side_ramp'",
        ),
        (
            ("weekender_86", "--option", "side_singel"),
            "did you mean 'side_single'",
        ),
        (
            ("weekender_86", "--option", "side_single", "--option", "side_pair"),
            "a boat can have one arrangement of side entries",
        ),
        (
            ("coastal_98", "--option", "ramp_hoist"),
            "Ramp hoist needs Side entry, fold-down ramp",
        ),
        (
            ("open_68", "--option", "anchor_lid", "--option", "anchor_lid=2"),
            "'anchor_lid' is chosen twice",
        ),
        (("weekender_86", "--colour", "hull_pink"), "can't be had with 'hull_pink'"),
        (("weekender_86", "--colour", "seat_base"), "Seat base is no colour"),
        (("weekender_86", "--option", "anchor_lid"), "is standard on the Orvesund 8.6 Weekender"),
        (("weekender_86", "--option", "seat_base=two"), "'two' is no quantity of 'seat_base'"),
        (("weekender_86", "--option", "seat_base=9"), "at most 4 of Seat base can be fitted"),
    ],
)
def test_a_boat_that_can_t_be_had_is_refused_and_nothing_is_written(
    tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    result = papers(*words, into=tmp_path / "jobs")
    assert result.exit_code == 1
    assert told in result.stderr
    assert result.stderr.endswith("; nothing was written\n")
    assert result.stdout == ""
    assert not (tmp_path / "jobs").exists()


def test_what_is_wrong_with_a_request_is_told_at_its_place(tmp_path: Path) -> None:
    request = tmp_path / "request.yaml"
    text = FAMILY.read_text(encoding="utf-8").replace("fish_lid", "fish_lidd")
    request.write_text(text, encoding="utf-8")
    result = papers("--request", request, into=tmp_path / "jobs")
    assert result.exit_code == 1
    assert f"{request}:13:" in result.stderr
    assert "fish_lidd" in result.stderr
    assert "^" in result.stderr
    assert not (tmp_path / "jobs").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "name one boat: a MODEL, or --request FILE, or --quote NUMBER"),
        (("open_68", "--quote", "2026-0001"), "name one boat: a MODEL, or --request FILE"),
        (("--quote", "2026-0001", "--colour", "hull_blue"), "--option and --colour are of a MODEL"),
        (("open_68", "--release", "Ilse"), "--release is of a --quote"),
        (("open_86",), "unknown model 'open_86': did you mean 'open_68'?"),
        (("open_68", "--job", "a/b"), "'a/b' can't be a job's number: use letters, digits"),
        (("open_68", "--boats", "0"), "0 is not in the range 1<=x<=200"),
    ],
)
def test_words_that_name_no_boat_are_wrong_usage(
    tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    result = papers(*words, into=tmp_path / "jobs")
    assert result.exit_code == 2
    assert told in " ".join(result.stderr.split())
    assert not (tmp_path / "jobs").exists()


def test_a_quote_that_is_not_there_is_told(tmp_path: Path, quoted: Path) -> None:
    words = ("--quote", "2026-0077", "--quotes", quoted)
    result = papers(*words, into=tmp_path / "jobs")
    assert result.exit_code == 1
    assert result.stderr == (
        "no quote '2026-0077': did you mean '2026-0001'?; nothing was written [quotes]\n"
    )


def test_a_quote_that_is_not_won_needs_somebody_who_answers_for_it(
    tmp_path: Path, quoted: Path
) -> None:
    words = ("--quote", "2026-0001", "--quotes", quoted)
    refused = papers(*words, into=tmp_path / "jobs")
    assert refused.exit_code == 1
    assert refused.stderr == (
        "2026-0001 is a draft, not won: write down the order with 'quoter outcome 2026-0001 won "
        "--on DATE', or let somebody answer for it: --release NAME; nothing was written [quotes]\n"
    )
    assert not (tmp_path / "jobs").exists()
    released = papers(*words, "--release", "Ilse Maravant", into=tmp_path / "jobs")
    assert released.exit_code == 0, released.output
    text = (tmp_path / "jobs" / "2026-0001" / "papers.html").read_text(encoding="utf-8")
    assert "Ilse Maravant lets this boat be made all the same." in text


def test_a_won_quote_is_made_as_it_was_sold(tmp_path: Path, quoted: Path) -> None:
    folder = tmp_path / "quotes"
    shutil.copytree(quoted, folder)
    assert (
        run("outcome", "2026-0001", "won", "--on", "2026-12-01", "--quotes", folder).exit_code == 0
    )
    result = papers("--quote", "2026-0001", "--quotes", folder, into=tmp_path / "jobs")
    assert result.exit_code == 0, result.output
    text = (tmp_path / "jobs" / "2026-0001" / "papers.html").read_text(encoding="utf-8")
    assert "No order yet" not in text
    assert "Job number: that of the quote." in text
    for sold in ("Side entry, single", "Transom door", "Insulated storage lid", "deep blue"):
        assert sold in text, sold
    assert "Torbenia" not in text, "the customer is no business of the floor"
    by_request = papers("--request", FAMILY, "--job", "2026-0001", into=tmp_path / "again")
    assert by_request.exit_code == 0, by_request.output
    again = (tmp_path / "again" / "2026-0001" / "papers.html").read_text(encoding="utf-8")
    cut = "Materials by store and day</h2>"
    assert again.partition(cut)[2] == text.partition(cut)[2]


def test_what_somebody_keeps_is_not_written_over(tmp_path: Path) -> None:
    mine = tmp_path / "jobs" / "B-7" / "papers.html"
    mine.parent.mkdir(parents=True)
    mine.write_text("mine", encoding="utf-8")
    result = papers("open_68", "--job", "B-7", into=tmp_path / "jobs")
    assert result.exit_code == 1
    assert "holds files this program did not write, such as papers.html" in result.stderr
    assert mine.read_text(encoding="utf-8") == "mine"
    assert [path.name for path in mine.parent.iterdir()] == ["papers.html"]


def test_papers_of_a_job_take_the_place_of_earlier_ones(tmp_path: Path) -> None:
    first = papers("open_68", "--job", "B-7", into=tmp_path)
    assert first.exit_code == 0
    before = (tmp_path / "B-7" / "papers.html").read_bytes()
    assert papers("open_68", "--job", "B-7", "--boats", "3", into=tmp_path).exit_code == 0
    assert (tmp_path / "B-7" / "papers.html").read_bytes() != before
