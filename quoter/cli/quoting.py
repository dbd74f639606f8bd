"""Commands about quotes that were given to customers."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

import click

from quoter.cli.offers import quotes_option
from quoter.cli.words import Day, on_one_line, warn
from quoter.quotes.fault import QuoteError
from quoter.quotes.folder import OUTCOMES
from quoter.quotes.outcomes import RESULTS
from quoter.quotes.reading import altered, kept
from quoter.quotes.settling import settle


@click.command("outcome")
@click.argument("number")
@click.argument("result", type=click.Choice([*RESULTS]), metavar="won|lost")
@click.option("--on", type=Day, required=True, metavar="DATE", help="The day of the decision.")
@click.option("--reason", callback=on_one_line, default="", help="Why, in words.")
@click.option("--by", callback=on_one_line, default="", metavar="NAME", help="Who writes it down.")
@click.option("--again", is_flag=True, help="Say otherwise than an outcome written before.")
@quotes_option
def outcome_command(
    number: str, result: str, on: datetime, reason: str, by: str, again: bool, quotes: Path
) -> None:
    """Write down that a quote was won or lost."""
    try:
        written = settle(
            quotes, number, RESULTS[result], on.date(), reason=reason, by=by, again=again
        )
        changed = [*altered(quotes, kept(quotes, written.quote))]
    except QuoteError as fault:
        click.secho(f"{fault}; nothing was written", fg="red", err=True)
        sys.exit(1)
    for words in changed:
        warn(words)
    click.echo(
        f"{written.quote} is {written.result} as of {written.date}: added to {quotes / OUTCOMES}",
        err=True,
    )
