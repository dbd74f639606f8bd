"""Take-off of a laminate laid by hand: glass and the resin that wets it."""

from __future__ import annotations

from quoter.catalogue.materials import Resin
from quoter.catalogue.parts import OpenMouldPart
from quoter.catalogue.prices import Catalogue
from quoter.engineering import laminate
from quoter.figures import Figure, total
from quoter.takeoff.laminates import catalyst_line, emission, glass_line, laid_plies, with_loss
from quoter.takeoff.quantities import NO_MASS, Line, TakeOff


def add_open_mould(catalogue: Catalogue, off: TakeOff, part: OpenMouldPart) -> None:
    """Glass ply by ply, and resin by stage: the skin coat apart from the bulk."""
    laid = laid_plies(catalogue, off, part)
    if part.resin is None:
        return
    resin: Resin = catalogue.records.of("resin")[str(part.resin)]
    wets: dict[str, list[Figure]] = {}
    for ply in laid:
        stage = ply.ply.stage or "bulk"
        off.lines.append(glass_line(part, ply, stage))
        wet = laminate.resin_for_glass(ply.net, ply.content)
        wet = wet.named(f"{ply.key}.resin", f"{ply.label}, resin net")
        wets.setdefault(stage, []).append(wet)
    for stage, amounts in wets.items():
        key, label = f"{off.key}.resin_{stage}", f"{off.name}: {stage} resin"
        net = total(amounts, NO_MASS).named(f"{key}.net", f"{label}, net")
        issued = with_loss(net, resin).named(f"{key}.issued", f"{label}, issued")
        gas = emission(resin, issued, key, label)
        off.lines.append(Line(str(part.resin), stage, stage, net, issued, net, part.place, gas))
        off.lines.append(catalyst_line(resin, issued, key, label, stage, stage, part.place))
