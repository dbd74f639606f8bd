"""The demonstration with two options more on one model: enough for a list of twelve."""

from __future__ import annotations

import re
import shutil
from collections.abc import Sequence
from pathlib import Path

from quoter.pricing.price import Pricing
from tests.catalogues.written import priced
from tests.demo import DEMO

MODEL = "weekender_86"
TWICE = ("sole_panels", "roof_panel")
TWELVE = (
    *("side_step", "transom_door", "companion_wide", "deck_hatch*2", "fish_lid*2", "seat_base*4"),
    *("sole_panels", "roof_panel", "buoyancy", "hull_blue", "sole_panels_too", "roof_panel_too"),
)


def laden(folder: Path, twice: Sequence[str] = TWICE) -> Pricing:
    """Prices of a copy in which options stand twice, in every language."""
    copy = folder / "laden"
    shutil.copytree(DEMO, copy)
    options = copy / "options.yaml"
    text = options.read_text(encoding="utf-8")
    again = [_again(_option(text, id), id) for id in twice]
    begun = text.index("packages:\n")
    comment = text.rindex("\n\n", 0, begun) + 1
    options.write_text(f"{text[:comment]}\n{''.join(again)}{text[comment:]}", encoding="utf-8")
    for file in (copy / "translations").glob("*.po"):
        said = file.read_text(encoding="utf-8")
        for id in twice:
            entries = re.findall(
                rf'msgctxt "options\.options\.{id}\..+?(?:\n\n|\Z)', said, re.DOTALL
            )
            said = said.rstrip() + "\n\n" + "".join(e.replace(id, f"{id}_too", 1) for e in entries)
        file.write_text(said, encoding="utf-8")
    return priced(copy)


def _again(option: str, id: str) -> str:
    """The same under another id, without the anchors that stand in the first already."""
    return re.sub(r": &\w+", ":", option.replace(f"id: {id}\n", f"id: {id}_too\n"))


def _option(text: str, id: str) -> str:
    """The lines of one option."""
    begun = text.index(f"  - id: {id}\n")
    return text[begun : text.index("\n\n", begun) + 1]
