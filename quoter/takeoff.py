"""Catalogue parts become quantities: every material line, driver and check of one good part.

All quantities are per part, net and as issued; the formulas are those of `quoter.engineering`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from quoter.catalogue.factory import Laminate, Ply
from quoter.catalogue.materials import Gelcoat, Glass, Resin
from quoter.catalogue.parts import (
    ClosedMouldPart,
    CorePart,
    Face,
    Goods,
    OpenMouldPart,
    Shape,
    Zone,
)
from quoter.catalogue.prices import Catalogue
from quoter.catalogue.records import AnyPart
from quoter.engineering import closed_mould, core, gelcoat, geometry, laminate, losses
from quoter.figures import Figure, constant, total
from quoter.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Line:
    """An amount of one material: net in the product, issued from stores, and mass it adds.

    `net` and `issued` are in the unit the material is counted in; `mass` in kg; `stage` says which
    operation it enters at.
    """

    material: str
    use: str
    stage: str
    net: Figure
    issued: Figure
    mass: Figure
    place: Place


@dataclass(slots=True)
class TakeOff:
    """The quantities of one part in one shape and hull colour."""

    part: AnyPart
    key: str
    name: str
    lines: list[Line] = field(default_factory=list)
    drivers: dict[str, Figure] = field(default_factory=dict)
    notable: list[Figure] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    regions: dict[str, Figure] = field(default_factory=dict)


KG = constant(0.0, "kg")
ONE = constant(1.0)
RESIN_STAGE = {OpenMouldPart: "bulk", ClosedMouldPart: "resin"}


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
    _geometry(off, overridden(part.shape, shape))
    if isinstance(part, CorePart):
        _core(catalogue, off, part)
    else:
        _faces(catalogue, off, part.gelcoat, hull_colour)
        if isinstance(part, ClosedMouldPart):
            _closed_mould(catalogue, off, part)
        else:
            _open_mould(catalogue, off, part)
    for number, goods in enumerate(part.goods, 1):
        off.lines.append(goods_line(catalogue, goods, off, f"{key}.goods{number}"))
    return off


def overridden(own: Shape, other: Shape | None) -> Shape:
    """The part's own shape with the fields another one gives; new sides drop written areas."""
    if other is None:
        return own
    given = {name: getattr(other, name) for name in type(other).model_fields}
    given = {name: value for name, value in given.items() if value is not None}
    kept = {name: getattr(own, name) for name in type(own).model_fields}
    if given.keys() & {"width", "height", "diameter"}:
        kept |= {"area": None, "perimeter": None, "volume": None}
    if "diameter" in given:
        kept |= {"width": None, "height": None, "corner_radius": None}
    return own.model_copy(update=kept | given)


def _geometry(off: TakeOff, shape: Shape) -> None:
    area, perimeter = shape.area, shape.perimeter
    if shape.width is not None and shape.height is not None:
        radius = shape.corner_radius if shape.corner_radius is not None else constant(0.0, "m")
        sides = shape.width, shape.height, radius
        area = geometry.rectangle_area(*sides) if area is None else area
        perimeter = geometry.rectangle_perimeter(*sides) if perimeter is None else perimeter
    elif shape.diameter is not None:
        area = geometry.circle_area(shape.diameter) if area is None else area
        perimeter = geometry.circle_perimeter(shape.diameter) if perimeter is None else perimeter
    volume = shape.volume
    if volume is None and area is not None and shape.thickness is not None:
        volume = area * shape.thickness
    for name, figure in (("area", area), ("perimeter", perimeter), ("volume", volume)):
        if figure is not None:
            off.drivers[name] = figure.named(f"{off.key}.{name}", f"{off.name}: {name}")
    off.drivers["count"] = ONE


def _region(off: TakeOff, zone: Zone | Face, key: str, label: str) -> Figure:
    """The area of a zone or face: given, a strip along the edge, or a share of the whole."""
    if key not in off.regions:
        area = zone.area
        if zone.strip is not None:
            area = off.drivers["perimeter"] * zone.strip
        elif zone.share is not None:
            area = off.drivers["area"] * zone.share
        elif area is None:
            return off.drivers["area"]
        off.regions[key] = area.named(f"{key}.area", f"{label}, area")
    return off.regions[key]


def _faces(catalogue: Catalogue, off: TakeOff, faces: Sequence[Face], hull: str) -> None:
    for number, face in enumerate(faces, 1):
        colour = hull if face.colour == "hull" else str(face.colour)
        coat = catalogue.records.of("gelcoat")[colour]
        key, label = f"{off.key}.face{number}", f"{off.name}: face {number} {coat.colour}"
        area = _region(off, face, key, label)
        net = gelcoat.film_mass(area, coat.wet_thickness, coat.density)
        net = net.named(f"{key}.net", f"{label}, gelcoat net")
        issued = losses.issued(net, losses.transfer_loss(coat.transfer))
        if coat.loss is not None:
            issued = losses.issued(issued, coat.loss)
        issued = issued.named(f"{key}.issued", f"{label}, gelcoat issued")
        off.lines.append(Line(colour, f"face {number}", "gelcoat", net, issued, net, face.place))
        off.lines.append(_catalyst(coat, issued, key, label, f"face {number}", face.place))
    off.drivers["gelcoat faces"] = constant(float(len(faces)))


def _catalyst(
    resin: Resin | Gelcoat, issued: Figure, key: str, label: str, use: str, place: Place
) -> Line:
    net = laminate.catalyst_mass(issued, resin.catalyst_fraction)
    net = net.named(f"{key}.catalyst", f"{label}, catalyst")
    stage = "gelcoat" if isinstance(resin, Gelcoat) else "resin"
    return Line(str(resin.catalyst), use, stage, net, net, KG, place)


def _plies(
    catalogue: Catalogue, off: TakeOff, part: OpenMouldPart | ClosedMouldPart
) -> Iterator[tuple[Zone, Ply, Glass, Figure, str, str]]:
    """Each ply of each zone with its net glass mass, key and label."""
    for number, zone in enumerate(part.zones, 1):
        stack: Laminate = catalogue.records.laminates[str(zone.laminate)]
        key, label = f"{off.key}.zone{number}", f"{off.name}: {zone.name}"
        area = _region(off, zone, key, label)
        for ply_number, ply in enumerate(stack.plies, 1):
            glass: Glass = catalogue.records.of("glass")[str(ply.glass)]
            factor = ONE
            if glass.overlap is not None and glass.roll_width is not None:
                factor = laminate.overlap_factor(glass.roll_width, glass.overlap)
            weight = glass.areal_mass * ply.layers if ply.layers is not None else glass.areal_mass
            net = laminate.glass_mass(area, factor, weight)
            where = f"{key}.ply{ply_number}"
            named = net.named(f"{where}.net", f"{label}, ply {ply_number} {glass.name}, net")
            yield zone, ply, glass, named, where, f"{label}, ply {ply_number}"


def _glass_line(
    part: OpenMouldPart | ClosedMouldPart,
    row: tuple[Zone, Ply, Glass, Figure, str, str],
    stage: str,
) -> Line:
    zone, ply, glass, net, key, label = row
    issued = net
    if part.nest_utilisation is not None:
        issued = issued / part.nest_utilisation
    if glass.loss is not None:
        issued = losses.issued(issued, glass.loss)
    issued = issued.named(f"{key}.issued", f"{label} {glass.name}, issued")
    use = f"{zone.name}, {label.rpartition(', ')[2]}"
    return Line(str(ply.glass), use, stage, net, issued, net, ply.place)


def _count_plies(off: TakeOff, part: OpenMouldPart | ClosedMouldPart, catalogue: Catalogue) -> None:
    layers = [
        ply.layers if ply.layers is not None else ONE
        for zone in part.zones
        for ply in catalogue.records.laminates[str(zone.laminate)].plies
    ]
    plies = total(layers, constant(0.0))
    off.drivers["plies"] = plies.named(f"{off.key}.plies", f"{off.name}: plies")


def _glass_total(off: TakeOff, nets: list[Figure]) -> Figure:
    glass = total(nets, KG).named(f"{off.key}.glass", f"{off.name}: glass net")
    off.drivers["glass mass"] = glass
    return glass


def _open_mould(catalogue: Catalogue, off: TakeOff, part: OpenMouldPart) -> None:
    rows = list(_plies(catalogue, off, part))
    _count_plies(off, part, catalogue)
    _glass_total(off, [row[3] for row in rows])
    if part.resin is None:
        return
    resin: Resin = catalogue.records.of("resin")[str(part.resin)]
    by_stage: dict[str, list[Figure]] = {}
    for row in rows:
        _, ply, glass, net, key, label = row
        stage = ply.stage or "bulk"
        off.lines.append(_glass_line(part, row, stage))
        content = ply.glass_content if ply.glass_content is not None else glass.glass_content
        wet = laminate.resin_for_glass(net, content).named(f"{key}.resin", f"{label}, resin net")
        by_stage.setdefault(stage, []).append(wet)
    for stage, wets in by_stage.items():
        key, label = f"{off.key}.resin_{stage}", f"{off.name}: {stage} resin"
        net = total(wets, KG).named(f"{key}.net", f"{label}, net")
        issued = net if resin.loss is None else losses.issued(net, resin.loss)
        issued = issued.named(f"{key}.issued", f"{label}, issued")
        off.lines.append(Line(str(part.resin), stage, stage, net, issued, net, part.place))
        line = _catalyst(resin, issued, key, label, stage, part.place)
        off.lines.append(Line(line.material, stage, stage, line.net, line.issued, KG, part.place))


def _closed_mould(catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart) -> None:
    rows = list(_plies(catalogue, off, part))
    _count_plies(off, part, catalogue)
    glass = _glass_total(off, [row[3] for row in rows])
    off.lines.extend(_glass_line(part, row, "bulk") for row in rows)
    resin: Resin = catalogue.records.of("resin")[str(part.resin)]
    density = catalogue.yard.policy.glass_density
    free = _free_volume(off, part)
    fibre = closed_mould.fibre_volume(glass, density)
    fibre = fibre.named(f"{off.key}.fibre_volume", f"{off.name}: fibre volume")
    fraction = closed_mould.fibre_volume_fraction(fibre, free)
    off.notable.append(
        fraction.named(f"{off.key}.fibre_fraction", f"{off.name}: fibre volume", "percent")
    )
    net = closed_mould.injected_resin(free, fibre, resin.liquid_density)
    net = net.named(f"{off.key}.resin.net", f"{off.name}: injected resin net")
    waste = part.gallery_and_catch_pot if part.gallery_and_catch_pot is not None else KG
    loss = resin.loss if resin.loss is not None else constant(0.0)
    issued = closed_mould.issued_per_shot(net, waste, loss)
    issued = issued.named(f"{off.key}.resin.issued", f"{off.name}: injected resin issued")
    off.lines.append(Line(str(part.resin), "injected", "resin", net, issued, net, part.place))
    key, label = f"{off.key}.resin", f"{off.name}: injected resin"
    off.lines.append(_catalyst(resin, issued, key, label, "injected", part.place))
    _clamp(off, part)
    _check_fibre(catalogue, off, part, fraction)
    _check_fit(catalogue, off, part, resin, rows)


def _free_volume(off: TakeOff, part: ClosedMouldPart) -> Figure:
    """The cavity less the core: what fibre and resin share."""
    cavities, cores = [], []
    for number, zone in enumerate(part.zones, 1):
        key, label = f"{off.key}.zone{number}", f"{off.name}: {zone.name}"
        area = _region(off, zone, key, label)
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


def _clamp(off: TakeOff, part: ClosedMouldPart) -> None:
    vacuum = part.vacuum
    force = closed_mould.clamp_force(
        vacuum.flange_pressure, vacuum.flange_area, vacuum.cavity_pressure, vacuum.cavity_area
    )
    off.notable.append(force.named(f"{off.key}.clamp", f"{off.name}: vacuum clamp force"))


def _check_fibre(
    catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart, fraction: Figure
) -> None:
    policy = catalogue.yard.policy
    low, high = policy.fibre_fraction_low.value, policy.fibre_fraction_high.value
    if low <= fraction.value <= high:
        return
    what = f"fibre is {fraction.value:.1%} of the free volume of '{part.id}'"
    thing = "the moulds won't close or fill" if fraction.value > high else "it is rich in resin"
    hint = f"expected {low:.0%} to {high:.0%}, else {thing}; check gaps, core and stack"
    off.problems.append(Problem(part.place, what, hint))


def _check_fit(
    catalogue: Catalogue,
    off: TakeOff,
    part: ClosedMouldPart,
    resin: Resin,
    rows: list[tuple[Zone, Ply, Glass, Figure, str, str]],
) -> None:
    """The plies at their own glass content and the core must fit the gap of their zone."""
    for number, zone in enumerate(part.zones, 1):
        thicknesses = [
            laminate.ply_thickness(
                glass.areal_mass * (ply.layers if ply.layers is not None else ONE),
                ply.glass_content if ply.glass_content is not None else glass.glass_content,
                catalogue.yard.policy.glass_density,
                resin.cured_density,
            )
            for own, ply, glass, *_ in rows
            if own is zone
        ]
        core_thickness = zone.core if zone.core is not None else constant(0.0, "m")
        filled = total([*thicknesses, core_thickness], core_thickness)
        label = f"{off.name}: {zone.name}, plies and core"
        filled = filled.named(f"{off.key}.zone{number}.filled", label)
        off.notable.append(filled)
        if zone.gap is not None and filled.value > zone.gap.value * (1 + 1e-9):
            what = (
                f"zone '{zone.name}' of '{part.id}' holds {filled.value * 1000:.1f} mm "
                f"of plies and core in a gap of {zone.gap.value * 1000:g} mm"
            )
            off.problems.append(
                Problem(zone.place, what, "thin the core or stack, or widen the gap")
            )


def _core(catalogue: Catalogue, off: TakeOff, part: CorePart) -> None:
    foam = catalogue.records.of("foam")[str(part.foam)]
    volume = off.drivers["volume"]
    net = core.foam_mass(volume, foam.free_rise_density, foam.packing_factor)
    net = net.named(f"{off.key}.foam.net", f"{off.name}: foam net")
    issued = net if foam.loss is None else losses.issued(net, foam.loss)
    issued = issued.named(f"{off.key}.foam.issued", f"{off.name}: foam issued")
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
    issued = net
    if item.loss is not None:
        issued = losses.issued(net, item.loss)
        issued = issued.named(f"{where}.issued", f"{label}, issued")
    mass = KG
    if goods.built_in:
        mass = (net * item.mass).named(f"{where}.mass", f"{label}, mass")
    return Line(str(goods.item), str(item.name), goods.stage, net, issued, mass, goods.place)
