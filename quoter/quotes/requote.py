"""`quoter requote`: a request as it was or changed, priced on another day; what moved and why.

A change in cost, margin or what is to be paid is put down to causes that add up to it exactly. To
tell what is asked for apart from what moved since, the request of before is priced on the new day
as well.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from quoter.analysis.bridge import Bridge, BridgeError, bridge_of
from quoter.catalogue.languages import locale_named
from quoter.catalogue.mark import fingerprint
from quoter.catalogue.source import Text
from quoter.columns import columns
from quoter.figures import money_in
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError, Place, Problem
from quoter.quotes.account import account_of
from quoter.quotes.differences import NOTHING, Moved, changes, moved_lines
from quoter.quotes.draft import Draft, draft_of, record_of
from quoter.quotes.kept.inside import Approval
from quoter.quotes.kept.record import Record
from quoter.quotes.language import Language
from quoter.quotes.offer import offer_of
from quoter.quotes.request import Asked, read_request, recorded_request, sound_wish
from quoter.quotes.warned import touching

HEADS = ("line", "what", "then", "now", "change")
RIGHT = {2, 3, 4}
CENT = Decimal("0.01")  # of home money; a smaller share is not told
ITSELF = "the catalogue itself (recipes, policy, volumes)"
ASKED = "what is asked for"
SINCE = "prices since"
PRICES = "prices, discounts and provisions since"
COSTS = "costs since"
TOGETHER = "what is asked for and what moved since (the request of before can't be priced any more)"
Causes = dict[str, Decimal]


@dataclass(frozen=True, slots=True)
class Amounts:
    """What a quote comes to: `total` in its currency, the rest in home currency."""

    currency: str
    total: Decimal
    cost: Decimal
    margin: Decimal


@dataclass(frozen=True, slots=True)
class Requote:
    """A quote as it was, and as a request comes to on another day.

    `changed` tells whether another request is priced than the recorded one. `causes` split the
    change in cost and `margin_causes` that in margin, in home currency; `total_causes` the change
    in what is to be paid, in the quotes' currency, and are empty where that is another now. What
    the dated tables don't account for is put down to the catalogue itself.
    """

    old: Record
    new: Record
    draft: Draft
    changed: bool
    causes: Causes
    total_causes: Causes
    margin_causes: Causes
    warnings: list[Problem]


def requote(
    folder: Path,
    old: Record,
    on: date,
    approval: Approval | None,
    request: Path | None = None,
    *,
    changing: bool = False,
    issued: bool = True,
) -> Requote:
    """Price a recorded request anew, or a changed one; the old quote is not touched.

    Args:
        folder: the catalogue's
        old: the quote as it was issued
        on: the day of issue that the request gets instead of its own
        approval: who lets pass what needs it, and why
        request: the file of the changed request, None for the recorded one
        changing: whether the old quote is an order, whose day of validity is past
        issued: whether it is to be issued; what is only looked at needs no approval
    Raises:
        RequestError: what the request asks for in the catalogue is not sound, or not any more.
        CatalogueError: the catalogue is not sound any more.
        ApprovalError: it needs an approval now that nobody gives, or nobody may give.
    """
    asked, changed = _asked_on(old, on), False
    if request is not None:
        file = read_request(request, {"date": Text.at(str(on), Place("--on"), "date")}, _known(old))
        changed = _content(file.written) != _content(old.request)
        asked = file if changed else asked
    pricing, warnings = price_catalogue(folder, on, only=str(asked.request.model))
    wish = sound_wish(asked, pricing)
    draft = draft_of(pricing, wish, fingerprint(folder, on), approval, issued=issued)
    new = record_of(draft, old.number, old.revision + 1)
    new = new.model_copy(update={"changes_order": old.changes_order})
    told = changes(old, new, draft.language, dates=not changing)
    new = new.model_copy(update={"changes": tuple(told)})
    was, now = _amounts(old), _amounts(new)
    between = now if not changed else _asked_before(folder, old, on, pricing)
    return Requote(
        old,
        new,
        draft,
        changed,
        _cost_causes(_moved_costs(folder, old, pricing), was, between, now),
        _total_causes(was, between, now),
        _margin_causes(was, between, now),
        touching(warnings, pricing.catalogue.records, wish),
    )


def _asked_on(old: Record, on: date) -> Asked:
    """The recorded request with another day of issue; days that are over by then are dropped."""
    written = {**old.request, "date": str(on)}
    for day in ("valid_until", "delivery_date"):
        if str(written.get(day, "")) <= str(on):
            written.pop(day, None)
    return recorded_request(written, "record.json")


def _known(old: Record) -> dict[str, str]:
    """What a changed request need not say again: who quotes, and the class of the buyer."""
    known = {key: str(old.request.get(key, "")) for key in ("prepared_by", "buyer")}
    return {key: value for key, value in known.items() if value}


def _content(written: Mapping[str, object]) -> dict[str, object]:
    """What is asked for, whatever the day."""
    return {key: value for key, value in written.items() if key != "date"}


def _amounts(record: Record) -> Amounts:
    inside = record.inside
    return Amounts(record.currency, record.total, inside.cost, inside.margin)


def _asked_before(folder: Path, old: Record, on: date, now: Pricing) -> Amounts | None:
    """What the request of before comes to on the new day; None where it can't be had any more."""
    try:
        if old.model not in now.models:
            now, _ = price_catalogue(folder, on, only=old.model)
        wish = sound_wish(_asked_on(old, on), now)
        spoken = locale_named(wish.request.language or wish.market.language)
        offer = offer_of(now, wish, Language(now.catalogue, spoken))
    except CatalogueError:
        return None
    account, home = account_of(now, wish, offer), now.catalogue.currency
    cost, margin = money_in(account.cost, home), money_in(account.margin, home)
    return Amounts(offer.currency, offer.totals.total, cost, margin)


def _total_causes(was: Amounts, between: Amounts | None, now: Amounts) -> Causes:
    if was.currency != now.currency:
        return {}
    if between is None or between.currency != was.currency:
        return {TOGETHER: now.total - was.total}
    since = {SINCE: between.total - was.total}
    return since if between is now else {ASKED: now.total - between.total, **since}


def _margin_causes(was: Amounts, between: Amounts | None, now: Amounts) -> Causes:
    if between is None:
        return {TOGETHER: now.margin - was.margin}
    costs = was.cost - between.cost
    since = {PRICES: between.margin - was.margin - costs, COSTS: costs}
    return since if between is now else {ASKED: now.margin - between.margin, **since}


def _cost_causes(moved: Causes, was: Amounts, between: Amounts | None, now: Amounts) -> Causes:
    """The change in cost by cause: by the dated tables, what is asked for, and the rest."""
    if between is None:
        return {TOGETHER: now.cost - was.cost}
    rest = between.cost - was.cost - sum(moved.values(), NOTHING)
    asked = {ASKED: now.cost - between.cost} if between is not now else {}
    return moved | {ITSELF: rest} | asked


def _moved_costs(folder: Path, old: Record, now: Pricing) -> Causes:
    """What moved the cost of what was quoted, by the dated tables of the catalogue."""
    if old.model not in now.models:
        return {}
    try:
        before, _ = price_catalogue(folder, old.source.as_of, only=old.model)
        return _shares(bridge_of(before, now), old, now)
    except (CatalogueError, BridgeError):
        return {}


def _shares(bridge: Bridge, quote: Record, now: Pricing) -> Causes:
    """What each cause did to the cost of what is quoted, packages being their options."""
    model = bridge.models.get(quote.model)
    if model is None:
        return {}
    packages = {str(p.id): p.options for p in now.models[quote.model].offered_packages}
    shares: dict[str, float] = {}
    for line in (each for each in quote.inside.lines if not each.own):
        for id in map(str, packages.get(line.id, (line.id,))):
            change = model.options.get(id) if id else model.boat
            for cause, share in change.shares.items() if change is not None else ():
                name = bridge.causes.get(cause, cause)
                shares[name] = shares.get(name, 0.0) + share * float(line.quantity)
    return {name: Decimal(repr(share)) for name, share in shares.items()}


def report_lines(found: Requote) -> Iterator[str]:
    """The comparison for a terminal."""
    old, new = found.old, found.new
    change = _percent(old.total, new.total) if old.currency == new.currency else ""
    yield (
        f"Quote {old.name} of {old.issued}: {old.total:,} {old.currency}. The "
        f"{'changed' if found.changed else 'same'} request on {new.issued}: "
        f"{new.total:,} {new.currency}{change}."
    )
    moved = [tuple(row[head] for head in HEADS) for row in _rows(old, new) if row["what"]]
    if moved:
        yield ""
        yield from columns([HEADS, *moved], RIGHT)
        yield ""
    else:
        yield "No line of it has moved."
    inside, today = old.inside, new.inside
    if found.changed and found.total_causes:
        change_told = f"To pay {new.total - old.total:+,} {new.currency}"
        yield f"{change_told}{_why(found.total_causes, old.total, new.total)}."
    cost = f"Cost {inside.cost:,.2f} to {today.cost:,.2f} {today.home}"
    yield f"{cost}{_why(found.causes, inside.cost, today.cost)}."
    why = _why(found.margin_causes, inside.margin, today.margin) if found.changed else ""
    yield (
        f"Margin {inside.margin:,.2f} ({inside.margin_fraction * 100:.1f} %) to "
        f"{today.margin:,.2f} {today.home} ({today.margin_fraction * 100:.1f} %)"
        f"{', below the floor' if today.below_floor else ''}{why}."
    )


def _why(causes: Causes, old: Decimal, new: Decimal) -> str:
    """The causes to the cent, the largest first, which takes what rounding leaves."""
    ordered = sorted(causes.items(), key=lambda pair: -abs(pair[1]))
    told = {cause: share.quantize(CENT) for cause, share in ordered}
    if told:
        change = new.quantize(CENT) - old.quantize(CENT)
        told[ordered[0][0]] += change - sum(told.values(), NOTHING)
    said = [f"{cause} {share:+,.2f}" for cause, share in told.items() if share]
    return f": {'; '.join(said)}" if said else ""


def _rows(old: Record, new: Record) -> Iterator[dict[str, str]]:
    """Each line then and now; changes add up to that of what is to be paid.

    Where the currency is another, or amounts hold their tax on one side only, none is told.
    """
    alike = old.currency == new.currency and old.with_tax == new.with_tax
    for moved in moved_lines(old, new):
        if moved.line.kind == "standard":
            continue
        was, now = (line.amount if line else None for line in (moved.before, moved.after))
        yield _row(moved.line.name, _what(moved), was, now, alike=alike)
    if not new.with_tax:
        before, after = ({tax.id: tax for tax in record.taxes} for record in (old, new))
        for id in dict.fromkeys([*before, *after] if alike else after):
            was, now = (taxes[id].amount if id in taxes else None for taxes in (before, after))
            what = "" if was == now else "tax"
            yield _row((after.get(id) or before[id]).name, what, was, now, alike=alike)


def _what(moved: Moved) -> str:
    """What is another on a line, in words."""
    if moved.before is None or moved.after is None or "quantity" not in moved.how:
        return moved.how
    return moved.how.replace("quantity", f"{moved.before.quantity} to {moved.after.quantity}")


def _row(
    line: str, what: str, was: Decimal | None, now: Decimal | None, *, alike: bool
) -> dict[str, str]:
    then, later = ("–" if amount is None else f"{amount:,}" for amount in (was, now))
    change = f"{(now or NOTHING) - (was or NOTHING):+,}" if alike else ""
    return dict(zip(HEADS, (line, what, then, later, change), strict=True))


def _percent(old: Decimal, new: Decimal) -> str:
    return f" ({(new / old - 1) * 100:+.1f} %)" if old else ""


def as_json(found: Requote) -> str:
    """The comparison as JSON: amounts as texts in the quotes' currency, causes in home currency."""
    old, new = found.old, found.new
    data: dict[str, Any] = {
        "number": old.number,
        "compared_with": old.name,
        "request": "changed" if found.changed else "the same",
        "old": {"issued": str(old.issued), "total": str(old.total), "currency": old.currency},
        "new": {"issued": str(new.issued), "total": str(new.total), "currency": new.currency},
        "total_causes": {cause: str(share) for cause, share in found.total_causes.items()},
        "lines": [*_rows(old, new)],
        "cost": {"old": float(old.inside.cost), "new": float(new.inside.cost)},
        "causes": _floats(found.causes),
        "margin": {"old": float(old.inside.margin), "new": float(new.inside.margin)},
        "margin_causes": _floats(found.margin_causes),
        "margin_fraction": {
            "old": float(old.inside.margin_fraction),
            "new": float(new.inside.margin_fraction),
        },
    }
    return json.dumps(data, indent=1, ensure_ascii=False)


def _floats(causes: Causes) -> dict[str, float]:
    return {cause: float(share) for cause, share in causes.items()}
