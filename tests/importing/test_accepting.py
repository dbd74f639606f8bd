"""Accepting writes exactly the values, at their places, with their lines in accepted.csv.

Which lines moved is what git says of a repository of its own; what a file says is PyYAML's reading.
The proposals are made up: what data propose is tested where it is worked out.
"""

from __future__ import annotations

import csv
import json
import os
import pickle
import shutil
import signal
import subprocess
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import Result

from quoter.actuals.proposals import Proposal
from quoter.actuals.samples import Interval
from quoter.analysis.findings import Findings
from quoter.catalogue.adding import sole_writer
from quoter.catalogue.load import load_catalogue, read_records
from quoter.cli import standards
from quoter.figures.graph import inputs_of
from quoter.importing.accepting import NewStandard, accept_standards
from quoter.importing.writing import settle, write
from quoter.pricing.priced import price_catalogue
from quoter.problems import Place, Problems
from tests.catalogues.written import write_catalogue
from tests.importing.sheets import bytes_in, quoter

SMALL = Path(__file__).resolve().parent.parent / "catalogues" / "small"
FIXED = "parts.open_mould.surround.operations.1.fixed"
RATE = "parts.open_mould.surround.operations.2.rates.perimeter"
PASSES = "parts.closed_mould.lid.operations.2.passes"
KEYS = {
    FIXED: ("50 min", "57 min [52 to 63 triangular]"),
    RATE: ("20 min/m", "17.5 min/m [16 to 19]"),
    PASSES: ("97 %", "95 % [93 to 97]"),
}


def proposals(folder: Path, *keys: str) -> list[Proposal]:
    """Made-up ones, each with the text that stands in the folder now."""
    _, sources = read_records(folder, Problems())
    return [
        Proposal(
            key=key,
            place=sources.scalars[key].place if key in sources.scalars else Place(""),
            name="Laminate, the time",
            was=KEYS[key][0],
            text=KEYS[key][1],
            likely=57.0,
            unit=KEYS[key][0].partition(" ")[2],
            evidence=Interval(58.04, 53.0, 63.0, 0.9),
            samples=17,
            weight=0.8,
            reason="took longer in nearly every job",
            effects=(),
        )
        for key in keys or KEYS
    ]


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = write_catalogue(tmp_path / "yard", {}, base=SMALL)
    # As many catalogues have it, and few editors show: one file with line ends of the other kind.
    parts = folder / "parts.yaml"
    parts.write_bytes(parts.read_bytes().replace(b"\n", b"\r\n"))
    monkeypatch.setattr(standards, "proposed", lambda there, _: proposals(there))
    return folder


def git(folder: Path, *words: str) -> str:
    alone = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    named = {f"GIT_{who}_{what}": "x@y.example" for who in ("AUTHOR", "COMMITTER")
             for what in ("NAME", "EMAIL")}  # fmt: skip
    run = subprocess.run(
        ["git", "-c", "core.autocrlf=false", *words],
        cwd=folder,
        capture_output=True,
        check=True,
        env={**os.environ, **alone, **named},
    )
    return run.stdout.decode()


def accept(yard: Path, *words: str) -> Result:
    return quoter("accept", yard, *words)


def operations(yard: Path, kind: str, at: int) -> list[dict[str, Any]]:
    text = (yard / "parts.yaml").read_text("utf-8")
    found: list[dict[str, Any]] = yaml.safe_load(text)[kind][at]["operations"]
    return found


def test_accepting_writes_the_values_and_git_sees_no_other_line_move(yard: Path) -> None:
    git(yard, "init", "-q")
    git(yard, "add", "-A")
    git(yard, "commit", "-qm", "before")
    result = accept(yard, "--all", "--note", "October closed", "--by", "estimator")
    assert result.exit_code == 0, result.output
    git(yard, "add", "--", "*.yaml", "*.csv")
    assert git(yard, "diff", "--cached", "--numstat").splitlines() == [
        "4\t0\taccepted.csv",
        "3\t3\tparts.yaml",
    ]
    changed = git(yard, "diff", "--cached", "-U0", "--", "parts.yaml").split("\n")
    lines = [line for line in changed if line[:1] in "+-" and line[:3] not in ("+++", "---")]
    noted = "17 samples to 2026-02; median 58 min"
    assert [line.rstrip("\r") for line in lines if line] == [
        "-        fixed: 50 min",
        f"+        fixed: 57 min [52 to 63 triangular] ({noted}; was 50 min)",
        "-        rates: {perimeter: 20 min/m}",
        '+        rates: {perimeter: "17.5 min/m [16 to 19] '
        '(17 samples to 2026-02; median 58 min/m; was 20 min/m)"}',
        "-      - {name: Load and inject, station: laminating, uses: [core, resin], fixed: 70 min, "
        "passes: 97 %}",
        "+      - {name: Load and inject, station: laminating, uses: [core, resin], fixed: 70 min, "
        'passes: "95 % [93 to 97] (17 samples to 2026-02; median 58 %; was 97 %)"}',
    ]
    assert all(line.endswith("\r") for line in lines if line)
    first, second = operations(yard, "open_mould", 0)
    assert first["fixed"].startswith("57 min [52 to 63 triangular] (")
    assert second["rates"]["perimeter"].startswith("17.5 min/m [16 to 19] (")
    assert second["fixed"] == "3 h"
    with (yard / "accepted.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["key"] for row in rows] == [*KEYS]
    assert rows[0] == {
        "date": str(load_catalogue(yard)[0].as_of),
        "key": FIXED,
        "was": "50 min",
        "becomes": f"57 min [52 to 63 triangular] ({noted}; was 50 min)",
        "samples": "17",
        "median": "58 min",
        "low": "53 min",
        "high": "63 min",
        "by": "estimator",
        "note": "October closed",
    }


def test_only_what_is_named_is_accepted_and_its_effect_is_that_of_setting_it(yard: Path) -> None:
    before, _ = price_catalogue(yard)
    what_if, _ = price_catalogue(yard, settings=[f"{FIXED}=57 min [52 to 63 triangular]"])
    result = accept(yard, "--only", FIXED, "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    assert [value["key"] for value in told["values"]] == [FIXED]
    after, _ = price_catalogue(yard)
    moved = {(each["model"], each["option"]): each for each in told["effects"]}
    assert moved
    for id, model in before.models.items():
        for name, old in {"": model.boat, **model.options}.items():
            new = after.models[id].options[name] if name else after.models[id].boat
            asked = what_if.models[id].options[name] if name else what_if.models[id].boat
            assert new.assembly.cost.value == asked.assembly.cost.value
            effect = moved.get((id, name))
            assert (effect is None) == (old.assembly.cost.value == new.assembly.cost.value)
            if effect is not None:
                assert effect["cost"] == old.assembly.cost.value
                assert effect["cost_then"] == new.assembly.cost.value


def test_the_range_written_is_what_the_risk_sheet_uses(yard: Path) -> None:
    assert accept(yard, "--only", FIXED).exit_code == 0
    pricing, _ = price_catalogue(yard)
    models = pricing.models.values()
    costs = [each.assembly.cost for model in models for each in model.boat_and_options]
    figures = [figure for figure in inputs_of(costs) if figure.key == FIXED]
    assert figures
    varying = Findings(pricing).ranges.varying(figures[:1])[figures[0]]
    spread = varying.spread
    assert (spread.low, spread.likely, spread.high, spread.shape) == (52, 57, 63, "triangular")
    assert varying.source == "as written"


def test_a_dry_run_shows_the_lines_and_writes_nothing(yard: Path) -> None:
    before = bytes_in(yard)
    result = accept(yard, "--only", FIXED, "--dry-run")
    assert result.exit_code == 0, result.output
    assert bytes_in(yard) == before
    shown = result.stdout.splitlines()
    assert "parts.yaml:15" in shown
    assert "-        fixed: 50 min" in shown
    assert any(line.startswith("+        fixed: 57 min [52 to 63 triangular] (") for line in shown)
    assert any(line.startswith(f"+2026-02-01,{FIXED},50 min,") for line in shown)
    assert result.stderr == "a dry run: nothing was written\n"


def test_one_value_may_be_another_than_is_proposed(yard: Path) -> None:
    assert accept(yard, "--only", FIXED, "--value", "55 min (asked the floor)").exit_code == 0
    assert operations(yard, "open_mould", 0)[0]["fixed"] == "55 min (asked the floor)"
    bad = accept(yard, "--only", RATE, "--value", "55 kg")
    assert bad.exit_code == 1
    assert "parts.yaml:21:28: perimeter '55 kg' has the wrong kind of unit [wrong-unit]" in (
        bad.stderr
    )


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        ((), 2, "name what to accept with --only KEY, or accept --all"),
        (("--all", "--only", FIXED), 2, "name what to accept with --only KEY, or accept --all"),
        (("--all", "--value", "3 h"), 2, "--value is for one value: name it with --only KEY"),
        (("--only", FIXED[:-1]), 2, f"did you mean '{FIXED}'?"),
        (("--all", "--least", "18"), 2, "nothing is proposed"),
        (("--all", "--on", "2025-12-31"), 1, "is in force on 2025-12-31 [not-in-force]"),
    ],
)
def test_what_is_not_said_well_is_refused(
    yard: Path, words: Sequence[str], code: int, told: str
) -> None:
    before = bytes_in(yard)
    result = accept(yard, *words)
    assert result.exit_code == code, result.output
    assert told in " ".join(result.stderr.split())
    assert bytes_in(yard) == before


def test_a_value_changed_since_it_was_proposed_and_one_accepted_already_are_told(
    yard: Path,
) -> None:
    day = load_catalogue(yard)[0].as_of
    stale = NewStandard(FIXED, "49 min", "57 min", 17)
    unknown = NewStandard(f"{FIXED}d", "", "57 min", 17)
    told = [str(fault) for fault in accept_standards(yard, [stale, unknown], day).faults]
    assert [line.partition("\n")[0] for line in told] == [
        f"--only: unknown key '{FIXED}d' [unknown-key]",
        f"parts.yaml:15:16: '{FIXED}' is '50 min' by now, and was proposed for '49 min' [changed]",
    ]
    assert accept(yard, "--only", FIXED).exit_code == 0
    again = accept_standards(yard, [NewStandard(FIXED, "", "58 min", 19)], day)
    assert [fault.code for fault in again.faults] == ["already-listed"]


def test_a_second_acceptance_replaces_the_evidence_of_the_first(yard: Path) -> None:
    assert accept(yard, "--only", FIXED).exit_code == 0
    new = NewStandard(FIXED, "", "61 min [58 to 64]", 30, "61.5 min")
    later = accept_standards(yard, [new], date(2026, 3, 1))
    assert later.faults == []
    assert [value.becomes for value in later.values] == [
        "61 min [58 to 64] (30 samples to 2026-03; median 61.5 min; was 57 min)"
    ]


def test_a_block_of_lines_is_refused_and_nothing_is_written(yard: Path) -> None:
    parts = yard / "parts.yaml"
    text = (
        parts.read_bytes()
        .decode()
        .replace("fixed: 50 min\r\n", "fixed: >-\r\n          50 min\r\n")
    )
    parts.write_bytes(text.encode())
    before = bytes_in(yard)
    result = accept(yard, "--all")
    assert result.exit_code == 1
    assert "parts.yaml:15:16: the value stands on several lines [not-rewritten]" in result.stderr
    assert bytes_in(yard) == before


KILLED = """
import os, pickle, signal, sys
from pathlib import Path
from quoter.importing.writing import write
folder, files, replaced, at, after = pickle.loads(bytes.fromhex(sys.argv[1]))
real, unlink, steps = Path.replace, Path.unlink, [0]
def step(do, *words, **more):
    steps[0] += 1
    if steps[0] == at and not after:
        os.kill(os.getpid(), signal.SIGKILL)
    found = do(*words, **more)
    if steps[0] == at:
        os.kill(os.getpid(), signal.SIGKILL)
    return found
Path.replace = lambda self, target: step(real, self, target)
Path.unlink = lambda self, **more: step(unlink, self, **more)
write(folder, files, replaced)
"""


@pytest.mark.slow
def test_killed_at_any_step_either_all_is_accepted_or_nothing_is(
    yard: Path, tmp_path: Path
) -> None:
    day = load_catalogue(yard)[0].as_of
    made = accept_standards(yard, [NewStandard(FIXED, "", "57 min [52 to 63]", 17)], day)
    old, whole = bytes_in(yard), {**bytes_in(yard), **made.files}
    found = []
    for at in range(1, 9):
        for after in (False, True):
            root = tmp_path / f"{at}{after}"
            shutil.copytree(yard, root)
            given = pickle.dumps((root, made.files, made.replaced, at, after)).hex()
            program = [sys.executable, "-c", KILLED, given]
            code = subprocess.run(program, check=False).returncode
            assert code in (0, -signal.SIGKILL)
            # Whoever reads takes it as finished, or as not begun.
            catalogue, _ = load_catalogue(root)
            left = {row.key for row in catalogue.records.accepted}
            texts = read_records(root, Problems())[1].scalars
            assert (str(texts[FIXED]) == "50 min") == (left == set())
            # The next writer finishes it, and leaves nothing lying.
            settle(root)
            with sole_writer(root):
                pass
            standing = bytes_in(root)
            assert standing in (old, whole)
            assert (standing == whole) == (left == {FIXED})
            found.append((code, standing == whole))
    assert {one for one in found if one[0]} == {(-signal.SIGKILL, False), (-signal.SIGKILL, True)}
    assert (0, True) in found


def test_an_earlier_day_is_priced_as_before_and_a_setting_wins(yard: Path) -> None:
    before, _ = price_catalogue(yard)
    day = before.catalogue.as_of
    (yard / "prices" / "2026-03-01.csv").write_text("material,supplier,price,note\n", "utf-8")
    new = [NewStandard(key, *KEYS[key], 17) for key in KEYS]
    made = accept_standards(yard, new, date(2026, 3, 1))
    assert made.faults == []
    write(yard, made.files, made.replaced)

    def costs(**more: Any) -> list[float]:
        pricing, _ = price_catalogue(yard, **more)
        models = pricing.models.values()
        return [one.assembly.cost.value for model in models for one in model.boat_and_options]

    models = before.models.values()
    old = [one.assembly.cost.value for model in models for one in model.boat_and_options]
    assert costs(as_of=day) == costs(as_of=date(2026, 2, 28)) == old
    assert costs(as_of=date(2026, 3, 1)) != old
    settings = [f"{key}={was}" for key, (was, _) in KEYS.items()]
    assert costs(as_of=date(2026, 3, 1), settings=settings) == pytest.approx(old, rel=1e-12)
    assert costs(as_of=day, settings=[f"{FIXED}=90 min"]) != old


@pytest.mark.parametrize(("samples", "again"), [("16", True), ("17", False), ("", True)])
def test_the_same_jobs_are_not_counted_twice(yard: Path, samples: str, again: bool) -> None:
    (yard / "accepted.csv").write_text(
        "date,key,was,becomes,samples,median,low,high,note\n"
        f"2026-01-05,{FIXED},49 min,50 min,{samples},,,,\n",
        "utf-8",
    )
    (row,) = load_catalogue(yard)[0].records.accepted
    (proposal,) = proposals(yard, FIXED)
    assert standards.tells_more(proposal, row) is again
