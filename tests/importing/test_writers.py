"""Two writers of a catalogue, writers that were killed, and no copies of it anywhere."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.adding import JOURNAL, replace_file, sole_writer
from quoter.disk import LOCK, BusyError
from quoter.importing.prices import import_prices
from quoter.importing.rise import Rise, note_rise
from quoter.importing.writing import ChangedError, read_sound, settle, write
from tests.importing.sheets import HEADINGS, bytes_in, mapped, quoter

DAY = date(2026, 12, 1)
FAMILY = {
    "materials.yaml": ("    name: Injection resin\n", "    name: Injection resin\n    family: up\n")
}
RISE = Rise("westpoly", "up", "0.10 USD/lb", DAY, "confirmed", date(2026, 11, 20))
KILLED = """
import os, signal, sys
from pathlib import Path
from quoter.cli import main
calls = []
real = Path.replace
def replace(self, target):
    calls.append(target)
    if len(calls) == TURN:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(self, target)
Path.replace = replace
main(sys.argv[1:])
"""

# With both files in place and the journal still there.
KILLED_LAST = """
import os, signal, sys
from pathlib import Path
from quoter.cli import main
real = Path.unlink
def unlink(self, missing_ok=False):
    if self.name == ".unfinished.json" and self.exists():
        os.kill(os.getpid(), signal.SIGKILL)
    return real(self, missing_ok)
Path.unlink = unlink
main(sys.argv[1:])
"""


def price_file(folder: Path, price: str = "2.10") -> Path:
    file = folder / f"p{price}.csv"
    file.write_text(f"{','.join(HEADINGS)}\nWP-1188,,,{price},LB,USD\n")
    return file


def rise_words(catalogue: Path) -> list[str]:
    return [
        *("rise", str(catalogue), "--supplier", "westpoly", "--family", "up"),
        *("--by", "0.10 USD/lb", "--effective", str(DAY), "--state", "confirmed"),
        *("--dated", "2026-11-20"),
    ]


def test_nothing_is_copied_to_try_out_an_import(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    aside = tmp_path / "aside"
    aside.mkdir()
    before = bytes_in(catalogue)
    monkeypatch.setattr(tempfile, "tempdir", str(aside))
    monkeypatch.setattr(tempfile, "mkdtemp", None)
    import_prices(catalogue, price_file(tmp_path), "westpoly", DAY)
    note_rise(catalogue, RISE)
    assert [*aside.iterdir()] == []
    assert bytes_in(catalogue) == before


@pytest.mark.slow
@pytest.mark.parametrize("turn", [1, 2, 3])
def test_a_rise_killed_between_its_files_is_finished_by_the_next_writer(
    tmp_path: Path, turn: int
) -> None:
    """The journal is put in place first, then the list, then the line of the rise."""
    catalogue = mapped(tmp_path / "yard", FAMILY)
    before, files = bytes_in(catalogue), note_rise(catalogue, RISE).files
    program = [sys.executable, "-c", KILLED.replace("TURN", str(turn)), *rise_words(catalogue)]
    killed = subprocess.run(program, capture_output=True, check=False, env={**os.environ})
    assert killed.returncode == -signal.SIGKILL
    left = {name: content for name, content in bytes_in(catalogue).items() if name[-3:] == "csv"}
    assert (catalogue / JOURNAL).exists() == (turn > 1)
    assert left == {n: c for n, c in before.items() if n[-3:] == "csv"} | (
        {f"prices/{DAY}.csv": files[f"prices/{DAY}.csv"]} if turn == 3 else {}
    )
    # Whoever reads meanwhile sees all of it or none.
    read = read_sound(catalogue)
    assert (DAY in read.price_lists) == (turn > 1) == bool(read.rises)
    other = import_prices(catalogue, price_file(tmp_path), "westpoly", date(2026, 12, 5))
    write(catalogue, other.files)
    assert bytes_in(catalogue) == before | (files if turn > 1 else {}) | other.files


@pytest.mark.slow
def test_the_same_words_again_finish_what_was_killed_last(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    before, files = bytes_in(catalogue), note_rise(catalogue, RISE).files
    words = rise_words(catalogue)
    killed = subprocess.run(
        [sys.executable, "-c", KILLED_LAST, *words],
        capture_output=True,
        check=False,
        env={**os.environ},
    )
    assert (killed.returncode, (catalogue / JOURNAL).exists()) == (-signal.SIGKILL, True)
    again = quoter(*words)
    told = (
        "--dated: a letter of 2026-11-20 on this rise is noted at rises.csv:2:1 [already-listed]\n"
    )
    assert again.stderr.startswith(told)
    assert bytes_in(catalogue) == before | files
    assert not (catalogue / JOURNAL).exists()


@pytest.mark.parametrize("journal", [b"{", b"[1]", b'{"../x.csv": ["", "a"]}', b'{"a.csv": 1}'])
def test_a_journal_that_no_writer_wrote_writes_nothing(tmp_path: Path, journal: bytes) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    before = bytes_in(catalogue)
    (catalogue / JOURNAL).write_bytes(journal)
    settle(catalogue)
    assert bytes_in(catalogue) == before
    assert not (tmp_path / "x.csv").exists()


def test_a_file_changed_since_a_kill_is_left_alone_and_told_of_once(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard", FAMILY)
    files = note_rise(catalogue, RISE).files
    words = rise_words(catalogue)
    program = [sys.executable, "-c", KILLED.replace("TURN", "2"), *words]
    subprocess.run(program, capture_output=True, check=False, env={**os.environ})
    name = f"prices/{DAY}.csv"
    (catalogue / name).write_text("material,supplier,price,note\nseal,fjordglas,4.30 EUR/m,\n")
    kept = (catalogue / name).read_bytes()
    other = import_prices(catalogue, price_file(tmp_path), "westpoly", date(2026, 12, 5))
    with pytest.raises(ChangedError) as told:
        write(catalogue, other.files)
    assert str(told.value) == (
        f"{catalogue / name} was changed since an import was stopped that was to add lines to it; "
        "look whether they are there"
    )
    assert (catalogue / name).read_bytes() == kept
    assert (catalogue / "rises.csv").read_bytes() == files["rises.csv"]
    write(catalogue, other.files)


def test_what_a_killed_writer_left_of_a_file_is_cleared_by_the_next(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    for name in (".exchange.csv.ab12cd_3", "prices/.2026-12-01.csv.ab12cd34"):
        (catalogue / name).write_text("half")
    (catalogue / ".mine.csv.notes").write_text("somebody's own")
    before = bytes_in(catalogue)
    files = import_prices(catalogue, price_file(tmp_path), "westpoly", DAY).files
    write(catalogue, files)
    cleared = {name for name in before if name.endswith(("ab12cd_3", "ab12cd34"))}
    assert bytes_in(catalogue) == {n: c for n, c in before.items() if n not in cleared} | files


def test_of_two_imports_at_once_one_is_written_and_the_other_is_refused(tmp_path: Path) -> None:
    catalogue = mapped(tmp_path / "yard")
    made = [
        import_prices(catalogue, price_file(tmp_path, price), "westpoly", DAY).files
        for price in ("2.10", "2.20")
    ]

    def written(files: dict[str, bytes]) -> str:
        try:
            write(catalogue, files)
        except ChangedError as refused:
            return str(refused)
        return ""

    with ThreadPoolExecutor(2) as both:
        told = [*both.map(written, made)]
    changed = f"{catalogue / 'prices'}/{DAY}.csv was changed meanwhile"
    assert sorted(told) == ["", changed]
    first = made[told.index("")]
    assert (catalogue / f"prices/{DAY}.csv").read_bytes() == first[f"prices/{DAY}.csv"]


def test_a_catalogue_that_somebody_writes_to_is_waited_for_and_then_told_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = mapped(tmp_path / "yard")
    monkeypatch.setattr("quoter.disk.PATIENCE", 0.1)
    before = bytes_in(catalogue)
    with sole_writer(catalogue), pytest.raises(BusyError) as told, sole_writer(catalogue):
        pass
    said = f"somebody else has been writing to {catalogue} for 0.1 s; try again later"
    assert str(told.value) == said
    with sole_writer(catalogue):
        result = quoter(
            *("import-prices", catalogue, price_file(tmp_path)),
            *("--supplier", "westpoly", "--effective", str(DAY)),
        )
    assert (result.exit_code, result.stderr) == (1, f"{said}; nothing was written [busy]\n")
    assert bytes_in(catalogue) == before
    assert (catalogue / LOCK).exists()


def test_a_new_file_is_put_in_place_with_its_folder(tmp_path: Path) -> None:
    replace_file(tmp_path / "prices" / "new.csv", b"x")
    assert bytes_in(tmp_path) == {"prices/new.csv": b"x"}
