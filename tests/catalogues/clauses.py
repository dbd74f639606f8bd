"""The cost card with an index and a surcharge clause."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from tests.catalogues.written import COST_CARD, write_catalogue

INDICES = """\
date,index,value,note
2025-06-01,resin_index,100,first
2025-11-01,resin_index,104,
2026-01-01,resin_index,112.5,dearer <b>styrene</b>
"""
KEYS: Mapping[str, str] = {
    "id": "resin",
    "name": "Resin <surcharge>",
    "index": "resin_index",
    "threshold": "5 %",
    "share": "40 %",
    "only_excess": "no",
    "downward": "no",
    "open_for": "30",
}


def with_clauses(folder: Path, *clauses: Mapping[str, str], indices: str = INDICES) -> Path:
    """A catalogue of one option whose yard has these clauses: what they change of `KEYS`."""
    items = "".join(
        "  - {" + ", ".join(f"{key}: {value}" for key, value in {**KEYS, **clause}.items()) + "}\n"
        for clause in clauses
    )
    yard = (COST_CARD / "yard.yaml").read_text("utf-8").rstrip("\n") + "\n"
    text = f"{yard}surcharges:\n{items}"
    return write_catalogue(folder, {"indices.csv": indices, "yard.yaml": text})
