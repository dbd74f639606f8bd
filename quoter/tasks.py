"""What a build makes of a priced catalogue, in tasks that need nothing of each other.

Whoever does them, and in whatever order, the same task gives the same files: a price sheet of one
market in one language; the review of the yard; its planned year; all about one boat.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path

from quoter.actuals.account import Account, account_from, compared_of, is_booked
from quoter.actuals.compared import Actuals
from quoter.analysis.findings import Findings, ModelFindings
from quoter.catalogue.mark import fingerprint
from quoter.catalogue.translations import untranslated
from quoter.keys import YardKeys, key_of_sheet, key_with_booked
from quoter.leaks import Leak, SiteGuard
from quoter.pages.actuals.site import actuals_files
from quoter.pages.costing_json import costing_json
from quoter.pages.papers import model_papers, paper_index
from quoter.pages.public.site import PublicSite
from quoter.pages.questions import option_pages
from quoter.pages.review import review_files
from quoter.pricing.earlier import earlier_lists
from quoter.pricing.price import Pricing
from quoter.pricing.priced import at_last_list
from quoter.problems import Problem, Problems, nearest
from quoter.wording import own_words
from quoter.workbook.actuals_book import ACTUALS_BOOK, actuals_book
from quoter.workbook.margin_book import MARGIN_REVIEW, margin_book
from quoter.workbook.model_book import model_book
from quoter.workbook.plan_book import plan_book
from quoter.workbook.writer import write_book

Files = dict[str, bytes]
SHEET, REVIEW, YEAR, BOAT, COSTING = "sheet", "review", "year", "boat", "costing"
ACTUALS = "actuals"  # where anything was booked
WORKBOOK = "workbook"  # of a boat, where nothing else is asked for
# What takes longest first, so that no worker is left with it at the end.
LONGEST_FIRST = (ACTUALS, REVIEW, BOAT, YEAR, SHEET, WORKBOOK, COSTING)


# Is given whether a file is public, its path and its content; what it gives goes in its place.
Keep = Callable[[bool, str, bytes], bytes]


def in_memory(public: bool, name: str, content: bytes) -> bytes:
    """Keep a file as what it is."""
    return content


class UnknownModelError(ValueError):
    """Raised where somebody asks for a model that the catalogue has not; says which is near."""


@dataclass(frozen=True, slots=True)
class Task:
    """Some files of a build: of what kind, and of which boat or price sheet."""

    kind: str
    id: str = ""

    def __str__(self) -> str:
        """Its name, as it stands in notes."""
        return f"{self.kind} {self.id}".rstrip()


@dataclass(frozen=True, slots=True)
class Made:
    """The files that a task gave by path, what of them is a leak, and the CPU seconds it took."""

    public: Files = field(default_factory=dict)
    internal: Files = field(default_factory=dict)
    leaks: Sequence[Leak] = ()
    seconds: float = 0.0


class Work:
    """A priced catalogue, and the tasks that its build consists of."""

    def __init__(
        self,
        folder: Path,
        pricing: Pricing,
        warnings: Sequence[Problem],
        *,
        published: bool,
        model: str = "",
        keep: Keep = in_memory,
    ) -> None:
        """Nothing is made yet.

        Args:
            folder: the catalogue's
            pricing: what it comes to
            warnings: what its reading and costing found worth a look
            published: whether there is to be a price sheet
            model: the one whose workbook alone is wanted, if one is
            keep: who keeps a file as soon as it is made
        Raises:
            CatalogueError: a market can't read all of it in its language.
            UnknownModelError: there is no such model.
        """
        if model and model not in pricing.models:
            raise UnknownModelError(f"unknown model '{model}': {nearest(model, pricing.models)}")
        self.pricing, self._folder, self._warnings = pricing, folder, warnings
        self._published, self._model, self._keep = published, model, keep
        if published:
            problems = Problems()
            problems.extend(untranslated(pricing.catalogue.records))
            problems.quote(pricing.catalogue.excerpt)
            problems.stop_if_any()

    @cached_property
    def _findings(self) -> Findings:
        return Findings(self.pricing, lambda: at_last_list(self._folder, self.pricing))

    @cached_property
    def _took(self) -> Actuals | None:
        actuals, _ = compared_of(self._folder, self.pricing)
        return actuals

    @cached_property
    def _account(self) -> Account | None:
        return None if self._took is None else account_from(self._took)

    @cached_property
    def _site(self) -> PublicSite:
        return PublicSite(self.pricing, earlier_lists(self._folder, self.pricing))

    @cached_property
    def _keys(self) -> YardKeys:
        return YardKeys(self.pricing, self._findings.plan)

    @cached_property
    def _guard(self) -> SiteGuard:
        return SiteGuard(self._site)

    def tasks(self) -> list[Task]:
        """All of them, in the order in which they are told of."""
        if self._model:
            return [Task(WORKBOOK, self._model)]
        sheets = [Task(SHEET, folder) for folder in self._site.shares] if self._published else []
        year = [Task(YEAR)] if self._findings.plan.boats else []
        boats = [Task(BOAT, id) for id in self.pricing.models]
        actuals = [Task(ACTUALS)] if is_booked(self._folder) else []
        return [*sheets, Task(REVIEW), *boats, *year, *actuals, Task(COSTING)]

    def key(self, task: Task) -> str:
        """What the files of a task rest on: with the same key, they are the same."""
        if task.kind == SHEET:
            sheet = self._site.sheets.get(task.id)
            return "" if sheet is None else key_of_sheet(self.pricing, sheet)
        if task.kind in (BOAT, WORKBOOK):
            return self._keys.boat(self.pricing.models[task.id])
        if task.kind == COSTING:
            return self._mark
        key = self._keys.all(self._warnings)
        return key_with_booked(key, self._folder) if task.kind in (ACTUALS, REVIEW) else key

    def owner(self, public: bool, path: str) -> Task:
        """Which task a file is of."""
        if public:
            sheet = self._site.sheet_of(path)
            return Task(SHEET, "" if sheet is None else sheet.folder)
        folder, _, below = path.partition("/")
        if self._model:
            return Task(WORKBOOK, self._model)
        name = below.partition("/")[0] if "/" in below else below.removesuffix(".xlsx")
        if folder == "costing.json":
            return Task(COSTING)
        if folder == ACTUALS:
            return Task(ACTUALS)
        if name in self.pricing.models:
            return Task(BOAT, name)
        return Task(YEAR) if below == self._year_book else Task(REVIEW)

    @property
    def _year_book(self) -> str:
        return "plan.xlsx" if "plan" not in self.pricing.models else "planned_year.xlsx"

    @cached_property
    def _mark(self) -> str:
        catalogue = self.pricing.catalogue
        mark = fingerprint(self._folder, catalogue.as_of, catalogue.settings)
        return f"{mark} (a what-if)" if catalogue.settings else mark

    def said(self, task: Task) -> str:
        """What is being done, in words."""
        if task.kind == SHEET:
            return f"writing the price sheet {task.id}" if task.id else "writing the price sheets"
        if task.kind in (BOAT, WORKBOOK):
            name = self.pricing.models[task.id].model.name
            return f"writing the workbook {'and papers ' * (task.kind == BOAT)}of {name}"
        told = {
            REVIEW: "margin review",
            YEAR: "planned year",
            ACTUALS: "pages about what it really took",
            COSTING: "costs as data",
        }
        return f"writing the {told[task.kind]}"

    def ready(self, tasks: Iterable[Task]) -> None:
        """Work out what several tasks share, before those who do them go their own ways."""
        self._findings.share()
        kinds = {task.kind for task in tasks}
        if {ACTUALS, REVIEW} <= kinds:
            _ = self._took
        if SHEET in kinds:
            self._site.ready()
            self._guard.ready()
        gc.freeze()  # what is there by now stays; looking for garbage in it would copy its pages

    def do(self, task: Task) -> Made:
        """The files of one task, each kept by whoever keeps them."""
        begun = time.process_time()
        public, internal, leaks = _DONE[task.kind](self, task.id)
        return self.kept(Made(public, internal, leaks, time.process_time() - begun))

    def kept(self, made: Made) -> Made:
        """What a task gave, its files kept: none that is public where one of them is a leak."""
        if made.leaks:
            return made
        public, internal = (
            {name: self._keep(is_public, name, content) for name, content in files.items()}
            for is_public, files in ((True, made.public), (False, made.internal))
        )
        return replace(made, public=public, internal=internal)

    def _sheet(self, folder: str) -> tuple[Files, Files, Sequence[Leak]]:
        made = self._site.pages(self._site.shares[folder])
        return {**made}, {}, self._guard.leaks(made)

    def _review(self, _: str) -> tuple[Files, Files, Sequence[Leak]]:
        self._findings.share()
        pricing, findings = self.pricing, copy(self._findings)  # of which the rest goes with it
        made = _below("review", review_files(findings, self._warnings, self._took))
        made |= _below("papers", paper_index(pricing))
        if pricing.models:
            made[f"workbooks/{MARGIN_REVIEW}"] = write_book(
                margin_book(findings), own_words(pricing.catalogue)
            )
        return {}, made, ()

    def _year(self, _: str) -> tuple[Files, Files, Sequence[Leak]]:
        book = write_book(plan_book(self._findings), own_words(self.pricing.catalogue))
        return {}, {f"workbooks/{self._year_book}": book}, ()

    def _actuals(self, _: str) -> tuple[Files, Files, Sequence[Leak]]:
        account = self._account
        if account is None:
            return {}, {}, ()
        return {}, _below(ACTUALS, actuals_folder(account)), ()

    def _costing(self, _: str) -> tuple[Files, Files, Sequence[Leak]]:
        return {}, {"costing.json": costing_json(self.pricing, self._mark)}, ()

    def _workbook(self, id: str) -> tuple[Files, Files, Sequence[Leak]]:
        return {}, _book_of(self._findings.of(self.pricing.models[id])), ()

    def _boat(self, id: str) -> tuple[Files, Files, Sequence[Leak]]:
        model = self.pricing.models[id]
        asked = self._findings.of(model)
        made = _book_of(asked) | _below("review", option_pages(asked))
        return {}, made | _below("papers", model_papers(self.pricing, model)), ()


_DONE: Mapping[str, Callable[[Work, str], tuple[Files, Files, Sequence[Leak]]]] = {
    SHEET: Work._sheet,
    REVIEW: Work._review,
    YEAR: Work._year,
    ACTUALS: Work._actuals,
    COSTING: Work._costing,
    BOAT: Work._boat,
    WORKBOOK: Work._workbook,
}


def _book_of(asked: ModelFindings) -> Files:
    book = write_book(model_book(asked), own_words(asked.pricing.catalogue))
    return {f"workbooks/{asked.model.model.id}.xlsx": book}


def actuals_folder(account: Account) -> Files:
    """All that is told of what was booked, by name: its pages and their workbook."""
    words = own_words(account.actuals.pricing.catalogue)
    return {**actuals_files(account), ACTUALS_BOOK: write_book(actuals_book(account), words)}


def _below(folder: str, files: Mapping[str, bytes]) -> Files:
    return {f"{folder}/{path}": content for path, content in files.items()}
