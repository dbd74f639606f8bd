"""Material against standard: price and exchange, usage or mix and yield, and what scrap took.

Classes that a boat states in money are compared in money. When a price variance shows, at use or
at purchase, is the yard's policy.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.actuals.compared import KINDS, Compared, Kind, Line, Scope, Unbooked
from quoter.actuals.issues import Issues
from quoter.actuals.levels import Reading, match
from quoter.actuals.matched import Group, Matched, allotted, groups_of
from quoter.actuals.mixes import Mix, flexed, mixes_of
from quoter.actuals.pieces import Ground
from quoter.actuals.purchases import Purchase, Purchases, purchases_of
from quoter.catalogue.booked_words import month_of
from quoter.engineering.purchasing import material_cost
from quoter.engineering.variances import (
    mix_variance,
    mix_yield_variance,
    price_variance,
    quantity_variance,
)
from quoter.figures import Figure, total
from quoter.phrases import phrase, together

AT_PURCHASE = "purchase"
WORDS = {
    "planned": phrase("standard quantity in all"),
    "flexed": phrase("standard quantity of what was begun"),
}


def compare_materials(ground: Ground) -> tuple[list[Compared], list[Unbooked]]:
    """All material that was issued and brought back, compared, and what nobody booked of it.

    At purchase, what was bought is compared as well, and issues count at standard prices. A
    material that no row at all names is one that the yard does not book: it is told once.
    """
    catalogue = ground.pricing.catalogue
    bought = purchases_of(catalogue, ground.booked.purchases, ground.as_of)
    rule = catalogue.yard.policy.actuals
    at_purchase = rule is not None and rule.price_variance == AT_PURCHASE
    issues = Issues(ground, bought, at_standard=at_purchase)
    reading = Reading(needs=issues.needs, called=issues.called, rate=issues.rate, pool="month")
    matching = match(issues.entries(), ground, reading)
    mixes = mixes_of(matching.matched, ground.pricing.costing.rates.classes)
    compared: list[Compared] = []
    for number, matched in enumerate(matching.matched):
        one = _Material(issues, matched, mixes.get(number))
        compared += one.by_month()
    if at_purchase:
        compared += _bought(ground, bought)
    lacking = [one for one in matching.unbooked if issues.booked_at_all(one.scope.resource)]
    never = [one for one in matching.unbooked if not issues.booked_at_all(one.scope.resource)]
    _tell(ground, bought, issues, never)
    return compared, lacking


class _Material:
    """One scope: its standard shared among the groups of its rows, and each month compared."""

    def __init__(self, issues: Issues, matched: Matched, mix: Mix | None) -> None:
        self.issues, self.matched, self.mix = issues, matched, mix
        self.name = issues.called(matched.resource)
        self.groups = groups_of(matched.entries)
        self.used = [group.amount() for group in self.groups]
        needs = matched.needs
        self.flexes = any(need.flexed is not None for need in needs) and not matched.open
        self.planned = self._shared([need.quantity for need in needs], "planned")
        self.entered = self.planned
        if self.flexes:
            self.entered = self._shared([flexed(need) for need in needs], "flexed")
        self.whole = [] if mix is None else allotted(mix.whole, self.used)

    def _shared(self, needs: Sequence[Figure], what: str) -> list[Figure]:
        """A standard quantity by group; of an open job what was booked."""
        if self.matched.open:
            return self.used
        zero, words = Figure(0.0, self.used[0].unit), WORDS[what]
        month = "" if self.matched.job else self.groups[0].month
        label = together(", ", [self.name, words])
        whole = total(list(needs), zero).named(f"{self.matched.scope(month).key}.{what}", label)
        return allotted(whole, self.used)

    def by_month(self) -> Iterator[Compared]:
        """A comparison for each month of its rows."""
        for month in dict.fromkeys(group.month for group in self.groups):
            at = [n for n, group in enumerate(self.groups) if group.month == month]
            yield self._of_month(self.matched.scope(month), at)

    def _of_month(self, scope: Scope, at: Sequence[int]) -> Compared:
        nothing = self.issues.nothing
        lines = [
            self._line(kind, scope, amounts, at)
            for kind, amounts in self._amounts(at).items()
            if amounts
        ]
        paid = [
            material_cost(quantity, price)
            for n in at
            for price, quantity in self.groups[n].by_paid.items()
        ]
        should = [material_cost(self.planned[n], self.groups[n].standard) for n in at]
        in_money = self.issues.in_money(self.matched.resource)
        used = total([self.used[n] for n in at], self.used[0])
        planned = total([self.planned[n] for n in at], self.used[0])

        def called(number: Figure, what: str, words: str) -> Figure:
            label = together(", ", [self.name, words])
            return number.named(f"{scope.key}.{what}", label)

        return Compared(
            scope=scope,
            actual=called(total(paid, nothing), "actual", phrase("actual cost")),
            standard=called(total(should, nothing), "standard", phrase("standard cost")),
            lines=tuple(lines),
            actual_quantity=None if in_money else called(used, "used", phrase("quantity used")),
            standard_quantity=None
            if in_money
            else called(planned, "should", phrase("standard quantity")),
            rows=tuple(entry.place for n in at for entry in self.groups[n].entries),
        )

    def _line(self, kind: Kind, scope: Scope, amounts: Sequence[Figure], at: Sequence[int]) -> Line:
        amount = total(list(amounts), self.issues.nothing)
        label = together(", ", [self.name, KINDS[kind]])
        rows = [entry.place for n in at for entry in self.groups[n].entries]
        if kind == "scrap":
            rows += self.matched.pulls
        if kind in ("price", "exchange"):
            prices = [paid for n in at for paid in self.groups[n].by_paid]
            rows += [place for paid in prices for place in self.issues.bought_at(paid)]
        return Line(
            kind,
            scope,
            amount.named(f"{scope.key}.{kind.replace(' ', '_')}", label),
            tuple(dict.fromkeys(rows)),
            self.matched.owners,
        )

    def _amounts(self, at: Sequence[int]) -> dict[Kind, list[Figure]]:
        """Of each kind what some groups come to; a kind that can't show is left out."""
        found: dict[Kind, list[Figure]] = {}
        for n in at:
            group = self.groups[n]
            for kind, amount in self._prices(group):
                found.setdefault(kind, []).append(amount)
            if not self.matched.open:
                for kind, amount in self._quantities(n):
                    found.setdefault(kind, []).append(amount)
        return found

    def _prices(self, group: Group) -> Iterator[tuple[Kind, Figure]]:
        """What other prices than standard cost, the currency's part apart."""
        for paid, quantity in group.by_paid.items():
            at_standard = self.issues.at_standard_rate(paid)
            if at_standard is not group.standard:
                yield "price", price_variance(at_standard, group.standard, quantity)
            if paid is not at_standard:
                yield "exchange", price_variance(paid, at_standard, quantity)

    def _quantities(self, n: int) -> Iterator[tuple[Kind, Figure]]:
        """What another quantity than standard cost in a group, and what scrap took of it."""
        price, used, should = self.groups[n].standard, self.used[n], self.entered[n]
        if self.mix is None:
            yield "usage", quantity_variance(used, should, price)
        else:
            whole, share = self.whole[n], self.mix.share
            yield "mix", mix_variance(used, whole, share, price)
            yield "yield", mix_yield_variance(whole, share, should, price)
        if self.flexes:
            yield "scrap", quantity_variance(should, self.planned[n], price)


def _bought(ground: Ground, bought: Purchases) -> Iterator[Compared]:
    """What was bought of each material in each month, held against standard prices of the day."""
    for id, purchases in bought.by_material.items():
        by_month: dict[str, list[Purchase]] = {}
        for each in purchases:
            by_month.setdefault(month_of(each.row.date), []).append(each)
        for month, own in sorted(by_month.items()):
            yield _bought_in(ground, id, month, own)


def _bought_in(ground: Ground, id: str, month: str, own: Sequence[Purchase]) -> Compared:
    scope = Scope(f"bought.{id}", "month", month, material=id)
    nothing, name = ground.pricing.costing.rates.nothing, ground.pricing.costing.rates.names[id]
    rows = tuple(each.row.place for each in own)

    def called(amounts: Sequence[Figure], what: str, words: str) -> Figure:
        label = phrase("{name} bought, {what}", name=name, what=words)
        return total(list(amounts), nothing).named(f"{scope.key}.{what}", label)

    prices = [(each, ground.rates.price(id, each.row.date)) for each in own]
    moved = [
        price_variance(each.price.at_standard, standard, each.quantity) for each, standard in prices
    ]
    lines = [Line("price", scope, called(moved, "price", KINDS["price"]), rows)]
    exchanged = [
        price_variance(each.price.paid, each.price.at_standard, each.quantity)
        for each in own
        if each.price.paid is not each.price.at_standard
    ]
    if exchanged:
        amount = called(exchanged, "exchange", KINDS["exchange"])
        lines.append(Line("exchange", scope, amount, rows))
    paid = [material_cost(each.quantity, each.price.paid) for each in own]
    should = [material_cost(each.quantity, standard) for each, standard in prices]
    quantity = total([each.quantity for each in own], own[0].quantity)
    quantity = quantity.named(f"{scope.key}.quantity", phrase("{name} bought", name=name))
    return Compared(
        scope=scope,
        actual=called(paid, "actual", phrase("actual cost")),
        standard=called(should, "standard", phrase("standard cost")),
        lines=tuple(lines),
        actual_quantity=quantity,
        standard_quantity=quantity,
        rows=rows,
    )


def _tell(ground: Ground, bought: Purchases, issues: Issues, never: Sequence[Unbooked]) -> None:
    """What nobody books at all, and which prices and rates are not known."""
    names = ground.pricing.costing.rates.names
    if never:
        resources = dict.fromkeys(one.scope.resource for one in never)
        words = phrase(
            "Never issued to anything, and so left out on both sides of every job: {materials}",
            materials=", ".join(map(issues.called, resources)),
        )
        ground.notes.append(words)
    if issues.unpriced:
        words = phrase(
            "What was paid is not known, so that standard prices stand: {materials}",
            materials=", ".join(names[id] for id in issues.unpriced),
        )
        ground.notes.append(words)
    for row in bought.unrated:
        words = phrase(
            "{place}: no standard rate was in force, so that nothing is put down to exchange",
            place=row.place,
        )
        ground.notes.append(words)
