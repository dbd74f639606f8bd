"""What the program says itself, in a reader's language.

The source is English; other languages stand in templates/translations/LANGUAGE.po, and what a
region says otherwise in LANGUAGE_REGION.po. Templates say ``_("…")`` and ``{% trans %}``; Python
code takes `wording(locale)` and says ``say("… {x}", x=…)``, or marks a text with `_` where it is
said later. What customers read and is not translated is an error, never English.

What only the yard reads stands in templates/translations/yard/. There, what is not translated yet
is said in English. Python code makes it as a `Phrase`; `own_wording(locale)` says it.

`python3 -m quoter.pages.extraction` writes the files again after a text has changed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from gettext import NullTranslations, c2py

from babel import Locale

from quoter.american import american
from quoter.catalogue.languages import SOURCE, language_of, locale_named, regions, wording_code
from quoter.catalogue.po_files import Entry, entries_in, plural_forms
from quoter.catalogue.prices import Catalogue
from quoter.phrases import Phrase
from quoter.resources import templates_folder

YARD = "yard/"  # the folder of what only the yard reads


class MissingWordingError(LookupError):
    """Raised instead of saying something in English in the middle of another language."""


class _Translations(NullTranslations):
    """The program's phrases in a language other than its own, or a region of any."""

    def __init__(self, code: str, own: bool = False) -> None:
        """Those for customers; with `own` the yard's besides, where English may stand for any."""
        super().__init__()
        self._language = code
        self.strings = _strings(code, own)
        self._form = c2py(plural_forms(language_of(code))[1])
        self._strict = not own and language_of(code) != SOURCE

    def gettext(self, message: str) -> str:
        """A phrase.

        Raises:
            MissingWordingError: it is not translated.
        """
        strings = self.strings.get(message)
        if strings is not None:
            return strings[0]
        if self._strict:
            raise MissingWordingError(f"no wording in '{self._language}' for: {message}")
        return message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """The form of a phrase that a number takes.

        Raises:
            MissingWordingError: it is not translated.
        """
        strings = self.strings.get(msgid1)
        if strings is not None:
            return strings[self._form(n)]
        if self._strict:
            self.gettext(f"{msgid1} | {msgid2}")
        return msgid1 if n == 1 else msgid2


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


class OwnWording:
    """What the yard itself reads, in its language: phrases, and the program's plain words.

    A text of the catalogue is in the yard's language already.

    >>> from quoter.phrases import phrase
    >>> OwnWording({"{what} in {where}": ("{where}: {what}",)})(
    ...     phrase("{what} in {where}", what="Labour", where="Hull")
    ... )
    'Hull: Labour'
    """

    def __init__(
        self, strings: Mapping[str, tuple[str, ...]], respelt: Callable[[str], str] | None = None
    ) -> None:
        """Speak by translations; none are English.

        Args:
            strings: by what they are in English
            respelt: writes a phrase that has no translation as the reader's region spells it
        """
        self._strings = strings
        self._respelt = respelt or str

    def __call__(self, text: str) -> str:
        """A text as it is to be shown: a plain one always."""
        if type(text) is Phrase:
            return text.said(self._message) if self._strings else str(text)
        return self._plain(text) if type(text) is str else str(text)

    def _plain(self, text: str) -> str:
        strings = self._strings.get(text)
        return text if strings is None else strings[0]

    def _message(self, text: str) -> str:
        strings = self._strings.get(text)
        return self._respelt(text) if strings is None else strings[0]


def _(text: str) -> str:
    """Marks a text that is translated where it is said: ``say(_("…"))`` of a table's words."""
    return text


def wording(locale: Locale) -> Wording:
    """The program's phrases for customers in the language of a locale."""
    return Wording(translations_of(locale))


def own_wording(locale: Locale) -> OwnWording:
    """What the yard itself reads, in the language of a locale."""
    return _own_wording(wording_code(locale))


def own_words(catalogue: Catalogue) -> OwnWording:
    """What the yard of a catalogue reads, in the language of its home market.

    Raises:
        CatalogueError: when there is no such language, or no wording in it, at its place.
    """
    return own_wording(locale_named(catalogue.yard.markets[0].language))


@cache
def _own_wording(code: str) -> OwnWording:
    return OwnWording(_strings(code, own=True), american if code in regions() else None)


def translations_of(locale: Locale, own: bool = False) -> NullTranslations:
    """What pages say in the language of a locale; English is given as it is.

    Args:
        locale: the reader's
        own: whether for the yard itself, where English stands for what is not translated yet
    """
    return _translations(wording_code(locale), own)


def program_entries(code: str) -> list[Entry]:
    """The entries of the program's own wording; none where there is no file yet.

    Args:
        code: a language, or one with its region, such as ``en_US``; after `YARD` for the yard's
    """
    file = templates_folder() / "translations" / f"{code}.po"
    return entries_in(file.read_text(encoding="utf-8")) if file.exists() else []


@cache
def _translations(code: str, own: bool) -> NullTranslations:
    return NullTranslations() if code == SOURCE else _Translations(code, own)


def _strings(code: str, own: bool) -> dict[str, tuple[str, ...]]:
    """Each text that is translated, by what it is in English; a region's words come last."""
    files = [code] if language_of(code) == code else [language_of(code), code]
    if own:
        files += [f"{YARD}{file}" for file in files]
    found = (entry for file in files for entry in program_entries(file))
    return {entry.text: entry.strings for entry in found if entry.done}
