"""Many real processes at once, killed at any moment: numbers stay consecutive, quotes whole."""

from __future__ import annotations

import os
import random
import shutil
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date
from itertools import count
from pathlib import Path

import pytest

from quoter import disk
from quoter.quotes import QuoteError
from quoter.quotes.kept.archive import read_archive, read_record
from quoter.quotes.kept.checking import check_archive
from quoter.quotes.kept.numbering import named
from quoter.quotes.kept.outcomes import read_outcomes
from quoter.quotes.kept.standing import counts, list_quotes
from quoter.quotes.kept.store import settle
from tests.processes import CONTEXT
from tests.quotes import processes
from tests.quotes.made import ISSUED, hidden, put, whole
from tests.quotes.processes import KILLED, ended, started


def by(folder: Path, number: str) -> str:
    """Who prepared a quote."""
    name = named(number)
    assert name is not None
    return read_record(folder, name).prepared_by


def test_fifty_processes_at_once_get_fifty_consecutive_numbers(tmp_path: Path) -> None:
    """Each gets its own, and its own quote stands under it; two years at once."""
    folder, logs = tmp_path / "quotes", tmp_path / "logs"
    logs.mkdir()
    ready = CONTEXT.Barrier(50)
    workers = [
        started(
            processes.issue_once,
            folder,
            ready,
            date(2026 + worker % 5 // 4, 11, 10),
            f"worker {worker}",
            logs / str(worker),
        )
        for worker in range(50)
    ]
    for worker in workers:
        worker.join()
    assert [worker.exitcode for worker in workers] == [0] * 50
    given = {f"worker {log.name}": log.read_text() for log in logs.iterdir()}
    expected = [f"2026-{n:04}" for n in range(1, 41)] + [f"2027-{n:04}" for n in range(1, 11)]
    assert sorted(given.values()) == expected
    assert whole(folder) == expected
    assert {worker: by(folder, number) for worker, number in given.items()} == {
        worker: worker for worker in given
    }
    assert hidden(folder) == []


def test_processes_killed_at_random_lose_and_double_no_number(tmp_path: Path) -> None:
    folder = tmp_path / "quotes"
    chance = random.Random(20261110)
    logs = []
    for turn in range(25):
        new = [tmp_path / f"{turn}.{n}" for n in range(3)]
        years = ((2026,), (2027, 2026), (2026, 2026, 2027))
        workers = [
            started(processes.issue_on_and_on, folder, order, log)
            for order, log in zip(years, new, strict=True)
        ]
        while not any(log.exists() and log.stat().st_size for log in new):
            assert all(worker.exitcode is None for worker in workers)
            time.sleep(0.001)
        time.sleep(chance.uniform(0, 0.03))
        chance.shuffle(workers)
        for worker in workers:
            worker.kill()
        for worker in workers:
            worker.join()
            assert worker.exitcode == KILLED
        logs += new
        whole(folder)
    there = whole(folder)
    given = [line for log in logs if log.exists() for line in log.read_text().split()]
    assert max(Counter(given).values()) == 1
    # A worker may be killed after its quote appeared and before it says so.
    assert {*given} <= {*there}
    assert len(there) - len(given) <= len(logs)
    for year in (2026, 2027):
        counts = [name.count for each in there if (name := named(each)) and name.year == year]
        assert sorted(counts) == [*range(1, len(counts) + 1)]
    put(folder)
    assert hidden(folder) == []


def test_of_many_that_quote_the_same_request_at_once_one_does_and_the_others_are_told(
    tmp_path: Path,
) -> None:
    folder, logs = tmp_path / "quotes", tmp_path / "logs"
    logs.mkdir()
    ready = CONTEXT.Barrier(8)
    workers = [
        started(processes.issue_the_same, folder, ready, f"worker {n}", logs / str(n))
        for n in range(8)
    ]
    for worker in workers:
        worker.join()
    said = sorted(log.read_text() for log in logs.iterdir())
    assert said[0] == "2026-0001"
    assert {*said[1:]} == {
        "refused: 2026-0001 of 2026-11-10 is for the same request, and still draft; price that "
        "again with 'quoter requote', or for one more add --even-so"
    }
    assert whole(folder) == ["2026-0001"]


def test_twenty_quotes_with_their_outcomes_at_once_are_all_there_once(tmp_path: Path) -> None:
    """Each is issued and sent; of four, one is won, one lost, one withdrawn and one revised."""
    folder, logs = tmp_path / "quotes", tmp_path / "logs"
    logs.mkdir()
    ready = CONTEXT.Barrier(20)
    workers = [started(processes.live, folder, ready, n, logs / str(n)) for n in range(20)]
    for worker in workers:
        worker.join()
    assert [worker.exitcode for worker in workers] == [0] * 20
    given = {int(log.name): log.read_text() for log in logs.iterdir()}
    numbers = [f"2026-{n:04}" for n in range(1, 21)]
    assert sorted(given.values()) == numbers
    revised = [f"{given[n]}-R1" for n in range(3, 20, 4)]
    assert whole(folder) == sorted([*numbers, *revised])
    lines = Counter(
        (each.quote, each.result, each.by) for each in read_outcomes(folder / "outcomes.csv")
    )
    expected = {(name, "sent", f"worker {n}") for n, name in given.items()} | {
        (name, ("won", "lost", "withdrawn")[n % 4], f"worker {n}")
        for n, name in given.items()
        if n % 4 < 3
    }
    assert lines == dict.fromkeys(expected, 1)
    listing = list_quotes(folder)
    assert counts(listing) == {
        **dict.fromkeys(("draft", "won", "lost", "withdrawn"), 5),
        **dict.fromkeys(("sent", "expired", "revised"), 0),
    }
    assert hidden(folder) == []
    assert check_archive(folder).faults == []


@pytest.fixture(scope="module")
def two_quotes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("two") / "quotes"
    for _ in range(2):
        put(folder)
    settle(folder, "2026-0001", "lost", ISSUED)
    return folder


@pytest.fixture(scope="module")
def littered(two_quotes: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two quotes, half of a third and half a table, as killed processes left them."""
    folder = tmp_path_factory.mktemp("littered") / "quotes"
    shutil.copytree(two_quotes, folder)
    assert ended(processes.killed_in_write, "settle", folder, 0) == KILLED
    (table,) = (folder / name for name in hidden(folder))
    content = table.read_bytes()
    assert ended(processes.killed_in_write, "issue", folder, 2) == KILLED
    table.write_bytes(content)  # which the second had cleared
    assert hidden(folder) == sorted([table.name, ".unfinished"])
    return folder


def files_in(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def check(action: str, folder: Path) -> bool:
    """That a stopped action left all or nothing, and that the next ones go on; whether all."""
    extra = {"issue": "2026-0003", "revise": "2026-0002-R1"}.get(action)
    before = ["2026-0001", "2026-0002"]
    there = whole(folder)
    settled = [outcome.quote for outcome in read_outcomes(folder / "outcomes.csv")]
    assert there in (before, sorted([*before, *([extra] if extra else [])]))
    assert settled in (["2026-0001"], ["2026-0001", "2026-0002"])
    orders = {place.name: files_in(place) for place in folder.glob("*-order*")}
    expected = {name: processes.order_of(name) for name in orders}
    assert orders == expected
    assert [*orders] in ([], ["2026-0002-order"] if action == "confirm" else [])
    done = there != before or settled != ["2026-0001"] or bool(orders)
    assert read_archive(folder).notes == ()
    assert put(folder) == ("2026-0004" if action == "issue" and done else "2026-0003")
    if action != "settle" or not done:
        settle(folder, "2026-0002", "won", date(2026, 11, 30))
    assert hidden(folder) == []
    assert len(whole(folder)) == 3 + (done and extra is not None)
    return done


def kills(
    start: Path, room: Path, how: Callable[..., None], action: str
) -> Iterator[tuple[bool, Path]]:
    """An action killed at its first moment, its second and so on, until it is not."""
    for step in count():
        folder = room / str(step)
        shutil.copytree(start, folder)
        code = ended(how, action, folder, step)
        assert code in (0, KILLED)
        yield code == KILLED, folder
        if code == 0:
            return


@pytest.mark.parametrize("action", sorted(processes.ACTIONS))
@pytest.mark.parametrize(
    ("how", "least"),
    [(processes.killed_at_line, 100), (processes.killed_in_write, 1)],
    ids=["line", "write"],
)
def test_a_kill_at_any_moment_leaves_all_or_nothing(
    littered: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    action: str,
    how: Callable[..., None],
    least: int,
) -> None:
    """Before and after each line that runs, and within each file that is written."""
    monkeypatch.setattr(os, "fsync", processes.unconfirmed)
    done = []
    for killed, folder in kills(littered, tmp_path, how, action):
        done.append(check(action, folder))
        assert killed or done[-1]
    assert len(done) > least
    assert (done[0], done[-1]) == (False, True)
    assert done == sorted(done)  # nothing until the moment it appears, and then all


@pytest.mark.parametrize("action", sorted(processes.ACTIONS))
def test_a_kill_while_clearing_what_another_left_does_no_harm(
    littered: Path, tmp_path: Path, action: str
) -> None:
    done = [
        check(action, folder)
        for _, folder in kills(littered, tmp_path, processes.killed_in_clearing, action)
    ]
    assert len(done) > 2
    assert done[-1]


def test_the_lock_of_a_killed_process_holds_nobody_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The lock file stays; what holds is the system's, for as long as the process lives."""
    folder = tmp_path / "quotes"
    mine, theirs = CONTEXT.Pipe()
    holder = started(processes.hold_the_lock, folder, theirs)
    theirs.close()
    assert mine.recv() == "held"
    monkeypatch.setattr(disk, "PATIENCE", 0.2)
    with pytest.raises(QuoteError) as caught:
        put(folder)
    assert str(caught.value) == (
        f"somebody else has been writing to {folder} for 0.2 s; try again later"
    )
    holder.kill()
    holder.join()
    assert (folder / ".lock").exists()
    assert put(folder) == "2026-0001"


def test_a_folder_that_is_read_only_is_told_and_can_still_be_read(tmp_path: Path) -> None:
    """Outside pytest's own folder, into which only its owner may look."""
    with tempfile.TemporaryDirectory() as kept:
        Path(kept).chmod(0o755)
        folder = Path(kept) / "quotes"
        put(folder)
        folder.chmod(0o555)
        (folder / ".lock").chmod(0o444)
        mine, theirs = CONTEXT.Pipe()
        process = started(processes.issue_as_nobody, tmp_path, folder, theirs)
        theirs.close()
        told = mine.recv()
        process.join()
        folder.chmod(0o755)
        assert told == f"can't write {folder / '.lock'}: Permission denied"
        assert [record.name for record in read_archive(folder).records] == ["2026-0001"]
