"""Commands about better standards: what the data propose, and taking it into the catalogue."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from quoter.cli.terminal import (
    UNWRITTEN,
    Day,
    Folder,
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
    tell_day,
)
from quoter.columns import columns
from quoter.importing.accepting import (
    ONLY,
    VALUE,
    Accepting,
    Moved,
    NewStandard,
    accept_standards,
    moved_by,
)
from quoter.importing.days import coming
from quoter.importing.writing import ChangedError, settle, write
from quoter.pricing.priced import price_catalogue
from quoter.problems import nearest

if TYPE_CHECKING:
    from quoter.actuals.proposals import Effect, Proposal
    from quoter.catalogue.tables import AcceptedRow
    from quoter.pricing.price import Pricing

SHOWN = 3  # options beside a proposal, those whose cost moves most
HEADS = ("model", "what", "cost", "then", "change", "margin", "then")
RIGHT = {2, 3, 4, 5, 6}
on_option = click.option(
    "--on",
    type=Day,
    metavar="DATE",
    help="The day from which a value holds; data up to it count (default: the catalogue's day).",
)
least_option = click.option(
    "--least",
    type=click.IntRange(min=1),
    default=1,
    metavar="N",
    help="Only what rests on at least this many samples.",
)


def proposed(catalogue: Path, pricing: Pricing) -> list[Proposal]:
    """What the data booked in a catalogue propose, in the order of the catalogue.

    What was accepted on as many samples already has nothing new to say, and would count them twice.

    Raises:
        CatalogueError: what was booked has problems.
    """
    from quoter.actuals.compare import compare  # not before a command needs it
    from quoter.actuals.estimates import estimates_of
    from quoter.actuals.proposals import proposals
    from quoter.catalogue.booked_files import read_booked
    from quoter.problems import Problems

    problems = Problems()
    booked = read_booked(catalogue, pricing.catalogue.records, problems)
    problems.stop_if_any()
    actuals = compare(pricing, booked, catalogue)
    rows = {str(row.key): row for row in pricing.catalogue.records.accepted}
    every = proposals(actuals, estimates_of(actuals))
    return [each for each in every if each.key not in rows or tells_more(each, rows[each.key])]


def tells_more(proposal: Proposal, row: AcceptedRow) -> bool:
    """Whether a proposal rests on more samples than the value that was accepted last."""
    return not row.samples.isdecimal() or proposal.samples > int(row.samples)


@example_command(
    "propose",
    "propose demo_catalog",
    "propose demo_catalog --least 5 --json",
)
@click.argument("catalogue", type=Folder)
@on_option
@json_option
@least_option
def propose_command(catalogue: Path, on: datetime | None, print_json: bool, least: int) -> None:
    """Propose standards that what was booked supports, each with its evidence and its effect."""
    pricing, warnings = price(catalogue, on, strict=False)
    tell_day(pricing, data=print_json)
    tell(catalogue, warnings)
    with stopping(catalogue):
        every = [each for each in proposed(catalogue, pricing) if each.samples >= least]
    if print_json:
        data = {
            "day": str(pricing.catalogue.as_of),
            "currency": pricing.catalogue.currency,
            "proposals": [_data(each) for each in every],
        }
        click.echo(json.dumps(data, indent=1, ensure_ascii=False))
        return
    for line in report_lines(pricing, every):
        click.echo(line)


def report_lines(pricing: Pricing, proposals: Sequence[Proposal]) -> Iterator[str]:
    """Proposals for a terminal: a few lines each, with what is needed to decide."""
    if not proposals:
        yield "No better standard is proposed: the data are too few, or agree with those there are."
        return
    for each in proposals:
        level = f"{each.evidence.level * 100:g} %"
        median, low, high = (_number(end) for end in _ends(each))
        yield ""
        yield f"{each.key}  ({each.place.clickable})"
        yield f"    {each.name}: {each.was} -> {each.text}"
        yield (
            f"    {counted(each.samples, 'sample')}: median {median} {each.unit}, {level} sure of "
            f"{low} to {high}; {weight_words(each.weight)}"
        )
        yield f"    why: {each.reason}"
        for effect in most_moved(each.effects)[:SHOWN]:
            yield f"    {_effect_words(pricing, effect)}"
        more = len([e for e in each.effects if e.new_cost != e.cost.value]) - SHOWN
        if more > 0:
            yield f"    and {more} more: see --json"
    yield ""
    yield f"{counted(len(proposals), 'value')} may be accepted: quoter accept {ONLY} KEY, or --all."


def _ends(proposal: Proposal) -> tuple[float, float, float]:
    evidence = proposal.evidence
    return evidence.likely, evidence.low, evidence.high


def weight_words(weight: float) -> str:
    """How far a proposal follows the data, in words.

    >>> weight_words(0.97), weight_words(0.5)
    ('the data alone count', 'data and present standard count alike (0.50)')
    """
    if weight >= 0.95:
        return "the data alone count"
    if weight >= 0.6:
        words = "mostly the data count"
    elif weight >= 0.4:
        words = "data and present standard count alike"
    else:
        words = "mostly the present standard counts"
    return f"{words} ({weight:.2f})"


def most_moved(effects: Iterable[Effect]) -> list[Effect]:
    """The effects of a proposal that are any, the largest first."""
    moved = [effect for effect in effects if effect.new_cost != effect.cost.value]
    return sorted(moved, key=lambda effect: -abs(effect.new_cost - effect.cost.value))


def _effect_words(pricing: Pricing, effect: Effect) -> str:
    model = pricing.models[effect.model]
    what = str(model.model.name)
    if effect.option:
        option = model.options[effect.option].option
        what = f"{option.name if option is not None else effect.option} on {what}"
    change = effect.new_cost - effect.cost.value
    words = f"{what}: cost {change:+,.2f} {pricing.catalogue.currency}"
    if effect.cost.value:
        words += f" ({change / effect.cost.value * 100:+.1f} %)"
    if effect.margin is not None and effect.new_margin is not None:
        words += f", margin {effect.margin * 100:.1f} -> {effect.new_margin * 100:.1f} %"
    return words


def _number(value: float) -> str:
    """A number to three digits, without an exponent.

    >>> _number(41.04), _number(12345.6), _number(0.051234)
    ('41', '12300', '0.0512')
    """
    return f"{Decimal(f'{value:.3g}'):f}"


def _data(proposal: Proposal) -> dict[str, Any]:
    evidence = proposal.evidence
    return {
        "key": proposal.key,
        "name": proposal.name,
        "place": proposal.place.clickable,
        "was": proposal.was,
        "proposed": proposal.text,
        "likely": proposal.likely,
        "unit": proposal.unit,
        "samples": proposal.samples,
        "evidence": {
            "likely": evidence.likely,
            "low": evidence.low,
            "high": evidence.high,
            "level": evidence.level,
        },
        "weight": proposal.weight,
        "reason": proposal.reason,
        "effects": [
            {
                "model": effect.model,
                "option": effect.option,
                "cost": effect.cost.value,
                "cost_then": effect.new_cost,
                "margin": effect.margin,
                "margin_then": effect.new_margin,
            }
            for effect in proposal.effects
        ],
    }


@example_command(
    "accept",
    "accept demo_catalog --all --dry-run",
    'accept demo_catalog --all --least 12 --note "October closed" --dry-run',
)
@click.argument("catalogue", type=Folder)
@click.option(ONLY, "only", multiple=True, metavar="KEY", help="Accept this value alone.")
@click.option("--all", "every", is_flag=True, help="Accept all that is proposed.")
@click.option(VALUE, callback=on_one_line, metavar="TEXT", help="This instead of the one proposed.")
@click.option("--note", callback=on_one_line, default="", help="What to note beside it.")
@click.option("--by", callback=on_one_line, default="", help="Who accepts: a role or a number.")
@on_option
@least_option
@click.option("--dry-run", is_flag=True, help="Show everything, write nothing.")
@json_option
def accept_command(
    catalogue: Path,
    only: tuple[str, ...],
    every: bool,
    value: str | None,
    note: str,
    by: str,
    on: datetime | None,
    least: int,
    dry_run: bool,
    print_json: bool,
) -> None:
    """Write proposed standards into the catalogue, each at its place, with what it rests on."""
    if bool(only) == every:
        raise click.UsageError(f"name what to accept with {ONLY} KEY, or accept --all")
    if value and len(only) != 1:
        raise click.UsageError(f"{VALUE} is for one value: name it with {ONLY} KEY")
    with refusing(ChangedError, OSError, then=UNWRITTEN):
        if not dry_run:
            settle(catalogue)
    pricing, _ = price(catalogue, on, strict=False)
    holds = day(on) or pricing.catalogue.as_of
    with stopping(catalogue):
        wanted = chosen(proposed(catalogue, pricing), only, least, value)
        made = accept_standards(catalogue, wanted, holds, note, by)
    if made.faults:
        stop(catalogue, made.faults)
    with stopping(catalogue):
        after, _ = price_catalogue(catalogue, holds, instead=made.files)
    moved = moved_by(pricing, after)
    if print_json:
        click.echo(json.dumps(_accepted(made, moved, holds, written=not dry_run), indent=1))
    else:
        for line in (made.day, *made.shown, "", *effect_lines(pricing, moved)):
            click.echo(line)
    if dry_run:
        click.echo("a dry run: nothing was written", err=True)
        return
    with refusing(ChangedError, OSError, then=UNWRITTEN):
        write(catalogue, made.files, made.replaced)
    for line in (made.done, *_next(catalogue, pricing, holds)):
        click.echo(line, err=True)


def chosen(
    proposals: Sequence[Proposal], only: Sequence[str], least: int, value: str | None
) -> list[NewStandard]:
    """The proposals that are accepted: those named, or all.

    Raises:
        click.UsageError: nothing is proposed for a name, or nothing at all.
    """
    known = {each.key: each for each in proposals if each.samples >= least}
    for key in only:
        if key not in known:
            what = f"nothing is proposed for '{key}'"
            hint = nearest(key, known) if known else "nothing is proposed at all"
            raise click.UsageError(f"{what} (any more): {hint}")
    if not known:
        raise click.UsageError("nothing is proposed")
    return [_standard(known[key], value) for key in dict.fromkeys(only or known)]


def _standard(each: Proposal, value: str | None) -> NewStandard:
    median, low, high = (f"{_number(end)} {each.unit}".strip() for end in _ends(each))
    return NewStandard(each.key, each.was, value or each.text, each.samples, median, low, high)


def effect_lines(pricing: Pricing, moved: Sequence[Moved]) -> Iterator[str]:
    """What moves, as a table."""
    if not moved:
        yield "No cost moves."
        return
    yield f"Costs in {pricing.catalogue.currency}; margins in % of the net price."
    yield from columns([HEADS, *(_moved_row(pricing, one) for one in moved)], RIGHT)


def _moved_row(pricing: Pricing, one: Moved) -> tuple[str, ...]:
    change = f"{(one.new_cost / one.cost - 1) * 100:+.2f} %" if one.cost else ""
    margins = ["" if each is None else f"{each * 100:.1f}" for each in (one.margin, one.new_margin)]
    return (
        str(pricing.models[one.model].model.name),
        one.name or "boat",
        f"{one.cost:,.2f}",
        f"{one.new_cost:,.2f}",
        change,
        *margins,
    )


def _accepted(
    made: Accepting, moved: Iterable[Moved], holds: date, *, written: bool
) -> dict[str, Any]:
    return {
        "day": str(holds),
        "written": written,
        "values": [
            {"key": v.key, "place": v.place.clickable, "was": v.was, "becomes": v.becomes}
            for v in made.values
        ],
        "effects": [
            {
                "model": one.model,
                "option": one.option,
                "cost": float(one.cost),
                "cost_then": float(one.new_cost),
                "margin": one.margin,
                "margin_then": one.new_margin,
            }
            for one in moved
        ],
    }


def _next(catalogue: Path, pricing: Pricing, holds: date) -> Iterator[str]:
    """What somebody may want to do now."""
    records = pricing.catalogue.records
    yield from coming(records, records, holds, "acceptance on ")
    yield f"next: 'quoter reprice {catalogue}' shows which prices would move, and"
    yield f"    'quoter build {catalogue}' writes price sheet, workbooks and review anew"
