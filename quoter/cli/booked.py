"""The command that takes in what was booked: import-actuals."""

from __future__ import annotations

from pathlib import Path

import click

from quoter.cli.terminal import (
    UNWRITTEN,
    Folder,
    example_command,
    json_option,
    refusing,
    stop,
    stopping,
    tell,
)
from quoter.importing.actuals import ActualsImport, import_actuals
from quoter.importing.booked_rows import SKIP
from quoter.importing.moves import CORRECTED
from quoter.importing.prices import UnknownNameError
from quoter.importing.writing import ChangedError, settle, write

InFile = click.Path(exists=True, dir_okay=False, path_type=Path)


@example_command(
    "import-actuals",
    "import-actuals month month/received/clock_2026-10.csv --export clock --dry-run",
    "import-actuals month month/received/clock_2026-10.csv --export clock --json",
)
@click.argument("catalogue", type=Folder)
@click.argument("file", type=InFile)
@click.option("--export", required=True, metavar="ID", help="How it is read: one of `exports:`.")
@click.option("--dry-run", is_flag=True, help="Show everything, write nothing.")
@json_option
@click.option(CORRECTED, is_flag=True, help="Rows that say otherwise replace what stands.")
@click.option(
    SKIP,
    multiple=True,
    metavar="REF",
    help="Leave out the row of this number, or of this place where rows have none.",
)
def import_actuals_command(
    catalogue: Path,
    file: Path,
    export: str,
    dry_run: bool,
    print_json: bool,
    corrected: bool,
    skip: tuple[str, ...],
) -> None:
    """Read an export of the yard's clock, store or ledger (CSV or XLSX) into what was booked."""
    writing = refusing(ChangedError, OSError, then=UNWRITTEN)
    with writing, stopping(catalogue):
        try:
            if not dry_run:
                settle(catalogue)
            made = import_actuals(catalogue, file, export, skip, corrected=corrected)
        except UnknownNameError as unknown:
            raise click.UsageError(str(unknown)) from unknown
    _tell(made, data=print_json)
    written = bool(made.files) and not dry_run
    if written:
        with refusing(ChangedError, OSError, then=UNWRITTEN):
            write(catalogue, made.files, made.replaced)
    if print_json:
        click.echo(made.as_json(written=written))
    why = "a dry run" if made.files else "no new rows"
    click.echo(made.done if written else f"{why}: nothing was written", err=True)


def _tell(made: ActualsImport, *, data: bool) -> None:
    """Show what an export holds, not among the data where these are printed; its faults end it."""
    for line in (made.day, *made.shown):
        click.echo(line, err=data)
    tell(None, made.warnings)
    if made.faults:
        stop(None, made.faults)
