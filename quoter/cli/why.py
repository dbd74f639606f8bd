"""Commands that ask why a figure is what it is, and what moved it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import click
from babel import Locale

from quoter.analysis.bridge import Bridge, BridgeError
from quoter.analysis.comparison import as_json as compared_as_json
from quoter.analysis.comparison import compare_priced, compare_records, report_lines
from quoter.analysis.findings import Findings
from quoter.analysis.long_lead import built_cost, prices_then
from quoter.analysis.payback import PAYBACK, TAKES_OVER
from quoter.analysis.why import (
    CHANGE,
    TOTAL,
    Explainer,
    Node,
    UnknownChangeError,
    UnknownFigureError,
    as_data,
    change_data,
    change_lines,
    cut,
    figures_named,
    find_figures,
    tree_lines,
)
from quoter.cli.terminal import (
    Day,
    Folder,
    OutFile,
    as_of_option,
    example_command,
    json_option,
    price,
    read_in,
    refusing,
    set_option,
    stopping,
    tell_day,
    units_option,
    wanted,
    writing,
)
from quoter.figures import Figure
from quoter.figures.trail import Step, explain
from quoter.pages.changes import change_page
from quoter.pages.environment import office_locale
from quoter.pricing.price import Priced, Pricing
from quoter.wording import own_wording
from quoter.workbook import write_book
from quoter.workbook.change_book import change_book
from quoter.workbook.paper import on_paper_of
from quoter.workbook.table import AS_USUAL

BOOKED = ("actual.", "actuals.")  # keys of what is worked out from what was booked, and of its rows


@example_command(
    "why",
    "why demo_catalog weekender_86 side_single --depth 2",
    "why demo_catalog --figure actual.sum.2026-09.kind.efficiency --depth 2",
)
@click.argument("catalogue", type=Folder)
@click.argument("model", required=False)
@click.argument("option", required=False)
@click.option(
    "--figure",
    "name",
    metavar="NAME",
    help="Which figure, or group: `ladder`, `payback`, `takes_over` (else the recommended price); "
    "without a model one of what was booked: `actual.job.NUMBER`.",
)
@click.option("--since", type=Day, metavar="DATE", help="Why the cost moved since this day.")
@click.option("--against", type=Folder, help="Why the cost differs from another catalogue's.")
@click.option("--depth", type=click.IntRange(1), default=99, help="How many levels deep.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead of a tree.")
@set_option
@units_option
@as_of_option
def why_command(
    catalogue: Path,
    model: str | None,
    option: str | None,
    name: str | None,
    since: datetime | None,
    against: Path | None,
    depth: int,
    as_json: bool,
    settings: tuple[str, ...],
    units: str | None,
    as_of: datetime | None,
) -> None:
    """Explain a figure of a model or option, from a price down to lines of the catalogue.

    Without a model, --figure names one of what was booked, which goes down to rows of actuals/.
    With --since or --against, explain a change in cost: of an option, a boat (--figure change), a
    model's total (--figure total) or, without a model, of all models.
    """
    settings = read_in(settings, units)
    if since or against:
        folders, days = (against or catalogue, catalogue), (since, as_of)
        node = _changed(folders, days, settings, model, option, name, data=as_json)
        data, lines = change_data(cut(node, depth)), change_lines(cut(node, depth))
    elif model is None and not (name or "").startswith(BOOKED):
        what = "name a model, or a day with --since; or by --figure one of what was booked"
        raise click.UsageError(what)
    else:
        if model is None:
            pricing, steps = _booked(catalogue, as_of, settings, name or "", depth)
        else:
            pricing = _priced(catalogue, as_of, settings, model, name)
            steps = _explained(pricing, model, option, name or "recommended", depth)
        tell_day(pricing, data=as_json)
        one = len(steps) == 1
        data = as_data(steps[0]) if one else {"figures": [as_data(step) for step in steps]}
        lines = tree_lines(steps[0]) if one else map(next, map(tree_lines, steps))
    if as_json:
        click.echo(json.dumps(data, indent=1, ensure_ascii=False))
    else:
        for line in lines:
            click.echo(line)


def _planned(name: str) -> bool:
    """Whether a figure rests on the plan of all boats."""
    return PAYBACK in name or TAKES_OVER in name


def _priced(
    catalogue: Path,
    as_of: datetime | None,
    settings: tuple[str, ...],
    model: str,
    name: str | None,
) -> Pricing:
    """What is needed of the catalogue to explain a figure."""
    only = "" if _planned(name or "") else model
    pricing, _ = price(catalogue, as_of, strict=False, settings=settings, only=only)
    return pricing


def _explained(
    pricing: Pricing, model: str, option: str | None, name: str, depth: int
) -> list[Step]:
    """The figures that a name means, one explained as deep as asked, several a level deep."""
    found = wanted(pricing, model, option)
    further = _paybacks(pricing, model, found) if _planned(name) else []
    built = built_cost(pricing, found.assembly, prices_then(pricing))
    further += [] if built is None else [built.cost]
    try:
        figures = find_figures(pricing.terms, found, name, further)
    except UnknownFigureError as fault:
        raise click.UsageError(str(fault)) from fault
    retold = pricing.catalogue.reader.retold()
    return [explain(retold.of(each), depth if len(figures) == 1 else 1) for each in figures]


def _booked(
    catalogue: Path, as_of: datetime | None, settings: tuple[str, ...], name: str, depth: int
) -> tuple[Pricing, list[Step]]:
    """The figures of what was booked that a name means, as deep as asked where it is but one."""
    # Not before what was booked is asked about.
    from quoter.actuals.account import account_of, figures_of

    pricing, _ = price(catalogue, as_of, strict=False, settings=settings)
    with stopping(catalogue):
        account, _ = account_of(catalogue, pricing)
    if account is None:
        raise click.UsageError(f"nothing is booked in {catalogue}")
    shown = list(figures_of(account))
    try:
        figures = [one for one in shown if f"{one.key}.".startswith(f"{name}.")]
        figures = figures or figures_named(shown, name)
    except UnknownFigureError as fault:
        raise click.UsageError(str(fault)) from fault
    retold = pricing.catalogue.reader.retold()
    return pricing, [
        explain(retold.of(each), depth if len(figures) == 1 else 1) for each in figures
    ]


def _paybacks(pricing: Pricing, model: str, found: Priced) -> list[Figure]:
    """When the moulds of what is asked about pay, and when a closed one takes over from laying by
    hand; rests on the plan of all boats."""
    answers = Findings(pricing).of(pricing.models[model]).answers
    asked = [one for one in answers if one.priced is found]
    figures = [figure for one in asked for row in one.paybacks for figure in row.figures]
    return figures + [f for one in asked for row in one.alternatives for f in row.crossing.figures]


def _changed(
    folders: tuple[Path, Path],
    days: tuple[datetime | None, datetime | None],
    settings: tuple[str, ...],
    model: str | None,
    option: str | None,
    name: str | None,
    *,
    data: bool,
) -> Node:
    """Why the cost of what the words name moved; what is set counts for the new side."""
    allowed = [CHANGE, TOTAL] if model and not option else [CHANGE] if model else [TOTAL]
    if name is not None and name not in allowed:
        what = f"of a change, --figure is {' or '.join(allowed)} here, not '{name}'"
        raise click.UsageError(what)
    only = model or ""
    before, _ = price(folders[0], days[0], strict=False, only=only)
    after, _ = price(folders[1], days[1], strict=False, settings=settings, only=only)
    with refusing(BridgeError):
        bridge = compare_priced(before, after, folders[0].name, folders[1].name)
    explainer = Explainer(before, after, bridge)
    try:
        if model is None:
            node = explainer.yard()
        elif name == TOTAL:
            node = explainer.model(model)
        else:
            node = explainer.item(model, option or "")
    except UnknownChangeError as fault:
        raise click.UsageError(str(fault)) from fault
    tell_day(after, beside=before, data=data)
    return node


@example_command(
    "compare",
    "compare demo_catalog --from 2026-09-01 --to 2026-11-01",
    "compare demo_catalog --from 2026-09-01 --html change.html",
)
@click.argument("old", type=click.Path(exists=True, path_type=Path))
@click.argument("new", type=click.Path(exists=True, path_type=Path), required=False)
@click.option("--from", "since", type=Day, metavar="DATE", help="The day of the old costs.")
@click.option("--to", "until", type=Day, metavar="DATE", help="The day of the new costs.")
@json_option
@click.option("--html", type=OutFile, help="Write a page with charts to this file.")
@click.option("--xlsx", type=OutFile, help="Write a workbook to this file.")
def compare_command(
    old: Path,
    new: Path | None,
    since: datetime | None,
    until: datetime | None,
    print_json: bool,
    html: Path | None,
    xlsx: Path | None,
) -> None:
    """Tell what moved costs between two days, two catalogues or two costing.json files."""
    bridge, after = _compared(old, new, since, until, data=print_json)
    for file, content in _change_files(bridge, after, html, xlsx):
        with writing(file):
            file.write_bytes(content)
        click.echo(f"wrote {file}", err=True)
    click.echo(compared_as_json(bridge) if print_json else "\n".join(report_lines(bridge)))


def _compared(
    old: Path, new: Path | None, since: datetime | None, until: datetime | None, *, data: bool
) -> tuple[Bridge, Pricing | None]:
    """The comparison that the words of a command ask for, and the new side where it is known."""
    if new is None and since is None:
        raise click.UsageError("name the day of the old costs with --from, or a second catalogue")
    records = old.is_file()
    if records and (new is None or since or until):
        raise click.UsageError("a costing.json is compared with another one, and takes no days")
    if new is not None and new.is_file() != records:
        raise click.UsageError("compare two folders or two files, not one of each")
    with refusing(BridgeError):
        if new is not None and records:
            return compare_records(old, new), None
        before, _ = price(old, since, strict=False)
        after, _ = price(new or old, until, strict=False)
        bridge = compare_priced(before, after, old.name, (new or old).name)
    tell_day(after, beside=before, data=data)
    return bridge, after


def _change_files(
    bridge: Bridge, after: Pricing | None, html: Path | None, xlsx: Path | None
) -> Iterator[tuple[Path, bytes]]:
    """The files asked for, with their content."""
    company, on_paper, locale = "", AS_USUAL, Locale("en")
    if after is not None:
        yard, on_paper = after.catalogue.yard, on_paper_of(after.catalogue)
        company, locale = str(yard.company.name), office_locale(yard.markets[0])
    if html is not None:
        yield html, change_page(bridge, locale, company, paper=on_paper.paper)
    if xlsx is not None:
        yield xlsx, write_book(change_book(bridge, company, on_paper), own_wording(locale))
