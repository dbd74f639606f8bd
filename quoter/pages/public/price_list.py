"""The full price list on paper: a table for each model, and what each option is told once.

Plain views like those of `views`, made from a sheet's view alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from quoter.pages.public.compare import in_order
from quoter.pages.public.views import OptionView, SheetView, StandardView


@dataclass(frozen=True, slots=True)
class Description:
    """What an option of any model is, what it includes and what it does not."""

    id: str
    name: str
    kind: str
    text: str
    includes: tuple[str, ...]
    excludes: tuple[str, ...]


def descriptions(sheet: SheetView) -> tuple[Description, ...]:
    """Every option of any model, standard or not, once, in the catalogue's order."""
    lists: list[tuple[OptionView | StandardView, ...]] = [
        (*model.standard, *model.options) for model in sheet.models
    ]
    found = {item.id: item for items in lists for item in items}
    order = in_order([item.id for item in items] for items in lists)
    return tuple(
        Description(id, item.name, item.kind, item.text, item.includes, item.excludes)
        for id, item in ((id, found[id]) for id in order)
    )
