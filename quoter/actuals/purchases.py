"""What material had cost: each purchase landed, at the rate paid and at the standard rate.

The two prices part what a supplier did from what the currency did.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from quoter.catalogue.booked import PurchaseRow
from quoter.catalogue.booked_words import quantity_of
from quoter.catalogue.counting import per_counted
from quoter.catalogue.prices import Catalogue, newest, rate_key
from quoter.engineering.purchasing import average_price, freight_fraction, landed_price
from quoter.figures import Figure, constant
from quoter.phrases import phrase
from quoter.problems import Place

AS_IS = constant(1.0)  # the rate of home currency to itself
NOTHING = constant(0.0)


@dataclass(frozen=True, slots=True)
class Price:
    """What one unit of a material had cost landed, in home currency.

    `paid` at the rate when it was paid, `at_standard` at that of exchange.csv of the day; the same
    figure where no exchange shows. `rows` are the lines of purchases.csv, or the issue's own.
    """

    paid: Figure
    at_standard: Figure
    rows: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Purchase:
    """A line of purchases.csv: its quantity as the material is counted, and its landed price."""

    row: PurchaseRow
    quantity: Figure
    price: Price


@dataclass(slots=True)
class Purchases:
    """All purchases of a catalogue up to a day, in the order of their days, with what is told.

    `unrated` are lines whose standard rate is not known, so that nothing is put down to exchange.
    """

    by_material: dict[str, list[Purchase]] = field(default_factory=dict)
    unrated: list[PurchaseRow] = field(default_factory=list)
    _averages: dict[tuple[str, int], Price] = field(default_factory=dict)

    def average(self, material: str, day: date) -> Price | None:
        """The weighted average of all that was bought of a material up to and on a day.

        None where nothing was bought until then: what had been paid is not known.
        """
        found = [each for each in self.by_material.get(material, []) if each.row.date <= day]
        if not found:
            return None
        if (material, len(found)) not in self._averages:
            self._averages[material, len(found)] = _average(material, found)
        return self._averages[material, len(found)]


def _average(material: str, found: list[Purchase]) -> Price:
    rows = tuple(each.row.place for each in found)
    if len(found) == 1:
        return found[0].price
    quantities = [each.quantity for each in found]
    key = f"actual.bought.{material}.to{len(found)}"
    words = material.replace("_", " ")
    paid = average_price([each.price.paid for each in found], quantities)
    paid = paid.named(
        f"{key}.paid", phrase("{name}: average paid, of {count}", name=words, count=len(found))
    )
    if all(each.price.at_standard is each.price.paid for each in found):
        return Price(paid, paid, rows)
    standard = average_price([each.price.at_standard for each in found], quantities)
    label = phrase("{name}: average at standard rates, of {count}", name=words, count=len(found))
    return Price(paid, standard.named(f"{key}.at_standard_rate", label), rows)


def purchases_of(catalogue: Catalogue, rows: Iterable[PurchaseRow], as_of: date) -> Purchases:
    """The lines of purchases.csv up to a day, landed.

    Args:
        catalogue: whose suppliers, materials and dated rates count
        rows: checked lines
        as_of: later ones are left out
    """
    found = Purchases()
    until = [row for row in rows if row.date <= as_of]
    for row in sorted(until, key=lambda row: row.date):
        bought = _landed(catalogue, row, found)
        found.by_material.setdefault(str(row.material), []).append(bought)
    return found


def _landed(catalogue: Catalogue, row: PurchaseRow, found: Purchases) -> Purchase:
    material = catalogue.records.materials[row.material]
    supplier = catalogue.records.suppliers[row.supplier]
    quantity, price = quantity_of(row.quantity, material), per_counted(material, row.price)
    freight = supplier.freight if supplier.freight is not None else NOTHING
    if row.freight is not None:
        freight = freight_fraction(row.freight, price, quantity)
    duty = supplier.duty if supplier.duty is not None else NOTHING
    paid_at, standard_rate = _rates(catalogue, row, found)
    key, name = f"actual.purchase.{row.reference}", phrase("Purchase {id}", id=row.reference)
    paid = landed_price(price, paid_at, freight, duty)
    paid = paid.named(f"{key}.paid", phrase("{name}: landed price paid", name=name))
    at_standard = paid
    if paid_at is not standard_rate:
        at_standard = landed_price(price, standard_rate, freight, duty).named(
            f"{key}.at_standard_rate", phrase("{name}: landed price at standard rate", name=name)
        )
    quantity = quantity.named(f"{key}.bought", phrase("{name}: bought", name=name))
    return Purchase(row, quantity, Price(paid, at_standard, (row.place,)))


def _rates(catalogue: Catalogue, row: PurchaseRow, found: Purchases) -> tuple[Figure, Figure]:
    """The rate that was paid at, and the standard one: the same where only one is known."""
    (currency,) = row.price.unit.currencies
    if currency == catalogue.currency:
        return AS_IS, AS_IS
    in_force = newest(catalogue.records.exchange, row.date, rate_key)
    if currency in in_force:
        standard = in_force[currency].rate
        return (row.rate if row.rate is not None else standard), standard
    found.unrated.append(row)
    if row.rate is not None:
        return row.rate, row.rate
    return catalogue.exchange[currency].rate, catalogue.exchange[currency].rate
