"""Prices below cost or floor, far from the one before, or far ahead: one calm line each."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from quoter.cli import main
from quoter.pricing.priced import price_catalogue
from tests.catalogues.edited import SMALL
from tests.catalogues.written import write_catalogue

HEAD = "date,market,model,option,list_price,note\n"
SOUND_HATCH = "2026-02-01,,,hatch,600 EUR,\n"
BOAT = "list_price: 74500 EUR"
FLOOR = "check the price; 'quoter reprice' says what the policy would publish"
MEANT = "if it is meant, begin its note with 'expected: ' and why"
LOOK = f"more than 15 % is worth a look; {MEANT}"


def told(folder: Path, book: str, changes: dict[str, tuple[str, str]] | None = None) -> list[str]:
    """The warnings of the small catalogue with another price book."""
    yard = write_catalogue(folder / "yard", {"price_book.csv": HEAD + book}, changes, SMALL)
    return [f"{p.place.clickable}: {p.what}; {p.hint}" for p in price_catalogue(yard)[1]]


def test_sound_prices_are_not_spoken_of(tmp_path: Path) -> None:
    assert told(tmp_path, SOUND_HATCH) == []


def test_a_price_below_the_floor_is_told_once_at_its_line(tmp_path: Path) -> None:
    """The hatch of two models, two markets and two classes of buyer."""
    assert told(tmp_path, "2026-02-01,,,hatch,440 EUR,\n") == [
        "price_book.csv:2:20: Deck hatch at 440 EUR leaves 42.12 EUR at Dealer, 11.7 % of net: "
        f"below the floor of 15 %; {FLOOR}"
    ]


def test_a_slip_in_a_price_is_below_its_cost(tmp_path: Path) -> None:
    """24 for 2,400, and a boat at 48."""
    slips = told(
        tmp_path, "2026-02-01,,,hatch,24 EUR,\n", {"models.yaml": (BOAT, "list_price: 48 EUR")}
    )
    assert [line.partition(" leaves ")[0] for line in slips] == [
        "models.yaml:20:17: Tern Cutter at 48 EUR",
        "price_book.csv:2:20: Deck hatch at 24 EUR",
    ]
    assert all(f"of net: below its cost; {FLOOR}" in line for line in slips)


def test_a_price_that_is_poor_in_one_market_alone_names_it(tmp_path: Path) -> None:
    book = SOUND_HATCH + "2026-02-01,abroad,,hatch,440 EUR,\n"
    (line,) = told(tmp_path, book)
    assert line.startswith(
        "price_book.csv:3:26: Deck hatch at 440 EUR in the market 'abroad' leaves 42.12 EUR"
    )


def test_a_package_that_saves_too_much_is_told_at_its_saving(tmp_path: Path) -> None:
    text = (SMALL / "options.yaml").read_text("utf-8")
    (saving,) = [line for line in text.split("\n") if "saving:" in line]
    changes = {"options.yaml": ("saving:" + saving.partition("saving:")[2], "saving: 70 %")}
    (line,) = told(tmp_path, SOUND_HATCH, changes)
    assert line.startswith("options.yaml:")
    assert "% of net: below its cost" in line


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("600", "700", "16.7 % more than"),
        ("2400", "600", "75.0 % less than"),
        ("600", "-600", "of the other sign than"),
    ],
)
def test_a_jump_is_told_against_the_price_it_follows(
    tmp_path: Path, before: str, after: str, words: str
) -> None:
    book = f"2026-01-01,,,hatch,{before} EUR,\n2026-02-01,,,hatch,{after} EUR,\n"
    shown = f"{int(before):,}"
    assert (
        f"price_book.csv:3:20: {after} EUR from 2026-02-01 on, {words} the {shown} EUR before it; "
        f"price_book.csv:2:20 has that; {LOOK}"
    ) in told(tmp_path, book)


def test_a_jump_to_come_is_told_and_one_that_is_past_is_not(tmp_path: Path) -> None:
    past = "2025-01-01,,,hatch,60 EUR,\n2025-06-01,,,hatch,590 EUR,\n"
    (line,) = told(tmp_path, f"{past}{SOUND_HATCH}2026-09-01,,,hatch,6000 EUR,\n")
    assert line.startswith("price_book.csv:5:20: 6,000 EUR from 2026-09-01 on, 900.0 % more than")


def test_a_boat_s_first_published_price_follows_the_one_of_its_model(tmp_path: Path) -> None:
    (line,) = told(tmp_path, f"{SOUND_HATCH}2026-02-01,,cutter,,745000 EUR,\n")
    assert line == (
        "price_book.csv:3:21: 745,000 EUR from 2026-02-01 on, 900.0 % more than the 74,500 EUR "
        f"before it; models.yaml:20:17 has that; {LOOK}"
    )


def test_a_jump_within_the_limit_is_not_spoken_of(tmp_path: Path) -> None:
    assert told(tmp_path, "2026-01-01,,,hatch,600 EUR,\n2026-02-01,,,hatch,690 EUR,\n") == []


def test_a_day_far_ahead_is_told_at_its_line(tmp_path: Path) -> None:
    assert told(tmp_path, f"{SOUND_HATCH}2062-02-01,,,hatch,610 EUR,\n") == [
        "price_book.csv:3:1: 2062-02-01 is 13149 days after 2026-02-01, how far the catalogue has "
        "come; check the year"
    ]


def test_a_price_list_far_ahead_is_told_though_it_is_the_newest(tmp_path: Path) -> None:
    yard = write_catalogue(tmp_path / "yard", {"price_book.csv": HEAD + SOUND_HATCH}, base=SMALL)
    lists = yard / "prices"
    (lists / "2062-02-01.csv").write_bytes((lists / "2026-02-01.csv").read_bytes())
    found = [f"{p.place.clickable}: {p.what}" for p in price_catalogue(yard)[1]]
    wanted = "2062-02-01 is 13149 days after 2026-02-01, how far the catalogue has come"
    assert f"prices/2062-02-01.csv: {wanted}" in found


def test_check_build_and_reprice_tell_alike(tmp_path: Path) -> None:
    policy = (
        "  rounding: {step",
        "  repricing: {hold_within: 2 %, largest_step: 8 %}\n  rounding: {step",
    )
    folder = write_catalogue(tmp_path / "yard", {}, {"yard.yaml": policy}, SMALL)
    out = ("--no-site", "--internal", str(tmp_path / "internal"))
    heard = [
        CliRunner().invoke(main, [*words]).stderr
        for words in (
            ("check", str(folder)),
            ("build", str(folder), *out),
            ("reprice", str(folder)),
        )
    ]
    assert "price_book.csv:2:19: warning: Deck hatch at 440 EUR leaves" in heard[0]
    assert heard == [heard[0]] * 3
    strict = CliRunner().invoke(main, ["check", str(folder), "--strict"])
    assert strict.exit_code == 1
