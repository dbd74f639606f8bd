"""Commands about the words of the catalogue in other languages."""

from __future__ import annotations

from pathlib import Path

import click

from quoter.catalogue.adding import replace_file, sole_writer
from quoter.catalogue.load import read_records
from quoter.catalogue.records import Records
from quoter.catalogue.translating import Update, refusal, updated, wanted_languages
from quoter.catalogue.translations import check_translations, file_of
from quoter.cli.terminal import Folder, example_command, refuse, stop, stopping
from quoter.problems import Problems, quoted


@example_command(
    "translations",
    "translations demo_catalog",
    "translations demo_catalog --language fr",
)
@click.argument("catalogue", type=Folder)
@click.option(
    "--language",
    "languages",
    multiple=True,
    metavar="LANGUAGE",
    help="Which language, such as de (default: those of markets and files). May be repeated.",
)
def translations_command(catalogue: Path, languages: tuple[str, ...]) -> None:
    """Bring the files of translations up to date: what customers read, in every language.

    Writes CATALOGUE/translations/LANGUAGE.po, with an entry for each text. What is translated
    stays; what changed is marked fuzzy, to be looked at again.
    """
    records = _records(catalogue)
    for language in languages:
        why = refusal(records, language)
        if why:
            raise click.UsageError(why)
    wanted = sorted({*languages}) or wanted_languages(records)
    if not wanted:
        click.echo("every market reads the catalogue's own language; name another by --language")
    for language in wanted:
        update = updated(records.texts, records.translations.get(language, {}), language)
        file = catalogue / file_of(language)
        try:
            if not file.exists() or file.read_bytes() != update.content:
                with sole_writer(catalogue):
                    replace_file(file, update.content)
        except OSError as fault:
            refuse(f"{file} can't be written: {fault.strerror or fault}")
        _tell(file, update, records)


def _records(catalogue: Path) -> Records:
    """A sound catalogue, however far it is translated."""
    problems = Problems()
    with stopping(catalogue):
        records, sources = read_records(catalogue, problems)
    mended_here = {*check_translations(records)}
    others = Problems()
    others.extend(problem for problem in problems.errors if problem not in mended_here)
    others.gather()
    others.quote(sources.excerpt)
    if others.errors:
        stop(catalogue, others.errors)
    return records


def _tell(file: Path, update: Update, records: Records) -> None:
    left, changed = len(update.left(records.texts)), len(update.changed)
    done = len(update.entries) - left - changed
    told = f"{file}: {done} of {len(update.entries)} texts translated"
    told += f", {left} to translate" if left else ""
    told += f", {changed} to look at again" if changed else ""
    told += f", {update.taken} taken over from the same words elsewhere" if update.taken else ""
    click.echo(told)
    for entry in update.gone:
        click.echo(f"  left out, since no text has it any more: {entry.context}")
        click.echo(f"    {quoted(entry.text)}: {quoted(entry.strings[0])}")
