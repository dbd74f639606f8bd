"""Take-off of what is moulded: gelcoat on faces, plies of glass, and resin laid by hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from quoter.catalogue.factory import Laminate
from quoter.catalogue.materials import MIXED, Foam, Gelcoat, Glass, Material, Resin
from quoter.catalogue.parts import ClosedMouldPart, Face, OpenMouldPart, Zone
from quoter.catalogue.prices import Catalogue
from quoter.costing.given_off import applied_by, given_off, kind_of
from quoter.costing.quantities import (
    NO_MASS,
    ONE,
    GivenOff,
    LaidPly,
    MaterialLine,
    TakeOff,
    entry_of,
    region,
)
from quoter.engineering import gelcoat, laminate, losses
from quoter.figures import Figure, constant, total


class CoatedFace(NamedTuple):
    """The gelcoat of a face, and the area it is on."""

    coat: Gelcoat
    area: Figure


def add_faces(
    catalogue: Catalogue, off: TakeOff, faces: Sequence[Face], hull: str
) -> list[CoatedFace]:
    """Gelcoat and its catalyst for every face; a face of colour `hull` gets the hull's gelcoat."""
    coated = []
    for number, face in enumerate(faces, 1):
        colour = hull if face.colour == "hull" else str(face.colour)
        coat: Gelcoat = catalogue.records.of("gelcoat")[colour]
        key, label = f"{off.key}.face{number}", f"{off.name}: face {number} {coat.colour}"
        area = region(off, face, key, label)
        coated.append(CoatedFace(coat, area))
        net = gelcoat.film_mass(area, coat.wet_thickness, coat.density)
        net = net.named(f"{key}.net", f"{label}, gelcoat net")
        issued = with_loss(losses.issued(net, losses.transfer_loss(coat.transfer)), coat)
        issued = issued.named(f"{key}.issued", f"{label}, gelcoat issued")
        use = f"face {number}"
        line = MaterialLine(
            material=colour,
            use=use,
            stage="gelcoat",
            net=net,
            issued=issued,
            mass=net,
            place=face.place,
            given_off=_given_off(off, coat, "gelcoat", issued, key, label),
            area=area,
        )
        add_mixed(off, coat, line, key, label)
    off.drivers["gelcoat faces"] = constant(float(len(faces)))
    return coated


def _given_off(
    off: TakeOff, material: Resin | Gelcoat, stage: str, issued: Figure, key: str, label: str
) -> GivenOff | None:
    """What a line gives off, as the operation that its stage enters at applies it."""
    route = off.part.operations
    by = applied_by(route[entry_of(route, stage)] if route else None)
    return given_off(material, kind_of(material), by, issued, key, label)


def with_loss(net: Figure, material: Material | Foam) -> Figure:
    """What is issued for a net amount of a material."""
    loss = loss_of(material)
    return net if loss is None else losses.issued(net, loss)


def loss_of(material: Material | Foam) -> Figure | None:
    """A material's loss as a fraction of what is issued, however the catalogue states it."""
    if material.loss is None and material.waste_on_net is not None:
        return losses.loss_from_waste_on_net(material.waste_on_net)
    return material.loss


def add_mixed(
    off: TakeOff, resin: Resin | Gelcoat, line: MaterialLine, key: str, label: str
) -> None:
    """A line of resin or gelcoat, and its catalyst, whose mass is not counted twice."""
    net = laminate.catalyst_mass(line.issued, resin.catalyst_fraction)
    net = net.named(f"{key}.catalyst", f"{label}, catalyst")
    catalyst = MaterialLine(
        material=str(resin.catalyst),
        use=line.use,
        stage=line.stage,
        net=net,
        issued=net,
        mass=NO_MASS,
        place=line.place,
    )
    off.lines += [line, catalyst]


def laid_plies(
    catalogue: Catalogue, off: TakeOff, part: OpenMouldPart | ClosedMouldPart
) -> list[LaidPly]:
    """Each ply of each zone with its net glass mass; also the plies and glass as drivers."""
    laid = [
        ply
        for number, zone in enumerate(part.zones, 1)
        for ply in _zone_plies(catalogue, off, zone, f"{off.key}.zone{number}")
    ]
    plies = total([ply.layers for ply in laid], constant(0.0))
    off.drivers["plies"] = plies.named(f"{off.key}.plies", f"{off.name}: plies")
    glass = total([ply.net for ply in laid], NO_MASS)
    off.drivers["glass mass"] = glass.named(f"{off.key}.glass", f"{off.name}: glass net")
    return laid


def _zone_plies(catalogue: Catalogue, off: TakeOff, zone: Zone, key: str) -> Iterator[LaidPly]:
    stack: Laminate = catalogue.records.laminates[zone.laminate]
    label = f"{off.name}: {zone.name}"
    area = region(off, zone, key, label)
    glasses: list[Glass] = [catalogue.records.of("glass")[ply.glass] for ply in stack.plies]
    masses = [
        glass.areal_mass * ply.layers if ply.layers is not None else glass.areal_mass
        for glass, ply in zip(glasses, stack.plies, strict=True)
    ]
    mixed = _mixed_content(stack, glasses, masses, key, label)
    for number, (ply, glass, mass) in enumerate(zip(stack.plies, glasses, masses, strict=True), 1):
        factor = ONE
        if glass.overlap is not None and glass.roll_width is not None:
            factor = laminate.overlap_factor(glass.roll_width, glass.overlap)
        own = ply.glass_content if ply.glass_content is not None else glass.glass_content
        where, called = f"{key}.ply{number}", f"{label}, ply {number}"
        net = laminate.glass_mass(area, factor, mass)
        net = net.named(f"{where}.net", f"{called} {glass.name}, net")
        content = own if mixed is None or glass.form not in MIXED else mixed
        layers = ply.layers if ply.layers is not None else ONE
        yield LaidPly(
            zone=zone,
            ply=ply,
            glass=glass,
            area=area,
            layers=layers,
            areal_mass=mass,
            content=content,
            net=net,
            key=where,
            label=called,
        )


def _mixed_content(
    stack: Laminate, glasses: list[Glass], masses: list[Figure], key: str, label: str
) -> Figure | None:
    """One glass content of all mat and woven plies by the share of mat, where there is a rule."""
    rule = stack.mixed_content
    if rule is None:
        return None
    nothing = constant(0.0, "kg/m2")
    mats = [m for glass, m in zip(glasses, masses, strict=True) if glass.form == "mat"]
    both = [m for glass, m in zip(glasses, masses, strict=True) if glass.form in MIXED]
    if not both:
        return None
    share = total(mats, nothing) / total(both, nothing)
    share = share.named(f"{key}.mat_share", f"{label}, mat's share of mat and woven", "percent")
    content = laminate.mixed_glass_content(share, rule.all_woven, rule.mat_slope)
    return content.named(f"{key}.content", f"{label}, glass content of mat and woven", "percent")


def glass_line(part: OpenMouldPart | ClosedMouldPart, laid: LaidPly, stage: str) -> MaterialLine:
    """The glass of one ply: net on the mould, issued from the rolls it is cut from."""
    issued = laid.net
    if part.nest_utilisation is not None:
        issued = losses.cut_from(issued, part.nest_utilisation)
    issued = with_loss(issued, laid.glass)
    issued = issued.named(f"{laid.key}.issued", f"{laid.label} {laid.glass.name}, issued")
    use = f"{laid.zone.name}, {laid.label.rpartition(', ')[2]}"
    return MaterialLine(
        material=str(laid.ply.glass),
        use=use,
        stage=stage,
        net=laid.net,
        issued=issued,
        mass=laid.net,
        place=laid.ply.place,
        area=laid.area,
        layers=laid.layers,
    )


def add_open_mould(catalogue: Catalogue, off: TakeOff, part: OpenMouldPart) -> None:
    """Glass ply by ply, and resin by stage: the skin coat apart from the bulk."""
    laid = laid_plies(catalogue, off, part)
    if part.resin is None:
        return
    resin: Resin = catalogue.records.of("resin")[part.resin]
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
        line = MaterialLine(
            material=str(part.resin),
            use=stage,
            stage=stage,
            net=net,
            issued=issued,
            mass=net,
            place=part.place,
            given_off=_given_off(off, resin, stage, issued, key, label),
        )
        add_mixed(off, resin, line, key, label)
