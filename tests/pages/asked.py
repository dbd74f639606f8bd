"""The small catalogue with what questions need: volumes, a calendar of moulds, ranges, a pair."""

from __future__ import annotations

from pathlib import Path

from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced, write_catalogue

VOLUMES = """
    model,option,boats,take_rate,note
    skiff,,60,,invented
    cutter,,25,,invented
    skiff,hatch,,50 %,invented
    cutter,side_door,,40 %,invented
    cutter,green,,20 %,invented
"""
CHANGES = (
    (
        "yard.yaml",
        "  prices_stale_after_days: 120",
        "  shift_calendar: {shifts: 1, hours: 8 h, days: 5, closed_weeks: 7}\n"
        "  mould_availability: 80 %\n  prices_stale_after_days: 120",
    ),
    (
        "parts.yaml",
        "    moulds: [return_mould]",
        "    moulds: [return_mould]\n    alternative_to: lid",
    ),
    ("parts.yaml", "        fixed: 3 h\n", "        fixed: 3 h\n        cure: 30 h\n"),
    ("materials.yaml", "{id: mat, name: Mat 450,", "{id: mat, name: Mat 450, pack: 90 lb,"),
    (
        "prices/2026-02-01.csv",
        "hand_resin,brisk,3.35 EUR/kg,",
        "hand_resin,brisk,3.35 EUR/kg [3.10 to 3.90 triangular],",
    ),
    (
        "prices/2026-02-01.csv",
        "hinge,brisk,21.50 EUR/each,",
        "hinge,brisk,21.50 EUR/each [20 to 26],",
    ),
)


def asked(folder: Path) -> Pricing:
    """The small yard with a planned year, priced."""
    copy = write_catalogue(folder / "asked", {"volumes.csv": VOLUMES}, base=FOLDER / "small")
    for name, old, new in CHANGES:
        text = (copy / name).read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{name}: {old}"
        (copy / name).write_text(text.replace(old, new), encoding="utf-8")
    return priced(copy)
