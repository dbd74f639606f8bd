"""Where a quote is paid, and how long after the order the boat can be there."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.catalogue.accounts import BankAccount
from quoter.catalogue.source import Text
from quoter.cli import main
from quoter.problems import Place
from quoter.quotes.kept.party import Bank, LeadTime
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.record_file import from_json
from quoter.quotes.parties import accounts_for, promised_too_soon
from quoter.quotes.printed.files import reprinted
from quoter.quotes.printed.shown import ready_words
from tests.demo import DEMO
from tests.quotes.asked import BY, asked, saved
from tests.quotes.samples import SAMPLES, YARD

FAMILY = DEMO / "requests" / "family_weekender.yaml"
NORTH = DEMO / "requests" / "northern_dealer.yaml"
ISSUED = date(2026, 11, 25)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def record_of(request: Path, quotes: Path) -> Record:
    assert run("quote", DEMO, request, "--quotes", quotes).exit_code == 0
    return from_json((quotes / "2026-0001" / "record.json").read_bytes())


def account(currency: str) -> BankAccount:
    told = Text.at(currency, Place("")) if currency else None
    return BankAccount.model_construct(bank=Text.at("Bank", Place("")), currency=told)


def test_a_quote_names_the_accounts_of_its_currency_else_those_of_none_else_all() -> None:
    euro, krone, any_of = account("EUR"), account("NOK"), account("")
    assert accounts_for((euro, krone, any_of), "NOK") == [krone]
    assert accounts_for((euro, krone, any_of), "USD") == [any_of]
    assert accounts_for((euro, krone), "USD") == (euro, krone)
    assert accounts_for((), "EUR") == ()


def test_a_promise_before_the_longest_lead_time_is_told_with_what_needs_it() -> None:
    ramp = LeadTime(weeks=7, of="Side ramp")
    told = promised_too_soon(ISSUED, date(2027, 1, 12), ramp)
    assert told == (
        "delivery is promised for 2027-01-12, 48 days after the quote; Side ramp needs 7 weeks"
    )
    assert promised_too_soon(ISSUED, date(2027, 1, 13), ramp) == ""
    assert promised_too_soon(ISSUED, None, ramp) == ""
    assert promised_too_soon(ISSUED, date(2026, 11, 26), None) == ""


def test_what_takes_longest_is_told_unless_a_day_is_promised() -> None:
    of = SAMPLES["short"](lead_time=LeadTime(weeks=1, of="Side ramp"))
    assert ready_words(of) == "About 1 week after the order; Side ramp takes longest"
    boat = SAMPLES["short"](lead_time=LeadTime(weeks=20))
    assert ready_words(boat) == "About 20 weeks after the order"
    promised = SAMPLES["short"](lead_time=LeadTime(weeks=20), promised=date(2027, 6, 15))
    assert ready_words(promised) == "Promised for 15 June 2027"
    assert ready_words(SAMPLES["short"]()) == ""


def test_a_quote_of_the_demonstration_says_where_to_pay_and_when(tmp_path: Path) -> None:
    record = record_of(NORTH, tmp_path)
    bank = Bank(name="Quayside Savings Bank", iban="NO89 0000 1234 509", bic="QSBKNOM0")
    assert record.yard.banks == (bank,)  # that of kroner, and not the other
    assert (record.yard.tax_number, record.yard.country_code) == ("XO 204 117 358", "XO")
    assert record.yard.registration == "Foretaksregisteret i Orvesund, nr. 4417"
    assert (record.reference, record.scheme.category) == ("FB-2026/118", "AE")
    assert record.lead_time == LeadTime(weeks=26)
    assert record.promised is None


def test_a_promised_day_that_is_too_soon_is_a_warning_and_one_before_the_quote_a_fault(
    tmp_path: Path,
) -> None:
    request = tmp_path / "request.yaml"
    text = FAMILY.read_text("utf-8")
    assert text.count("delivery_date: 2027-06-15") == 1
    request.write_text(text.replace("2027-06-15", "2027-01-31"), encoding="utf-8")
    result = run("quote", DEMO, request, "--quotes", tmp_path / "quotes")
    assert (
        "warning: delivery is promised for 2027-01-31, 67 days after the quote; the boat needs "
        "20 weeks\n"
    ) in result.output
    assert result.exit_code == 0
    request.write_text(text.replace("2027-06-15", "2026-11-24"), encoding="utf-8")
    result = run("quote", DEMO, request, "--quotes", tmp_path / "quotes")
    assert result.exit_code == 1
    assert (
        "delivery is promised for 2026-11-24, before the quote's 2026-11-25 [date-order]"
        in result.output
    )


@pytest.mark.parametrize("size", SAMPLES)
def test_the_page_and_the_workbook_name_account_registration_reference_and_day(size: str) -> None:
    bank = Bank(name="Sundby Bank", iban="DE98 0000 0000 0001 2345 67", bic="SUNDDEM0")
    yard = YARD.model_copy(update={"banks": (bank,), "registration": "Register of Sundby, 77"})
    of = SAMPLES[size](yard=yard, reference="ENQ 118 / b", promised=date(2027, 3, 1))
    page = re.sub(r"\s+", " ", reprinted(of)["quote.html"].decode())
    for text in (bank.name, bank.iban, bank.bic, "Register of Sundby, 77", "ENQ 118 / b"):
        assert text in page
    assert "<dd>Promised for 1 March 2027</dd>" in page


def test_a_record_of_before_prints_no_word_of_what_it_does_not_have() -> None:
    page = reprinted(SAMPLES["short"]())["quote.html"].decode()
    for text in ("IBAN", "Your reference", "Promised for", "About "):
        assert text not in page


def test_another_lead_time_than_the_customer_saw_is_told_to_the_yard(tmp_path: Path) -> None:
    seen = saved(tmp_path, asked({"name": "Jo"}, f"{BY}shown_lead_weeks: 13\n"))
    told = run("quote", DEMO, seen, "--quotes", tmp_path / "quotes")
    assert told.exit_code == 0
    assert "the customer saw a lead time of 13 weeks; it is 14 now" in told.output
    alike = saved(tmp_path, asked({"name": "Jo"}, f"{BY}shown_lead_weeks: 14\n"))
    assert "lead time of" not in run("quote", DEMO, alike, "--quotes", tmp_path / "other").output
