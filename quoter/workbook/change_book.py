"""The workbook of a comparison: costs and shares as stated numbers, their sums and checks live."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from quoter.analysis.bridge import Bridge, Change
from quoter.analysis.finding import BY_ELEMENT, finding
from quoter.figures import Figure, constant, stated, total
from quoter.phrases import phrase, together
from quoter.pricing.controls import agree
from quoter.pricing.rules import all_hold
from quoter.workbook.sheets.proof import CAUTIONS
from quoter.workbook.table import (
    AS_USUAL,
    Book,
    Chart,
    Column,
    Flag,
    Link,
    OnPaper,
    Paragraphs,
    Row,
    Sheet,
    Table,
    lead_on,
)

HOW_TO_READ = (
    "Costs and shares are given numbers of the comparison. The change, the old cost with all "
    "shares and the checks are formulas over them: old + shares must be the new cost.",
    "Each share is the Shapley value of its cause: the mean of what the cause adds over all "
    "orders in which the causes can be made new. So no order matters and nothing is left over.",
)
TOO_MANY = 12  # causes in one chart


def change_book(bridge: Bridge, company: str = "", on_paper: OnPaper = AS_USUAL) -> Book:
    """The workbook of a comparison, before it becomes a file."""
    rows = [("total", bridge.total)]
    rows += [(f"{id}.total", model.total) for id, model in bridge.models.items()]
    totals = _ChangeRows(bridge, "total", rows)
    classes = _ChangeRows(bridge, "class", [(name, c) for name, c in bridge.classes.items()])
    options = _ChangeRows(bridge, "one", list(_options(bridge)))
    checks = [check for lines in (totals, classes, options) for check in lines.checks]
    proved = all_hold(checks).named("change.all", "All checks hold")
    basis = phrase("one boat of each model")
    if bridge.planned:
        basis = phrase("the year's plan at the new volumes")
    front = Sheet(
        "Change",
        phrase("What moved the costs, {old} to {new}", old=bridge.old, new=bridge.new),
        (
            Paragraphs((finding(bridge), *(() if bridge.by_cause else (BY_ELEMENT,)))),
            Table(
                (Column("This workbook", width=34), Column("Result")),
                (Row(("Old + shares = new on every line", Flag(proved))),),
                name="proof",
            ),
            totals.table(phrase("Models, {basis}", basis=basis), "totals", phrase("Model")),
            classes.table(
                phrase("Material cost by class, {basis}", basis=basis),
                "classes",
                phrase("Material class"),
            ),
            Paragraphs(HOW_TO_READ),
            Paragraphs(CAUTIONS, "caution"),
        ),
        charts=_charts(bridge),
        then=lead_on("Options", "the same of each boat and option"),
    )
    each = Sheet(
        "Options",
        "Cost of each boat and option before and after, and each cause's share",
        (
            options.table(
                phrase("One boat or option"), "options", phrase("Model"), phrase("Boat or option")
            ),
        ),
        then=Link("Back to Change.", "Change"),
    )
    title = phrase("Change in cost")
    if company:
        title = phrase("{company}: change in cost", company=company)
    footer = phrase(
        "{title}, internal. {old} to {new}", title=title, old=bridge.old, new=bridge.new
    )
    names = {"cost_change": totals.changes[0], "all_checks": proved}
    return Book(title, (front, each), footer, bridge.currency, names, on_paper=on_paper)


def _options(bridge: Bridge) -> Iterator[tuple[str, Change]]:
    for id, model in bridge.models.items():
        yield f"{id}", model.boat
        yield from ((f"{id}.{option}", change) for option, change in model.options.items())


class _ChangeRows:
    """Rows of changes as figures: stated costs and shares, live sums and a check each."""

    def __init__(self, bridge: Bridge, kind: str, rows: Sequence[tuple[str, Change]]) -> None:
        self._bridge = bridge
        self._rows: list[tuple[str, ...]] = []
        self._money: list[list[Figure]] = []
        self.changes: list[Figure] = []
        self.checks: list[Figure] = []
        for id, change in rows:
            self._add(f"change.{kind}.{id}", id, change)

    def _add(self, key: str, id: str, change: Change) -> None:
        def given(amount: float, what: str, words: str) -> Figure:
            money = constant(amount, self._bridge.currency)
            return stated(money, f"{key}.{what}", together(": ", (change.name, words)))

        old = given(change.old, "old", phrase("old cost"))
        new = given(change.new, "new", phrase("new cost"))
        shares = [
            given(change.shares.get(cause, 0.0), cause, words)
            for cause, words in self._bridge.causes.items()
        ]
        moved = (new - old).named(f"{key}.change", phrase("{name}: change", name=change.name))
        reached = total([old, *shares], old).named(
            f"{key}.reached", phrase("{name}: with shares", name=change.name)
        )
        holds = agree(reached, new).named(
            f"{key}.holds", phrase("{name}: shares add up", name=change.name)
        )
        model = self._bridge.models.get(id.partition(".")[0])
        self._rows.append((model.name if model else change.name, change.name))
        self._money.append([old, new, moved, *shares, reached])
        self.changes.append(moved)
        self.checks.append(holds)

    def table(self, title: str, name: str, *heads: str) -> Table:
        """The rows under `heads`: the model, and what of it where there are two."""
        columns = (
            *(Column(head, width=30) for head in heads),
            Column("Old cost"),
            Column("New cost"),
            Column("Change"),
            *(Column(words) for words in self._bridge.causes.values()),
            Column("Old + shares"),
            Column("Check"),
        )
        rows = [
            Row((*words[-len(heads) :], *money, Flag(holds)))
            for words, money, holds in zip(self._rows, self._money, self.checks, strict=True)
        ]
        return Table(columns, tuple(rows), title=title, name=name)


def _charts(bridge: Bridge) -> tuple[Chart, ...]:
    causes = tuple(cause for cause, _ in bridge.total.largest[:TOO_MANY])
    if not causes or len(bridge.models) < 2:
        return ()
    words = tuple(bridge.causes[cause] for cause in causes)
    chart = Chart(
        title="Change in cost by cause",
        table="totals",
        categories="Model",
        values=words,
        value_title="Change",
        category_title="Model",
        description=phrase(
            "A stacked bar for each model: how much of its change in cost each cause "
            "brought. {bridge}",
            bridge=finding(bridge),
        ),
    )
    return (chart,)
