"""A catalogue in which every measure stands, each in every case that has a range of its own.

It is the demonstration with what that lacks, all of it usual. `scaled` makes chosen values of it
larger or smaller in the text of the files, in the unit that they are written in.
"""

from __future__ import annotations

from collections.abc import Iterable
from copy import deepcopy
from pathlib import Path
from typing import Any

import yaml

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.load import read_records
from quoter.catalogue.records import Records
from quoter.figures.graph import input_behind
from quoter.plausibility.of_materials import MATERIALS
from quoter.plausibility.walk import Held
from quoter.problems import Problems
from tests.catalogues.written import write_catalogue
from tests.demo import DEMO

FORMS = {
    "mat": ("mat_450", "30 %"),
    "woven": ("woven_600", "50 %"),
    "stitched": ("biax_600", "50 %"),
    "veil": ("veil_30", "10 %"),
    "flow core": ("flow_600", "25 %"),
}
SPRAYED = ("gun_roving", "30 %")
# What each form packs to under a bag, and the key of a stack's own content of it.
PACKED = {"mat": "38 %", "woven": "62 %", "stitched": "66 %", "veil": "12 %", "flow core": "30 %"}


class _Flat(yaml.SafeDumper):
    def ignore_aliases(self, data: Any) -> bool:
        return True


def whole(folder: Path) -> Path:
    """The catalogue, written into a folder."""
    write_catalogue(folder, {}, base=DEMO)
    files = {path.name: path for path in folder.glob("*.yaml")}
    found = {
        name: yaml.load(path.read_text("utf-8"), yaml.BaseLoader) for name, path in files.items()
    }
    _add_materials(found["materials.yaml"])
    _add_work(found)
    _add_sales(found)
    for name, path in files.items():
        path.write_text(yaml.dump(found[name], Dumper=_Flat, sort_keys=False, width=1000), "utf-8")
    _add_rows(folder)
    return folder


def _add_materials(file: dict[str, Any]) -> None:
    veil = {"id": "veil_30", "name": "Veil 30", "form": "veil", "areal_mass": "30 g/m2"}
    file["glass"].append(veil | {"glass_content": "10 %", "pack": "100 m2"})
    for glass in file["glass"]:
        if glass["form"] in PACKED:
            glass["infused_content"] = PACKED[glass["form"]]
    resin, gelcoat = file["resins"][0], file["gelcoats"][0]
    resin |= {"methyl_methacrylate": "2 %", "organic_hap": "38 %"}
    gelcoat |= {"cured_share": "86 %", "organic_hap": "35 %"}
    fill = next(foam for foam in file["foams"] if foam["id"] == "fill_foam")
    fill.pop("loss", None)
    fill["waste_on_net"] = "8 %"
    for id, kind, mass in (
        ("core_sheet", "core", "80 kg/m3"),
        ("bag", "consumable", "0 kg/each"),
        ("hose", "consumable", "0 kg/m"),
        ("pot", "consumable", "0 kg/each"),
        ("film", "consumable", "0 kg/m2"),
        ("filler", "consumable", "0 kg/m3"),
    ):
        file["bought"].append({"id": id, "name": id, "material_class": kind, "mass": mass})
    bought = {each["id"]: each for each in file["bought"]}
    bought["bag"]["pack"] = "50 each"
    bought["hose"] |= {"pack": "50 m", "resin_uptake": "0.05 kg/m"}
    bought["pot"]["resin_uptake"] = "0.2 kg/each"
    bought["film"]["roll_width"] = "1.5 m"


def _add_work(found: dict[str, Any]) -> None:
    station = deepcopy(found["stations.yaml"]["stations"][-1])
    overhead = {"base": "labour cost", "capacity": "900000 EUR"}
    station |= {"id": "office", "overhead": station["overhead"] | overhead}
    found["stations.yaml"]["stations"].append(station)
    for id in ("open_stack", "closed_stack", "infused_stack"):
        plies = [{"glass": glass, "glass_content": content} for glass, content in FORMS.values()]
        if id == "infused_stack":
            plies = [
                {"glass": FORMS[form][0], "glass_content": content}
                for form, content in PACKED.items()
            ]
        gun = {"glass": SPRAYED[0], "glass_content": SPRAYED[1], "thickness": "2 mm"}
        if id != "closed_stack":
            plies.append(gun | {"stage": "skin"})
        found["laminates.yaml"]["laminates"].append({"id": id, "name": id, "plies": plies})
    parts = found["parts.yaml"]
    closed = deepcopy(next(part for part in parts["closed_mould"] if part["id"] == "anchor_lid"))
    closed["id"], closed["zones"][0]["laminate"] = "round_lid", "closed_stack"
    parts["closed_mould"].append(closed)
    parts["open_mould"].append(
        {
            "id": "round_cover",
            "name": "Round cover",
            "shape": {"diameter": "600 mm"},
            "resin": "resin_lam",
            "gelcoat": [{"colour": "gel_white", "area": "0.25 m2"}],
            "zones": [{"name": "all", "laminate": "open_stack", "share": "100 %"}],
            "goods": [
                {"item": "core_sheet", "quantity": "0.01 m3"},
                {"item": "disc", "per_perimeter": "1 each/m"},
                {"item": "brushes", "per_area": "2 each/m2"},
            ],
            "operations": [
                {
                    "name": "Lay",
                    "station": "laminating",
                    "allowance": "12 %",
                    "per_batch": [
                        {"item": "gun_solvent", "quantity": "1.2 kg"},
                        {"item": "brushes", "quantity": "2"},
                        {"item": "hose", "quantity": "4 m"},
                        {"item": "film", "quantity": "3 m2"},
                        {"item": "filler", "quantity": "0.01 m3"},
                    ],
                    "rates": {
                        "area": "10 min/m2",
                        "plies": "5 min/ply",
                        "glass_mass": "10 min/kg",
                        "gelcoat_faces": "10 min/face",
                        "foam_mass": "4 min/kg",
                        "sprayed_mass": "1 min/kg",
                    },
                    "uses": ["skin", "bulk"],
                    "applied": "atomised spray",
                    "overspray": "10 %",
                    "drivers": {
                        "area": "0.3 m2",
                        "plies": "5",
                        "glass_mass": "1 kg",
                        "gelcoat_faces": "1",
                        "foam_mass": "1 kg",
                        "sprayed_mass": "3 kg",
                    },
                }
            ],
        }
    )
    parts["infused"] += [_infused("by_volume", "fibre_volume", "40 %"),
                         _infused("by_mass", "glass_content", "60 %")]  # fmt: skip


def _infused(id: str, target: str, content: str) -> dict[str, Any]:
    return {
        "id": id,
        "name": id,
        "shape": {"area": "1 m2", "perimeter": "4 m"},
        "resin": "resin_inj",
        "zones": [{"name": "all", "laminate": "infused_stack"}],
        target: content,
        "lines_and_pot": "0.5 kg",
        "bag_pressure": "90 kPa",
        "nest_utilisation": "80 %",
        "goods": [
            {"item": "film", "per_area": "1.2", "per_perimeter": "0.2 m", "built_in": "no"},
            {"item": "hose", "per_area": "0.8 m/m2", "lasts": "20", "built_in": "no"},
            {"item": "pot", "quantity": "1", "lasts": "20", "built_in": "no"},
        ],
        "operations": [
            {
                "name": "Spray the skin coat",
                "station": "laminating",
                "uses": ["skin"],
                "applied": "non-atomised spray",
                "fixed": "10 min",
            },
        ],
    }


def _add_sales(found: dict[str, Any]) -> None:
    yard = found["yard.yaml"]
    yard["policy"] |= {"infused_fibre_low": "20 %", "infused_fibre_high": "65 %"}
    yard["markets"][0]["other_taxes"] = [{"id": "reduced", "name": "VAT, reduced", "rate": "10 %"}]
    yard["quotes"]["delivery"]["price"] = "1450 EUR"
    yard["policy"]["rounding"]["ending"] = "-1 EUR"
    wide = next(o for o in found["options.yaml"]["options"] if o["id"] == "companion_wide")
    wide["credits"][0]["quantity"] = "1"
    mould = yard["policy"]["moulds_built"][0]
    mould |= {"methyl_methacrylate": "2 %", "organic_hap": "42 %"}
    base = found["models.yaml"]["models"][0]["base"]
    base["batch"] = "2"
    base["materials"] |= {"hinge": "4", "seal": "12 m", "tread": "2 m2", "core_sheet": "0.02 m3"}


def _add_rows(folder: Path) -> None:
    lines = {
        "prices/2026-11-01.csv": (
            "veil_30,dolvane,12 EUR/kg,",
            *("core_sheet,dolvane,900 EUR/m3,", "bag,dolvane,9 EUR/each,", "hose,dolvane,2 EUR/m,"),
            *("film,dolvane,1.40 EUR/m2,", "filler,dolvane,300 EUR/m3,", "pot,dolvane,6 EUR/each,"),
        ),
        "rises.csv": (
            "2026-10-28,dolvane,polyester,5 %,2026-12-15,announced,",
            "2026-10-28,quenmoor,gelcoat,1 USD/gal,2026-12-20,announced,",
        ),
        "price_book.csv": ("2026-10-01,,open_68,,45900 EUR,",),
        "exchange.csv": [f"2026-11-01,{code},{rate} {code}/EUR," for code, rate in _rates()],
    }
    for name, more in lines.items():
        path = folder / name
        path.write_text(
            path.read_text("utf-8").rstrip("\n") + "\n" + "\n".join(more) + "\n", "utf-8"
        )


def _rates() -> Iterable[tuple[str, float]]:
    for usual in MATERIALS:
        if usual.field == "rate" and usual.case not in ("USD", "NOK"):
            low, high = usual.bounds.low, usual.bounds.high
            assert low is not None
            assert high is not None
            yield usual.case, round((low * high) ** 0.5, 3)


def read_whole(folder: Path) -> Records:
    """Its records, whatever is wrong with them otherwise."""
    records, _ = read_records(folder, Problems())
    return records


def scaled(folder: Path, values: Iterable[tuple[Held, float]]) -> None:
    """Write other sizes of values into the files where they stand."""
    lines: dict[str, list[str]] = {}
    ordered = sorted(values, key=lambda one: figure_place(one[0].figure), reverse=True)
    for held, size in ordered:
        place, behind = figure_place(held.figure), input_behind(held.figure)
        assert behind.origin is not None
        words = behind.origin.text
        number = words.partition(" ")[0]
        new = f"{float(number) * size / held.size:.9f}".rstrip("0").rstrip(".")
        if place.file not in lines:
            lines[place.file] = (folder / place.file).read_text("utf-8").split("\n")
        line = lines[place.file][place.line - 1]
        before, after = line[: place.column - 1], line[place.column - 1 :]
        assert number in after.split(",")[0], (words, line)
        lines[place.file][place.line - 1] = before + after.replace(number, new, 1)
    for name, found in lines.items():
        (folder / name).write_text("\n".join(found), encoding="utf-8")
