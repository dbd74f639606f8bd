"""Take-off of a block or a space filled with two-part foam."""

from __future__ import annotations

from quoter.catalogue.materials import Foam
from quoter.catalogue.parts import CorePart
from quoter.catalogue.prices import Catalogue
from quoter.engineering import core
from quoter.takeoff.laminates import with_loss
from quoter.takeoff.quantities import Line, TakeOff


def add_core(catalogue: Catalogue, off: TakeOff, part: CorePart) -> None:
    """Both components of the foam that fills the volume, and the buoyancy it gives."""
    foam: Foam = catalogue.records.of("foam")[str(part.foam)]
    volume = off.drivers["volume"]
    net = core.foam_mass(volume, foam.free_rise_density, foam.packing_factor)
    net = net.named(f"{off.key}.foam.net", f"{off.name}: foam net")
    issued = with_loss(net, foam).named(f"{off.key}.foam.issued", f"{off.name}: foam issued")
    off.drivers["foam mass"] = net
    for which, mine, other in (
        ("a", foam.parts_a, foam.parts_b),
        ("b", foam.parts_b, foam.parts_a),
    ):
        share = core.component_share(mine, other)
        label = f"{off.name}: component {which.upper()}"
        net_part = (net * share).named(f"{off.key}.foam_{which}.net", f"{label}, net")
        out = (issued * share).named(f"{off.key}.foam_{which}.issued", f"{label}, issued")
        material = str(getattr(foam, f"component_{which}"))
        use = f"component {which.upper()}"
        off.lines.append(Line(material, use, "foam", net_part, out, net_part, part.place))
    if part.buoyancy:
        packed = core.packed_density(foam.free_rise_density, foam.packing_factor)
        lift = core.buoyancy(volume, packed, catalogue.yard.policy.water_density)
        off.notable.append(lift.named(f"{off.key}.buoyancy", f"{off.name}: buoyancy"))
