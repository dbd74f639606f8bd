"""Quotes issued, sent, given a chance, lost and revised by three processes, killed at random.

Whatever a process said is done must stand, everything stands once, and nothing is half there.
"""

from __future__ import annotations

import random
import tempfile
import time
from collections import Counter
from pathlib import Path

from quoter.quotes.kept.checking import check_archive
from quoter.quotes.kept.outcomes import read_outcomes
from tests.quotes import processes
from tests.quotes.made import hidden, put, whole
from tests.quotes.processes import KILLED, started
from tests.trials.trial import Trial, Tried

WORKERS = 3


def rounds(room: Path, turns: int, tried: Tried) -> list[Path]:
    """Kill three workers in each turn; what they wrote down of it."""
    chance, logs = random.Random(20261120), []
    for turn in range(turns):
        new = [room / f"{turn}.{n}" for n in range(WORKERS)]
        workers = [
            started(processes.live_on_and_on, room / "quotes", log, n) for n, log in enumerate(new)
        ]
        while not any(log.exists() and log.stat().st_size for log in new):
            if any(worker.exitcode is not None for worker in workers):
                break
            time.sleep(0.001)
        time.sleep(chance.uniform(0, 0.2))
        chance.shuffle(workers)
        for worker in workers:
            worker.kill()
        for worker in workers:
            worker.join()
            how = f"turn {turn}: a worker ended by itself with {worker.exitcode}"
            tried.expect(worker.exitcode == KILLED, how)
        logs += new
    return logs


def stands(folder: Path) -> Counter[str]:
    """How often everything that was done stands in a folder, in the words of the workers."""
    names = whole(folder)
    return Counter(
        [
            *(f"{each.quote} {each.result}" for each in read_outcomes(folder / "outcomes.csv")),
            *(f"{name} issued" for name in names if "-R" not in name),
            *(f"{name.removesuffix('-R1')} revised" for name in names if "-R" in name),
        ]
    )


def living(turns: int) -> Tried:
    """Have quotes live through so many turns of three kills, and look at what stands."""
    tried = Tried()
    with tempfile.TemporaryDirectory() as kept:
        room = Path(kept).resolve()
        logs = rounds(room, turns, tried)
        folder = room / "quotes"
        said = Counter(
            line for log in logs if log.exists() for line in log.read_text().splitlines()
        )
        there = stands(folder)
        twice = [what for what, count in (there | said).items() if count > 1]
        tried.expect(not twice, f"doubled: {', '.join(twice)}")
        lost = sorted({*said} - {*there})
        tried.expect(not lost, f"lost: {', '.join(lost)}")
        # One may be killed after its word stands and before it says so.
        unsaid = len(there) - len(said)
        tried.expect(unsaid <= len(logs), f"{unsaid} of {len(logs)} kills left a word unsaid")
        numbers = [name for name in whole(folder) if "-R" not in name]
        wanted = [f"2026-{n:04}" for n in range(1, len(numbers) + 1)]
        tried.expect(numbers == wanted, "numbers have a gap")
        put(folder)
        tried.expect(not hidden(folder), f"left: {', '.join(hidden(folder))}")
        faults = check_archive(folder).faults
        tried.expect(not faults, "; ".join(faults))
    return tried


TRIALS = (
    Trial(
        "living-quotes",
        "Quotes issued, sent, lost and revised by three processes, killed at random moments.",
        living,
        short=5,
        long=67,
    ),
)
