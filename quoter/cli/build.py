"""Commands that make something: build, check, schema, demo."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from quoter.catalogue.mark import inputs
from quoter.cli.terminal import (
    Folder,
    OutFolder,
    as_of_option,
    counted,
    day,
    price,
    progress,
    refuse,
    set_option,
    stopping,
    strict_option,
    tell,
    tell_words,
    writing,
)
from quoter.publish.kept import Standing, kept, made_from
from quoter.publish.manifest import FolderError
from quoter.resources import demo_catalogue_folder


@click.command("build")
@click.argument("catalogue", type=Folder)
@click.option("--site", type=OutFolder, help="Public folder (default: site).")
@click.option("--no-site", is_flag=True, help="Publish nothing, as while texts lack translations.")
@click.option("--internal", type=OutFolder, help="Private folder (default: internal).")
@set_option
@as_of_option
@strict_option
@click.option("--afresh", is_flag=True, help="Build even where nothing has changed.")
@click.option("--wait", is_flag=True, help="Wait for another build into the same folders.")
def build_command(
    catalogue: Path,
    site: Path | None,
    no_site: bool,
    internal: Path | None,
    settings: tuple[str, ...],
    as_of: datetime | None,
    strict: bool,
    afresh: bool,
    wait: bool,
) -> None:
    """Build the costed workbooks, the internal review and the public price sheet.

    With --set it is a what-if: it goes where --internal says, and publishes nothing unless --site
    is given as well.
    """
    if site is not None and no_site:
        raise click.UsageError("--site asks for what --no-site rules out; say one of them")
    public, private = _folders(site, internal, settings)
    public = None if no_site else public
    made = made_from(inputs(catalogue), day(as_of), settings, strict=strict)
    found = None if afresh else kept(public, private, made)
    if found is not None:
        click.echo("nothing has changed since the last build; --afresh builds all the same")
    else:
        found = _built(
            catalogue,
            public,
            private,
            as_of=day(as_of),
            settings=settings,
            strict=strict,
            wait=wait,
            made=made,
        )
    for words in found.warnings:
        tell_words(catalogue, words)
    books = sum(name.startswith("workbooks/") for name in found.internal)
    if public is not None:
        click.echo(f"{public}: {len(found.public)} public files, open {public / 'index.html'}")
    click.echo(f"{private}: {books} workbooks, open {private / 'review' / 'index.html'}")


def _built(catalogue: Path, public: Path | None, private: Path, **asked: Any) -> Standing:
    """What stands in the folders after a build; what stops it ends the command."""
    from quoter.build import build  # not where nothing has changed
    from quoter.leaks import LeakError

    try:
        with stopping(catalogue):
            report = build(catalogue, public, private, **asked, say=progress())
    except (LeakError, FolderError, KeyboardInterrupt) as fault:
        refuse(str(fault) or "interrupted")
    for words in report.left:
        click.secho(words, fg="yellow", err=True)
    told = [str(problem) for problem in report.warnings]
    return Standing([*report.public], [*report.internal], told)


def _folders(
    site: Path | None, internal: Path | None, settings: tuple[str, ...]
) -> tuple[Path | None, Path]:
    """Where a build goes: a what-if only where it is told to."""
    if not settings:
        return site or Path("site"), internal or Path("internal")
    if internal is None:
        raise click.UsageError(
            "with --set, name a folder of its own with --internal DIR, so that a what-if does not "
            "take the place of the real costing"
        )
    return site, internal


@click.command("check")
@click.argument("catalogue", type=Folder)
@set_option
@as_of_option
@strict_option
def check_command(
    catalogue: Path, settings: tuple[str, ...], as_of: datetime | None, strict: bool
) -> None:
    """Read and cost a catalogue, and list every problem with its file and line."""
    pricing, warnings = price(catalogue, as_of, strict, settings)
    tell(catalogue, warnings)
    options = sum(len(model.options) for model in pricing.models.values())
    listed = pricing.catalogue.price_list
    told = f"{counted(len(pricing.models), 'model')}, {counted(options, 'priced option')}"
    click.echo(f"no problems: {told}, price list of {listed}")


@click.command("schema")
@click.option("--into", type=OutFolder, default=Path(), help="Folder for the schema files.")
def schema_command(into: Path) -> None:
    """Write JSON Schemas, with which editors complete and check catalogues and requests."""
    from quoter.catalogue.schema import schemas

    with writing(into):
        into.mkdir(parents=True, exist_ok=True)
        for name, text in schemas().items():
            (into / name).write_text(text, encoding="utf-8")
            click.echo(str(into / name))


@click.command("demo")
@click.argument("folder", type=OutFolder)
def demo_command(folder: Path) -> None:
    """Copy the demonstration catalogue of an invented yard, to start your own from."""
    if folder.exists() and any(folder.iterdir()):
        raise click.UsageError(f"{folder} is not empty; name a new folder")
    with writing(folder):
        shutil.copytree(demo_catalogue_folder(), folder, dirs_exist_ok=True)
    click.echo(f"{folder}: build it with `quoter build {folder}`")
