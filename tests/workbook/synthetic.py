"""A small invented book that uses every operation, every kind of cell and every kind of block."""

from __future__ import annotations

from quoter.figures import (
    Figure,
    constant,
    dot,
    round_to,
    total,
)
from quoter.figures.graph import inputs_of
from quoter.figures.ops import absolute, less, less_or_equal
from quoter.workbook import (
    Book,
    Chart,
    Choice,
    Column,
    Contents,
    Flag,
    InputCell,
    Link,
    Paragraphs,
    Row,
    Sheet,
    Table,
)
from tests.workbook.operations import given, operations_sheet

ODD_TEXTS = (
    "=1+1",
    "+31 20 555 0100",
    "-5 is a text here",
    "@everyone",
    "\tafter a tab",
    "two\nlines",
    "<b> & \"quotes\" 'too'",
    "_x0041_ stays as it is",
    " blanks at both ends ",
    "#N/A",
    "TRUE",
    "1,5",
    "Grün · 0.6 m² · 尾",
)


def written(figure: Figure) -> Figure:
    """The input a working figure was converted from."""
    return inputs_of([figure])[0]


NAMES = (
    "Side entry, port", "Side entry, pair", "Wide side entry with step", "Side entry with ramp",
    "Anchor locker hatch", "Engine hatch, insulated", "Console door", "Wheelhouse sliding door",
    "Seat base, double", "Seat base, single", "Foam fill under deck", "Hull colour",
)  # fmt: skip
ELEMENTS = ("Material", "Labour", "Tooling", "Overhead")


class Sums:
    """An invented costing: prices, quantities, costs by element, prices and a selection."""

    def __init__(self) -> None:
        self.resin = given("62.40 USD/gal", "laminating resin", "price.resin", 3)
        self.gallon = given("9.1 lb/gal", "resin density", "density.resin", 4)
        self.rate = given("0.92 EUR/USD", "rate of exchange", "rate.usd", 5)
        self.wage = given("27.5 EUR/h", "wage with on-costs", "wage", 6)
        self.loss = given("12.5 %", "resin loss", "loss", 7)
        self.target = given("32 %", "target margin", "target", 8)
        self.fibre = given("450 g/m2", "mat, dry weight", "mat", 9)
        per_kg = self.resin * self.rate / self.gallon
        self.per_kg = per_kg.named("resin.cost", "laminating resin, per mass")
        self.options = [self._option(i, name) for i, name in enumerate(NAMES)]

    def _option(self, index: int, name: str) -> dict[str, Figure]:
        key = f"option.{index}"
        area = given(f"{0.3 + 0.17 * index:.3f} m2", f"{name}, area", f"{key}.area", 20 + index)
        hours = given(f"{4 + 1.5 * index:.2f} h", f"{name}, hours", f"{key}.hours", 40 + index)
        mould = given(f"{9000 + 400 * index} EUR", f"{name}, mould", f"{key}.mould", 60 + index)
        pulls = given("400 pulls", f"{name}, pulls", f"{key}.pulls", 80 + index)
        glass = (area * self.fibre * 4).named(f"{key}.glass", f"{name}, glass")
        resin = (glass * 2.2 / (1 - self.loss)).named(f"{key}.resin", f"{name}, resin issued")
        parts = {
            "Material": (resin * self.per_kg).named(f"{key}.material", f"{name}, material"),
            "Labour": (hours * self.wage).named(f"{key}.labour", f"{name}, labour"),
            "Tooling": (mould / pulls).named(f"{key}.tooling", f"{name}, tooling"),
            "Overhead": (hours * self.wage * 0.65).named(f"{key}.overhead", f"{name}, overhead"),
        }
        cost = total(list(parts.values()), self.wage).named(f"{key}.cost", f"{name}, cost")
        step = constant(10.0, "EUR")
        price = round_to(cost / (1 - self.target), step).named(f"{key}.price", f"{name}, price")
        margin = ((price - cost) / price).named(f"{key}.margin", f"{name}, margin", "percent")
        chosen = Figure(float(index % 3 == 0), op="input", label=f"{name}, chosen",
                        key=f"{key}.chosen")  # fmt: skip
        rest = {"glass": glass, "mass": resin + glass, "hours": hours, "chosen": chosen}
        return parts | rest | {"cost": cost, "price": price, "margin": margin}

    def column(self, name: str) -> list[Figure]:
        return [option[name] for option in self.options]

    def chosen(self, name: str) -> Figure:
        label = f"configured boat, {name}"
        return dot(self.column("chosen"), self.column(name)).named(f"boat.{name}", label)


def summary(sums: Sums, boat: dict[str, Figure], good: Figure) -> Sheet:
    columns = (
        Column("Option"),
        Column("Chosen"),
        Column("Cost"),
        Column("List price, ex tax"),
        Column("Margin"),
        Column("Mass added"),
        Column("Hours"),
        Column("Floor"),
    )
    keys = ("cost", "price", "margin", "mass", "hours")
    rows = []
    for i, (name, option) in enumerate(zip(NAMES, sums.options, strict=True)):
        chosen = Choice(option["chosen"], most=2 if i else 1)
        holds = less_or_equal(sums.target, option["margin"] + 0.001 * i)
        floor = Flag(holds, "holds", "BELOW FLOOR")
        rows.append(Row((Link(name, "Options"), chosen, *(option[key] for key in keys), floor)))
    margin = (boat["price"] - boat["cost"]) / boat["price"]
    totals = (boat["cost"], boat["price"], margin.named("boat.margin", "margin", "percent"))
    rows.append(Row(("Configured boat", None, *totals, boat["mass"], boat["hours"], None),
                    kind="total"))  # fmt: skip
    checks = Table((Column("Check"), Column("Reads")), (Row(("All checks", Flag(good))),))
    return Sheet(
        "Summary",
        "What each option of the invented model Heron 7.4 costs, sells for and adds; choose in the "
        "second column and the last row adds up the boat.",
        (Table(columns, tuple(rows), name="summary"), checks, Contents()),
        charts=(
            Chart("Cost of each option by element", "elements", "Option", ELEMENTS, "Cost",
                  "Option", "Stacked bars: labour is the largest part of nearly every option."),
            Chart("Hours by option", "summary", "Option", ("Hours",), "Paid time", "Option",
                  "Bars: hours rise from the single side entry to the hull colour.", "columns"),
        ),
        owner=False,
    )  # fmt: skip


def options_sheet(sums: Sums) -> Sheet:
    columns = (Column("Option"), *(Column(element) for element in ELEMENTS), Column("Cost"))
    keys = (*ELEMENTS, "cost")
    rows = [
        Row((name, *(option[key] for key in keys)))
        for name, option in zip(NAMES, sums.options, strict=True)
    ]
    whole = [total(sums.column(k), sums.wage).named(f"all.{k}", f"all options, {k}") for k in keys]
    rows.append(Row(("All options", *whole), kind="total"))
    return Sheet(
        "Options",
        "Cost of one of each option by element.",
        (Table(columns, tuple(rows), name="elements"),),
        notes=("Overhead is absorbed on paid hours.",),
    )


def take_off(sums: Sums) -> Sheet:
    rows: list[Row] = []
    for name, option in zip(NAMES, sums.options, strict=True):
        rows.append(Row((name,), kind="group"))
        rows.append(Row(("Glass, net", option["glass"], "four plies of mat"), "method, part 2"))
        rows.append(Row(("Glass and resin", option["mass"], "resin with its loss; the mass of what "
                         "is lost in the cup, on the roller and on the floor counts here"),
                        "method, part 2"))  # fmt: skip
        rows.append(Row(("Time", option["hours"], None), "invented/prices.csv:40"))
    return Sheet(
        "Take-off",
        "Material and time of one of each option.",
        (Table((Column("What"), Column("Quantity"), Column("Remark")), tuple(rows)),),
    )


def inputs_sheet(sums: Sums) -> Sheet:
    working = [sums.resin, sums.gallon, sums.rate, sums.wage, sums.loss, sums.target, sums.fibre]
    rows = [
        Row((figure.label, InputCell(figure), figure.origin.effective), str(figure.origin.place))
        for figure in map(written, working)
        if figure.origin is not None
    ]
    return Sheet(
        "Inputs",
        "Prices, rates and policy as the catalogue has them.",
        (Table((Column("Input"), Column("Value"), Column("Effective from")), tuple(rows)),),
    )


def checks_sheet(sums: Sums, boat: dict[str, Figure]) -> tuple[Sheet, Figure]:
    by_element = total([total(sums.column(e), sums.wage) for e in ELEMENTS], sums.wage)
    by_option = total(sums.column("cost"), sums.wage)
    gap = (by_element - by_option).named("check.gap", "elements less options")
    tolerance = constant(0.005, "EUR")
    good = less_or_equal(absolute(gap), tolerance).named("check.elements", "elements add up")
    planted = less(boat["cost"], tolerance)
    columns = (Column("Check"), Column("Difference"), Column("Reads"))
    rows = (
        Row(("Elements add up to options", gap, Flag(good))),
        Row(("Planted: costs nothing", boat["cost"], Flag(planted))),
    )
    sheet = Sheet("Checks", "Control totals; each must read OK.", (Table(columns, rows),))
    return sheet, good


def method_sheet() -> Sheet:
    return Sheet(
        "Method",
        "How the numbers come about, and what to be careful with.",
        (
            Paragraphs(("Losses",), "heading"),
            Paragraphs((
                "A loss is a fraction of what is issued: issued = net / (1 - loss). A shop that "
                "states waste on the net amount has another number for the same thing; the "
                "catalogue takes either and says which it got.",
                "Resin is bought by the gallon and used by the kilogram; its density converts.",
            )),
            Paragraphs((
                "Styrene vapour is harmful: ventilate, measure, and follow local rules. Organic "
                "peroxides burn and blind; never mix them with an accelerator directly.",
                "An opening cut in a hull changes its strength. A cost estimate approves no "
                "structure; that is for licensed designers and local codes.",
            ), "caution"),
            Table((Column("Text as typed"),), tuple(Row((text,)) for text in ODD_TEXTS)),
        ),
    )  # fmt: skip


FOOTER = "Build 1a2b3c · catalogue of 2031-03-04 · price list 2031-03 & later"


def synthetic_book() -> Book:
    """The whole book; each call makes the same one from new figures."""
    sums = Sums()
    boat = {name: sums.chosen(name) for name in ("cost", "price", "mass", "hours")}
    checks, good = checks_sheet(sums, boat)
    sheets = (
        summary(sums, boat, good),
        options_sheet(sums),
        take_off(sums),
        inputs_sheet(sums),
        checks,
        operations_sheet(),
        method_sheet(),
    )
    names = {"boat_cost": boat["cost"], "boat_price": boat["price"], "resin_per_kg": sums.per_kg}
    return Book("Heron 7.4, costing", sheets, FOOTER, "EUR", names, workings_before="Method")
