"""The command about orders: confirm."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from quoter.cli.quotes import quotes_option
from quoter.cli.terminal import UNWRITTEN, Day, day, example_command, on_one_line, refusing
from quoter.leaks import LeakError
from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import ORDER_PAGE
from quoter.quotes.printed.confirmation import confirm_order


@example_command(
    "confirm",
    "confirm 2026-0001 --delivery 2027-06-10",
    'confirm 2026-0001 --delivery 2027-06-24 --on 2027-02-01 --by "Ilse Maravant" --again',
)
@click.argument("number")
@click.option(
    "--delivery", type=Day, required=True, metavar="DATE", help="The day of delivery agreed on."
)
@click.option(
    "--on", type=Day, metavar="DATE", help="The day of the confirmation (default: the order's)."
)
@click.option(
    "--by",
    default="",
    callback=on_one_line,
    metavar="NAME",
    help="Who confirms it (default: who prepared the quote).",
)
@click.option("--again", is_flag=True, help="Confirm anew what was confirmed before.")
@quotes_option
def confirm_command(
    number: str, delivery: datetime, on: datetime | None, by: str, again: bool, quotes: Path
) -> None:
    """Confirm the order of a won quote: its own lines and terms, with the day of delivery.

    It stands in a folder beside the quote. A quote that a won change order changed is confirmed
    as that has it.
    """
    with refusing(QuoteError, then=UNWRITTEN), refusing(LeakError):
        folder = confirm_order(quotes, number, delivery.date(), on=day(on), by=by, again=again)
    click.echo(f"{folder}: open {folder / ORDER_PAGE}")
