"""Every amount of a catalogue in another currency than belongs there is told at its place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest

from quoter.catalogue.checks_ids import every_record, figure_place, readings
from quoter.catalogue.load import CSV_FILES, YAML_FILES, load_catalogue, read_records
from quoter.catalogue.measures import Measure
from quoter.catalogue.record import CatalogueRecord
from quoter.catalogue.records import Records
from quoter.catalogue.tables import PriceRow
from quoter.catalogue.yard import Yard
from quoter.figures import Figure
from quoter.problems import CatalogueError, Place, Problems
from tests.catalogues.written import FOLDER, write_catalogue
from tests.demo import DEMO

SOUND = FOLDER / "sound"
DELIVERY = ("named_place: Orvesund\n", "named_place: Orvesund\n    price: 1450 EUR\n")
BY_COST = (
    "base: machine hours\n      capacity: 2150 h",
    "base: labour cost\n      capacity: 90000 EUR",
)
RATES = "\n2026-11-01,GBP,0.86 GBP/EUR,invented\n"


def kinds_of_records() -> set[type[CatalogueRecord]]:
    """Every kind of record of a catalogue's files, those within others too."""
    found: set[type[CatalogueRecord]] = set()
    left: list[Any] = [kind for kind, _ in (*YAML_FILES.values(), *CSV_FILES.values())]
    left += [Yard, PriceRow]
    while left:
        kind = left.pop()
        if isinstance(kind, type) and issubclass(kind, CatalogueRecord) and kind not in found:
            found.add(kind)
            left += [field.annotation for field in kind.model_fields.values()]
        left += get_args(kind)
    return found


def money_keys(kind: type[CatalogueRecord]) -> set[str]:
    """The keys of a record that money may stand under."""
    return {
        name
        for name, reading in readings(kind, Measure)
        if any(symbol == "money" for unit in reading.dimensions for symbol, _ in unit.parts)
    }


def amounts(records: Records) -> Iterator[tuple[str, str, Figure]]:
    """Kind of record, key and figure of every amount of money."""
    for record in every_record(records):
        for name in money_keys(type(record)):
            value = getattr(record, name)
            for figure in value.values() if isinstance(value, dict) else (value,):
                if figure is not None and figure.unit.currencies:
                    yield type(record).__name__, name, figure


def in_currency(folder: Path, currency: str, figures: list[Figure]) -> dict[Place, str]:
    """Write each amount in a currency, as far as it is in another; what it was, by its place."""
    changed: dict[Place, str] = {}
    for figure in figures:
        place, own = figure_place(figure), figure.unit.currencies[0]
        if own == currency or place in changed:
            continue
        changed[place] = own
        path = folder / place.file
        lines = path.read_text(encoding="utf-8").split("\n")
        line = lines[place.line - 1]
        before, after = line[: place.column - 1], line[place.column - 1 :]
        lines[place.line - 1] = before + after.replace(own, currency, 1)
        assert lines[place.line - 1] != line
        path.write_text("\n".join(lines), encoding="utf-8")
    return changed


@pytest.mark.parametrize("currency", ["GBP", "CHF"])
def test_no_amount_of_a_catalogue_is_taken_for_one_of_another_currency(
    tmp_path: Path, currency: str
) -> None:
    """With a rate and without one: all of them are told, a new key's too."""
    changes = {"yard.yaml": DELIVERY, "stations.yaml": BY_COST}
    folder = write_catalogue(tmp_path / "c", {}, changes, DEMO)
    rates = folder / "exchange.csv"
    rates.write_text(rates.read_text("utf-8").rstrip("\n") + RATES, encoding="utf-8")
    problems = Problems()
    found = list(amounts(read_records(folder, problems)[0]))
    assert problems.errors == []
    wanted = {(kind.__name__, key) for kind in kinds_of_records() for key in money_keys(kind)}
    assert {(kind, key) for kind, key, _ in found} == wanted
    changed = in_currency(folder, currency, [figure for _, _, figure in found])
    assert len(changed) > 200
    told = Problems()
    read_records(folder, told)
    places = {(p.place.file, p.place.line) for p in told.errors if currency in p.what}
    assert {(place.file, place.line) for place in changed} == places


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("yard.yaml", "target_margin: 30 %", "target_margin: 0.3 USD/EUR"),
        ("yard.yaml", "provisions:\n    - {name: Commission, fraction: 4 %}",
         "provisions:\n    - {name: Commission, fraction: 0.04 EUR/USD}"),
        ("suppliers.yaml", "freight: 3 %", "freight: 0.03 GBP/EUR"),
    ],
)  # fmt: skip
def test_a_rate_of_exchange_is_no_plain_number(
    tmp_path: Path, file: str, old: str, new: str
) -> None:
    """Its currencies would cancel unseen where one is divided by another."""
    folder = write_catalogue(tmp_path / "c", {}, {file: (old, new)}, SOUND)
    with pytest.raises(CatalogueError) as fault:
        load_catalogue(folder)
    (problem,) = fault.value.problems
    value = new.rpartition(": ")[2].rstrip("}")
    assert problem.what.endswith(f" '{value}' has a unit where a plain number belongs")
    assert re.match(rf"{file}:\d+:\d+\Z", problem.place.clickable)
