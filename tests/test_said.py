"""Texts said on the command line end up in records and tables: each is one line of letters."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.cli.prices import reprice_command
from quoter.cli.terminal import on_one_line
from tests.demo import DEMO

SMALL = Path(__file__).parent / "catalogues" / "small"
FAMILY = DEMO / "requests" / "family_weekender.yaml"
DAY = ("--on", "2026-11-20")
RISE = (
    *("rise", SMALL, "--supplier", "x", "--family", "y", "--by", "5 %", "--state", "announced"),
    *("--effective", "2026-11-20", "--dated", "2026-11-20"),
)
OPTIONS: list[tuple[str, tuple[str | Path, ...]]] = [
    ("--by", ("quote", DEMO, FAMILY)),
    ("--approve", ("quote", DEMO, FAMILY)),
    ("--reason", ("quote", DEMO, FAMILY)),
    ("--approve", ("requote", DEMO, "2026-0001", *DAY)),
    ("--reason", ("requote", DEMO, "2026-0001", *DAY)),
    ("--by", ("outcome", "2026-0001", "won", *DAY)),
    ("--reason", ("outcome", "2026-0001", "won", *DAY)),
    ("--note", RISE),
    ("--note", ("reprice", SMALL)),
]
LETTERS = {
    "R. \x1b[31mOlm": "holds a control letter, #x001b; write it on one line without [unprintable]",
    "R.\0Olm": "holds a control letter, #x0000; write it on one line without [unprintable]",
    "R.\nOlm": "holds a line end or a tab, #x000a; write it on one line without [unprintable]",
    "R.\tOlm": "holds a line end or a tab, #x0009; write it on one line without [unprintable]",
    "R.\x85Olm": "holds a control letter, #x0085; write it on one line without [unprintable]",
    "R. \u202eOlm": (
        "holds a mark that turns the direction of writing, #x202e; remove it [unprintable]"
    ),
    "R. \ufffeOlm": "holds a mark that has no print, #xfffe; remove it [unprintable]",
    "R. \udc80Olm": "holds a mark that has no print, #xdc80; remove it [unprintable]",
    "o"
    * 201: f"'{'o' * 59}…' has 201 characters; at most 200 characters fit on its line [too-much]",
    "  ": "has no value; write a text [no-value]",
}


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.mark.parametrize(("option", "words"), OPTIONS, ids=lambda each: str(each)[:40])
def test_a_text_with_what_nobody_sees_is_refused_by_its_option(
    option: str, words: tuple[str | Path, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for text, told in LETTERS.items():
        result = run(*words, option, text)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.splitlines()[-1] == f"Error: Invalid value for '{option}': {told}"
    assert not [*tmp_path.iterdir()]


def test_half_an_approval_is_none(tmp_path: Path) -> None:
    for words in (("--approve", ""), ("--approve", "R. Olm"), ("--approve", "", "--reason", "")):
        result = run("quote", DEMO, FAMILY, "--quotes", tmp_path / "quotes", *words)
        assert result.exit_code == 2
        assert "an approval needs both: --approve NAME --reason TEXT" in result.stderr


def test_blanks_of_a_text_are_single_and_an_empty_note_stays_empty() -> None:
    (note,) = (each for each in reprice_command.params if each.name == "note")
    context = reprice_command.make_context("reprice", [str(SMALL)])
    assert on_one_line(context, note, "  the   winter list ") == "the winter list"
    assert on_one_line(context, note, "") == ""
