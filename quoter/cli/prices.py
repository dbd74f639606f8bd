"""Commands about prices that come in and go out: import-prices, import-rates, rise, reprice."""

from __future__ import annotations

import math
from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import datetime
from pathlib import Path

import click

from quoter.cli.terminal import (
    UNWRITTEN,
    Day,
    Folder,
    as_of_option,
    counted,
    day,
    example_command,
    json_option,
    on_one_line,
    price,
    refusing,
    stop,
    stopping,
    tell,
)
from quoter.importing.moves import ACCEPT, CORRECTED, Meant
from quoter.importing.prices import UnknownNameError, import_prices
from quoter.importing.rates import import_rates
from quoter.importing.reprice import (
    AcceptError,
    accept,
    as_json,
    chosen,
    proposed_prices,
    report_lines,
)
from quoter.importing.rise import Rise, note_rise
from quoter.importing.writing import ChangedError, Import, settle, write

# Of the examples.
_LIST = "month/received/quenmoor_2026-12.csv --supplier quenmoor --effective 2026-12-01"
_RISE = "--supplier quenmoor --family polyester --effective 2027-01-15"
InFile = click.Path(exists=True, dir_okay=False, path_type=Path)


def _finite(_: click.Context, parameter: click.Parameter, number: float | None) -> float | None:
    """A number that something can be beyond."""
    if number is not None and not math.isfinite(number):
        raise click.BadParameter(f"{number} is no limit", param=parameter)
    return number


effective_option = click.option(
    "--effective", type=Day, required=True, metavar="DATE", help="The day they take effect."
)
dry_run_option = click.option("--dry-run", is_flag=True, help="Show everything, write nothing.")
accept_option = click.option("--accept", is_flag=True, help="Jumps and a day far ahead are meant.")
_ALL = ""  # what `--accept` stands for without a code


@example_command(
    "import-prices",
    f"import-prices month {_LIST} --dry-run",
    f"import-prices month {_LIST}",
)
@click.argument("catalogue", type=Folder)
@click.argument("file", type=InFile)
@click.option("--supplier", required=True, metavar="ID", help="Whose file it is.")
@effective_option
@dry_run_option
@click.option(
    ACCEPT,
    "accepted",
    multiple=True,
    is_flag=False,
    flag_value=_ALL,
    metavar="[CODE]",
    help="The jump of this code is meant; without a code, all jumps and a day far ahead.",
)
@click.option(
    "--skip", multiple=True, metavar="CODE", help="Leave out this code's line; its old price stays."
)
@click.option(CORRECTED, is_flag=True, help="The list corrects the supplier's own of that day.")
@click.option(
    "--limit",
    type=click.FloatRange(min=0),
    callback=_finite,
    metavar="PERCENT",
    help="How far a price may jump (default: the policy's import_limit, or 15).",
)
def import_prices_command(
    catalogue: Path,
    file: Path,
    supplier: str,
    effective: datetime,
    dry_run: bool,
    accepted: tuple[str, ...],
    skip: tuple[str, ...],
    corrected: bool,
    limit: float | None,
) -> None:
    """Read a supplier's list of prices (CSV or XLSX) and write what moved as a dated list."""
    fraction = None if limit is None else limit / 100
    day = effective.date()
    codes = tuple(code for code in accepted if code != _ALL)
    meant = Meant(_ALL in accepted, codes, skip, corrected)
    _carry_out(
        catalogue,
        lambda: import_prices(catalogue, file, supplier, day, fraction, meant),
        dry_run,
    )


@example_command(
    "import-rates",
    "import-rates month month/received/rates_2026-12-01.csv --effective 2026-12-01 --dry-run",
    "import-rates month month/received/rates_2026-12-01.csv --effective 2026-12-01",
)
@click.argument("catalogue", type=Folder)
@click.argument("file", type=InFile)
@effective_option
@dry_run_option
@accept_option
def import_rates_command(
    catalogue: Path, file: Path, effective: datetime, dry_run: bool, accept: bool
) -> None:
    """Read published exchange rates (CSV or XLSX) and add those the yard uses to exchange.csv."""
    day = effective.date()
    _carry_out(catalogue, lambda: import_rates(catalogue, file, day, accepted=accept), dry_run)


@example_command(
    "rise",
    f'rise month {_RISE} --by "0.12 USD/lb" --state announced --dated 2026-11-28',
    f'rise month {_RISE} --by "5 %" --state announced --dated 2026-11-30 --dry-run',
)
@click.argument("catalogue", type=Folder)
@click.option("--supplier", required=True, metavar="ID", help="Whose prices rise.")
@click.option("--family", required=True, metavar="ID", help="Which materials rise.")
@click.option("--by", required=True, metavar="AMOUNT", help="By how much: '0.10 USD/lb' or '5 %'.")
@effective_option
@click.option(
    "--state",
    type=click.Choice(["announced", "confirmed", "withdrawn"]),
    required=True,
    help="Confirmed writes the raised prices; the others are noted only.",
)
@click.option("--dated", type=Day, required=True, metavar="DATE", help="The day of the letter.")
@click.option("--note", callback=on_one_line, default="", help="What to note beside it.")
@dry_run_option
@accept_option
def rise_command(
    catalogue: Path,
    supplier: str,
    family: str,
    by: str,
    effective: datetime,
    state: str,
    dated: datetime,
    note: str,
    dry_run: bool,
    accept: bool,
) -> None:
    """Note a supplier's rise on a family of materials, and raise its prices once confirmed."""
    rise = Rise(
        supplier=supplier,
        family=family,
        by=by,
        effective=effective.date(),
        state=state,
        dated=dated.date(),
        note=note,
    )
    _carry_out(catalogue, lambda: note_rise(catalogue, rise, accepted=accept), dry_run)


def _writing() -> AbstractContextManager[None]:
    """What keeps lines from a catalogue ends the command."""
    return refusing(AcceptError, ChangedError, OSError, then=UNWRITTEN)


def _carry_out(catalogue: Path, make: Callable[[], Import], dry_run: bool) -> None:
    """Show what an import would do, and do it unless something is wrong or it is a rehearsal."""
    with _writing(), stopping(catalogue):
        try:
            if not dry_run:
                settle(catalogue)
            made = make()
        except UnknownNameError as unknown:
            raise click.UsageError(str(unknown)) from unknown
    for line in made.shown:
        click.echo(line)
    if made.faults:
        stop(None, made.faults)
    if dry_run or not made.files:
        why = "a dry run" if made.files else "nothing moved"
        click.echo(f"{why}: nothing was written", err=True)
        return
    with _writing():
        write(catalogue, made.files, made.replaced)
    click.echo(made.done, err=True)


@example_command(
    "reprice",
    "reprice month",
    'reprice month --accept --effective 2026-12-01 --note "winter list"',
)
@click.argument("catalogue", type=Folder)
@click.option("--all", "every", is_flag=True, help="Show the prices that are held as well.")
@json_option
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
        with _writing():
            settle(catalogue)
    # What is accepted rests on what is published and costs on the day it takes effect.
    pricing, warnings = price(catalogue, as_of or effective, strict=False)
    tell(catalogue, warnings)
    with stopping(catalogue):
        proposals = proposed_prices(pricing)
        try:
            publish = chosen(proposals, only, unpublished=unpublished)
        except AcceptError as fault:
            raise click.UsageError(str(fault)) from fault
        if print_json:
            click.echo(as_json(pricing, proposals))
        else:
            for line in report_lines(pricing, proposals, [*proposals] if every else publish):
                click.echo(line)
    begins = day(effective)
    if begins is None:
        return
    with _writing(), stopping(catalogue):
        path = accept(catalogue, pricing, publish, begins, note, meant=meant)
    click.echo(f"{counted(len(publish), 'price')} of {begins} added to {path}", err=True)
