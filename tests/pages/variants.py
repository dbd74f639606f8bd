"""The small catalogue with some of its words changed."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced

# Delivery of every boat to Sundby at 1000 EUR before tax, in yard.yaml.
DELIVERED = {
    "markets:\n": "quotes:\n"
    "  valid_for: 30\n"
    "  tax_rounding: per quote\n"
    "  payment: [On delivery.]\n"
    "  schemes: [{id: domestic, charged: yes}]\n"
    "  rate_source: the yard's bank\n"
    "  rate_words: The yard bears them.\n"
    "  delivery: {term: DAP, named_place: Sundby, edition: Incoterms 2020, price: 1000 EUR}\n"
    "markets:\n"
}


def small_with(folder: Path, changes: Mapping[str, Mapping[str, str]]) -> Pricing:
    """Prices of a copy of the small catalogue: file -> {words: what replaces them}.

    Each must be found, so that a test can't change nothing.
    """
    return priced(copied(FOLDER / "small", folder / "small", changes))


def copied(catalogue: Path, copy: Path, changes: Mapping[str, Mapping[str, str]]) -> Path:
    """A copy of a catalogue with some of its words changed; each must be found."""
    shutil.copytree(catalogue, copy)
    for name, words in changes.items():
        text = (copy / name).read_text(encoding="utf-8")
        for old, new in words.items():
            assert old in text, f"{name} does not hold '{old}'"
            text = text.replace(old, new)
        (copy / name).write_text(text, encoding="utf-8")
    return copy
