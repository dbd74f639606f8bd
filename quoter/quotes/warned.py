"""What whoever makes a quote is told: warnings of the catalogue, and what its customer could save.

`price_catalogue` gathers what is worth a look for whoever asks: a check, a build and a quote alike.
A quote carries all of it but what can't touch it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from quoter.catalogue.checks_ids import every_record, within
from quoter.catalogue.markets import DealerClass, Market
from quoter.catalogue.options import Model, Option, Package
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.catalogue.tables import BookRow
from quoter.pricing.markets import currency_of
from quoter.pricing.packaged import CheaperPackage, cheaper_packages
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.public import price_list
from quoter.problems import Place, Problem
from quoter.quotes.request import Wish


def touching(warnings: Iterable[Problem], records: Records, wish: Wish) -> list[Problem]:
    """The warnings that a quote carries.

    Left out is only what stands in the block of another model, of an option or package that is not
    on this boat, of another market or class of buyer, or in a published price of one of these. All
    else is told, though it may be far from this boat: a price that is old, a laminate, a wage.
    That an `expected` keeps nothing quiet is told by a check alone, since it touches no price.

    Args:
        warnings: those of the catalogue on the day of issue
        records: of the catalogue
        wish: what is quoted
    """
    ours = _Ours(records, wish)
    return [each for each in warnings if not ours.leaves_out(each.place)]


def could_be_packaged(pricing: Pricing, wish: Wish) -> tuple[CheaperPackage, ...]:
    """The packages that would cost the customer less, at list prices as their market reads them.

    They are those that the price sheet offers for the same list.
    """
    return cheaper_packages(wish.model, wish.chosen, price_list(pricing, wish.market))


def package_hints(pricing: Pricing, wish: Wish) -> Iterator[str]:
    """Each of these packages in a sentence for the yard, its saving in the quote's currency."""
    market, model = wish.market, wish.model
    tax = "with tax" if market.prices == "with tax" else "without tax"
    for offer in could_be_packaged(pricing, wish):
        package = model.packages[offer.package].assembly.name
        saving = f"{offer.saving.amount:,} {currency_of(pricing.catalogue, market)}"
        besides = f", and brings {_names(model, offer.besides)}" if offer.besides else ""
        yield (
            f"the package {package} ('{offer.package}') in place of "
            f"{_names(model, offer.instead)} costs {saving} less at list prices {tax}{besides}"
        )


def _names(model: PricedModel, ids: Iterable[str]) -> str:
    return " and ".join(str(model.options[id].assembly.name) for id in ids)


class _Ours:
    """What of a catalogue is this quote's, and what is another's, by where it stands."""

    def __init__(self, records: Records, wish: Wish) -> None:
        model = wish.model.model
        aboard = {*map(str, model.standard), *wish.chosen}
        for package in wish.model.offered_packages:
            if package.id in wish.chosen:
                aboard |= {*map(str, package.options)}
        self._named: dict[type, set[str]] = {
            Model: {str(model.id)},
            Option: aboard,
            Package: aboard,
            Market: {str(wish.market.id)},
            DealerClass: {str(wish.buyer.id)},
        }
        self._begun: dict[str, list[tuple[int, int, bool]]] = {}
        others = {id(inner) for other in self._others(records) for inner in within(other)}
        for record in every_record(records):
            place = record.place
            begun = (place.line, place.column, id(record) in others)
            self._begun.setdefault(place.file, []).append(begun)

    def _others(self, records: Records) -> Iterator[CatalogueRecord]:
        """Every record that is of something else than what is quoted."""
        yard = records.yard
        named: list[Model | Option | Package | Market | DealerClass] = [
            *records.models.values(),
            *records.options.values(),
            *records.packages.values(),
            *(yard.markets if yard is not None else ()),
            *(yard.dealer_classes if yard is not None else ()),
        ]
        yield from (each for each in named if str(each.id) not in self._named[type(each)])
        yield from (row for row in records.book if not self._is_ours(row))

    def _is_ours(self, row: BookRow) -> bool:
        return (
            str(row.market) in ("", *self._named[Market])
            and str(row.model) in ("", *self._named[Model])
            and str(row.option) in ("", *self._named[Option])
        )

    def leaves_out(self, place: Place) -> bool:
        """Whether the last record that begins before a place is another's."""
        at = (place.line, place.column, True)
        before = [begun for begun in self._begun.get(place.file, []) if begun <= at]
        return bool(before) and max(before)[2]
