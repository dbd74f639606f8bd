"""Laws of material formulas: shapes, losses, laminates, gelcoat, closed moulds, foam, emissions."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoter.engineering import (
    closed_mould,
    core,
    emissions,
    geometry,
    infusion,
    laminate,
    losses,
    spray_up,
)
from quoter.engineering.gelcoat import film_mass
from tests.checks.formulas import FORMULAS, Formula
from tests.laws.closeness import CLOSE, same

lengths = st.floats(0.01, 20.0)
areas = st.floats(0.01, 200.0)
masses = st.floats(0.001, 1000.0)
areal_masses = st.floats(0.05, 3.0)
contents = st.floats(0.15, 0.75)
densities = st.floats(500.0, 3000.0)
fractions = st.floats(0.0, 0.9)
percents = st.floats(1.0, 100.0)


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.name)
def test_arrays(formula: Formula) -> None:
    """An array goes through a formula as its numbers would one by one."""
    factors = np.array([1.0, 1.02, 1.07])

    def scaled(factor: Any) -> list[Any]:
        return formula.with_units(lambda number, _: number * factor)

    one_by_one = [formula.function(*scaled(float(factor))) for factor in factors]
    assert np.allclose(formula.function(*scaled(factors)), one_by_one, rtol=1e-12, atol=0.0)


@given(lengths, st.floats(1.0, 10.0))
def test_rounded_square(half: float, stretch: float) -> None:
    """A square whose corners are as round as can be is a circle, and rounding never adds area."""
    side = 2 * half
    assert same(geometry.rectangle_area(side, side, half), geometry.circle_area(side))
    assert same(geometry.rectangle_perimeter(side, side, half), geometry.circle_perimeter(side))
    assert geometry.rectangle_area(side * stretch, side, half) < side * stretch * side


@given(lengths, lengths, lengths)
def test_scale(width: float, height: float, diameter: float) -> None:
    """Twice the dimensions give four times the area and twice the perimeter."""
    radius = min(width, height) / 3
    rectangle, doubled = (width, height, radius), (2 * width, 2 * height, 2 * radius)
    assert same(geometry.rectangle_area(*doubled), 4 * geometry.rectangle_area(*rectangle))
    assert same(
        geometry.rectangle_perimeter(*doubled), 2 * geometry.rectangle_perimeter(*rectangle)
    )
    assert same(geometry.circle_area(2 * diameter), 4 * geometry.circle_area(diameter))


@given(lengths, lengths, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_strip(width: float, height: float, rounding: float, share: float) -> None:
    """A strip along the edge and the rectangle within it are the whole, each corner once."""
    half = min(width, height) / 2
    radius, strip = half * rounding, half * share
    inner = width - 2 * strip, height - 2 * strip, max(radius - strip, 0.0)
    whole = geometry.rectangle_area(width, height, radius)
    edge = geometry.rectangle_perimeter(width, height, radius)
    along = geometry.strip_area(edge, strip, radius)
    assert along + geometry.rectangle_area(*inner) == pytest.approx(whole, rel=1e-9, abs=1e-9)
    assert geometry.widest_strip(width, height) == half
    assert along <= geometry.upright_area(edge, strip) <= geometry.outer_strip_area(edge, strip)


@given(masses, fractions)
def test_issue(net: float, loss: float) -> None:
    """What is issued is never less than what stays; the loss is a fraction of what is issued."""
    out = losses.issued(net, loss)
    assert out >= net
    assert same(out - net, loss * out)


@given(masses, st.floats(0.0, 5.0))
def test_waste_on_net(net: float, waste: float) -> None:
    """A waste quoted on the net amount, once converted, issues net times one plus the waste."""
    loss = losses.loss_from_waste_on_net(waste)
    assert loss <= waste
    assert same(losses.issued(net, loss), net * (1 + waste))


@given(masses, st.floats(0.05, 1.0))
def test_transfer(film: float, efficiency: float) -> None:
    """Of what is sprayed the transfer efficiency stays on the part."""
    assert same(losses.issued(film, losses.transfer_loss(efficiency)) * efficiency, film)


@given(areas, st.floats(0.0003, 0.001), densities)
def test_gelcoat_area(area: float, thickness: float, density: float) -> None:
    """Twice the area takes twice the gelcoat."""
    assert same(film_mass(2 * area, thickness, density), 2 * film_mass(area, thickness, density))


@given(lengths, fractions, areas, areal_masses)
def test_overlap(width: float, share: float, area: float, areal_mass: float) -> None:
    """Overlapping strips never take less glass than butted ones."""
    factor = laminate.overlap_factor(width, width * share)
    assert factor >= 1
    assert laminate.glass_mass(area, factor, areal_mass) >= area * areal_mass
    assert laminate.overlap_factor(width, 0.0) == 1


@given(masses, contents)
def test_content(glass: float, content: float) -> None:
    """Glass with the resin of a content has that content."""
    resin = laminate.resin_for_glass(glass, content)
    assert same(glass / (glass + resin), content)


@given(areal_masses, contents)
def test_thickness_form(areal_mass: float, content: float) -> None:
    """At 2.56 and 1.20 t/m3 thickness is (w / 3.072) (2.56 / psi - 1.36) mm."""
    thickness = laminate.ply_thickness(areal_mass, content, 2560.0, 1200.0)
    assert same(thickness * 1000, areal_mass / 3.072 * (2.56 / content - 1.36))


@given(areal_masses, contents, st.floats(0.01, 0.2), densities, densities)
def test_more_glass_content(
    areal_mass: float, content: float, more: float, glass_density: float, resin_density: float
) -> None:
    """The same glass at a higher content is thinner and takes less resin."""
    thick = laminate.ply_thickness(areal_mass, content, glass_density, resin_density)
    thin = laminate.ply_thickness(areal_mass, content + more, glass_density, resin_density)
    assert thin < thick
    assert laminate.resin_for_glass(1.0, content + more) < laminate.resin_for_glass(1.0, content)


@given(st.floats(0.0, 1.0), contents, st.floats(0.0, 0.14))
def test_mixed_content(share: float, woven: float, slope: float) -> None:
    """Mat in a stack never raises its glass content."""
    assert woven - slope <= laminate.mixed_glass_content(share, woven, slope) <= woven


@given(masses, st.floats(0.3, 1.0))
def test_nesting(net: float, utilisation: float) -> None:
    """A nest that uses less of the cloth issues more: it is a loss of the cloth not used."""
    out = losses.cut_from(net, utilisation)
    assert out >= net
    assert same(out, losses.issued(net, 1 - utilisation))


@given(masses, st.floats(0.01, 0.03), fractions)
def test_catalyst(resin: float, fraction: float, loss: float) -> None:
    """Catalyst is dosed on what is issued, so a loss of resin is a loss of catalyst."""
    on_issued = laminate.catalyst_mass(losses.issued(resin, loss), fraction)
    assert same(on_issued, losses.issued(laminate.catalyst_mass(resin, fraction), loss))


@given(st.floats(0.001, 1.0), fractions, fractions, fractions, densities, densities)
def test_cavity(
    cavity: float,
    film_share: float,
    core_share: float,
    fibre_share: float,
    glass_density: float,
    density: float,
) -> None:
    """Gelcoat, core, fibres and resin fill the cavity exactly."""
    films = cavity * film_share / 2
    block = cavity * core_share / 2
    free = closed_mould.free_volume(cavity, films, block)
    fibres = closed_mould.fibre_volume(free * fibre_share * glass_density, glass_density)
    resin = closed_mould.injected_resin(free, fibres, density)
    assert same(films + block + fibres + resin / density, cavity)
    assert same(closed_mould.fibre_volume_fraction(fibres, free), fibre_share)


@given(masses, st.floats(0.0, 5.0), fractions)
def test_shot(net: float, left_over: float, loss: float) -> None:
    """A shot issues at least the part's resin and what stays in gallery and catch-pot."""
    assert closed_mould.issued_per_shot(net, left_over, loss) >= net + left_over
    assert closed_mould.issued_per_shot(net, 0.0, loss) == losses.issued(net, loss)


@given(masses, st.floats(0.05, 0.85), densities, densities)
def test_infusion(glass: float, target: float, glass_density: float, density: float) -> None:
    """A target by volume gives the content by mass that has this volume."""
    content = infusion.glass_content(target, glass_density, density)
    resin = laminate.resin_for_glass(glass, content)
    found = infusion.packed_fibre_fraction(glass, resin, glass_density, density)
    assert same(found, target)
    assert same(spray_up.laminate_mass(glass, content), glass + resin)


@given(masses, st.floats(0.0, 5.0), st.floats(0.0, 5.0), fractions)
def test_infused_shot(net: float, held: float, left_over: float, loss: float) -> None:
    """Whatever drinks of the resin is issued, and lost like the rest in mixing."""
    shot = infusion.issued_per_infusion(net, held, left_over, loss)
    assert shot >= net + held + left_over
    assert same(shot, closed_mould.issued_per_shot(net, held + left_over, loss))


@given(st.floats(1e-4, 0.03), st.floats(0.1, 0.9), densities, densities)
def test_sprayed_thickness(
    thickness: float, content: float, glass_density: float, density: float
) -> None:
    """Glass sprayed for a thickness makes a ply of it."""
    mass = spray_up.areal_mass_of_thickness(thickness, content, glass_density, density)
    assert same(laminate.ply_thickness(mass, content, glass_density, density), thickness)


@given(st.floats(0.0, 1.0), areas, st.floats(0.0, 1.0), areas)
def test_vacuum(flange: float, flange_area: float, cavity: float, cavity_area: float) -> None:
    """No vacuum clamps with more than one standard atmosphere on all the area."""
    most = closed_mould.STANDARD_ATMOSPHERE_PA
    force = closed_mould.clamp_force(flange * most, flange_area, cavity * most, cavity_area)
    assert 0 <= force <= most * (flange_area + cavity_area) * (1 + CLOSE)


@given(st.floats(0.001, 2.0), st.floats(20.0, 200.0), st.floats(1.0, 3.0))
def test_foam(volume: float, free_rise: float, packing: float) -> None:
    """Foam mass over volume is the packed density, which packing never lowers."""
    packed = core.packed_density(free_rise, packing)
    assert packed >= free_rise
    assert same(core.foam_mass(volume, free_rise, packing) / volume, packed)


@given(st.floats(1.0, 200.0), st.floats(1.0, 200.0))
def test_mix(parts: float, other: float) -> None:
    """The shares of two components are in the mix ratio and add to the whole."""
    share, rest = core.component_share(parts, other), core.component_share(other, parts)
    assert same(share + rest, 1.0)
    assert same(share * other, rest * parts)


@given(st.floats(0.001, 2.0), st.floats(20.0, 900.0))
def test_flotation(volume: float, density: float) -> None:
    """What foam carries and its own mass together are the water it displaces."""
    assert same(core.buoyancy(volume, density, 1000.0) + volume * density, 1000.0 * volume)


@given(masses, percents)
def test_bagging(mass: float, hap: float) -> None:
    """Bagging lowers an estimate, more so at once than after roll-out; spraying raises it."""
    sprayed = [
        emissions.resin_atomised_bagged(hap),
        emissions.resin_atomised_bagged_rolled(hap),
        emissions.resin_atomised(hap),
    ]
    by_hand = [
        emissions.resin_non_atomised_bagged(hap),
        emissions.resin_non_atomised_bagged_rolled(hap),
        emissions.resin_non_atomised(hap),
    ]
    assert sprayed == sorted(sprayed)
    assert by_hand == sorted(by_hand)
    assert all(less <= more for less, more in zip(by_hand, sprayed, strict=True))
    assert same(emissions.emitted(mass, sprayed[2]), 2 * emissions.emitted(mass / 2, sprayed[2]))


@given(percents, st.floats(1.01, 2.0))
def test_hap(hap: float, factor: float) -> None:
    """More HAP in the material never gives off less, and rises faster than its content."""
    for point in (emissions.gelcoat_any_method, emissions.resin_atomised):
        assert point(hap * factor) > factor * point(hap)


@given(st.lists(masses, min_size=5, max_size=5), st.lists(masses, min_size=5, max_size=5))
def test_limit(one: list[float], other: list[float]) -> None:
    """The limits of two lots of material add to the limit of both."""
    both = [a + b for a, b in zip(one, other, strict=True)]
    together = emissions.emission_limit(*both)
    assert same(emissions.emission_limit(*one) + emissions.emission_limit(*other), together)
