"""Commands that make something: build, check, schema, demo."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from quoter.catalogue.mark import inputs
from quoter.cli.terminal import (
    Folder,
    OutFolder,
    as_of_option,
    counted,
    day,
    example_command,
    price,
    progress,
    read_in,
    refuse,
    set_option,
    stopping,
    strict_option,
    tell,
    tell_day,
    tell_words,
    units_option,
    writing,
)
from quoter.publish.kept import Unchanged, kept, made_from
from quoter.publish.manifest import FolderError
from quoter.resources import demo_catalogue_folder

if TYPE_CHECKING:
    from quoter.workers import Doing, Source

MOST_WORKERS = 256
RETRIES = 3  # times that a task begins anew whose worker was lost


def _cores() -> int:
    """How many workers have a core of their own; one where processes can't be forked safely."""
    return len(os.sched_getaffinity(0)) if sys.platform == "linux" else 1


@example_command(
    "build",
    "build demo_catalog",
    "build demo_catalog --set class.resin=+10% --internal what_if",
)
@click.argument("catalogue", type=Folder)
@click.option("--site", type=OutFolder, help="Public folder (default: site).")
@click.option("--no-site", is_flag=True, help="Publish nothing, as while texts lack translations.")
@click.option("--internal", type=OutFolder, help="Private folder (default: internal).")
@set_option
@units_option
@as_of_option
@strict_option
@click.option("--model", "model", metavar="ID", help="Write the workbook of one model alone.")
@click.option("--afresh", is_flag=True, help="Build even where nothing has changed.")
@click.option("--wait", is_flag=True, help="Wait for another build into the same folders.")
@click.option(
    "--workers",
    type=click.IntRange(min=1, max=MOST_WORKERS),
    default=_cores,
    show_default="the cores there are",
    help="How many processes share the work.",
)
@click.option(
    "--scheduler", metavar="ADDRESS", help="Have the workers of a dask scheduler do the work."
)
@click.option("--timings", is_flag=True, help="Print where the time went.")
def build_command(
    catalogue: Path,
    site: Path | None,
    no_site: bool,
    internal: Path | None,
    settings: tuple[str, ...],
    units: str | None,
    as_of: datetime | None,
    strict: bool,
    model: str | None,
    afresh: bool,
    wait: bool,
    workers: int,
    scheduler: str | None,
    timings: bool,
) -> None:
    """Build the costed workbooks, the internal review and the public price sheet.

    With --set it is a what-if: it goes where --internal says, and publishes nothing unless --site
    is given as well. So does the workbook of one --model, with which nothing is published.
    """
    if model is not None and site is not None:
        raise click.UsageError("--model writes one workbook and --site all that is public")
    if site is not None and no_site:
        raise click.UsageError("--site asks for what --no-site rules out; say one of them")
    public, private = _folders(site, internal, apart=bool(settings or model))
    public = None if no_site else public
    settings = read_in(settings, units)
    asked = (*settings, f"the workbook of {model}") if model else settings
    made = made_from(inputs(catalogue), day(as_of), asked, strict=strict)
    stood = found = None if afresh else kept(public, private, made)
    if found is None:
        found = _built(
            catalogue,
            public,
            private,
            as_of=day(as_of),
            settings=settings,
            strict=strict,
            wait=wait,
            made=made,
            model=model or "",
            afresh=afresh,
            workers=workers,
            scheduler=scheduler,
            timings=timings,
        )
    click.echo(found.day)
    if stood is not None:
        click.echo("nothing has changed since the last build; --afresh builds all the same")
    for words in found.warnings:
        tell_words(catalogue, words)
    books = sum(name.startswith("workbooks/") for name in found.internal)
    if public is not None:
        click.echo(f"{public}: {len(found.public)} public files, open {public / 'index.html'}")
    opened = f"workbooks/{model}.xlsx" if model else "review/index.html"
    click.echo(f"{private}: {counted(books, 'workbook')}, open {private / opened}")


def _built(
    catalogue: Path,
    public: Path | None,
    private: Path,
    *,
    workers: int,
    scheduler: str | None,
    timings: bool,
    **asked: Any,
) -> Unchanged:
    """What stands in the folders after a build; what stops it ends the command."""
    from quoter.build import build  # not where nothing has changed
    from quoter.leaks import LeakError
    from quoter.tasks import UnknownModelError
    from quoter.workers import shared_by, source_of

    try:
        with stopping(catalogue), ExitStack() as stack:
            do = shared_by(workers)
            if scheduler is not None:
                source = source_of(catalogue, asked["as_of"], asked["settings"], public is not None)
                do = stack.enter_context(_at_scheduler(scheduler, source))
            report = build(catalogue, public, private, **asked, do=do, say=progress())
    except (LeakError, FolderError, KeyboardInterrupt) as fault:
        refuse(str(fault) or "interrupted", getattr(fault, "code", ""))
    except UnknownModelError as fault:
        raise click.UsageError(str(fault)) from fault
    if timings:
        _tell_seconds(report.seconds)
    for words in report.left:
        click.secho(words, fg="yellow", err=True)
    told = [str(problem) for problem in report.warnings]
    return Unchanged(report.day, [*report.public], [*report.internal], told)


@contextmanager
def _at_scheduler(address: str, source: Source) -> Iterator[Doing]:
    """Who does the tasks of a build: the workers of the scheduler at an address.

    What a lost worker was doing is begun anew by another one, by the scheduler itself. The package
    `distributed` is needed for it alone, and not installed with the program.
    """
    try:
        from distributed import Client
        from distributed.scheduler import KilledWorker
    except ImportError as fault:
        raise click.UsageError(
            "--scheduler needs the package 'distributed': install 'quoter[distributed]' here and "
            "where the workers are"
        ) from fault
    from quoter.workers import done_by

    try:
        client = Client(address)
    except (OSError, ValueError) as fault:
        refuse(f"no scheduler answers at {address}: {fault}")
    with client:
        try:
            yield done_by(client.get_executor(retries=RETRIES), source)
        except KilledWorker as fault:
            refuse(f"workers were lost again and again over one task: {fault}")


def _tell_seconds(seconds: dict[str, float]) -> None:
    """CPU seconds of each step, and of all."""
    for step, taken in [*seconds.items(), ("all", sum(seconds.values()))]:
        click.echo(f"{taken:9.2f} s  {step}", err=True)


def _folders(site: Path | None, internal: Path | None, *, apart: bool) -> tuple[Path | None, Path]:
    """Where a build goes: a what-if, or a part of one, only where it is told to."""
    if not apart:
        return site or Path("site"), internal or Path("internal")
    if internal is None:
        raise click.UsageError(
            "with --set or --model, name a folder of its own with --internal DIR, so that it does "
            "not take the place of the whole and real costing"
        )
    return site, internal


@example_command(
    "check",
    "check demo_catalog",
    "check demo_catalog --as-of 2026-10-01",
)
@click.argument("catalogue", type=Folder)
@set_option
@as_of_option
@strict_option
def check_command(
    catalogue: Path, settings: tuple[str, ...], as_of: datetime | None, strict: bool
) -> None:
    """Read and cost a catalogue, and list every problem with its file and line.

    The code in brackets at the end of a problem's first line names its kind: 'quoter help CODE'
    says what is meant, with an example that is right.
    """
    pricing, warnings = price(catalogue, as_of, strict, settings, booked=True)
    tell_day(pricing)
    tell(catalogue, warnings)
    options = sum(len(model.options) for model in pricing.models.values())
    listed = pricing.catalogue.price_list
    told = f"{counted(len(pricing.models), 'model')}, {counted(options, 'priced option')}"
    click.echo(f"no problems: {told}, price list of {listed}")


@example_command(
    "schema",
    "schema",
    "schema --into demo_catalog",
)
@click.option("--into", type=OutFolder, default=Path(), help="Folder for the schema files.")
def schema_command(into: Path) -> None:
    """Write JSON Schemas, with which editors complete and check catalogues and requests."""
    from quoter.catalogue.schema import schemas

    with writing(into):
        into.mkdir(parents=True, exist_ok=True)
        for name, text in schemas().items():
            (into / name).write_text(text, encoding="utf-8")
            click.echo(str(into / name))


@example_command(
    "demo",
    "demo trial",
    "demo month",
)
@click.argument("folder", type=OutFolder)
def demo_command(folder: Path) -> None:
    """Copy the demonstration catalogue of an invented yard, to start your own from.

    With it come the schemas by which editors complete and check its files.
    """
    from quoter.catalogue.schema import schema_line, schemas

    if folder.exists() and any(folder.iterdir()):
        raise click.UsageError(f"{folder} is not empty; name a new folder")
    with writing(folder):
        shutil.copytree(demo_catalogue_folder(), folder, dirs_exist_ok=True)
        for name, text in schemas().items():
            (folder / name).write_text(text, encoding="utf-8")
        for file in sorted(folder.rglob("*.yaml")):
            schema = "request" if file.parent.name == "requests" else file.stem
            above = "../" * (len(file.relative_to(folder).parts) - 1)
            line = schema_line(f"{above}{schema}.schema.json")
            file.write_text(f"{line}\n{file.read_text('utf-8')}", encoding="utf-8")
    click.echo(f"{folder}: build it with `quoter build {folder}`")
