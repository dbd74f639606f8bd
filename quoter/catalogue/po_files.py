"""Files of translations in gettext's PO format: read strictly, written the same way every time.

Babel's own reader takes what is malformed for something else, and knows the line of a message
only; here whatever does not fit is told where it stands. Headers are neither read nor needed:
files are UTF-8, and the plural forms are those of the language.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from babel.messages.plurals import get_plural
from babel.messages.pofile import escape

from quoter.problems import MalformedError

FUZZY = "fuzzy"  # the mark of a translation that somebody must look at again
_LINE = re.compile(
    r'(?P<word>msgctxt|msgid_plural|msgid|msgstr(?:\[(?P<form>\d)\])?)?\s*"(?P<text>.*)"\Z'
)
_TEXT = re.compile(r'[^"\\]*+(?:\\[ntr"\\][^"\\]*+)*+\Z')
_ESCAPED = re.compile(r"\\(.)")
_ESCAPES = {"n": "\n", "t": "\t", "r": "\r", '"': '"', "\\": "\\"}
# What may stand before each word.
_AFTER = {
    "msgctxt": ("",),
    "msgid": ("", "msgctxt"),
    "msgid_plural": ("msgid",),
    "msgstr": ("msgid", "msgid_plural", "msgstr"),
}


# CLDR has a form of its own for whole millions in these, and Babel since 2.19; no boat has so many
# of anything, and translators would have to write each phrase twice.
FEWER_FORMS = {
    "ca": (2, "(n != 1)"),
    "es": (2, "(n != 1)"),
    "fr": (2, "(n > 1)"),
    "it": (2, "(n != 1)"),
    "pt": (2, "(n != 1)"),
}


@dataclass(frozen=True, slots=True)
class Entry:
    """A text and its translation: one string, or one for each plural form; empty if there is none.

    `context` tells texts of the same words apart, `notes` are a translator's, `sources` name the
    files the text is from, `before` is the text as it was when it was translated. `line` is that
    of the text in its file, 0 for an entry that was read from none.
    """

    text: str
    strings: tuple[str, ...] = ("",)
    context: str = ""
    plural: str = ""
    fuzzy: bool = False
    before: str = ""
    notes: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    line: int = field(default=0, compare=False)

    @property
    def done(self) -> bool:
        """Whether it is translated in every form, and nobody need look at it again."""
        return not self.fuzzy and all(text.strip() for text in self.strings)


@dataclass(slots=True)
class _Open:
    """An entry while it is read: its comments, and its words with the pieces of their text."""

    comments: list[tuple[str, str]] = field(default_factory=list)
    words: dict[str, list[str]] = field(default_factory=dict)
    last: str = ""
    line: int = 0


def entries_in(text: str) -> list[Entry]:
    """The entries of a PO file, in its order, without header and obsolete ones.

    Raises:
        MalformedError: at the first line that does not fit, or an entry that stands twice.
    """
    found: dict[tuple[str, str], Entry] = {}
    for entry in _entries(text.split("\n")):
        key = entry.context, entry.text
        if key in found:
            hint = f"it stands on line {found[key].line} already; keep one of them"
            raise MalformedError(
                "written-twice", entry.line, 1, "the same text is translated twice", hint
            )
        found[key] = entry
    found.pop(("", ""), None)
    return list(found.values())


def _entries(lines: list[str]) -> Iterator[Entry]:
    entry = _Open()
    for number, whole in enumerate(lines, 1):
        line = whole.strip()
        if line.startswith("#"):
            if entry.words:
                yield _closed(entry, number)
                entry = _Open()
            if not line.startswith("#~"):
                entry.comments.append((line[1:2], line[2:].strip()))
        elif line:
            match = _LINE.match(line)
            if match is None:
                hint = "write a word such as msgstr, then a text in double quotes"
                raise MalformedError(
                    "bad-po", number, 1, "a line that means nothing in a PO file", hint
                )
            word = match["word"] or ""
            if word in ("msgctxt", "msgid") and entry.last.startswith("msgstr"):
                yield _closed(entry, number)
                entry = _Open()
            _add(entry, word, _plain(match["text"], number), number)
    if entry.words:
        yield _closed(entry, len(lines))


def _add(entry: _Open, word: str, text: str, number: int) -> None:
    if not word:
        if not entry.last:
            raise MalformedError(
                "bad-po", number, 1, "a text without a word before it", "begin with msgid"
            )
        entry.words[entry.last].append(text)
        return
    if word in entry.words or entry.last.partition("[")[0] not in _AFTER[word.partition("[")[0]]:
        hint = "an entry is msgctxt, msgid and msgstr, in this order"
        raise MalformedError("bad-po", number, 1, f"'{word}' does not belong here", hint)
    if word == "msgid":
        entry.line = number
    entry.words[word] = [text]
    entry.last = word


def _plain(text: str, number: int) -> str:
    """A quoted text without its escapes."""
    if not _TEXT.match(text):
        hint = r"write \" for a quote, \\ for a backslash and \n for a new line"
        raise MalformedError("bad-po", number, 1, "a quote or backslash that is not escaped", hint)
    return _ESCAPED.sub(_letter, text)


def _closed(entry: _Open, number: int) -> Entry:
    texts = {word: "".join(pieces) for word, pieces in entry.words.items()}
    forms = [word for word in texts if word.startswith("msgstr")]
    wanted = ["msgstr"]
    if "msgid_plural" in texts:
        wanted = [f"msgstr[{form}]" for form in range(len(forms))]
    if not forms or forms != wanted:
        hint = "write msgstr, or for a plural msgstr[0], msgstr[1] and so on"
        what = "an entry without its translation" if not forms else "plural forms that don't fit"
        raise MalformedError("bad-po", entry.line or number, 1, what, hint)
    flags = [flag for sign, told in entry.comments if sign == "," for flag in told.split(",")]
    return Entry(
        text=texts["msgid"],
        strings=tuple(texts[form] for form in forms),
        context=texts.get("msgctxt", ""),
        plural=texts.get("msgid_plural", ""),
        fuzzy=FUZZY in map(str.strip, flags),
        before=_before(entry),
        notes=tuple(told for sign, told in entry.comments if sign in ("", " ")),
        sources=tuple(f for sign, told in entry.comments if sign == ":" for f in told.split()),
        line=entry.line,
    )


def _before(entry: _Open) -> str:
    """The text as it was, from comments such as ``#| msgid "…"``; nothing where they don't fit."""
    told = [words for sign, words in entry.comments if sign == "|" and words[:7] != "msgctxt"]
    pieces = [piece for piece in map(_LINE.match, told) if piece is not None]
    return "".join(_ESCAPED.sub(_letter, piece["text"]) for piece in pieces)


def _letter(found: re.Match[str]) -> str:
    return _ESCAPES.get(found[1], found[0])


def po_bytes(language: str, entries: Iterable[Entry], title: str) -> bytes:
    """A PO file of entries in their order, without dates or line numbers.

    Args:
        language: its code, such as ``de``
        entries: each once
        title: what the file is, for its first line
    """
    count, expression = plural_forms(language)
    header = (
        f"Language: {language}",
        "MIME-Version: 1.0",
        "Content-Type: text/plain; charset=UTF-8",
        "Content-Transfer-Encoding: 8bit",
        f"Plural-Forms: nplurals={count}; plural={expression};",
    )
    lines = [f"# {title}", 'msgid ""', 'msgstr ""', *(escape(f"{line}\n") for line in header), ""]
    for entry in entries:
        lines += [*_lines(entry, count), ""]
    return "\n".join(lines).encode("utf-8")


def plural_forms(language: str) -> tuple[int, str]:
    """How many forms of a plural a language has, and the rule that picks one by a number n."""
    rule = get_plural(language)
    return FEWER_FORMS.get(language) or (rule.num_plurals, rule.plural_expr)


def _lines(entry: Entry, forms: int) -> Iterator[str]:
    yield from (f"# {note}".rstrip() for note in entry.notes)
    yield from (f"#: {source}" for source in entry.sources)
    if entry.fuzzy:
        yield f"#, {FUZZY}"
    if entry.before:
        yield f"#| msgid {escape(entry.before)}"
    if entry.context:
        yield f"msgctxt {escape(entry.context)}"
    yield f"msgid {escape(entry.text)}"
    if not entry.plural:
        yield f"msgstr {escape(entry.strings[0])}"
        return
    yield f"msgid_plural {escape(entry.plural)}"
    strings = [*entry.strings, *[""] * forms][:forms]
    yield from (f"msgstr[{form}] {escape(text)}" for form, text in enumerate(strings))
