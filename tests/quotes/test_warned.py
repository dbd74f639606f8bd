"""A quote carries what a check of its day warns of, but for what can't touch it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.pricing.priced import price_catalogue
from quoter.problems import Problem
from quoter.quotes.request import read_request, sound_wish
from quoter.quotes.warned import touching
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

FAMILY = DEMO / "requests" / "family_weekender.yaml"  # a weekender_86 at home, sold directly
LATE = "2027-05-20"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def yard_with(folder: Path, *lines: tuple[str, str], **changes: tuple[str, str]) -> Path:
    """The demonstration with lines at the end of files, and a text replaced in YAML files."""
    yard = write_catalogue(
        folder / "yard", {}, {f"{n}.yaml": change for n, change in changes.items()}, base=DEMO
    )
    for name, line in lines:
        path = yard / name
        path.write_text(f"{path.read_text(encoding='utf-8')}{line}\n", encoding="utf-8")
    return yard


def family(folder: Path, day: str) -> Path:
    path = folder / "request.yaml"
    text = FAMILY.read_text(encoding="utf-8")
    text = text.replace("2026-11-25", day).replace("2027-06-15", "2028-12-15")  # the promised day
    path.write_text(text, encoding="utf-8")
    return path


def told_by_quote(folder: Path, yard: Path, day: str = "2026-11-25") -> list[Problem]:
    asked = read_request(family(folder, day))
    pricing, warnings = price_catalogue(yard, asked.request.date, only=str(asked.request.model))
    return touching(warnings, pricing.catalogue.records, sound_wish(asked, pricing))


def told_by_check(yard: Path, day: str) -> list[Problem]:
    return price_catalogue(yard, date.fromisoformat(day))[1]


@pytest.mark.parametrize("day", ["2026-11-25", LATE, "2028-05-20"])
def test_a_quote_tells_all_that_a_check_of_its_day_does(tmp_path: Path, day: str) -> None:
    """Nothing of the demonstration's is of another boat alone."""
    found = told_by_quote(tmp_path, DEMO, day)
    assert found == told_by_check(DEMO, day)
    assert {each.code for each in found} == (
        {"expired", "stale", "overdue-rise"} if day >= LATE else set()
    )


def test_the_commands_say_it_in_the_same_words(tmp_path: Path) -> None:
    checked = run("check", DEMO, "--as-of", LATE)
    words = ("--dry-run", "--approve", "Rasmus Olm", "--reason", "a trial")
    quoted = run("quote", DEMO, family(tmp_path, LATE), *words, "--quotes", tmp_path / "quotes")
    assert quoted.exit_code == 0
    assert quoted.stderr == checked.stderr
    stale = (
        "16 prices of 'skavrand' are older than 120 days on 2027-05-20, the oldest of 2026-09-01"
    )
    assert quoted.stderr.count("'skavrand'") == quoted.stderr.count(stale) == 1


def test_pricing_again_tells_it_too(tmp_path: Path) -> None:
    quotes = tmp_path / "quotes"
    assert run("quote", DEMO, FAMILY, "--quotes", quotes).exit_code == 0
    checked = run("check", DEMO, "--as-of", LATE)
    again = run("requote", DEMO, "2026-0001", "--on", LATE, "--quotes", quotes)
    assert again.exit_code == 0
    assert again.stderr == (
        f"{checked.stderr}warning: to issue it, somebody has to answer for it: the price sheet "
        f"was valid until 2027-02-28, and is out of date on {LATE}\n"
    )


def test_a_doubtful_measure_is_told_wherever_it_stands(tmp_path: Path) -> None:
    yard = yard_with(tmp_path, ("wages.csv", "2026-11-01,laminator,260 EUR/h,a slip"))
    found = [
        [str(each) for each in told if each.place.file == "wages.csv"]
        for told in (told_by_quote(tmp_path, yard), told_by_check(yard, "2026-11-25"))
    ]
    assert found[0] == found[1]
    assert "wage of 260 EUR/h, and 4 to 100 EUR/h is usual" in found[0][0]


@pytest.mark.parametrize(("id", "told"), [("weekender_86", True), ("coastal_98", False)])
def test_what_stands_in_the_block_of_another_boat_is_left_out(
    tmp_path: Path, id: str, told: bool
) -> None:
    text = (DEMO / "models.yaml").read_text(encoding="utf-8")
    begin = text.index(f"  - id: {id}\n")
    price = next(line for line in text[begin:].splitlines() if line.startswith("    list_price:"))
    yard = yard_with(tmp_path)
    slip = text[:begin] + text[begin:].replace(price, "    list_price: 4800000 EUR", 1)
    (yard / "models.yaml").write_text(slip, encoding="utf-8")
    checked = {each.place.line for each in told_by_check(yard, "2026-11-25")}
    found = {each.place.line for each in told_by_quote(tmp_path, yard)}
    row = slip[: slip.index("4800000 EUR")].count("\n") + 1
    assert (row in checked, row in found) == (True, told)


BOOK = "price_book.csv"


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("2026-11-20,,weekender_86,,48 EUR,the boat itself", True),
        ("2026-11-20,home,weekender_86,,48 EUR,in its market", True),
        ("2026-11-20,,weekender_86,seat_base,4 EUR,an option on it", True),
        ("2026-11-20,trade,weekender_86,,48 EUR,another market", False),
        ("2026-11-20,,coastal_98,,48 EUR,another boat", False),
        ("2026-11-20,,weekender_86,transom_door,4 EUR,an option of a package on it", True),
        ("2026-11-20,,weekender_86,deck_hatch,4 EUR,an option that is not on it", False),
    ],
)
def test_a_published_price_is_told_where_it_may_be_this_quote_s(
    tmp_path: Path, line: str, told: bool
) -> None:
    yard = yard_with(tmp_path, (BOOK, line))
    row = len((yard / BOOK).read_text(encoding="utf-8").splitlines())
    checked = [each for each in told_by_check(yard, "2026-11-25") if each.place.file == BOOK]
    assert row in {each.place.line for each in checked}
    lines = {each.place.line for each in told_by_quote(tmp_path, yard) if each.place.file == BOOK}
    assert (row in lines) is told
