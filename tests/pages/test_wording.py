"""The program's own words: complete in every language, never English in the middle of another."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from html import unescape
from pathlib import Path

import pytest
from babel import Locale

from quoter.catalogue.languages import SOURCE, languages
from quoter.catalogue.po_files import Entry, plural_forms
from quoter.catalogue.source import Text
from quoter.pages.environment import office_locale, page_environment
from quoter.pages.extraction import Said, refreshed, said_by_program, said_in_python
from quoter.pages.extraction import said_in_template as said_in
from quoter.pages.public.site import market_pages
from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError
from quoter.quotes.language import Language
from quoter.resources import templates_folder
from quoter.wording import MissingWordingError, _, program_entries, wording
from tests.pages.test_public import faults as page_faults
from tests.pages.test_public import outside_of

SAID = said_by_program()
OTHERS = [language for language in languages() if language != SOURCE]
GERMAN = Locale("de")
Translated = tuple[str, dict[str, bytes]]  # a language, and its pages by path
# What a value's place looks like in templates (the first) and in Python code (the second).
_PLACEHOLDER = re.compile(r"%\(\w+\)s|\{[^}]*\}|%%|[<>&]")


def placeholders(text: str) -> list[str]:
    """Places of values, per cent signs and markup, in alphabetical order."""
    return sorted(_PLACEHOLDER.findall(text))


def wording_faults(said: Iterable[Said], entries: Iterable[Entry], language: str) -> Iterator[str]:
    """What is not said as it should be in a language, each with the place that says it."""
    known = {(entry.text, entry.plural): entry for entry in entries}
    forms, _rule = plural_forms(language)
    for each in said:
        place = f"{each.file}:{each.line}: {each.text!r}"
        entry = known.get((each.text, each.plural))
        if entry is None:
            yield f"{place} is not in {language}.po"
            continue
        if entry.fuzzy:
            yield f"{place} is fuzzy in {language}.po"
        if not all(text.strip() for text in entry.strings):
            yield f"{place} is empty in {language}.po"
        if len(entry.strings) != (forms if each.plural else 1):
            yield f"{place} has {len(entry.strings)} forms in {language}.po"
        for text in entry.strings:
            # A singular may leave out the number, as English does.
            fitting = [placeholders(each.text), placeholders(each.plural or each.text)]
            if text and placeholders(text) not in fitting:
                yield f"{place} has other places for values in {language}.po"


def test_the_languages_are_english_and_those_with_a_file() -> None:
    assert languages() == ("de", "en", "es", "fr", "nb")


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_is_translated_with_its_values_and_plurals(language: str) -> None:
    assert list(wording_faults(SAID, program_entries(language), language)) == []


def test_the_texts_are_those_of_all_pages_for_customers() -> None:
    files = {said.file for said in SAID}
    assert "templates/shared/page.html" in files
    assert {f"templates/public/{name}.html" for name in ("index", "model", "words")} <= files
    assert "quoter/pricing/clauses.py" in files
    assert not [name for name in files if name.startswith("templates/internal")]
    plurals = [(said.text, said.plural) for said in SAID if said.plural]
    assert ("one, %(price)s", "%(count)s, from %(price)s") in plurals


def test_a_text_without_translation_is_told_with_its_place(tmp_path: Path) -> None:
    template = tmp_path / "new.html"
    template.write_text(
        "<p>\n{% trans count=n %}\none hull\n{% pluralize %}\n{{ count }} hulls\n{% endtrans %}\n"
        '{{ _("Keel") }} {% trans x=y %}up to {{ x }}{% endtrans %}',
        encoding="utf-8",
    )
    said = list(said_in(template, "public/new.html"))
    assert [(each.text, each.line) for each in said] == [
        ("one hull", 2),
        ("Keel", 7),
        ("up to %(x)s", 7),
    ]
    assert list(wording_faults(said, [], "fr"))[1] == "public/new.html:7: 'Keel' is not in fr.po"
    hulls = Entry("one hull", ("une coque", ""), plural="%(count)s hulls")
    keel, most = Entry("Keel", ("Quille",), fuzzy=True), Entry("up to %(x)s", ("%(x) au plus",))
    assert list(wording_faults(said, [hulls, keel, most], "fr")) == [
        "public/new.html:2: 'one hull' is empty in fr.po",
        "public/new.html:7: 'Keel' is fuzzy in fr.po",
        "public/new.html:7: 'up to %(x)s' has other places for values in fr.po",
    ]
    single = replace(hulls, strings=("une coque",))
    assert "has 1 forms" in next(wording_faults(said, [single, keel, most], "fr"))
    mended = [
        replace(hulls, strings=("une coque", "%(count)s coques")),
        replace(keel, fuzzy=False),
        replace(most, strings=("%(x)s au plus",)),
    ]
    assert list(wording_faults(said, mended, "fr")) == []


@pytest.mark.parametrize("language", OTHERS)
def test_the_files_are_what_the_refresh_writes(language: str) -> None:
    file = templates_folder() / "translations" / f"{language}.po"
    entries = program_entries(language)
    assert file.read_bytes() == refreshed(language, SAID, entries)
    assert b"POT-Creation-Date" not in file.read_bytes()


def test_a_refresh_keeps_what_is_translated_and_drops_what_nobody_says() -> None:
    said = [Said("Keel", "", "a.html", 1), Said("Hull", "", "a.html", 2), Said("Keel", "", "b", 9)]
    known = [Entry("Mast", ("Mast",)), Entry("Keel", ("Kiel",), sources=("old.html",))]
    assert refreshed("de", said, known).decode().partition("\n\n")[2] == (
        '#: a.html\n#: b\nmsgid "Keel"\nmsgstr "Kiel"\n\n#: a.html\nmsgid "Hull"\nmsgstr ""\n'
    )


def test_python_code_marks_its_texts(tmp_path: Path) -> None:
    module = tmp_path / "module.py"
    module.write_text(
        'NAMES = {"a": _("Anchor")}\nsay("to {x}").format(x=1)\nself._say("Bilge")\n'
        'say.plural("one", "{count} of them", 2)\nsay(text)\n_(f"{text}")\n',
        encoding="utf-8",
    )
    found = list(said_in_python(module, "m.py"))
    assert [(each.text, each.plural) for each in found] == [
        ("Anchor", ""),
        ("to {x}", ""),
        ("Bilge", ""),
        ("one", "{count} of them"),
    ]
    assert [each.text for each in said_in_python(module, "m.py", spoken=False)] == ["Anchor"]
    assert _("Anchor") == "Anchor"


def test_words_without_translation_are_an_error_and_never_english() -> None:
    missing = r"^no wording in 'de' for: No such words$"
    with pytest.raises(MissingWordingError, match=missing):
        wording(GERMAN)("No such words")
    environment = page_environment(GERMAN, "EUR")
    for source in ('{{ _("No such words") }}', "{% trans %}No such words{% endtrans %}"):
        with pytest.raises(MissingWordingError, match=missing):
            environment.from_string(source).render()
    with pytest.raises(MissingWordingError, match=r"one of \| %\(count\)s of"):
        wording(GERMAN).plural("one of", "%(count)s of", 3)
    assert wording(Locale("en"))("No such words, {x}", x=2) == "No such words, 2"


def test_a_region_reads_its_language() -> None:
    assert wording(Locale("de", "CH"))("Length") == wording(GERMAN)("Length") == "Länge"
    assert wording(Locale("en", "IE"))("Length") == "Length"
    shown = page_environment(Locale("de", "CH"), "CHF").from_string(
        '{{ lang }} {{ _("Price") }} {{ 1.5 | float }}'
    )
    assert shown.render() == "de-CH Preis 1.5"


# French counts none as one: the plural rule of gettext for fr, (n > 1), from CLDR.
def test_plurals_follow_the_language() -> None:
    environment = page_environment(Locale("fr"), "EUR")
    source = (
        "{% trans count=n, price=p %}one, {{ price }}{% pluralize %}{{ count }}, from {{ price }}"
        "{% endtrans %}"
    )
    shown = [environment.from_string(source).render(n=n, p="9 €") for n in (0, 1, 2)]
    assert shown == ["une, 9 €", "une, 9 €", "2, à partir de 9 €"]


def test_a_translation_is_escaped_like_the_page_it_is_on() -> None:
    shown = page_environment(Locale("fr"), "EUR").from_string(
        "{% trans length=x %}boats of {{ length }} and longer{% endtrans %}"
    )
    assert shown.render(x="<b>") == "bateaux de &lt;b&gt; et plus"


@pytest.fixture(scope="module", params=OTHERS)
def translated(
    request: pytest.FixtureRequest, demo_pricing: Pricing
) -> tuple[str, dict[str, bytes]]:
    """The demonstration's price sheet in another language."""
    language = str(request.param)
    market = demo_pricing.catalogue.yard.markets[0]
    return language, market_pages(demo_pricing, market, Locale(language))


def lines_of(page: bytes) -> set[str]:
    """What stands between tags, and in the labels of tags."""
    text = page.decode()
    labels = re.findall(r'aria-label="([^"]*)"', text)
    return {unescape(line).strip() for line in (*re.split(r"<[^>]*>|\n", text), *labels)}


def test_a_price_sheet_has_no_english_left(translated: Translated, demo_pricing: Pricing) -> None:
    language, pages = translated
    catalogue = demo_pricing.catalogue
    texts = [public.text for public in catalogue.records.texts.values()]
    english = {str(t) for t in texts if catalogue.worded(t, language) != t}
    english |= {e.text for e in program_entries(language) if e.strings[0] != e.text}
    shown = [path for path in pages if path.endswith(".html")]
    assert len(shown) > len(demo_pricing.models)
    assert {path: lines_of(pages[path]) & english for path in shown} == {p: set() for p in shown}
    market = catalogue.yard.markets[0]
    in_english = market_pages(demo_pricing, market, Locale("en"))
    assert all(lines_of(in_english[path]) & english for path in shown)  # the search does find it


def test_a_price_sheet_in_another_language_is_as_sound_as_in_english(
    translated: Translated, demo_site: dict[str, bytes], demo_pricing: Pricing
) -> None:
    language, _ = translated
    pages = [path for path in demo_site if path.startswith(f"{language}/home/")]
    pages = [path for path in pages if path.endswith(".html")]
    assert len(pages) > len(demo_pricing.models)
    for path in pages:
        assert page_faults(path, demo_site, outside_of(demo_pricing)) == []
        assert f'<html lang="{language}" dir="ltr">'.encode() in demo_site[path]


def test_a_quote_speaks_one_language(demo_pricing: Pricing) -> None:
    catalogue = demo_pricing.catalogue
    spoken = Language(catalogue, Locale("de", "AT"))
    tax = catalogue.yard.markets[0].tax_name
    assert spoken.words(tax) == "MwSt"
    assert spoken.say("Length") == "Länge"
    assert spoken.percent(Decimal("0.081")) == "8,1\N{NO-BREAK SPACE}%"
    request = Text.at("gate two", tax.place, "request.delivery.named_place")
    assert spoken.words(request) == "gate two"


def test_a_quote_in_a_language_the_catalogue_lacks_is_refused(small_pricing: Pricing) -> None:
    told = r"^translations/fr\.po: the file is missing \[translation\]\n.* 'fr'"
    with pytest.raises(CatalogueError, match=told):
        Language(small_pricing.catalogue, Locale("fr"))


def test_pages_for_the_yard_itself_are_in_the_language_of_its_home_market(
    small_pricing: Pricing,
) -> None:
    market = small_pricing.catalogue.yard.markets[0]
    for language, expected in (("en-IE", "en_IE"), ("de-AT", "de_AT"), ("en-US", "en_US")):
        text = Text.at(language, market.language.place)
        assert str(office_locale(market.model_copy(update={"language": text}))) == expected
