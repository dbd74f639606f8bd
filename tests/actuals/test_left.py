"""What the last jobs left beside the margin planned, worked out by hand."""

from __future__ import annotations

import pytest

from quoter.actuals.account import Account
from quoter.actuals.left import left_by_last
from quoter.analysis.findings import Findings
from quoter.analysis.margins import MarginLine
from quoter.pages.review import review_files
from quoter.pricing.price import Pricing
from tests.actuals.by_hand import account_by_hand
from tests.pages.parsed import Page


@pytest.fixture(scope="module")
def account(small_pricing: Pricing) -> Account:
    return account_by_hand(small_pricing)


@pytest.fixture(scope="module")
def findings(small_pricing: Pricing) -> Findings:
    return Findings(small_pricing)


def line_of(findings: Findings, model: str, option: str) -> MarginLine:
    (found,) = (one for one in findings.margins.at_home if one.key == (model, option))
    return found


def buyer_of(findings: Findings) -> str:
    return str(findings.margins.buyer.id)


# T-1 had one box, whose share is a quarter of 40 + 300 + 60 and all of 4 + 16, which is 120; three
# quarters, 300, are the skiff's own.
@pytest.mark.parametrize(("option", "beyond"), [("box", 120.0), ("", 300.0)])
def test_what_a_job_took_beyond_comes_off_the_margin_planned(
    account: Account, findings: Findings, option: str, beyond: float
) -> None:
    buyer = buyer_of(findings)
    told = left_by_last(account.actuals, findings.margins.at_home, buyer)["skiff", option]
    sale = line_of(findings, "skiff", option).sales[buyer]
    assert told.jobs == ("T-1",)
    assert told.middle == pytest.approx((sale.margin.value - beyond) / sale.net.value)


def test_what_no_finished_job_had_or_nothing_is_known_of_has_none(
    account: Account, findings: Findings
) -> None:
    told = left_by_last(account.actuals, findings.margins.at_home, buyer_of(findings))
    # T-2's hours are shared out to nothing, and T-3 is at work still.
    assert set(told) == {("skiff", "box"), ("skiff", "")}


def test_the_review_shows_it_beside_the_margin(account: Account, findings: Findings) -> None:
    page = Page(review_files(findings, [], account.actuals)["index.html"])
    cells = [cell for cell in page.all("td") if cell.attributes.get("data-key") == "left"]
    told = {cell.text.strip() for cell in cells}
    assert "no job yet" in told
    assert any(words.endswith("(1 job)") for words in told)
    assert "../actuals/index.html" in {a.attributes["href"] for a in page.all("a")}


def test_where_nothing_is_booked_the_review_has_no_such_column(findings: Findings) -> None:
    page = review_files(findings, [])["index.html"]
    assert b'data-key="left"' not in page
    assert b"actuals/index.html" not in page
