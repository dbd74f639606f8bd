"""A quote's page: whole, adding up, safe to send, in every language there is wording in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal
from functools import cache
from itertools import pairwise

import pytest
from babel import Locale
from babel.dates import format_date
from babel.numbers import parse_decimal

from quoter.catalogue.languages import languages
from quoter.pages.environment import css_text
from quoter.pages.money import exact
from quoter.quotes.kept.amounts import Frozen
from quoter.quotes.kept.inside import Inside
from quoter.quotes.kept.record import Record, Scheme, Source
from quoter.quotes.printed.files import quote_page
from quoter.quotes.printed.shown import shown_of
from tests.pages.parsed import Element, Page
from tests.quotes.hidden import found_in, texts_of, with_another_inside
from tests.quotes.samples import FULL, SAMPLES, line, record, short, usual
from tests.quotes.samples import long as long_quote

LANGUAGES = languages()
OUTSIDE = {"mailto:office@ternquay.example.com", "https://ternquay.example.com", "#main"}

every_sample = pytest.mark.parametrize("sample", SAMPLES)
every_language = pytest.mark.parametrize("language", LANGUAGES)


@cache
def made(sample: str, language: str = "en") -> tuple[Record, Page]:
    of = SAMPLES[sample](language=language)
    return of, Page(quote_page(of))


def cells(page: Page, table: str) -> Iterator[list[Element]]:
    """The cells of every row of a table's bodies."""
    whole = page.one("table", class_=table)
    for row in page.all("tr"):
        if whole in row.within and not any(outer.tag == "thead" for outer in row.within):
            yield [e for e in page.elements if e.tag in ("th", "td") and row in e.within]


def amount_in(text: str, language: str) -> Decimal:
    """An amount read back: its currency and spaces off, its minus a plain one."""
    minus = "\N{MINUS SIGN}"
    digits = re.sub(rf"[^\d.,'{minus}-]", "", text).replace(minus, "-")
    return parse_decimal(digits, Locale.parse(language, sep="-"), strict=True)


@every_sample
@every_language
def test_page_is_well_formed_and_needs_no_other_file(sample: str, language: str) -> None:
    _, page = made(sample, language)
    assert page.faults == []
    assert sorted(page.ids) == sorted(set(page.ids))
    for element in page.elements:
        assert element.tag not in ("script", "link", "img", "iframe", "form", "object", "base")
        assert not [name for name in element.attributes if name.startswith(("on", "style"))]
        assert "src" not in element.attributes
        assert element.attributes.get("href", "#main") in OUTSIDE
        labelled = element.attributes.get("aria-labelledby")
        assert labelled is None or labelled in page.ids
    style = page.one("style").text
    assert not re.search(r"url\(|@import|https?:", style)
    levels = [int(e.tag[1]) for e in page.elements if re.fullmatch("h[1-6]", e.tag)]
    assert levels[0] == 1
    assert all(b <= a + 1 for a, b in pairwise(levels))
    for table in page.all("table"):
        inside = [e for e in page.elements if table in e.within]
        assert [e for e in inside if e.tag == "caption" and e.text]
        assert all("scope" in e.attributes for e in inside if e.tag == "th")
    assert page.one("html").attributes == {"lang": language, "dir": "ltr"}


@every_sample
@every_language
def test_lines_on_the_page_are_those_of_the_record_and_add_up(sample: str, language: str) -> None:
    of, page = made(sample, language)
    rows = [row for row in cells(page, "lines") if len(row) > 1]
    priced = [each for each in of.lines if each.kind != "standard"]
    assert len(rows) == len(priced)
    total = Decimal(0)
    for row, each in zip(rows, priced, strict=True):
        assert row[0].text.startswith(each.name)
        count, price, amount = (amount_in(row[at].text, language) for at in (1, 2, -1))
        assert [count, price, amount] == [Decimal(each.quantity), each.price, each.amount]
        assert count * price == amount
        total += amount
    assert total == (of.total if of.with_tax else of.net)


@every_sample
@every_language
def test_totals_and_instalments_add_up_on_paper(sample: str, language: str) -> None:
    of, page = made(sample, language)
    sums = page.one("section", class_="sum")
    amounts = [
        amount_in(e.text, language) for e in page.elements if e.tag == "dd" and sums in e.within
    ]
    taxes = [tax.amount for tax in of.taxes]
    if not of.taxes:
        assert amounts == [of.total] == [of.net]
    elif of.with_tax:
        assert amounts == [of.total, *taxes, of.net]
        assert amounts[0] == sum(amounts[1:])
    else:
        assert amounts == [of.net, *taxes, of.total]
        assert amounts[-1] == sum(amounts[:-1])
    parts = [amount_in(row[2].text, language) for row in cells(page, "deposits")]
    assert parts == [part.amount for part in of.deposits]
    assert sum(parts) == of.total


def test_each_line_says_its_rate_where_there_are_several_and_rates_add_up() -> None:
    of, page = made("long")
    by_rate: dict[str, Decimal] = {}
    for row in cells(page, "lines"):
        if len(row) > 1:
            by_rate[row[3].text] = by_rate.get(row[3].text, Decimal(0)) + amount_in(
                row[4].text, "en"
            )
    assert by_rate == {"25%": of.taxes[0].base, "12%": of.taxes[1].base}
    text = page.one("section", class_="sum").text
    assert "25% VAT on NOK\N{NO-BREAK SPACE}1,139,724.29".replace("\xa0", " ") in text


def test_rates_of_one_height_are_told_apart_by_name() -> None:
    levy = FULL.__class__("levy", "Harbour levy", FULL.rate)
    lines = (line("boat", "Skiff", "100.00"), line("option", "Mooring", "8.00", rate="levy"))
    rates = {FULL.id: FULL, "levy": levy}
    page = Page(quote_page(record(lines, rates=rates, currency="EUR", with_tax=False)))
    assert [row[3].text for row in cells(page, "lines") if len(row) > 1] == ["VAT", "Harbour levy"]


def test_a_line_without_tax_among_taxed_ones_says_so() -> None:
    lines = (line("boat", "Skiff", "100.00"), line("option", "Insurance", "8.00", rate="none"))
    page = Page(quote_page(record(lines, rates={FULL.id: FULL}, currency="EUR", with_tax=False)))
    assert [row[3].text for row in cells(page, "lines") if len(row) > 1] == ["25%", "–"]


@every_sample
@every_language
def test_everything_of_the_record_for_its_customer_is_on_the_page(
    sample: str, language: str
) -> None:
    of, page = made(sample, language)
    text = page.one("body").text
    assert [told for told in texts_of(of) if told not in text] == []
    # English without a region is that of Britain here.
    locale = Locale.parse("en-GB" if language == "en" else language, sep="-")
    for day in (of.issued, of.valid_until, *([of.rate.day] if of.rate else [])):
        assert " ".join(format_date(day, "long", locale=locale).split()) in text
    assert of.number in page.one("h1").text
    assert of.name in page.one("title").text


@every_sample
def test_nothing_of_the_inside_is_on_the_page(sample: str) -> None:
    of = SAMPLES[sample]()
    assert found_in(quote_page(of).decode(), of) == []


@pytest.mark.parametrize(
    "secret", ["33,9", "31,330.13", "31330.131", "23.39%", "Gudrun Approvesson"]
)
def test_the_search_for_secrets_finds_them(secret: str) -> None:
    page = quote_page(short(note=f"Not more than {secret} of it"))
    assert bool(found_in(page.decode(), short())) == (secret != "33,9")


@every_sample
def test_what_only_the_yard_sees_changes_nothing(sample: str) -> None:
    of = SAMPLES[sample]()
    assert quote_page(with_another_inside(of)) == quote_page(of)


@every_sample
def test_no_template_can_reach_the_inside(sample: str) -> None:
    seen: list[object] = [shown_of(SAMPLES[sample]())]
    for value in seen:
        assert not isinstance(value, Record | Inside | Source | Scheme | dict)
        if is_dataclass(value):
            seen += [getattr(value, each.name) for each in fields(value)]
        elif isinstance(value, tuple):
            seen += value
        elif isinstance(value, Frozen):
            seen += [getattr(value, name) for name in type(value).model_fields]
    assert len(seen) > 50


@every_sample
def test_page_is_the_same_every_time(sample: str) -> None:
    assert quote_page(SAMPLES[sample]()) == quote_page(SAMPLES[sample]())


def test_page_says_once_what_its_prices_hold() -> None:
    captions = {name: next(made(name)[1].all("caption")).text for name in SAMPLES}
    assert captions == {
        "short": "Prices and amounts are in euros and include 25% VAT.",
        "usual": "Prices and amounts are in US dollars, without tax.",
        "long": "Prices and amounts are in Norwegian kroner, without the tax named beside each, "
        "which is added below.",
    }


def test_a_quote_says_which_rate_of_exchange_it_rests_on_and_who_bears_its_move() -> None:
    text = made("usual")[1].one("main").text
    assert (
        "The prices are based on the rate of 1 October 2026: 1 EUR = 1.093 USD (the yard's bank, "
        "mid rate). The yard bears what the rate moves until the quote expires."
    ) in text
    assert "Rate of exchange" not in made("short")[1].one("main").text


def test_a_quote_approves_no_structure() -> None:
    caution = made("short")[1].one("section", class_="caution").text
    assert "This quote approves no structure." in caution
    assert "designed by a qualified person" in caution


def test_a_revision_shows_what_changed_since_the_one_before() -> None:
    of, page = made("long")
    assert "Revision 2" in page.one("main").text
    changes = page.one("section", class_="changes")
    assert "What changed since quote 2026-0007-R1" in changes.text
    assert "Total NOK 1,201,455.00 NOK 1,187,902.50" in changes.text
    assert not list(made("short")[1].all("section", class_="changes"))
    first = Page(quote_page(of.model_copy(update={"revision": 1, "changes": ()})))
    text = first.one("section", class_="changes").text
    assert text == ("What changed since quote 2026-0007 Only the dates have changed.")


HOSTILE = "<script>alert('x')</script> \\\"; } body { display: none } /* & </style>"


def test_hostile_text_stays_text() -> None:
    of = usual(note=HOSTILE, title=HOSTILE)
    yard = of.yard.model_copy(update={"name": HOSTILE, "website": "javascript:x()"})
    # No number of a quote is hostile, but where it stands nobody relies on that.
    of = of.model_copy(update={"yard": yard, "number": f"2026-1{HOSTILE}"})
    page = Page(quote_page(of))
    assert page.faults == []
    assert not list(page.all("script"))
    assert HOSTILE in page.one("h2", id="boat").text
    assert "display: none } /*" not in page.one("style").text
    assert "javascript:x()" in page.one("header").text
    assert [a.attributes["href"] for a in page.all("a")] == [
        "#main",
        "mailto:office@ternquay.example.com",
    ]


def test_text_for_styles_is_only_letters_digits_and_their_escapes() -> None:
    assert re.fullmatch(r"(?:[A-Za-z0-9]|\\[0-9a-f]+ )*", css_text(HOSTILE + "é\n"))


@pytest.mark.parametrize(("currency", "digits"), [("JPY", 0), ("KWD", 3)])
def test_amounts_have_the_decimals_of_their_currency(currency: str, digits: int) -> None:
    price = Decimal("123456").scaleb(-digits)
    lines = (line("boat", "Skiff", str(price)),)
    page = Page(quote_page(record(lines, rates={}, currency=currency, with_tax=False)))
    (row,) = cells(page, "lines")
    assert amount_in(row[-1].text, "en") == price
    assert len(row[-1].text.partition(".")[2]) == digits


def test_numbers_of_the_record_keep_the_decimals_they_have() -> None:
    written = [exact(n, Locale("en")) for n in (Decimal("11.6180"), Decimal("1E+3"), 2, 1200)]
    assert written == ["11.618", "1,000", "2", "1,200"]


def test_page_of_a_long_quote_has_every_line_in_its_section() -> None:
    page = Page(quote_page(long_quote()))
    heads = [e.text for e in page.all("th", scope="rowgroup")]
    assert heads == [
        "Standard equipment, included in the price of the boat",
        "Options",
        "Credits and discounts",
    ]
    assert len(list(page.all("li"))) == 10 + 3
