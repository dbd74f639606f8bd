"""Commands about quotes: quote, requote, quotes, reprint."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
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
from quoter.pricing.priced import price_catalogue
from quoter.problems import Place, listed
from quoter.quotes import QuoteError
from quoter.quotes.approval import NOBODY_LISTED, SAID
from quoter.quotes.change_orders import change_order, changeable, revision
from quoter.quotes.draft import Draft, draft_of, record_of
from quoter.quotes.kept.archive import altered, as_issued, kept
from quoter.quotes.kept.checking import check_archive
from quoter.quotes.kept.inside import Approval
from quoter.quotes.kept.numbering import names_one, order_named
from quoter.quotes.kept.record import Record
from quoter.quotes.kept.standing import list_quotes
from quoter.quotes.kept.store import issue, revise
from quoter.quotes.listing import as_json, overview_of, report_lines
from quoter.quotes.parties import promised_too_soon
from quoter.quotes.printed.confirmation import reprinted_order
from quoter.quotes.printed.files import PDF, files_of, printed_again, quotes_page, why_no_pdf
from quoter.quotes.request import RequestError, read_request, sound_wish
from quoter.quotes.requote import Requote, requote
from quoter.quotes.requote import as_json as requoted_as_json
from quoter.quotes.requote import report_lines as requoted_lines
from quoter.quotes.seen import from_price_sheet, granted_in, seen_otherwise
from quoter.quotes.warned import package_hints, touching

quotes_option = click.option(
    "--quotes", type=OutFolder, default=Path("quotes"), help="Folder of quotes (default: quotes)."
)
approve_option = click.option(
    "--approve", callback=on_one_line, metavar="NAME", help="Who lets it pass as it is."
)
reason_option = click.option(
    "--reason", callback=on_one_line, metavar="TEXT", help="Why it may pass."
)
even_so_option = click.option(
    "--even-so", is_flag=True, help="Go on where you are told that it is rarely meant."
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
@even_so_option
@click.option("--dry-run", is_flag=True, help="Say what it comes to; take no number.")
def quote_command(
    catalogue: Path,
    request: Path,
    quotes: Path,
    buyer: str | None,
    by: str | None,
    approve: str | None,
    reason: str | None,
    even_so: bool,
    dry_run: bool,
) -> None:
    """Turn a request into a numbered quote: the customer's page and workbook, and the yard's.

    A request may be a file of the price sheet, which knows neither the class nor who quotes.
    """
    approval = _approval(approve, reason)
    with _issuing(), stopping(catalogue), stopping(request.parent, RequestError):
        asked = read_request(request, _said(buyer, by))
        model, year = str(asked.request.model), asked.request.date.year
        pricing, warnings = price_catalogue(catalogue, asked.request.date, only=model)
        wish = sound_wish(asked, pricing)
        tell(catalogue, touching(warnings, pricing.catalogue.records, wish))
        mark = fingerprint(catalogue, asked.request.date)
        draft = draft_of(pricing, wish, mark, approval)
        if dry_run:
            _tell(draft, record_of(draft, f"{year}-0000"), approval)
            click.echo("a dry run: no number was taken")
            return
        made: list[Record] = []
        folder = issue(quotes, year, lambda number: _files(draft, number, made), even_so=even_so)
    _tell(draft, made[-1], approval)
    _tell_of_pdf(folder, made[-1])
    click.echo(f"{folder}: open {folder / 'quote.html'}")


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


def _tell_of_pdf(folder: Path, record: Record) -> None:
    """Warn where a quote was issued without a PDF."""
    if not (folder / PDF).exists():
        warn(f"{folder}: {why_no_pdf(record)}")


def _approval(name: str | None, reason: str | None) -> Approval | None:
    if name is None and reason is None:
        return None
    if not (name or "").strip() or not (reason or "").strip():
        raise click.UsageError("an approval needs both: --approve NAME --reason TEXT")
    return Approval(name=str(name), reason=str(reason))


@contextmanager
def _issuing() -> Iterator[None]:
    """What keeps a quote from its folder ends the command."""
    with refusing(QuoteError, then=UNWRITTEN), refusing(LeakError):
        yield


def _tell(draft: Draft, record: Record, asked: Approval | None) -> None:
    inside = record.inside
    tax = "with tax" if record.taxes else "without tax"
    total = f"{record.total:,} {record.currency} {tax}"
    tell_day(draft.pricing)
    click.echo(f"{record.title} for {record.customer.name}: {total}")
    floor = "below the floor" if inside.below_floor else "above the floor"
    told = f"{inside.margin:,.2f} {inside.home}, {inside.margin_fraction * 100:.1f} % of net"
    click.echo(f"it leaves {told}, {floor}")
    _tell_of_approval(draft, asked)
    _tell_of_request(draft.wish.request, record)
    for hint in package_hints(draft.pricing, draft.wish):
        click.echo(f"worth offering: {hint}")


def _tell_of_approval(draft: Draft, asked: Approval | None, *, err: bool = False) -> None:
    """What was let pass and by whom, or what somebody has to answer for before it is issued."""
    kept = draft.approval
    if kept is not None:
        what = ", ".join(SAID[reason.word] for reason in draft.reasons)
        click.echo(f"approved by {kept.name}: {what}", err=err)
        if not draft.pricing.catalogue.yard.approvers:
            click.echo(NOBODY_LISTED, err=err)
    elif asked is not None:
        click.echo("nothing of it needs an approval: --approve was left out", err=err)
    for reason in draft.reasons if kept is None else ():
        warn(f"to issue it, somebody has to answer for it: {reason.told}")


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
    if late := promised_too_soon(record.issued, record.promised, record.lead_time):
        warn(late)
    if inside.delivery is not None:
        click.echo(f"delivery was exchanged: {inside.delivery}")
    for moved in seen_otherwise(request, record):
        warn(moved)


@example_command(
    "requote",
    "requote demo_catalog 2026-0001 --on 2026-12-01",
    "requote demo_catalog 2026-0001 --on 2026-12-01 --revise "
    "--request demo_catalog/requests/family_weekender_changed.yaml",
)
@click.argument("catalogue", type=Folder)
@click.argument("number")
@click.option("--on", type=Day, required=True, metavar="DATE", help="The day to price it on.")
@quotes_option
@click.option(
    "--request",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    metavar="FILE",
    help="A changed request, priced instead of the recorded one.",
)
@click.option("--revise", "revising", is_flag=True, help="Issue it as the next revision.")
@click.option(
    "--change-order",
    "changing",
    is_flag=True,
    help="Issue it as a change of an order, under a number of its own.",
)
@approve_option
@reason_option
@even_so_option
@json_option
def requote_command(
    catalogue: Path,
    number: str,
    on: datetime,
    quotes: Path,
    request: Path | None,
    revising: bool,
    changing: bool,
    approve: str | None,
    reason: str | None,
    even_so: bool,
    print_json: bool,
) -> None:
    """Price a quote's request or a changed one on another day, and say what moved and why.

    A quote that is won is not revised: what its customer wants changed is a change order.
    """
    approval = _approval(approve, reason)
    if revising and changing:
        raise click.UsageError("--revise is of a quote, --change-order of an order: leave one out")
    priced_on = on.date()
    with _issuing(), stopping(catalogue):
        if revising or changing:
            number = changeable(quotes, number, priced_on, changing=changing)
        old = _found(quotes, number)
        with stopping(request.parent if request else quotes / old.name, RequestError):
            found = requote(
                catalogue,
                old,
                priced_on,
                approval,
                request,
                changing=changing,
                issued=revising or changing,
            )
    tell_day(found.draft.pricing, data=print_json)
    _tell_of_change(found)
    if print_json:
        click.echo(requoted_as_json(found))
    else:
        for line in requoted_lines(found):
            click.echo(line)
    tell(catalogue, found.warnings)
    _tell_of_approval(found.draft, approval, err=True)
    if not (revising or changing):
        return
    with _issuing():
        if changing:
            folder = issue(
                quotes,
                priced_on.year,
                lambda number: change_order(found, quotes, number),
                even_so=even_so,
            )
        else:
            folder = revise(
                quotes,
                old.number,
                lambda _, latest: revision(found, quotes, latest),
                even_so=even_so,
            )
    click.echo(f"{folder}: open {folder / 'quote.html'}", err=True)


def _tell_of_change(found: Requote) -> None:
    """What somebody should look at of a changed request."""
    if not found.changed:
        return
    was, now = found.old.customer, found.new.customer
    if (was.name, was.company) != (now.name, now.company):
        warn(f"the request is of {now.company or now.name}, the quote of {was.company or was.name}")


def _printed(quotes: Path, number: str) -> dict[str, bytes]:
    """The customer's files by name, as they were issued where they still are that."""
    if order := order_named(number):
        return reprinted_order(quotes, order)
    record = _found(quotes, number)
    if not names_one(number):
        click.echo(f"{record.name} is the newest of {number}", err=True)
    return printed_again(record, as_issued(quotes, record))


def _found(folder: Path, number: str) -> Record:
    """The quote of that name, or the newest revision of that number; changed files are told."""
    record = kept(folder, number)
    for words in altered(folder, record):
        warn(words)
    return record


@example_command(
    "reprint",
    "reprint 2026-0001 --into printed",
    "reprint 2026-0001-R0 --into printed_again",
)
@click.argument("number")
@click.option("--into", type=OutFolder, required=True, metavar="DIR", help="Where to print it.")
@quotes_option
def reprint_command(number: str, into: Path, quotes: Path) -> None:
    """Print the customer's files of a quote or an order again, as they were issued.

    What is gone or was changed is made from its record alone.

    A number alone means its newest revision; 2026-0001-R0 is the first issue of 2026-0001.
    """
    with _issuing():
        files = _printed(quotes, number)
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
    ending = counted(len(found.faults), "fault") if found.faults else "all as they were written"
    click.echo(f"{told}: {ending}", err=bool(found.faults))
    if found.faults:
        sys.exit(1)
