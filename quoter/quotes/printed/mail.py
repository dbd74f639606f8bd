"""The letter that goes with a quote by e-mail: plain text in the customer's language.

The first line is the subject; what follows is the text to paste. Lines are short enough for any
mail program to quote them (RFC 3676 asks for less than 79 characters).
"""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterator
from datetime import date

from quoter.pages import money
from quoter.quotes.kept.party import Party
from quoter.quotes.printed.shown import Shown, locale_of
from quoter.wording import _, wording

WIDTH = 72  # characters of a line
# What each file is for whoever gets it, the most read first.
_ATTACHED = {
    "quote.pdf": _("the quote, to read and to print"),
    "quote.html": _("the quote as a page for any browser"),
    "quote.xlsx": _("the same as a workbook"),
    "quotation.xml": _("the same as data for purchasing systems (UBL 2.3)"),
}


def mail(quote: Shown, files: Collection[str]) -> bytes:
    """The letter in UTF-8; the same quote gives the same bytes.

    Args:
        quote: as its customer sees it
        files: names of those that the customer gets
    """
    return ("\n".join(_Letter(quote).lines(files)) + "\n").encode()


class _Letter:
    """Writes a letter in the language of its quote."""

    def __init__(self, quote: Shown) -> None:
        self._quote = quote
        self._locale = locale_of(quote)
        self._say = wording(self._locale)

    def lines(self, files: Collection[str]) -> Iterator[str]:
        quote, say = self._quote, self._say
        yield say("Subject: Quote {name}, {boat}", name=quote.name, boat=quote.title)
        yield ""
        yield from _wrapped(say("Dear {name},", name=quote.customer.name))
        yield ""
        yield from _wrapped(self._opening())
        yield ""
        yield say("Attached are:")
        for name, words in _ATTACHED.items():
            if name in files:
                yield from _wrapped(f"- {self._beside(name, say(words))}")
        yield ""
        for what, value in self._facts():
            yield from _wrapped(self._beside(what, value))
        yield ""
        yield from _wrapped(self._next())
        yield ""
        yield from _wrapped(say("If you have any questions, write or call: we are glad to help."))
        yield ""
        yield say("Kind regards")
        yield ""
        yield quote.prepared_by
        yield from _signature(quote.yard)

    def _opening(self) -> str:
        quote, say = self._quote, self._say
        if quote.changes_order:
            return say(
                "Here is our quote {name} for the changes to your order {order} of the {boat}.",
                name=quote.name,
                order=quote.changes_order,
                boat=quote.title,
            )
        if quote.revision:
            return say(
                "Here is our quote {name} for the {boat}. It takes the place of quote {before}.",
                name=quote.name,
                boat=quote.title,
                before=quote.before,
            )
        return say(
            "Thank you for your interest in the {boat}. Here is our quote {name}.",
            boat=quote.title,
            name=quote.name,
        )

    def _facts(self) -> Iterator[tuple[str, str]]:
        quote, say = self._quote, self._say
        if quote.reference:
            yield say("Your reference"), quote.reference
        yield say("Total to pay"), money.money(quote.total, quote.currency, self._locale)
        if quote.deposits and not quote.changes_order:  # paid for the order, if it was due
            first = quote.deposits[0]
            amount = money.money(first.amount, quote.currency, self._locale)
            yield say("First payment"), f"{amount} ({first.due})"
        yield say("Valid until"), self._day(quote.valid_until)
        term = quote.delivery
        yield say("Terms of delivery"), f"{term.term} {term.place}, {term.edition}"
        if quote.ready:
            yield say("Delivery"), quote.ready

    def _next(self) -> str:
        if self._quote.changes_order:
            return self._say(
                "To order the changes, sign the quote where it says so and send it back to us by "
                "{day}; we then confirm the order.",
                day=self._day(self._quote.valid_until),
            )
        return self._say(
            "To order, sign the quote where it says so and send it back to us by {day}; we "
            "then confirm the order.",
            day=self._day(self._quote.valid_until),
        )

    def _beside(self, what: str, value: str) -> str:
        return self._say("{what}: {value}", what=what, value=value)

    def _day(self, day: date) -> str:
        return money.day(day, self._locale)


def _signature(yard: Party) -> Iterator[str]:
    told = (yard.name, *yard.address, yard.country, yard.phone, yard.email, yard.website)
    yield from (text for text in told if text)


def _wrapped(text: str) -> Iterator[str]:
    """A paragraph in short lines; amounts and days have blanks that no line ends at."""
    yield from textwrap.wrap(
        text,
        WIDTH,
        subsequent_indent="  " if text.startswith("- ") else "",
        break_long_words=False,
        break_on_hyphens=False,
    )
