"""What people call whatever an actual is of, and the page that is about it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import cached_property

from babel import Locale
from babel.dates import format_skeleton

from quoter.actuals.account import Account
from quoter.actuals.compared import Scope
from quoter.actuals.estimates import Estimate
from quoter.costing.assembly import Assembly, in_building_order
from quoter.phrases import phrase, together
from quoter.pricing.controls import assemblies_of

POOLS = {
    "material": phrase("material"),
    "labour": phrase("labour"),
    "variable": phrase("variable overhead"),
    "fixed": phrase("fixed overhead"),
    "bought": phrase("as bought"),
}


class Names:
    """Names and addresses of all that an account tells of; addresses from its own folder."""

    def __init__(self, account: Account, locale: Locale) -> None:
        """Nothing is looked up yet."""
        self._account, self._locale = account, locale
        self._records = account.actuals.pricing.catalogue.records

    def month(self, month: str) -> str:
        """A month such as 2026-08 in full."""
        year, _, number = month.partition("-")
        first = date(int(year), int(number), 1)
        return str(format_skeleton("yMMMM", first, locale=self._locale))

    def short_month(self, month: str) -> str:
        """The same as short as a chart needs it."""
        year, _, number = month.partition("-")
        first = date(int(year), int(number), 1)
        return str(format_skeleton("yMMM", first, locale=self._locale))

    def station(self, id: str) -> str:
        """A station."""
        found = self._records.stations.get(id)
        return id if found is None else str(found.name)

    def material(self, id: str) -> str:
        """A material; of a boat that only states money, a class of it."""
        found = self._records.materials.get(id)
        return id.replace("_", " ") if found is None else str(found.name)

    def option(self, id: str, model: str) -> str:
        """An option, or the boat itself where none is named."""
        if not id:
            return phrase("{name}, the boat itself", name=self.model(model))
        found = self._records.options.get(id)
        return id if found is None else str(found.name)

    def model(self, id: str) -> str:
        """A model."""
        found = self._records.models.get(id)
        return id if found is None else str(found.name)

    def part(self, key: str) -> str:
        """An assembly by the key of its recipe; its variant where it has several."""
        found = self._assemblies.get(key)
        if found is None:
            return key.partition(".")[2].replace("_", " ") or key
        variant = key.partition("__")[2].replace("_", " ").replace("  ", " ")
        return together(", ", [found.name, variant]) if variant else found.name

    def operation(self, part: str, number: int) -> str:
        """An operation by its number on the papers."""
        found = self._assemblies.get(part)
        if found is None or not 0 < number <= len(found.operations):
            return phrase("operation {number}", number=number)
        return str(found.operations[number - 1].operation.name)

    def of(self, scope: Scope) -> str:
        """What a scope is of: a material or a station, and in which part or operation."""
        kind, _, id = scope.resource.partition(".")
        what = self.material(id) if kind in ("material", "bought") else self.station(id)
        within = [self.part(scope.part)] if scope.part else []
        if scope.operation:
            within.append(self.operation(scope.part, scope.operation))
        elif kind == "material" and scope.station:
            within.append(self.station(scope.station))
        if kind in ("variable", "fixed", "bought"):
            what = together(", ", [what, POOLS[kind]])
        return together(": ", [what, together(", ", within)]) if within else what

    def job_page(self, number: str) -> str:
        """The address of a job's page; nothing where it has none."""
        name = self._jobs.get(number)
        return f"jobs/{name}.html" if name else ""

    def month_page(self, month: str) -> str:
        """The address of a month's page; nothing where it has none."""
        return f"{month}.html" if month in self._account.actuals.months else ""

    def operation_page(self, one: Estimate) -> str:
        """The address of an operation's or a station's page."""
        return f"operations/{self._operations[one.key]}.html"

    @cached_property
    def _jobs(self) -> Mapping[str, str]:
        return _file_names(self._account.actuals.jobs)

    @cached_property
    def _operations(self) -> Mapping[str, str]:
        estimates = self._account.estimates
        every = (*estimates.operations, *estimates.stations)
        return _file_names([one.key for one in every if one.samples])

    @cached_property
    def _assemblies(self) -> Mapping[str, Assembly]:
        """By key: those of the list, and those of boats as they were built."""
        actuals = self._account.actuals
        found = {}
        for job in actuals.jobs.values():
            for use in in_building_order(job.built.whole):
                found[use.assembly.recipe.key] = use.assembly
        for priced in actuals.pricing.models.values():
            found |= {one.recipe.key: one for one in assemblies_of(priced)}
        return found


def _file_names(ids: Iterable[str]) -> dict[str, str]:
    """A name of a file for each, of small letters, digits and hyphens alone."""
    return dict(zip(list(ids), _told_apart(ids), strict=True))


def _told_apart(ids: Iterable[str]) -> Iterator[str]:
    taken: set[str] = set()
    for id in ids:
        plain = re.sub(r"[^a-z0-9]+", "-", id.lower()).strip("-") or "x"
        name, number = plain, 2
        while name in taken:
            name, number = f"{plain}-{number}", number + 1
        taken.add(name)
        yield name
