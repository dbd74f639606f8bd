"""What moves: new prices beside those in force, each in the unit of the old one, and how much."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from quoter.catalogue.counting import per_counted
from quoter.catalogue.materials import material_class
from quoter.catalogue.prices import listed_on, newest, quotes, rate_key
from quoter.catalogue.records import Records
from quoter.catalogue.rises import overdue_rises
from quoter.catalogue.tables import PriceRow
from quoter.columns import columns
from quoter.figures import Figure, Origin
from quoter.figures.graph import input_behind
from quoter.importing.cells import squeezed
from quoter.importing.offers import SupplierPrice
from quoter.importing.per_words import option
from quoter.pricing.exchange import ExchangeRates
from quoter.problems import Place, Problem
from quoter.units import quantity

ACCEPT, CORRECTED = "--accept", "--corrected"
SAME = 1e-9  # prices per different units that agree this well are one price


@dataclass(frozen=True, slots=True)
class OfferMove:
    """An offer beside the price in force, if there is one.

    `change` is the relative change of what one unit of the material costs before freight, None
    for the first price; `as_old` is the new price in the unit of the old one. One that does not
    move is listed `again` when its line gets old, for it is known to hold.
    """

    offer: SupplierPrice
    old: PriceRow | None
    change: float | None
    as_old: str = ""
    again: bool = False

    @property
    def moves(self) -> bool:
        """Whether the price is another than before."""
        return self.change is None or self.change != 0.0

    @property
    def words(self) -> str:
        """The price as a list has it; one listed again keeps its unit and range."""
        if not self.again or self.old is None:
            return written_price(self.offer.row.price)
        origin = _origin(self.old.price)
        if origin.low is None or origin.high is None:
            return origin.text
        ends = " to ".join(f"{Decimal(repr(end)):f}" for end in (origin.low, origin.high))
        return f"{origin.text} [{ends}{' triangular' * (origin.spread == 'triangular')}]"

    def corrects(self, day: date) -> bool:
        """Whether the supplier's list of a day has another price already."""
        old = self.old
        return (
            self.moves
            and old is not None
            and listed_on(old) == day
            and old.supplier == self.offer.row.supplier
        )

    def beyond(self, limit: float) -> bool:
        """Whether the price jumps, up or down, by more than a limit."""
        return self.change is not None and abs(self.change) - limit > SAME


def moves_of(records: Records, offers: Sequence[SupplierPrice], day: date) -> list[OfferMove]:
    """Offers that take effect on a day, each beside the price that would be in force then."""
    found = quotes(records, day)
    moves = [_move(records, offer, found.get(offer.material.id, []), day) for offer in offers]
    return [replace(move, again=_grows_old(records, move, day)) for move in moves]


def _grows_old(records: Records, move: OfferMove, day: date) -> bool:
    """Whether a price that stays will be older than half of what the policy allows."""
    if move.moves or move.old is None or records.yard is None:
        return False
    allowed = records.yard.policy.prices_stale_after_days.value
    same = move.old.supplier == move.offer.row.supplier
    return same and (day - listed_on(move.old)).days > allowed / 2


def _move(records: Records, offer: SupplierPrice, rows: Sequence[PriceRow], day: date) -> OfferMove:
    own = [row for row in rows if row.supplier == offer.row.supplier]
    if not rows:
        return OfferMove(offer, None, None)
    old, new = (own or rows)[0], offer.row
    if _written(old.price) == _written(new.price):
        return OfferMove(offer, old, 0.0)
    before, after = (_at_home(records, offer, row, day) for row in (old, new))
    if before is None or after is None or not before:
        return OfferMove(offer, old, None)
    change = after / before - 1
    if abs(change) < SAME:
        change = 0.0
    unit_of_old = written_price(old.price).partition(" ")[2]
    as_old = ""
    if unit_of_old != written_price(new.price).partition(" ")[2]:
        number = _written(old.price)[0] * (1 + Decimal(change))
        as_old = f"{float(number):.5g} {unit_of_old}"
    return OfferMove(offer, old, change, as_old)


def _at_home(records: Records, offer: SupplierPrice, row: PriceRow, day: date) -> float | None:
    """A price per what the material is counted in, in home currency; None without a rate."""
    price, home = per_counted(offer.material, row.price), str(records.home)
    rates = ExchangeRates(home, newest(records.exchange, day, rate_key))
    if rates.lacking(price, home):
        # The same rate on both sides drops out.
        return price.value if row.supplier == offer.row.supplier else None
    return rates.exchange(price, home).value


def written_price(price: Figure) -> str:
    """A price as it was written, without the range and note that may have followed it."""
    return _origin(price).text


def _origin(price: Figure) -> Origin:
    origin = input_behind(price).origin
    if origin is None:
        raise ValueError(f"the price {price.key} has no origin")
    return origin


def _written(price: Figure) -> tuple[Decimal, str]:
    """A price's number, exactly, and its unit."""
    text = written_price(price)
    return Decimal(text.partition(" ")[0]), str(quantity(text).unit)


@dataclass(frozen=True, slots=True)
class Meant:
    """What the command line says is meant: all that is unusual, or single things.

    `jumps` are the supplier's codes whose prices may jump, `skip` those whose lines are left out,
    and with `corrected` a list of the same day replaces what stands.
    """

    all: bool = False
    jumps: tuple[str, ...] = ()
    skip: tuple[str, ...] = ()
    corrected: bool = False

    def jump(self, move: OfferMove) -> bool:
        """Whether a price may jump."""
        return self.all or move.offer.code in map(squeezed, self.jumps)


def move_faults(
    moves: Iterable[OfferMove], day: date, limit: float, meant: Meant
) -> Iterator[Problem]:
    """Jumps beyond a limit that are not meant, and prices that the list of the day has already."""
    for move in moves:
        place, new = move.offer.place, written_price(move.offer.row.price)
        if move.old is None or not move.moves:
            continue
        old, id = written_price(move.old.price), move.offer.material.id
        if move.corrects(day) and not meant.corrected:
            what = f"'{id}' has a price of {day} already, {old}, and would have {new}"
            hint = another_day(move.old.place)
            if move.offer.code:
                hint += f", or use {CORRECTED} if the supplier corrected its list"
            yield Problem(place, "already-listed", what, hint)
        elif move.beyond(limit) and not meant.jump(move) and move.change is not None:
            size = f"{abs(move.change) * 100:.1f} % {'more' if move.change > 0 else 'less'}"
            what = f"'{id}' would cost {new}, {size} than the {old} in force"
            code = move.offer.code
            word = option(ACCEPT, code) if code else ACCEPT
            yield Problem(place, "price-jump", what, beyond_limit(limit, word))


def another_day(place: Place) -> str:
    """The hint where a line of the same day stands already."""
    return f"{place.clickable} stays as it is: name another day"


def beyond_limit(limit: float, word: str = ACCEPT) -> str:
    """The hint where something moves further than usual, with the option that says it is meant."""
    return f"the limit is {limit * 100:g} %: check it, and use {word} if it is meant"


def table_lines(moves: Sequence[OfferMove], limit: float, day: date) -> Iterator[str]:
    """Old and new prices for a terminal, without the columns that would be empty."""
    if not moves:
        return
    heads = ("material", "code", "old", "new", "in the old unit", "change", "")
    rows = [_row(move, limit, day) for move in moves]
    kept = [n for n in range(len(heads)) if any(row[n] for row in rows)]
    right = {at for at, n in enumerate(kept) if 2 <= n <= 5}
    yield from columns([[row[n] for n in kept] for row in (heads, *rows)], right)
    classes = list(class_changes(moves))
    if classes:
        yield ""
        yield f"Mean change by class: {', '.join(classes)}."


def _row(move: OfferMove, limit: float, day: date) -> tuple[str, ...]:
    old = "–" if move.old is None else written_price(move.old.price)
    change = "" if move.change is None else f"{move.change * 100:+.1f} %"
    new = written_price(move.offer.row.price)
    told = "first price" if move.old is None else "" if move.moves else "unchanged"
    if move.again:
        told = "unchanged, listed again"
    if move.beyond(limit):
        told = f"beyond {limit * 100:g} %"
    if move.corrects(day):
        told = f"corrected{', ' if told else ''}{told}"
    return (str(move.offer.material.id), move.offer.code, old, new, move.as_old, change, told)


def class_changes(moves: Iterable[OfferMove]) -> Iterator[str]:
    """The mean change of each class of material over its lines, unweighted, with their number."""
    found: dict[str, list[float]] = {}
    for move in moves:
        if move.change is not None:
            found.setdefault(material_class(move.offer.material), []).append(move.change)
    for name in sorted(found):
        changes = found[name]
        count = f"{len(changes)} price{'' if len(changes) == 1 else 's'}"
        yield f"{name} {sum(changes) / len(changes) * 100:+.1f} % ({count})"


def remarks(records: Records, moves: Iterable[OfferMove], day: date) -> Iterator[str]:
    """What is worth knowing and no fault: another supplier, a range that ends, a later list."""
    for move in moves:
        if not move.moves:
            continue
        id, supplier = str(move.offer.material.id), str(move.offer.row.supplier)
        if move.old is not None and move.old.supplier != supplier:
            yield f"'{id}' was bought of '{move.old.supplier}' until now."
        if move.old is not None and (origin := _origin(move.old.price)).low is not None:
            yield f"'{id}' loses the range of its old price, {origin.low:g} to {origin.high:g}."
        later = [listed for listed in records.price_lists if listed > day]
        for listed in sorted(later):
            rows = records.price_lists[listed]
            if any(row.material == id and row.supplier == supplier for row in rows):
                yield f"'{id}' has a price of {listed}, which holds from then on."
                break


def rise_remarks(records: Records, moves: Sequence[OfferMove], day: date) -> Iterator[str]:
    """Rises announced for the day or before it, which the prices may hold already."""
    for rise in overdue_rises(records, day):
        of_both = [
            move
            for move in moves
            if move.offer.row.supplier == rise.supplier
            and move.offer.material.family == rise.family
        ]
        if of_both:
            by = written_price(rise.by)
            yield (
                f"A rise of {by} on '{rise.family}' was announced for {rise.effective} "
                f"({rise.place.clickable}): note with 'quoter rise' whether it is confirmed, or "
                "withdrawn because these prices hold it."
            )
