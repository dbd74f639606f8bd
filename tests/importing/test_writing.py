"""What is interrupted leaves the catalogue as it was; what changed meanwhile is not overwritten."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.load import load_catalogue
from quoter.importing.prices import import_prices
from quoter.importing.rise import Rise, note_rise
from quoter.importing.writing import ChangedError, write
from tests.importing.sheets import HEADINGS, bytes_in, mapped, quoter

DAY = date(2026, 12, 1)
FAMILY = {
    "materials.yaml": ("    name: Injection resin\n", "    name: Injection resin\n    family: up\n")
}
RISE = Rise("westpoly", "up", "0.10 USD/lb", DAY, "confirmed", date(2026, 11, 20))


def price_file(folder: Path) -> Path:
    file = folder / "p.csv"
    file.write_text(f"{','.join(HEADINGS)}\nWP-1188,,,2.10,LB,USD\n")
    return file


def interrupted(self: Path, target: object) -> None:
    raise KeyboardInterrupt


def test_an_interruption_before_the_file_is_in_place_leaves_all_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = mapped(tmp_path / "yard")
    made = import_prices(catalogue, price_file(tmp_path), "westpoly", DAY)
    before = bytes_in(catalogue)
    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write(catalogue, made.files)
    assert bytes_in(catalogue) == before
    monkeypatch.undo()
    write(catalogue, made.files)
    assert bytes_in(catalogue) == before | made.files


KILLED = """
import os, signal, sys
from pathlib import Path
from quoter.cli import main
Path.replace = lambda self, target: os.kill(os.getpid(), signal.SIGKILL)
main(sys.argv[1:])
"""


@pytest.mark.slow
def test_a_kill_leaves_a_catalogue_that_reads_as_before_and_the_import_can_be_repeated(
    tmp_path: Path,
) -> None:
    catalogue = mapped(tmp_path / "yard")
    before = bytes_in(catalogue)
    words = ["import-prices", str(catalogue), str(price_file(tmp_path)), "--supplier", "westpoly"]
    words += ["--effective", str(DAY)]
    program = [sys.executable, "-c", KILLED, *words]
    killed = subprocess.run(program, capture_output=True, check=False, env={**os.environ})
    assert killed.returncode == -signal.SIGKILL
    left = bytes_in(catalogue)
    assert {name: left[name] for name in before} == before
    assert load_catalogue(catalogue)[0].price_list == date(2026, 11, 1)
    again = quoter(*words)
    assert again.exit_code == 0, again.output
    assert load_catalogue(catalogue)[0].price_list == DAY


def test_of_two_files_the_first_is_taken_back_when_the_second_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    made = note_rise(catalogue, RISE)
    assert [*made.files] == [f"prices/{DAY}.csv", "rises.csv"]
    before = bytes_in(catalogue)
    real = Path.replace

    def fails_at_rises(self: Path, target: Path) -> Path:
        if target.name == "rises.csv":
            raise OSError(28, "no space left on device")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", fails_at_rises)
    words = ["--supplier", "westpoly", "--family", "up", "--by", "0.10 USD/lb", "--effective"]
    words += [str(DAY), "--state", "confirmed", "--dated", "2026-11-20"]
    result = quoter("rise", catalogue, *words)
    assert result.exit_code == 1
    assert result.stderr.endswith("no space left on device; nothing was written\n")
    assert bytes_in(catalogue) == before


def test_a_rise_killed_between_its_two_files_is_completed_by_confirming_again(
    tmp_path: Path,
) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    made = note_rise(catalogue, RISE)
    name = f"prices/{DAY}.csv"
    (catalogue / name).write_bytes(made.files[name])
    again = note_rise(catalogue, RISE)
    assert again.faults == []
    assert again.files == {"rises.csv": made.files["rises.csv"]}


def test_a_file_that_changed_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    made = import_prices(catalogue, price_file(tmp_path), "westpoly", DAY)
    other = catalogue / f"prices/{DAY}.csv"
    other.write_text("material,supplier,price,note\nseal,fjordglas,4.30 EUR/m,\n")
    before = bytes_in(catalogue)
    with pytest.raises(ChangedError, match="was changed meanwhile"):
        write(catalogue, made.files)
    assert bytes_in(catalogue) == before
