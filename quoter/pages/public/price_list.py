"""What the full price list tells once of an option that several models have."""

from __future__ import annotations

from quoter.pages.public.compare import in_order
from quoter.pages.public.views import OptionView, SheetView, StandardView


def described(sheet: SheetView) -> tuple[OptionView | StandardView, ...]:
    """Every option of any model, standard or not, once, in an order that keeps each model's.

    Its words are the same on all of them; prices and rules are a model's own.
    """
    lists: list[tuple[OptionView | StandardView, ...]] = [
        (*model.standard, *model.options) for model in sheet.models
    ]
    found = {item.id: item for items in lists for item in items}
    return tuple(found[id] for id in in_order([item.id for item in items] for items in lists))
