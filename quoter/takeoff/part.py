"""The way in: every quantity of one part."""

from __future__ import annotations

from quoter.catalogue.parts import ClosedMouldPart, CorePart, Shape
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.records import AnyPart
from quoter.takeoff.closed_mould import add_closed_mould
from quoter.takeoff.core import add_core
from quoter.takeoff.goods import goods_line
from quoter.takeoff.laminates import add_faces
from quoter.takeoff.open_mould import add_open_mould
from quoter.takeoff.quantities import TakeOff
from quoter.takeoff.shapes import add_geometry, overridden


def take_off(
    catalogue: Catalogue, part: AnyPart, key: str, shape: Shape | None, hull_colour: str
) -> TakeOff:
    """Every quantity of a part, its own shape overridden by `shape` where that says something.

    Args:
        catalogue: checked records as of a date
        part: the part
        key: begins the key of every figure made here
        shape: dimensions that replace the part's own, or None
        hull_colour: id of the gelcoat that faces of colour `hull` get
    """
    off = TakeOff(part, key, str(part.name))
    add_geometry(off, overridden(part.shape, shape))
    if isinstance(part, CorePart):
        add_core(catalogue, off, part)
    else:
        add_faces(catalogue, off, part.gelcoat, hull_colour)
        if isinstance(part, ClosedMouldPart):
            add_closed_mould(catalogue, off, part)
        else:
            add_open_mould(catalogue, off, part)
    for number, goods in enumerate(part.goods, 1):
        off.lines.append(goods_line(catalogue, goods, off, f"{key}.goods{number}"))
    return off
