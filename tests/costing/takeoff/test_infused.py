"""Resin, consumables and limits of an infusion, through the take-off of a square metre."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.analysis.findings import Findings
from quoter.costing.draws import Draw, draws_of
from quoter.problems import CatalogueError
from tests.catalogues.written import priced
from tests.costing.takeoff.square import figure, line, part_in, written

EXACT = 1e-12
INFUSED = """\
infused:
  - id: square
    name: Square
    shape: {{area: 1 m2, perimeter: 4 m}}
    resin: resin
    zones:
      - {{name: all, laminate: stack}}
{more}    bag_pressure: {pressure}
    goods:
      - {{item: seal, per_perimeter: 1.1, built_in: no}}
{goods}"""
WOVEN = "{glass: woven_800}"
SHEETS = """\
  - {id: film, name: Bag film, material_class: consumable, mass: 0.07 kg/m2, loss: 10 %}
  - {id: mesh, name: Mesh, material_class: consumable, mass: 0.2 kg/m2, resin_uptake: 0.5 kg/m2}
  - {id: balsa, name: Core sheet, material_class: core, mass: 1.5 kg/m2, resin_uptake: 0.6 kg/m2}
"""


def infused(
    folder: Path,
    more: str = "fibre_volume: 50 %",
    *,
    plies: str = WOVEN,
    goods: tuple[str, ...] = (),
    pressure: str = "92 kPa",
    resin: str = "",
    glass: str = "",
) -> Path:
    """The square infused; `more` has further lines of it, `goods` its goods beside the tape."""
    lines = "".join(f"    {each}\n" for each in more.splitlines())
    items = "".join(f"      - {{{each}}}\n" for each in goods)
    part = INFUSED.format(more=lines, pressure=pressure, goods=items)
    written(folder, part, plies=plies, resin=resin, content="50 %", glass=glass)
    for name, text in (
        ("materials.yaml", SHEETS),
        (
            "prices/2026-01-01.csv",
            "".join(f"{id},supplier,1 USD/m2,\n" for id in ("film", "mesh", "balsa")),
        ),
    ):
        path = folder / name
        path.write_text(path.read_text("utf-8") + text, "utf-8")
    return folder


def told(folder: Path) -> list[str]:
    with pytest.raises(CatalogueError) as raised:
        part_in(folder)
    return [f"{problem.what} [{problem.code}]" for problem in raised.value.problems]


def test_resin_follows_the_fibre_volume_that_is_the_target(tmp_path: Path) -> None:
    """Derived: half of the volume is glass, so that its 0.8 kg at 2.56 t/m3 stand beside the same
    volume of resin at 1.20; the laminate is 0.625 mm thick."""
    part = part_in(infused(tmp_path / "c"))
    assert line(part, "resin").net.value == pytest.approx(0.8 / 2.56 * 1.20, rel=EXACT)
    assert figure(part, ".fibre_fraction").value == pytest.approx(0.5, rel=EXACT)
    assert figure(part, ".zone1.thickness").value == pytest.approx(0.8 / 2560 / 0.5, rel=EXACT)
    assert part.mass.value == pytest.approx(0.8 + 0.375, rel=EXACT)


@pytest.mark.parametrize(
    ("more", "plies", "glass", "content"),
    [
        ("glass_content: 66 %", WOVEN, "", 0.66),
        ("", WOVEN, ", infused_content: 58 %", 0.58),
        ("", "{glass: woven_800, glass_content: 62 %}", ", infused_content: 58 %", 0.62),
        ("glass_content: 66 %", "{glass: woven_800, glass_content: 62 %}", "", 0.66),
    ],
)
def test_a_target_is_that_of_the_part_else_of_the_ply_else_of_its_glass(
    tmp_path: Path, more: str, plies: str, glass: str, content: float
) -> None:
    """ISO 12215-5:2008 gives 0.58 for woven roving under vacuum (from memory)."""
    part = part_in(infused(tmp_path / "c", more, plies=plies, glass=glass))
    resin = line(part, "resin").net.value
    assert 0.8 / (0.8 + resin) == pytest.approx(content, rel=EXACT)


def test_what_drinks_of_the_resin_is_issued_and_only_the_core_keeps_it(tmp_path: Path) -> None:
    """By hand: 0.375 kg in the laminate and 0.9 x 0.6 in the core stay; the mesh takes 0.5 x 0.8,
    lines and pot 0.3 kg, and a tenth of all that is mixed is lost."""
    goods = ("item: balsa, per_area: 0.9", "item: mesh, per_area: 0.8, built_in: no")
    more = "fibre_volume: 50 %\nlines_and_pot: 0.3 kg"
    part = part_in(infused(tmp_path / "c", more, goods=goods, resin="loss: 10 %"))
    resin = line(part, "resin")
    assert resin.net.value == pytest.approx(0.375 + 0.54, rel=EXACT)
    assert resin.issued.value == pytest.approx((0.375 + 0.54 + 0.4 + 0.3) / 0.9, rel=EXACT)
    assert part.mass.value == pytest.approx(0.8 + 0.915 + 0.9 * 1.5, rel=EXACT)
    assert figure(part, ".fibre_fraction").value == pytest.approx(0.5, rel=EXACT)


def test_a_bag_reaches_beyond_the_edge_and_tape_runs_along_it(tmp_path: Path) -> None:
    """By hand: a square metre with 15 % of pleats and 0.25 m along 4 m; a tenth is offcut."""
    goods = ("item: film, per_area: 1.15, per_perimeter: 0.25 m, built_in: no",)
    part = part_in(infused(tmp_path / "c", goods=goods))
    assert line(part, "film").net.value == pytest.approx(1.15 + 1.0, rel=EXACT)
    assert line(part, "film").issued.value == pytest.approx(2.15 / 0.9, rel=EXACT)
    assert line(part, "film").mass.value == 0.0
    assert line(part, "seal").net.value == pytest.approx(4.4, rel=EXACT)


def test_what_is_used_again_costs_its_share_of_each_pull(tmp_path: Path) -> None:
    """Cost a pull is price over pulls; the mesh drinks its full amount at every pull."""
    goods = "item: mesh, per_area: 0.8, built_in: no"
    once = part_in(infused(tmp_path / "a", goods=(goods,)))
    often = part_in(infused(tmp_path / "b", goods=(f"{goods}, lasts: 40",)))
    assert line(often, "mesh").net.value == pytest.approx(0.8 / 40, rel=EXACT)
    costs = [
        next(each.cost.value for each in part.materials if each.line.material == "mesh")
        for part in (once, often)
    ]
    assert costs[1] == pytest.approx(costs[0] / 40, rel=EXACT)
    assert line(often, "resin").issued.value == line(once, "resin").issued.value


SKIN = "{glass: mat_300, stage: skin}, {glass: woven_800}"


def test_what_is_infused_is_at_zero_and_the_skin_coat_before_it_is_not(tmp_path: Path) -> None:
    """40 CFR 63.5728: what is closed moulding by 63.5779 has no limit of open moulding; skin coats
    laid before it have. The skin takes its own glass content, by hand: 0.3 kg at 50 %."""
    part = part_in(infused(tmp_path / "c", plies=SKIN, resin="styrene: 35 %"))
    resins = {one.line.stage: one.line for one in part.materials if one.line.material == "resin"}
    assert {stage: one.net.value for stage, one in resins.items()} == pytest.approx(
        {"skin": 0.3, "resin": 0.375}, rel=EXACT
    )
    assert resins["resin"].given_off is None
    in_all = draws_of(part, {})[Draw("emission", "organic HAP")].value
    assert in_all == pytest.approx(0.3 * 45.59 / 1000, rel=1e-4)
    assert figure(part, ".fibre_fraction").value == pytest.approx(0.5, rel=EXACT)


def test_an_infusion_outside_the_range_of_fibre_volume_is_told(tmp_path: Path) -> None:
    assert told(infused(tmp_path / "c", "fibre_volume: 70 %")) == [
        "fibre is 70.0% of the infused laminate of 'square' [fibre-fraction]"
    ]
    assert told(infused(tmp_path / "d", "glass_content: 30 %")) == [
        "fibre is 16.7% of the infused laminate of 'square' [fibre-fraction]"
    ]


def test_a_bag_pulls_no_more_than_the_atmosphere(tmp_path: Path) -> None:
    """The standard atmosphere is 101.325 kPa, exact."""
    assert told(infused(tmp_path / "c", pressure="102 kPa")) == [
        "a bag pressure of 102 kPa below the atmosphere [out-of-range]"
    ]
    part = part_in(infused(tmp_path / "d", pressure="29.92 inHg"))
    assert all(limit.holds.value == 1 for limit in part.recipe.limits)


def test_a_part_by_hand_is_compared_with_an_infused_one(tmp_path: Path) -> None:
    """Its words are those of an infusion; the volume is found as for a closed mould."""
    folder = infused(tmp_path / "c")
    by_hand = (
        "open_mould:\n  - id: laid\n    name: Laid by hand\n    alternative_to: square\n"
        "    shape: {area: 1 m2, perimeter: 4 m}\n    resin: resin\n"
        "    zones:\n      - {name: all, laminate: stack}\n"
    )
    parts = folder / "parts.yaml"
    parts.write_text(by_hand + parts.read_text("utf-8"), "utf-8")
    pricing = priced(folder)
    (model,) = pricing.models.values()
    (answers,) = Findings(pricing).of(model).answers
    (alternative,) = answers.alternatives
    assert (alternative.by_hand.recipe.id, alternative.panel.recipe.id) == ("laid", "square")
    assert (alternative.infused, answers.ways) == (True, "by hand or infused")
