"""A changed request priced as a revision: what it changes line by line, and what moved it."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from babel import Locale
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes.differences import changes, moved_lines
from quoter.quotes.kept.record import QuoteLine, Record
from quoter.quotes.kept.record_file import from_json
from quoter.quotes.language import Language
from quoter.quotes.printed.files import reprinted
from quoter.quotes.requote import TOGETHER, requote
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO, demo
from tests.quotes.samples import FULL, REDUCED, line, record

REQUESTS = DEMO / "requests"
FAMILY, CHANGED = REQUESTS / "family_weekender.yaml", REQUESTS / "family_weekender_changed.yaml"
ON = ("--on", "2026-12-05")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def record_in(quotes: Path, name: str) -> Record:
    return from_json((quotes / name / "record.json").read_bytes())


@pytest.fixture(scope="module")
def moved(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A yard whose resin, and the boat's list price, went up after a quote; and the quote."""
    root = tmp_path_factory.mktemp("moved")
    yard, quotes = write_catalogue(root / "yard", {}, base=DEMO), root / "quotes"
    assert run("quote", yard, FAMILY, "--quotes", quotes).exit_code == 0
    resin = "material,supplier,price,note\nresin_lam,dolvane,4.40 EUR/kg,invented\n"
    (yard / "prices" / "2026-12-01.csv").write_text(resin, encoding="utf-8")
    book = yard / "price_book.csv"
    told = "2026-12-01,,weekender_86,,136900 EUR,winter list (invented)\n"
    book.write_text(book.read_text("utf-8") + told, encoding="utf-8")
    return yard, quotes


@cache
def asked(moved: tuple[Path, Path], request: Path) -> dict[str, Any]:
    """What the comparison with a changed request is as data; the same one is not priced twice."""
    yard, quotes = moved
    words = ("requote", yard, "2026-0001", *ON, "--request", request, "--quotes", quotes, "--json")
    result = run(*words)
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    return found


def test_causes_and_lines_add_up_to_every_change_exactly(moved: tuple[Path, Path]) -> None:
    found = asked(moved, CHANGED)
    assert (found["request"], found["compared_with"]) == ("changed", "2026-0001")
    change = Decimal(found["new"]["total"]) - Decimal(found["old"]["total"])
    lines = [Decimal(row["change"].replace(",", "")) for row in found["lines"]]
    assert sum(lines) == change
    causes = {cause: Decimal(share) for cause, share in found["total_causes"].items()}
    assert sum(causes.values()) == change
    # 2,000 EUR more for the boat, with 24 % tax, less 1.5 %.
    assert causes["prices since"] == Decimal("2442.80")
    for what, name in (("cost", "causes"), ("margin", "margin_causes")):
        moved_by = found[what]["new"] - found[what]["old"]
        assert sum(found[name].values()) == pytest.approx(moved_by, abs=1e-9)
    assert found["causes"]["Resin prices"] > 0
    assert found["causes"]["what is asked for"] > 0
    assert found["margin_causes"]["costs since"] == pytest.approx(
        -found["causes"]["Resin prices"], abs=1e-6
    )


def test_what_is_asked_for_is_what_both_requests_differ_by_on_the_same_day(
    moved: tuple[Path, Path], tmp_path: Path
) -> None:
    """The same two requests quoted afresh on the new day differ by that cause alone."""
    yard, _ = moved
    came: list[Record] = []
    for number, request in enumerate((FAMILY, CHANGED), 1):
        text = request.read_text("utf-8").replace("2026-11-25", "2026-12-05")
        text = text.replace("2026-12-01", "2026-12-05")
        if request is CHANGED:
            text += "prepared_by: Ilse Maravant\nbuyer: direct\n"
        fresh = tmp_path / f"{number}.yaml"
        fresh.write_text(text, encoding="utf-8")
        assert run("quote", yard, fresh, "--quotes", tmp_path / "fresh").exit_code == 0
        came.append(record_in(tmp_path / "fresh", f"2026-000{number}"))
    found = asked(moved, CHANGED)
    assert Decimal(found["total_causes"]["what is asked for"]) == came[1].total - came[0].total
    for name, of in (("causes", "cost"), ("margin_causes", "margin")):
        between = getattr(came[1].inside, of) - getattr(came[0].inside, of)
        assert found[name]["what is asked for"] == pytest.approx(float(between), abs=1e-9)


def test_the_same_content_in_a_file_is_the_recorded_request(moved: tuple[Path, Path]) -> None:
    yard, quotes = moved
    by_file = asked(moved, FAMILY)
    recorded = run("requote", yard, "2026-0001", *ON, "--quotes", quotes, "--json")
    assert by_file == json.loads(recorded.stdout)
    assert by_file["request"] == "the same"
    assert "what is asked for" not in by_file["causes"]


def test_the_report_says_what_was_added_and_what_is_gone_and_why(
    moved: tuple[Path, Path],
) -> None:
    yard, quotes = moved
    words = ("requote", yard, "2026-0001", *ON, "--request", CHANGED, "--quotes", quotes)
    lines = [" ".join(row.split()) for row in run(*words).stdout.splitlines()]
    for told in (
        "Orvesund 8.6 Weekender price 167,276.00 169,756.00 +2,480.00",
        "Seat base 1 to 3 1,562.40 4,687.20 +3,124.80",
        "Hull colour deep blue gone 2,343.60 – -2,343.60",
        "Deck hatch added – 1,190.40 +1,190.40",
        "To pay +5,239.81 EUR: what is asked for +2,797.01; prices since +2,442.80.",
    ):
        assert told in lines


def test_the_customer_sees_what_changed_and_the_yard_what_its_margin_did(
    moved: tuple[Path, Path], tmp_path: Path
) -> None:
    yard, quotes = moved
    before = {path.name: path.read_bytes() for path in (quotes / "2026-0001").iterdir()}
    again = tmp_path / "quotes"
    (again / "2026-0001").mkdir(parents=True)
    for name, content in before.items():
        (again / "2026-0001" / name).write_bytes(content)
    words = ("requote", yard, "2026-0001", *ON, "--request", CHANGED, "--quotes", again)
    assert run(*words, "--revise").exit_code == 0
    assert {p.name: p.read_bytes() for p in (again / "2026-0001").iterdir()} == before
    old, new = record_in(again, "2026-0001"), record_in(again, "2026-0001-R1")
    told = {change.what: (change.before, change.after) for change in new.changes}
    assert told["Left out: Insulated storage lid"] == ("€1,264.80", "")
    assert told["Added: Deck hatch"] == ("", "€1,190.40")
    assert told["Seat base: quantity"] == ("1", "3")
    assert told["Seat base"] == ("€1,562.40", "€4,687.20")
    assert told["Total to pay"] == ("€181,111.73", "€186,351.54")
    page = (again / "2026-0001-R1" / "quote.html").read_text("utf-8")
    assert "What changed since quote 2026-0001" in page
    for file, content in reprinted(new).items():
        assert (again / "2026-0001-R1" / file).read_bytes() == content
    book = openpyxl.load_workbook(again / "2026-0001-R1" / "internal.xlsx")
    cells = [cell.value for sheet in book for row in sheet for cell in row]
    assert "Since 2026-0001" in cells
    assert any(
        isinstance(value, int | float) and value == pytest.approx(float(old.inside.margin))
        for value in cells
    )
    # A changed request need not say again who quotes it, nor the class of the buyer.
    assert (new.prepared_by, new.inside.buyer) == ("Ilse Maravant", "direct")
    # The next change is held against the last revision.
    more = run("requote", yard, "2026-0001", "--on", "2026-12-06", "--quotes", again, "--json")
    assert json.loads(more.stdout)["compared_with"] == "2026-0001-R1"


def test_another_market_currency_and_customer_are_priced_and_told(
    moved: tuple[Path, Path], tmp_path: Path
) -> None:
    yard, quotes = moved
    text = CHANGED.read_text("utf-8").replace("market: home", "market: north\nlanguage: nb")
    text = text.replace("name: Torbenia Quell", "name: Haldor Finnevik")
    request = tmp_path / "north.yaml"
    request.write_text(text, encoding="utf-8")
    words = ("requote", yard, "2026-0001", *ON, "--request", request, "--quotes", quotes)
    result = run(*words, "--json")
    assert result.exit_code == 0, result.output
    told = "warning: the request is of Haldor Finnevik, the quote of Torbenia Quell"
    assert told in result.stderr
    found = json.loads(result.stdout)
    assert found["new"]["currency"] != found["old"]["currency"]
    assert found["total_causes"] == {}
    assert {row["change"] for row in found["lines"]} == {""}
    moved_by = found["margin"]["new"] - found["margin"]["old"]
    assert sum(found["margin_causes"].values()) == pytest.approx(moved_by, abs=1e-9)


def test_another_boat_is_gone_and_added_and_still_adds_up(
    moved: tuple[Path, Path], tmp_path: Path
) -> None:
    text = FAMILY.read_text("utf-8").replace("weekender_86", "open_68")
    text = text[: text.index("options:")] + text[text.index("delivery:") :]
    request = tmp_path / "open.yaml"
    request.write_text(text, encoding="utf-8")
    found = asked(moved, request)
    whats = {row["line"]: row["what"] for row in found["lines"]}
    assert whats["Orvesund 8.6 Weekender"] == "gone"
    assert whats["Orvesund 6.8 Open"] == "added"
    change = Decimal(found["new"]["total"]) - Decimal(found["old"]["total"])
    assert sum(Decimal(row["change"].replace(",", "")) for row in found["lines"]) == change
    assert sum(map(Decimal, found["total_causes"].values())) == change
    moved_by = found["cost"]["new"] - found["cost"]["old"]
    assert sum(found["causes"].values()) == pytest.approx(moved_by, abs=1e-9)


def test_a_request_of_before_that_can_t_be_had_any_more_leaves_one_cause(
    moved: tuple[Path, Path],
) -> None:
    yard, quotes = moved
    old = record_in(quotes, "2026-0001")
    ramp = {
        **old.request,
        "options": [{"option": "side_ramp"}],
    }  # which this boat can't be had with
    old = old.model_copy(update={"request": ramp})
    bridged = requote(yard, old, date(2026, 12, 5), None, CHANGED)
    for causes, change in (
        (bridged.causes, bridged.new.inside.cost - old.inside.cost),
        (bridged.margin_causes, bridged.new.inside.margin - old.inside.margin),
        (bridged.total_causes, bridged.new.total - old.total),
    ):
        assert causes == {TOGETHER: change}


def priced(*lines: QuoteLine, **other: Any) -> Record:
    rates = {FULL.id: FULL, REDUCED.id: REDUCED}
    return record(lines, rates=rates, currency="EUR", with_tax=False, **other)


BOAT = line("boat", "Tern Cutter 82", "90000.00")
LESS = line("discount", "Discount of 2%", "-1800.00")


def test_lines_are_matched_by_what_they_are_of_whatever_they_cost_or_are_taxed_at() -> None:
    cleats = line("option", "Pair of cleats", "250.00", 2)
    was = priced(BOAT, cleats, LESS, line("delivery", "Delivery: EXW Sundby", "100.00"))
    now = priced(
        BOAT,
        cleats.model_copy(update={"rate": "reduced", "quantity": 3, "amount": Decimal(750)}),
        LESS.model_copy(update={"name": "Discount of 3%", "amount": Decimal(-2700)}),
        line("delivery", "Delivery: DAP Nordvik", "900.00").model_copy(
            update={"id": was.lines[-1].id}
        ),
    )
    assert [moved.how for moved in moved_lines(was, now)] == ["", "quantity", "price", "price"]
    assert sum(moved.change for moved in moved_lines(was, now)) == now.net - was.net


@pytest.mark.parametrize(
    ("language", "told"),
    [
        ("en", ["Added: 2 × Fender", "Left out: Pair of cleats", "Seat base: quantity"]),
        ("de", ["Hinzugekommen: 2 × Fender", "Entfallen: Pair of cleats", "Seat base: Menge"]),
        ("es", ["Añadido: 2 × Fender", "Suprimido: Pair of cleats", "Seat base: cantidad"]),
        (
            "fr",
            [
                "Ajout\u00a0: 2 × Fender",
                "Suppression\u00a0: Pair of cleats",
                "Seat base\u00a0: quantité",
            ],
        ),
        ("nb", ["Lagt til: 2 × Fender", "Tatt ut: Pair of cleats", "Seat base: antall"]),
    ],
)
def test_a_customer_reads_what_changed_in_their_language(language: str, told: list[str]) -> None:
    seat = line("option", "Seat base", "600.00", 1)
    was = priced(BOAT, seat, line("option", "Pair of cleats", "250.00", 2))
    now = priced(
        BOAT,
        seat.model_copy(update={"quantity": 2, "amount": Decimal(1200)}),
        line("option", "Fender", "80.00", 2),
        delivery=was.delivery.model_copy(update={"term": "DAP", "place": "Nordvik"}),
    )
    found = [*changes(was, now, Language(demo().catalogue, Locale(language)))]
    said = [change.what for change in found]
    assert said[0] == told[2]
    assert said[2:4] == [told[1].replace("Pair", "2 × Pair"), told[0]]
    delivered = next(change for change in found if change.before.startswith("EXW Sundby"))
    assert delivered.after == "DAP Nordvik, Incoterms 2020"
