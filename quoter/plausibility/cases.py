"""Which of a measure's ranges a value is held against, and how large it is in that range's unit.

A range in euros is for money of any currency that has usual rates: an order of magnitude is asked
about, and no cent.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from math import sqrt

from quoter.catalogue.checks_prices import price_converts
from quoter.catalogue.counting import counted_per
from quoter.catalogue.factory import Overhead, Ply
from quoter.catalogue.materials import Bought, Glass, counted_in, material_class, price_per, said
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.catalogue.tables import BookRow, ExchangeRow, PriceRow, RiseRow
from quoter.figures import Figure
from quoter.plausibility.of_materials import MATERIALS
from quoter.plausibility.usual import Usual
from quoter.units import NONE

OPEN, INFUSED, CLOSED = "open mould", "infused", "closed mould"
EURO = "EUR"


@dataclass(frozen=True, slots=True)
class Sized:
    """A value as a range may hold it: the case that the range is of, and the size in its unit."""

    case: str
    size: float


@dataclass
class Cases:
    """What tells the cases of a catalogue's values apart."""

    records: Records

    def sized(self, record: CatalogueRecord, name: str, value: Figure) -> Sized | None:
        """A value with its case; None where nothing usual is known of it."""
        return _RULES.get((type(record), name), Cases._plain)(self, record, value)

    def euros(self, amount: float, currency: str) -> float | None:
        """About how many euros an amount is, by the usual rates; None of a currency without."""
        rate = self._per_euro(currency)
        return None if rate is None else amount / rate

    def _per_euro(self, currency: str) -> float | None:
        if currency == EURO:
            return 1.0
        usual = _RATES.get(currency)
        if usual is None:
            return None
        low, high = usual.bounds.low, usual.bounds.high
        return sqrt((low or 1.0) * (high or 1.0))

    def _money(self, value: Figure, size: float) -> float | None:
        """A size in euros where it is money."""
        for currency in value.unit.currencies:
            return self.euros(size, currency)
        return size

    def _plain(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        size = self._money(value, value.value)
        return None if size is None else Sized(_unit_of(value), size)

    def _price(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        assert isinstance(record, PriceRow)
        material = self.records.materials.get(record.material)
        if material is None or not price_converts(material, value):
            return None
        per = price_per(value)
        size = value.value
        if per != counted_in(material):
            size /= counted_per(material, per).value
        case = material_class(material)
        if isinstance(material, Glass):
            case = f"glass {material.form}"
        elif isinstance(material, Bought) and material.mass.value:
            case, size = f"{case}, by its mass", size / material.mass.value
        elif isinstance(material, Bought):
            case = f"without mass, {said(counted_in(material))}"
        in_euros = self._money(value, size)
        return None if in_euros is None else Sized(case, in_euros)

    def _rate(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        assert isinstance(record, ExchangeRow)
        home = self._per_euro(self.records.home or EURO)
        return None if home is None else Sized(str(record.currency), value.value * home)

    def _book(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        assert isinstance(record, BookRow)
        size = self._money(value, value.value)
        return None if size is None else Sized("option" if record.option else "boat", size)

    def _rise(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        if value.unit == NONE:
            return Sized("", value.value)
        size = self._money(value, value.value)
        return None if size is None else Sized(said(price_per(value)), size)

    def _capacity(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        size = self._money(value, value.value)
        return None if size is None else Sized("money" if value.unit.currencies else "h", size)

    def _glass(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        assert isinstance(record, Glass)
        return Sized(record.form, value.value)

    def _ply(self, record: CatalogueRecord, value: Figure) -> Sized | None:
        assert isinstance(record, Ply)
        glass = self.records.of("glass").get(record.glass)
        process = self._processes.get(id(record))
        return Sized(f"{glass.form}, {process}", value.value) if glass and process else None

    @cached_property
    def _processes(self) -> dict[int, str]:
        """The process of each ply whose stack is laid in moulds of one kind alone."""
        laid: dict[str, set[str]] = {}
        processes = (("open_mould", OPEN), ("infused", INFUSED), ("closed_mould", CLOSED))
        for kind, process in processes:
            for part in self.records.of(kind).values():
                for zone in part.zones:
                    laid.setdefault(str(zone.laminate), set()).add(process)
        return {
            id(ply): min(laid[id_])
            for id_, laminate in self.records.laminates.items()
            if len(laid.get(id_, ())) == 1
            for ply in laminate.plies
        }


_RATES: dict[str, Usual] = {u.case: u for u in MATERIALS if u.record is ExchangeRow}
Rule = Callable[[Cases, CatalogueRecord, Figure], Sized | None]
_RULES: dict[tuple[type[CatalogueRecord], str], Rule] = {
    (PriceRow, "price"): Cases._price,
    (ExchangeRow, "rate"): Cases._rate,
    (BookRow, "list_price"): Cases._book,
    (RiseRow, "by"): Cases._rise,
    (Overhead, "capacity"): Cases._capacity,
    (Glass, "areal_mass"): Cases._glass,
    (Glass, "glass_content"): Cases._glass,
    (Glass, "infused_content"): Cases._glass,
    (Ply, "glass_content"): Cases._ply,
}


def _unit_of(value: Figure) -> str:
    """The unit as cases have it; a count is in `each`."""
    return said(value.unit)
