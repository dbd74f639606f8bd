"""Quotes end to end of requests that customers saved from the price sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

ASKED = DEMO / "requests" / "from_price_sheet.yaml"
TOLD = """\
Orvesund 6.8 Open for Jörg "Jo" Brackwede: 62,570.40 EUR with tax
it leaves 22,477.01 EUR, 44.5 % of net, above the floor
no buyer is named: the class 'direct' (Sold by the yard) was taken; --buyer ID names another
the customer's note stands on the quote: look at it before it goes out
"""


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def changed(folder: Path, *changes: tuple[str, str]) -> Path:
    text = ASKED.read_text("utf-8")
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    path = folder / "asked.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def record_in(quotes: Path, name: str) -> Record:
    return from_json((quotes / name / "record.json").read_bytes())


@pytest.fixture
def quotes(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


def test_a_request_from_the_price_sheet_needs_only_a_name_at_the_yard(quotes: Path) -> None:
    refused = run("quote", DEMO, ASKED, "--quotes", quotes)
    assert refused.exit_code == 1
    assert refused.stderr == (
        f"{ASKED}:4:1: nobody is named who prepares the quote [missing-key]\n"
        "    date: 2026-11-26\n"
        "    ^\n"
        "    write 'prepared_by', or add --by NAME\n"
        "1 problem; nothing was written\n"
    )
    made = run("quote", DEMO, ASKED, "--quotes", quotes, "--by", "Ilse Maravant")
    folder = quotes / "2026-0001"
    assert made.stdout == f"Prices of 2026-11-26\n{TOLD}{folder}: open {folder / 'quote.html'}\n"
    assert made.stderr == ""
    record = record_in(quotes, "2026-0001")
    assert (record.prepared_by, record.inside.buyer) == ("Ilse Maravant", "direct")
    assert record.with_tax
    assert record.inside.seen is not None
    assert record.inside.seen.total == record.inside.seen.listed == record.total


def test_an_option_outranks_the_file_and_its_fault_is_told_of_the_option(
    tmp_path: Path, quotes: Path
) -> None:
    named = changed(tmp_path, ("market: home", "market: home\nbuyer: area\nprepared_by: Somebody"))
    words = ("quote", DEMO, named, "--quotes", quotes)
    assert run(*words, "--buyer", "contract", "--by", "Ilse Maravant").exit_code == 0
    record = record_in(quotes, "2026-0001")
    assert (record.prepared_by, record.inside.buyer) == ("Ilse Maravant", "contract")
    assert (record.request["prepared_by"], record.request["buyer"]) == ("Ilse Maravant", "contract")
    wrong = run(*words, "--buyer", "contrakt")
    assert wrong.exit_code == 1
    assert wrong.stderr.startswith("--buyer: unknown dealer class 'contrakt' [unknown-id]\n")
    assert "did you mean 'contract'?" in wrong.stderr


def test_a_total_that_is_not_the_list_s_any_more_is_warned_of_and_stops_nothing(
    tmp_path: Path, quotes: Path
) -> None:
    old = changed(
        tmp_path,
        ("62570.40 EUR", "61330.40 EUR"),
        ('"2026-11"', '"2026-09"'),
    )
    for words in ((), ("--buyer", "contract")):  # a dealer's discount makes no difference
        result = run("quote", DEMO, old, "--quotes", quotes, "--by", "Ilse Maravant", *words)
        assert result.exit_code == 0
        assert result.stderr == (
            "warning: the customer saw 61,330.40 EUR on price sheet 2026-09; "
            "at list prices this quote is 62,570.40 EUR (2026-11)\n"
        )
    untold = changed(tmp_path, ("62570.40 EUR", "61330.40 EUR"), ('price_sheet: "2026-11"\n', ""))
    result = run("quote", DEMO, untold, "--quotes", quotes, "--by", "Ilse Maravant", "--dry-run")
    assert result.stderr.startswith("warning: the customer saw 61,330.40 EUR; at list prices")


def test_what_only_the_yard_grants_is_pointed_at_in_a_file_of_the_price_sheet(
    tmp_path: Path, quotes: Path
) -> None:
    own = changed(tmp_path, ("market: home", "market: home\nbuyer: contract\ndiscount: 5 %"))
    words = ("quote", DEMO, own, "--quotes", quotes, "--by", "Ilse Maravant", "--dry-run")
    assert run(*words).stderr == (
        "warning: the price sheet's page never writes 'buyer' and 'discount': "
        "look who did in this request\n"
    )
    assert "writes 'discount': look" in run(*words, "--buyer", "contract").stderr


@pytest.mark.parametrize(
    ("market", "seen"),
    [
        # 45,900 + 710 + 2 * 1,260 + 1,330, the net prices of the home market
        ("trade", "50460.00 EUR"),
        # each of them at 11.68 NOK, rounded up to 100: 536,200 + 8,300 + 2 * 14,800 + 15,600
        ("north", "589700.00 NOK"),
    ],
)
def test_lists_without_tax_are_compared_without_it(
    tmp_path: Path, quotes: Path, market: str, seen: str
) -> None:
    there = changed(tmp_path, ("market: home", f"market: {market}"), ("62570.40 EUR", seen))
    there.write_text(there.read_text("utf-8").replace("language: de\n", ""), encoding="utf-8")
    result = run("quote", DEMO, there, "--quotes", quotes, "--by", "Ilse Maravant")
    assert (result.exit_code, result.stderr) == (0, "")
    record = record_in(quotes, "2026-0001")
    assert record.inside.seen is not None
    assert not record.with_tax
    assert record.inside.seen.listed == record.net


def test_a_requote_has_the_same_buyer_and_name_and_tells_what_is_listed_then(
    tmp_path: Path, quotes: Path
) -> None:
    yard = write_catalogue(tmp_path / "yard", {}, base=DEMO)
    assert run("quote", yard, ASKED, "--quotes", quotes, "--by", "Ilse Maravant").exit_code == 0
    book = yard / "price_book.csv"
    line = "2026-12-01,,open_68,seat_base,1320 EUR,winter list (invented)\n"
    book.write_text(book.read_text("utf-8") + line, encoding="utf-8")
    # The first class of consumers is another one by then.
    classes = (yard / "yard.yaml").read_text("utf-8")
    new = "dealer_classes:\n  - {id: club, name: Club, discount: 10 %, consumer: yes}\n"
    (yard / "yard.yaml").write_text(classes.replace("dealer_classes:\n", new), encoding="utf-8")
    words = ("requote", yard, "2026-0001", "--on", "2026-12-05", "--quotes", quotes, "--revise")
    result = run(*words)
    assert result.exit_code == 0, result.output
    record = record_in(quotes, "2026-0001-R1")
    assert (record.prepared_by, record.inside.buyer) == ("Ilse Maravant", "direct")
    assert record.inside.seen is not None
    # Two seat bases at 60 EUR more, with 24 % tax.
    assert str(record.inside.seen.listed - record.inside.seen.total) == "148.80"
