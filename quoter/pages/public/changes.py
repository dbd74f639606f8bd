"""What changed since the edition before: prices, what is new, and whether anything stayed.

Plain views like those of `views`, made from a sheet's view and the amounts that lists showed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from quoter.catalogue.markets import Market
from quoter.pages.public.compare import ComparedGroup, Comparison, comparison
from quoter.pages.public.views import OptionView, PackageView, SheetView, View
from quoter.pricing.earlier import DELIVERY, PRIOR, EarlierLists
from quoter.pricing.price import BOAT, Key
from quoter.pricing.public import PublicPrice

LEAST_SHARE = Decimal("0.0005")  # a smaller one would be told as 0.0 %


@dataclass(frozen=True, slots=True)
class ModelName(View):
    """A model that a line speaks of."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class ChangedPrice(View):
    """A price before and now, of a boat, or of an extra on all models where it moved alike.

    `lowest` is told with a reduction: the lowest price of the 30 days before it.
    """

    id: str
    name: str
    models: tuple[ModelName, ...]
    before: PublicPrice
    now: PublicPrice
    lowest: PublicPrice | None

    @property
    def difference(self) -> PublicPrice:
        """What it rose by; a fall is negative."""
        return self.now - self.before

    @property
    def share(self) -> Decimal | None:
        """A rise as a fraction of the price before, a reduction as one of `lowest`, negative.

        None where it would mean nothing: of a credit, or where the lowest price was no higher.
        """
        start = (self.before if self.lowest is None else self.lowest).amount
        now = self.now.amount
        if start <= 0 or now <= 0 or (self.lowest is not None and now >= start):
            return None
        share = (now - start) / start
        return share if abs(share) >= LEAST_SHARE else None


@dataclass(frozen=True, slots=True)
class ChangedGroup(View):
    """The options of a group whose prices moved."""

    name: str
    prices: tuple[ChangedPrice, ...]


@dataclass(frozen=True, slots=True)
class NewItem(View):
    """An option or package that had no price before: its price, on all models that have it so."""

    id: str
    kind: str
    name: str
    text: str
    models: tuple[ModelName, ...]
    price: PublicPrice


@dataclass(frozen=True, slots=True)
class ChangesView(View):
    """What differs from the edition `version`, as it stood on `until`.

    `kept` tells whether some prices stayed as they were.
    """

    version: str
    until: date
    new: tuple[NewItem, ...]
    boats: tuple[ChangedPrice, ...]
    groups: tuple[ChangedGroup, ...]
    packages: tuple[ChangedPrice, ...]
    delivery: ChangedPrice | None
    kept: bool

    @property
    def moved(self) -> tuple[ChangedPrice, ...]:
        """Every price that did."""
        options = tuple(price for group in self.groups for price in group.prices)
        delivery = () if self.delivery is None else (self.delivery,)
        return (*self.boats, *options, *self.packages, *delivery)

    @property
    def shown(self) -> tuple[PublicPrice, ...]:
        """Every price that the page tells, from which the differences are worked out."""
        told = ((each.before, each.now, each.lowest) for each in self.moved)
        moved = tuple(price for prices in told for price in prices if price is not None)
        return (*moved, *(item.price for item in self.new))

    @property
    def reduced(self) -> bool:
        """Whether any price fell."""
        return any(price.lowest is not None for price in self.moved)


def changes_view(
    sheet: SheetView, version: str, now: Mapping[Key, PublicPrice], past: Sequence[PastList]
) -> ChangesView:
    """What a sheet tells of what changed.

    Args:
        sheet: the one in force
        version: of the edition before
        now: every price that the sheet shows
        past: what it showed on earlier days; see `moves_between`
    """
    changes = _Changes(sheet, now, past)
    every = comparison(sheet)
    names = [ModelName(model.id, model.name) for model in sheet.models]
    boats = (changes.boat(name) for name in names)
    packages = (
        line for each in every.packages for line in changes.lines(each.id, each.name, names)
    )
    delivery = changes.moves.get(DELIVERY)
    words = sheet.delivery.words if sheet.delivery is not None else ""
    return ChangesView(
        version=version,
        until=past[0].until,
        new=tuple(changes.new(every)),
        boats=tuple(boat for boat in boats if boat is not None),
        groups=tuple(changes.groups(every.groups, names)),
        packages=tuple(packages),
        delivery=None if delivery is None else _line("", words, (), delivery),
        kept=changes.kept,
    )


class _Changes:
    """The moves of a sheet's prices, and what is new on it."""

    def __init__(
        self, sheet: SheetView, now: Mapping[Key, PublicPrice], past: Sequence[PastList]
    ) -> None:
        extras: list[tuple[ModelName, OptionView | PackageView]] = []
        for model in sheet.models:
            name = ModelName(model.id, model.name)
            extras += [(name, option) for option in model.options]
            extras += [(name, package) for package in model.packages]
        named = {item.id for _, item in extras if item.new}
        # What a package with something new in it had cost before is no price that was asked.
        named |= {
            package.id
            for model in sheet.models
            for package in model.packages
            if any(inside.id in named for inside in package.options)
        }
        before = past[0].prices
        old = {key: price for key, price in now.items() if key in before and key[1] not in named}
        self.moves = moves_between(old, past)
        self.kept = len(self.moves) < len(old)
        self._new = [(model, item) for model, item in extras if (model.id, item.id) not in old]

    def boat(self, model: ModelName) -> ChangedPrice | None:
        """The line of a boat's price, if it moved."""
        move = self.moves.get((model.id, BOAT))
        return None if move is None else _line(model.id, model.name, (model,), move)

    def groups(
        self, groups: Iterable[ComparedGroup], models: Iterable[ModelName]
    ) -> Iterator[ChangedGroup]:
        """The groups that have a price which moved."""
        for group in groups:
            lines = [
                line for each in group.options for line in self.lines(each.id, each.name, models)
            ]
            if lines:
                yield ChangedGroup(group.name, tuple(lines))

    def lines(self, id: str, name: str, models: Iterable[ModelName]) -> Iterator[ChangedPrice]:
        """The lines of an extra's prices: one for all models on which it moved alike."""
        found: dict[ListMove, list[ModelName]] = {}
        for model in models:
            move = self.moves.get((model.id, id))
            if move is not None:
                found.setdefault(move, []).append(model)
        yield from (_line(id, name, on, move) for move, on in found.items())

    def new(self, every: Comparison) -> Iterator[NewItem]:
        """What is new, in the catalogue's order: a line for all models with the same price."""
        ids = [option.id for group in every.groups for option in group.options]
        ids += [package.id for package in every.packages]
        order = {id: place for place, id in enumerate(ids)}
        found: dict[tuple[str, PublicPrice], list[tuple[ModelName, OptionView | PackageView]]] = {}
        for model, item in sorted(self._new, key=lambda new: order[new[1].id]):
            found.setdefault((item.id, item.price), []).append((model, item))
        for (id, price), on in found.items():
            item = on[0][1]
            kind = "option" if isinstance(item, OptionView) else "package"
            yield NewItem(id, kind, item.name, item.text, tuple(m for m, _ in on), price)


def _line(id: str, name: str, models: Iterable[ModelName], move: ListMove) -> ChangedPrice:
    return ChangedPrice(id, name, tuple(models), move.before, move.now, move.lowest)


@dataclass(frozen=True, slots=True)
class PastList(View):
    """What a market's list showed up to a day, since the list before it."""

    until: date
    prices: Mapping[Key, PublicPrice]


@dataclass(frozen=True, slots=True)
class ListMove(View):
    """A list price at the end of the edition before, and now.

    `lowest` is told with a reduction: the lowest price of the 30 days before the one that holds.
    """

    before: PublicPrice
    now: PublicPrice
    lowest: PublicPrice | None


def past_lists(earlier: Sequence[EarlierLists], market: Market) -> tuple[PastList, ...]:
    """A market's lists of earlier days, in the order of the days."""
    return tuple(PastList(each.until, each.prices[str(market.id)]) for each in earlier)


def moves_between(now: Mapping[Key, PublicPrice], past: Sequence[PastList]) -> dict[Key, ListMove]:
    """The prices that were others at the end of the edition before; what had none has no move.

    Args:
        now: what the list shows
        past: what it showed up to earlier days: the last day of the edition before first, then
            each day on which a price may have been another for the last time
    """
    last = past[0].prices
    return {
        key: ListMove(
            last[key], price, _prior_price(key, price, past) if price < last[key] else None
        )
        for key, price in now.items()
        if key in last and last[key] != price
    }


def _prior_price(key: Key, now: PublicPrice, past: Sequence[PastList]) -> PublicPrice:
    """The lowest price of the 30 days before the price became what it is now."""
    steps = [
        (each.until, each.prices[key])
        for each in sorted(past, key=lambda each: each.until)
        if key in each.prices
    ]
    while steps[-1][1] == now:
        steps.pop()
    until = steps[-1][0]
    return min(price for day, price in steps if day > until - PRIOR)
