"""The list prices at which a thing would leave the target margin, the floor, its full cost or its
variable cost alone, beside the price of today: a ladder for each class of buyer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from quoter.catalogue.markets import DealerClass
from quoter.figures import Figure, constant
from quoter.phrases import phrase
from quoter.pricing.margin import price_for_margin
from quoter.pricing.price import Priced
from quoter.pricing.sale import Terms

NO_MARGIN = constant(0.0)


@dataclass(frozen=True, slots=True)
class Ladder:
    """List prices without tax, before rounding, for one class of buyer; `today` is the one in
    force.

    Below `full` a sale eats into what pays for fixed overhead; below `variable` each one loses
    money at once.
    """

    buyer: DealerClass
    variable: Figure
    full: Figure
    floor: Figure
    target: Figure
    today: Figure

    @property
    def rungs(self) -> tuple[Figure, ...]:
        """The prices that were worked out, the lowest margin first."""
        return self.variable, self.full, self.floor, self.target


def ladders_of(terms: Terms, priced: Priced) -> Sequence[Ladder]:
    """A ladder for each class of buyer, in the catalogue's order."""
    return tuple(_ladder(terms, priced, buyer) for buyer in terms.buyers)


def _ladder(terms: Terms, priced: Priced, buyer: DealerClass) -> Ladder:
    made = priced.assembly

    def rung(cost: Figure, margin: Figure, key: str, words: str) -> Figure:
        price = price_for_margin(cost, terms.provisions, margin, buyer.discount)
        label = phrase(
            "{name}, {buyer}: list price for {words}", name=made.name, buyer=buyer.name, words=words
        )
        return price.named(f"{made.recipe.key}.ladder.{buyer.id}.{key}", label)

    return Ladder(
        buyer=buyer,
        variable=rung(made.variable, NO_MARGIN, "variable", "variable cost"),
        full=rung(made.cost, NO_MARGIN, "full", "full cost"),
        floor=rung(made.cost, terms.floor, "floor", "the floor margin"),
        target=rung(made.cost, terms.target, "target", "the target margin"),
        today=priced.list_price,
    )
