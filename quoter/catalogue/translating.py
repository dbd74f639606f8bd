"""A file of translations brought up to date: what is translated stays, what is new is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from quoter.catalogue.languages import expected, known_locale, languages
from quoter.catalogue.po_files import Entry, po_bytes
from quoter.catalogue.records import PublicText, Records
from quoter.catalogue.translations import Entries, own_language
from quoter.problems import quoted

TITLE = "Texts of the catalogue. Kept up to date by: quoter translations CATALOGUE"
_NOTHING = Entry("")


@dataclass(slots=True)
class Update:
    """A file of translations as it should be, and what became of its entries.

    Texts that are `done` need nothing, `left` ones a translation, `changed` ones another look.
    `taken` of them got the translation that the same words have elsewhere. `gone` are entries that
    no text of the catalogue belongs to any more, and are left out.
    """

    language: str
    entries: list[Entry] = field(default_factory=list)
    taken: int = 0
    gone: list[Entry] = field(default_factory=list)

    @property
    def content(self) -> bytes:
        """The file."""
        return po_bytes(self.language, self.entries, TITLE)

    @property
    def changed(self) -> list[Entry]:
        """Entries that somebody must look at again."""
        return [entry for entry in self.entries if entry.fuzzy]

    def left(self, texts: Mapping[str, PublicText]) -> list[Entry]:
        """Entries without a translation that need one."""
        return [
            entry
            for entry in self.entries
            if not entry.strings[0].strip() and not texts[entry.context].reading.keeps
        ]


def wanted_languages(records: Records) -> list[str]:
    """The languages that the catalogue is to be translated into, for its markets or by its files.

    A file that is misnamed counts for none.
    """
    markets = records.yard.markets if records.yard is not None else ()
    asked = [known_locale(language) for market in markets for language in market.languages]
    found = {str(locale.language) for locale in asked if locale is not None}
    found |= records.translations.keys()
    return sorted(found & {*languages()} - {own_language(records)})


def refusal(records: Records, language: str) -> str:
    """Why there can be no file of translations into a language; nothing if there can."""
    if language not in languages():
        return f"the pages have no wording in {quoted(language)}; {expected()}"
    if language == own_language(records):
        return f"{quoted(language)} is the language that the catalogue itself is written in"
    return ""


def updated(texts: Mapping[str, PublicText], entries: Entries, language: str) -> Update:
    """The file of a language brought up to date.

    A text whose key moved, or that is new, takes the translation that the same words have
    elsewhere, if they have one only. A text that changed keeps the translation it had, marked.

    Args:
        texts: what customers read, by key
        entries: the file's, by key and text; none for a new file
        language: its code
    """
    update = Update(language)
    elsewhere = _by_words(entries.values())
    said = {public.written for public in texts.values()}
    # What a key was before; words that still stand somewhere only moved, and are no clue.
    before = {context: e for (context, words), e in entries.items() if words not in said}
    for key, public in texts.items():
        entry = entries.get((key, public.written))
        if entry is None:
            entry = elsewhere.get(public.written)
            update.taken += entry is not None
        if entry is None:
            entry = _outdated(before.pop(key, _NOTHING), public.written)
        old = entry.before if entry.fuzzy else ""
        update.entries.append(
            replace(entry, context=key, text=public.written, plural="", before=old, sources=())
        )
    update.gone = [entry for entry in before.values() if entry.strings[0]]
    return update


def _outdated(entry: Entry, words: str) -> Entry:
    """The entry of a text that was changed into these words; blank where none was translated."""
    if not entry.strings[0]:
        return Entry(words, notes=entry.notes)
    if entry.fuzzy and entry.before == words:
        return replace(entry, fuzzy=False)
    return replace(entry, fuzzy=True, before=entry.before if entry.fuzzy else entry.text)


def _by_words(entries: Iterable[Entry]) -> dict[str, Entry]:
    """Text -> an entry that is translated, where all entries of that text say the same."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.done:
            found.setdefault(entry.text, []).append(entry)
    return {
        words: replace(alike[0], notes=())
        for words, alike in found.items()
        if len({entry.strings[0] for entry in alike}) == 1
    }
