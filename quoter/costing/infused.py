"""Take-off of an infused part: a skin coat laid open, the dry kit, and resin by its target.

Core, flow medium, lines and pot drink of the resin too; one atmosphere packs the kit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_processes import is_dry
from quoter.catalogue.parts import InfusedPart
from quoter.catalogue.prices import Catalogue
from quoter.costing.goods import resin_taken_up
from quoter.costing.moulded import (
    add_laid,
    add_mixed,
    glass_line,
    laid_plies,
    loss_of,
    resin_of,
)
from quoter.costing.quantities import (
    NO_MASS,
    LaidPly,
    Limit,
    MaterialLine,
    TakeOff,
    fibre_within,
)
from quoter.engineering import closed_mould, infusion, laminate
from quoter.figures import Figure, constant, total
from quoter.figures.ops import both, less_or_equal
from quoter.figures.readers import THIN
from quoter.phrases import phrase
from quoter.problems import Problem


def add_infused(catalogue: Catalogue, off: TakeOff, part: InfusedPart) -> None:
    """The skin coat, the dry kit, and the resin infused into it."""
    laid = laid_plies(catalogue, off, part)
    add_laid(catalogue, off, part, [ply for ply in laid if not is_dry(ply.ply)])
    target = _target(catalogue, off, part)
    kit = [
        replace(ply, content=_packed(ply) if target is None else target)
        for ply in laid
        if is_dry(ply.ply)
    ]
    off.lines.extend(glass_line(off, part, ply, "bulk") for ply in kit)
    wets = []
    for ply in kit:
        wet = laminate.resin_for_glass(ply.net, ply.content)
        wets.append(wet.named(f"{ply.key}.resin", phrase("{label}, resin net", label=ply.label)))
    between = total(wets, NO_MASS)
    between = between.named(
        f"{off.key}.resin.laminate", phrase("{name}: resin in the dry kit", name=off.name)
    )
    _infuse(catalogue, off, part, between)
    _tell_thickness(catalogue, off, part, [ply for ply in laid if not is_dry(ply.ply)], kit)
    _check_vacuum(off, part)
    _check_fibre(catalogue, off, part, kit, between)


def _target(catalogue: Catalogue, off: TakeOff, part: InfusedPart) -> Figure | None:
    """The glass content of all of the kit, where the part states one target for it."""
    if part.fibre_volume is None:
        return part.glass_content
    resin = resin_of(catalogue, part, "bulk")
    density = catalogue.yard.policy.glass_density
    content = infusion.glass_content(part.fibre_volume, density, resin.cured_density)
    label = phrase("{name}: glass content of the dry kit", name=off.name)
    return content.named(f"{off.key}.target", label, "percent")


def _packed(ply: LaidPly) -> Figure:
    """The glass content that a ply packs to under the bag, of its stack or its glass."""
    if ply.ply.glass_content is not None:
        return ply.ply.glass_content
    if ply.glass.infused_content is None:
        raise ValueError(f"glass {ply.glass.id} without a target passed the checks")
    return ply.glass.infused_content


def _infuse(catalogue: Catalogue, off: TakeOff, part: InfusedPart, between: Figure) -> None:
    resin = resin_of(catalogue, part, "bulk")
    key, label = f"{off.key}.resin", phrase("{name}: infused resin", name=off.name)
    net = total([between, *resin_taken_up(catalogue, off, built_in=True)], NO_MASS)
    net = net.named(f"{key}.net", phrase("{label} net", label=label))
    held = total(resin_taken_up(catalogue, off, built_in=False), NO_MASS)
    held = held.named(
        f"{key}.held", phrase("{name}: resin in flow medium and peel ply", name=off.name)
    )
    lines = part.lines_and_pot if part.lines_and_pot is not None else NO_MASS
    loss = loss_of(resin)
    issued = infusion.issued_per_infusion(
        net, held, lines, loss if loss is not None else constant(0.0)
    )
    line = MaterialLine(
        material=str(part.resin),
        use=phrase("infused"),
        stage="resin",
        net=net,
        issued=issued.named(f"{key}.issued", phrase("{label} issued", label=label)),
        mass=net,
        place=part.place,
    )
    add_mixed(off, resin, line, key, label)


def _tell_thickness(
    catalogue: Catalogue,
    off: TakeOff,
    part: InfusedPart,
    skin: Sequence[LaidPly],
    kit: Sequence[LaidPly],
) -> None:
    """How thick skin coat and kit of each zone come out, without gelcoat and core."""
    density = catalogue.yard.policy.glass_density
    for number, zone in enumerate(part.zones, 1):
        thick = [
            laminate.ply_thickness(
                ply.areal_mass, ply.content, density, resin_of(catalogue, part, stage).cured_density
            )
            for stage, plies in (("skin", skin), ("bulk", kit))
            for ply in plies
            if ply.zone is zone
        ]
        label = phrase("{name}: {zone}, thickness of the laminate", name=off.name, zone=zone.name)
        thickness = total(thick, constant(0.0, "m"))
        off.notable.append(thickness.named(f"{off.key}.zone{number}.thickness", label, THIN))


def _check_vacuum(off: TakeOff, part: InfusedPart) -> None:
    atmosphere = constant(closed_mould.STANDARD_ATMOSPHERE_PA, "Pa")
    what = phrase("{name}: vacuum under the bag no more than the atmosphere", name=off.name)
    holds = less_or_equal(part.bag_pressure, atmosphere)
    off.limits.append(Limit(what, holds, figure_place(part.bag_pressure)))


def _check_fibre(
    catalogue: Catalogue, off: TakeOff, part: InfusedPart, kit: Sequence[LaidPly], between: Figure
) -> None:
    """Fibre volume of the kit within what an infusion gives."""
    policy = catalogue.yard.policy
    glass = total([ply.net for ply in kit], NO_MASS)
    glass = glass.named(f"{off.key}.kit", phrase("{name}: glass of the dry kit", name=off.name))
    density = resin_of(catalogue, part, "bulk").cured_density
    fraction = infusion.packed_fibre_fraction(glass, between, policy.glass_density, density)
    label = phrase("{name}: fibre volume fraction", name=off.name)
    fraction = fraction.named(f"{off.key}.fibre_fraction", label, "percent")
    off.notable.append(fraction)
    low, high = (
        limit if limit is not None else constant(otherwise)
        for limit, otherwise in (
            (policy.infused_fibre_low, infusion.LOWEST_FIBRE),
            (policy.infused_fibre_high, infusion.HIGHEST_FIBRE),
        )
    )
    within = both(less_or_equal(low, fraction), less_or_equal(fraction, high))
    off.limits.append(fibre_within(off, within))
    if low.value <= fraction.value <= high.value:
        return
    what = f"fibre is {fraction.value:.1%} of the infused laminate of '{part.id}'"
    thing = "one atmosphere won't pack it" if fraction.value > high.value else "it is rich in resin"
    hint = f"expected {low.value:.0%} to {high.value:.0%}, else {thing}; check the target"
    off.problems.append(Problem(part.place, "fibre-fraction", what, hint))
