"""How templates are read and filled: everything escaped, nothing undefined, one locale a page."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache, partial
from gettext import NullTranslations
from pathlib import Path
from typing import Any, TypeVar

from babel import Locale
from babel.numbers import get_currency_name
from jinja2 import Environment, FileSystemLoader, StrictUndefined, Undefined
from jinja2.runtime import Context
from markupsafe import Markup, escape

from quoter.catalogue.fields import is_web_address
from quoter.catalogue.languages import locale_named, wording_code
from quoter.catalogue.markets import Market
from quoter.catalogue.prices import Catalogue
from quoter.figures import Figure, constant, money_in
from quoter.figures.readers import METRIC, METRIC_READER, PAPERS, Reader
from quoter.pages import money
from quoter.pages.compiled import Compiled
from quoter.pages.figured import (
    Number,
    alike,
    decimal,
    digits_of,
    place_of,
    unit_words,
    variant_of,
    written,
)
from quoter.phrases import Phrase, capital
from quoter.pricing.public import PublicMeasure, PublicPrice, measured_in, public_price
from quoter.resources import templates_folder
from quoter.wording import OwnWording, own_wording, translations_of

NUMBERS = ("number", "percent", "rate", "length", "mass")
T = TypeVar("T")
_MAIL = re.compile(r"[A-Za-z0-9._+-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+\Z")


def locale_of(market: Market) -> Locale:
    """The locale of a market's language, such as ``en`` or ``en-IE``.

    Raises:
        CatalogueError: when there is no such language, or no wording in it, at its place.
    """
    return locale_named(market.language)


def office_locale(home: Market) -> Locale:
    """The locale of what the yard itself reads: that of its home market.

    Raises:
        CatalogueError: when there is no such language, or no wording in it, at its place.
    """
    return locale_of(home)


def page_environment(
    locale: Locale,
    currency: str,
    units: str = METRIC.name,
    paper: str = PAPERS[0],
    own: bool = False,
) -> Environment:
    """The templates in the language of a locale, with filters that write numbers and days for it.

    Args:
        locale: of the reader
        currency: of all amounts
        units: which are read, one of `figures.readers.CHOICES`
        paper: what pages are printed on that hold their own styles
        own: whether the yard itself reads them
    Raises:
        FileNotFoundError: there is no wording in that language.
    """
    templates = _templates(wording_code(locale), "own" if own else "")
    environment = _told(templates.overlay(), locale, currency, units, own)
    environment.globals["style"] = partial(_style, paper=paper)
    return environment


def public_environment(
    locale: Locale, currency: str, units: str = METRIC.name, *, whole: bool = False
) -> Environment:
    """The same for a price sheet, where nothing but a public price is written as money.

    A mass or a length is a public one, too, and whatever a template prints is a text or a whole
    number by then, so that no amount gets past the filters.

    Args:
        locale: of the reader
        currency: of all amounts
        units: which are read, one of `figures.readers.CHOICES`
        whole: whether all its prices are whole, so that none is written with decimals
    Raises:
        FileNotFoundError: there is no wording in that language.
    """
    environment = _templates(wording_code(locale), "public").overlay()
    _told(environment, locale, currency, units)
    public: dict[str, Callable[..., str]] = {
        "money": partial(_public_money, currency=currency, locale=locale, whole=whole),
        "length": partial(_public_length, locale=locale, units=units),
        "mass": partial(_public_mass, locale=locale, units=units),
        "dimension": partial(_public_dimension, locale=locale, units=units),
    }
    environment.filters |= {name: _for_customers(write) for name, write in public.items()}
    return environment


def _for_customers(write: Callable[..., str]) -> Callable[..., str]:
    return lambda *args, **kwargs: money.true_minus(write(*args, **kwargs))


def _told(
    environment: Environment, locale: Locale, currency: str, units: str, own: bool = False
) -> Environment:
    """An environment with all that depends on the reader, the yard or a customer."""
    filters: dict[str, Callable[..., str]] = {
        "money": partial(money.money, currency=currency, locale=locale),
        "number": partial(money.number, locale=locale),
        "percent": partial(money.percent, locale=locale),
        "rate": partial(money.rate, locale=locale),
        "length": partial(money.length, locale=locale, units=units),
        "mass": partial(money.mass, locale=locale, units=units),
        "day": partial(money.day, locale=locale),
    }
    if not own:
        filters = {name: _for_customers(write) for name, write in filters.items()}
    environment.filters = {**environment.filters, **filters}
    environment.globals = {
        **environment.globals,
        "currency": currency,
        "currency_name": get_currency_name(currency, count=2, locale=locale),
        "lang": str(locale).replace("_", "-"),
        "direction": locale.text_direction,
    }
    return environment


def office_environment(catalogue: Catalogue) -> Environment:
    """The same for pages of the yard itself: in its language, with filters that take figures too.

    Public pages have none of these, so that no figure can be shown there by mistake.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    locale, reader = office_locale(catalogue.yard.markets[0]), catalogue.reader
    return own_environment(locale, catalogue.currency, reader, catalogue.paper)


def own_environment(
    locale: Locale, currency: str, reader: Reader = METRIC_READER, paper: str = PAPERS[0]
) -> Environment:
    """Templates for the yard, whose filters of numbers take figures and floats with every digit,
    each in the unit that the reader reads it in.

    Phrases that are filled in are said in its language; `say` does so with a word of the program.

    Args:
        locale: of the reader
        currency: of all amounts
        reader: in which units
        paper: what pages are printed on that hold their own styles
    """
    environment = page_environment(locale, currency, reader.choice, paper, own=True)

    def taking(told: Callable[..., str]) -> Callable[..., str]:
        return lambda number, *args, **kwargs: told(decimal(number), *args, **kwargs)

    told_money = environment.filters["money"]
    home = str(environment.globals["currency"])

    def priced(number: Number, currency: str = home) -> str:
        """An amount of money; a figure must be in the very currency it is written in."""
        amount = money_in(number, currency) if isinstance(number, Figure) else decimal(number)
        return str(told_money(amount, currency=currency))

    def read(told: Callable[..., T]) -> Callable[[Number], T]:
        return lambda number: told(reader.shown(number) if isinstance(number, Figure) else number)

    def numbered(number: Number, digits: int = 0) -> str:
        return str(told_number(read(decimal)(number), digits=digits))

    told_number = environment.filters["number"]
    own = {name: taking(environment.filters[name]) for name in NUMBERS} | {"money": priced}
    say = own_wording(locale)
    words = {
        "say": say,
        "capital": lambda text: say(capital(text)),
        "number": numbered,
        "exact": read(decimal),
        "unit": read(unit_words),
        "written": read(written),
        "like": lambda number, figure: reader.shown(alike(figure, number)),
        "digits": digits_of,
        "place": place_of,
        "variant": variant_of,
    }
    environment.filters = {**environment.filters, **own, **words}

    def unit_for(base: str) -> str:
        """No filter: of a constant, jinja2 would keep what it gave to whoever read first."""
        return unit_words(reader.shown(constant(1.0, base)))

    environment.globals = {**environment.globals, "zip": zip, "unit_for": unit_for}
    return environment


def render(environment: Environment, template: str, **context: object) -> bytes:
    """A filled template as UTF-8."""
    return environment.get_template(template).render(**context).encode("utf-8")


def asset(name: str, paper: str = PAPERS[0]) -> bytes:
    """A file of the templates folder that goes out as it is, styles for the paper they print on."""
    content = (templates_folder() / name).read_bytes()
    if paper == PAPERS[0] or not name.endswith(".css"):
        return content
    return content.replace(f"size: {PAPERS[0]}".encode(), f"size: {paper.lower()}".encode())


def assets(sources: Mapping[str, str], paper: str) -> dict[str, bytes]:
    """Path -> content of files of the templates folder, for the paper that pages are printed on."""
    return {path: asset(source, paper) for path, source in sources.items()}


def _style(name: str, paper: str) -> Markup:
    return Markup(asset(name, paper).decode("utf-8"))


def web_link(text: str) -> str:
    """The text when it may be linked to (an http or https address with a host), else nothing.

    >>> web_link("https://yard.example.com/boats"), web_link("javascript:alert(1)")
    ('https://yard.example.com/boats', '')
    """
    return text if is_web_address(text) else ""


def mail_link(text: str) -> str:
    """A mailto link for a plain address, else nothing.

    >>> mail_link("sales@yard.example.com"), mail_link("a@b.com?bcc=all")
    ('mailto:sales@yard.example.com', '')
    """
    return f"mailto:{text}" if _MAIL.match(text) else ""


class _Context(Context):
    """Calls what a template calls: macros and phrases, none of which asks for the context.

    jinja2's own looks at each anew, which takes longer than most of them do.
    """

    def call(self, called: Callable[..., Any], /, *args: Any, **told: Any) -> Any:
        """Call it without what jinja2 tells those that ask for the context."""
        told.pop("_loop_vars", None)
        told.pop("_block_vars", None)
        return called(*args, **told)


# Public pages are compiled with their check, the yard's own with what says its phrases.
_OPTIONS = Path(__file__).read_bytes()
_COMPILED = {kind: Compiled(kind or "internal", _OPTIONS) for kind in ("", "public", "own")}


@cache
def _templates(code: str, kind: str) -> Environment:
    """The templates in one wording: for customers, checked as public pages, or the yard's own."""
    locale = Locale.parse(code)
    printed: Callable[[object], object] = _as_it_is
    if kind:
        printed = _printed if kind == "public" else partial(_said, say=own_wording(locale))
    environment = Environment(
        loader=FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        extensions=["jinja2.ext.i18n"],
        bytecode_cache=_COMPILED[kind],
        finalize=printed if kind else None,
    )
    environment.context_class = _Context
    environment.policies["ext.i18n.trimmed"] = True
    # The extension adds this method at run time, where type checkers don't see it.
    translations = translations_of(locale, own=kind == "own")
    environment.__dict__["install_gettext_translations"](translations, newstyle=True)
    phrases: dict[str, Any] = environment.globals
    phrases |= _phrases(translations, printed)
    return environment


def _as_it_is(value: object) -> object:
    return value


def _said(value: object, say: OwnWording) -> object:
    """What a page of the yard prints, a phrase in its language."""
    return say(value) if type(value) is Phrase else value


def _printed(value: object) -> object:
    """What a public page prints, if it may; an `if` without its `else` prints nothing."""
    if type(value) not in (str, Markup, int) and not isinstance(value, Undefined):
        raise TypeError(f"a public page prints texts, not a {type(value).__name__}")
    return value


def _phrases(
    translations: NullTranslations, printed: Callable[[object], object]
) -> dict[str, Callable[..., str]]:
    """How templates say a phrase: as jinja2's own do, which find out anew each time what they do.

    Args:
        translations: into the language
        printed: looks at what is filled into a phrase, as at whatever else is printed
    """

    @cache  # templates have so many phrases and no more
    def plain(phrase: str) -> Markup:
        return Markup(translations.gettext(phrase) % {})

    def filled(said: str, told: dict[str, object]) -> Markup:
        return Markup(said % {name: escape(printed(value)) for name, value in told.items()})

    def gettext(phrase: str, /, **told: object) -> Markup:
        return filled(translations.gettext(phrase), told) if told else plain(phrase)

    def ngettext(one: str, more: str, number: int, /, **told: object) -> Markup:
        return filled(translations.ngettext(one, more, number), {"num": number} | told)

    return {"_": gettext, "gettext": gettext, "ngettext": ngettext}


def _public_money(price: PublicPrice, currency: str, locale: Locale, whole: bool) -> str:
    return money.money(public_price(price, currency).amount, currency, locale, whole)


def _public_mass(mass: PublicMeasure, locale: Locale, units: str) -> str:
    return money.mass(measured_in(mass, "kg").amount, locale, units)


def _public_dimension(length: PublicMeasure, *, locale: Locale, units: str) -> str:
    """A length of a drawing in the reader's units; nothing but a public measure has one."""
    return money.dimension(measured_in(length, "mm").amount, locale, units)


def _public_length(length: PublicMeasure, locale: Locale, units: str) -> str:
    return money.length(measured_in(length, "m").amount, locale, units)


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
