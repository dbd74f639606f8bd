"""What a trial is, and where all of them are found."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import tests.trials


@dataclass(slots=True)
class Tried:
    """What came of a trial: how often something was tried, and each failure in words."""

    count: int = 0
    failed: list[str] = field(default_factory=list)

    def expect(self, held: bool, otherwise: str) -> None:
        """Count one more, and what is told where it did not hold."""
        self.count += 1
        if not held:
            self.failed.append(otherwise)


@dataclass(frozen=True, slots=True)
class Trial:
    """Something tried over and over: `run` is given how often, in short and at length.

    A walk over everything there is may take the number as the step of its walk's ends or overlook
    it; what counts is what `Tried` says was tried.
    """

    name: str
    what: str
    run: Callable[[int], Tried]
    short: int
    long: int


def every_trial() -> Iterator[Trial]:
    """The trials of all modules of this package, in the order of their names."""
    for module in sorted(pkgutil.iter_modules(tests.trials.__path__), key=lambda found: found.name):
        if module.name != "__main__":
            yield from getattr(importlib.import_module(f"tests.trials.{module.name}"), "TRIALS", ())
