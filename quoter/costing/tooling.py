"""What one pull of each mould costs."""

from __future__ import annotations

from quoter.catalogue.factory import Mould
from quoter.catalogue.prices import Catalogue
from quoter.engineering import tooling
from quoter.figures import Figure, constant


def pull_costs(catalogue: Catalogue) -> dict[str, Figure]:
    """Mould id -> cost per pull in home currency."""
    return {id: _per_pull(catalogue, mould) for id, mould in catalogue.records.moulds.items()}


def _per_pull(catalogue: Catalogue, mould: Mould) -> Figure:
    nothing = constant(0.0, catalogue.currency)
    key, name = f"mould.{mould.id}", mould.name
    pulls = tooling.pulls_to_write_off(mould.life, mould.pulls_per_year, mould.write_off_years)
    cost = tooling.cost_per_pull(
        mould.cost,
        mould.refurbishment if mould.refurbishment is not None else nothing,
        mould.salvage if mould.salvage is not None else nothing,
        pulls.named(f"{key}.pulls", f"{name}: pulls to write off"),
        mould.upkeep if mould.upkeep is not None else nothing,
    )
    return cost.named(f"{key}.per_pull", f"{name}: cost per pull")
