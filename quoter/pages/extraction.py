"""Collect what the pages say, and write the files of its translations again.

For those who work on the program; run it as `python3 -m quoter.pages.extraction`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import click
from babel.messages.extract import extract

from quoter.american import american
from quoter.catalogue.adding import replace_file
from quoter.catalogue.languages import SOURCE, language_of, languages, regions
from quoter.catalogue.po_files import Entry, po_bytes
from quoter.pages.own_words import words_in
from quoter.resources import PACKAGE, templates_folder
from quoter.wording import YARD, program_entries

# Pages for readers outside the yard, and the yard's own.
TEMPLATES = ("public", "quote", "shared")
OWN_TEMPLATES = ("internal",)
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
PROGRESS = ("build.py", "copies.py", "tasks.py", "workers.py", "cli/")
TITLE = "What the pages of the program say. Written by python3 -m quoter.pages.extraction."
OWN_TITLE = "What the yard itself reads. Written by python3 -m quoter.pages.extraction."


@dataclass(frozen=True, slots=True)
class Said:
    """A text that some template or module says: from which file and line, and its plural."""

    text: str
    plural: str
    file: str
    line: int


def said_by_program() -> list[Said]:
    """Every text for customers of the templates and of Python code, by file and line."""
    found = list(_said_in_templates(TEMPLATES))
    for path in sorted(PACKAGE.rglob("*.py")):
        name = path.relative_to(PACKAGE).as_posix()
        found += said_in_python(path, f"quoter/{name}", spoken=not name.startswith(PROGRESS))
    return found


def said_to_the_yard(to_customers: Iterable[Said]) -> list[Said]:
    """Every text that only the yard reads, by file and line.

    Args:
        to_customers: what customers read, which is translated for them
    """
    known = {each.text for each in to_customers}
    found = list(_said_in_templates(OWN_TEMPLATES))
    for path in sorted(PACKAGE.rglob("*.py")):
        name = path.relative_to(PACKAGE).as_posix()
        found += [Said(word.text, "", f"quoter/{name}", word.line) for word in words_in(path)]
    return [each for each in found if each.text not in known]


def _said_in_templates(folders: Iterable[str]) -> Iterator[Said]:
    templates = templates_folder()
    for folder in folders:
        for path in sorted((templates / folder).rglob("*.html")):
            name = f"templates/{path.relative_to(templates).as_posix()}"
            yield from said_in_template(path, name)


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


def refreshed(code: str, said: Sequence[Said], known: Sequence[Entry], title: str = TITLE) -> bytes:
    """The file of a language: every text in its order, with the translations there are.

    A region's file has what it says otherwise than its language.

    Args:
        code: a language, or one with its region
        said: every text that is said, maybe by several files
        known: the entries there are
        title: what the file says of itself
    """
    have = {(entry.text, entry.plural): entry for entry in known}
    entries: dict[tuple[str, str], Entry] = {}
    for each in said:
        key = each.text, each.plural
        entry = entries.get(key) or replace(have.get(key, Entry(*_blank(each))), sources=())
        sources = dict.fromkeys((*entry.sources, each.file))
        entries[key] = replace(entry, sources=tuple(sources))
    listed: Iterable[Entry] = entries.values()
    if language_of(code) != code:
        listed = [entry for entry in map(_respelt, listed) if entry.done]
    return po_bytes(code, listed, title)


def _blank(said: Said) -> tuple[str, tuple[str, ...], str, str]:
    return said.text, ("",), "", said.plural


def _respelt(entry: Entry) -> Entry:
    """An entry of American English by the table of words, where it has none of its own."""
    forms = (entry.text, entry.plural) if entry.plural else (entry.text,)
    told = tuple(map(american, forms))
    return entry if entry.done or told == forms else replace(entry, strings=told)


def files() -> dict[str, bytes]:
    """Every file of translations as it should be, by its code: customers', then the yard's."""
    said = said_by_program()
    own = said_to_the_yard(said)
    codes = [code for code in (*languages(), *regions()) if code != SOURCE]
    found = {code: refreshed(code, said, program_entries(code)) for code in codes}
    for code in (f"{YARD}{code}" for code in codes):
        content = refreshed(code.removeprefix(YARD), own, program_entries(code), OWN_TITLE)
        found[code] = content
    return found


@click.command()
@click.option("--left", metavar="CODE", help="Print what a file leaves to be translated.")
def main(left: str | None) -> None:
    """Write every file of translations again, and tell how many texts are still to be done.

    With --left, such as --left yard/de, each text of that file which is not translated is printed
    instead, after the files that say it.
    """
    if left:
        for entry in (entry for entry in program_entries(left) if not entry.done):
            click.echo(f"{' '.join(entry.sources)}\n    {entry.text}")
        return
    for code, content in files().items():
        file = templates_folder() / "translations" / f"{code}.po"
        file.parent.mkdir(exist_ok=True)
        replace_file(file, content)
        undone = sum(not entry.done for entry in program_entries(code))
        click.echo(f"{code}: {undone} texts to translate")


if __name__ == "__main__":
    main()
