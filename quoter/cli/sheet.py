"""The command that writes a dealer's own copy of the price sheet."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from quoter.cli.terminal import (
    Folder,
    OutFolder,
    as_of_option,
    counted,
    day,
    example_command,
    progress,
    refuse,
    stopping,
    strict_option,
    tell,
)
from quoter.publish.manifest import FolderError


@example_command(
    "sheet",
    "sheet demo_catalog --for eastquay",
    "sheet demo_catalog --for tarnholm --language nb --into tarnholm_nb",
)
@click.argument("catalogue", type=Folder)
@click.option(
    "--for", "dealer", metavar="ID", required=True, help="The dealer, one of those in yard.yaml."
)
@click.option(
    "--language",
    default="",
    metavar="TAG",
    help="The one language of the copy (default: all of the market).",
)
@click.option("--into", type=OutFolder, help="Where it goes (default: copies/ID).")
@as_of_option
@strict_option
@click.option("--wait", is_flag=True, help="Wait for another build into the same folder.")
def sheet_command(
    catalogue: Path,
    dealer: str,
    language: str,
    into: Path | None,
    as_of: datetime | None,
    strict: bool,
    wait: bool,
) -> None:
    """Write a copy of a market's price sheet in a dealer's name, to be handed on.

    The dealer's name and contact stand in place of the yard's, which is named as the builder; what
    readers write, they write to the dealer. Prices are the market's own, as on the yard's site: no
    class and no discount of a dealer is on it. All of it is in one ZIP as well.
    """
    from quoter.copies import UnknownDealerError, write_copy  # not before the command needs it
    from quoter.leaks import LeakError

    folder = into or Path("copies") / dealer
    try:
        with stopping(catalogue):
            copied = write_copy(
                catalogue,
                folder,
                dealer,
                day(as_of),
                language=language,
                strict=strict,
                wait=wait,
                say=progress(),
            )
    except UnknownDealerError as fault:
        raise click.UsageError(str(fault)) from fault
    except (LeakError, FolderError, KeyboardInterrupt) as fault:
        refuse(str(fault) or "interrupted", getattr(fault, "code", ""))
    click.echo(copied.day)
    tell(catalogue, copied.warnings)
    for words in copied.left:
        click.secho(words, fg="yellow", err=True)
    said = f"market {copied.dealer.market}, {counted(len(copied.languages), 'language')}"
    click.echo(f"{folder}: for {copied.dealer.name}, {said}, open {folder / 'index.html'}")
    click.echo(f"{folder / copied.whole}: all of it in one file, to be sent")
