"""Small catalogues written for one test: the standard cost card's with some files of their own."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path
from textwrap import dedent

from quoter.catalogue.load import load_catalogue
from quoter.costing.rollup import roll_up
from quoter.pricing.price import Pricing, set_prices
from quoter.problems import Problems

FOLDER = Path(__file__).resolve().parent
COST_CARD = FOLDER / "cost_card"
# Ids that tests ask for: the model and the option of the cost card.
MODEL, OPTION = "card", "unit"


def write_catalogue(
    folder: Path,
    files: Mapping[str, str],
    changes: Mapping[str, tuple[str, str]] | None = None,
    base: Path = COST_CARD,
) -> Path:
    """A copy of a catalogue with whole files replaced, and an old text by a new one in others.

    Raises:
        ValueError: when a text to replace is not there exactly once.
    """
    shutil.copytree(base, folder)
    for name, text in files.items():
        (folder / name).write_text(dedent(text).lstrip("\n"), encoding="utf-8")
    for name, (old, new) in (changes or {}).items():
        text = (folder / name).read_text(encoding="utf-8")
        if text.count(old) != 1:
            raise ValueError(f"{name} holds {old!r} {text.count(old)} times, not once")
        (folder / name).write_text(text.replace(old, new), encoding="utf-8")
    return folder


def priced(folder: Path) -> Pricing:
    """A catalogue read, costed and priced as a build does it.

    Raises:
        CatalogueError: when it has problems.
    """
    catalogue, _ = load_catalogue(folder)
    problems = Problems()
    costing = roll_up(catalogue, problems)
    problems.stop_if_any()
    return set_prices(costing)
