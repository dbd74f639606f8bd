"""Rules of materials and what they cost: price lists, exchange rates, packs, laminates."""

from __future__ import annotations

from collections.abc import Iterator

from quoter.catalogue.checks_ids import figure_place, unknown
from quoter.catalogue.factory import Laminate
from quoter.catalogue.materials import (
    Bought,
    Glass,
    Material,
    counted_in,
    density_of,
    price_per,
    said,
)
from quoter.catalogue.records import MATERIAL_KINDS, Records
from quoter.catalogue.tables import PriceRow
from quoter.figures import Figure
from quoter.problems import Problem
from quoter.units import Unit, unit

PACK = unit("pack")


def check_prices(records: Records) -> Iterator[Problem]:
    """A price must be of a known material, in its supplier's currency, per a unit that converts."""
    for rows in records.price_lists.values():
        for row in rows:
            yield from price_faults(records, row)


def price_faults(records: Records, row: PriceRow) -> Iterator[Problem]:
    """What is wrong with one price."""
    if row.material in records.ids.get("foam", {}):
        what = f"foam '{row.material}' is not bought as such"
        yield Problem(row.material.place, what, "list the prices of its two components")
    elif records.lacks(MATERIAL_KINDS, row.material):
        yield unknown(records, MATERIAL_KINDS, row.material, "material")
    if records.lacks(("supplier",), row.supplier):
        yield unknown(records, ("supplier",), row.supplier, "supplier")
    place = figure_place(row.price)
    supplier = records.suppliers.get(str(row.supplier))
    found = row.price.unit.currencies
    if supplier and found != (str(supplier.currency),):
        what = f"the price is in {' and '.join(found)}"
        hint = f"'{supplier.id}' sells in {supplier.currency}: write it so, or correct the supplier"
        yield Problem(place, what, hint)
    material = records.materials.get(str(row.material))
    if material and not price_converts(material, row.price):
        what = f"'{row.material}' can't be priced per {said(price_per(row.price))}"
        yield Problem(place, what, price_hint(material, price_per(row.price)))


def price_converts(material: Material, price: Figure) -> bool:
    """Whether a price says what one unit of a material, as it is counted, costs."""
    per = price_per(price)
    if per == PACK:
        return material.pack is not None  # what it holds is for `check_packs`
    return converts(material, per)


def converts(material: Material, per: Unit) -> bool:
    """Whether an amount in a unit says how much of a material it is."""
    if per == unit("m2") and isinstance(material, Glass):
        return True
    if per == unit("m3") and density_of(material) is not None:
        return True
    return per == counted_in(material)


def price_hint(material: Material, per: Unit) -> str:
    """What a price of a material should be per, instead of what it is."""
    counted = said(counted_in(material))
    if per == PACK:
        return f"say how much a pack holds, such as 'pack: 20 {counted}', or price it per {counted}"
    if isinstance(material, Bought):
        return f"it is counted in {counted}: price it per {counted}, or per pack"
    if per == unit("m3"):
        return "price it per kg, or give the material a density"
    return "price it per kg"


def check_packs(records: Records) -> Iterator[Problem]:
    """A pack must hold the material in a unit it can be counted in."""
    for material in records.materials.values():
        if material.pack is not None and not converts(material, material.pack.unit * PACK):
            held, counted = said(material.pack.unit * PACK), said(counted_in(material))
            what = f"a pack of '{material.id}' is in {held}, the material in {counted}"
            yield Problem(figure_place(material.pack), what, f"write the pack in {counted}")
        if material.loss is not None and material.waste_on_net is not None:
            what = f"'{material.id}' has both a loss and a waste_on_net"
            hint = "keep one: loss is a fraction of what is issued, waste_on_net of what is used"
            yield Problem(figure_place(material.waste_on_net), what, hint)


def check_exchange(records: Records) -> Iterator[Problem]:
    """A rate must say which currency buys which: how much foreign for one unit of home."""
    if records.home is None:
        return
    for row in records.exchange:
        if row.currency == records.home:
            what = f"{records.home} is the home currency and needs no rate"
            yield Problem(row.currency.place, what, "remove the line")
            continue
        wanted = f"{row.currency}/{records.home}"
        if str(row.rate.unit) != wanted:
            what = f"a rate of {row.currency} in {str(row.rate.unit) or 'no unit'}"
            hint = f"write how much {row.currency} one {records.home} buys, in {wanted}"
            yield Problem(figure_place(row.rate), what, hint)


def check_laminates(records: Records) -> Iterator[Problem]:
    """An empty stack costs nothing, which is never meant; seams must be narrower than the roll."""
    for laminate in records.laminates.values():
        if not laminate.plies:
            what = f"laminate '{laminate.id}' has no plies"
            yield Problem(laminate.place, what, "list at least one under 'plies:'")
        yield from _mixed_faults(laminate)
    for glass in records.of("glass").values():
        if glass.overlap is None:
            continue
        if glass.roll_width is None:
            what = f"'{glass.id}' has an overlap but no roll width"
            yield Problem(figure_place(glass.overlap), what, "add for example 'roll_width: 1.25 m'")
        elif glass.overlap.value >= glass.roll_width.value:
            what = f"'{glass.id}' overlaps by as much as its roll is wide, or more"
            hint = f"expected less than {glass.roll_width.value * 1000:g} mm"
            yield Problem(figure_place(glass.overlap), what, hint)


def _mixed_faults(laminate: Laminate) -> Iterator[Problem]:
    rule = laminate.mixed_content
    if rule is not None and rule.mat_slope.value >= rule.all_woven.value:
        what = f"the glass content of '{laminate.id}' falls to nothing when all is mat"
        hint = f"expected less than the {rule.all_woven.value * 100:g} % of all_woven"
        yield Problem(figure_place(rule.mat_slope), what, hint)
