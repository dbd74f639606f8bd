"""The page of the past: how prices of materials, costs and margins moved. For the yard alone."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise

from quoter.analysis.findings import Findings
from quoter.analysis.history import History, LineHistory, MaterialHistory, ModelHistory
from quoter.catalogue.factory import Supplier
from quoter.catalogue.prices import corrected_from, listed_on
from quoter.catalogue.tables import PriceRow
from quoter.costing.elements import class_words
from quoter.costing.replay import Values
from quoter.figures import Figure
from quoter.figures.graph import input_behind
from quoter.figures.readers import METRIC_READER, Reader
from quoter.pages.charts import CARD, INLINE, StepLine, Track, steps
from quoter.pages.environment import assets, office_environment, render
from quoter.pages.figured import RAISED, decimal, unit_words
from quoter.pricing.price import Pricing
from quoter.units import unit

ASSETS = {"assets/history.css": "internal/history.css"}
PRINTED = 8  # days that fit a sheet of paper
MARGIN_SPAN = Decimal("0.05")  # five points at least, so that a small move looks small


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit."""

    value: Decimal
    unit: str


@dataclass(frozen=True, slots=True)
class PriceMove:
    """A price at first and at last; `change` is a fraction, None where they do not compare.

    `steady` is whether it never was another in between.
    """

    first: Amount
    last: Amount
    change: Decimal | None
    steady: bool


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A material: the supplier's price and the landed one since it was first known.

    `suppliers` are those after the first with the day they took over; `told` is the landed price
    wherever it changed; `corrected` what the list of a day had until its supplier corrected it.
    """

    name: str
    supplier: str
    first_supplier: str
    since: date
    quoted: PriceMove
    landed: PriceMove
    suppliers: tuple[tuple[date, str], ...]
    told: tuple[tuple[date, Decimal], ...]
    corrected: tuple[tuple[date, str], ...]
    chart: StepLine | None

    @property
    def moved(self) -> bool:
        """Whether anything about its price changed."""
        return not (self.landed.steady and self.quoted.steady and not self.suppliers)


@dataclass(frozen=True, slots=True)
class ClassView:
    """The materials of one class: those that moved, the largest move first, and the others."""

    name: str
    moved: tuple[MaterialView, ...]
    still: tuple[MaterialView, ...]


@dataclass(frozen=True, slots=True)
class LineView:
    """A boat, option or package by day, drawn; `page` is whether there is a page about it."""

    past: LineHistory
    page: bool
    cost_chart: StepLine | None
    margin_chart: StepLine | None

    @property
    def below(self) -> bool:
        """Whether its margin is below the floor now."""
        return bool(self.past.sold and self.past.sold.below[-1])


def history_page(findings: Findings) -> dict[str, bytes]:
    """Path below internal/review/ -> content: history.html and its style.

    The review's own pages bring the rest of what it needs.

    Raises:
        CatalogueError: when the home market's language is unknown or has no wording.
    """
    pricing, history = findings.pricing, findings.history
    catalogue = pricing.catalogue
    floor = decimal(pricing.terms.floor)
    until = catalogue.as_of
    suppliers, reader = catalogue.records.suppliers, catalogue.reader
    classes = class_views(history, suppliers, catalogue.currency, until, reader)
    models = [(model, _lines(model, floor, pricing)) for model in history.models.values()]
    page = render(
        office_environment(catalogue),
        "internal/history.html",
        root="",
        catalogue=catalogue,
        floor=floor,
        buyer=str(pricing.terms.buyers[0].name),
        days=history.days,
        left_out=history.left_out,
        printed=PRINTED,
        classes=classes,
        mover=_mover(classes),
        models=models,
        lines=[line for _, lines in models for line in lines],
    )
    return {"history.html": page} | assets(ASSETS, findings.pricing.catalogue.paper)


def _lines(model: ModelHistory, floor: Decimal, pricing: Pricing) -> list[LineView]:
    """A model's boat, then what can be chosen, what is below the floor first."""
    until = pricing.catalogue.as_of
    priced = pricing.models[model.id]
    boat = line_view(model.boat, floor, until, page=False, small=True)
    extras = [
        line_view(model.options[id], floor, until, page=id in priced.options, small=True)
        for id in model.extras
    ]
    extras.sort(key=lambda line: not line.below)
    return [boat, *extras]


def _mover(classes: list[ClassView]) -> MaterialView | None:
    """The material whose landed price moved most."""
    first = classes[0].moved if classes else ()
    return first[0] if first and first[0].landed.change else None


def class_views(
    history: History,
    suppliers: Mapping[str, Supplier],
    currency: str,
    until: date,
    reader: Reader = METRIC_READER,
) -> list[ClassView]:
    """The classes of material, that with the largest move first."""
    by_class: dict[str, list[MaterialView]] = {}
    for material in history.materials.values():
        view = material_view(history.days, material, suppliers, currency, until, reader)
        by_class.setdefault(material.material_class, []).append(view)
    classes = [
        ClassView(
            class_words(name),
            tuple(sorted((view for view in views if view.moved), key=_size, reverse=True)),
            tuple(view for view in views if not view.moved),
        )
        for name, views in by_class.items()
    ]
    return sorted(
        classes, key=lambda one: _size(one.moved[0]) if one.moved else Decimal(-1), reverse=True
    )


def _size(view: MaterialView) -> Decimal:
    return abs(view.landed.change or Decimal(0))


def material_view(
    days: Sequence[date],
    material: MaterialHistory,
    suppliers: Mapping[str, Supplier],
    currency: str,
    until: date,
    reader: Reader,
) -> MaterialView:
    """One material over the days; its price on the last one is always known."""
    per = reader.shown(Figure(1.0, unit(currency) / material.counted))
    factor = per.value
    landed = exact(tuple(None if one is None else one * factor for one in material.landed))
    known = [(day, value) for day, value in zip(days, landed, strict=True) if value is not None]
    rows = [row for row in material.rows if row is not None]
    names = [
        (day, str(suppliers[row.supplier].name))
        for day, row in zip(days, material.rows, strict=True)
        if row is not None
    ]
    words = f"{currency}/each" if per.unit == unit(currency) else unit_words(per)
    first, last = known[0][1], known[-1][1]
    told = [known[0], *(new for old, new in pairwise(known) if new[1] != old[1])]
    return MaterialView(
        name=material.name,
        supplier=names[-1][1],
        first_supplier=names[0][1],
        since=known[0][0],
        quoted=_quoted(rows, reader),
        landed=PriceMove(
            Amount(first, words),
            Amount(last, words),
            last / first - 1 if first else None,
            len(told) == 1,
        ),
        suppliers=tuple(new for old, new in pairwise(names) if new[1] != old[1]),
        told=tuple(told),
        corrected=tuple(
            dict.fromkeys((listed_on(row), old) for row in rows if (old := corrected_from(row)))
        ),
        chart=steps(Track(days, landed, until), CARD) if len(told) > 1 else None,
    )


def _quoted(rows: Sequence[PriceRow], reader: Reader) -> PriceMove:
    """The supplier's own price, compared where it is told by the same one in the same unit."""
    quotes = [quote_of(row, reader) for row in rows]
    first, last = quotes[0], quotes[-1]
    alike = rows[0].supplier == rows[-1].supplier and first.unit == last.unit and first.value
    change = last.value / first.value - 1 if alike else None
    return PriceMove(first, last, change, all(quote == first for quote in quotes))


def quote_of(row: PriceRow, reader: Reader) -> Amount:
    """A price as its supplier writes it, such as 1.88 in ``USD/lb``; another reader sees the like
    of it."""
    figure = reader.shown(input_behind(row.price))
    text = "" if figure.origin is None else figure.origin.text
    written = re.search(r"[A-Za-z].*", text)
    words = written.group() if written is not None else str(figure.unit)
    return Amount(decimal(figure), words.translate(RAISED))


def line_view(
    line: LineHistory, floor: Decimal, until: date, *, page: bool, small: bool
) -> LineView:
    """One boat or option over the days, drawn small for a table or larger for a page of its own."""
    frame = INLINE if small else CARD
    cost = steps(Track(line.days, exact(line.cost), until), frame)
    margin = None
    if line.sold is not None:
        track = Track(
            line.days,
            exact(line.sold.margin_fraction),
            until,
            floor,
            line.sold.below,
            MARGIN_SPAN,
        )
        margin = steps(track, frame)
    return LineView(line, page, cost, margin)


def exact(values: Values) -> tuple[Decimal | None, ...]:
    """The values with every digit they have."""
    return tuple(None if value is None else decimal(value) for value in values)
