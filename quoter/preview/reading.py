"""One reading of the catalogue: a site whose pages are made when they are asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from threading import Lock

from quoter.build import price_catalogue
from quoter.earlier import earlier_pricings
from quoter.leaks import SiteGuard
from quoter.pages.public.site import PublicSite
from quoter.preview.faults import Trouble, below, trouble_of
from quoter.pricing.price import Pricing
from quoter.problems import Problem


@dataclass(frozen=True, slots=True)
class Asked:
    """Which catalogue is shown, and how: as of a day, with settings as KEY=VALUE."""

    folder: Path
    as_of: date | None = None
    settings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """What a reading gave: a site with its warnings, or the trouble that stands in its way.

    `id` differs from that of any other reading, also of another run.
    """

    id: str
    folder: Path
    found: Site | Trouble
    warnings: Sequence[Problem] = ()


class Site:
    """The public pages of a priced catalogue; what was made is kept."""

    def __init__(self, pricing: Pricing, folder: Path, failed: Callable[[Trouble], None]) -> None:
        """Find out which pages there are; `failed` hears of each that can't be made.

        Raises:
            CatalogueError: a market's language is unknown or has no wording.
        """
        self._folder, self._failed = folder, failed
        site = PublicSite(pricing, earlier_pricings(folder, pricing))
        self._makers, self._guard = site.makers, SiteGuard(site)
        self._made: dict[str, bytes | Trouble] = {}
        self._lock = Lock()  # several pages asked for at once share what they are made from

    def __contains__(self, path: str) -> bool:
        """Whether there is a page or file of this name."""
        return path in self._makers

    def page(self, path: str) -> bytes | Trouble:
        """A page, if it can be made and all it says is accounted for."""
        with self._lock:
            if path not in self._made:
                self._made[path] = self._make(path)
            return self._made[path]

    def _make(self, path: str) -> bytes | Trouble:
        try:
            content = self._makers[path]()
            self._guard.look_through({path: content})
        except Exception as fault:
            trouble = trouble_of(fault, self._folder, path)
            self._failed(trouble)
            return trouble
        return content


def read(asked: Asked, id: str, failed: Callable[[Trouble], None]) -> Reading:
    """Read, cost and price a catalogue, whatever its state; `failed` is told of pages later."""
    folder = asked.folder
    try:
        pricing, warnings = price_catalogue(folder, asked.as_of, settings=asked.settings)
        site = Site(pricing, folder, failed)
    except Exception as fault:  # a preview lives on, whatever a half-written file leads to
        return Reading(id, folder, trouble_of(fault, folder))
    return Reading(id, folder, site, below(folder, warnings))
