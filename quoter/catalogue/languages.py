"""Languages: which there are, which the pages have wording in, and which a market asks for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache

from babel import Locale, UnknownLocaleError

from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.problems import CatalogueError, Problem
from quoter.resources import templates_folder

SOURCE = "en"  # what the program itself is written in


@cache
def languages() -> tuple[str, ...]:
    """The languages that the pages' own wording exists in, by their codes."""
    return tuple(sorted({SOURCE, *(code for code in _files() if code == language_of(code))}))


@cache
def regions() -> tuple[str, ...]:
    """Languages with a region whose words differ, such as ``en_US``."""
    return tuple(sorted(code for code in _files() if code != language_of(code)))


def _files() -> list[str]:
    return [file.stem for file in (templates_folder() / "translations").glob("*.po")]


def language_of(code: str) -> str:
    """The language of a code, whatever its region.

    >>> language_of("en_US"), language_of("de")
    ('en', 'de')
    """
    return code.partition("_")[0]


def wording_code(locale: Locale) -> str:
    """The code of the wording that a locale reads: its region's where there is one."""
    code = f"{locale.language}_{locale.territory}"
    return code if code in regions() else str(locale.language)


@lru_cache(maxsize=100)  # asked of every text that is translated
def known_locale(written: str) -> Locale | None:
    """The locale that a language, such as ``en`` or ``en-IE``, names; None if there is none."""
    try:
        return Locale.parse(written.replace("_", "-"), sep="-")
    except (UnknownLocaleError, ValueError):
        return None


def locale_named(written: Text) -> Locale:
    """The locale of a language in a file.

    Raises:
        CatalogueError: when there is no such language, or no wording in it, at its place.
    """
    locale = known_locale(written)
    fault = _fault(written, locale)
    if fault is not None:
        raise CatalogueError([fault])
    if locale is None:
        raise TypeError(f"no fault was found with the unknown language {written}")
    return locale


def check_languages(records: Records) -> Iterator[Problem]:
    """A market's pages can be written in each of its languages: there is one, and wording in it."""
    for market in records.yard.markets if records.yard is not None else ():
        told: dict[str, Text] = {}
        for language in market.languages:
            locale = known_locale(language)
            fault = _fault(language, locale)
            if fault is not None:
                yield fault
            elif str(locale) in told:
                what = f"market '{market.id}' has the language '{language}' twice"
                yield Problem(language.place, "written-twice", what, "keep it once")
            told[str(locale)] = language


def _fault(written: Text, locale: Locale | None) -> Problem | None:
    if locale is None:
        hint = "write a language, or one with its region, for example 'en' or 'en-IE'"
        return Problem(written.place, "unknown-language", f"'{written}' is no known language", hint)
    if locale.language not in languages():
        what = f"the pages have no wording in '{written}'"
        return Problem(
            written.place, "unknown-language", what, f"{expected()}, with or without a region"
        )
    return None


def expected() -> str:
    """Which languages a hint may name."""
    *first, last = languages()
    return f"expected {', '.join(first)} or {last}" if first else f"expected {last}"
