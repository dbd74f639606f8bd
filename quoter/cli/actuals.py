"""The command that shows what it really took against standard."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

import click

from quoter.actuals.account import Account, account_of, at_list_prices
from quoter.cli.terminal import (
    Day,
    Folder,
    OutFolder,
    example_command,
    json_option,
    price,
    progress,
    refuse,
    refusing,
    stopping,
    tell,
    tell_day,
)
from quoter.pages.actuals.data import Data
from quoter.pages.actuals.jobs import job_of
from quoter.pages.actuals.months import month_of
from quoter.pages.actuals.names import Names
from quoter.pages.actuals.operations import operations_of
from quoter.pages.actuals.site import actuals_files
from quoter.pages.actuals.terminal import Lines
from quoter.pages.environment import office_locale
from quoter.problems import nearest
from quoter.publish.manifest import FolderError
from quoter.publish.outputs import held
from quoter.quotes import QuoteError
from quoter.quotes.booked import quoted_jobs

NOTHING = "nothing is booked in actuals/ of this catalogue; see quoter help actuals"


@example_command(
    "actuals",
    "actuals demo_catalog",
    "actuals demo_catalog --month 2026-10 --json",
)
@click.argument("catalogue", type=Folder)
@click.option("--month", metavar="MONTH", help="The month asked about (else the newest).")
@click.option("--job", metavar="NUMBER", help="A job's after-calculation instead.")
@click.option("--operation", metavar="KEY", help="An operation's or station's record instead.")
@click.option("--on", type=Day, metavar="DATE", help="Leave out what was booked after this day.")
@click.option("--quotes", type=Folder, help="The folder of quotes that jobs were sold by.")
@json_option
@click.option("--out", type=OutFolder, help="Write all pages about it to this folder, too.")
def actuals_command(
    catalogue: Path,
    month: str | None,
    job: str | None,
    operation: str | None,
    on: datetime | None,
    quotes: Path | None,
    print_json: bool,
    out: Path | None,
) -> None:
    """Show what jobs really took against standard: a month, a job or an operation.

    Variances over standard are unfavourable, those under it favourable. What is not booked is
    named and left out on both sides.
    """
    if sum(each is not None for each in (month, job, operation)) > 1:
        raise click.UsageError("name one of --month, --job and --operation")
    pricing, _ = price(catalogue, on, strict=False)
    with stopping(catalogue), refusing(QuoteError):
        sold = at_list_prices if quotes is None else partial(quoted_jobs, quotes)
        account, warnings = account_of(catalogue, pricing, sold)
    tell_day(pricing, data=print_json)
    tell(catalogue, warnings)
    if account is None:
        refuse(NOTHING)
    data, lines = _asked(account, month, job, operation)
    if print_json:
        click.echo(json.dumps(data, indent=1, ensure_ascii=False))
    else:
        for line in lines:
            click.echo(line)
    if out is not None:
        _write(out, catalogue, account)


def _asked(
    account: Account, month: str | None, job: str | None, operation: str | None
) -> tuple[dict[str, Any], Iterator[str]]:
    """What is asked about, as data and as lines.

    Raises:
        click.UsageError: there is no such month, job or operation with data; says which is near.
    """
    actuals = account.actuals
    catalogue = actuals.pricing.catalogue
    names = Names(account, office_locale(catalogue.yard.markets[0]))
    data = Data(actuals.pricing, actuals.months)
    lines = Lines(catalogue.currency, catalogue.reader)
    if job is not None:
        if job not in actuals.jobs:
            raise click.UsageError(f"unknown job '{job}': {nearest(job, actuals.jobs)}")
        view = job_of(account, names, job)
        return data.job(view), lines.job(view)
    if operation is not None:
        views = {one.estimate.key: one for one in operations_of(account, names)}
        if operation not in views:
            hint = nearest(operation, views) if views else "none has data yet"
            raise click.UsageError(f"no data of an operation '{operation}': {hint}")
        return data.operation(views[operation]), lines.operation(views[operation])
    if not actuals.months:
        raise click.UsageError("no month has rows up to this day")
    asked = month or actuals.months[-1]
    if asked not in actuals.months:
        raise click.UsageError(f"no rows in '{asked}': {nearest(asked, actuals.months)}")
    told = month_of(account, names, asked)
    return data.month(told), lines.month(told)


def _write(out: Path, catalogue: Path, account: Account) -> None:
    """All pages, into a folder that builds keep."""
    say = progress()
    with refusing(FolderError), held([out], [catalogue], say=say) as outputs:
        made = actuals_files(account)
        outputs.publish({out: made})
    click.echo(f"{out}: {len(made)} files, open {out / 'index.html'}", err=True)
