"""A yard of options for one material: what can be chosen together, and what a package costs."""

from __future__ import annotations

from pathlib import Path

from quoter.pricing.configured import Configured, configure
from quoter.pricing.price import PricedModel, Pricing
from tests.catalogues.written import MODEL, priced, write_catalogue

GOODS = "    goods:\n      - {item: direct_material, quantity: 1 kg}\n"


def option(id: str, rules: str = "", goods: str = GOODS) -> str:
    """The lines of an option that is a kilogram of material, called by its id."""
    lines = "".join(f"    {rule}\n" for rule in rules.split("; ") if rule)
    return (
        f"  - id: {id}\n    name: {id.capitalize()}\n    group: Worked example\n    kind: fitting\n"
        f"    text: One of several.\n    lead_time: none\n{lines}{goods}"
    )


def yard(
    folder: Path,
    options: str,
    *,
    standard: str = "",
    packages: str = "",
    book: str = "",
    policy: tuple[str, str] | None = None,
) -> Pricing:
    """The cost card's yard with other options, some standard, some in packages.

    Args:
        folder: to write into
        options: as `option` gives them
        standard: ids of the model's standard options, as `a, b`
        packages: lines of the packages
        book: rows of the price book, as `date,model,option,list_price,note`
        policy: a text of yard.yaml and what takes its place
    """
    bundled = f"packages:\n{packages}" if packages else ""
    files = {"options.yaml": f"options:\n{options}{bundled}"}
    if book:
        files["price_book.csv"] = f"date,model,option,list_price,note\n{book}"
    changes = {"models.yaml": ("    base:\n", f"    standard: [{standard}]\n    base:\n")}
    if policy:
        changes["yard.yaml"] = policy
    return priced(write_catalogue(folder, files, changes))


def model(pricing: Pricing) -> PricedModel:
    return pricing.models[MODEL]


def chosen(pricing: Pricing, **quantities: int) -> Configured:
    return configure(pricing.terms, model(pricing), quantities)


def breaches(pricing: Pricing, **quantities: int) -> list[str]:
    """What a salesperson is told of a selection."""
    return [rule.words for rule in chosen(pricing, **quantities).rules if not rule.holds.value]
