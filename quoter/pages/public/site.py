"""The whole public site: a folder for each price sheet that needs nothing outside it, and a door.

A page is made when it is asked for, so that one who looks at a few need not wait for all.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache, cached_property, partial
from types import MappingProxyType

from babel import Locale
from jinja2 import Environment

from quoter.catalogue.markets import Market
from quoter.pages.environment import asset, public_environment, render
from quoter.pages.public.build_list import RuleScript, list_script, rule_script
from quoter.pages.public.changes import (
    ChangesView,
    changes_view,
    past_lists,
)
from quoter.pages.public.compare import comparison, described, every_boat
from quoter.pages.public.data import prices_json
from quoter.pages.public.data_schema import schema_file
from quoter.pages.public.data_table import csv_metadata, prices_csv
from quoter.pages.public.drawn_boats import DrawnBoat, drawn_boats
from quoter.pages.public.folder_zip import folder_zip, zip_name
from quoter.pages.public.found import ROBOTS, SITEMAP, robots, site_map
from quoter.pages.public.heads import Copy, address_of, head_of, heads_of, published_sheets
from quoter.pages.public.linked_data import boat_json_ld, offers_json_ld
from quoter.pages.public.local_table import prices_local_csv
from quoter.pages.public.pictures import YardPictures
from quoter.pages.public.price_book import price_book
from quoter.pages.public.running_foot import running_foot
from quoter.pages.public.sheet import sheet_view, whole
from quoter.pages.public.views import SheetView
from quoter.pricing.earlier import EarlierLists, shown_prices
from quoter.pricing.price import Pricing
from quoter.wording import wording

Maker = Callable[[], bytes]
Rules = Callable[[str], RuleScript]

# Files of a price sheet's folder that go out as they are.
ASSETS = {
    "assets/base.css": "shared/base.css",
    "assets/icon.svg": "shared/icon.svg",
    "assets/sheet.css": "public/sheet.css",
    "assets/boat.css": "public/boat_list.css",
    "assets/compare.css": "public/compare.css",
    "assets/list.css": "public/list.css",
    "assets/summary.css": "public/summary.css",
    "assets/compare.js": "public/compare.js",
    "assets/edition.js": "public/edition.js",
    "assets/signs.js": "public/signs.js",
}
# The scripts of a model's page, each on top of those before it.
BOAT_SCRIPTS = (
    *("amounts", "choice", "forms", "finder", "drawn", "basis", "refusal", "list_box", "carry"),
    *("boat", "qr", "summary", "request", "beside"),
)
_EXPLAINED = re.compile(rb"^[ ]*//.*\n|^[ ]+", re.MULTILINE)
# Those of the first page, likewise.
SEARCH_SCRIPTS = ("amounts", "forms", "search")
DOOR_ASSETS = ("assets/base.css", "assets/icon.svg", "assets/sheet.css")
# Pages of a price sheet that show the whole of it, each with what its template is told besides.
PAGES: dict[str, Callable[[SheetView], dict[str, object]]] = {
    "index.html": lambda sheet: {},
    "compare.html": lambda sheet: {"compared": comparison(sheet)},
    "list.html": lambda sheet: {"described": described(sheet)},
}
# The same as data for other programs.
DATA: dict[str, Callable[[SheetView], bytes]] = {
    "prices.csv": prices_csv,
    "prices-local.csv": prices_local_csv,
    "prices.csv-metadata.json": csv_metadata,
    "prices.json": prices_json,
    "prices.schema.json": lambda _: schema_file(),
    "offers.jsonld": offers_json_ld,
}


def public_pages(pricing: Pricing, earlier: Sequence[EarlierLists] = ()) -> dict[str, bytes]:
    """Path below site/ -> content, for every published market in each of its languages.

    Args:
        pricing: the finished costing
        earlier: what its lists showed on earlier days, to tell what changed; the last day of the
            edition before comes first
    Raises:
        CatalogueError: a market's language is unknown or has no wording, at its place.
    """
    return PublicSite(pricing, earlier).pages()


def market_pages(pricing: Pricing, market: Market, locale: Locale) -> dict[str, bytes]:
    """Path below its folder -> content of one market's price sheet in the language of a locale.

    Raises:
        CatalogueError: the catalogue is not translated into that language.
    """
    sheet = MarketSheet(pricing, market, locale, _rules_of(pricing))
    return {path: make() for path, make in sheet.makers().items()}


def boat_script() -> bytes:
    """The scripts of a model's page in one file, since a slow line waits for every file anew."""
    return _joined(BOAT_SCRIPTS)


def search_script() -> bytes:
    """The scripts of the first page, which searches all boats, in one file."""
    return _joined(SEARCH_SCRIPTS)


def _joined(scripts: Sequence[str]) -> bytes:
    return b"\n".join(_slim(asset(f"public/{name}.js")) for name in scripts)


def _slim(script: bytes) -> bytes:
    """A script without its margins and the lines that only explain it: a quarter less to fetch.

    No text of the scripts goes on in the next line.
    """
    return _EXPLAINED.sub(b"", script)


class PublicSite:
    """The price sheets of a yard: every file by what makes it, and every sheet by its folder."""

    def __init__(
        self, pricing: Pricing, earlier: Sequence[EarlierLists] = (), copy: Copy | None = None
    ) -> None:
        """Find out which files there are; see `public_pages`. A `copy` is what a dealer gets."""
        self.pricing, self.earlier = pricing, earlier
        self.makers: dict[str, Maker] = {}
        self.sheets: dict[str, MarketSheet] = {}
        self._doors: dict[str, MarketSheet] = {}
        self.pictures = YardPictures(pricing)
        rules = _rules_of(pricing)
        for market, locale in published_sheets(pricing, copy):
            sheet = MarketSheet(pricing, market, locale, rules, earlier, self.pictures, copy)
            self.sheets[sheet.folder] = sheet
            tag = sheet.folder.partition("/")[0]
            for page, word in (("index.html", ""), (f"{tag}/index.html", tag)):
                if page not in self._doors:
                    self._doors[page], self.makers[page] = sheet, partial(sheet.door, word)
            self.makers |= {f"{sheet.folder}/{path}": make for path, make in sheet.makers().items()}
        self.makers |= {path: partial(asset, ASSETS[path]) for path in DOOR_ASSETS}
        if copy is None and self._doors and (address := address_of(pricing)):
            self._be_found(address, next(iter(self.sheets.values())))

    def _be_found(self, address: str, first: MarketSheet) -> None:
        """Tell search engines which pages there are; it is made with the first price sheet."""
        pages = [page for page in first.makers() if page.endswith(".html")]
        heads = heads_of(self.pricing)
        self.makers[SITEMAP] = partial(site_map, address, heads, pages)
        self.makers[ROBOTS] = partial(robots, address)
        self._doors |= {SITEMAP: first, ROBOTS: first}

    def pages(self, paths: Iterable[str] | None = None) -> dict[str, bytes]:
        """Path below site/ -> content; all of them, or those that are asked for.

        A whole folder in one file comes last, of what was made for the folder itself.
        """
        asked = [*(self.makers if paths is None else paths)]
        zips = {f"{sheet.folder}/{sheet.zip}": sheet for sheet in self.sheets.values()}
        found = {path: self.makers[path]() for path in asked if path not in zips}
        for path in asked:
            if path in zips:
                found[path] = zips[path].zipped(found)
        return found

    def ready(self) -> None:
        """Make what all sheets share, before they are made in processes of their own."""
        _ = self.pictures.files
        if self.sheets:
            next(iter(self.sheets.values())).ready()

    @cached_property
    def shares(self) -> dict[str, list[str]]:
        """The files by the folder of the sheet they are made with; those of none come first."""
        found: dict[str, list[str]] = {"": []}
        for path in self.makers:
            sheet = self.sheet_of(path)
            found.setdefault("" if sheet is None else sheet.folder, []).append(path)
        return found

    def sheet_of(self, path: str) -> MarketSheet | None:
        """The price sheet that a file is of, if it is of one; a page before them is of one, too."""
        folder = "/".join(path.split("/")[:2])
        return self._doors.get(path) or self.sheets.get(folder)


def _rules_of(pricing: Pricing) -> Rules:
    """The rules of a model's options for a browser: alike in all markets, so written once."""
    return cache(lambda id: rule_script(pricing, pricing.models[id]))


class MarketSheet:
    """One market's price sheet in one language: its view, and what makes its files."""

    def __init__(
        self,
        pricing: Pricing,
        market: Market,
        locale: Locale,
        rules: Rules,
        earlier: Sequence[EarlierLists] = (),
        pictures: YardPictures | None = None,
        copy: Copy | None = None,
    ) -> None:
        """Keep what the files are made from; nothing is made yet."""
        self._pricing, self._market, self.locale = pricing, market, locale
        self.folder = head_of(pricing, market, locale).folder
        self.zip = zip_name(head_of(pricing, market, locale))
        self._rules, self._earlier, self._copy = rules, earlier, copy
        self._pictures = pictures or YardPictures(pricing)

    @cached_property
    def view(self) -> SheetView:
        """What the sheet shows."""
        changed = bool(self._earlier)
        return sheet_view(
            self._pricing,
            self._market,
            self.locale,
            changed=changed,
            pictures=self._pictures,
            copy=self._copy,
        )

    @cached_property
    def other(self) -> SheetView | None:
        """The same with tax where the sheet is without, or without; None where that isn't shown."""
        if not self._market.tax_switch:
            return None
        shown = "without tax" if self.view.taxed else "with tax"
        market = self._market.model_copy(update={"prices": shown})
        return sheet_view(
            self._pricing, market, self.locale, changed=self.view.changed, pictures=self._pictures
        )

    @cached_property
    def _environment(self) -> Environment:
        """Its templates; those of a page are at hand for the next."""
        return self._templates(self.view.whole and (self.other is None or self.other.whole))

    def ready(self) -> None:
        """Have the templates at hand, and with the view the drawings that every sheet shows."""
        for name in self._environment.list_templates(["html"]):
            if name.startswith("public/"):
                self._environment.get_template(name)

    def _templates(self, whole: bool) -> Environment:
        return public_environment(self.locale, self.view.currency, self.view.units, whole=whole)

    @cached_property
    def _places(self) -> dict[str, int]:
        """Where each model stands in the yard's order, by its id."""
        return {model.id: place for place, model in enumerate(self.view.models)}

    @cached_property
    def drawn(self) -> Mapping[str, DrawnBoat]:
        """The drawing of each boat, by its id."""
        return drawn_boats(self._pricing, self.view, self.locale)

    @cached_property
    def changes(self) -> ChangesView | None:
        """What differs from the edition before, if there was one."""
        if not self._earlier:
            return None
        now = shown_prices(self._pricing, self._market)
        past = past_lists(self._earlier, self._market)
        return changes_view(self.view, self._earlier[0].version, now, past)

    @cached_property
    def views(self) -> tuple[object, ...]:
        """All that its files are made from."""
        drawn = tuple(self.drawn.values())
        other = () if self.other is None else (self.other,)
        return (
            *(self.view, comparison(self.view), described(self.view), self.changes, drawn),
            *other,
        )

    @property
    def rules(self) -> list[RuleScript]:
        """The rules of every model's options."""
        return [self._rules(id) for id in self._pricing.models]

    def makers(self) -> dict[str, Maker]:
        """Path below the sheet's folder -> what makes the file."""
        found: dict[str, Maker] = {
            path: partial(self._page, path, told) for path, told in PAGES.items()
        }
        if self._earlier:
            found["changes.html"] = self._changes
        for id, model in self._pricing.models.items():
            found[f"models/{id}.html"] = partial(self._model, id)
            if model.extras:
                found[f"models/{id}.js"] = partial(self._list, id)
        found["assets/boat.js"] = boat_script
        found["assets/search.js"] = search_script
        found["assets/boats.js"] = self._boats
        files = {**DATA, "prices.xlsx": price_book, "assets/foot.css": running_foot}
        found |= {path: partial(self._file, make) for path, make in files.items()}
        found |= {name: partial(self._pictures.file, name) for name in self._pictures.names}
        found |= {path: partial(asset, source) for path, source in ASSETS.items()}
        return found | {self.zip: self.zipped}

    def zipped(self, made: Mapping[str, bytes] = MappingProxyType({})) -> bytes:
        """Its whole folder in one file.

        Args:
            made: files of the site that are there already, by path below it; others are made
        """
        files = {}
        for path, make in self.makers().items():
            if path != self.zip:
                files[path] = made.get(f"{self.folder}/{path}") or make()
        return folder_zip(self.view, files)

    def door(self, tag: str) -> bytes:
        """The page before the price sheets: all of them, or those in one language by its tag."""
        heads = heads_of(self._pricing, self._copy)
        tags = tuple(dict.fromkeys(head.tag for head in heads))
        shown = [[head for head in heads if head.tag == each] for each in tags if tag in ("", each)]
        listed = tuple(dict.fromkeys(head.tag for head in heads if not head.trade)) or tags
        told = {"languages": shown, "tags": listed, "tag": tag, "root": "../" if tag else ""}
        hidden = all(head.trade for heads in shown for head in heads)
        return self._render("public/door.html", **told, hidden=hidden)

    def _page(self, path: str, told: Callable[[SheetView], dict[str, object]]) -> bytes:
        told_here = {"boats": self.drawn, **told(self.view)}
        return self._render(f"public/{path}", **told_here, root="", page=path)

    def _changes(self) -> bytes:
        """The page of changes, where earlier prices may need decimals that those of now don't."""
        page, changes = "changes.html", self.changes
        alike = self.view.whole and changes is not None and whole(changes.shown)
        told = self._told(changes=changes, root="", page=page)
        return render(self._templates(alike), f"public/{page}", **told)

    def _model(self, id: str) -> bytes:
        models, place = self.view.models, self._places[id]
        told = {
            "model": models[place],
            "before": models[place - 1] if place else None,
            "after": models[place + 1] if place + 1 < len(models) else None,
            "boat": self.drawn[id],
            "offers": boat_json_ld(self.view, models[place]),
            "other": self.other,
            "turned": None if self.other is None else self.other.models[place],
        }
        return self._render("public/model.html", **told, root="../", page=f"models/{id}.html")

    def _list(self, id: str) -> bytes:
        rules = self._rules(id)
        say = wording(self.locale)
        return list_script(
            self.view, self.view.models[self._places[id]], rules, say, self.locale, self.other
        )

    def _boats(self) -> bytes:
        return every_boat(self.view, self.locale)

    def _file(self, make: Callable[[SheetView], bytes]) -> bytes:
        return make(self.view)

    def _render(self, template: str, **context: object) -> bytes:
        return render(self._environment, template, **self._told(**context))

    def _told(self, **context: object) -> dict[str, object]:
        """What every page of the sheet is told, and what one is told besides."""
        return {"sheet": self.view, "other": None, "zip": self.zip, **context}
