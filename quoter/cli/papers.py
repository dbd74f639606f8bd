"""The command that writes all papers for one boat on the floor."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from quoter.cli.quotes import quotes_option
from quoter.cli.terminal import (
    UNWRITTEN,
    Day,
    Folder,
    OutFolder,
    as_of_option,
    day,
    example_command,
    on_one_line,
    read_in,
    refusing,
    stopping,
    tell_day,
    units_option,
)
from quoter.pages.job_pack import DOCUMENT, job_files
from quoter.pages.job_views import Job
from quoter.phrases import phrase
from quoter.pricing.built import built
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import nearest
from quoter.publish.manifest import FolderError
from quoter.publish.outputs import held
from quoter.quotes import QuoteError
from quoter.quotes.ordered import (
    Ordered,
    Sold,
    job_number,
    ordered,
    quoted_boat,
    wanted_by_request,
    wanted_by_words,
)
from quoter.quotes.request import RequestError, read_request

MOST_BOATS = 200


@example_command(
    "papers",
    "papers demo_catalog weekender_86 --option side_single --option seat_base=2 "
    "--colour hull_blue --job 2026-117 --start 2026-12-02",
    "papers demo_catalog --request demo_catalog/requests/inland_family.yaml --boats 2",
)
@click.argument("catalogue", type=Folder)
@click.argument("model", required=False)
@click.option(
    "--option",
    "options",
    multiple=True,
    metavar="ID[=QUANTITY]",
    help="An option or package of the boat. May be repeated.",
)
@click.option("--colour", metavar="ID", help="The hull colour (default: the model's own).")
@click.option(
    "--request",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    metavar="FILE",
    help="A request, as for a quote, whose boat it is.",
)
@click.option("--quote", metavar="NUMBER", help="A quote that is won, whose boat it is.")
@quotes_option
@click.option(
    "--release",
    default="",
    callback=on_one_line,
    metavar="NAME",
    help="Who lets the boat of a quote be made that is not won.",
)
@click.option(
    "--boats",
    type=click.IntRange(1, MOST_BOATS),
    default=1,
    show_default=True,
    help="How many such boats.",
)
@click.option(
    "--job",
    metavar="NUMBER",
    help="What the job is called (default: the quote's number, else a digest of the boat).",
)
@click.option("--start", type=Day, metavar="DATE", help="The first day; else days are counted.")
@click.option(
    "--into", type=OutFolder, default=Path("jobs"), help="Where jobs have folders (default: jobs)."
)
@units_option
@as_of_option
def papers_command(
    catalogue: Path,
    model: str | None,
    options: tuple[str, ...],
    colour: str | None,
    request: Path | None,
    quote: str | None,
    quotes: Path,
    release: str,
    boats: int,
    job: str | None,
    start: datetime | None,
    into: Path,
    units: str | None,
    as_of: datetime | None,
) -> None:
    """Write all papers for one boat on the floor into a folder: no money stands on them.

    The boat is that of a MODEL with its options, of a request or of a won quote. The number of a
    job that is not stated is that of its quote; else it is worked out of the model, its options,
    the colour and the number of boats, so that the same boat has the same number again.
    """
    if sum(given is not None for given in (model, request, quote)) != 1:
        raise click.UsageError("name one boat: a MODEL, or --request FILE, or --quote NUMBER")
    if model is None and (options or colour is not None):
        raise click.UsageError("--option and --colour are of a MODEL; leave them out")
    if release and quote is None:
        raise click.UsageError("--release is of a --quote; leave it out")
    sold, answers = None, ""
    if quote is not None:
        with refusing(QuoteError, then=UNWRITTEN), stopping(quotes, RequestError):
            sold = quoted_boat(quotes, quote, release)
        answers, place = "" if sold.won else release, quotes / sold.record.name
        wanted = sold.wanted
    elif request is not None:
        place = request.parent
        with stopping(place, RequestError):
            wanted = wanted_by_request(read_request(request))
    else:
        place = catalogue
        with stopping(catalogue, RequestError):
            wanted = wanted_by_words(str(model), options, colour)
    with stopping(catalogue), stopping(place, RequestError):
        on, settings = day(as_of) or wanted.day, read_in((), units)
        pricing, _ = price_catalogue(catalogue, on, settings=settings, only=str(wanted.model))
        _known(pricing, model)
        boat = ordered(wanted, pricing)
        number, why = _numbered(job, sold, boat, boats)
        asked = Job(number, why, boats, sold.record.name if sold else "", answers, day(start))
        files = job_files(pricing, built(pricing, boat.model, boat.chosen), asked)
    tell_day(pricing)
    _put(catalogue, into / number, files)


def _known(pricing: Pricing, model: str | None) -> None:
    """A model that the command names is there."""
    models = pricing.catalogue.records.models
    if model is not None and model not in models:
        raise click.UsageError(f"unknown model '{model}': {nearest(model, models)}")


def _numbered(job: str | None, sold: Sold | None, boat: Ordered, boats: int) -> tuple[str, str]:
    """The number of a job, and after what it is."""
    try:
        number = job_number(job, sold, boat, boats)
    except ValueError as fault:
        raise click.BadParameter(str(fault), param_hint="'--job'") from fault
    if job is not None:
        return number, phrase("as stated")
    if sold is not None and sold.job != sold.record.name:
        return number, phrase("that of the order that the quote changes")
    if sold is not None:
        return number, phrase("that of the quote")
    return number, phrase("worked out of model, options, colour and number of boats")


def _put(catalogue: Path, folder: Path, files: dict[str, bytes]) -> None:
    """All of a job's files, or none; what earlier papers of the job wrote is replaced."""
    with refusing(FolderError), held([folder], [catalogue]) as outputs:
        outputs.publish({folder: files})
    click.echo(f"{folder}: open {folder / DOCUMENT} and print it")
