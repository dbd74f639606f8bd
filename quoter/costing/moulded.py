"""Take-off of what is moulded: gelcoat on faces, plies of glass, and resin laid or sprayed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from quoter.catalogue.factory import Laminate, Ply
from quoter.catalogue.materials import MIXED, SPRAYED, Foam, Gelcoat, Glass, Material, Resin
from quoter.catalogue.operations import Operation
from quoter.catalogue.parts import (
    ClosedMouldPart,
    Face,
    InfusedPart,
    MouldedPart,
    OpenMouldPart,
    Zone,
)
from quoter.catalogue.prices import Catalogue
from quoter.costing.cutting import cut_of
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
from quoter.engineering import gelcoat, laminate, losses, spray_up
from quoter.figures import Figure, constant, total
from quoter.phrases import phrase


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
        key, label = (
            f"{off.key}.face{number}",
            phrase(
                "{name}: face {number} {colour}", name=off.name, number=number, colour=coat.colour
            ),
        )
        area = region(off, face, key, label)
        coated.append(CoatedFace(coat, area))
        net = gelcoat.film_mass(area, coat.wet_thickness, coat.density)
        net = net.named(f"{key}.net", phrase("{label}, gelcoat net", label=label))
        issued = with_loss(losses.issued(net, losses.transfer_loss(coat.transfer)), coat)
        issued = issued.named(f"{key}.issued", phrase("{label}, gelcoat issued", label=label))
        use = phrase("face {number}", number=number)
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
    by = applied_by(_entry(off, stage))
    return given_off(material, kind_of(material), by, issued, key, label)


def _entry(off: TakeOff, stage: str) -> Operation | None:
    """The operation that a stage enters at, if the part has any."""
    route = off.part.operations
    return route[entry_of(route, stage)] if route else None


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
    net = net.named(f"{key}.catalyst", phrase("{label}, catalyst", label=label))
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


def resin_of(catalogue: Catalogue, part: MouldedPart, stage: str) -> Resin:
    """The resin of the plies of a stage; the skin coat of an infused part may have its own."""
    return catalogue.records.of("resin")[_resin_id(part, stage)]  # type: ignore[no-any-return]


def _resin_id(part: MouldedPart, stage: str) -> str:
    if isinstance(part, InfusedPart) and stage == "skin" and part.skin_resin is not None:
        return str(part.skin_resin)
    return str(part.resin)


def laid_plies(catalogue: Catalogue, off: TakeOff, part: MouldedPart) -> list[LaidPly]:
    """Each ply of each zone with its net glass mass; also the plies and glass as drivers."""
    laid = [
        ply
        for number, zone in enumerate(part.zones, 1)
        for ply in _zone_plies(catalogue, off, part, zone, f"{off.key}.zone{number}")
    ]
    plies = total([ply.layers for ply in laid], constant(0.0))
    off.drivers["plies"] = plies.named(f"{off.key}.plies", phrase("{name}: plies", name=off.name))
    glass = total([ply.net for ply in laid], NO_MASS)
    off.drivers["glass mass"] = glass.named(
        f"{off.key}.glass", phrase("{name}: glass net", name=off.name)
    )
    return laid


def _zone_plies(
    catalogue: Catalogue, off: TakeOff, part: MouldedPart, zone: Zone, key: str
) -> Iterator[LaidPly]:
    stack: Laminate = catalogue.records.laminates[zone.laminate]
    label = f"{off.name}: {zone.name}"
    area = region(off, zone, key, label)
    glasses: list[Glass] = [catalogue.records.of("glass")[ply.glass] for ply in stack.plies]
    masses = [
        _areal_mass(
            catalogue,
            part,
            glass,
            ply,
            f"{key}.ply{number}",
            phrase("{label}, ply {number}", label=label, number=number),
        )
        for number, (glass, ply) in enumerate(zip(glasses, stack.plies, strict=True), 1)
    ]
    mixed = _mixed_content(stack, glasses, masses, key, label)
    policy, trimmed = catalogue.yard.policy, not isinstance(part, ClosedMouldPart)
    for number, (ply, glass, mass) in enumerate(zip(stack.plies, glasses, masses, strict=True), 1):
        factor = ONE
        if glass.overlap is not None and glass.roll_width is not None:
            factor = laminate.overlap_factor(glass.roll_width, glass.overlap)
        own = ply.glass_content if ply.glass_content is not None else glass.glass_content
        where, called = (
            f"{key}.ply{number}",
            phrase("{label}, ply {number}", label=label, number=number),
        )
        net = laminate.glass_mass(area, factor, mass)
        net = net.named(
            f"{where}.net", phrase("{called} {name}, net", called=called, name=glass.name)
        )
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
            cut=cut_of(policy, off.shape, part.zones, zone, glass, ply, area, trimmed=trimmed),
            key=where,
            label=called,
        )


def _areal_mass(
    catalogue: Catalogue, part: MouldedPart, glass: Glass, ply: Ply, key: str, label: str
) -> Figure:
    """Glass by area of a ply, all layers together; sprayed to a thickness, as much as makes it."""
    if ply.thickness is None:
        return glass.areal_mass if ply.layers is None else glass.areal_mass * ply.layers
    mass = spray_up.areal_mass_of_thickness(
        ply.thickness,
        ply.glass_content if ply.glass_content is not None else glass.glass_content,
        catalogue.yard.policy.glass_density,
        resin_of(catalogue, part, ply.stage or "bulk").cured_density,
    )
    return mass.named(f"{key}.sprayed", phrase("{label}, glass sprayed by area", label=label))


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
    share = share.named(
        f"{key}.mat_share", phrase("{label}, mat's share of mat and woven", label=label), "percent"
    )
    content = laminate.mixed_glass_content(share, rule.all_woven, rule.mat_slope)
    return content.named(
        f"{key}.content", phrase("{label}, glass content of mat and woven", label=label), "percent"
    )


def glass_line(off: TakeOff, part: MouldedPart, laid: LaidPly, stage: str) -> MaterialLine:
    """The glass of one ply: net on the mould, issued from the rolls it is cut from, or sprayed.

    What is sprayed is cut from nothing, so that it has no place on a cutting list.
    """
    issued, sprayed = laid.net, laid.glass.form == SPRAYED
    if sprayed:
        issued = _with_overspray(off, stage, issued)
    elif part.nest_utilisation is not None:
        issued = losses.cut_from(issued, part.nest_utilisation)
    issued = with_loss(issued, laid.glass)
    issued = issued.named(
        f"{laid.key}.issued",
        phrase("{label} {name}, issued", label=laid.label, name=laid.glass.name),
    )
    number = laid.label.rpartition(" ")[2]
    use = phrase("{zone}, ply {number}", zone=laid.zone.name, number=number)
    return MaterialLine(
        material=str(laid.ply.glass),
        use=use,
        stage=stage,
        net=laid.net,
        issued=issued,
        mass=laid.net,
        place=laid.ply.place,
        area=None if sprayed else laid.area,
        layers=None if sprayed else laid.layers,
        cut=laid.cut,
    )


def _with_overspray(off: TakeOff, stage: str, net: Figure) -> Figure:
    """What leaves the gun, or the bucket, for what is on the part."""
    operation = _entry(off, stage)
    if operation is None or operation.overspray is None:
        return net
    return losses.issued(net, operation.overspray)


def add_open_mould(catalogue: Catalogue, off: TakeOff, part: OpenMouldPart) -> None:
    """Glass ply by ply, and resin by stage: the skin coat apart from the bulk."""
    add_laid(catalogue, off, part, laid_plies(catalogue, off, part))


def add_laid(
    catalogue: Catalogue, off: TakeOff, part: OpenMouldPart | InfusedPart, laid: Sequence[LaidPly]
) -> None:
    """What is laid or sprayed in the open: glass ply by ply, and the resin of each stage."""
    wets: dict[str, list[Figure]] = {}
    for ply in laid:
        stage = ply.ply.stage or "bulk"
        off.lines.append(glass_line(off, part, ply, stage))
        wet = laminate.resin_for_glass(ply.net, ply.content)
        wet = wet.named(f"{ply.key}.resin", phrase("{label}, resin net", label=ply.label))
        wets.setdefault(stage, []).append(wet)
    for stage, amounts in wets.items():
        key, label = (
            f"{off.key}.resin_{stage}",
            phrase("{name}: {stage} resin", name=off.name, stage=stage),
        )
        resin = resin_of(catalogue, part, stage)
        net = total(amounts, NO_MASS).named(f"{key}.net", phrase("{label}, net", label=label))
        issued = with_loss(_with_overspray(off, stage, net), resin)
        issued = issued.named(f"{key}.issued", phrase("{label}, issued", label=label))
        line = MaterialLine(
            material=_resin_id(part, stage),
            use=stage,
            stage=stage,
            net=net,
            issued=issued,
            mass=net,
            place=part.place,
            given_off=_given_off(off, resin, stage, issued, key, label),
        )
        add_mixed(off, resin, line, key, label)
    _add_sprayed_mass(off, laid)


def _add_sprayed_mass(off: TakeOff, laid: Sequence[LaidPly]) -> None:
    """What leaves the gun, glass and resin together, as a driver of its time."""
    amounts = []
    for ply in laid:
        if ply.glass.form == SPRAYED:
            net = spray_up.laminate_mass(ply.net, ply.content)
            amounts.append(_with_overspray(off, ply.ply.stage or "bulk", net))
    if amounts:
        label = phrase("{name}: laminate sprayed", name=off.name)
        sprayed = total(amounts, NO_MASS).named(f"{off.key}.sprayed", label)
        off.drivers["sprayed mass"] = sprayed
