"""Worked examples as a catalogue with tables of what was booked: one unit at one station.

The boat is the cost card's, which weighs and costs nothing; a job of so many boats with the option
`unit` each makes so many units. Rows of hours hold no more than a day each, as the tables ask.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import cache
from pathlib import Path

from quoter.actuals.compare import compare
from quoter.actuals.compared import Actuals, Compared
from quoter.catalogue.booked import TABLES, Booked
from quoter.catalogue.booked_files import file_of, read_booked
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from quoter.problems import Problems
from tests.catalogues.written import COST_CARD, write_catalogue

END = date(2026, 3, 31)  # the day that worked examples are asked about
OPTION = """\
options:
  - id: unit
    name: One unit
    group: Worked example
    kind: fitting
    text: One unit.
    lead_time: none
    goods:
      - {{item: direct_material, quantity: {material}}}
    operations:
      - {{name: Assembling, station: assembly, fixed: {hours}{more}}}
"""
STATION = """\
stations:
  - id: assembly
    name: Assembly
    wage_group: assembly
    on_costs: 0 %
    efficiency: 100 %
    overhead: {{base: labour hours, capacity: {capacity}, variable: {variable}, fixed: {fixed}}}
  - id: finishing
    name: Finishing
    wage_group: assembly
    on_costs: 0 %
    efficiency: 100 %
    overhead: {{base: labour hours, capacity: 1000 h, variable: 0 USD, fixed: 0 USD}}
"""
Row = Mapping[str, object]


def textbook(
    folder: Path,
    *,
    hours: str = "1 h",
    wage: str = "10 USD/h",
    material: str = "1 lb",
    price: str = "1 USD/lb",
    capacity: str = "12000 h",
    variable: str = "0 USD",
    fixed: str = "0 USD",
    more: str = "",
    wages: str = "",
) -> Path:
    """A catalogue whose unit takes so much, at a station with budgets of a year.

    Nothing of it is done at the second station. `more` are further keys of the operation, as
    `, passes: 80 %`, and `wages` further rows.
    """
    station = STATION.format(capacity=capacity, variable=variable, fixed=fixed)
    prices = f"""\
        material,supplier,price,note
        direct_material,supplier,{price},
        white,supplier,1 USD/kg,expected: not used
        peroxide,supplier,1 USD/kg,expected: not used
        """
    files = {
        "options.yaml": OPTION.format(material=material, hours=hours, more=more),
        "stations.yaml": station,
        "wages.csv": f"date,group,wage,note\n2026-01-01,assembly,{wage},\n{wages}",
        "prices/2026-01-01.csv": prices,
    }
    return write_catalogue(folder, files, base=COST_CARD)


def made(units: int, **more: object) -> dict[str, Sequence[Row]]:
    """A job of so many units, begun and finished in one month."""
    job = {
        "job": "J-1",
        "model": "card",
        "options": "unit",
        "boats": units,
        "started": "2026-03-02",
        "finished": "2026-03-31",
    }
    return {"jobs": [{**job, **more}]}


def worked(hours: float, each: float = 20.0, /, **more: object) -> dict[str, Sequence[Row]]:
    """So many hours of the job, in rows of a shift each."""
    row = {"date": "2026-03-16", "job": "J-1", "station": "assembly", **more}
    count = int(hours / each)
    rows = [{"reference": f"H-{n}", **row, "hours": f"{each!r} h"} for n in range(count)]
    if left := hours - count * each:
        rows.append({"reference": f"H-{count}", **row, "hours": f"{left!r} h"})
    return {"hours": rows}


def spent(**kinds: str) -> dict[str, Sequence[Row]]:
    """Overhead spent in the month, by kind."""
    row = {"month": "2026-03", "station": "assembly"}
    rows = [{"reference": f"L-{k}", **row, "kind": k, "spent": s} for k, s in kinds.items()]
    return {"overhead": rows}


def table(kind: str, rows: Iterable[Row]) -> bytes:
    """The text of a table with some of its columns."""
    rows = list(rows)
    columns = [name for name in TABLES[kind].model_fields if any(name in row for row in rows)]
    lines = [",".join(columns)]
    lines += [",".join(str(row.get(name, "")) for name in columns) for row in rows]
    return ("\n".join(lines) + "\n").encode()


def booked_in(
    pricing: Pricing, folder: Path, tables: Mapping[str, Sequence[Row]], *, sound: bool = True
) -> Booked:
    """Tables read as from the folder `actuals` of a catalogue.

    What fits nothing, such as a day outside the job, is let pass where they need not be sound.

    Raises:
        CatalogueError: something in them is wrong.
    """
    problems = Problems()
    files = {file_of(kind): table(kind, rows) for kind, rows in tables.items() if rows}
    booked = read_booked(folder, pricing.catalogue.records, problems, files)
    if sound:
        problems.stop_if_any()
    return booked


@cache
def priced_on(folder: Path, day: date) -> Pricing:
    """A catalogue priced on a day, once."""
    return price_catalogue(folder, day)[0]


def actuals_of(folder: Path, *tables: Mapping[str, Sequence[Row]], day: date = END) -> Actuals:
    """A catalogue's actuals, of tables that are read as if they stood in its folder."""
    pricing = priced_on(folder, day)
    merged = {kind: rows for each in tables for kind, rows in each.items()}
    return compare(pricing, booked_in(pricing, folder, merged), folder)


def one_of(actuals: Actuals, resource: str) -> Compared:
    """The one comparison of a resource."""
    (found,) = (each for each in actuals.compared if each.scope.resource == resource)
    return found


def amounts(compared: Compared) -> dict[str, float]:
    """The amount of each variance of a comparison."""
    return {line.kind: line.amount.value for line in compared.lines}
