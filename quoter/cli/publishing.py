"""The command that proposes list prices, and publishes those that are accepted."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

import click

from quoter.cli.words import (
    Day,
    Folder,
    as_of_option,
    counted,
    day,
    on_one_line,
    price,
    stop,
    tell,
)
from quoter.importing.writing import ChangedError, settle
from quoter.problems import CatalogueError
from quoter.reprice import AcceptError, accept, as_json, chosen, proposed_prices, report_lines


@click.command("reprice")
@click.argument("catalogue", type=Folder)
@click.option("--all", "every", is_flag=True, help="Show the prices that are held as well.")
@click.option("--json", "print_json", is_flag=True, help="Print JSON instead of a table.")
@click.option("--accept", "accepted", is_flag=True, help="Publish what is proposed.")
@click.option("--unpublished", is_flag=True, help="Include what has no published price yet.")
@click.option("--only", multiple=True, metavar="ID", help="Publish this option or boat alone.")
@click.option("--effective", type=Day, metavar="DATE", help="The day accepted prices take effect.")
@click.option("--meant", is_flag=True, help="Jumps and a day far ahead are meant.")
@click.option(
    "--note", callback=on_one_line, default="repriced", help="What to note beside accepted prices."
)
@as_of_option
def reprice_command(
    catalogue: Path,
    every: bool,
    print_json: bool,
    accepted: bool,
    unpublished: bool,
    only: tuple[str, ...],
    effective: datetime | None,
    meant: bool,
    note: str,
    as_of: datetime | None,
) -> None:
    """Propose list prices by the policy, beside those published; publish them if accepted."""
    if accepted != (effective is not None) or (only and not accepted):
        raise click.UsageError("--accept needs the day prices take effect: --effective DATE")
    if accepted:
        try:
            settle(catalogue)
        except (ChangedError, OSError) as fault:
            click.secho(f"{fault}; nothing was written", fg="red", err=True)
            sys.exit(1)
    # What is accepted rests on what is published and costs on the day it takes effect.
    pricing, warnings = price(catalogue, as_of or effective, strict=False)
    tell(catalogue, warnings)
    try:
        proposals = proposed_prices(pricing)
        publish = chosen(proposals, only, unpublished=unpublished)
        if print_json:
            click.echo(as_json(pricing, proposals))
        else:
            for line in report_lines(pricing, proposals, [*proposals] if every else publish):
                click.echo(line)
    except CatalogueError as fault:
        stop(catalogue, fault.problems)
    except AcceptError as fault:
        raise click.UsageError(str(fault)) from fault
    begins = day(effective)
    if begins is None:
        return
    try:
        path = accept(catalogue, pricing, publish, begins, note, meant=meant)
    except CatalogueError as fault:
        stop(catalogue, fault.problems)
    except (AcceptError, ChangedError, OSError) as fault:
        click.secho(f"{fault}; nothing was written", fg="red", err=True)
        sys.exit(1)
    click.echo(f"{counted(len(publish), 'price')} of {begins} added to {path}", err=True)
