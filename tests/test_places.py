"""Every message names the file that really holds what it is about, by the way that leads there."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.demo import DEMO
from tests.importing.sheets import bytes_in, mapped, quoter

FAMILY = {
    "materials.yaml": ("    name: Injection resin\n", "    name: Injection resin\n    family: up\n")
}
RISE = (
    *("--supplier", "westpoly", "--family", "up", "--by", "0.10 USD/lb"),
    *("--effective", "2026-12-01", "--state", "confirmed", "--dated", "2026-11-20"),
)


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    """The demonstration without its Norwegian words, and a request elsewhere that asks for them."""
    shutil.copytree(DEMO, tmp_path / "yard")
    (tmp_path / "yard/translations/nb.po").unlink()
    (tmp_path / "asked").mkdir()
    return tmp_path / "yard"


def asked(yard: Path, *changes: tuple[str, str]) -> Path:
    text = (DEMO / "requests/family_weekender.yaml").read_text("utf-8")
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    path = yard.parent / "asked" / "wish.yaml"
    path.write_text(text, "utf-8")
    return path


NORWEGIAN = ("market: home\n", "market: home\nlanguage: nb\n")


def test_a_translation_that_a_quote_lacks_is_missing_in_the_catalogue(yard: Path) -> None:
    result = quoter("quote", yard, asked(yard, NORWEGIAN), "--dry-run")
    assert result.exit_code == 1
    assert result.stderr.endswith(
        f"{yard}/translations/nb.po: the file is missing [translation]\n"
        "    there are no texts of the catalogue in 'nb'; run `quoter translations CATALOGUE "
        "--language nb` and translate it\n"
        "1 problem; nothing was written\n"
    )


def test_a_policy_that_quotes_lack_is_missing_in_the_catalogue(yard: Path) -> None:
    text = (yard / "yard.yaml").read_text("utf-8")
    (yard / "yard.yaml").write_text(text[: text.index("\nquotes:") + 1], "utf-8")
    result = quoter("quote", yard, asked(yard), "--dry-run")
    assert result.exit_code == 1
    assert result.stderr.startswith(f"{yard}/yard.yaml:")
    assert "the yard has no policy for quotes [not-set-up]" in result.stderr


def test_what_is_wrong_with_a_request_is_told_of_the_request(yard: Path) -> None:
    path = asked(yard, ("market: home\n", "market: home\nlanguage: xx\n"))
    result = quoter("quote", yard, path, "--dry-run")
    assert result.exit_code == 1
    assert result.stderr.startswith(f"{path}:5:11: 'xx' is no known language [unknown-language]\n")


def test_what_a_recorded_request_asks_for_in_vain_is_told_of_the_record(tmp_path: Path) -> None:
    catalogue, quotes = tmp_path / "yard", tmp_path / "quotes"
    shutil.copytree(DEMO, catalogue)
    made = quoter("quote", catalogue, asked_of(tmp_path), "--quotes", quotes)
    assert made.exit_code == 0, made.stderr
    record = quotes / "2026-0001" / "record.json"
    # The yard calls the boat otherwise by now.
    for path in (*catalogue.glob("*.yaml"), *catalogue.glob("*.csv")):
        path.write_bytes(path.read_bytes().replace(b"weekender_86", b"weekender_87"))
    result = quoter("requote", catalogue, "2026-0001", "--on", "2026-11-27", "--quotes", quotes)
    assert result.exit_code == 1
    assert result.stderr.startswith(f"{record}:1:1: unknown model 'weekender_86' [unknown-id]\n")


def asked_of(folder: Path) -> Path:
    path = folder / "wish.yaml"
    shutil.copyfile(DEMO / "requests/family_weekender.yaml", path)
    return path


@pytest.mark.parametrize(
    ("option", "words", "told"),
    [
        ("--note", "by \x07 letter", "holds a control letter, #x0007"),
        ("--note", "two lines\nand \x07", "holds a line end or a tab, #x000a"),
        ("--note", "x" * 2001, f"'{'x' * 59}…' has 2001 characters"),
        (
            "--by",
            "0.10 USD/pound",
            "by '0.10 USD/pound' has an unknown unit 'pound' [unknown-unit]",
        ),
        ("--by", "1" + " " * 200_000 + "x", "'1 x' has 200002 characters [too-much]"),
        ("--by", "1" * 1_000_000, f"'{'1' * 59}…' has 1000000 characters [too-much]"),
    ],
)
def test_a_bad_word_of_a_rise_is_told_of_its_option(
    tmp_path: Path, option: str, words: str, told: str
) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    before = bytes_in(catalogue)
    result = quoter("rise", catalogue, *RISE, option, words)
    # What may be on one line is asked of a note before the catalogue is read.
    begins = (
        f"Error: Invalid value for '--note': {told}"
        if option == "--note"
        else f"{option}: {told}\n"
    )
    assert result.exit_code == (2 if option == "--note" else 1)
    assert f"\n{begins}" in f"\n{result.stderr}"
    assert bytes_in(catalogue) == before


def test_a_bad_note_of_a_published_price_is_told_of_its_option(tmp_path: Path) -> None:
    catalogue = tmp_path / "yard"
    shutil.copytree(DEMO, catalogue)
    before = bytes_in(catalogue)
    words = ("--accept", "--unpublished", "--effective", "2026-11-01", "--note", "by \x07 hand")
    result = quoter("reprice", catalogue, *words)
    assert result.exit_code == 2
    assert "\nError: Invalid value for '--note': holds a control letter, #x0007" in result.stderr
    assert bytes_in(catalogue) == before
