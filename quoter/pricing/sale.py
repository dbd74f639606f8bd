"""What a sale at a list price leaves, by class of buyer."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.catalogue.markets import DealerClass
from quoter.catalogue.yard import Yard
from quoter.figures import Figure, constant, total
from quoter.figures.ops import less, less_or_equal
from quoter.phrases import phrase
from quoter.pricing.margin import fraction_of_price, left_after, net_price


@dataclass(frozen=True, slots=True)
class Sale:
    """A sale to one class of buyer; `holds` is 1 where the margin is not below the floor."""

    buyer: DealerClass
    net: Figure
    contribution: Figure
    margin: Figure
    contribution_fraction: Figure
    margin_fraction: Figure
    holds: Figure
    breach: Figure


@dataclass(frozen=True, slots=True)
class Terms:
    """What every sale follows: provisions in all, the classes of buyer, and the margins wanted."""

    provisions: Figure
    buyers: tuple[DealerClass, ...]
    target: Figure
    floor: Figure


def terms_of(yard: Yard) -> Terms:
    """The yard's terms of sale."""
    provisions = total([p.fraction for p in yard.policy.provisions], constant(0.0))
    return Terms(
        provisions.named("policy.provisions", "provisions in all", "percent"),
        tuple(yard.dealer_classes),
        yard.policy.target_margin,
        yard.policy.floor_margin,
    )


def sales(
    terms: Terms, list_price: Figure, cost: Figure, variable: Figure, key: str, name: str
) -> dict[str, Sale]:
    """Dealer class id -> what a sale at the list price leaves."""
    return {
        str(buyer.id): _sale(
            terms=terms,
            buyer=buyer,
            list_price=list_price,
            cost=cost,
            variable=variable,
            key=f"{key}.{buyer.id}",
            name=name,
        )
        for buyer in terms.buyers
    }


def _sale(
    terms: Terms,
    buyer: DealerClass,
    list_price: Figure,
    cost: Figure,
    variable: Figure,
    key: str,
    name: str,
) -> Sale:
    label = f"{name}, {buyer.name}"
    net = net_price(list_price, buyer.discount).named(
        f"{key}.net", phrase("{label}: net price", label=label)
    )
    contribution = left_after(net, terms.provisions, variable)
    contribution = contribution.named(
        f"{key}.contribution", phrase("{label}: contribution", label=label)
    )
    margin = left_after(net, terms.provisions, cost).named(
        f"{key}.margin", phrase("{label}: margin", label=label)
    )
    fraction = fraction_of_price(margin, net)
    fraction = fraction.named(
        f"{key}.margin_fraction", phrase("{label}: margin of net", label=label), "percent"
    )
    return Sale(
        buyer=buyer,
        net=net,
        contribution=contribution,
        margin=margin,
        contribution_fraction=fraction_of_price(contribution, net).named(
            f"{key}.contribution_fraction",
            phrase("{label}: contribution of net", label=label),
            "percent",
        ),
        margin_fraction=fraction,
        holds=less_or_equal(terms.floor, fraction).named(
            f"{key}.holds", phrase("{label}: margin holds", label=label)
        ),
        breach=less(fraction, terms.floor).named(
            f"{key}.breach", phrase("{label}: margin below the floor", label=label)
        ),
    )
