"""`quoter requote`: the same request priced on another day, and what moved since and why."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from quoter.analysis.bridge import Bridge, BridgeError, bridge_of
from quoter.catalogue.mark import fingerprint
from quoter.columns import columns
from quoter.pages import money
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError, Problem
from quoter.quotes.draft import Draft, draft_of, record_of
from quoter.quotes.record import Approval, Difference, QuoteLine, Record
from quoter.quotes.request import Asked, recorded_request, sound_wish
from quoter.quotes.warned import touching

HEADS = ("line", "then", "now", "change")
RIGHT = {1, 2, 3}
NOTHING = Decimal(0)
LEAST = 0.005  # home money; a smaller share is not told
ITSELF = "the catalogue itself (recipes, policy, volumes)"


@dataclass(frozen=True, slots=True)
class Requote:
    """A quote as it was, and as the same request comes to on another day.

    `causes` split the change in cost, in home currency; what the dated tables don't account for
    is put down to the catalogue itself.
    """

    old: Record
    new: Record
    draft: Draft
    causes: dict[str, float]
    warnings: list[Problem]


def requote(
    folder: Path, old: Record, on: date, approval: Approval | None, *, issued: bool = True
) -> Requote:
    """Price a recorded request anew; the old quote is not touched.

    Args:
        folder: the catalogue's
        old: the quote as it was issued
        on: the day of issue that the request gets instead of its own
        approval: who lets pass what needs it, and why
        issued: whether it is to be issued; what is only looked at needs no approval
    Raises:
        RequestError: what the request asks for in the catalogue is not sound any more.
        CatalogueError: the catalogue is not sound any more.
        ApprovalError: it needs an approval now that nobody gives, or nobody may give.
    """
    asked = _asked_on(old, on)
    pricing, warnings = price_catalogue(folder, on, only=old.model)
    wish = sound_wish(asked, pricing)
    warnings = touching(warnings, pricing.catalogue.records, wish)
    draft = draft_of(pricing, wish, fingerprint(folder, on), approval, issued=issued)
    new = record_of(draft, old.number, old.revision + 1)
    new = new.model_copy(update={"changes": tuple(changes(old, new, draft))})
    return Requote(old, new, draft, _causes(folder, old, new, pricing), warnings)


def _asked_on(old: Record, on: date) -> Asked:
    """The recorded request with another day of issue; a fixed end of validity is dropped."""
    written = {**old.request, "date": str(on)}
    if str(written.get("valid_until", "")) <= str(on):
        written.pop("valid_until", None)
    return recorded_request(written, "record.json")


def changes(old: Record, new: Record, draft: Draft) -> Iterator[Difference]:
    """What a customer sees to have changed, in the quote's language."""
    language, say = draft.language, draft.language.say

    def paid(amount: Decimal | None, record: Record) -> str:
        return "" if amount is None else money.money(amount, record.currency, language.locale)

    before, after = _by_key(old.lines), _by_key(new.lines)
    for key in dict.fromkeys([*before, *after]):
        was, now = before.get(key), after.get(key)
        shown = [
            paid(line.amount, record) if line else "" for line, record in ((was, old), (now, new))
        ]
        one = now or was
        if shown[0] != shown[1] and one is not None:
            yield Difference(what=one.name, before=shown[0], after=shown[1])
    for what, then, later in (
        (say("Total to pay"), paid(old.total, old), paid(new.total, new)),
        (
            say("Valid until"),
            language.day(old.valid_until),
            language.day(new.valid_until),
        ),
    ):
        if then != later:
            yield Difference(what=what, before=then, after=later)


def _by_key(lines: Sequence[QuoteLine]) -> dict[tuple[str, str, str], QuoteLine]:
    return {(line.kind, line.id, line.rate): line for line in lines}


def _causes(folder: Path, old: Record, new: Record, now: Pricing) -> dict[str, float]:
    """The change in cost by cause: by the dated tables, and the rest by the catalogue itself."""
    moved = float(new.inside.cost - old.inside.cost)
    try:
        before, _ = price_catalogue(folder, old.source.as_of, only=old.model)
        bridge = bridge_of(before, now)
    except (CatalogueError, BridgeError):
        return {ITSELF: moved}
    found = _shares(bridge, new, now)
    rest = moved - sum(found.values())
    return found | {ITSELF: rest}


def _shares(bridge: Bridge, new: Record, now: Pricing) -> dict[str, float]:
    """What each cause did to the cost of what is quoted, packages being their options."""
    model = bridge.models.get(new.model)
    if model is None:
        return {}
    packages = {str(p.id): p.options for p in now.models[new.model].offered_packages}
    shares: dict[str, float] = {}
    for line in new.inside.lines:
        for id in map(str, packages.get(line.id, (line.id,))):
            change = model.options.get(id) if id else model.boat
            for cause, share in change.shares.items() if change is not None else ():
                name = bridge.causes.get(cause, cause)
                shares[name] = shares.get(name, 0.0) + share * line.quantity
    return shares


def report_lines(found: Requote) -> Iterator[str]:
    """The comparison for a terminal."""
    old, new = found.old, found.new
    change = _percent(old.total, new.total) if old.currency == new.currency else ""
    yield (
        f"Quote {old.name} of {old.issued}: {old.total:,} {old.currency}. The same request on "
        f"{new.issued}: {new.total:,} {new.currency}{change}."
    )
    moved = [row for row in _rows(old, new) if row[1] != row[2]]
    if moved:
        yield ""
        yield from columns([HEADS, *moved], RIGHT)
        yield ""
    else:
        yield "No line of it has moved."
    inside, today = old.inside, new.inside
    yield f"Cost {inside.cost:,.2f} to {today.cost:,.2f} {today.home}{_why(found)}."
    yield (
        f"Margin {inside.margin:,.2f} ({inside.margin_fraction * 100:.1f} %) to "
        f"{today.margin:,.2f} {today.home} ({today.margin_fraction * 100:.1f} %)"
        f"{', below the floor' if today.below_floor else ''}."
    )


def _why(found: Requote) -> str:
    told = [
        f"{cause} {share:+,.2f}"
        for cause, share in sorted(found.causes.items(), key=lambda pair: -abs(pair[1]))
        if abs(share) >= LEAST
    ]
    return f": {'; '.join(told)}" if told else ""


def _rows(old: Record, new: Record) -> Iterator[tuple[str, str, str, str]]:
    before, after = _by_key(old.lines), _by_key(new.lines)
    for key in dict.fromkeys([*before, *after]):
        was, now = before.get(key), after.get(key)
        amounts = [None if line is None else line.amount for line in (was, now)]
        one = now or was
        if one is None or one.kind == "standard":
            continue
        change = ""
        if amounts[0] is not None and amounts[1] is not None:
            change = f"{amounts[1] - amounts[0]:+,}"
        then, later = ("–" if amount is None else f"{amount:,}" for amount in amounts)
        yield one.name, then, later, change


def _percent(old: Decimal, new: Decimal) -> str:
    return f" ({(new / old - 1) * 100:+.1f} %)" if old else ""


def as_json(found: Requote) -> str:
    """The comparison as JSON: amounts as texts in the quotes' currency, causes in home currency."""
    old, new = found.old, found.new
    data: dict[str, Any] = {
        "number": old.number,
        "old": {"issued": str(old.issued), "total": str(old.total), "currency": old.currency},
        "new": {"issued": str(new.issued), "total": str(new.total), "currency": new.currency},
        "lines": [dict(zip(HEADS, row, strict=True)) for row in _rows(old, new)],
        "cost": {"old": float(old.inside.cost), "new": float(new.inside.cost)},
        "causes": found.causes,
        "margin_fraction": {
            "old": float(old.inside.margin_fraction),
            "new": float(new.inside.margin_fraction),
        },
    }
    return json.dumps(data, indent=1, ensure_ascii=False)
