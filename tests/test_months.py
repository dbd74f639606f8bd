"""An earlier month is rebuilt as it was: later prices, wages, rates and editions change nothing."""

from __future__ import annotations

import csv
import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from quoter.build import render
from quoter.catalogue.load import load_catalogue
from quoter.catalogue.mark import SINCE, fingerprint
from quoter.importing.accepting import NewStandard, accept_standards
from quoter.importing.writing import write
from quoter.pricing.priced import price_catalogue
from tests.catalogues.written import COST_CARD, write_catalogue
from tests.demo import DEMO

SEPTEMBER = date(2026, 9, 1)
CARD_DAY = date(2026, 1, 1)


def timeless(folder: Path) -> Path:
    """The demonstration without the two keys that name a version of its price sheet."""
    shutil.copytree(DEMO, folder)
    for name, key in (
        ("options.yaml", r"    new_in: .*\n"),
        ("yard.yaml", r"  news:\n(?:    .*\n)+"),
    ):
        text, count = re.subn(key, "", (folder / name).read_text("utf-8"))
        assert count
        (folder / name).write_text(text, "utf-8")
    for path in folder.glob("translations/*.po"):
        entries = path.read_text("utf-8").split("\n\n")
        kept = [entry for entry in entries if "yard.price_sheet.news" not in entry]
        path.write_text("\n\n".join(kept), "utf-8")
    return folder


def as_it_was(whole: Path, folder: Path, day: date) -> Path:
    """A catalogue as it stood on a day: without what was added to its dated tables since."""
    shutil.copytree(whole, folder)
    for path in folder.glob("prices/*.csv"):
        if date.fromisoformat(path.stem) > day:
            path.unlink()
    for name, column in SINCE.items():
        if (folder / name).exists():
            cut(folder / name, column, day)
    for path in folder.glob("actuals/*.csv"):
        columns = path.read_text(encoding="utf-8").partition("\n")[0].split(",")
        for column in {"date", "month"} & set(columns):
            cut(path, column, day)
    return folder


def cut(path: Path, column: str, day: date) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [
        line
        for line, row in zip(lines[1:], rows, strict=True)
        if row[column] <= str(day)[: len(row[column])]
    ]
    path.write_text("".join([lines[0], *kept]), encoding="utf-8")


@pytest.mark.slow
def test_september_rebuilt_later_is_september_s_to_the_byte(tmp_path: Path) -> None:
    whole = timeless(tmp_path / "whole")
    then = as_it_was(whole, tmp_path / "then", SEPTEMBER)
    assert len(list((DEMO / "prices").iterdir())) > len(list((then / "prices").iterdir())) == 2
    built = render(then, None, strict=False, say=lambda _: None)
    rebuilt = render(whole, SEPTEMBER, strict=False, say=lambda _: None)
    for old, new in ((built.public, rebuilt.public), (built.internal, rebuilt.internal)):
        assert list(old) == list(new)
        assert [name for name in old if old[name] != new[name]] == []
    now = render(DEMO, None, strict=False, say=lambda _: None)
    assert now.public["index.html"] != built.public["index.html"]


ACCEPTED = {
    # In blocks and in braces, with a range and without; a rate, a time, an efficiency and a loss.
    "parts.open_mould.surround_single.operations.2.fixed": "39 min [36 to 43] (12 jobs)",
    "parts.open_mould.surround_single.operations.3.rates.perimeter": "11 min/m [10 to 12.5]",
    "stations.stations.laminating.efficiency": "83 % [80 to 86] (12 samples to 2026-12)",
    "stations.stations.gelcoat.efficiency": "81 %",
}
DECEMBER = date(2026, 12, 15)


@pytest.mark.slow
def test_a_month_rebuilt_after_standards_were_accepted_is_what_it_was_to_the_byte(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    built = render(folder, None, strict=False, say=lambda _: None)
    new = [NewStandard(key, "", text, 12) for key, text in ACCEPTED.items()]
    made = accept_standards(folder, new, DECEMBER)
    assert (made.faults, len(made.values)) == ([], len(ACCEPTED))
    write(folder, made.files, made.replaced)
    day = load_catalogue(DEMO)[0].as_of
    for asked in (None, day):
        rebuilt = render(folder, asked, strict=False, say=lambda _: None)
        for old, new_ in ((built.public, rebuilt.public), (built.internal, rebuilt.internal)):
            assert list(old) == list(new_)
            assert [name for name in old if old[name] != new_[name]] == []
    assert fingerprint(folder, date(2026, 12, 14)) == fingerprint(DEMO, date(2026, 12, 14))
    assert fingerprint(folder, DECEMBER) != fingerprint(DEMO, DECEMBER)
    now, _ = price_catalogue(folder, DECEMBER)
    then, _ = price_catalogue(folder, day)
    id = next(iter(now.models))
    assert now.models[id].boat.assembly.cost.value != then.models[id].boat.assembly.cost.value


def test_a_mark_depends_on_every_line_in_force_and_not_on_the_place(tmp_path: Path) -> None:
    original = fingerprint(COST_CARD, CARD_DAY)
    copy = write_catalogue(tmp_path / "copy", {})
    assert fingerprint(copy, CARD_DAY) == original
    (copy / "internal").mkdir()
    (copy / "internal" / "prices.csv").write_text("of a build")
    (copy / "notes.txt").write_text("of a person")
    assert fingerprint(copy, CARD_DAY) == original
    for name in ("wages.csv", "yard.yaml", "prices/2026-01-01.csv"):
        other = write_catalogue(tmp_path / name.replace("/", "_"), {})
        text = (other / name).read_text(encoding="utf-8")
        (other / name).write_text(text.replace("1", "2", 1), encoding="utf-8")
        assert fingerprint(other, CARD_DAY) != original, name


def test_a_mark_leaves_out_what_holds_only_later(tmp_path: Path) -> None:
    original = fingerprint(COST_CARD, CARD_DAY)
    copy = write_catalogue(tmp_path / "copy", {})
    shutil.copy(copy / "prices" / "2026-01-01.csv", copy / "prices" / "2026-01-02.csv")
    wages = (copy / "wages.csv").read_text(encoding="utf-8")
    later = wages.splitlines()[1].replace("2026-01-01", "2026-01-02")
    later = later.rpartition(",")[0] + ',"a note\nof two lines"'
    (copy / "wages.csv").write_text(wages + later + "\n", encoding="utf-8")
    assert fingerprint(copy, CARD_DAY) == original
    assert fingerprint(copy, date(2026, 1, 2)) != original
