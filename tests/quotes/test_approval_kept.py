"""What comes off the list, and where an approval stands after it was given."""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

from quoter.quotes.approval import approval_said, off_list
from quoter.quotes.kept.inside import Approval, Limit
from quoter.quotes.kept.record import QuoteLine, Record, Tax
from quoter.quotes.kept.record_file import from_json, to_json
from tests.demo import DEMO
from tests.quotes.samples import short
from tests.quotes.test_approval import FAMILY, HOW, approved_by, quoted, request_with, run, told_of

# What comes off the list


def lines_of(*amounts: tuple[str, str]) -> Iterator[QuoteLine]:
    for kind, amount in amounts:
        yield QuoteLine.model_construct(kind=kind, amount=Decimal(amount), rate="standard")


def test_off_the_list_is_all_discounts_of_what_stands_before_them() -> None:
    """A credit of an option is its list price; delivery and what is traded in count for nothing."""
    lines = [
        *lines_of(("boat", "1240"), ("standard", "0"), ("option", "248"), ("credit", "-248")),
        *lines_of(("discount", "-248"), ("amount_off", "-124"), ("trade_in", "-500")),
        *lines_of(("delivery", "100")),
    ]
    tax = Tax(id="standard", name="VAT", rate=Decimal("0.24"), base=Decimal(0), amount=Decimal(0))
    within = off_list(lines, [tax], "EUR", with_tax=True)
    assert (within.listed, within.off, within.fraction) == (1000.0, 300.0, 0.3)
    without = off_list(lines, [tax], "EUR", with_tax=False)
    assert (without.listed, without.off, without.fraction) == (1240.0, 372.0, 0.3)


def test_a_limit_is_not_passed_by_the_rounding_of_a_line() -> None:
    """20 % of 3.33 is 0.666, and a quote takes 0.67 off."""
    lines = [*lines_of(("boat", "3.33"), ("discount", "-0.67"))]
    assert not off_list(lines, [], "EUR", with_tax=False).beyond(0.2)
    lines = [*lines_of(("boat", "3.33"), ("discount", "-0.68"))]
    assert off_list(lines, [], "EUR", with_tax=False).beyond(0.2)


# Where it stands afterwards


def test_the_list_of_quotes_tells_who_let_one_pass_what_for_and_why(tmp_path: Path) -> None:
    quotes = tmp_path / "quotes"
    quoted(FAMILY, quotes)
    quoted(request_with(tmp_path, "5 %"), quotes, *approved_by("Jorid Velle"))
    listed = run("quotes", "--quotes", quotes)
    assert listed.output.splitlines()[-1] == (
        "2026-0002 was approved by Jorid Velle (fair boat): discount beyond what a seller gives "
        "alone; limit: 10 % off the list, a margin of 25 %, 200,000 EUR net"
    )
    rows = json.loads(run("quotes", "--quotes", quotes, "--json").output)["quotes"]
    assert [row["approval"] for row in rows] == [
        None,
        {
            "name": "Jorid Velle",
            "reason": "fair boat",
            "passed": ["discount"],
            "off": "0.05",
            "limit": {"most_off": "0.1", "floor": "0.25", "most": "200000.0"},
        },
    ]
    page = tmp_path / "quotes.html"
    run("quotes", "--quotes", quotes, "--html", page)
    text = page.read_text(encoding="utf-8")
    assert "<td>Jorid Velle</td><td>discount beyond what a seller gives alone</td>" in text
    assert "<td>10 % off the list, a margin of 25 %, 200,000 EUR net</td>" in text


def test_the_yard_s_workbook_says_it_in_a_line_each() -> None:
    approval = Approval(
        name="Jorid Velle",
        reason="fair boat",
        passed=("floor", "edition"),
        off=Decimal("0.225"),
        limit=Limit(most_off=Decimal("0.26"), floor=Decimal("0.2")),
    )
    inside = short().inside.model_copy(update={"approval": approval})
    assert approval_said(inside) == (
        "Approved by Jorid Velle: fair boat.",
        "It needed that for: margin below the floor, price sheet that does not hold on the day.",
        "Off the list: 22.5 %.",
        "Limit: 26 % off the list, a margin of 20 %.",
    )


def test_an_approval_of_before_limits_were_kept_was_for_the_floor() -> None:
    """A record as it was written then reads, and its fingerprint still holds."""
    record = short()
    content = json.loads(to_json(record, {}))
    approval = content["inside"]["approval"]
    assert approval.keys() == {"name", "reason", "passed", "off", "limit"}
    old = {key: approval[key] for key in ("name", "reason")}
    read = Record.model_validate(content | {"inside": content["inside"] | {"approval": old}})
    assert read == record.model_copy(update={"fingerprint": read.fingerprint})
    assert approval_said(read.inside)[1] == "It needed that for: margin below the floor."


# Only looked at


def test_pricing_again_without_issuing_needs_no_approval(tmp_path: Path) -> None:
    quotes = tmp_path / "quotes"
    quoted(FAMILY, quotes)
    words = ("requote", DEMO, "2026-0001", "--on", "2027-03-15", "--quotes", quotes)
    looked = run(*words)
    assert looked.exit_code == 0
    assert (
        "warning: to issue it, somebody has to answer for it: the price sheet was valid until "
        "2027-02-28, and is out of date on 2027-03-15\n"
    ) in looked.output
    revised = run(*words, "--revise")
    assert revised.exit_code == 1
    assert told_of(revised) == (
        "this quote needs somebody to answer for it: [approval]\n"
        "- the price sheet was valid until 2027-02-28, and is out of date on 2027-03-15\n"
        f"{HOW}, as 'Rasmus Olm' and 'Jorid Velle' may; nothing was written\n"
    )
    passed = run(*words, "--revise", *approved_by("Jorid Velle"))
    assert passed.exit_code == 0
    assert "approved by Jorid Velle: price sheet that does not hold on the day\n" in passed.output
    record = from_json((quotes / "2026-0001-R1" / "record.json").read_bytes())
    assert record.inside.approval is not None
    assert record.inside.approval.passed == ("edition",)
