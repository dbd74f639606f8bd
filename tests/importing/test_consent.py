"""What an import does only on somebody's word: leave a line out, let a price jump, correct a list.

The lists and their prices are invented.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import Result

from quoter.importing.moves import Meant
from quoter.importing.prices import import_prices
from quoter.importing.writing import ChangedError, write
from tests.importing.sheets import HEADINGS, as_text, bytes_in, mapped, quoter

DAY = "2026-12-01"
LIST = f"prices/{DAY}.csv"
WESTPOLY = ("--supplier", "westpoly", "--effective", DAY)
FAULTY = (
    HEADINGS,
    ("WP-1188", "Injection resin", None, "auf Anfrage", "lb", "USD"),
    ("WP-2044", "Deep blue", None, "discontinued", "gal", "USD"),
    ("WP-3101-A", "Component A", None, "3.60", "lb", "USD"),
    ("WP-3101-B", "Component B", None, "295/100 lb", "cwt", "USD"),
)
FAULTY_TOLD = """\
p.csv:2:26: no price, but 'auf Anfrage' [no-value]
    WP-1188,Injection resin,,auf Anfrage,lb,USD
                             ^
    ask the supplier; --skip WP-1188 keeps the old price
p.csv:3:20: no price, but 'discontinued' [no-value]
    WP-2044,Deep blue,,discontinued,gal,USD
                       ^
    ask the supplier; --skip WP-2044 keeps the old price
p.csv:4:24: 'polyol' would cost 3.60 USD/lb, 24.1 % more than the 2.90 USD/lb in force [price-jump]
    WP-3101-A,Component A,,3.60,lb,USD
                           ^
    the limit is 15 %: check it, and use --accept WP-3101-A if it is meant
p.csv:5:35: 'cwt' may be two units [unknown-unit]
    WP-3101-B,Component B,,295/100 lb,cwt,USD
                                      ^
    a short one is 100 lb ('short cwt'), a long one 112 lb ('long cwt'): say under 'units' at \
suppliers.yaml:26:7 which is meant
4 problems; nothing was written
"""


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    as_text(Path("p.csv"), FAULTY, ",")
    return mapped(Path("yard"))


def sent(*words: str, file: str = "p.csv") -> Result:
    return quoter("import-prices", "yard", file, *WESTPOLY, *words)


def test_words_for_a_price_a_jump_and_a_unit_of_two_meanings_are_told_together(yard: Path) -> None:
    before = bytes_in(yard)
    result = sent()
    assert (result.exit_code, result.stderr) == (1, FAULTY_TOLD)
    assert bytes_in(yard) == before


def test_what_is_skipped_keeps_its_price_and_one_jump_is_accepted(yard: Path) -> None:
    words = ("--skip", "WP-1188", "--skip", "WP-2044", "--skip", "WP-3101-B")
    refused = sent(*words)
    assert refused.stderr.endswith("1 problem; nothing was written\n")
    assert "[price-jump]" in refused.stderr
    result = sent(*words, "--accept", "WP-3101-A")
    assert result.exit_code == 0, result.output
    assert result.stdout == (
        "Prices of 2026-11-01\n"
        "material  code               old          new   change\n"
        "polyol    WP-3101-A  2.90 USD/lb  3.60 USD/lb  +24.1 %  beyond 15 %\n"
        "\n"
        "Mean change by class: foam +24.1 % (1 price).\n"
        "Skipped, the old price stays: WP-1188 (resin_inj: 'auf Anfrage'), "
        "WP-2044 (gel_blue: 'discontinued'), WP-3101-B (isocyanate: '295/100 lb').\n"
    )
    assert (yard / LIST).read_text() == (
        "material,supplier,price,note\n"
        "polyol,westpoly,3.60 USD/lb,expected: accepted as meant; imported from p.csv\n"
    )


def test_accepting_all_jumps_is_still_one_word_wherever_it_stands(yard: Path) -> None:
    as_text(Path("q.csv"), FAULTY[:1] + FAULTY[3:4], ",")
    for words in (("--accept",), ("--accept", "--dry-run"), ("--accept", "WP-3101-A")):
        assert sent(*words, "--dry-run", file="q.csv").exit_code == 0


def test_a_code_that_the_file_does_not_have_is_told(yard: Path) -> None:
    as_text(Path("q.csv"), FAULTY[:1] + FAULTY[3:4], ",")
    result = sent("--skip", "WP-1188", "--accept", "WP-3101-B", file="q.csv")
    assert result.stderr == (
        "--accept: the file has no line of the code 'WP-3101-B' [unknown-code]\n"
        "    did you mean 'WP-3101-A'?\n"
        "--skip: the file has no line of the code 'WP-1188' [unknown-code]\n"
        "    did you mean 'WP-3101-A'?\n"
        "q.csv:2:24: 'polyol' would cost 3.60 USD/lb, 24.1 % more than the 2.90 USD/lb in force "
        "[price-jump]\n"
        "    WP-3101-A,Component A,,3.60,lb,USD\n"
        "                           ^\n"
        "    the limit is 15 %: check it, and use --accept WP-3101-A if it is meant\n"
        "3 problems; nothing was written\n"
    )


def corrected(price: str, name: str) -> Result:
    as_text(Path(name), (HEADINGS, ("WP-1188", None, None, price, "LB", "USD"),
                         ("WP-2044", None, None, "48.50", "gal", "USD")), ",")  # fmt: skip
    return sent("--corrected", file=name)


def test_a_corrected_list_of_the_same_day_takes_the_place_of_the_first(yard: Path) -> None:
    """By consent alone; what was replaced stands in the note, and every other line as it was."""
    as_text(Path("first.csv"), (HEADINGS, ("WP-1188", None, None, "2.12", "LB", "USD"),
                                ("WP-3101-A", None, None, "2.95", "LB", "USD")), ",")  # fmt: skip
    assert sent(file="first.csv").exit_code == 0
    as_text(Path("second.csv"), (HEADINGS, ("WP-1188", None, None, "2.21", "LB", "USD")), ",")
    before = bytes_in(yard)
    refused = sent("--accept", file="second.csv")
    assert refused.stderr == (
        "second.csv:2:11: 'resin_inj' has a price of 2026-12-01 already, 2.12 USD/lb, and would "
        "have 2.21 USD/lb [already-listed]\n"
        "    WP-1188,,,2.21,LB,USD\n"
        "              ^\n"
        "    prices/2026-12-01.csv:2:1 stays as it is: name another day, or use --corrected if the "
        "supplier corrected its list\n"
        "1 problem; nothing was written\n"
    )
    assert bytes_in(yard) == before
    result = corrected("2.21", "second.csv")
    assert result.exit_code == 0, result.output
    assert result.stdout == (
        "Prices of 2026-12-01\n"
        "material   code             old            new  change\n"
        "resin_inj  WP-1188  2.12 USD/lb    2.21 USD/lb  +4.2 %  corrected\n"
        "gel_blue   WP-2044   47 USD/gal  48.50 USD/gal  +3.2 %\n"
        "\n"
        "Mean change by class: gelcoat +3.2 % (1 price), resin +4.2 % (1 price).\n"
        "Not in the file, the old price stays: WP-3101-A (polyol), WP-3101-B (isocyanate).\n"
    )
    assert result.stderr == (
        "2 prices from 2026-12-01 on written to yard/prices/2026-12-01.csv, 1 of them corrected\n"
    )
    assert corrected("2.19", "third.csv").exit_code == 0
    assert (yard / LIST).read_text() == (
        "material,supplier,price,note\n"
        "resin_inj,westpoly,2.19 USD/lb,imported from third.csv; corrects 2.21 USD/lb "
        "(imported from second.csv; corrects 2.12 USD/lb (imported from first.csv))\n"
        "polyol,westpoly,2.95 USD/lb,imported from first.csv\n"
        "gel_blue,westpoly,48.50 USD/gal,imported from second.csv\n"
    )
    again = sent("--corrected", file="third.csv")
    assert (again.exit_code, again.stderr) == (0, "nothing moved: nothing was written\n")


def test_a_correction_jumps_no_further_than_any_price(yard: Path) -> None:
    assert corrected("2.12", "first.csv").exit_code == 0
    refused = corrected("21.20", "second.csv")
    assert "21.20 USD/lb, 900.0 % more than the 2.12 USD/lb in force [price-jump]" in refused.stderr


def test_a_correction_keeps_every_other_byte_of_the_list(yard: Path) -> None:
    """Line ends, another supplier's line, a note in quotes and columns in another order."""
    old = (
        b"\xef\xbb\xbfsupplier,material,note,price\r\n"
        b'fjordglas,resin_lam,"by phone, ""firm""",3.40 EUR/kg\r\n'
        b"westpoly,resin_inj,,2.12 USD/lb\r\n"
        b"fjordglas,seal,,4.30 EUR/m"
    )
    (yard / LIST).write_bytes(old)
    as_text(Path("q.csv"), (HEADINGS, ("WP-1188", None, None, "2.21", "LB", "USD")), ",")
    assert sent("--corrected", file="q.csv").exit_code == 0
    assert (yard / LIST).read_bytes() == old.replace(
        b",,2.12 USD/lb", b",imported from q.csv; corrects 2.12 USD/lb,2.21 USD/lb"
    )


def test_a_list_that_was_changed_or_removed_meanwhile_is_not_corrected(yard: Path) -> None:
    old = b"material,supplier,price,note\nresin_inj,westpoly,2.12 USD/lb,\n"
    (yard / LIST).write_bytes(old)
    as_text(Path("q.csv"), (HEADINGS, ("WP-1188", None, None, "2.21", "LB", "USD")), ",")
    made = import_prices(
        yard, Path("q.csv"), "westpoly", date(2026, 12, 1), meant=Meant(corrected=True)
    )
    assert made.faults == []
    (yard / LIST).write_bytes(old + b"seal,fjordglas,4.30 EUR/m,\n")
    with pytest.raises(ChangedError, match="was changed meanwhile"):
        write(yard, made.files, made.replaced)
    (yard / LIST).unlink()
    with pytest.raises(ChangedError, match="was changed meanwhile"):
        write(yard, made.files, made.replaced)
    (yard / LIST).write_bytes(old)
    write(yard, made.files, made.replaced)
    assert b"corrects 2.12 USD/lb" in (yard / LIST).read_bytes()
