"""What of a quote needs somebody to answer for it, and who of the yard may: people and limits.

A seller issues alone what keeps the floor and their class's discount, on a day that the price sheet
holds and that is near the price lists. All else needs an approval: every reason is told at once,
and so is each limit that whoever is named would pass.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from quoter.catalogue.day import FARTHEST, how_far
from quoter.catalogue.editions import outside_edition
from quoter.catalogue.markets import Approver
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.yard import Yard
from quoter.figures import money_in, plain_number
from quoter.phrases import Phrase, phrase, together
from quoter.pricing.margin import fraction_of_price, net_price
from quoter.pricing.price import Pricing, smallest_unit
from quoter.problems import listed, quoted
from quoter.quotes import QuoteError
from quoter.quotes.account import Account
from quoter.quotes.kept.inside import Approval, Inside, Limit
from quoter.quotes.kept.record import QuoteLine, Tax
from quoter.quotes.offer import Offer
from quoter.quotes.request import Wish

ReasonWord = Literal["floor", "discount", "edition", "day"]
# What needed an approval, as the yard's own sheets and pages say it.
SAID: Mapping[str, Phrase] = {
    "floor": phrase("margin below the floor"),
    "discount": phrase("discount beyond what a seller gives alone"),
    "edition": phrase("price sheet that does not hold on the day"),
    "day": phrase("day far from the newest price list"),
}
# Kinds of lines that take something off; what stands before the first of them is at list price.
OFF = frozenset({"discount", "amount_off"})
NOTHING = Decimal(0)
NEARLY = 1e-9  # of a fraction; a margin that is the limit in decimals holds
LEAST = 0.005  # home money; a smaller excess is rounding
HOW = "--approve NAME --reason TEXT"
NOBODY_LISTED = (
    "the yard names no approvers, so that anybody may let this pass; list them in yard.yaml, for "
    "example 'approvers: [{name: Rasmus Olm, most_off: 25 %, floor: 20 %}]'"
)


class ApprovalError(QuoteError):
    """Raised where somebody has to answer for a quote and nobody does, or may."""

    code = "approval"


@dataclass(frozen=True, slots=True)
class OffList:
    """What a quote comes to at list prices and what comes off, without tax, in its currency.

    `slack` is how far rounding may have moved what comes off.
    """

    listed: float
    off: float
    slack: float = 0.0

    @property
    def fraction(self) -> float:
        """What comes off as a fraction of the list."""
        return fraction_of_price(self.off, self.listed) if self.listed > 0 else 0.0

    def beyond(self, *discounts: float) -> bool:
        """Whether more comes off than discounts one after the other would take."""
        left = self.listed
        for discount in discounts:
            left = net_price(left, discount)
        return self.off > self.listed - left + self.slack + NEARLY


def off_list(
    lines: Sequence[QuoteLine], taxes: Sequence[Tax], currency: str, *, with_tax: bool
) -> OffList:
    """What comes off the list: the class's discount, the one on top and amounts off, together.

    What discounts are taken of stands before them. What stands behind them or is delivery, such as
    what is taken in trade, is neither at list price nor off it.

    Args:
        lines: of a draft or a record, in their order
        taxes: by whose rates amounts hold tax
        currency: of the amounts
        with_tax: whether amounts hold their tax
    """
    rates = {tax.id: tax.rate for tax in taxes} if with_tax else {}
    untaxed = [
        (line.kind, (line.amount or NOTHING) / (1 + rates.get(line.rate, NOTHING)))
        for line in lines
        if line.kind != "delivery"
    ]
    off = [amount for kind, amount in untaxed if kind in OFF]
    first = next((n for n, (kind, _) in enumerate(untaxed) if kind in OFF), len(untaxed))
    at_list = sum((amount for _, amount in untaxed[:first]), NOTHING)
    slack = float(smallest_unit(currency)) / 2 * len(off)
    return OffList(float(at_list), -float(sum(off, NOTHING)), slack)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a quote needs an approval: the word that is kept, and a sentence for the terminal."""

    word: ReasonWord
    told: str


@dataclass(frozen=True, slots=True)
class Standing:
    """What a quote is held against limits with: its class, what comes off, its margin and net."""

    buyer: str
    preparer: str
    off: OffList
    margin: float
    net: float
    home: str


def standing_of(wish: Wish, account: Account, offer: Offer, home: str) -> Standing:
    """Where a priced request stands."""
    taxes, with_tax = offer.totals.taxes, offer.with_tax
    return Standing(
        buyer=str(wish.buyer.id),
        preparer=wish.prepared_by,
        off=off_list(offer.lines, taxes, offer.currency, with_tax=with_tax),
        margin=account.margin_fraction.value,
        net=float(money_in(account.net, home)),
        home=home,
    )


def reasons_of(
    pricing: Pricing, wish: Wish, account: Account, standing: Standing
) -> tuple[Reason, ...]:
    """Everything of a priced request that needs an approval."""
    return tuple(_reasons(pricing, wish, account, standing))


def _reasons(
    pricing: Pricing, wish: Wish, account: Account, standing: Standing
) -> Iterator[Reason]:
    if account.breach.value:
        yield Reason("floor", _below_floor(pricing, account))
    extra = wish.buyer.most_extra
    if extra is not None and standing.off.beyond(wish.buyer.discount.value, extra.value):
        own, most = wish.buyer.discount.value, _percent(extra.value)
        alone = f"its {_percent(own)} and at most {most} on top" if own else f"at most {most}"
        told = f"{_percent(standing.off.fraction)} comes off the list; a seller alone gives "
        yield Reason("discount", f"{told}'{standing.buyer}' {alone}")
    catalogue, day = pricing.catalogue, wish.request.date
    if outside := outside_edition(catalogue.edition, day):
        yield Reason("edition", outside)
    if far := _far(catalogue, day):
        yield Reason("day", far)


def _far(catalogue: Catalogue, day: date) -> str:
    """That a day is more than a year from the newest price list, after it or before.

    A list that is a slip itself is not the newest one.
    """
    come = how_far(catalogue.records)
    newest = max(d for d in catalogue.records.price_lists if (d - come).days <= FARTHEST)
    days = (day - newest).days
    if abs(days) <= FARTHEST:
        return ""
    side = "after" if days > 0 else "before"
    return f"{day} is {abs(days)} days {side} the newest price list, of {newest}: check the year"


def _below_floor(pricing: Pricing, account: Account) -> str:
    fraction, floor = account.margin_fraction.value, pricing.terms.floor.value
    told = f"the quote leaves {fraction * 100:.1f} % of its net price, below the floor of "
    told += f"{floor * 100:g} %"
    if account.most.value:
        return f"{told}; a discount of {int(account.most.value * 1000) / 10:g} % at most keeps it"
    return f"{told}; no discount keeps it"


def approved(
    yard: Yard, standing: Standing, reasons: Sequence[Reason], approval: Approval | None
) -> Approval | None:
    """The approval as the record keeps it; None where nothing needs one.

    Args:
        yard: with the list of who may approve, if it has one
        standing: of the quote
        reasons: what needs an approval
        approval: who answers for it, and why
    Raises:
        ApprovalError: somebody has to answer for it and nobody does, or may.
    """
    if not reasons:
        return None
    if approval is None:
        raise ApprovalError(_refusal(yard, standing, reasons, ""))
    kept = approval.model_copy(
        update={
            "passed": tuple(reason.word for reason in reasons),
            "off": Decimal(repr(round(standing.off.fraction, 6))),
        }
    )
    if _same(approval.name, standing.preparer):
        fault = f"{quoted(approval.name)} prepared it, and so can't let it pass"
        raise ApprovalError(_refusal(yard, standing, reasons, fault))
    if not yard.approvers:
        return kept
    entries = [each for each in yard.approvers if _same(each.name, approval.name)]
    if not entries:
        fault = f"{quoted(approval.name)} is not one of the yard's approvers"
        raise ApprovalError(_refusal(yard, standing, reasons, fault))
    held = next((entry for entry in entries if not passed_limits(entry, standing)), None)
    if held is None:
        of_class = [entry for entry in entries if _for_class(entry, standing)] or entries
        fewest = min((passed_limits(entry, standing) for entry in of_class), key=len)
        fault = f"{quoted(entries[0].name)} may not let it pass: {'; '.join(fewest)}"
        raise ApprovalError(_refusal(yard, standing, reasons, fault))
    return kept.model_copy(update={"name": str(held.name), "limit": _limit(held, standing.home)})


def passed_limits(entry: Approver, standing: Standing) -> list[str]:
    """Which limits of an approver's entry a quote passes, in words; none if it is covered."""
    if not _for_class(entry, standing):
        return [f"they do for {listed(map(str, entry.classes))}, and this is '{standing.buyer}'"]
    found = []
    off, floor, most = entry.most_off, entry.floor, entry.most
    if off is not None and standing.off.beyond(off.value):
        found.append(
            f"{_percent(standing.off.fraction)} comes off, and theirs is {_percent(off.value)}"
        )
    if floor is not None and standing.margin < floor.value - NEARLY:
        found.append(
            f"it leaves {_percent(standing.margin)}, and theirs is {_percent(floor.value)}"
        )
    if most is not None and standing.net > most.value + LEAST:
        home = standing.home
        found.append(
            f"it is {standing.net:,.2f} {home} net, and theirs is {most.value:,.2f} {home}"
        )
    return found


def _for_class(entry: Approver, standing: Standing) -> bool:
    return not entry.classes or standing.buyer in entry.classes


def _refusal(yard: Yard, standing: Standing, reasons: Sequence[Reason], fault: str) -> str:
    """Every reason on a line of its own, what is wrong with the approval, and who could give it."""
    lines = ["this quote needs somebody to answer for it:"]
    lines += [f"- {reason.told}" for reason in reasons]
    if fault:
        lines.append(fault)
    who = ""
    if yard.approvers:
        may = [
            str(entry.name)
            for entry in yard.approvers
            if not passed_limits(entry, standing) and not _same(entry.name, standing.preparer)
        ]
        who = ", but nobody of the yard's approvers may"
        if may:
            who = f", as {listed(dict.fromkeys(may))} may"
    lines.append(f"Change the request, or let somebody answer for it: {HOW}{who}")
    return "\n".join(lines)


def _same(one: str, other: str) -> bool:
    """Whether two names are one person's: capitals and blanks make no difference."""
    return "".join(one.split()).casefold() == "".join(other.split()).casefold()


def _limit(entry: Approver, home: str) -> Limit:
    return Limit(
        most_off=None if entry.most_off is None else plain_number(entry.most_off),
        floor=None if entry.floor is None else plain_number(entry.floor),
        most=None if entry.most is None else money_in(entry.most, home),
    )


def _percent(fraction: float) -> str:
    """A fraction with two decimals at most, so that what passes a limit looks so."""
    return f"{round(fraction * 100, 2):g} %"


def approval_said(inside: Inside) -> tuple[str, ...]:
    """Who let a quote pass, what for and within which limit: phrases of the yard, a line each."""
    approval = inside.approval
    if approval is None:
        return ()
    by = phrase("Approved by {name}: {reason}.", name=approval.name, reason=approval.reason)
    told: list[str] = [by, phrase("It needed that for: {what}.", what=passed_said(approval))]
    if approval.off is not None:
        told.append(phrase("Off the list: {share}.", share=_percent(float(approval.off))))
    if approval.limit is not None:
        told.append(phrase("Limit: {limit}.", limit=limit_said(approval, inside.home)))
    return tuple(told)


def passed_said(approval: Approval) -> str:
    """What needed an approval, in words; of older records it was the floor."""
    return together(", ", [SAID.get(word, word) for word in approval.passed or ("floor",)])


def limit_said(approval: Approval, home: str) -> str:
    """The limit of who let it pass, in words; nothing where the yard had no list of them."""
    limit, said = approval.limit, []
    if limit is None:
        return ""
    if limit.most_off is not None:
        said.append(phrase("{share} off the list", share=_percent(float(limit.most_off))))
    if limit.floor is not None:
        said.append(phrase("a margin of {share}", share=_percent(float(limit.floor))))
    if limit.most is not None:
        said.append(
            phrase("{amount} {currency} net", amount=f"{limit.most.normalize():,f}", currency=home)
        )
    return together(", ", said) if said else phrase("none")
