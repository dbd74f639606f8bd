"""Take-off of goods: bought items by number, edge and area, used up or used again."""

from __future__ import annotations

from quoter.catalogue.materials import Bought
from quoter.catalogue.parts import Goods
from quoter.catalogue.prices import Catalogue
from quoter.costing.moulded import with_loss
from quoter.costing.quantities import NO_MASS, MaterialLine, TakeOff
from quoter.engineering import infusion
from quoter.figures import Figure
from quoter.phrases import phrase


def amount_of(goods: Goods, off: TakeOff | None) -> Figure:
    """How much of an item one part or option needs: as given, or by the part's edge and area."""
    if goods.quantity is not None:
        return goods.quantity
    if off is None or (goods.per_perimeter is None and goods.per_area is None):
        raise ValueError(f"goods {goods.item} without an amount passed the checks")
    if goods.per_area is None:
        assert goods.per_perimeter is not None
        return goods.per_perimeter * off.drivers["perimeter"]
    if goods.per_perimeter is None:
        return goods.per_area * off.drivers["area"]
    return infusion.covering(
        off.drivers["area"], goods.per_area, off.drivers["perimeter"], goods.per_perimeter
    )


def goods_line(catalogue: Catalogue, goods: Goods, off: TakeOff | None, where: str) -> MaterialLine:
    """A bought item: what one part or option bears of it, where it lasts for several."""
    item: Bought = catalogue.records.of("bought")[goods.item]
    label = f"{off.name}: {item.name}" if off else str(item.name)
    net = amount_of(goods, off)
    if goods.lasts is not None:
        net = infusion.per_pull(net, goods.lasts)
    net = net.named(f"{where}.net", phrase("{label}, quantity", label=label))
    issued = with_loss(net, item).named(f"{where}.issued", phrase("{label}, issued", label=label))
    mass = NO_MASS
    if goods.built_in:
        mass = (net * item.mass).named(f"{where}.mass", phrase("{label}, mass", label=label))
    return MaterialLine(
        material=str(goods.item),
        use=str(item.name) if goods.lasts is None else phrase("used again"),
        stage=goods.stage,
        net=net,
        issued=issued,
        mass=mass,
        place=goods.place,
    )


def resin_taken_up(catalogue: Catalogue, off: TakeOff, *, built_in: bool) -> list[Figure]:
    """The resin that goods take up in an infusion: of those that stay in the part, or the rest."""
    found = []
    for number, goods in enumerate(off.part.goods, 1):
        item: Bought = catalogue.records.of("bought")[goods.item]
        if item.resin_uptake is None or goods.built_in != built_in:
            continue
        taken = infusion.taken_up(amount_of(goods, off), item.resin_uptake)
        label = phrase("{name}: resin that {what} takes up", name=off.name, what=item.name)
        found.append(taken.named(f"{off.key}.goods{number}.uptake", label))
    return found
