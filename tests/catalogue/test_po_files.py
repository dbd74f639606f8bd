"""PO files are read strictly, written the same way every time, and Babel agrees with both."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.pofile import read_po
from hypothesis import given
from hypothesis import strategies as st

from quoter.catalogue.po_files import Entry, entries_in, po_bytes
from quoter.catalogue.translating import TITLE
from quoter.problems import MalformedError
from quoter.resources import templates_folder
from tests.demo import DEMO

WRITTEN = sorted([*DEMO.glob("translations/*.po"), *templates_folder().glob("translations/*.po")])

words = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=40
) | st.sampled_from(['a "b"', "back\\slash", "two\nlines\n", "tab\tand\r", "\\n", "#: x"])
texts = words.filter(lambda text: bool(text.strip()))
plain_entries = st.builds(
    Entry,
    text=texts,
    strings=st.tuples(words),
    context=texts,
    fuzzy=st.booleans(),
    before=words,
    notes=st.lists(st.sampled_from(["a note", "another"]), max_size=2).map(tuple),
)
plural_entries = st.builds(
    Entry, text=texts, strings=st.tuples(words, words), plural=texts, context=st.just("")
)
files = st.lists(
    plain_entries | plural_entries, max_size=6, unique_by=lambda e: (e.context, e.text)
)


@given(files)
def test_a_file_reads_back_as_it_was_written_here_and_by_babel(entries: list[Entry]) -> None:
    content = po_bytes("de", entries, TITLE)
    assert entries_in(content.decode()) == entries
    catalog = read_po(BytesIO(content), abort_invalid=True)
    for entry in entries:
        id = (entry.text, entry.plural) if entry.plural else entry.text
        message = catalog.get(id, entry.context or None)
        assert message is not None
        told = message.string if isinstance(message.string, tuple) else (message.string,)
        assert (told, message.fuzzy) == (entry.strings, entry.fuzzy)


LINES = (
    *('msgid "a"', 'msgid ""', 'msgid "b', "msgid", 'msgid_plural "c"', 'msgctxt "k"', '"more"'),
    *('msgstr "x"', 'msgstr ""', 'msgstr[0] "x"', 'msgstr[1] "y"', 'msgstr[12] "z"', 'msgstr "\\"'),
    *(
        "",
        "  ",
        "#",
        "# note",
        "#, fuzzy",
        "#,fuzzy,",
        '#| msgid "old"',
        "#| junk",
        "#~ msgid",
        "#:",
    ),
    *('"', '""', '"\\q"', "x", "msgstr x", '\tmsgid\t"t"', 'MSGID "a"', "\ufeffmsgid"),
)


def outcome(text: str) -> list[Entry] | MalformedError:
    try:
        return entries_in(text)
    except MalformedError as fault:
        return fault


@given(st.lists(st.sampled_from(LINES) | st.text(max_size=8), max_size=12).map("\n".join))
def test_any_file_is_read_or_refused_at_one_of_its_lines(text: str) -> None:
    found = outcome(text)
    if isinstance(found, MalformedError):
        assert 1 <= found.line <= text.count("\n") + 1
        assert found.what
        assert found.hint
        return
    for entry in found:
        assert entry.strings
        assert text.split("\n")[entry.line - 1].strip().startswith("msgid")


@pytest.mark.parametrize("file", WRITTEN, ids=lambda path: f"{path.parts[-3]}-{path.stem}")
def test_babel_reads_the_same_in_every_file(file: Path) -> None:
    entries = entries_in(file.read_text(encoding="utf-8"))
    catalog = read_po(BytesIO(file.read_bytes()), abort_invalid=True)
    assert str(catalog.locale) == file.stem
    found = [(m.context or "", m.id, m.string, m.lineno) for m in catalog if m.id]
    assert found == [
        (
            entry.context,
            (entry.text, entry.plural) if entry.plural else entry.text,
            entry.strings if entry.plural else entry.strings[0],
            entry.line,
        )
        for entry in entries
    ]
