"""The command that shows what it really took against standard."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from functools import partial
from itertools import chain
from pathlib import Path
from typing import Any

import click

from quoter.actuals.account import Account, account_of, at_list_prices
from quoter.actuals.compared import Actuals
from quoter.catalogue.booked_words import rows_after
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
from quoter.pages.actuals.terminal import Lines
from quoter.pages.environment import office_locale
from quoter.problems import nearest
from quoter.publish.manifest import FolderError
from quoter.publish.outputs import held
from quoter.quotes import QuoteError
from quoter.quotes.booked import quoted_jobs
from quoter.tasks import actuals_folder

LATER = "ask with --on, or say in yard.yaml that today is that far"
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
@click.option("--out", type=OutFolder, help="Write its pages and workbook to this folder, too.")
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
            raise click.UsageError(f"unknown job '{job}': {_job_hint(actuals, job)}")
        view = job_of(account, names, job)
        return data.job(view), lines.job(view)
    if operation is not None:
        views = {one.estimate.key: one for one in operations_of(account, names)}
        if operation not in views:
            hint = nearest(operation, views) if views else "none has data yet"
            raise click.UsageError(f"no data of an operation '{operation}': {hint}")
        return data.operation(views[operation]), lines.operation(views[operation])
    asked = month or (actuals.months[-1] if actuals.months else "")
    if asked not in actuals.months:
        where = f"in '{asked}'" if asked else f"up to {actuals.as_of}"
        raise click.UsageError(f"no rows {where}: {_month_hint(actuals, asked)}")
    told = month_of(account, names, asked)
    return data.month(told), chain(lines.month(told), _left_out(actuals))


def _left_out(actuals: Actuals) -> Iterator[str]:
    """How many rows are of later days, so that nobody takes what is missing for nothing."""
    later = [] if actuals.booked is None else rows_after(actuals.booked, actuals.as_of)
    if later:
        yield (
            f"  Booked after {actuals.as_of} and so left out, rows: {len(later)}, "
            f"the last of {max(day for day, _ in later)}"
        )


def _job_hint(actuals: Actuals, job: str) -> str:
    """A job that is near, or that it was begun after the day asked about."""
    rows = () if actuals.booked is None else actuals.booked.jobs
    for row in rows:
        if row.job == job:
            return f"it was started on {row.started}, after {actuals.as_of}; {LATER}"
    return nearest(job, actuals.jobs)


def _month_hint(actuals: Actuals, month: str) -> str:
    """A month that is near, or that rows are of days after the one asked about."""
    later = [] if actuals.booked is None else rows_after(actuals.booked, actuals.as_of)
    days = [day for day, _ in later if day.startswith(month)]
    if days:
        return f"rows to {max(days)} are after {actuals.as_of}; {LATER}"
    return nearest(month, actuals.months) if actuals.months else "no table has rows"


def _write(out: Path, catalogue: Path, account: Account) -> None:
    """All pages and the workbook, into a folder that builds keep."""
    say = progress()
    with refusing(FolderError), held([out], [catalogue], say=say) as outputs:
        made = actuals_folder(account)
        outputs.publish({out: made})
    click.echo(f"{out}: {len(made)} files, open {out / 'index.html'}", err=True)
