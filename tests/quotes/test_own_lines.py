"""What a request brings of its own, takes off and offers beside: on the quote and in the margin."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from html import unescape
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError
from quoter.quotes import QuoteError
from quoter.quotes.differences import changes
from quoter.quotes.draft import Draft, draft_of, record_of
from quoter.quotes.kept.record import QuoteLine, Record
from quoter.quotes.line_prices import split_in_proportion
from quoter.quotes.printed.files import files_of
from quoter.quotes.printed.shown import shown_of
from quoter.quotes.request import read_request, sound_wish

BASE = """\
date: 2026-11-25
prepared_by: Ilse Maravant
market: home
buyer: direct
customer: {name: Nerina Oldholm}
model: weekender_86
"""
ENGINE = "  - {name: Engine, price: 20000 EUR, cost: 17000 EUR}\n"
TAKEN = "  - {name: Old boat, trade_in: yes, price: 14500 EUR, worth: 12900 EUR}\n"
HOURS = "  - {name: Rigging, quantity: 12.5 h, price: 68 EUR, cost: 41 EUR}\n"
AWNING = "  - {name: Awning, price: 1000 EUR, cost: 600 EUR, discounted: yes}\n"
SHOW = "amounts_off:\n  - {name: Show, amount: 1500 EUR}\n"


def drafted(
    folder: Path, pricing: Pricing, more: str, base: str = BASE, *, issued: bool = True
) -> Draft:
    path = folder / "request.yaml"
    path.write_text(base + more, encoding="utf-8")
    return draft_of(pricing, sound_wish(read_request(path), pricing), "mark", None, issued=issued)


def quoted(folder: Path, pricing: Pricing, more: str, base: str = BASE) -> Record:
    return record_of(drafted(folder, pricing, more, base), "2026-0001")


def told(folder: Path, pricing: Pricing, more: str) -> str:
    with pytest.raises(CatalogueError) as fault:
        drafted(folder, pricing, more)
    return "\n".join(f"{p.place.line}: {p.what}; {p.hint}" for p in fault.value.problems)


def amounts(lines: Iterable[QuoteLine], kind: str) -> list[str]:
    return [str(line.amount) for line in lines if line.kind == kind]


def test_lines_of_a_request_s_own_are_priced_with_the_tax_of_the_quote(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    """24 %: 20,000 is 24,800; 12.5 h at 68 are at 84.32 an hour; a part exchange bears no tax."""
    record = quoted(tmp_path, demo_pricing, f"extra_lines:\n{ENGINE}{HOURS}{TAKEN}")
    assert amounts(record.lines, "extra") == ["24800.00", "1054.00"]
    assert amounts(record.lines, "trade_in") == ["-14500.00"]
    hours = next(line for line in record.lines if line.hours)
    assert (hours.quantity, hours.price, hours.id) == (Decimal("12.5"), Decimal("84.32"), "line.2")
    (tax,) = record.taxes
    assert record.total == Decimal("167276.00") + 24800 + 1054 - 14500
    assert tax.base + tax.amount == record.total + 14500
    assert [line.kind for line in record.lines][-1] == "trade_in"


def test_discounts_come_off_what_they_are_for_and_delivery_is_apart(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    """2 % of 167,276 + 1,240 is 3,370.32; then 1,500 comes off as it was promised, with tax."""
    record = quoted(
        tmp_path,
        demo_pricing,
        f"discount: 2 %\nextra_lines:\n{AWNING}{ENGINE}{SHOW}"
        "delivery: {term: DAP, named_place: Tern Harbour, price: 1000 EUR}\n",
    )
    assert record.subtotal == Decimal("168516.00")
    assert amounts(record.lines, "discount") == ["-3370.32"]
    assert amounts(record.lines, "amount_off") == ["-1500.00"]
    sections = [(each.kind, each.subtotal) for each in shown_of(record).sections]
    assert sections == [
        ("boat", None),
        ("standard", None),
        ("extras", record.subtotal),
        ("discounts", None),
        ("apart", None),
        ("delivery", None),
    ]
    assert record.total == Decimal("168516.00") - Decimal("4870.32") + 24800 + 1240


def test_a_quote_of_the_catalogue_alone_has_no_subtotal(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    record = quoted(tmp_path, demo_pricing, "")
    assert (record.subtotal, record.offered) == (None, ())


@given(
    st.integers(0, 10**9),
    st.dictionaries(st.text(max_size=3), st.integers(-(10**9), 10**9), min_size=1, max_size=5),
)
def test_an_amount_is_split_to_the_cent_in_proportion(cents: int, weights: dict[str, int]) -> None:
    whole = sum(weight for weight in weights.values() if weight > 0)
    if not whole:
        return
    amount = Decimal(cents).scaleb(-2)
    parts = split_in_proportion(amount, {k: Decimal(w) for k, w in weights.items()}, "EUR")
    assert sum(parts.values()) == amount
    for name, part in parts.items():
        assert weights[name] > 0
        assert abs(part - amount * weights[name] / whole) <= Decimal("0.01")


def test_the_margin_holds_what_is_not_in_the_catalogue(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    """By hand: the engine brings 20,000 and costs 17,000, 12.5 h bring 850 and cost 512.50; 1,600
    beyond its worth is lost on the old boat, and 1,500 / 1.24 by the amount off."""
    plain = quoted(tmp_path, demo_pricing, "discount: 2 %\n").inside
    inside = quoted(
        tmp_path, demo_pricing, f"discount: 2 %\nextra_lines:\n{ENGINE}{HOURS}{TAKEN}{SHOW}"
    ).inside
    off = Decimal(1500) / Decimal("1.24")
    assert float(inside.net) == pytest.approx(float(plain.net + 20000 + 850 - 1600 - off))
    assert float(inside.cost) == pytest.approx(float(plain.cost) + 17000 + 512.5)
    kept = 1 - float(demo_pricing.terms.provisions.value)
    assert float(inside.margin) == pytest.approx(float(inside.net) * kept - float(inside.cost))
    own = {line.id: (float(line.net), float(line.cost)) for line in inside.lines if line.own}
    assert own == {
        "line.1": (20000.0, 17000.0),
        "line.2": (68.0, 41.0),
        "line.3": (-1600.0, 0.0),
        "off.1": (pytest.approx(-float(off)), 0.0),
    }


def test_the_largest_discount_keeps_the_floor_beside_lines_without_discount(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    more = f"extra_lines:\n{ENGINE}{TAKEN}{SHOW}"
    most = drafted(tmp_path, demo_pricing, f"discount: 1 %\n{more}").account.most.value
    discount = f"discount: {(most - 1e-6) * 100:.6f} %\n"
    kept = drafted(tmp_path, demo_pricing, discount + more, issued=False)
    assert kept.account.margin_fraction.value == pytest.approx(
        demo_pricing.terms.floor.value, abs=1e-5
    )
    with pytest.raises(QuoteError, match="below the floor"):
        drafted(tmp_path, demo_pricing, f"discount: {(most + 1e-5) * 100:.6f} %\n{more}")


def test_more_can_t_come_off_than_there_is(tmp_path: Path, demo_pricing: Pricing) -> None:
    more = "amounts_off:\n  - {name: Slip, amount: 1500000 EUR}\n"
    with pytest.raises(QuoteError) as fault:
        drafted(tmp_path, demo_pricing, more)
    assert str(fault.value).endswith(
        "request.yaml:8:26: 1,500,000.00 EUR can't come off: only 167,276.00 EUR are left of what "
        "discounts are for"
    )


OFFERED = """\
options:
  - {option: side_single}
offered:
  - {option: fish_lid}
  - {option: side_pair}
  - {name: Trailer, text: Two axles., price: 8450 EUR}
"""


def test_extras_are_offered_beside_with_their_rules_and_in_no_sum(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    with_them = quoted(tmp_path, demo_pricing, OFFERED)
    without = quoted(tmp_path, demo_pricing, OFFERED.partition("offered:")[0])
    assert with_them.model_copy(update={"offered": (), "request": {}}) == without.model_copy(
        update={"request": {}}
    )
    found = {line.name: (line.amount, line.condition) for line in with_them.offered}
    assert found["Trailer"] == (Decimal("10478.00"), "")
    conditions = [condition for _, condition in found.values() if condition]
    assert conditions == ["Only in place of Side entry, single"]


def test_what_is_said_of_a_customer_s_extras_is_on_page_and_sheet_and_no_cost_is(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    draft = drafted(tmp_path, demo_pricing, f"extra_lines:\n{ENGINE}{HOURS}{TAKEN}{SHOW}{OFFERED}")
    files = files_of(draft, record_of(draft, "2026-0001"))
    page = unescape(files["quote.html"].decode())
    book = openpyxl.load_workbook(BytesIO(files["quote.xlsx"]))
    cells = "\n".join(str(cell.value) for sheet in book for row in sheet for cell in row)
    for words in (
        *("Engine", "12.5 h", "Part exchange", "Old boat", "Subtotal", "Show", "Trailer"),
        *("Not included; can be added", "Only in place of Side entry, single"),
    ):
        assert words in page
        assert words in cells
    for secret in ("12,900", "12900", "17,000", "17000", "worth"):
        assert secret not in page
        assert secret not in cells


def test_a_line_is_found_again_in_a_revision_wherever_it_stands(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    old = quoted(tmp_path, demo_pricing, f"extra_lines:\n{HOURS}{ENGINE}")
    dearer = ENGINE.replace("20000", "21000")
    draft = drafted(tmp_path, demo_pricing, f"extra_lines:\n{dearer}{HOURS}")
    new = record_of(draft, "2026-0001", 1)
    found = [(each.what, each.before, each.after) for each in changes(old, new, draft.language)]
    assert found[0] == ("Engine", "€24,800.00", "€26,040.00")
    assert [what for what, _, _ in found] == ["Engine", "Total to pay"]


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (
            "extra_lines:\n  - {name: Engine, price: 5 EUR}\n",
            "8: nothing says what 'Engine' costs the yard; add 'cost', for example '0 EUR'",
        ),
        (
            "extra_lines:\n  - {name: Old boat, trade_in: yes, price: 5 EUR, cost: 4 EUR}\n",
            "8: something taken in has no 'cost'; write what it is worth to the yard as 'worth'",
        ),
        (
            "extra_lines:\n  - {name: Old, trade_in: yes, price: 5 EUR, discounted: yes}\n",
            "8: no discount comes off something that is taken in; leave 'discounted' out",
        ),
        (
            "extra_lines:\n  - {name: Engine, price: 5 EUR, cost: 4 EUR, worth: 4 EUR}\n",
            "8: 'worth' is of something taken in alone; add 'trade_in: yes', or leave it out",
        ),
        (
            "extra_lines:\n  - {name: Engine, price: 5 EUR, cost: 4 EUR, tax: reducd}\n",
            "8: the market has no tax 'reducd' in its other_taxes; the only one is 'none'",
        ),
        (
            "offered:\n  - {option: side_single, name: Door, price: 5 EUR}\n",
            "8: both an 'option' and a 'name'; write one of them",
        ),
        ("offered:\n  - {quantity: 2}\n", "8: neither an 'option' nor a 'name'; write one of them"),
        (
            "offered:\n  - {name: Trailer}\n",
            "8: nothing says what 'Trailer' is offered at; add its 'price', without tax",
        ),
        (
            "offered:\n  - {option: side_single, price: 5 EUR}\n",
            "8: an option is offered at its list price, with its own words and tax; leave 'price', "
            "'text' and 'tax' out, or write a 'name' in place of 'option'",
        ),
        (
            "offered:\n  - {option: side_single, quantity: 2 h}\n",
            "8: an option is not had by the hour; count it",
        ),
        (
            "options: [{option: side_single}]\noffered: [{option: side_single}]\n",
            "8: 'side_single' is chosen already; offer it or choose it, not both",
        ),
        (
            "offered: [{option: side_single}, {option: side_single}]\n",
            "7: 'side_single' is offered twice; write its quantity once",
        ),
        (
            "delivery: {term: FOB, named_place: Quay}\n",
            "7: nothing says what 'FOB' means for this boat; write its 'words', or add the term to "
            "'delivery_terms' of yard.yaml",
        ),
        ("delivery: {term: DAP}\n", "7: 'DAP' names no place; add 'named_place'"),
        (
            "delivery: {term: DAX, named_place: Quay, words: There.}\n",
            "7: Incoterms 2020 have no term 'DAX'; did you mean 'DAP'?",
        ),
    ],
)
def test_a_fault_is_told_at_its_place(
    tmp_path: Path, demo_pricing: Pricing, more: str, says: str
) -> None:
    assert told(tmp_path, demo_pricing, more) == says


def test_a_name_that_stands_twice_would_be_lost_in_a_revision(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    says = told(tmp_path, demo_pricing, f"extra_lines:\n{ENGINE}{ENGINE}")
    assert says.startswith("9: 'Engine' is written twice; the first is at ")


def test_terms_follow_the_delivery_that_is_chosen(tmp_path: Path, demo_pricing: Pricing) -> None:
    """The yard's quay and its prices at the yard are said of EXW alone."""
    usual = quoted(tmp_path, demo_pricing, "")
    away = quoted(tmp_path, demo_pricing, "delivery: {term: DAP, named_place: Tern Harbour}\n")
    assert usual.terms[0].startswith("Prices are for the boat handed over at the yard")
    assert away.terms[0].startswith("Transport to the place named has its own line")
    assert usual.terms[1:] == away.terms[1:]
    assert (away.delivery.term, away.delivery.edition) == ("DAP", "Incoterms 2020")
    assert away.delivery.words.startswith("The yard brings the boat, ready to unload")
