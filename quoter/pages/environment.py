"""How templates are read and filled: everything escaped, nothing undefined, one locale a page."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import cache, partial
from urllib.parse import urlsplit

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.numbers import get_currency_name
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from quoter.catalogue.factory import Market
from quoter.pages import money
from quoter.problems import CatalogueError, Problem
from quoter.resources import templates_folder

# Languages the templates' own wording exists in; a page never mixes two.
LANGUAGES = ("en",)
_MAIL = re.compile(r"[A-Za-z0-9._+-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+\Z")


def locale_of(market: Market) -> Locale:
    """The locale of a market's language, such as ``en`` or ``en-IE``.

    Raises:
        CatalogueError: when there is no such language, or no wording in it, at its place.
    """
    written = market.language
    try:
        locale = Locale.parse(written.replace("_", "-"), sep="-")
    except (UnknownLocaleError, ValueError):
        hint = "write a language, or one with its region, for example 'en' or 'en-IE'"
        what = f"'{written}' is no known language"
        raise CatalogueError([Problem(written.place, what, hint)]) from None
    if locale.language not in LANGUAGES:
        what = f"the pages have no wording in '{written}'"
        hint = f"expected {' or '.join(LANGUAGES)}, with or without a region"
        raise CatalogueError([Problem(written.place, what, hint)])
    return locale


def page_environment(locale: Locale, currency: str) -> Environment:
    """The templates with filters that write money, masses, lengths and days for the locale."""
    environment = _templates().overlay()
    filters: dict[str, Callable[..., str]] = {
        "money": partial(money.money, currency=currency, locale=locale),
        "number": partial(money.number, locale=locale),
        "percent": partial(money.percent, locale=locale),
        "rate": partial(money.rate, locale=locale),
        "length": partial(money.length, locale=locale),
        "mass": partial(money.mass, locale=locale),
        "day": partial(_day, locale=locale),
    }
    environment.filters = {**environment.filters, **filters}
    environment.globals = {
        **environment.globals,
        "currency": currency,
        "currency_name": get_currency_name(currency, count=2, locale=locale),
        "lang": str(locale).replace("_", "-"),
        "direction": locale.text_direction,
    }
    return environment


def render(environment: Environment, template: str, **context: object) -> bytes:
    """A filled template as UTF-8."""
    return environment.get_template(template).render(**context).encode("utf-8")


def asset(name: str) -> bytes:
    """A file of the templates folder that goes out as it is."""
    return (templates_folder() / name).read_bytes()


def web_link(text: str) -> str:
    """The text when it may be linked to (an http or https address with a host), else nothing.

    >>> web_link("https://yard.example.com/boats"), web_link("javascript:alert(1)")
    ('https://yard.example.com/boats', '')
    """
    if re.search(r"[\s\\\"'<>]", text):
        return ""
    try:
        parts = urlsplit(text)
    except ValueError:
        return ""
    return text if parts.scheme in ("http", "https") and parts.hostname else ""


def mail_link(text: str) -> str:
    """A mailto link for a plain address, else nothing.

    >>> mail_link("sales@yard.example.com"), mail_link("a@b.com?bcc=all")
    ('mailto:sales@yard.example.com', '')
    """
    return f"mailto:{text}" if _MAIL.match(text) else ""


@cache
def _templates() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        extensions=["jinja2.ext.i18n"],
    )
    environment.policies["ext.i18n.trimmed"] = True
    # The extension adds this method at run time, where type checkers don't see it.
    environment.__dict__["install_null_translations"](newstyle=True)
    return environment


def _day(day: date, locale: Locale) -> str:
    return format_date(day, "long", locale=locale)
