"""Whoever does the tasks of a build, it is the same build; and nobody is left behind."""

from __future__ import annotations

import os
import pickle
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from click.testing import CliRunner
from distributed import Client, LocalCluster

from quoter.build import Report, render
from quoter.catalogue.load import load_catalogue
from quoter.cli import main
from quoter.problems import CatalogueError
from quoter.workers import Source, done_by, source_of
from tests.catalogues.written import COST_CARD, FOLDER, write_catalogue
from tests.publish.folders import everything

SMALL = FOLDER / "small"
LONGEST = 60.0  # seconds that a process may take to end on a busy machine


def command(catalogue: Path, place: Path, *options: str) -> list[str]:
    words = ["build", catalogue, "--site", place / "site", "--internal", place / "internal"]
    return [sys.executable, "-m", "quoter", *map(str, words), *options]


def built(catalogue: Path, place: Path, workers: int) -> dict[str, bytes]:
    subprocess.run(command(catalogue, place, f"--workers={workers}"), check=True)
    return everything(place)


def test_however_many_workers_share_it_a_build_is_the_same(tmp_path: Path) -> None:
    alone = built(SMALL, tmp_path / "alone", 1)
    assert "internal/workbooks/cutter.xlsx" in alone
    for workers in (2, 5):
        assert built(SMALL, tmp_path / str(workers), workers) == alone


def test_what_workers_find_is_told_as_if_one_had_done_it_all(tmp_path: Path) -> None:
    said = ("in the foredeck.", "in the foredeck, of Brisk Chemicals Wholesale.")
    catalogue = write_catalogue(tmp_path / "yard", {}, {"options.yaml": said}, SMALL)
    told = []
    for workers in (1, 3):
        place = tmp_path / str(workers)
        ran = subprocess.run(
            command(catalogue, place, f"--workers={workers}"), capture_output=True, text=True
        )
        assert (ran.returncode, everything(place)) == (1, {})
        told.append(ran.stderr)
    assert "Brisk Chemicals Wholesale" in told[0]
    assert told[0] == told[1]


def test_problems_come_from_one_process_to_another_whole() -> None:
    with pytest.raises(CatalogueError) as caught:
        load_catalogue(Path("nowhere"))
    again = pickle.loads(pickle.dumps(caught.value))
    assert (again.problems, str(again)) == (caught.value.problems, str(caught.value))


def children(process: int) -> list[int]:
    return [
        int(word) for word in Path(f"/proc/{process}/task/{process}/children").read_text().split()
    ]


def alive(process: int) -> bool:
    try:
        return "Z" not in Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except FileNotFoundError:
        return False


@pytest.mark.parametrize("stop", [signal.SIGKILL, signal.SIGINT, signal.SIGTERM])
def test_workers_end_with_the_build_and_keep_no_folder(
    tmp_path: Path, stop: signal.Signals
) -> None:
    build = subprocess.Popen(
        command(SMALL, tmp_path, "--workers=3"), stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    until = time.monotonic() + LONGEST
    while len(workers := children(build.pid)) < 3:
        assert time.monotonic() < until
        assert build.poll() is None, "it has ended before all of them had begun"
    build.send_signal(stop)
    _, said = build.communicate(timeout=LONGEST)
    assert b"Traceback" not in said
    while any(map(alive, workers)):
        assert time.monotonic() < until
    assert "internal/costing.json" in built(SMALL, tmp_path, 2)


@pytest.fixture(scope="module")
def cluster() -> Iterator[LocalCluster]:
    """Two workers on loopback, each a process of its own."""
    with LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address="127.0.0.1:0", silence_logs=50
    ) as found:
        yield found


@pytest.fixture
def client(cluster: LocalCluster) -> Iterator[Client]:
    with Client(cluster) as found:
        yield found


def plain() -> Report:
    return render(COST_CARD, None, strict=False, say=lambda _: None)


def test_a_cluster_builds_what_one_process_builds(client: Client) -> None:
    hands = done_by(client.get_executor(), source_of(COST_CARD, None, (), published=True))
    far = render(COST_CARD, None, strict=False, say=lambda _: None, do=hands)
    here = plain()
    assert (far.public, far.internal, far.tasks) == (here.public, here.internal, here.tasks)


def test_what_is_no_catalogue_s_is_sent_by_name_alone(tmp_path: Path) -> None:
    shutil.copytree(COST_CARD, tmp_path / "yard")
    (tmp_path / "yard" / "prices" / "notes").mkdir()
    os.mkfifo(tmp_path / "yard" / "a pipe")
    source = source_of(tmp_path / "yard", None, (), published=True)
    assert (source.files["prices/notes"], source.files["a pipe"]) == (None, b"")
    with ThreadPoolExecutor(1) as executor:
        far = render(
            tmp_path / "yard", None, strict=False, say=lambda _: None, do=done_by(executor, source)
        )
    here = render(tmp_path / "yard", None, strict=False, say=lambda _: None)
    assert (far.public, far.internal) == (here.public, here.internal)


def test_what_a_lost_worker_was_doing_another_does(client: Client) -> None:
    processes = [*client.run(os.getpid).values()]

    def say(step: str) -> None:
        if len(processes) == 2 and step.startswith("writing the price sheet en"):
            os.kill(processes.pop(), signal.SIGKILL)

    hands = done_by(client.get_executor(retries=3), source_of(SMALL, None, (), published=True))
    far = render(SMALL, None, strict=False, say=say, do=hands)
    assert len(processes) == 1
    here = render(SMALL, None, strict=False, say=lambda _: None)
    assert (far.public, far.internal) == (here.public, here.internal)


def test_a_worker_with_another_version_is_told(client: Client) -> None:
    source = source_of(COST_CARD, None, (), published=True)
    other = Source(source.files, source.as_of, source.settings, source.published, "another")
    with pytest.raises(RuntimeError, match="a worker has another version of quoter"):
        render(
            COST_CARD,
            None,
            strict=False,
            say=lambda _: None,
            do=done_by(client.get_executor(), other),
        )


def test_the_command_has_a_scheduler_s_workers_build(tmp_path: Path, cluster: LocalCluster) -> None:
    place = tmp_path / "far"
    words = command(COST_CARD, place, "--scheduler", cluster.scheduler_address)
    subprocess.run(words, check=True)
    assert everything(place) == built(COST_CARD, tmp_path / "here", 1)


def test_a_scheduler_that_does_not_answer_is_told(tmp_path: Path) -> None:
    words = command(COST_CARD, tmp_path, "--scheduler", "nonsense://nowhere")[3:]
    told = CliRunner().invoke(main, words)
    assert told.exit_code == 1
    assert told.stderr.startswith("no scheduler answers at nonsense://nowhere: ")
    assert everything(tmp_path) == {}
