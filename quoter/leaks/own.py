"""What the program says by itself: the text of its templates, its phrases, the words of its data.

None of it is a catalogue's, so it may stand in a public file as it is.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from itertools import pairwise
from pathlib import Path

from babel import Locale
from jinja2 import Environment

from quoter.catalogue.languages import SOURCE, language_of, languages
from quoter.leaks.reduction import Trie, add, is_number, says_something, tokens_of
from quoter.pages.environment import page_environment
from quoter.pages.extraction import TEMPLATES
from quoter.resources import PACKAGE, templates_folder
from quoter.wording import program_entries

# A number that only a place explains: a count, a year, a share of a length, a rate of exchange.
BARE = "\0bare"
_HOLE = "\0"
_PLACE = re.compile(r"%\(\w+\)s|(?<!\{)\{\w+\}(?!\})")
_MARKUP = re.compile(r"(<[^<>]*>)")
_TAG = re.compile(r"</?([a-z][a-z0-9]*)")
_ATTRIBUTE = re.compile(r'\s([a-zA-Z][\w:-]*)(?:="([^"<>]*)")?')
# Modules that write data, and what pages are told apart from their views: paths, links, brackets
# around a measure's other unit.
_CODE = (
    "data",
    "data_table",
    "local_table",
    "linked_data",
    "build_list",
    "compare",
    "site",
    "found",
    "folder_zip",
)
_SAID_ELSEWHERE = ("../", "mailto:", "(", ")", "ltr", "rtl", "×")


Stamped = tuple[tuple[Path, int], ...]  # files, and when each changed last


@dataclass(frozen=True, slots=True)
class Own:
    """The program's own text in one language.

    `elements`, `names` and `attributes` are those of its pages, the last as `name="value"` where
    no part of the value is filled in; `phrases` may stand in any text of the language, `shared` in
    those of any language, and `words` are each word of both; `keys` the constants of the code that
    writes data.
    """

    elements: set[str] = field(default_factory=set)
    names: set[str] = field(default_factory=set)
    attributes: set[str] = field(default_factory=set)
    phrases: Trie = field(default_factory=dict)
    shared: Trie = field(default_factory=dict)
    words: set[str] = field(default_factory=set)
    keys: frozenset[str] = frozenset()


def own_text(language: str) -> Own:
    """What the program says in a language, read from its templates, translations and code.

    As for whoever fills them, templates are read again when they change.
    """
    folders = (templates_folder() / room for room in TEMPLATES)
    files = [file for folder in folders for file in sorted(folder.glob("*.html"))]
    return _own_text(language, tuple((file, file.stat().st_mtime_ns) for file in files))


@cache
def _own_text(language: str, files: Stamped) -> Own:
    of_all = _templates(files)
    own = replace(of_all, words={*of_all.words}, phrases={}, shared=of_all.phrases)
    for text in _wording(language):
        _phrase(own, text)
    return own


def _wording(language: str) -> Iterator[str]:
    """Every phrase in a language; those in English are what the others are translated from.

    A region says what its language does, and some of it otherwise.
    """
    if language != SOURCE:
        for entry in program_entries(language):
            yield from entry.strings
        if language_of(language) != language:
            yield from _wording(language_of(language))
        return
    for entry in program_entries(next(code for code in languages() if code != SOURCE)):
        yield from (entry.text, entry.plural)


def _phrase(own: Own, text: str) -> None:
    """A phrase as it is, each of its parts between places that are filled in, and those places."""
    _parts(own, [text])
    _parts(own, _PLACE.split(text.replace("%%", "%")))


def _parts(own: Own, parts: list[str]) -> None:
    pieces = [tokens_of(part) for part in parts]
    for piece in pieces:
        if not all(map(is_number, piece)):
            add(own.phrases, piece)
            own.words.update(piece)
    for before, after in pairwise(pieces):
        if says_something([*before, *after]):
            add(own.phrases, [*before, BARE, *after])


def _skeleton(own: Own, text: str) -> None:
    """The elements and attributes of a template, and what it says between them."""
    for piece in _MARKUP.split(text):
        if not piece.startswith("<"):
            _parts(own, piece.split(_HOLE))
            continue
        own.elements.update(_TAG.findall(piece))
        for name, value in _ATTRIBUTE.findall(piece):
            own.names.add(name)
            if _HOLE in value:
                _parts(own, value.split(_HOLE))
            else:
                own.attributes.add(f'{name}="{value}"' if f'{name}="' in piece else name)


@cache
def _templates(files: Stamped) -> Own:
    """What templates and code say, whatever the language."""
    environment = page_environment(Locale(SOURCE), "XXX")
    own = Own(keys=_constants())
    for text in (*_SAID_ELSEWHERE, *own.keys):
        _phrase(own, text)
    for file, _ in files:
        skeleton, words = _lexed(environment, file)
        _skeleton(own, skeleton)
        for text in words:
            _phrase(own, text)
    return own


def _lexed(environment: Environment, file: Path) -> tuple[str, tuple[str, ...]]:
    """A template without what is filled in, and the texts within its expressions."""
    skeleton, words = [], []
    for _, kind, value in environment.lex(file.read_text("utf-8"), filename=str(file)):
        if kind == "data":
            skeleton.append(value)
        elif kind == "variable_begin":
            skeleton.append(_HOLE)
        elif kind == "string":
            words.append(str(ast.literal_eval(value)))
    return "".join(skeleton), tuple(words)


@cache
def _constants() -> frozenset[str]:
    """Every text in the code of the modules that write data, but for what explains them."""
    found: set[str] = set()
    for name in _CODE:
        tree = ast.parse((PACKAGE / "pages" / "public" / f"{name}.py").read_text("utf-8"))
        told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        found |= {
            node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in told
        }
    return frozenset(found)
