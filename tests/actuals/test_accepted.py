"""What jobs took stays what it was when a standard is accepted after them.

That a closed account does not move is the yard's own rule: common practice, no source.
"""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import NamedTuple

import pytest
from click.testing import CliRunner

from quoter.actuals.account import Account, account_of
from quoter.actuals.left import left_by_last
from quoter.analysis.findings import Findings
from quoter.analysis.margins import Key
from quoter.catalogue.load import load_catalogue
from quoter.cli import main
from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.importing.accepting import NewStandard, accept_standards
from quoter.importing.writing import write
from quoter.pricing.priced import price_catalogue
from tests.demo import DEMO

DOOR = "parts.closed_mould.side_door.operations.3.rates.area"
STATION = "stations.stations.laminating.efficiency"
HEAD = "date,key,was,becomes,samples,median,low,high,by,note\n"
MIDDLE = date(2026, 9, 15)


class Told(NamedTuple):
    """What is told of finished jobs, number by number, and the margins planned now."""

    jobs: dict[str, list[float]]
    left: dict[Key, tuple[tuple[str, ...], list[float]]]
    planned: dict[Key, float]


def asked(folder: Path) -> tuple[Account, Findings]:
    pricing, _ = price_catalogue(folder)
    account, _ = account_of(folder, pricing)
    assert account is not None
    return account, Findings(pricing)


def told(folder: Path) -> Told:
    account, findings = asked(folder)
    margins, buyer = findings.margins, str(findings.margins.buyer.id)
    left = left_by_last(account.actuals, margins.at_home, buyer)
    return Told(
        {
            number: [figure.value for figure in account_figures(account, number)]
            for number, job in account.actuals.jobs.items()
            if not job.open
        },
        {key: (one.jobs, [part.value for part in one.fractions]) for key, one in left.items()},
        {line.key: line.sales[buyer].margin_fraction.value for line in margins.at_home},
    )


def account_figures(account: Account, number: str) -> Iterator[Figure]:
    after = account.after[number]
    yield from (after.price, after.standard, after.cost, after.planned, after.left)
    for row in after.rows:
        yield from (row.standard, row.actual)


@pytest.mark.slow
def test_what_is_accepted_moves_the_plan_and_no_finished_job(tmp_path: Path) -> None:
    """A proposal as the command accepts it, and how well a station does, which all jobs rest on."""
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    before = told(folder)
    done = CliRunner().invoke(main, ["accept", str(folder), "--only", DOOR])
    assert done.exit_code == 0, done.output
    day = load_catalogue(folder)[0].as_of
    made = accept_standards(folder, [NewStandard(STATION, "", "80 %", 12)], day)
    assert made.faults == []
    write(folder, made.files, made.replaced)
    after = told(folder)
    assert after.jobs == before.jobs
    assert after.left == before.left
    assert after.planned.keys() == before.planned.keys()
    assert any(after.planned[key] != before.planned[key] for key in before.left)


@pytest.mark.slow
def test_every_key_is_of_one_figure_where_jobs_have_recipes_of_two_days(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    row = "20 min/m2,26 min/m2,9,26 min/m2,25 min/m2,27 min/m2,,"
    (folder / "accepted.csv").write_text(f"{HEAD}{MIDDLE},{DOOR},{row}\n", "utf-8")
    account, findings = asked(folder)
    actuals = account.actuals
    older = [job for job in actuals.jobs.values() if job.pricing is not actuals.pricing]
    assert 0 < len(older) < len(actuals.jobs)
    figures = [line.amount for line in actuals.lines]
    for one in actuals.compared:
        quantities = (one.actual_quantity, one.standard_quantity)
        figures += [one.actual, one.standard, *(each for each in quantities if each is not None)]
    for missing in actuals.unbooked:
        figures += [missing.quantity, missing.standard]
    for number, job in actuals.jobs.items():
        figures += [job.standard, *account_figures(account, number)]
    margins = findings.margins
    for left in left_by_last(actuals, margins.at_home, str(margins.buyer.id)).values():
        figures += left.fractions
    keys = Counter(figure.key for figure in in_order(figures) if figure.key)
    assert any(key.startswith("actual.left.") for key in keys)
    assert [key for key, count in keys.items() if count > 1] == []
