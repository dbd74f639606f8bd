"""Commands that make something: build, check, schema, demo."""

from __future__ import annotations

import shutil
import sys
from datetime import datetime
from pathlib import Path

import click

from quoter.build import build
from quoter.cli.words import (
    Folder,
    OutFolder,
    as_of_option,
    day,
    price,
    progress,
    stop,
    strict_option,
    tell,
)
from quoter.problems import CatalogueError
from quoter.publish import FolderError, LeakError
from quoter.resources import demo_catalogue_folder
from quoter.schema import schemas


@click.command("build")
@click.argument("catalogue", type=Folder)
@click.option("--site", type=OutFolder, default=Path("site"), help="Public folder.")
@click.option("--internal", type=OutFolder, default=Path("internal"), help="Private folder.")
@as_of_option
@strict_option
def build_command(
    catalogue: Path, site: Path, internal: Path, as_of: datetime | None, strict: bool
) -> None:
    """Build the costed workbooks, the internal review and the public price sheet."""
    try:
        report = build(catalogue, site, internal, day(as_of), strict=strict, say=progress())
    except CatalogueError as fault:
        stop(catalogue, fault.problems)
    except (LeakError, FolderError) as fault:
        click.secho(str(fault), fg="red", err=True)
        sys.exit(1)
    tell(catalogue, report.warnings)
    books = sum(name.startswith("workbooks/") for name in report.internal)
    click.echo(f"{site}: {len(report.public)} public files, open {site / 'index.html'}")
    click.echo(f"{internal}: {books} workbooks, open {internal / 'review' / 'index.html'}")


@click.command("check")
@click.argument("catalogue", type=Folder)
@as_of_option
@strict_option
def check_command(catalogue: Path, as_of: datetime | None, strict: bool) -> None:
    """Read and cost a catalogue, and list every problem with its file and line."""
    pricing, warnings = price(catalogue, as_of, strict)
    tell(catalogue, warnings)
    options = sum(len(model.options) for model in pricing.models.values())
    listed = pricing.catalogue.price_list
    models = len(pricing.models)
    click.echo(f"no problems: {models} models, {options} priced options, price list of {listed}")


@click.command("schema")
@click.option("--into", type=OutFolder, default=Path(), help="Folder for the schema files.")
def schema_command(into: Path) -> None:
    """Write JSON Schemas, with which editors complete and check the catalogue's files."""
    try:
        into.mkdir(parents=True, exist_ok=True)
        for name, text in schemas().items():
            (into / name).write_text(text, encoding="utf-8")
            click.echo(str(into / name))
    except OSError as fault:
        raise click.FileError(str(fault.filename or into), fault.strerror) from fault


@click.command("demo")
@click.argument("folder", type=OutFolder)
def demo_command(folder: Path) -> None:
    """Copy the demonstration catalogue of an invented yard, to start your own from."""
    if folder.exists() and any(folder.iterdir()):
        raise click.UsageError(f"{folder} is not empty; name a new folder")
    try:
        shutil.copytree(demo_catalogue_folder(), folder, dirs_exist_ok=True)
    except OSError as fault:
        raise click.FileError(str(fault.filename or folder), fault.strerror) from fault
    click.echo(f"{folder}: build it with `quoter build {folder}`")
