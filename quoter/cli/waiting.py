"""Commands about how quotes stand: outcome, waiting."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from pathlib import Path

import click

from quoter.cli.quotes import even_so_option, quotes_option
from quoter.cli.surcharge import old_values, read_whole
from quoter.cli.terminal import (
    UNWRITTEN,
    Day,
    Folder,
    example_command,
    json_option,
    on_one_line,
    refusing,
    stopping,
    tell,
    warn,
)
from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import OUTCOMES, altered, kept
from quoter.quotes.kept.numbering import named
from quoter.quotes.kept.outcomes import CHANCE_HINT, RESULTS, Outcome, chance_named, per_cent
from quoter.quotes.kept.standing import list_quotes
from quoter.quotes.kept.store import settle
from quoter.quotes.waiting import DAYS, as_json, report_lines, waiting_of


def _chance(_: click.Context, parameter: click.Parameter, text: str | None) -> Decimal | None:
    """A stated chance, as a fraction."""
    if text is None:
        return None
    found = chance_named(text)
    if found is None:
        raise click.BadParameter(f"'{text}' is no chance; {CHANCE_HINT}", param=parameter)
    return found


@example_command(
    "outcome",
    'outcome 2026-0001 sent --on 2026-12-02 --chance "60 %"',
    "outcome 2026-0001 won --on 2026-12-05",
)
@click.argument("number")
@click.argument(
    "result", type=click.Choice([*RESULTS]), metavar="sent|won|lost|withdrawn", required=False
)
@click.option("--on", type=Day, required=True, metavar="DATE", help="The day of it.")
@click.option("--reason", callback=on_one_line, default="", help="Why, in words.")
@click.option("--by", callback=on_one_line, default="", metavar="NAME", help="Who writes it down.")
@click.option(
    "--chance",
    callback=_chance,
    metavar="PERCENT",
    help="That the customer takes it: with sent, or alone.",
)
@click.option("--option", default="", metavar="ID", help="The option or package that lost it.")
@click.option("--again", is_flag=True, help="Say otherwise than an outcome written before.")
@even_so_option
@quotes_option
def outcome_command(
    number: str,
    result: str | None,
    on: datetime,
    reason: str,
    by: str,
    chance: Decimal | None,
    option: str,
    again: bool,
    even_so: bool,
    quotes: Path,
) -> None:
    """Write down that a quote was sent, won, lost or withdrawn, or what chance it has."""
    with refusing(QuoteError, then=UNWRITTEN):
        written = settle(
            quotes,
            number,
            RESULTS[result] if result else None,
            on.date(),
            reason=reason,
            by=by,
            chance=chance,
            option=option,
            again=again,
            even_so=even_so,
        )
        name = named(written.quote)
        record = kept(quotes, name.own if name else number)
        changed = [*altered(quotes, record)]
    if option and option not in {line.id for line in record.inside.lines}:
        changed.append(f"'{option}' is not on {written.quote}: taken as what it lacked")
    for words in changed:
        warn(words)
    click.echo(f"{_said(written)}: added to {quotes / OUTCOMES}", err=True)


def _said(written: Outcome) -> str:
    chance = "" if written.chance is None else f"a chance of {per_cent(written.chance)}"
    if written.result is None:
        return f"{written.quote} has {chance} as of {written.date}"
    told = f"{written.quote} is {written.result} as of {written.date}"
    return f"{told}, with {chance}" if chance else told


@example_command(
    "waiting",
    "waiting --on 2026-12-05",
    "waiting demo_catalog --on 2026-12-05 --json",
)
@click.argument("catalogue", type=Folder, required=False)
@quotes_option
@click.option("--on", type=Day, required=True, metavar="DATE", help="The day asked about.")
@click.option(
    "--days",
    type=click.IntRange(0, 3650),
    default=DAYS,
    show_default=True,
    help="How long a draft may lie unsent, and how soon an end is near.",
)
@json_option
def waiting_command(
    catalogue: Path | None, quotes: Path, on: datetime, days: int, print_json: bool
) -> None:
    """Tell what open quotes wait for, what lost the others, and what to remember.

    With a CATALOGUE also the surcharge of every open or won quote that carries a clause.
    """
    records, warned = None, []
    with refusing(QuoteError):
        listing = list_quotes(quotes, on.date())
    if catalogue is not None:
        with stopping(catalogue):
            records, excerpt = read_whole(catalogue)
        warned = old_values(records, on.date(), excerpt)
    found = waiting_of(listing, records, days)
    tell(catalogue, warned)
    click.echo(as_json(found) if print_json else "\n".join(report_lines(found)))
