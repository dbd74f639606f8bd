"""Files of translations follow the catalogue: what stays, what changed, what is asked for."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from quoter.catalogue.load import load_catalogue, read_records
from quoter.catalogue.po_files import Entry
from quoter.catalogue.records import Records
from quoter.catalogue.translating import updated
from quoter.catalogue.translations import untranslated
from quoter.cli import main
from quoter.problems import Problems
from tests.catalogue.broken import SOUND
from tests.demo import DEMO, demo

LANGUAGES = ("de", "es", "fr", "nb")


def records_of(folder: Path) -> Records:
    return read_records(folder, Problems())[0]


# a file brought up to date


def entries_of(*found: Entry) -> dict[tuple[str, str], Entry]:
    return {(entry.context, entry.text): entry for entry in found}


def test_a_new_file_asks_for_every_text_in_the_order_of_the_catalogue() -> None:
    records = records_of(SOUND)
    update = updated(records.texts, {}, "de")
    assert [entry.context for entry in update.entries] == list(records.texts)
    assert all(entry.strings == ("",) for entry in update.entries)
    left = [entry.context for entry in update.left(records.texts)]
    assert left == [key for key in records.texts if not re.search(r"models\.\w+\.name$", key)]


def test_what_is_translated_stays_and_what_changed_is_marked() -> None:
    records = records_of(SOUND)
    lid, text = "options.options.hatch.includes.2", "options.options.hatch.text"
    kept = Entry("Lid", ("Deckel",), lid, notes=("of the hatch",))
    old = Entry("A hatch.", ("Eine Luke.",), text)
    gone = Entry("Mast", ("Mast",), "options.options.mast.name")
    update = updated(records.texts, entries_of(kept, old, gone), "de")
    found = {entry.context: entry for entry in update.entries}
    assert found[lid] == kept
    assert found[text] == Entry(
        "A hatch with frame and lid.", ("Eine Luke.",), text, fuzzy=True, before="A hatch."
    )
    assert update.changed == [found[text]]
    assert update.gone == [gone]
    again = updated(records.texts, entries_of(*update.entries), "de")
    assert again.content == update.content
    assert again.gone == []


def test_a_text_that_is_changed_back_is_as_translated_as_before() -> None:
    records = records_of(SOUND)
    key = "options.options.hatch.text"
    fuzzy = Entry("Another.", ("Eine Luke.",), key, fuzzy=True, before=records.texts[key].written)
    (found,) = (
        e for e in updated(records.texts, entries_of(fuzzy), "de").entries if e.context == key
    )
    assert found == Entry(records.texts[key].written, ("Eine Luke.",), key)


def test_texts_of_a_list_keep_their_translations_when_they_move() -> None:
    records = records_of(SOUND)
    key = "options.options.hatch.includes"
    before = entries_of(
        Entry("Lid", ("Deckel",), f"{key}.1"), Entry("Two hinges", ("Zwei Scharniere",), f"{key}.2")
    )
    update = updated(records.texts, before, "de")
    found = {e.context: e.strings[0] for e in update.entries if e.context.startswith(key)}
    assert found == {f"{key}.1": "", f"{key}.2": "Deckel", f"{key}.3": "Zwei Scharniere"}
    assert (update.taken, update.gone, update.changed) == (2, [], [])


def test_the_same_words_are_taken_over_only_where_they_are_always_said_alike() -> None:
    texts = records_of(DEMO).texts
    weeks = [key for key, public in texts.items() if public.written == "5 weeks"]
    one = Entry("5 weeks", ("5 Wochen",), weeks[0])
    other = Entry("5 weeks", ("fünf Wochen",), weeks[1])
    fuzzy = Entry("5 weeks", ("5 Tage",), weeks[1], fuzzy=True)
    assert updated(texts, entries_of(one), "de").taken == len(weeks) - 1
    assert updated(texts, entries_of(one, other), "de").taken == 0
    assert updated(texts, entries_of(one, fuzzy), "de").taken == len(weeks) - 2


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_demonstration_is_complete_and_as_the_command_writes_it(language: str) -> None:
    records = demo().catalogue.records
    update = updated(records.texts, records.translations[language], language)
    assert (update.left(records.texts), update.changed, update.gone) == ([], [], [])
    assert (DEMO / "translations" / f"{language}.po").read_bytes() == update.content


# the command


def translations(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["translations", *(str(argument) for argument in arguments)])


@pytest.fixture
def sound(tmp_path: Path) -> Path:
    return shutil.copytree(SOUND, tmp_path / "sound")


def with_german_market(folder: Path) -> Path:
    yard = folder / "yard.yaml"
    line = "  - {id: home, name: Home, language: en, tax_name: VAT, tax: 24 %, prices: with tax}\n"
    text = yard.read_text("utf-8")
    assert line in text
    other = line.replace("id: home", "id: south").replace("language: en", "language: de-AT")
    yard.write_text(text.replace(line, line + other), "utf-8")
    return folder


def test_the_command_writes_the_languages_of_markets_and_files(sound: Path) -> None:
    result = translations(sound)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith("every market reads the catalogue's own language")
    assert not (sound / "translations").exists()
    with_german_market(sound)
    assert translations(sound, "--language", "nb").exit_code == 0
    result = translations(sound)
    assert result.stdout.splitlines() == [
        f"{sound}/translations/de.po: 2 of 24 texts translated, 22 to translate",
        f"{sound}/translations/nb.po: 2 of 24 texts translated, 22 to translate",
    ]


def test_a_file_that_the_command_wrote_makes_a_sound_catalogue_once_translated(
    sound: Path,
) -> None:
    with_german_market(sound)
    translations(sound)
    catalogue, (warning,) = load_catalogue(sound)
    assert warning.what == "the text has no translation"
    assert "and 17 more" in warning.hint
    assert len([*untranslated(catalogue.records)]) == 22
    file = sound / "translations" / "de.po"
    header, *entries = file.read_text("utf-8").split("\n\n")
    done = [re.sub(r'msgid "(.*)"\nmsgstr ""', r'msgid "\1"\nmsgstr "<\1>"', e) for e in entries]
    file.write_text("\n\n".join([header, *done]), "utf-8")
    found, warnings = load_catalogue(sound)
    assert warnings == [*untranslated(found.records)] == []
    text = found.records.options["hatch"].text
    assert found.worded(text, "de") == "<A hatch with frame and lid.>"
    before = file.read_bytes()
    assert "24 of 24 texts translated" in translations(sound).stdout
    assert file.read_bytes() == before


def test_the_command_tells_what_changed_and_what_it_leaves_out(sound: Path) -> None:
    folder = sound / "translations"
    folder.mkdir()
    (folder / "de.po").write_text(
        'msgctxt "options.options.hatch.text"\nmsgid "A hatch."\nmsgstr "Eine Luke."\n\n'
        'msgctxt "options.options.mast.name"\nmsgid "Mast"\nmsgstr "Der Mast"\n\n'
        'msgctxt "options.options.side_door.lead_time"\nmsgid "3 weeks"\nmsgstr "3 Wochen"\n',
        "utf-8",
    )
    assert translations(sound).stdout.splitlines() == [
        f"{folder}/de.po: 3 of 22 texts translated, 18 to translate, 1 to look at again, "
        "1 taken over from the same words elsewhere",
        "  left out, since no text has it any more: options.options.mast.name",
        "    'Mast': 'Der Mast'",
    ]
    written = (folder / "de.po").read_text("utf-8")
    assert '#, fuzzy\n#| msgid "A hatch."\nmsgctxt "options.options.hatch.text"\n' in written


@pytest.mark.parametrize(
    ("language", "message"),
    [
        ("it", "the pages have no wording in 'it'; expected de, en, es, fr or nb"),
        ("../x", "the pages have no wording in '../x'; expected de, en, es, fr or nb"),
        ("en", "'en' is the language that the catalogue itself is written in"),
    ],
)
def test_the_command_refuses_languages_that_nobody_could_be_shown(
    sound: Path, language: str, message: str
) -> None:
    result = translations(sound, "--language", "de", "--language", language)
    assert result.exit_code == 2
    assert message in result.stderr
    assert not (sound / "translations").exists()


def test_nothing_is_written_while_the_catalogue_or_a_file_is_unsound(sound: Path) -> None:
    folder = sound / "translations"
    folder.mkdir()
    (folder / "de.po").write_text('msgid "a"\nmsgstr b\n', "utf-8")
    result = translations(sound, "--language", "de", "--language", "fr")
    assert result.exit_code == 1
    assert f"{sound}/translations/de.po:2:1: a line that means nothing" in result.stderr
    assert (folder / "de.po").read_text("utf-8") == 'msgid "a"\nmsgstr b\n'
    assert sorted(path.name for path in folder.iterdir()) == ["de.po"]
    (folder / "de.po").unlink()
    models = sound / "models.yaml"
    models.write_text(models.read_text("utf-8").replace("text:", "texxt:", 1), "utf-8")
    result = translations(sound, "--language", "fr")
    assert (result.exit_code, "'texxt'" in result.stderr) == (1, True)
    assert list(folder.iterdir()) == []


def test_a_folder_that_cannot_be_written_is_told(sound: Path) -> None:
    (sound / "translations").write_text("in the way", "utf-8")
    result = translations(sound, "--language", "fr")
    assert result.exit_code == 1
    assert "translations: the folder can't be opened [unreadable-file]\n" in result.stderr
