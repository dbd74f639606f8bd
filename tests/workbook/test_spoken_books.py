"""Every workbook of the demonstration, in every language, holds together as in English."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from babel import Locale

from quoter.analysis.bridge import bridge_of
from quoter.analysis.findings import Findings
from quoter.catalogue.languages import SOURCE, languages, regions
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.quotes.draft import draft_of, record_of
from quoter.quotes.printed.account_book import account_book
from quoter.quotes.request import read_request, sound_wish
from quoter.wording import OwnWording, own_wording
from quoter.workbook import Book, LimitError, Table
from quoter.workbook.change_book import change_book
from quoter.workbook.compose import compose
from quoter.workbook.spoken import spoken
from tests.demo import DEMO
from tests.outputs import books_of

REQUEST = DEMO / "requests" / "inland_family.yaml"
EARLIER = date(2026, 9, 15)  # under the oldest price list of the demonstration
CODES = [code for code in (*languages(), *regions()) if code != SOURCE]

Books = dict[str, Book]


@pytest.fixture(scope="module")
def books(demo_pricing: Pricing) -> Books:
    wish = sound_wish(read_request(REQUEST), demo_pricing)
    draft = draft_of(demo_pricing, wish, "", None)
    before, _ = price_catalogue(DEMO, EARLIER)
    return {
        **dict(books_of(Findings(demo_pricing))),
        "internal.xlsx": account_book(
            draft.account, demo_pricing.terms, record_of(draft, "2026-0001")
        ),
        "change.xlsx": change_book(bridge_of(before, demo_pricing)),
    }


def tables(book: Book) -> Iterator[Table]:
    for sheet in book.sheets:
        yield from (block for block in sheet.blocks if isinstance(block, Table))


def headings(table: Table) -> list[tuple[str, str]]:
    return [(column.over, column.heading) for column in table.columns]


@pytest.mark.parametrize("code", CODES)
def test_every_book_is_composed_in_every_language(books: Books, code: str) -> None:
    say = own_wording(Locale.parse(code))
    for name, book in books.items():
        composed = compose(book, say)
        titles = [laid.sheet.title for laid in composed.sheets]
        # Neither cut short nor numbered because another sheet is called the same.
        said = [*(say(sheet.title) for sheet in book.sheets), say(book.workings)]
        assert (name, [title for title in titles if title not in said]) == (name, [])


@pytest.mark.parametrize("code", CODES)
def test_columns_that_differ_in_english_differ_in_every_language(books: Books, code: str) -> None:
    say = own_wording(Locale.parse(code))
    for name, book in books.items():
        for english, other in zip(tables(book), tables(spoken(book, say)), strict=True):
            written, told = headings(english), headings(other)
            alike = [
                heading
                for heading, first in zip(told, written, strict=True)
                if told.count(heading) > written.count(first)
            ]
            assert (name, english.name, alike) == (name, english.name, [])


def test_a_chart_whose_column_is_called_as_another_is_refused(books: Books) -> None:
    one_name = OwnWording({"Utilisation": ("Last",), "Load on its base": ("Last",)})
    with pytest.raises(LimitError) as refused:
        compose(books["plan.xlsx"], one_name)
    assert str(refused.value) == (
        "chart 'Utilisation of each station': table 'loads' needs one column 'Last'"
    )
