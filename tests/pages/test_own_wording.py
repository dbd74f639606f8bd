"""What the yard itself reads, in its own language: how much is translated, and by which file."""

from __future__ import annotations

import io
import pickle
import re
import zipfile
from pathlib import Path

import pytest
from babel import Locale
from babel.messages.plurals import get_plural

from quoter.american import american
from quoter.catalogue.languages import SOURCE, languages, regions, wording_code
from quoter.figures import constant
from quoter.pages.environment import own_environment, page_environment
from quoter.pages.extraction import Said, files, refreshed, said_by_program, said_to_the_yard
from quoter.pages.own_words import words_in
from quoter.phrases import Phrase, capital, phrase, together
from quoter.resources import PACKAGE, templates_folder
from quoter.wording import YARD, OwnWording, own_wording, program_entries, wording
from quoter.workbook import Book, Column, Contents, Flag, Link, Paragraphs, Row, Sheet, Table
from quoter.workbook.spoken import spoken
from quoter.workbook.writer import write_book
from tests.pages.test_wording import placeholders, wording_faults

SAID = said_by_program()
OWN = said_to_the_yard(SAID)
OTHERS = [language for language in languages() if language != SOURCE]
AMERICAN = Locale("en", "US")
# How many texts each language still lacks. A number here may only go down.
LEFT = {"de": 0, "es": 0, "fr": 1603, "nb": 1603}
GERMAN = OwnWording(
    {
        "{name}: nights in the mould": ("{name}: Nächte in der Form",),
        "{name}: cost": ("Kosten: {name}",),
        "Summary": ("Übersicht",),
        "Cost": ("Kosten",),
        "holds": ("hält",),
        "Sheet": ("Blatt",),
    }
)


@pytest.mark.parametrize("language", OTHERS)
def test_what_the_yard_reads_is_translated_more_and_more(language: str) -> None:
    entries = program_entries(f"{YARD}{language}")
    assert sum(not entry.done for entry in entries) <= LEFT[language]
    done = [entry for entry in entries if entry.done]
    said = [each for each in OWN if (each.text, each.plural) in {(e.text, e.plural) for e in done}]
    assert list(wording_faults(said, done, language)) == []


def test_every_file_is_what_the_refresh_writes() -> None:
    folder = templates_folder() / "translations"
    wanted = files()
    assert {
        code: (folder / f"{code}.po").read_bytes() == wanted[code] for code in wanted
    } == dict.fromkeys(wanted, True)
    assert {file.relative_to(folder).as_posix() for file in folder.rglob("*.po")} == {
        f"{code}.po" for code in wanted
    }


@pytest.mark.parametrize("code", ["en_US", f"{YARD}en_US"])
def test_every_british_word_has_an_american_one(code: str) -> None:
    said = OWN if code.startswith(YARD) else SAID
    known = {entry.text: entry for entry in program_entries(code)}
    british = [each for each in said if american(each.text) != each.text]
    assert [each.text for each in british if each.text not in known] == []
    for text, entry in known.items():
        assert [american(form) for form in entry.strings] == list(entry.strings)
        assert placeholders(text) == placeholders(entry.strings[0])
    assert regions() == ("en_US",)
    assert get_plural("en_US").num_plurals == 2


def test_americans_read_their_spelling_and_the_rest_of_english() -> None:
    assert wording_code(AMERICAN) == "en_US"
    assert wording_code(Locale("en", "IE")) == "en"
    assert wording_code(Locale("de", "AT")) == "de"
    say = own_wording(AMERICAN)
    assert say(phrase("{name}: nights in the mould", name="Mould 3")) == (
        "Mould 3: nights in the mold"  # what the yard calls it stays
    )
    assert say("Utilisation") == "Utilization"
    assert say("No such words") == "No such words"
    assert wording(AMERICAN)("Length") == "Length"
    shown = own_environment(AMERICAN, "USD").from_string(
        '{{ lang }} {{ _("Mould") }} {{ 1234.5 | number }} {{ "Labour" | say }}'
    )
    assert shown.render() == "en-US Mold 1,235 Labor"


def test_what_has_no_phrase_is_spelt_as_the_region_spells_it() -> None:
    say = own_wording(AMERICAN)
    # A formula's docstring; what the yard itself wrote stays as it is.
    assert say(phrase("Labour hours of a mould, from no phrase")) == (
        "Labor hours of a mold, from no phrase"
    )
    assert say(phrase("{name} at the mould, told so", name="Mould 3")) == (
        "Mould 3 at the mold, told so"
    )
    assert say("Mould 3, as the yard wrote it") == "Mould 3, as the yard wrote it"
    assert own_wording(Locale("en"))(phrase("Labour hours of a mould, from no phrase")) == (
        "Labour hours of a mould, from no phrase"
    )
    assert american("CATALOGUE is the catalogue's folder") == "CATALOGUE is the catalog's folder"


def test_what_begins_a_line_has_a_capital_in_every_language() -> None:
    inner = phrase("by hand")
    say = OwnWording({"by hand": ("von Hand",)})
    assert (capital(inner), say(capital(inner)), say(inner)) == ("By hand", "Von Hand", "von Hand")
    assert (capital("made in {x}"), say(capital("by hand"))) == ("Made in {x}", "By hand")
    again = pickle.loads(pickle.dumps(capital(inner)))
    assert (say(again), say(again.lower())) == ("Von Hand", "von Hand")


def test_keys_and_places_of_values_are_not_respelt() -> None:
    told = "A <code>colour</code> of {colour}, %(labour)s and `mould`: the colours"
    assert american(told) == "A <code>colour</code> of {colour}, %(labour)s and `mould`: the colors"
    assert american("exercise, otherwise, promised, revised, surprising, advise") == (
        "exercise, otherwise, promised, revised, surprising, advise"
    )
    assert american("Centred on the programme; programmed, cancelled, parameters, perimeter") == (
        "Centered on the program; programmed, canceled, parameters, perimeter"
    )


def test_a_phrase_is_its_english_text_and_can_be_said_otherwise() -> None:
    named = phrase("{name}: nights in the mould", name="Hull")
    assert named == "Hull: nights in the mould"
    found: dict[str, int] = {named: 1}
    assert found["Hull: nights in the mould"] == 1
    assert GERMAN(named) == "Hull: Nächte in der Form"
    assert GERMAN(phrase("{name}: cost", name=named)) == "Kosten: Hull: Nächte in der Form"
    assert GERMAN(together(", ", [named, "Cost"])) == "Hull: Nächte in der Form, Cost"
    assert type(OwnWording({})(named)) is str
    again = pickle.loads(pickle.dumps(named))
    assert (type(again), again, again.message, again.values) == (
        Phrase,
        named,
        named.message,
        {"name": "Hull"},
    )
    filled = phrase(phrase("no places in it"), x=1)
    assert (type(filled.message), type(GERMAN(filled))) == (str, str)
    # What an owner typed is no message, whatever stands in it.
    assert GERMAN(phrase("{name}: cost", name="{name}")) == "Kosten: {name}"


def test_pages_say_phrases_and_what_is_not_translated_in_english() -> None:
    environment = own_environment(Locale("de"), "EUR")
    shown = environment.from_string('{{ _("No such words") }} {{ words }} {{ _("Price") }}')
    assert shown.render(words=phrase("{x} of no such words", x="<b>")) == (
        "No such words &lt;b&gt; of no such words Preis"
    )
    plain = page_environment(Locale("en"), "EUR").from_string("{{ words }}")
    assert plain.render(words=phrase("{x} days", x=3)) == "3 days"


def book() -> Book:
    cost = constant(3.0, "EUR").named("boat.cost", phrase("{name}: cost", name="Open 68"))
    rows = (
        Row((cost.label, cost, Flag(constant(1.0).named("boat.holds", "x"), "holds", "BELOW"))),
    )
    table = Table((Column("Cost"), Column("Amount"), Column("Floor")), rows, title="Cost", name="c")
    return Book(
        phrase("{name}: cost", name="Open 68"),
        (
            Sheet("Summary", "Cost", (Paragraphs(("Cost",)), Contents(), table)),
            Sheet("Cost", "Cost", (Table((Column("Cost"),), (Row((Link("Cost", "Summary"),)),)),)),
        ),
        "footer",
        "EUR",
        {"boat_cost": cost},
    )


def test_a_workbook_is_said_from_its_sheets_to_its_cells() -> None:
    said = spoken(book(), GERMAN)
    assert [sheet.title for sheet in said.sheets] == ["Übersicht", "Kosten"]
    assert said.title == "Kosten: Open 68"
    table = said.sheets[0].blocks[2]
    assert isinstance(table, Table)
    assert (table.title, table.name, table.columns[0].heading) == ("Kosten", "c", "Kosten")
    assert table.rows[0].cells[0] == "Kosten: Open 68"
    flag = table.rows[0].cells[2]
    assert isinstance(flag, Flag)
    assert (flag.yes, flag.no) == ("hält", "BELOW")
    link = said.sheets[1].blocks[0].rows[0].cells[0]  # type: ignore[union-attr]
    assert link == Link("Kosten", "Übersicht")
    with zipfile.ZipFile(io.BytesIO(write_book(book(), GERMAN))) as file:
        texts = file.read("xl/sharedStrings.xml").decode()
        names = file.read("xl/workbook.xml").decode()
    assert "Open 68: cost" not in texts
    assert ">Blatt<" in texts
    assert re.search(r'name="boat_cost">\'?Übersicht\'?!', names)


def test_sheets_that_would_be_called_alike_or_too_long_are_told_apart() -> None:
    long = "Ein Name, der für ein Blatt zu lang ist"
    say = OwnWording({"Summary": (long,), "Cost": (long,)})
    assert [sheet.title for sheet in spoken(book(), say).sheets] == [
        "Ein Name, der für ein Blatt zu",
        "Ein Name, der für ein Blatt z 2",
    ]


def test_words_that_are_shown_are_never_glued_of_pieces() -> None:
    glued = [
        f"{path.relative_to(PACKAGE)}:{word.line}: {word.text}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for word in words_in(path)
        if word.glued
    ]
    assert glued == []


def test_words_are_found_where_they_are_shown(tmp_path: Path) -> None:
    module = tmp_path / "module.py"
    module.write_text(
        'TOP = ("One", "Two")\n'
        "def sheet(x):\n"
        '    title = "Three" if x else "Four"\n'
        '    x.named("a.key", "five")\n'
        '    named("2026-0007")\n'
        '    told = phrase("{x} six", x=x)\n'
        '    return Sheet(title, told, (Paragraphs(TOP),), notes=(f"{x} seven",))\n',
        encoding="utf-8",
    )
    found = [(word.text, word.line, word.glued) for word in words_in(module)]
    assert found == [
        ("One", 1, False),
        ("Two", 1, False),
        ("Three", 3, False),
        ("Four", 3, False),
        ("five", 4, False),
        ("{x} six", 6, False),
        ("f'{x} seven'", 7, True),
    ]


def test_a_region_keeps_what_was_written_into_its_file_by_hand() -> None:
    said = [Said("Mould", "", "a.html", 1), Said("Boot", "", "a.html", 2), Said("Keel", "", "a", 3)]
    known = [program_entries("de")[0]]
    by_hand = known[0].__class__("Boot", ("Trunk",))
    text = refreshed("en_US", said, [by_hand]).decode()
    assert text.partition("\n\n")[2] == (
        '#: a.html\nmsgid "Mould"\nmsgstr "Mold"\n\n#: a.html\nmsgid "Boot"\nmsgstr "Trunk"\n'
    )
