"""One term for one thing, in every language that customers read.

The table is the trade's own usage, from memory. For each thing it has the one word that is used,
and words of the same language for it that are not, as patterns.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import pytest

from quoter.catalogue.languages import SOURCE, languages
from quoter.catalogue.po_files import entries_in
from quoter.pages.extraction import said_by_program
from quoter.wording import program_entries
from tests.demo import DEMO

# What a thing is called in the source, and per language what it is called, and never.
TERMS: dict[str, dict[str, tuple[str, str]]] = {
    r"\bcockpit\b": {
        "de": (r"[Cc]ockpit|Backskiste", r"[Pp]licht(?!en)"),
        "fr": (r"cockpit|plancher|coffre", r"baignoire"),
        "es": (r"bañera", r"cockpit"),
        "nb": (r"cockpit", r"sittebrønn"),
    },
    r"\broof\b": {
        "de": (r"[Dd]ach", r"[Hh]ardtop"),
        "fr": (r"[Tt]oit", r"hard-?top"),
        "es": (r"[Tt]echo", r"hard-?top"),
        "nb": (r"[Tt]ak", r"hardtop"),
    },
    r"\blead times?\b": {
        "de": (r"Lieferzeit", r"Vorlaufzeit|Durchlaufzeit"),
        "fr": (r"[Dd]élai", r"temps de livraison"),
        "es": (r"[Pp]lazo", r"tiempo de entrega"),
        "nb": (r"[Ll]everingstid", r"ledetid"),
    },
    r"\boptions?\b": {
        "de": (r"Extra", r"Option|Sonderausstattung"),
        "fr": (r"[Oo]ption", r"extras?\b|supplémentaires"),
        "es": (r"[Oo]pci[oó]n", r"\bextras?\b|opcional"),
        "nb": (r"[Tt]ilvalg", r"opsjon|ekstrautstyr"),
    },
    r"\bpackages?\b": {
        "de": (r"Paket", r"\bSet\b|Bündel"),
        "fr": (r"\bpacks?\b|Packs?\b", r"paquet|forfait"),
        "es": (r"[Pp]aquete", r"\bpack\b"),
        "nb": (r"[Pp]akke", r"\bsett\b"),
    },
    r"\b[Ss]tandard equipment\b": {
        "de": (r"Serienausstattung|[Ss]erie", r"Standardausrüstung|Grundausstattung"),
        "fr": (r"de série", r"standard"),
        "es": (r"de serie", r"est[aá]ndar"),
        "nb": (r"[Ss]tandardutstyr", r"serieutstyr"),
    },
    r"\bprice (?:sheet|list)s?\b": {
        "de": (r"Preisliste", r"Preisblatt"),
        "fr": (r"[Tt]arif", r"liste de prix"),
        "es": (r"[Ll]istas?\b", r"tarifa"),
        "nb": (r"[Pp]risliste", r"prisark"),
    },
    r"\b(?:this|our|the|[Tt]o accept) quote\b": {
        "de": (r"Angebot", r"Offerte|Kostenvoranschlag"),
        "fr": (r"devis", r"\boffre\b"),
        "es": (r"presupuesto|de este modo", r"cotización|\boferta\b"),
        "nb": (r"[Tt]ilbud", r"offerte|pristilbud"),
    },
    r"\bweights?\b|\bWeights?\b": {
        "de": (r"[Gg]ewicht", r"Masse\b"),
        "fr": (r"[Pp]oids", r"\bmasses?\b"),
        "es": (r"[Pp]esos?\b", r"\bmasas?\b"),
        "nb": (r"[Vv]ekt", r"\bmasse\b"),
    },
    r"\bhulls?\b": {
        "de": (r"[Rr]umpf|Bordwand", r"Schale|Kasko"),
        "fr": (r"[Cc]oque|latéral", r"carène"),
        "es": (r"[Cc]asco|costado", r"carena"),
        "nb": (r"[Ss]krog", r"kasko"),
    },
    r"\byard\b": {
        "de": (r"Werft|Hausbank|Verbindlich", r"Bootsbauer|Hersteller"),
        "fr": (r"chantier", r"constructeur"),
        "es": (r"astillero", r"constructor"),
        "nb": (r"[Vv]erft", r"produsent"),
    },
    r"\bhinges?\b": {
        "de": (r"[Ss]charnier|angeschlagen", r"Angel\b"),
        "fr": (r"[Cc]harnière|pivote", r"\bgonds?\b"),
        "es": (r"[Bb]isagra|gira", r"gozne"),
        "nb": (r"[Hh]engs", r"\bbeslagene\b"),
    },
    r"\blatch(?:es)?\b": {
        "de": (r"[Rr]iegel", r"Verschluss\b"),
        "fr": (r"[Ll]oquet", r"\bverrous?\b"),
        "es": (r"[Pp]estillo", r"cierres?\b"),
        "nb": (r"[Ll]ukkebeslag", r"\blås(?:er)?\b"),
    },
    r"\b[Ww]heelhouse\b": {
        "de": (r"Steuerhaus", r"Deckshaus"),
        "fr": (r"timonerie", r"abri de barre"),
        "es": (r"timonera", r"caseta"),
        "nb": (r"[Ss]tyrehus", r"dekkshus"),
    },
}
# Where what customers read is said.
SHOWN = ("templates/", "quoter/pages/public/", "quoter/quotes/printed/", "quoter/pricing/")
# What English readers are told by one word, and never by these.
ENGLISH = {
    "weight": r"\b[Mm]ass(?:es)?\b",
    "price sheet": r"\b[Pp]rice lists?\b",
    "option": r"\b[Ee]xtras\b|\b[Oo]ptional\b",
    "wheelhouse": r"wheel ?shelter|deckhouse",
    "flybridge": r"flying bridge",
    "its country": r"[Hh]ome market",
    "includes": r"\bHolds\b",
}
PLACE = re.compile(r"%\(\w+\)s|\{\w+\}")
Pair = tuple[str, str]


def pairs(language: str) -> Iterator[Pair]:
    """Every text that customers read, and its translation."""
    entries = program_entries(language)
    file = DEMO / "translations" / f"{language}.po"
    for entry in [*entries, *entries_in(file.read_text(encoding="utf-8"))]:
        yield from ((entry.text, text) for text in entry.strings if text)


def faults(language: str, texts: Iterable[Pair]) -> Iterator[str]:
    """Texts that call a thing by another term than the table's."""
    for source, told in texts:
        words = PLACE.sub("", source)
        for thing, terms in TERMS.items():
            if not re.search(thing, words):
                continue
            term, never = terms[language]
            if re.search(never, told):
                yield f"{never!r} in {told!r}"
            elif not re.search(term, told):
                yield f"no {term!r} in {told!r}, for {source!r}"


def english() -> Iterator[str]:
    """Every English text that customers read: the program's, and the demonstration's."""
    yield from (each.text for each in said_by_program() if each.file.startswith(SHOWN))
    file = DEMO / "translations" / "de.po"
    yield from (entry.text for entry in entries_in(file.read_text(encoding="utf-8")))


def test_every_language_has_the_whole_table() -> None:
    others = {language for language in languages() if language != SOURCE}
    assert all({*terms} == others for terms in TERMS.values())


@pytest.mark.parametrize("language", [each for each in languages() if each != SOURCE])
def test_a_thing_has_one_name(language: str) -> None:
    texts = [*pairs(language)]
    assert len(texts) > 400
    assert sorted({*faults(language, texts)}) == []


@pytest.mark.parametrize("term", ENGLISH)
def test_english_has_one_name_as_well(term: str) -> None:
    texts = (PLACE.sub("", text) for text in english())
    assert sorted({text for text in texts if re.search(ENGLISH[term], text)}) == []


def test_another_name_is_found() -> None:
    assert [*faults("de", [("Cockpit roof, a cockpit", "Plicht mit Dach")])] != []
    assert [*faults("fr", [("two latches", "deux verrous")])] != []
    assert [*faults("nb", [("Lead time and lead times", "leveringstider")])] == []
