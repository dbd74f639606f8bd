"""Requests as the price sheet's page writes them in a browser. Everything in them is invented."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

SHEET = """\
# Asked for on the price sheet of Orvesund Boatyard, edition 2026-11
date: 2026-11-26
price_sheet: "2026-11"
market: home
language: de
model: open_68
options:
  - {option: anchor_lid}
  - {option: seat_base, quantity: 2}
colour: hull_grey
shown_total: 62570.40 EUR
"""
BY = "prepared_by: Ilse Maravant\n"


def in_quotes(text: str) -> str:
    """A text as `JSON.stringify` writes it (RFC 8259, section 7), which YAML 1.2 takes as it is."""
    return json.dumps(text, ensure_ascii=False)


def asked(customer: Mapping[str, str], more: str = BY, base: str = SHEET) -> str:
    """The file of a customer of whom only what is given was filled in."""
    lines = [f"  {key}: {in_quotes(text)}\n" for key, text in customer.items()]
    return f"{base}customer:\n{''.join(lines)}{more}"


def saved(folder: Path, text: str) -> Path:
    """The file as it was downloaded."""
    path = folder / "request.yaml"
    path.write_text(text, encoding="utf-8")
    return path
