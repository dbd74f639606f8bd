"""What the pages say themselves, in a reader's language.

The source is English; other languages stand in templates/translations/LANGUAGE.po. Templates say
``_("…")`` and ``{% trans %}``; Python code takes `wording(locale)` and says ``say("… {x}", x=…)``,
or marks a text with `_` where it is said later. What is not translated is an error, never English.

`python3 -m quoter.pages.extraction` writes the files again after a text has changed.
"""

from __future__ import annotations

from functools import cache
from gettext import NullTranslations, c2py

from babel import Locale

from quoter.catalogue.languages import SOURCE
from quoter.catalogue.po_files import Entry, entries_in, plural_forms
from quoter.resources import templates_folder


class MissingWordingError(LookupError):
    """Raised instead of saying something in English in the middle of another language."""


class _Translations(NullTranslations):
    """The program's phrases in a language other than its own."""

    def __init__(self, language: str) -> None:
        super().__init__()
        self._language = language
        self._strings = {e.text: e.strings for e in program_entries(language) if e.done}
        self._form = c2py(plural_forms(language)[1])

    def gettext(self, message: str) -> str:
        """A phrase.

        Raises:
            MissingWordingError: it is not translated.
        """
        if message not in self._strings:
            raise MissingWordingError(f"no wording in '{self._language}' for: {message}")
        return self._strings[message][0]

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """The form of a phrase that a number takes.

        Raises:
            MissingWordingError: it is not translated.
        """
        if msgid1 not in self._strings:
            self.gettext(f"{msgid1} | {msgid2}")
        return self._strings[msgid1][self._form(n)]


class Wording:
    """The program's phrases in one language, with values in their places.

    >>> Wording(NullTranslations())("up to {most} on a boat", most=2)
    'up to 2 on a boat'
    """

    def __init__(self, translations: NullTranslations) -> None:
        """Speak by translations."""
        self._translations = translations

    def __call__(self, text: str, **values: object) -> str:
        """A phrase; without values it is given as it is, to be filled in later.

        Raises:
            MissingWordingError: it is not translated.
        """
        said = self._translations.gettext(text)
        return said.format(**values) if values else said

    def plural(self, one: str, more: str, count: int, **values: object) -> str:
        """A phrase of a count, which it may name.

        Raises:
            MissingWordingError: it is not translated.
        """
        return self._translations.ngettext(one, more, count).format(count=count, **values)


def _(text: str) -> str:
    """Marks a text that is translated where it is said: ``say(_("…"))`` of a table's words."""
    return text


def wording(locale: Locale) -> Wording:
    """The program's phrases in the language of a locale, whatever its region."""
    return Wording(translations_of(locale))


def translations_of(locale: Locale) -> NullTranslations:
    """What the pages say in the language of a locale; English is given as it is."""
    return _translations(locale.language)


def program_entries(language: str) -> list[Entry]:
    """The entries of the program's own wording in a language; none where there is no file yet."""
    file = templates_folder() / "translations" / f"{language}.po"
    return entries_in(file.read_text(encoding="utf-8")) if file.exists() else []


@cache
def _translations(language: str) -> NullTranslations:
    return NullTranslations() if language == SOURCE else _Translations(language)
