"""`quoter reprice`: proposed against published prices, and the lines that publish them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from quoter.catalogue.adding import with_lines
from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.day import catalogue_day
from quoter.catalogue.markets import Repricing
from quoter.catalogue.prices import book_key, usual_limit
from quoter.catalogue.tables import BookRow
from quoter.columns import columns
from quoter.figures import Figure, money_in
from quoter.importing.days import far_ahead
from quoter.importing.moves import SAME, beyond_limit
from quoter.importing.writing import at_options, try_out, write
from quoter.plausibility.meant import as_accepted
from quoter.pricing.price import Pricing, public_amount
from quoter.pricing.proposals import Covered, Proposal, proposals_of, reason
from quoter.problems import CatalogueError, Problem

BOOK = "price_book.csv"
MEANT = "--meant"
HEADS = ("model", "what", "market", "published", "proposed", "change", "margin", "then", "why")
RIGHT = {3, 4, 5, 6, 7}


class AcceptError(Exception):
    """Raised when the proposals can't be published as asked; the message says why."""

    code = "accept"


def repricing_of(pricing: Pricing) -> Repricing:
    """The yard's rule of repricing.

    Raises:
        CatalogueError: its policy has none.
    """
    policy = pricing.catalogue.yard.policy
    if policy.repricing is None:
        what = "the policy does not say when a published price moves"
        hint = "add for example 'repricing: {hold_within: 2 %, largest_step: 8 %}'"
        raise CatalogueError([Problem(policy.place, "not-set-up", what, hint)])
    return policy.repricing


def proposed_prices(pricing: Pricing) -> list[Proposal]:
    """What the yard's policy proposes for every line of its price book.

    Raises:
        CatalogueError: its policy has no such rule.
    """
    return proposals_of(pricing, repricing_of(pricing))


def report_lines(
    pricing: Pricing, proposals: Sequence[Proposal], shown: Sequence[Proposal]
) -> Iterator[str]:
    """Proposed against published prices for a terminal: a summary, and a line for those shown."""
    moving = sum(p.changes and p.published is not None for p in proposals)
    fresh = sum(p.published is None for p in proposals)
    held = len(proposals) - moving - fresh
    yield f"{moving} of {moving + held} published prices would move, {held} are held."
    if fresh:
        yield f"{fresh} prices are not published yet and follow their costs (see --unpublished)."
    if not shown:
        return
    buyer = pricing.terms.buyers[0]
    yield f"List prices without tax; margins at {buyer.name}, in % of the net price."
    yield ""
    rule = repricing_of(pricing)
    yield from columns([HEADS, *(_row(pricing, rule, proposal) for proposal in shown)], RIGHT)


def _row(pricing: Pricing, rule: Repricing, proposal: Proposal) -> tuple[str, ...]:
    market, model, option = proposal.line
    old = "–" if proposal.published is None else _money(proposal.published, proposal)
    return (
        str(pricing.models[model].model.name) if model else "all models",
        proposal.name if option else "boat",
        market or "all",
        old,
        _money(proposal.proposed, proposal),
        _change(proposal),
        _span([on.before.first for on in proposal.covered if on.before is not None]),
        _span([on.after.first for on in proposal.covered]),
        reason(proposal, rule),
    )


def _money(price: Figure, proposal: Proposal) -> str:
    return f"{public_amount(price, proposal.currency):,} {proposal.currency}"


def _change(proposal: Proposal) -> str:
    old = proposal.published
    if old is None or not old.value:
        return ""
    return f"{(proposal.proposed.value / old.value - 1) * 100:+.1f} %"


def _span(margins: Sequence[Figure]) -> str:
    """Margins over the models as one percentage, or the lowest and the highest."""
    ends = [f"{end.value * 100:.1f}" for end in (*_ends(margins),)]
    return "–".join(dict.fromkeys(ends))


def _ends(margins: Sequence[Figure]) -> list[Figure]:
    by_value = sorted(margins, key=lambda margin: margin.value)
    return [by_value[0], by_value[-1]] if by_value else []


def as_json(pricing: Pricing, proposals: Iterable[Proposal]) -> str:
    """The proposals as JSON: prices in the market's currency, margins as fractions of net."""
    rule = repricing_of(pricing)
    return json.dumps([_data(rule, each) for each in proposals], indent=1, ensure_ascii=False)


def _data(rule: Repricing, proposal: Proposal) -> dict[str, Any]:
    (market, model, option), old = proposal.line, proposal.published
    return {
        "market": market,
        "model": model,
        "option": option,
        "name": proposal.name,
        "currency": proposal.currency,
        "basis": proposal.basis,
        "published": None if old is None else float(money_in(old, proposal.currency)),
        "wanted": float(money_in(proposal.wanted, proposal.currency)),
        "proposed": float(money_in(proposal.proposed, proposal.currency)),
        "changes": proposal.changes,
        "reason": reason(proposal, rule),
        "models": {on.model: _margins(on) for on in proposal.covered},
    }


def _margins(on: Covered) -> dict[str, float | bool | None]:
    return {
        "margin": None if on.before is None else on.before.first.value,
        "margin_then": on.after.first.value,
        "below_floor": bool(on.before is not None and on.before.breach.value),
        "below_floor_then": bool(on.after.breach.value),
    }


def chosen(
    proposals: Sequence[Proposal], only: Sequence[str], *, unpublished: bool
) -> list[Proposal]:
    """The proposals that change something, of the named options (or boats, by model) if any.

    What has no published price yet is among them if asked for, or named.

    Raises:
        AcceptError: a name is that of no line.
    """
    named = {proposal.line[2] or proposal.line[1] for proposal in proposals}
    for name in only:
        if name not in named:
            raise AcceptError(f"nothing is priced as '{name}'; name an option, or a model")
    return [
        each
        for each in proposals
        if each.changes
        and (not only or (each.line[2] or each.line[1]) in only)
        and (unpublished or only or each.published is not None)
    ]


def accept(
    folder: Path,
    pricing: Pricing,
    proposals: Sequence[Proposal],
    effective: date,
    note: str,
    *,
    meant: bool = False,
) -> Path:
    """Publish proposals: append their lines to the price book, whose old lines stay as they are.

    Args:
        folder: the catalogue's
        pricing: what it was priced to
        proposals: those to publish
        effective: the day they take effect
        note: what to note beside each, for the yard
        meant: whether jumps beyond the import limit, or a day far ahead, are meant
    Returns:
        the price book's path
    Raises:
        AcceptError: the day is past, or a price of the same thing begins in between or later.
        CatalogueError: a jump or the day is not meant, or the catalogue would have problems with
            them; the book is as it was.
        OSError: the book can't be written; it is as it was.
    """
    _refuse_late(pricing, proposals, effective)
    if not meant and (faults := [*_unlikely(pricing, proposals, effective)]):
        raise CatalogueError(faults)
    path = folder / BOOK
    existing = path.read_bytes() if path.exists() else None
    limit = usual_limit(pricing.catalogue.records)
    rows = [
        _line(each, effective, as_accepted(note) if _jumps(each, limit) else note)
        for each in proposals
    ]
    try:
        content = with_lines(existing, tuple(BookRow.model_fields), rows)
    except ValueError as fault:
        raise AcceptError(f"{BOOK}: {fault}; add it with a comma on every line") from fault
    try:
        try_out(folder, {BOOK: content}, effective)
    except CatalogueError as stopped:
        noted = [*at_options(stopped.problems, BOOK, content, {"date": "--effective"}, len(rows))]
        raise (CatalogueError(noted) if noted else stopped) from stopped
    write(folder, {BOOK: content})
    return path


def _refuse_late(pricing: Pricing, proposals: Sequence[Proposal], effective: date) -> None:
    """A proposal rests on what is published on the day of the costs, and on nothing later."""
    catalogue = pricing.catalogue
    if effective < catalogue.as_of:
        raise AcceptError(f"{effective} is before {catalogue.as_of}, the day of the costs")
    now = catalogue_day(catalogue.records).prices
    if effective < now:
        raise AcceptError(
            f"{effective} is before {now}, the day that commands price on; it is past"
        )
    if not proposals:
        raise AcceptError("no price is proposed")
    lines = {each.line for each in proposals}
    for row in catalogue.records.book:
        same = row.date > catalogue.as_of or row.date == effective
        if same and book_key(row) in lines:
            place = row.place.clickable
            raise AcceptError(
                f"{place} is a price of {row.date} for it already; see it with --as-of {row.date}"
            )


def _unlikely(
    pricing: Pricing, proposals: Sequence[Proposal], effective: date
) -> Iterator[Problem]:
    """A day far ahead, and prices that move further at once than a supplier's may unlooked at."""
    records = pricing.catalogue.records
    yield from far_ahead(records, effective, accepted=False, word=MEANT)
    limit = usual_limit(records)
    for each in proposals:
        old = each.published
        if old is not None and _jumps(each, limit):
            what = f"{each.name} would cost {_money(each.proposed, each)}, {_change(each)} on the "
            what += f"{_money(old, each)} published"
            yield Problem(figure_place(old), "price-jump", what, beyond_limit(limit, MEANT))


def _jumps(proposal: Proposal, limit: float) -> bool:
    """Whether a published price would move by more than a limit at once."""
    old = proposal.published
    return (
        old is not None
        and bool(old.value)
        and abs(proposal.proposed.value / old.value - 1) - limit > SAME
    )


def _line(proposal: Proposal, effective: date, note: str) -> dict[str, str]:
    market, model, option = proposal.line
    amount = public_amount(proposal.proposed, proposal.currency).normalize()
    return {
        "date": str(effective),
        "market": market,
        "model": model,
        "option": option,
        "list_price": f"{amount:f} {proposal.currency}",
        "note": note,
    }
