"""What customers read keeps the typographic rules of its language: all pages, scripts and quotes.

The rules are published ones, from memory: spaces before signs by the Imprimerie nationale's Lexique
des règles typographiques (a thin one before ; ! ?, one of full width before a colon and inside
guillemets, neither ever ending a line); quotation marks by DIN 5008, the Ortografía of the RAE and
the Språkrådet; a true minus sign and a space that
ends no line between number and unit by ISO 80000-1.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from html.parser import HTMLParser

import pytest

from quoter.catalogue.languages import languages
from quoter.quotes.printed.files import quote_page
from quoter.quotes.printed.shown import shown_of
from tests.quotes.samples import SAMPLES

# Spaces that end no line, and how wide they are in French.
THIN, WIDE = "\N{NARROW NO-BREAK SPACE}", "\N{NO-BREAK SPACE}"
READ = ("alt", "aria-label", "title", "placeholder", "content")
SAID_BY_SCRIPTS = "data-"
DATA = "window.priceList = "
# Texts that no person reads.
NOT_READ = re.compile(r"default-src|width=device-width|no-referrer|https?:|mailto:|[a-z_]+\.html")
UNITS = "kg|lb|mm|cm|m|ft|in|po|h|Std\\.|t|%"
# A pattern that no text of a language may hold, and what is wrong then.
ANYWHERE = {
    r"(?<![\w.,])-(?=[€£$]?\s?\d)": "a hyphen for a minus",
    r"(?<=\S) {2,}(?=\S)": "two spaces",
    r'"': "a straight quotation mark",
    r"Home market": "a market that does not say its country",
    rf"\d (?:{UNITS})(?!\w)": "a space before a unit that may end a line",
    r"\.\.\.": "three points for an ellipsis",
}
BY_LANGUAGE: dict[str, Mapping[str, str]] = {
    "fr": {
        rf"(?<!{THIN})[;!?]": "no thin space before ; ! ?",
        rf"(?<!{WIDE}):(?=\s|\Z)": "no space of full width before a colon",
        rf"«(?!{WIDE})|(?<!{WIDE})»": "no space inside guillemets",
        r"\b1 (?:janvier|février|mars|avril|mai|juin|juillet|août|septembre|octobre"
        r"|novembre|décembre)": "the first of a month is 1er",
        r"[“”„']": "marks of another language",
    },
    "de": {r"[«»”']": "marks of another language"},
    "es": {r"[“”„']": "marks of another language", r"\s[;:!?»]|«\s": "a space by a sign"},
    "nb": {r"[“”„']": "marks of another language", r"\s[;:!?»]|«\s": "a space by a sign"},
    "en": {r"[«»„]": "marks of another language", r"\s[;:!?]": "a space before a sign"},
}
WHOLE = re.compile(r"(?:€|NOK|kr)\s?[\d., \u00a0\u202f]*[.,]00\b|\d[.,]00\s?(?:€|NOK|kr)")


class _Reader(HTMLParser):
    """What of a page somebody reads or hears, each text as one piece."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.texts: list[str] = []
        self._unread = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._unread = tag in ("script", "style")
        for name, value in attrs:
            if value and (name in READ or (name.startswith(SAID_BY_SCRIPTS) and " " in value)):
                self.texts.append(value)

    def handle_endtag(self, tag: str) -> None:
        self._unread = False

    def handle_data(self, data: str) -> None:
        if not self._unread:
            self.texts.append(data)


def read(page: bytes) -> list[str]:
    """Every text of a page that somebody reads or hears."""
    reader = _Reader()
    reader.feed(page.decode())
    return reader.texts


def said(script: bytes) -> Iterator[str]:
    """The words that the script of a boat says."""
    line = next(each for each in script.decode().split("\n") if each.startswith(DATA))
    data = json.loads(line.removeprefix(DATA).removesuffix(";"))
    yield from data["words"].values()
    yield from (rule["words"] for rule in data["rules"])


def faults(language: str, texts: Iterable[str]) -> Iterator[str]:
    """What is wrong with texts of a language, each with the words around it."""
    rules = {**ANYWHERE, **BY_LANGUAGE[language]}
    for text in texts:
        for line in text.split("\n"):
            shown = line.strip(" ")
            if NOT_READ.search(shown):
                continue
            for pattern, what in rules.items():
                if found := re.search(pattern, shown):
                    yield f"{what}: {shown[max(0, found.start() - 30) : found.end() + 20]!r}"


def test_every_language_has_rules() -> None:
    assert set(BY_LANGUAGE) == set(languages())


@pytest.mark.parametrize("language", languages())
def test_price_sheets_keep_the_rules(demo_site: dict[str, bytes], language: str) -> None:
    pages = {
        path: content
        for path, content in demo_site.items()
        if path.startswith(f"{language}/") and path.endswith(".html")
    }
    assert len(pages) > 8
    wrong = {
        f"{path}: {fault}" for path, page in pages.items() for fault in faults(language, read(page))
    }
    scripts = [path for path in demo_site if re.match(rf"{language}/\w+/models/\w+\.js", path)]
    assert len(scripts) >= 5
    for path in scripts:
        # In quotes of the script, a mark of the text would have a backslash before it.
        wrong |= {f"{path}: {fault}" for fault in faults(language, said(demo_site[path]))}
    assert sorted(wrong) == []


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("language", languages())
def test_what_the_program_says_on_a_quote_keeps_the_rules(sample: str, language: str) -> None:
    of = SAMPLES[sample](language=language)
    # What the yard wrote for itself is in one language only, and is taken out.
    written = sorted({text for text in strings_of(shown_of(of)) if len(text) > 6}, key=len)
    texts = read(quote_page(of))
    assert len(texts) > 50
    for text in reversed(written):
        texts = [each.replace(text, "·") for each in texts]
    assert sorted(set(faults(language, texts))) == []


def strings_of(value: object) -> Iterator[str]:
    """Every text that something holds."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for each in value:
            yield from strings_of(each)
    else:
        kind = type(value)
        names = getattr(kind, "__dataclass_fields__", {}) or getattr(kind, "model_fields", {})
        for name in names:
            yield from strings_of(getattr(value, name))


@cache
def money_on(page: bytes) -> tuple[list[str], list[str]]:
    """Amounts of a page in figures: with two decimals, and without."""
    texts = [text for text in read(page) if re.search(r"€|NOK|kr\b", text)]
    amounts = [
        each for text in texts for each in re.findall(r"[€\d][\d.,\u00a0\u202f€]*\d(?:\s?€)?", text)
    ]
    decimals = [each for each in amounts if re.search(r"[.,]\d\d(?!\d)", each)]
    return decimals, [each for each in amounts if each not in decimals]


@pytest.mark.parametrize("folder", ["en/trade", "de/trade", "nb/north", "en/north"])
def test_a_list_of_whole_prices_has_no_decimals(demo_site: dict[str, bytes], folder: str) -> None:
    # Before tax, the demonstration's list prices are whole tens of euros and whole hundreds of
    # crowns: see `policy.rounding` and the market's own in yard.yaml.
    pages = [path for path in demo_site if path.startswith(folder) and path.endswith(".html")]
    assert len(pages) > 7
    for path in pages:
        assert not [text for text in read(demo_site[path]) if WHOLE.search(text)], path
    assert len(money_on(demo_site[f"{folder}/list.html"])[1]) > 50


@pytest.mark.parametrize("folder", ["en/home", "de/home", "fr/home", "es/home", "nb/home"])
def test_a_list_with_one_broken_price_has_decimals_everywhere(
    demo_site: dict[str, bytes], folder: str
) -> None:
    # Tens of euros with 24 % tax are tenths: 710 x 1.24 = 880.40, worked by hand.
    decimals, whole = money_on(demo_site[f"{folder}/list.html"])
    assert [each for each in decimals if re.search(r"880[.,]40", each)]
    assert [each for each in decimals if re.search(r"[.,]00\b", each)], "whole ones as well"
    priced = [each for each in whole if "€" in each]
    assert priced == []


def test_figures_of_prices_stand_below_each_other(demo_site: dict[str, bytes]) -> None:
    styles = b"\n".join(demo_site[path] for path in demo_site if path.endswith(".css")).decode()
    assert re.search(r"font-variant-numeric:\s*(?:lining-nums )?tabular-nums", styles)


def test_faults_are_found() -> None:
    assert [*faults("fr", ["Prix: 3 €;", "le 1 mars", "« oui »"])] != []
    for language, text in {
        "fr": "le 1 octobre 2026",
        "de": "«so»",
        "es": "“así”",
        "nb": "slik ;",
        "en": "-5 kg",
    }.items():
        assert [*faults(language, [text])], text
    right = [f"Prix{WIDE}: 3{WIDE}kg{THIN}; «{WIDE}oui{WIDE}»", "le 1er mars"]
    assert [*faults("fr", right)] == []
