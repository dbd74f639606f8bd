"""Take-off of a closed mould: what its cavity takes, and whether the mould can work."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from quoter.catalogue.examples import thickness
from quoter.catalogue.materials import Resin
from quoter.catalogue.parts import ClosedMouldPart
from quoter.catalogue.prices import Catalogue
from quoter.costing.moulded import CoatedFace, add_mixed, glass_line, laid_plies, loss_of
from quoter.costing.quantities import (
    NO_MASS,
    ROUNDING_NOISE,
    LaidPly,
    Limit,
    MaterialLine,
    TakeOff,
    fibre_within,
    region,
)
from quoter.engineering import closed_mould, gelcoat, laminate
from quoter.figures import Figure, constant, total
from quoter.figures.ops import both, less_or_equal
from quoter.figures.readers import THIN
from quoter.phrases import phrase
from quoter.problems import Problem

CURED_SHARE = constant(gelcoat.CURED_SHARE, label="cured share of a gelcoat film")


class Film(NamedTuple):
    """A cured film of gelcoat: how thick it is, and its volume."""

    thickness: Figure
    volume: Figure


def add_closed_mould(
    catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart, faces: Sequence[CoatedFace]
) -> None:
    """The dry kit, and the resin that fills what gelcoat, fibre and core leave of the cavity."""
    laid = laid_plies(catalogue, off, part)
    off.lines.extend(glass_line(off, part, ply, "bulk") for ply in laid)
    resin: Resin = catalogue.records.of("resin")[part.resin]
    films = _films(off, faces)
    free = _free_volume(off, part, films)
    fibre = closed_mould.fibre_volume(
        off.drivers["glass mass"], catalogue.yard.policy.glass_density
    )
    fibre = fibre.named(f"{off.key}.fibre_volume", phrase("{name}: fibre volume", name=off.name))
    _inject(off, part, resin, closed_mould.injected_resin(free, fibre, resin.liquid_density))
    _check_clamp(off, part)
    _check_fit(catalogue, off, part, resin, laid, films)
    _check_fibre(catalogue, off, part, fibre, free)


def _inject(off: TakeOff, part: ClosedMouldPart, resin: Resin, net: Figure) -> None:
    key, label = f"{off.key}.resin", phrase("{name}: injected resin", name=off.name)
    net = net.named(f"{key}.net", phrase("{label} net", label=label))
    waste = part.gallery_and_catch_pot if part.gallery_and_catch_pot is not None else NO_MASS
    loss = loss_of(resin)
    issued = closed_mould.issued_per_shot(net, waste, loss if loss is not None else constant(0.0))
    issued = issued.named(f"{key}.issued", phrase("{label} issued", label=label))
    line = MaterialLine(
        material=str(part.resin),
        use=phrase("injected"),
        stage="resin",
        net=net,
        issued=issued,
        mass=net,
        place=part.place,
    )
    add_mixed(off, resin, line, key, label)


def _films(off: TakeOff, faces: Sequence[CoatedFace]) -> list[Film]:
    """The cured film of each face, with the room it takes: a gap is between the bare faces."""
    films = []
    for number, (coat, area) in enumerate(faces, 1):
        key, label = (
            f"{off.key}.face{number}",
            phrase(
                "{name}: face {number} {colour}", name=off.name, number=number, colour=coat.colour
            ),
        )
        share = coat.cured_share if coat.cured_share is not None else CURED_SHARE
        film = gelcoat.cured_thickness(coat.wet_thickness, share)
        film = film.named(f"{key}.cured", phrase("{label}, cured film", label=label))
        room = gelcoat.film_volume(area, film)
        films.append(
            Film(
                film,
                room.named(f"{key}.room", phrase("{label}, room of the cured film", label=label)),
            )
        )
    return films


def _free_volume(off: TakeOff, part: ClosedMouldPart, films: Sequence[Film]) -> Figure:
    """The cavity less the gelcoat on its faces and the core: what fibre and resin share.

    Each film takes its own area times its thickness, whichever zones it lies over.
    """
    cavities, cores = [], []
    for number, zone in enumerate(part.zones, 1):
        key, label = f"{off.key}.zone{number}", f"{off.name}: {zone.name}"
        area = region(off, zone, key, label)
        if zone.gap is None:
            raise ValueError(f"zone {zone.name} of a closed mould without gap passed the checks")
        cavities.append(
            (area * zone.gap).named(f"{key}.cavity", phrase("{label}, cavity volume", label=label))
        )
        if zone.core is not None:
            cores.append(
                (area * zone.core).named(f"{key}.core", phrase("{label}, core volume", label=label))
            )
    nothing = constant(0.0, "m3")
    cavity = total(cavities, nothing).named(
        f"{off.key}.cavity", phrase("{name}: cavity volume", name=off.name)
    )
    filled = total(cores, nothing).named(
        f"{off.key}.core", phrase("{name}: core volume", name=off.name)
    )
    off.drivers["core volume"] = filled
    coats = total([film.volume for film in films], nothing)
    coats = coats.named(
        f"{off.key}.films", phrase("{name}: volume of the gelcoat films", name=off.name)
    )
    free = closed_mould.free_volume(cavity, coats, filled)
    return free.named(f"{off.key}.free_volume", phrase("{name}: free volume", name=off.name))


def _check_clamp(off: TakeOff, part: ClosedMouldPart) -> None:
    vacuum = part.vacuum
    force = closed_mould.clamp_force(
        vacuum.flange_pressure, vacuum.flange_area, vacuum.cavity_pressure, vacuum.cavity_area
    )
    off.notable.append(
        force.named(f"{off.key}.clamp", phrase("{name}: vacuum clamp force", name=off.name))
    )
    atmosphere = constant(closed_mould.STANDARD_ATMOSPHERE_PA, "Pa")
    for pressure, where in (
        (vacuum.flange_pressure, phrase("{name}: flange vacuum no more than the atmosphere")),
        (vacuum.cavity_pressure, phrase("{name}: cavity vacuum no more than the atmosphere")),
    ):
        what = phrase(where, name=off.name)
        off.limits.append(Limit(what, less_or_equal(pressure, atmosphere), vacuum.place))


def _check_fibre(
    catalogue: Catalogue, off: TakeOff, part: ClosedMouldPart, fibre: Figure, free: Figure
) -> None:
    """Fibre volume within its range; a cavity that films and core fill has no fraction at all."""
    label = phrase("{name}: fibre volume fraction", name=off.name)
    if free.value <= 0:
        what = f"gelcoat and core leave nothing of the cavity of '{part.id}'"
        hint = "widen the gaps, or thin the core; each face's film takes its own area"
        off.problems.append(Problem(part.place, "does-not-fit", what, hint))
        return
    fraction = closed_mould.fibre_volume_fraction(fibre, free)
    fraction = fraction.named(f"{off.key}.fibre_fraction", label, "percent")
    off.notable.append(fraction)
    policy = catalogue.yard.policy
    low, high = policy.fibre_fraction_low.value, policy.fibre_fraction_high.value
    within = both(
        less_or_equal(policy.fibre_fraction_low, fraction),
        less_or_equal(fraction, policy.fibre_fraction_high),
    )
    off.limits.append(fibre_within(off, within))
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
    films: Sequence[Film],
) -> None:
    """The plies at their own glass content, core and gelcoat must fit the gap of their zone.

    A film that covers a part of its face only may lie in any zone, so each zone must have room for
    the thickest two: no place has more.
    """
    nothing = constant(0.0, "m")
    coats = closed_mould.thickest_films([film.thickness for film in films], nothing)
    glass_density = catalogue.yard.policy.glass_density
    for number, zone in enumerate(part.zones, 1):
        thicknesses = [
            laminate.ply_thickness(ply.areal_mass, ply.content, glass_density, resin.cured_density)
            for ply in laid
            if ply.zone is zone
        ]
        core_thickness = zone.core if zone.core is not None else nothing
        filled = total([*thicknesses, core_thickness, coats], nothing)
        label = phrase("{name}: {zone}, plies, core and gelcoat", name=off.name, zone=zone.name)
        filled = filled.named(f"{off.key}.zone{number}.filled", label, THIN)
        off.notable.append(filled)
        if zone.gap is None:
            continue
        allowed = zone.gap * (1 + ROUNDING_NOISE)
        fits = phrase("{label} fit the gap", label=label)
        off.limits.append(Limit(fits, less_or_equal(filled, allowed), zone.place))
        if filled.value > allowed.value:
            what = (
                f"zone '{zone.name}' of '{part.id}' holds {thickness(filled.value, '.1f')} "
                f"of plies, core and gelcoat in a gap of {thickness(zone.gap.value)}"
            )
            hint = "thin the core or stack, or widen the gap"
            off.problems.append(Problem(zone.place, "does-not-fit", what, hint))
