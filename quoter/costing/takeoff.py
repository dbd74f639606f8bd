"""The way in: every quantity of one part, whatever kind it is of."""

from __future__ import annotations

from quoter.catalogue.materials import Foam
from quoter.catalogue.parts import AnyPart, ClosedMouldPart, CorePart, InfusedPart, Shape
from quoter.catalogue.prices import Catalogue
from quoter.costing.cavity import add_closed_mould
from quoter.costing.goods import goods_line
from quoter.costing.infused import add_infused
from quoter.costing.moulded import add_faces, add_open_mould, with_loss
from quoter.costing.quantities import MaterialLine, TakeOff, add_geometry, overridden
from quoter.engineering import core
from quoter.phrases import phrase


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
    off = TakeOff(part, key, str(part.name), overridden(part.shape, shape))
    add_geometry(off)
    if isinstance(part, CorePart):
        add_core(catalogue, off, part)
    else:
        faces = add_faces(catalogue, off, part.gelcoat, hull_colour)
        if isinstance(part, ClosedMouldPart):
            add_closed_mould(catalogue, off, part, faces)
        elif isinstance(part, InfusedPart):
            add_infused(catalogue, off, part)
        else:
            add_open_mould(catalogue, off, part)
    for number, goods in enumerate(part.goods, 1):
        off.lines.append(goods_line(catalogue, goods, off, f"{key}.goods{number}"))
    return off


def add_core(catalogue: Catalogue, off: TakeOff, part: CorePart) -> None:
    """Both components of the foam that fills the volume, and the buoyancy it gives."""
    foam: Foam = catalogue.records.of("foam")[part.foam]
    volume = off.drivers["volume"]
    net = core.foam_mass(volume, foam.free_rise_density, foam.packing_factor)
    net = net.named(f"{off.key}.foam.net", phrase("{name}: foam net", name=off.name))
    issued = with_loss(net, foam).named(
        f"{off.key}.foam.issued", phrase("{name}: foam issued", name=off.name)
    )
    off.drivers["foam mass"] = net
    for which, mine, other in (
        ("a", foam.parts_a, foam.parts_b),
        ("b", foam.parts_b, foam.parts_a),
    ):
        share = core.component_share(mine, other)
        label = phrase("{name}: component {which}", name=off.name, which=which.upper())
        net_part = (net * share).named(
            f"{off.key}.foam_{which}.net", phrase("{label}, net", label=label)
        )
        out = (issued * share).named(
            f"{off.key}.foam_{which}.issued", phrase("{label}, issued", label=label)
        )
        material = str(getattr(foam, f"component_{which}"))
        use = phrase("component {which}", which=which.upper())
        off.lines.append(
            MaterialLine(
                material=material,
                use=use,
                stage="foam",
                net=net_part,
                issued=out,
                mass=net_part,
                place=part.place,
            )
        )
    if part.buoyancy:
        packed = core.packed_density(foam.free_rise_density, foam.packing_factor)
        lift = core.buoyancy(volume, packed, catalogue.yard.policy.water_density)
        off.notable.append(
            lift.named(f"{off.key}.buoyancy", phrase("{name}: buoyancy", name=off.name))
        )
