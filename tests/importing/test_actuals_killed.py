"""An import of what was booked that is killed at any moment has all of its rows in, or none."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from quoter.importing.actuals import import_actuals
from quoter.importing.writing import ChangedError, write
from tests.importing.exported import HEADS, imported, sent, table, yard
from tests.importing.sheets import bytes_in

# Killed right before a step of the writer's: making its file, having the disk keep it, giving it
# its rights, putting it in place.
KILLED = """
import os, signal, sys, tempfile
from pathlib import Path
from quoter.cli import main
def killed(*_, **__):
    os.kill(os.getpid(), signal.SIGKILL)
OWNER.NAME = killed
main(sys.argv[1:])
"""
# Killed with the file in place.
KILLED_AFTER = """
import os, signal, sys
from pathlib import Path
from quoter.cli import main
real = Path.replace
def replace(self, target):
    real(self, target)
    os.kill(os.getpid(), signal.SIGKILL)
Path.replace = replace
main(sys.argv[1:])
"""
ROWS = "".join(
    f"H-{n};{5 + n % 20:02d}.08.2026;2026-0007;LAM;{1 + n % 7},5;L3;;\n" for n in range(200)
)


def killed(program: str, catalogue: Path, file: Path, *more: str) -> None:
    words = ["import-actuals", str(catalogue), str(file), "--export", "clock", *more]
    run = subprocess.run(
        [sys.executable, "-c", program, *words],
        capture_output=True,
        check=False,
        env={**os.environ},
    )
    assert run.returncode == -signal.SIGKILL, run.stderr


@pytest.mark.slow
@pytest.mark.parametrize(
    ("owner", "name"),
    [("tempfile", "mkstemp"), ("os", "fsync"), ("Path", "chmod"), ("Path", "replace")],
)
def test_killed_before_the_file_is_in_place_nothing_is_in(
    tmp_path: Path, owner: str, name: str
) -> None:
    catalogue, first = yard(tmp_path / "yard"), sent(tmp_path, HEADS + ROWS[:36], "a.csv")
    imported(catalogue, first, "clock")
    before, file = table(catalogue, "hours"), sent(tmp_path, HEADS + ROWS)
    killed(KILLED.replace("OWNER.NAME", f"{owner}.{name}"), catalogue, file)
    assert table(catalogue, "hours") == before
    made = imported(catalogue, file, "clock")
    assert (made.data["known"], made.data["new"]) == (len(before), 200 - len(before))
    # What the killed one left of a file is gone.
    left = [each for each in bytes_in(catalogue) if each.startswith("actuals/.")]
    assert left == []


@pytest.mark.slow
def test_killed_with_the_file_in_place_everything_is_in_and_known_again(tmp_path: Path) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, HEADS + ROWS)
    killed(KILLED_AFTER, catalogue, file)
    assert len(table(catalogue, "hours")) == 200
    assert import_actuals(catalogue, file, "clock").data["known"] == 200


@pytest.mark.slow
def test_a_correction_that_is_killed_leaves_what_stood(tmp_path: Path) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, HEADS + ROWS)
    imported(catalogue, file, "clock")
    before = bytes_in(catalogue)["actuals/hours.csv"]
    other = sent(tmp_path, HEADS + ROWS.replace("1,5;L3", "1,75;L3"))
    killed(KILLED.replace("OWNER.NAME", "Path.replace"), catalogue, other, "--corrected")
    assert bytes_in(catalogue)["actuals/hours.csv"] == before


def test_a_table_changed_meanwhile_is_left_alone(tmp_path: Path) -> None:
    catalogue, file = yard(tmp_path / "yard"), sent(tmp_path, HEADS + ROWS)
    made = import_actuals(catalogue, file, "clock")
    other = sent(tmp_path, f"{HEADS}X;05.08.2026;2026-0007;LAM;1;L3;;\n", "a.csv")
    imported(catalogue, other, "clock")
    before = bytes_in(catalogue)
    with pytest.raises(ChangedError, match="was changed meanwhile"):
        write(catalogue, made.files, made.replaced)
    assert bytes_in(catalogue) == before
