"""One build at a time into a folder: who has it is told or waited for; the dead hold nothing."""

from __future__ import annotations

import os
import platform
import signal
import time
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from quoter.disk import give_back, holder_of, take_lock
from quoter.publish import outputs
from quoter.publish.manifest import LOCK, MANIFEST, FolderError
from quoter.publish.outputs import Interrupted, held
from tests.processes import CONTEXT
from tests.publish.folders import everything, put, read, refused


def holding(folders: list[Path], told: Connection, seconds: float = 3600) -> None:
    with held(folders):
        told.send(os.getpid())
        time.sleep(seconds)


def waiting(folders: list[Path], told: Connection) -> None:
    """Wait for folders and then fill them; what is said meanwhile and at the end is sent."""
    try:
        with held(folders, wait=True, say=told.send) as mine:
            mine.publish({folder: {"index.html": b"waited"} for folder in folders})
    except Interrupted as fault:
        told.send(str(fault))


def adding(number: Path, times: int) -> None:
    """Add to a number that several add to at once."""
    for _ in range(times):
        while (handle := take_lock(number.with_name(LOCK))) is None:
            time.sleep(0)
        number.write_text(str(int(number.read_text()) + 1))
        give_back(handle, number.with_name(LOCK))


def building(folders: list[Path], word: str, times: int) -> None:
    for _ in range(times):
        with held(folders, wait=True) as mine:
            mine.publish({folder: {"index.html": word.encode()} for folder in folders})


def by(pid: int, folder: Path) -> str:
    return f"process {pid} on {platform.node()} is building into {folder}"


def test_a_second_build_is_told_who_has_the_folder_and_touches_nothing(tmp_path: Path) -> None:
    site, internal = tmp_path / "site", tmp_path / "internal"
    mine, theirs = CONTEXT.Pipe()
    holder = CONTEXT.Process(target=holding, args=([site], theirs))
    holder.start()
    pid = mine.recv()
    assert refused({internal: {"c": "new"}, site: {"index.html": "new"}}) == (
        f"{by(pid, site)}; build again when it has ended, or with --wait"
    )
    assert list(everything(tmp_path)) == [f"site/{LOCK}"]
    assert [path.name for path in tmp_path.iterdir()] == ["site"]
    holder.kill()
    holder.join()
    assert put({site: {"index.html": "new"}}) == []
    assert list(everything(tmp_path)) == [f"site/{MANIFEST}", "site/index.html"]


def test_a_build_that_waits_says_for_whom_and_goes_on_when_it_has_ended(tmp_path: Path) -> None:
    site = tmp_path / "site"
    mine, theirs = CONTEXT.Pipe()
    with held([site]) as first:
        waiter = CONTEXT.Process(target=waiting, args=([site], theirs))
        waiter.start()
        assert mine.recv() == f"waiting: {by(os.getpid(), site)}"
        first.publish({site: {"index.html": b"first", "gone.html": b"first"}})
        assert waiter.is_alive()
    waiter.join()
    assert (waiter.exitcode, mine.poll()) == (0, False)
    assert read(site) == {"index.html": "waited"}


def test_ctrl_c_ends_the_waiting(tmp_path: Path) -> None:
    site, new = tmp_path / "site", tmp_path / "new"
    mine, theirs = CONTEXT.Pipe()
    with held([site]):
        waiter = CONTEXT.Process(target=waiting, args=([site, new], theirs))
        waiter.start()
        assert mine.recv() == f"waiting: {by(os.getpid(), site)}"
        assert waiter.pid is not None
        os.kill(waiter.pid, signal.SIGINT)
        assert mine.recv() == "interrupted; no file of this build was put in place"
        waiter.join()
    assert (waiter.exitcode, list(tmp_path.iterdir())) == (0, [])


def test_folders_named_in_another_order_hold_nobody_up(tmp_path: Path) -> None:
    one, two, three = (tmp_path / name for name in ("one", "two", "three"))
    orders = [[one, two], [two, one], [three, two], [one, three]]
    workers = [
        CONTEXT.Process(target=building, args=(order, str(number), 5))
        for number, order in enumerate(orders)
    ]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join(60)
    assert [worker.exitcode for worker in workers] == [0] * 4
    assert {path.name for path in (*one.iterdir(), *two.iterdir(), *three.iterdir())} == {
        MANIFEST,
        "index.html",
    }


def test_a_lock_that_is_removed_when_given_back_lets_one_at_a_time_in(tmp_path: Path) -> None:
    number = tmp_path / "number"
    number.write_text("0")
    workers = [CONTEXT.Process(target=adding, args=(number, 200)) for _ in range(4)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert number.read_text() == "800"
    assert [path.name for path in tmp_path.iterdir()] == ["number"]


@pytest.mark.parametrize("words", ["", "\n", "\n\x1b[2J", "\n\udcff"])
def test_a_holder_that_left_no_name_is_another_process(tmp_path: Path, words: str) -> None:
    (tmp_path / LOCK).write_bytes(words.encode("utf-8", "surrogateescape"))
    assert holder_of(tmp_path / LOCK) == "another process"
    assert holder_of(tmp_path / "none") == "another process"


def test_folders_that_were_made_for_nothing_go_again(tmp_path: Path) -> None:
    deep = tmp_path / "deep" / "site"
    with held([deep]):
        assert (deep / LOCK).is_file()
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    site = tmp_path / "file" / "site"
    assert refused({site: {"index.html": "new"}}) == (
        f"can't write {site}: Not a directory; no file of this build was put in place"
    )


def test_a_folder_that_vanishes_on_and_on_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def gone(path: Path) -> int:
        raise FileNotFoundError(2, "No such file or directory", str(path))

    monkeypatch.setattr(outputs, "take_lock", gone)
    with pytest.raises(FolderError) as caught:
        put({tmp_path / "site": {"index.html": "new"}})
    assert str(caught.value) == (
        f"can't write {tmp_path / 'site' / LOCK}: No such file or directory; "
        "no file of this build was put in place"
    )
