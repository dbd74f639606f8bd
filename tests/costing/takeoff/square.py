"""A square metre of something, made in a catalogue and costed: its lines, and what it adds."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent, indent

from quoter.costing.assembly import Assembly
from quoter.costing.quantities import MaterialLine
from quoter.figures import Figure
from quoter.figures.graph import in_order
from tests.catalogues.written import priced, write_catalogue

# Glass kinds are added; the rest is there for every part.
MATERIALS = """\
glass:
{glass}resins:
  - id: resin
    name: Resin
    liquid_density: 1.20 kg/L
    cured_density: 1.20 kg/L
    catalyst: peroxide
    catalyst_fraction: 2 %
{resin}gelcoats:
  - id: white
    name: White gelcoat
    colour: white
    density: 1.25 kg/L
    wet_thickness: 0.5 mm
    catalyst: peroxide
    catalyst_fraction: 2 %
{gelcoat}catalysts:
  - {{id: peroxide, name: Peroxide}}
foam_components:
  - {{id: foam_a, name: Component A}}
  - {{id: foam_b, name: Component B}}
foams:
  - id: foam
    name: Foam
    component_a: foam_a
    component_b: foam_b
{foam}bought:
  - {{id: seal, name: Seal, material_class: hardware, mass: 0.25 kg/m{bought}}}
"""
GLASS = ("mat_300", "mat_450", "woven_600", "woven_800", "stitched_600")
PRICED = ("resin", "white", "peroxide", "foam_a", "foam_b")
FOAM = "parts_a: 1\nparts_b: 1\nfree_rise_density: 36 kg/m3\npacking_factor: 1.5"
OPTION = """\
options:
  - id: unit
    name: One unit
    group: Worked example
    kind: fitting
    text: One unit.
    lead_time: none
    parts:
      - {part: square}
"""


def glass_kind(id: str, content: str, more: str = "") -> str:
    """A kind of glass named by its form and its grams per square metre."""
    form, _, grams = id.partition("_")
    return (
        f"  - {{id: {id}, name: {id}, form: {form}, areal_mass: {grams} g/m2, "
        f"glass_content: {content}{more}}}\n"
    )


def written(
    folder: Path,
    part: str,
    *,
    content: str = "30 %",
    glass: str = "",
    plies: str = "{glass: mat_450}",
    laminate: str = "",
    resin: str = "",
    gelcoat: str = "transfer: 100 %",
    foam: str = FOAM,
    bought: str = "",
) -> Path:
    """A catalogue with one part, `square`, from the text of parts.yaml.

    Args:
        folder: to write into
        part: the text
        content: glass content of every kind of glass
        glass: further fields of every kind of glass, as `, loss: 8 %`
        plies: the plies of the one laminate, `stack`
        laminate: further fields of the laminate
        resin: further fields of the resin
        gelcoat: further fields of the gelcoat
        foam: the foam's fields
        bought: further fields of the bought seal, as `, loss: 8 %`
    """

    def fields(text: str) -> str:
        return indent(dedent(text).strip() + "\n", "    ") if text.strip() else ""

    kinds = "".join(glass_kind(id, content, glass) for id in GLASS)
    materials = MATERIALS.format(
        glass=kinds,
        resin=fields(resin),
        gelcoat=fields(gelcoat),
        foam=fields(foam),
        bought=bought,
    )
    stack = f"laminates:\n  - id: stack\n    name: Stack\n{fields(laminate)}    plies: [{plies}]\n"
    rows = [f"{id},supplier,1 USD/kg," for id in (*GLASS, *PRICED)]
    rows = ["material,supplier,price,note", *rows, "seal,supplier,1 USD/m,", ""]
    return write_catalogue(
        folder,
        {
            "materials.yaml": materials,
            "laminates.yaml": stack,
            "parts.yaml": part,
            "options.yaml": OPTION,
            "prices/2026-01-01.csv": "\n".join(rows),
        },
    )


OPEN = """\
open_mould:
  - id: square
    name: Square
    shape: {area: 1 m2, perimeter: 4 m}
    resin: resin
    zones:
      - {name: all, laminate: stack}
"""
COATED = """\
open_mould:
  - id: square
    name: Square
    shape: {area: 1 m2, perimeter: 4 m}
    gelcoat:
      - {colour: white}
"""


def part_in(folder: Path) -> Assembly:
    """The square, costed as a build does it."""
    return priced(folder).costing.parts["part.square"]


def line(part: Assembly, material: str) -> MaterialLine:
    """The one line of a material."""
    (found,) = (one.line for one in part.materials if one.line.material == material)
    return found


def figure(part: Assembly, ending: str) -> Figure:
    """The one figure behind a part's cost or its notable figures whose key ends so."""
    behind = in_order([part.cost, *part.recipe.notable])
    (found,) = (one for one in behind if one.key.endswith(ending))
    return found
