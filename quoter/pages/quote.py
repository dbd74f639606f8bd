"""A quote as one page for its customer, made from its record alone."""

from __future__ import annotations

from functools import partial

from babel import Locale
from markupsafe import Markup

from quoter.pages.environment import mail_link, page_environment, render, web_link
from quoter.pages.money import exact
from quoter.quotes.record import Record
from quoter.quotes.shown import shown_of


def quote_page(record: Record) -> bytes:
    """The page as one file that needs no other; it prints to A4 and to Letter.

    Raises:
        babel.UnknownLocaleError: when the record's language is none.
    """
    locale = Locale.parse(record.language.replace("_", "-"), sep="-")
    environment = page_environment(locale, record.currency)
    environment.filters |= {
        "css": css_text,
        "exact": partial(exact, locale=locale),
        "mail_link": mail_link,
        "web_link": web_link,
    }
    return render(environment, "quote/quote.html", quote=shown_of(record))


def css_text(text: str) -> str:
    r"""A text as it may stand between the quotes of a style: nothing in it can end them.

    Args:
        text: plain, or markup whose entities are read first

    >>> css_text("2026-0007, <b>")
    '2026\\2d 0007\\2c \\20 \\3c b\\3e '
    """
    plain = Markup(text).unescape() if hasattr(text, "__html__") else text
    return "".join(
        letter if letter.isascii() and letter.isalnum() else f"\\{ord(letter):x} "
        for letter in plain
    )
