"""A colour's take rate recolours the take of the options on its boats, and the plan follows."""

from __future__ import annotations

import pytest

from quoter.analysis.plan import plan_of, year_of
from quoter.analysis.plan_controls import plan_controls
from quoter.catalogue.volumes import boats_planned, take_rates
from quoter.costing.draws import Draw, Draws, draws_of
from tests.demo import demo

CLOSE = 1e-12
GELCOATS = ("gel_white", "gel_blue", "gel_grey")
COLOURS = ("hull_blue", "hull_grey")


def test_gelcoat_a_year_is_what_each_colour_of_boat_draws() -> None:
    """Boats are parted by their colour, and each part draws what options in that colour do."""
    pricing = demo()
    needed: dict[str, float] = dict.fromkeys(GELCOATS, 0.0)
    known: dict[str, Draws] = {}
    for id, model in pricing.models.items():
        records = pricing.catalogue.records
        boats, takes = boats_planned(records, id), take_rates(records, id)
        assert boats is not None
        recoloured = pricing.costing.models[id].recoloured
        shares = {c: takes[c].value for c in COLOURS if c in model.extras}
        shares[""] = 1.0 - sum(shares.values())
        base = draws_of(model.boat.assembly, known)
        for colour, share in shares.items():
            made = {o: item.assembly for o, item in model.extras.items() if o not in COLOURS}
            for option in made:
                if (option, colour) in recoloured:
                    made[option] = recoloured[option, colour].recipe.uses[0].assembly
            each = [(1.0, base)]
            each += [(takes[o].value, draws_of(a, known)) for o, a in made.items() if o in takes]
            if colour:
                each.append((1.0, draws_of(model.extras[colour].assembly, known)))
            for gelcoat in GELCOATS:
                drawn = sum(
                    n * d[key].value for n, d in each if (key := Draw("material", gelcoat)) in d
                )
                needed[gelcoat] += boats.value * share * drawn
    plan = plan_of(pricing)
    for gelcoat, amount in needed.items():
        assert plan.yearly[Draw("material", gelcoat)].value == pytest.approx(amount, rel=CLOSE)


def test_what_a_colour_does_not_change_is_not_planned_twice() -> None:
    pricing = demo()
    plan = plan_of(pricing)
    (pair,) = (
        each
        for each in plan.recoloured
        if (each.model, each.of.id) == ("weekender_86", "side_single+hull_blue")
    )
    # 50 boats a year; 34 % take the door, 22 % the colour
    assert pair.units.value == pytest.approx(50 * 0.34 * 0.22, rel=CLOSE)
    materials = {draw.id for draw in pair.draws if draw.kind == "material"}
    # A thicker film leaves less of the door's cavity to the resin.
    assert materials == {"gel_white", "gel_blue", "peroxide", "resin_inj"}
    assert {draw.kind for draw in pair.draws} == {"material", "emission", "applied", "part"}


def test_every_control_of_the_plan_holds_with_colours() -> None:
    pricing = demo()
    plan = plan_of(pricing)
    controls = plan_controls(pricing, plan, year_of(plan, pricing.costing.rates.nothing))
    assert plan.recoloured
    assert [control.what for control in controls if not control.holds.value] == []
