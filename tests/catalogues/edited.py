"""The small catalogue with chosen texts replaced, to compare one state of it with another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue

SMALL = FOLDER / "small"
LIST = "prices/2026-02-01.csv"


@dataclass(frozen=True)
class Edit:
    """A text of a file and what to write in its place, `{}` standing for a number."""

    file: str
    old: str
    new: str
    cause: str


RESIN = Edit(LIST, "hand_resin,brisk,3.35 EUR/kg", "hand_resin,brisk,{} EUR/kg", "prices.resin")
PASSES = Edit("parts.yaml", "passes: 97 %", "passes: {} %", "yields")
RATE = Edit("exchange.csv", "0.86 GBP/EUR", "0.{} GBP/EUR", "exchange")
WAGE = Edit("wages.csv", "hands,24 EUR/h", "hands,{} EUR/h", "wages")
TIME = Edit("parts.yaml", "fixed: 70 min", "fixed: {} min", "recipes")

# One number each, with the cause that its change must be put down to.
EDITS = (
    RESIN,
    Edit(LIST, "green,morgat,9.10 GBP/kg", "green,morgat,{} GBP/kg", "prices.gelcoat"),
    Edit(LIST, "mat,brisk,2.60 EUR/kg", "mat,brisk,{} EUR/kg", "prices.glass"),
    Edit("suppliers.yaml", "freight: 2 %", "freight: {} %", "prices"),
    RATE,
    WAGE,
    Edit("stations.yaml", "efficiency: 85 %", "efficiency: {} %", "overhead"),
    Edit("stations.yaml", "fixed: 88000 EUR", "fixed: {}000 EUR", "overhead"),
    Edit("stations.yaml", "capacity: 6000 h", "capacity: {}00 h", "overhead"),
    Edit("yard.yaml", "material_handling: 5 %", "material_handling: {} %", "overhead"),
    Edit("yard.yaml", "general_overhead: 10 %", "general_overhead: {} %", "overhead"),
    Edit("moulds.yaml", "cost: 9400 EUR", "cost: {}00 EUR", "volumes"),
    Edit("moulds.yaml", "pulls_per_year: 60", "pulls_per_year: {}", "volumes"),
    Edit("parts.yaml", "batch: 2", "batch: {}", "volumes"),
    PASSES,
    Edit("materials.yaml", "loss: 6 %", "loss: {} %", "yields"),
    Edit("materials.yaml", "loss: 8 %", "loss: {} %", "yields"),
    TIME,
    Edit("materials.yaml", "areal_mass: 450 g/m2", "areal_mass: 4{} g/m2", "recipes"),
    Edit("options.yaml", "quantity: 3}", "quantity: {}}}", "recipes"),
)

# What one side has and the other lacks, or writes in another unit, currency or place.
SHAPES = (
    Edit("laminates.yaml", "Return, plies: [{glass: mat, layers: 4}]",
         "Return, plies: [{glass: mat, layers: 4}, {glass: mat}]", "recipes"),
    Edit("parts.yaml", "      - {name: Finish the seam, station: assembly, rates: "
         "{perimeter: 10 min/m}}\n", "", "recipes"),
    Edit("parts.yaml", ", fixed: 30 min}\n", ", fixed: 30 min, passes: 96 %}\n", "recipes"),
    Edit("stations.yaml", "base: labour hours, capacity: 8000 h",
         "base: labour cost, capacity: 268800 EUR", "recipes"),
    Edit(LIST, "green,morgat,9.10 GBP/kg", "green,morgat,12.40 GBP/L", "prices.gelcoat"),
    Edit("suppliers.yaml", "currency: GBP, duty: 3 %", "currency: USD", "prices.gelcoat"),
)  # fmt: skip


def edited(edits: Mapping[Edit, object], folder: Path | None = None) -> Pricing:
    """The small catalogue with each edit's text replaced, priced."""
    if folder is None:
        with TemporaryDirectory() as kept:
            return edited(edits, Path(kept))
    texts: dict[str, str] = {}
    for edit, number in edits.items():
        text = texts.get(edit.file) or (SMALL / edit.file).read_text("utf-8")
        if text.count(edit.old) != 1:
            raise ValueError(f"{edit.file} holds {edit.old!r} {text.count(edit.old)} times")
        new = edit.new if edit in SHAPES else edit.new.format(number)
        texts[edit.file] = text.replace(edit.old, new)
    if any("currency: USD" in text for text in texts.values()):
        texts[LIST] = texts.get(LIST, (SMALL / LIST).read_text("utf-8")).replace("GBP", "USD")
    rates = texts.get("exchange.csv", (SMALL / "exchange.csv").read_text("utf-8"))
    texts["exchange.csv"] = rates.rstrip("\n") + "\n2026-01-01,USD,1.08 USD/EUR,invented\n"
    return priced(write_catalogue(folder / "edited", texts, base=SMALL))
