"""Quotes end to end: a request, its files, what they must not hold, and the same request later."""

from __future__ import annotations

import io
import json
import re
import zipfile
from html import unescape
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes.kept.archive import FILES
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json
from quoter.quotes.printed.files import reprinted
from tests.accounted import numbers_in
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO, demo, everything_priced

FAMILY = DEMO / "requests" / "family_weekender.yaml"
DEALER = DEMO / "requests" / "northern_dealer.yaml"
FLOOR = re.compile(r"a discount of ([\d.]+) % at most keeps it")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def record_in(quotes: Path, name: str) -> Record:
    return from_json((quotes / name / "record.json").read_bytes())


def request_with(folder: Path, old: str, new: str, base: Path = FAMILY) -> Path:
    text = base.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path = folder / "request.yaml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


@pytest.fixture
def quotes(tmp_path: Path) -> Path:
    return tmp_path / "quotes"


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration's two requests as quotes."""
    folder = tmp_path_factory.mktemp("two") / "quotes"
    for request in (FAMILY, DEALER):
        assert run("quote", DEMO, request, "--quotes", folder).exit_code == 0
    return folder


def test_a_quote_takes_the_next_number_and_says_what_it_comes_to(quotes: Path) -> None:
    result = run("quote", DEMO, FAMILY, "--quotes", quotes)
    assert result.output == (
        "Prices of 2026-11-25\n"
        "Orvesund 8.6 Weekender for Torbenia Quell: 181,111.73 EUR with tax\n"
        "it leaves 62,465.55 EUR, 43.2 % of net, above the floor\n"
        # 1,020 + 1,260 = 2,280 less 3 %, down to tens: 2,210; 70 with 24 % tax are 86.80.
        "worth offering: the package Day fishing ('day_fishing') in place of Insulated storage lid "
        "and Seat base costs 86.80 EUR less at list prices with tax\n"
        f"{quotes / '2026-0001'}: open {quotes / '2026-0001' / 'quote.html'}\n"
    )
    files = sorted(path.name for path in (quotes / "2026-0001").iterdir())
    assert files == sorted(FILES)


def test_a_dry_run_takes_no_number(quotes: Path) -> None:
    result = run("quote", DEMO, FAMILY, "--quotes", quotes, "--dry-run")
    assert result.exit_code == 0
    assert "181,111.73 EUR" in result.output
    assert not quotes.exists()


def test_lines_taxes_and_instalments_add_up_on_paper(two: Path) -> None:
    for name in ("2026-0001", "2026-0002"):
        record = record_in(two, name)
        shown = sum(line.amount for line in record.lines if line.amount is not None)
        assert shown == (record.total if record.with_tax else record.net)
        assert record.net + sum(tax.amount for tax in record.taxes) == record.total
        assert sum(part.amount for part in record.deposits) == record.total


def test_the_family_s_prices_are_those_of_the_price_sheet(two: Path) -> None:
    record = record_in(two, "2026-0001")
    sheet = DEMO.parent / "site" / "en" / "home"
    page = unescape((sheet / "models" / "weekender_86.html").read_text("utf-8"))
    assert record.with_tax
    for line in record.lines:
        if line.kind in ("boat", "option", "package"):
            assert f"€{line.price:,.2f}" in page, line.name


def test_a_dealer_abroad_is_quoted_in_its_currency_without_tax(two: Path) -> None:
    record = record_in(two, "2026-0002")
    assert (record.currency, record.with_tax, record.taxes) == ("NOK", False, ())
    assert record.total == record.net
    assert record.rate is not None
    assert (str(record.rate.rate), str(record.rate.day)) == ("11.68", "2026-11-01")
    (discount,) = (line for line in record.lines if line.kind == "discount")
    listed = sum(
        line.amount for line in record.lines if line.amount is not None and line.kind != "discount"
    )
    assert discount.amount == -listed / 5


def test_a_quote_reprints_to_the_byte_from_its_record_alone(two: Path) -> None:
    for name in ("2026-0001", "2026-0002"):
        for file, content in reprinted(record_in(two, name)).items():
            assert content == (two / name / file).read_bytes(), f"{name}/{file}"


def test_reprint_writes_the_same_bytes_elsewhere(two: Path, tmp_path: Path) -> None:
    result = run("reprint", "2026-0002", "--into", tmp_path / "again", "--quotes", two)
    assert result.exit_code == 0
    for name in ("quote.html", "quote.xlsx"):
        again = (tmp_path / "again" / name).read_bytes()
        assert again == (two / "2026-0002" / name).read_bytes()
    wrong = run("reprint", "2026-0009", "--into", tmp_path / "none", "--quotes", two)
    assert (wrong.exit_code, "no quote '2026-0009'" in wrong.output) == (1, True)
    assert not (tmp_path / "none").exists()


LID = """  - id: fish_lid
"""
REDUCED = """
msgctxt "yard.markets.home.other_taxes.reduced.name"
msgid "VAT"
msgstr "VAT"
"""
HOME_TAX = """    tax: 24 %
    prices: with tax
"""


def test_an_option_of_another_tax_has_a_rate_of_its_own(tmp_path: Path, quotes: Path) -> None:
    """Two rates on one quote; each discount is split by rate, so that each base adds up."""
    yard = write_catalogue(tmp_path / "yard", {}, base=DEMO)
    for file, old, new in (
        ("options.yaml", LID, LID + "    tax: reduced\n"),
        (
            "yard.yaml",
            HOME_TAX,
            HOME_TAX + "    other_taxes: [{id: reduced, name: VAT, rate: 8.1 %}]\n",
        ),
    ):
        text = (yard / file).read_text("utf-8")
        assert text.count(old) == 1
        (yard / file).write_text(text.replace(old, new), encoding="utf-8")
    for words in (yard / "translations").glob("*.po"):
        words.write_text(words.read_text("utf-8") + REDUCED, encoding="utf-8")
    assert run("quote", yard, FAMILY, "--quotes", quotes).exit_code == 0
    record = record_in(quotes, "2026-0001")
    assert [(tax.id, str(tax.rate)) for tax in record.taxes] == [
        ("standard", "0.24"),
        ("reduced", "0.081"),
    ]
    (lid,) = (line for line in record.lines if line.id == "fish_lid")
    assert (lid.rate, str(lid.price)) == ("reduced", "1102.62")  # 1,020 with 8.1 %
    assert len([line for line in record.lines if line.kind == "discount"]) == 2
    for tax in record.taxes:
        amounts = [line.amount for line in record.lines if line.rate == tax.id]
        assert sum(amount for amount in amounts if amount is not None) == tax.base + tax.amount


@pytest.mark.parametrize(
    ("currency", "rate", "step", "exponent"),
    [("JPY", "165.5", "1000", 0), ("BHD", "0.405", "0.5", -3)],
)
def test_a_currency_of_no_or_three_decimals_is_quoted_in_its_own_units(
    tmp_path: Path, quotes: Path, currency: str, rate: str, step: str, exponent: int
) -> None:
    """ISO 4217: the yen has no minor unit, the dinar of Bahrain a thousandth."""
    yard = write_catalogue(tmp_path / "yard", {}, base=DEMO)
    plain = (yard / "yard.yaml").read_text("utf-8").replace("NOK", currency)
    plain = plain.replace(f"step: 100 {currency}", f"step: {step} {currency}")
    (yard / "yard.yaml").write_text(plain, encoding="utf-8")
    book = (yard / "price_book.csv").read_text("utf-8").splitlines(keepends=True)
    kept = "".join(line for line in book if "NOK" not in line)
    (yard / "price_book.csv").write_text(kept, encoding="utf-8")
    rates = (yard / "exchange.csv").read_text("utf-8")
    line = f"2026-09-01,{currency},{rate} {currency}/EUR,invented\n"
    (yard / "exchange.csv").write_text(rates + line, encoding="utf-8")
    result = run("quote", yard, DEALER, "--quotes", quotes)
    assert result.exit_code == 0, result.output
    record = record_in(quotes, "2026-0001")
    assert record.currency == currency
    for line_ in record.lines:
        if line_.amount is not None:
            assert int(line_.amount.as_tuple().exponent) == exponent, line_.name
    assert sum(part.amount for part in record.deposits) == record.total


def unpacked(folder: Path) -> dict[str, str]:
    """Every text of the customer's files, their workbook's parts among them."""
    found = {"quote.html": (folder / "quote.html").read_text("utf-8")}
    with zipfile.ZipFile(io.BytesIO((folder / "quote.xlsx").read_bytes())) as book:
        for part in book.namelist():
            found[part] = book.read(part).decode("utf-8", "replace")
    return found


@pytest.mark.parametrize("name", ["2026-0001", "2026-0002"])
def test_no_cost_margin_supplier_or_note_is_in_the_customer_s_files(two: Path, name: str) -> None:
    record = record_in(two, name)
    # A customer may know what they pay and are quoted, to the last line of it.
    allowed = {str(record.total), str(record.net)}
    for line in record.lines:
        allowed |= {str(amount) for amount in (line.price, line.amount) if amount is not None}
    known = {text for amount in allowed for text in numbers_in(amount.lstrip("-"))}
    inside = {f"{getattr(record.inside, what):.2f}" for what in ("cost", "variable", "margin")}
    inside |= {f"{one.cost:.2f}" for one in record.inside.lines}
    inside |= costs_of_everything()
    suppliers = [str(each.name) for each in demo().catalogue.records.suppliers.values()]
    for part, text in unpacked(two / name).items():
        if part.endswith(("theme1.xml", "styles.xml")):
            continue  # colours and sizes
        plain = unescape(re.sub(r"<[^>]+>", " ", text))  # spaces that group digits stay
        assert set(numbers_in(plain)) & (inside - known) == set(), part
        assert [word for word in suppliers if word.casefold() in plain.casefold()] == [], part
        assert record.source.mark not in plain, part


def costs_of_everything() -> set[str]:
    """What every option costs on every model, and what dealers leave, to the cent."""
    found: set[str] = set()
    for priced in everything_priced():
        figures = [priced.assembly.cost, priced.assembly.variable]
        for sale in priced.sales.values():
            figures += [sale.contribution, sale.margin]
        found |= {f"{abs(figure.value):.2f}" for figure in figures if abs(figure.value) >= 20}
    return found


def test_a_discount_below_the_floor_needs_somebody_to_answer_for_it(
    tmp_path: Path, quotes: Path
) -> None:
    """On what a seller gives alone, which is less, somebody answers for each of them."""
    olm = ("--approve", "Rasmus Olm", "--reason", "fair boat")
    low = request_with(tmp_path, "discount: 1.5 %", "discount: 31 %")
    refused = run("quote", DEMO, low, "--quotes", quotes)
    assert refused.exit_code == 1
    assert "below the floor of 25 %" in refused.output
    assert not list(quotes.glob("*")) if quotes.exists() else True
    most = FLOOR.search(refused.output)
    assert most is not None
    least = request_with(tmp_path, "discount: 1.5 %", f"discount: {most[1]} %")
    kept = run("quote", DEMO, least, "--quotes", quotes, *olm)
    assert kept.exit_code == 0
    assert "above the floor\napproved by Rasmus Olm: discount beyond what a seller" in kept.output
    more = request_with(tmp_path, "discount: 1.5 %", f"discount: {float(most[1]) + 0.1:g} %")
    passed = run("quote", DEMO, more, "--quotes", quotes, "--dry-run", *olm)
    assert "approved by Rasmus Olm: margin below the floor, " in passed.output
    passed = run("quote", DEMO, low, "--quotes", quotes, *olm)
    assert passed.exit_code == 0
    assert "below the floor\napproved by Rasmus Olm: margin below the floor, " in passed.output
    record = record_in(quotes, "2026-0002")
    assert record.inside.approval is not None
    assert record.inside.approval.reason == "fair boat"
    for text in unpacked(quotes / "2026-0002").values():
        assert "Olm" not in text
        assert "fair boat" not in text


def test_a_broken_rule_is_told_in_words_and_nothing_is_written(
    tmp_path: Path, quotes: Path
) -> None:
    both = request_with(tmp_path, "option: fish_lid", "option: side_pair")
    result = run("quote", DEMO, both, "--quotes", quotes)
    assert result.exit_code == 1
    assert "a boat can have one arrangement of side entries" in result.output
    assert "nothing was written" in result.output
    assert not quotes.exists()


def test_the_same_request_later_tells_what_moved_and_why(tmp_path: Path, quotes: Path) -> None:
    yard = write_catalogue(tmp_path / "yard", {}, base=DEMO)
    run("quote", yard, FAMILY, "--quotes", quotes)
    before = (quotes / "2026-0001" / "record.json").read_bytes()
    list_ = "material,supplier,price,note\nresin_lam,dolvane,4.40 EUR/kg,invented\n"
    (yard / "prices" / "2026-12-01.csv").write_text(list_, encoding="utf-8")
    book = yard / "price_book.csv"
    book.write_text(
        book.read_text("utf-8") + "2026-12-01,,weekender_86,,136900 EUR,winter list (invented)\n",
        encoding="utf-8",
    )
    result = run("requote", yard, "2026-0001", "--on", "2026-12-05", "--quotes", quotes, "--json")
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    lines = {row["line"]: row for row in found["lines"]}
    # 2,000 EUR more, with 24 % tax.
    assert lines["Orvesund 8.6 Weekender"]["change"] == "+2,480.00"
    assert lines["Seat base"]["then"] == lines["Seat base"]["now"]
    moved = found["cost"]["new"] - found["cost"]["old"]
    assert sum(found["causes"].values()) == pytest.approx(moved, abs=1e-9)
    assert found["causes"]["Resin prices"] == pytest.approx(moved, abs=1e-6)
    assert (quotes / "2026-0001" / "record.json").read_bytes() == before
    assert sorted(path.name for path in quotes.iterdir() if path.is_dir()) == ["2026-0001"]


def test_a_revision_stands_beside_its_quote_and_says_what_changed(
    tmp_path: Path, quotes: Path
) -> None:
    yard = write_catalogue(tmp_path / "yard", {}, base=DEMO)
    run("quote", yard, FAMILY, "--quotes", quotes)
    book = yard / "price_book.csv"
    line = "2026-12-01,,weekender_86,seat_base,1320 EUR,winter list (invented)\n"
    book.write_text(book.read_text("utf-8") + line, encoding="utf-8")
    words = ("requote", yard, "2026-0001", "--on", "2026-12-05", "--quotes", quotes, "--revise")
    assert run(*words).exit_code == 0
    record = record_in(quotes, "2026-0001-R1")
    assert (record.name, str(record.issued)) == ("2026-0001-R1", "2026-12-05")
    changed = {change.what: (change.before, change.after) for change in record.changes}
    assert changed["Seat base"] == ("€1,562.40", "€1,636.80")
    assert changed["Total to pay"][0] == "€181,111.73"
    page = (quotes / "2026-0001-R1" / "quote.html").read_text("utf-8")
    assert "€1,636.80" in page
    listed = json.loads(run("quotes", yard, "--quotes", quotes, "--json").stdout)
    assert [(each["quote"], each["state"]) for each in listed["quotes"]] == [
        ("2026-0001", "revised"),
        ("2026-0001-R1", "draft"),
    ]


def test_quotes_are_listed_with_what_they_leave_today(two: Path, tmp_path: Path) -> None:
    result = run("quotes", DEMO, "--quotes", two, "--on", "2026-12-01")
    assert result.exit_code == 0
    assert result.output.startswith("Prices of 2026-12-01\n2 quotes on 2026-12-01: 2 draft.\n")
    assert "181,111.73 EUR" in result.output
    late = run("quotes", "--quotes", two, "--on", "2027-03-01")
    assert late.output.startswith("2 quotes on 2027-03-01: 2 expired.\n")
    page = tmp_path / "quotes.html"
    assert run("quotes", "--quotes", two, "--html", page).exit_code == 0
    text = page.read_text("utf-8")
    for word in ("By month of issue", "2026-11", "Core-filled sole panels", "2026-0002"):
        assert word in text
