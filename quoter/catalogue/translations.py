"""The yard's own texts in other languages: which there are, what is said of them, what is wrong.

What customers read stands in the catalogue in the language of its first market, and in
translations/LANGUAGE.po for every other. There, an entry's context is the text's key.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import PurePosixPath

from quoter.catalogue.checks_ids import every_record, readings
from quoter.catalogue.languages import expected, known_locale, languages
from quoter.catalogue.markets import Market
from quoter.catalogue.po_files import Entry
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import PublicText, Records
from quoter.catalogue.source import Sources, Text
from quoter.catalogue.values import Worded
from quoter.intake import LONGEST_TEXT
from quoter.problems import UNPRINTABLE, CatalogueError, Place, Problem, listed, quoted, unprintable

FOLDER = "translations"
REFRESH = "run `quoter translations CATALOGUE` and translate it"
OR_ELSE = "with --no-site a build does without the price sheet"
Entries = Mapping[tuple[str, str], Entry]


def file_of(language: str) -> str:
    """The catalogue's file of translations into a language."""
    return f"{FOLDER}/{language}.po"


def read_translations(sources: Sources, records: Records) -> None:
    """Read every file of translations there is into the records, and note what is translated."""
    records.texts.update(public_texts(records))
    for name in sources.names(FOLDER, ".po"):
        entries = sources.translations(name)
        if name in sources.doubtful:
            records.unread.tables.add(name)
        else:
            records.translations[PurePosixPath(name).stem] = {
                (e.context, e.text): e for e in entries
            }


def public_texts(records: Records) -> dict[str, PublicText]:
    """Every text that customers read in their own language, by key, in the order of the files."""
    found: dict[str, PublicText] = {}
    for record in every_record(records):
        for name, reading in _worded(type(record)):
            value = getattr(record, name)
            for text in value if isinstance(value, tuple) else (value,):
                if text is not None:
                    found[text.key] = PublicText(text, reading)
    return dict(sorted(found.items(), key=lambda item: item[1].text.place))


@cache
def _worded(kind: type[CatalogueRecord]) -> tuple[tuple[str, Worded], ...]:
    """The fields of a kind of record that customers read, and how they are translated."""
    return tuple(readings(kind, Worded))


def own_language(records: Records) -> str:
    """The language that the catalogue is written in: its first market's; nothing if unknown."""
    markets = records.yard.markets if records.yard is not None else ()
    locale = known_locale(markets[0].language) if markets else None
    return "" if locale is None else str(locale.language)


def worded(records: Records, text: Text, language: str) -> str:
    """A text of the catalogue in a language; one that is not translated is given as it is.

    Raises:
        CatalogueError: the text has no translation into that language.
    """
    public = records.texts.get(text.key)
    if language == own_language(records) or public is None or public.text is not text:
        return str(text)
    entry = records.translations.get(language, {}).get((text.key, public.written))
    if entry is not None and entry.done:
        return entry.strings[0]
    if public.reading.keeps:
        return str(text)
    what = f"the file has no translation of {quoted(text)}"
    raise CatalogueError([Problem(Place(file_of(language)), "translation", what, REFRESH)])


def need_language(records: Records, language: str) -> None:
    """Refuse a language that the catalogue is not translated into.

    Raises:
        CatalogueError: naming the file that is missing.
    """
    if language != own_language(records) and language not in records.translations:
        problem = _no_file(language, f"there are no texts of the catalogue in '{language}'")
        raise CatalogueError([problem])


def check_translations(records: Records) -> Iterator[Problem]:
    """What is translated is sound; what is not is a warning, since it can be costed all the same.

    What could not be read of a file is told elsewhere.
    """
    own = own_language(records)
    if not own:
        return
    spoken = _market_languages(records)
    for language, entries in records.translations.items():
        fault = _misnamed(language, own)
        if fault is not None:
            yield fault
            continue
        for problem in _entry_faults(records, language, entries):
            yield replace(problem, warning=language not in spoken)
        for problem in _undone(records, language, entries):
            yield replace(problem, warning=True)
    for problem in _missing_files(records):
        yield replace(problem, warning=True)


def untranslated(records: Records) -> Iterator[Problem]:
    """What keeps a price sheet from being published: what a market can't read in its language."""
    for language in _market_languages(records):
        if language != own_language(records) and language in records.translations:
            for problem in _undone(records, language, records.translations[language]):
                yield replace(problem, hint=f"{problem.hint}; {OR_ELSE}")
    for problem in _missing_files(records):
        yield replace(problem, hint=f"{problem.hint}; {OR_ELSE}")


def _missing_files(records: Records) -> Iterator[Problem]:
    """Languages of markets without a file; what can't be read of one is told elsewhere."""
    have = {own_language(records), *records.translations}
    for language, market in _market_languages(records).items():
        missing = language in languages() and language not in have
        if missing and file_of(language) not in records.unread.tables:
            yield _no_file(language, f"{market.place.clickable} has a market in '{language}'")


def _market_languages(records: Records) -> dict[str, Market]:
    """The languages of markets, each with the first that has it."""
    found: dict[str, Market] = {}
    for market in records.yard.markets if records.yard is not None else ():
        for language in market.languages:
            locale = known_locale(language)
            if locale is not None:
                found.setdefault(str(locale.language), market)
    return found


def _no_file(language: str, why: str) -> Problem:
    hint = f"{why}; run `quoter translations CATALOGUE --language {language}` and translate it"
    return Problem(Place(file_of(language)), "translation", "the file is missing", hint)


def _misnamed(language: str, own: str) -> Problem | None:
    """What is wrong with the name of a file."""
    locale = known_locale(language)
    named = f"the file is named by '{language}', "
    place = Place(file_of(language))
    if locale is None:
        return Problem(
            place, "file-name", f"{named}which is no known language", "for example de.po"
        )
    if language != locale.language:
        hint = f"name it {locale.language}.po: all its regions read the same texts"
        return Problem(place, "file-name", f"{named}a language with its region", hint)
    if language == own:
        what = f"{named}which the catalogue itself is written in"
        return Problem(place, "file-name", what, "remove it")
    if language not in languages():
        return Problem(place, "file-name", f"{named}which the pages have no wording in", expected())
    return None


def _entry_faults(records: Records, language: str, entries: Entries) -> Iterator[Problem]:
    """What is wrong with what is translated."""
    alike: dict[tuple[str, str], Entry] = {}
    for key, public in records.texts.items():
        entry = entries.get((key, public.written))
        if entry is None or not entry.done:
            continue
        yield from _faults(language, entry)
        if public.reading.joins:
            first = alike.setdefault((key.rpartition(".")[2], public.written), entry)
            yield from _unlike(language, first, entry)


def _undone(records: Records, language: str, entries: Entries) -> Iterator[Problem]:
    """What is not translated, or not as the text is now."""
    known = {context: entry for (context, _), entry in entries.items()}
    missing = []
    for key, public in records.texts.items():
        entry = entries.get((key, public.written))
        if entry is not None:
            place = Place(file_of(language), entry.line, 1)
            if entry.fuzzy:
                hint = "mend the translation, then remove the mark 'fuzzy' above it"
                yield Problem(place, "translation", "the translation must be looked at again", hint)
            elif not entry.done and not public.reading.keeps:
                yield Problem(
                    place, "translation", "the text has no translation", "write it after msgstr"
                )
        elif key in known:
            what = f"the text is now {quoted(public.written)}"
            yield Problem(
                Place(file_of(language), known[key].line, 1), "translation", what, REFRESH
            )
        elif not public.reading.keeps:
            missing.append(key)
    if missing:
        texts = f"{len(missing)} texts" if len(missing) > 1 else "the text"
        what = f"the file lacks {texts} {listed(missing)}"
        yield Problem(Place(file_of(language)), "translation", what, REFRESH)


def _faults(language: str, entry: Entry) -> Iterator[Problem]:
    """What is wrong with the translation of a text as it stands."""
    place = Place(file_of(language), entry.line, 1)
    said = entry.strings[0]
    if bad := UNPRINTABLE.search(said):
        yield Problem(place, "unprintable", f"the escape of {unprintable(bad)}", "remove it")
    elif len(said) > LONGEST_TEXT:
        what = f"the translation has {len(said)} characters"
        yield Problem(place, "too-much", what, f"at most {LONGEST_TEXT} characters fit")


def _unlike(language: str, first: Entry, entry: Entry) -> Iterator[Problem]:
    if entry.strings[0] != first.strings[0]:
        what = f"{quoted(entry.text)} is {quoted(first.strings[0])} on line {first.line}"
        hint = "translate it alike wherever it stands: these words join options"
        yield Problem(Place(file_of(language), entry.line, 1), "translation", what, hint)
