"""Commands about quotes: quote, requote, quotes, reprint, outcome."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import click

from quoter.catalogue.mark import fingerprint
from quoter.catalogue.quoting import Request
from quoter.catalogue.source import Text
from quoter.cli.terminal import (
    UNWRITTEN,
    Day,
    Folder,
    OutFile,
    OutFolder,
    counted,
    day,
    example_command,
    json_option,
    on_one_line,
    refusing,
    stopping,
    tell,
    tell_day,
    warn,
    writing,
)
from quoter.leaks import LeakError
from quoter.pricing.doubtful import warnings_of
from quoter.pricing.priced import price_catalogue
from quoter.problems import Place, listed
from quoter.quotes import QuoteError
from quoter.quotes.archive import OUTCOMES, altered, kept, list_quotes
from quoter.quotes.checking import check_archive
from quoter.quotes.draft import Draft, draft_of, record_of
from quoter.quotes.files import files_of, quotes_page, reprinted
from quoter.quotes.listing import as_json, overview_of, report_lines
from quoter.quotes.outcomes import RESULTS
from quoter.quotes.record import Approval, Record
from quoter.quotes.request import RequestError, read_request, sound_wish
from quoter.quotes.requote import Requote, requote
from quoter.quotes.requote import as_json as requoted_as_json
from quoter.quotes.requote import report_lines as requoted_lines
from quoter.quotes.seen import from_price_sheet, granted_in, seen_words
from quoter.quotes.store import issue, revise, settle

quotes_option = click.option(
    "--quotes", type=OutFolder, default=Path("quotes"), help="Folder of quotes (default: quotes)."
)
approve_option = click.option(
    "--approve", callback=on_one_line, metavar="NAME", help="Who lets a low margin pass."
)
reason_option = click.option(
    "--reason", callback=on_one_line, metavar="TEXT", help="Why it may pass."
)


@example_command(
    "quote",
    "quote demo_catalog demo_catalog/requests/family_weekender.yaml --dry-run",
    "quote demo_catalog demo_catalog/requests/family_weekender.yaml",
)
@click.argument("catalogue", type=Folder)
@click.argument("request", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@quotes_option
@click.option("--buyer", metavar="ID", help="The dealer class, whatever the request says.")
@click.option(
    "--by",
    callback=on_one_line,
    metavar="NAME",
    help="Who prepares the quote, whatever the request says.",
)
@approve_option
@reason_option
@click.option("--dry-run", is_flag=True, help="Say what it comes to; take no number.")
def quote_command(
    catalogue: Path,
    request: Path,
    quotes: Path,
    buyer: str | None,
    by: str | None,
    approve: str | None,
    reason: str | None,
    dry_run: bool,
) -> None:
    """Turn a request into a numbered quote: the customer's page and workbook, and the yard's.

    A request may be a file of the price sheet, which knows neither the class nor who quotes.
    """
    approval = _approval(approve, reason)
    with _issuing(), stopping(catalogue), stopping(request.parent, RequestError):
        asked = read_request(request, _said(buyer, by))
        pricing, _ = price_catalogue(catalogue, asked.request.date, only=str(asked.request.model))
        mark = fingerprint(catalogue, asked.request.date)
        draft = draft_of(pricing, sound_wish(asked, pricing), mark, approval)
        _tell_doubts(catalogue, draft)
        if dry_run:
            _tell(draft, record_of(draft, f"{asked.request.date.year}-0000"))
            click.echo("a dry run: no number was taken")
            return
        made: list[Record] = []
        folder = issue(quotes, asked.request.date.year, lambda number: _files(draft, number, made))
    _tell(draft, made[-1])
    click.echo(f"{folder}: open {folder / 'quote.html'}")


def _tell_doubts(catalogue: Path, draft: Draft) -> None:
    """Warn of list prices on the quote that are worth a second look."""
    wish, excerpt = draft.wish, draft.pricing.catalogue.excerpt
    found = warnings_of(draft.pricing, wish.market, wish.model, wish.chosen)
    tell(catalogue, [replace(each, excerpt=excerpt(each.place)) for each in found])


def _files(draft: Draft, number: str, made: list[Record]) -> dict[str, bytes]:
    made.append(record_of(draft, number))
    return dict(files_of(draft, made[-1]))


def _said(buyer: str | None, by: str | None) -> dict[str, Text]:
    """What the options say instead of the request, by its keys; faults are told of the option."""
    said = {"buyer": (buyer, "--buyer"), "prepared_by": (by, "--by")}
    return {
        key: Text.at(value, Place(option), key)
        for key, (value, option) in said.items()
        if value is not None
    }


def _approval(name: str | None, reason: str | None) -> Approval | None:
    if name is None and reason is None:
        return None
    if not name or not reason:
        raise click.UsageError("a low margin needs both: --approve NAME --reason TEXT")
    return Approval(name=name, reason=reason)


@contextmanager
def _issuing() -> Iterator[None]:
    """What keeps a quote from its folder ends the command."""
    with refusing(QuoteError, then=UNWRITTEN), refusing(LeakError):
        yield


def _tell(draft: Draft, record: Record) -> None:
    inside = record.inside
    tax = "with tax" if record.taxes else "without tax"
    total = f"{record.total:,} {record.currency} {tax}"
    tell_day(draft.pricing)
    click.echo(f"{record.title} for {record.customer.name}: {total}")
    floor = "above the floor"
    if draft.approval is not None:
        floor = f"below the floor, let pass by {draft.approval.name}"
    told = f"{inside.margin:,.2f} {inside.home}, {inside.margin_fraction * 100:.1f} % of net"
    click.echo(f"it leaves {told}, {floor}")
    _tell_of_request(draft.wish.request, record)


def _tell_of_request(request: Request, record: Record) -> None:
    """What was taken for granted of a request, and what somebody should look at."""
    inside = record.inside
    if request.buyer is None:
        taken = f"the class '{inside.buyer}' ({inside.buyer_name}) was taken"
        click.echo(f"no buyer is named: {taken}; --buyer ID names another")
    if from_price_sheet(request) and request.note is not None:
        click.echo("the customer's note stands on the quote: look at it before it goes out")
    if keys := granted_in(request):
        warn(f"the price sheet's page never writes {listed(keys)}: look who did in this request")
    if inside.delivery is not None:
        click.echo(f"delivery was exchanged: {inside.delivery}")
    if inside.seen is not None and inside.seen.total != inside.seen.listed:
        warn(seen_words(record))


@example_command(
    "requote",
    "requote demo_catalog 2026-0001 --on 2026-12-01",
    "requote demo_catalog 2026-0001 --on 2026-12-01 --revise",
)
@click.argument("catalogue", type=Folder)
@click.argument("number")
@click.option("--on", type=Day, required=True, metavar="DATE", help="The day to price it on.")
@quotes_option
@click.option("--revise", "revising", is_flag=True, help="Issue it as the next revision.")
@approve_option
@reason_option
@json_option
def requote_command(
    catalogue: Path,
    number: str,
    on: datetime,
    quotes: Path,
    revising: bool,
    approve: str | None,
    reason: str | None,
    print_json: bool,
) -> None:
    """Price a quote's request on another day, and say what moved and why."""
    approval = _approval(approve, reason)
    priced_on = on.date()
    with _issuing(), stopping(catalogue):
        old = _found(quotes, number)
        with stopping(quotes / old.name, RequestError):
            found = requote(catalogue, old, priced_on, approval)
    tell_day(found.draft.pricing, data=print_json)
    if print_json:
        click.echo(requoted_as_json(found))
    else:
        for line in requoted_lines(found):
            click.echo(line)
    if not revising:
        return
    with _issuing():
        folder = revise(quotes, old.number, lambda number, latest: _revised(found, number, latest))
    click.echo(f"{folder}: open {folder / 'quote.html'}", err=True)


def _revised(found: Requote, revision: int, latest: Record) -> dict[str, bytes]:
    """The files of the next revision, if it is of the newest one."""
    if latest.name != found.old.name:
        raise QuoteError(f"{found.old.name} was revised: {latest.name} is the newest; requote that")
    return dict(files_of(found.draft, found.new.model_copy(update={"revision": revision})))


def _found(folder: Path, number: str) -> Record:
    """The quote of that name, or the newest revision of that number; changed files are told."""
    record = kept(folder, number)
    for words in altered(folder, record):
        warn(words)
    return record


@example_command(
    "reprint",
    "reprint 2026-0001 --into printed",
    "reprint 2026-0001-R1 --into printed_again",
)
@click.argument("number")
@click.option("--into", type=OutFolder, required=True, metavar="DIR", help="Where to print it.")
@quotes_option
def reprint_command(number: str, into: Path, quotes: Path) -> None:
    """Print a quote's customer files again from its record alone."""
    with _issuing():
        files = reprinted(_found(quotes, number))
    with writing(into):
        into.mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            (into / name).write_bytes(content)
            click.echo(str(into / name))


@example_command(
    "quotes",
    "quotes demo_catalog",
    "quotes --check",
)
@click.argument("catalogue", type=Folder, required=False)
@quotes_option
@click.option("--on", type=Day, metavar="DATE", help="States of this day (default: newest issue).")
@json_option
@click.option("--html", type=OutFile, help="Write the page of conversion and margin to this file.")
@click.option("--check", is_flag=True, help="Look for what was changed, lost or left, and no list.")
def quotes_command(
    catalogue: Path | None,
    quotes: Path,
    on: datetime | None,
    print_json: bool,
    html: Path | None,
    check: bool,
) -> None:
    """List quotes with state, value and margin; with a CATALOGUE also at today's costs."""
    if check:
        if catalogue or on or print_json or html:
            raise click.UsageError("--check looks at every quote as it stands; leave the rest out")
        _check(quotes)
        return
    with refusing(QuoteError), stopping(catalogue or quotes):
        overview = overview_of(list_quotes(quotes, day(on)), catalogue)
    if overview.day:
        click.echo(overview.day, err=print_json)
    if html is not None:
        with writing(html):
            html.write_bytes(quotes_page(overview))
        click.echo(f"wrote {html}", err=True)
    click.echo(as_json(overview) if print_json else "\n".join(report_lines(overview)))


def _check(quotes: Path) -> None:
    """Hold every quote against its fingerprint; what is wrong is told and ends the command."""
    with refusing(QuoteError):
        found = check_archive(quotes)
    for words in found.notes:
        click.echo(words)
    for words in found.faults:
        click.secho(words, fg="red", err=True)
    told = f"{counted(found.quotes, 'quote')} and {counted(found.outcomes, 'outcome')} checked"
    if not found.faults:
        click.echo(f"{told}: all as they were written")
        return
    click.echo(f"{told}: {counted(len(found.faults), 'fault')}", err=True)
    sys.exit(1)


@example_command(
    "outcome",
    "outcome 2026-0001 won --on 2026-12-05",
    'outcome 2026-0001 lost --on 2026-12-06 --reason "went to another yard" --again',
)
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
    with refusing(QuoteError, then=UNWRITTEN):
        written = settle(
            quotes, number, RESULTS[result], on.date(), reason=reason, by=by, again=again
        )
        changed = [*altered(quotes, kept(quotes, written.quote))]
    for words in changed:
        warn(words)
    click.echo(
        f"{written.quote} is {written.result} as of {written.date}: added to {quotes / OUTCOMES}",
        err=True,
    )
