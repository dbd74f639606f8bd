"""Take-off of bought goods, of a part or of an option."""

from __future__ import annotations

from quoter.catalogue.parts import Goods
from quoter.catalogue.prices import Catalogue
from quoter.takeoff.laminates import with_loss
from quoter.takeoff.quantities import NO_MASS, Line, TakeOff


def goods_line(catalogue: Catalogue, goods: Goods, off: TakeOff | None, where: str) -> Line:
    """A bought item: its quantity as given, or by the part's edge or area."""
    item = catalogue.records.of("bought")[str(goods.item)]
    label = f"{off.name}: {item.name}" if off else str(item.name)
    if goods.quantity is not None:
        net = goods.quantity
    elif off is not None and goods.per_perimeter is not None:
        net = goods.per_perimeter * off.drivers["perimeter"]
    elif off is not None and goods.per_area is not None:
        net = goods.per_area * off.drivers["area"]
    else:
        raise ValueError(f"goods {goods.item} without an amount passed the checks")
    net = net.named(f"{where}.net", f"{label}, quantity")
    issued = with_loss(net, item).named(f"{where}.issued", f"{label}, issued")
    mass = NO_MASS
    if goods.built_in:
        mass = (net * item.mass).named(f"{where}.mass", f"{label}, mass")
    return Line(str(goods.item), str(item.name), goods.stage, net, issued, mass, goods.place)
