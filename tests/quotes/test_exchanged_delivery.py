"""What delivery is charged at is in the quote's currency, or exchanged at dated rates and told."""

from __future__ import annotations

from decimal import Decimal
from html import unescape
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

RATES = "\n2026-11-01,JPY,172.5 JPY/EUR,invented\n2026-12-01,JPY,150 JPY/EUR,invented\n"
FAMILY, DEALER = "family_weekender.yaml", "northern_dealer.yaml"


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration yard, which gets rates of the yen too."""
    folder = write_catalogue(tmp_path_factory.mktemp("yen") / "yard", {}, base=DEMO)
    rates = folder / "exchange.csv"
    rates.write_text(rates.read_text("utf-8").rstrip("\n") + RATES, encoding="utf-8")
    return folder


def quoted(yard: Path, folder: Path, request: str, price: str) -> Result:
    """A demonstration request whose delivery is charged at a price, as a quote."""
    text = (DEMO / "requests" / request).read_text("utf-8")
    path = folder / "request.yaml"
    own = "delivery:\n  term: DAP\n  named_place: Tern Harbour\n  edition: Incoterms 2020\n"
    before, _, after = text.partition(own)
    after = after.replace("  price: 1450 EUR\n", "").replace(
        "  words: Handed over on the transport at the guest pier.\n", ""
    )
    path.write_text(f"{before}{after}{own}  price: {price}\n", encoding="utf-8")
    words = ("quote", yard, path, "--quotes", folder / "quotes")
    return CliRunner().invoke(main, [str(word) for word in words])


def record_in(folder: Path) -> Record:
    return from_json((folder / "quotes" / "2026-0001" / "record.json").read_bytes())


@pytest.mark.parametrize(
    ("request_file", "price", "without_tax", "told"),
    [
        (FAMILY, "1450 EUR", "1450", None),
        (FAMILY, "172500 JPY", "1000", "172,500 JPY at 1 EUR = 172.5 JPY of 2026-11-01"),
        (FAMILY, "1168 NOK", "100", "1,168 NOK at 1 EUR = 11.68 NOK of 2026-11-01"),
        (DEALER, "14500 NOK", "14500", None),
        (DEALER, "100 EUR", "1168", "100 EUR at 1 EUR = 11.68 NOK of 2026-11-01"),
        (DEALER, "107.50 USD", "1168", "107.5 USD at 1 EUR = 1.075 USD of 2026-11-01 and "
         "1 EUR = 11.68 NOK of 2026-11-01"),
    ],
)  # fmt: skip
def test_an_amount_is_in_the_quote_s_currency_or_exchanged_and_says_so(
    tmp_path: Path, yard: Path, request_file: str, price: str, without_tax: str, told: str | None
) -> None:
    """By hand: 172,500 JPY / 172.5 is 1,000 EUR; 107.50 USD / 1.075 * 11.68 is 1,168 NOK."""
    result = quoted(yard, tmp_path, request_file, price)
    assert result.exit_code == 0, result.output
    record = record_in(tmp_path)
    (line,) = (each for each in record.lines if each.kind == "delivery")
    tax = Decimal("1.24") if record.with_tax else Decimal(1)
    assert line.amount == Decimal(without_tax) * tax
    assert (str(record.inside.delivery) if record.inside.delivery else None) == told
    said = f"delivery was exchanged: {told}\n"
    assert (said in result.output) == (told is not None)
    book = (tmp_path / "quotes" / "2026-0001" / "internal.xlsx").read_bytes()
    rows = openpyxl.load_workbook(BytesIO(book)).worksheets[0].iter_rows(values_only=True)
    cells = [cell for row in rows for cell in row]
    assert (f"Delivery was exchanged: {told}." in cells) == (told is not None)


def test_a_customer_reads_what_a_third_currency_was_exchanged_from(
    tmp_path: Path, yard: Path
) -> None:
    assert quoted(yard, tmp_path, FAMILY, "172500 JPY").exit_code == 0
    page = (tmp_path / "quotes" / "2026-0001" / "quote.html").read_text("utf-8")
    assert "Exchanged from ¥172,500: 1 EUR = 172.5 JPY (1 November 2026)" in unescape(page)


@pytest.mark.parametrize("request_file", [FAMILY, DEALER])
def test_an_amount_without_a_rate_is_refused_at_its_place(
    tmp_path: Path, yard: Path, request_file: str
) -> None:
    result = quoted(yard, tmp_path, request_file, "1450 GBP")
    assert result.exit_code == 1
    path = tmp_path / "request.yaml"
    at = path.read_text("utf-8").split("\n").index("  price: 1450 GBP") + 1
    currency = "EUR" if request_file == FAMILY else "NOK"
    assert result.output.replace(f"{tmp_path.as_posix()}/", "") == (
        f"request.yaml:{at}:10: no rate for GBP is in force on 2026-11-25 [not-in-force]\n"
        "      price: 1450 GBP\n"
        "             ^\n"
        f"    write the price in {currency}, the quote's currency, or add a rate of GBP to "
        "exchange.csv\n"
        "1 problem; nothing was written\n"
    )
    assert not (tmp_path / "quotes").exists()


def test_a_rate_of_exchange_is_no_discount(tmp_path: Path, yard: Path) -> None:
    base = (DEMO / "requests" / FAMILY).read_text("utf-8")
    path = tmp_path / "request.yaml"
    path.write_text(base.replace("discount: 1.5 %", "discount: 0.02 NOK/EUR"), encoding="utf-8")
    result = CliRunner().invoke(main, ["quote", str(yard), str(path), "--dry-run"])
    assert result.exit_code == 1
    assert "'0.02 NOK/EUR' has a unit where a plain number belongs [plain-number]" in result.output
