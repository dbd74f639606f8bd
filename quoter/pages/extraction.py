"""Collect what the pages say, and write the files of its translations again.

For those who work on the program; run it as `python3 -m quoter.pages.extraction`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import click
from babel.messages.extract import extract

from quoter.catalogue.adding import replace_file
from quoter.catalogue.languages import SOURCE, languages
from quoter.catalogue.po_files import Entry, po_bytes
from quoter.pages.wording import program_entries
from quoter.resources import PACKAGE, templates_folder

# Pages for readers outside the yard; the internal ones are English.
TEMPLATES = ("public", "quote", "shared")
# As the templates are read when they are filled, so that both see the same texts.
AS_FILLED = {
    "trimmed": "true",
    "trim_blocks": "true",
    "lstrip_blocks": "true",
    "keep_trailing_newline": "true",
    "newstyle_gettext": "true",
    "silent": "false",
}
IN_TEMPLATES = {"_": None, "gettext": None, "ngettext": (1, 2)}
IN_PYTHON = {"_": None, "say": None, "_say": None, "plural": (1, 2)}
# Here `say` tells the person at the terminal what is being done.
PROGRESS = ("build.py", "tasks.py", "workers.py", "cli/")
TITLE = "What the pages of the program say. Written by python3 -m quoter.pages.extraction."


@dataclass(frozen=True, slots=True)
class Said:
    """A text that some template or module says: from which file and line, and its plural."""

    text: str
    plural: str
    file: str
    line: int


def said_by_program() -> list[Said]:
    """Every text of the templates and of Python code, by file and line."""
    templates, package = templates_folder(), PACKAGE
    found: list[Said] = []
    for folder in TEMPLATES:
        for path in sorted((templates / folder).rglob("*.html")):
            found += said_in_template(path, f"templates/{path.relative_to(templates).as_posix()}")
    for path in sorted(package.rglob("*.py")):
        name = path.relative_to(package).as_posix()
        found += said_in_python(path, f"quoter/{name}", spoken=not name.startswith(PROGRESS))
    return found


def said_in_template(path: Path, name: str) -> Iterator[Said]:
    """The texts of a template, called by a name.

    Raises:
        TemplateSyntaxError: the template can't be read.
    """
    with path.open("rb") as source:
        found = extract("jinja2.ext.babel_extract", source, IN_TEMPLATES, options=AS_FILLED)
        yield from _said(found, name)


def said_in_python(path: Path, name: str, spoken: bool = True) -> Iterator[Said]:
    """The texts of a module, called by a name; only marked ones where `say` means another thing."""
    keywords = {word: which for word, which in IN_PYTHON.items() if spoken or word == "_"}
    with path.open("rb") as source:
        yield from _said(extract("python", source, keywords), name)


def _said(found: Iterator[tuple[int, object, object, object]], name: str) -> Iterator[Said]:
    for line, message, *_ in found:
        one, *more = message if isinstance(message, tuple) else (message,)
        if one:
            yield Said(str(one), str(more[0]) if more else "", name, line)


def refreshed(language: str, said: Sequence[Said], known: Sequence[Entry]) -> bytes:
    """The file of a language: every text in its order, with the translations there are.

    Args:
        language: its code
        said: every text that is said, maybe by several files
        known: the entries there are
    """
    have = {(entry.text, entry.plural): entry for entry in known}
    entries: dict[tuple[str, str], Entry] = {}
    for each in said:
        key = each.text, each.plural
        entry = entries.get(key) or replace(have.get(key, Entry(*_blank(each))), sources=())
        sources = dict.fromkeys((*entry.sources, each.file))
        entries[key] = replace(entry, sources=tuple(sources))
    return po_bytes(language, entries.values(), TITLE)


def _blank(said: Said) -> tuple[str, tuple[str, ...], str, str]:
    return said.text, ("",), "", said.plural


def main() -> None:
    """Write the file of every language again, and tell how many texts are still to be done."""
    said = said_by_program()
    for language in languages():
        if language == SOURCE:
            continue
        content = refreshed(language, said, program_entries(language))
        replace_file(templates_folder() / "translations" / f"{language}.po", content)
        left = sum(not entry.done for entry in program_entries(language))
        click.echo(f"{language}: {left} texts to translate")


if __name__ == "__main__":
    main()
