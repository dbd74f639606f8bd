"""Take-off of a panel by light resin transfer moulding, and whether its mould can work."""

from __future__ import annotations

from quoter.catalogue.materials import Resin
from quoter.catalogue.parts import ClosedMouldPart
from quoter.catalogue.prices import Catalogue
from quoter.engineering import closed_mould, laminate
from quoter.figures import Figure, constant, total
from quoter.figures.ops import both, less_or_equal
from quoter.problems import Problem
from quoter.takeoff.laminates import catalyst_line, glass_line, laid_plies, loss_of
from quoter.takeoff.quantities import NO_MASS, LaidPly, Limit, Line, TakeOff
from quoter.takeoff.shapes import region

ROUNDING_NOISE = 1e-9  # a stack that fills its gap exactly must not fail by the last bit


def add_closed_mould(catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart) -> None:
    """The dry kit, and the resin that fills what fibre and core leave of the cavity."""
    laid = laid_plies(catalogue, off, part)
    off.lines.extend(glass_line(part, ply, "bulk") for ply in laid)
    resin: Resin = catalogue.records.of("resin")[str(part.resin)]
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
    off.lines.append(Line(str(part.resin), "injected", "resin", net, issued, net, part.place))
    off.lines.append(catalyst_line(resin, issued, key, label, "injected", "resin", part.place))


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
    off.problems.append(Problem(part.place, what, hint))


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
            off.problems.append(Problem(zone.place, what, hint))
