"""Take-off of moulded parts, laid by hand or injected, and whether the mould can work."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.catalogue.factory import Laminate
from quoter.catalogue.materials import Foam, Gelcoat, Glass, Material, Resin
from quoter.catalogue.parts import ClosedMouldPart, Face, OpenMouldPart, Zone
from quoter.catalogue.prices import Catalogue
from quoter.costing.given_off import applied_by, given_off, kind_of
from quoter.costing.quantities import (
    NO_MASS,
    ONE,
    GivenOff,
    LaidPly,
    Limit,
    MaterialLine,
    TakeOff,
    entry_of,
    region,
)
from quoter.engineering import closed_mould, gelcoat, laminate, losses
from quoter.figures import Figure, constant, total
from quoter.figures.ops import both, less_or_equal
from quoter.problems import Problem


def add_faces(catalogue: Catalogue, off: TakeOff, faces: Sequence[Face], hull: str) -> None:
    """Gelcoat and its catalyst for every face; a face of colour `hull` gets the hull's gelcoat."""
    for number, face in enumerate(faces, 1):
        colour = hull if face.colour == "hull" else str(face.colour)
        coat: Gelcoat = catalogue.records.of("gelcoat")[colour]
        key, label = f"{off.key}.face{number}", f"{off.name}: face {number} {coat.colour}"
        area = region(off, face, key, label)
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
        content = own if mixed is None else mixed
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
    """The glass content of a whole stack by its share of mat, where the laminate has a rule."""
    rule = stack.mixed_content
    if rule is None:
        return None
    nothing = constant(0.0, "kg/m2")
    mats = [m for glass, m in zip(glasses, masses, strict=True) if glass.form == "mat"]
    share = total(mats, nothing) / total(masses, nothing)
    share = share.named(f"{key}.mat_share", f"{label}, mat's share of the glass", "percent")
    content = laminate.mixed_glass_content(share, rule.all_woven, rule.mat_slope)
    return content.named(f"{key}.content", f"{label}, glass content of the stack", "percent")


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


ROUNDING_NOISE = 1e-9  # a stack that fills its gap exactly must not fail by the last bit


def add_closed_mould(catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart) -> None:
    """The dry kit, and the resin that fills what fibre and core leave of the cavity."""
    laid = laid_plies(catalogue, off, part)
    off.lines.extend(glass_line(part, ply, "bulk") for ply in laid)
    resin: Resin = catalogue.records.of("resin")[part.resin]
    free = _free_volume(off, part)
    fibre = closed_mould.fibre_volume(
        off.drivers["glass mass"], catalogue.yard.policy.glass_density
    )
    fibre = fibre.named(f"{off.key}.fibre_volume", f"{off.name}: fibre volume")
    _inject(off, part, resin, closed_mould.injected_resin(free, fibre, resin.liquid_density))
    _check_clamp(off, part)
    _check_fibre(catalogue, off, part, closed_mould.fibre_volume_fraction(fibre, free))
    _check_fit(catalogue, off, part, resin, laid)


def _inject(off: TakeOff, part: ClosedMouldPart, resin: Resin, net: Figure) -> None:
    key, label = f"{off.key}.resin", f"{off.name}: injected resin"
    net = net.named(f"{key}.net", f"{label} net")
    waste = part.gallery_and_catch_pot if part.gallery_and_catch_pot is not None else NO_MASS
    loss = loss_of(resin)
    issued = closed_mould.issued_per_shot(net, waste, loss if loss is not None else constant(0.0))
    issued = issued.named(f"{key}.issued", f"{label} issued")
    line = MaterialLine(
        material=str(part.resin),
        use="injected",
        stage="resin",
        net=net,
        issued=issued,
        mass=net,
        place=part.place,
    )
    add_mixed(off, resin, line, key, label)


def _free_volume(off: TakeOff, part: ClosedMouldPart) -> Figure:
    """The cavity less the core: what fibre and resin share."""
    cavities, cores = [], []
    for number, zone in enumerate(part.zones, 1):
        key, label = f"{off.key}.zone{number}", f"{off.name}: {zone.name}"
        area = region(off, zone, key, label)
        if zone.gap is None:
            raise ValueError(f"zone {zone.name} of a closed mould without gap passed the checks")
        cavities.append((area * zone.gap).named(f"{key}.cavity", f"{label}, cavity volume"))
        if zone.core is not None:
            cores.append((area * zone.core).named(f"{key}.core", f"{label}, core volume"))
    nothing = constant(0.0, "m3")
    cavity = total(cavities, nothing).named(f"{off.key}.cavity", f"{off.name}: cavity volume")
    filled = total(cores, nothing).named(f"{off.key}.core", f"{off.name}: core volume")
    off.drivers["core volume"] = filled
    free = closed_mould.free_volume(cavity, filled)
    return free.named(f"{off.key}.free_volume", f"{off.name}: free volume")


def _check_clamp(off: TakeOff, part: ClosedMouldPart) -> None:
    vacuum = part.vacuum
    force = closed_mould.clamp_force(
        vacuum.flange_pressure, vacuum.flange_area, vacuum.cavity_pressure, vacuum.cavity_area
    )
    off.notable.append(force.named(f"{off.key}.clamp", f"{off.name}: vacuum clamp force"))
    atmosphere = constant(closed_mould.STANDARD_ATMOSPHERE_PA, "Pa")
    for pressure, where in ((vacuum.flange_pressure, "flange"), (vacuum.cavity_pressure, "cavity")):
        what = f"{off.name}: {where} vacuum no more than the atmosphere"
        off.limits.append(Limit(what, less_or_equal(pressure, atmosphere), vacuum.place))


def _check_fibre(
    catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart, fraction: Figure
) -> None:
    label = f"{off.name}: fibre volume fraction"
    fraction = fraction.named(f"{off.key}.fibre_fraction", label, "percent")
    off.notable.append(fraction)
    policy = catalogue.yard.policy
    low, high = policy.fibre_fraction_low.value, policy.fibre_fraction_high.value
    within = both(
        less_or_equal(policy.fibre_fraction_low, fraction),
        less_or_equal(fraction, policy.fibre_fraction_high),
    )
    off.limits.append(Limit(f"{off.name}: fibre volume within its range", within, part.place))
    if low <= fraction.value <= high:
        return
    what = f"fibre is {fraction.value:.1%} of the free volume of '{part.id}'"
    thing = "the moulds won't close or fill" if fraction.value > high else "it is rich in resin"
    hint = f"expected {low:.0%} to {high:.0%}, else {thing}; check gaps, core and stack"
    off.problems.append(Problem(part.place, "fibre-fraction", what, hint))


def _check_fit(
    catalogue: Catalogue,
    off: TakeOff,
    part: ClosedMouldPart,
    resin: Resin,
    laid: list[LaidPly],
) -> None:
    """The plies at their own glass content and the core must fit the gap of their zone."""
    glass_density = catalogue.yard.policy.glass_density
    for number, zone in enumerate(part.zones, 1):
        thicknesses = [
            laminate.ply_thickness(ply.areal_mass, ply.content, glass_density, resin.cured_density)
            for ply in laid
            if ply.zone is zone
        ]
        core_thickness = zone.core if zone.core is not None else constant(0.0, "m")
        filled = total([*thicknesses, core_thickness], core_thickness)
        label = f"{off.name}: {zone.name}, plies and core"
        filled = filled.named(f"{off.key}.zone{number}.filled", label)
        off.notable.append(filled)
        if zone.gap is None:
            continue
        allowed = zone.gap * (1 + ROUNDING_NOISE)
        off.limits.append(Limit(f"{label} fit the gap", less_or_equal(filled, allowed), zone.place))
        if filled.value > allowed.value:
            what = (
                f"zone '{zone.name}' of '{part.id}' holds {filled.value * 1000:.1f} mm "
                f"of plies and core in a gap of {zone.gap.value * 1000:g} mm"
            )
            hint = "thin the core or stack, or widen the gap"
            off.problems.append(Problem(zone.place, "does-not-fit", what, hint))
