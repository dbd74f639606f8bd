"""The commands: parse words, call one function each, print.

Exit codes: 0 fine, 1 problems in the input, 2 wrong usage.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
from collections.abc import Callable, Iterable
from datetime import date, datetime
from pathlib import Path
from typing import NoReturn

import click

from quoter import __version__
from quoter.analysis.bridge import Bridge, BridgeError
from quoter.build import build, price_catalogue
from quoter.compare import as_json as compared_as_json
from quoter.compare import change_files, compare_priced, compare_records, report_lines
from quoter.figures.trail import explain
from quoter.pricing.price import Priced, PricedModel, Pricing
from quoter.problems import CatalogueError, Problem, nearest
from quoter.publish import FolderError, LeakError
from quoter.resources import demo_catalogue_folder
from quoter.schema import schemas
from quoter.why import UnknownFigureError, as_data, find_figure, tree_lines

Folder = click.Path(exists=True, file_okay=False, path_type=Path)
OutFolder = click.Path(file_okay=False, path_type=Path)
OutFile = click.Path(dir_okay=False, path_type=Path)
Day = click.DateTime(["%Y-%m-%d"])
as_of_option = click.option(
    "--as-of",
    type=Day,
    metavar="DATE",
    help="Use the prices, wages and rates in force on this day (default: the newest price list).",
)
strict_option = click.option("--strict", is_flag=True, help="Treat warnings as problems.")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="quoter")
@click.pass_context
def main(context: click.Context) -> None:
    """Cost a boat builder's options and publish their prices from a folder of text files."""
    if os.environ.get("NO_COLOR"):
        context.color = False


@main.command("build")
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
        report = build(catalogue, site, internal, _day(as_of), strict=strict, say=_progress())
    except CatalogueError as fault:
        _stop(catalogue, fault.problems)
    except (LeakError, FolderError) as fault:
        click.secho(str(fault), fg="red", err=True)
        sys.exit(1)
    _tell(catalogue, report.warnings)
    books = sum(name.startswith("workbooks/") for name in report.internal)
    click.echo(f"{site}: {len(report.public)} public files, open {site / 'index.html'}")
    click.echo(f"{internal}: {books} workbooks, open {internal / 'review' / 'index.html'}")


@main.command("check")
@click.argument("catalogue", type=Folder)
@as_of_option
@strict_option
def check_command(catalogue: Path, as_of: datetime | None, strict: bool) -> None:
    """Read and cost a catalogue, and list every problem with its file and line."""
    pricing, warnings = _priced(catalogue, as_of, strict)
    _tell(catalogue, warnings)
    options = sum(len(model.options) for model in pricing.models.values())
    listed = pricing.catalogue.price_list
    models = len(pricing.models)
    click.echo(f"no problems: {models} models, {options} priced options, price list of {listed}")


@main.command("why")
@click.argument("catalogue", type=Folder)
@click.argument("model")
@click.argument("option", required=False)
@click.option("--figure", "name", default="recommended", metavar="NAME", help="Which figure.")
@click.option("--depth", type=click.IntRange(1), default=99, help="How many levels deep.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead of a tree.")
@as_of_option
def why_command(
    catalogue: Path,
    model: str,
    option: str | None,
    name: str,
    depth: int,
    as_json: bool,
    as_of: datetime | None,
) -> None:
    """Explain a figure of a model or option, from a price down to lines of the catalogue."""
    pricing, _ = _priced(catalogue, as_of, strict=False)
    priced = _wanted(pricing, model, option)
    try:
        step = explain(find_figure(priced, name), depth)
    except UnknownFigureError as fault:
        raise click.UsageError(str(fault)) from fault
    if as_json:
        click.echo(json.dumps(as_data(step), indent=1, ensure_ascii=False))
    else:
        for line in tree_lines(step):
            click.echo(line)


@main.command("compare")
@click.argument("old", type=click.Path(exists=True, path_type=Path))
@click.argument("new", type=click.Path(exists=True, path_type=Path), required=False)
@click.option("--from", "since", type=Day, metavar="DATE", help="The day of the old costs.")
@click.option("--to", "until", type=Day, metavar="DATE", help="The day of the new costs.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead of a table.")
@click.option("--html", type=OutFile, help="Write a page with charts to this file.")
@click.option("--xlsx", type=OutFile, help="Write a workbook to this file.")
def compare_command(
    old: Path,
    new: Path | None,
    since: datetime | None,
    until: datetime | None,
    as_json: bool,
    html: Path | None,
    xlsx: Path | None,
) -> None:
    """Tell what moved costs between two days, two catalogues or two costing.json files."""
    bridge, company = _compared(old, new, since, until)
    for file, content in change_files(bridge, company, html, xlsx):
        try:
            file.write_bytes(content)
        except OSError as fault:
            raise click.FileError(str(file), fault.strerror) from fault
        click.echo(f"wrote {file}", err=True)
    click.echo(compared_as_json(bridge) if as_json else "\n".join(report_lines(bridge)))


@main.command("schema")
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


@main.command("demo")
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


def _day(as_of: datetime | None) -> date | None:
    return as_of.date() if as_of else None


def _progress() -> Callable[[str], None]:
    """Says each step on a terminal and nothing in a pipe."""
    terminal = sys.stderr.isatty()

    def say(step: str) -> None:
        if terminal:
            click.secho(f"… {step}", dim=True, err=True)

    return say


def _priced(catalogue: Path, as_of: datetime | None, strict: bool) -> tuple[Pricing, list[Problem]]:
    try:
        return price_catalogue(catalogue, _day(as_of), strict=strict)
    except CatalogueError as fault:
        _stop(catalogue, fault.problems)


def _compared(
    old: Path, new: Path | None, since: datetime | None, until: datetime | None
) -> tuple[Bridge, str]:
    """The comparison that the words of a command ask for, and the yard's name where it is known."""
    if new is None and since is None:
        raise click.UsageError("name the day of the old costs with --from, or a second catalogue")
    records = old.is_file()
    if records and (new is None or since or until):
        raise click.UsageError("a costing.json is compared with another one, and takes no days")
    if new is not None and new.is_file() != records:
        raise click.UsageError("compare two folders or two files, not one of each")
    try:
        if new is not None and records:
            return compare_records(old, new), ""
        before, _ = _priced(old, since, strict=False)
        after, _ = _priced(new or old, until, strict=False)
        bridge = compare_priced(before, after, old.name, (new or old).name)
    except BridgeError as fault:
        click.secho(str(fault), fg="red", err=True)
        sys.exit(1)
    return bridge, str(after.catalogue.yard.company.name)


def _wanted(pricing: Pricing, model: str, option: str | None) -> Priced:
    priced: PricedModel | None = pricing.models.get(model)
    if priced is None:
        raise click.UsageError(f"unknown model '{model}': {nearest(model, pricing.models)}")
    if option is None:
        return priced.boat
    if option not in priced.options:
        hint = nearest(option, priced.options)
        raise click.UsageError(f"'{model}' has no option '{option}': {hint}")
    return priced.options[option]


def _tell(catalogue: Path, problems: Iterable[Problem]) -> None:
    for problem in problems:
        first, _, rest = f"{catalogue.as_posix().rstrip('/')}/{problem}".partition("\n")
        click.secho(first, fg="yellow" if problem.warning else "red", err=True)
        if rest:
            click.echo(rest, err=True)


def _stop(catalogue: Path, problems: list[Problem]) -> NoReturn:
    _tell(catalogue, problems)
    count = len(problems)
    click.echo(f"{count} problem{'' if count == 1 else 's'}; nothing was written", err=True)
    sys.exit(1)
