"""`quoter preview` as a person starts and ends it."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import webbrowser
from contextlib import closing, suppress
from pathlib import Path
from threading import Event, Thread
from urllib.request import urlopen

import pytest
from click.testing import CliRunner, Result

from quoter.cli import main
from quoter.preview.reading import Latest
from quoter.preview.server import LOOPBACK
from tests.catalogues.written import COST_CARD
from tests.preview.made import PATIENCE, small

PROJECT = Path(__file__).resolve().parents[2]


@pytest.fixture
def ended_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The catalogue is read once, then Ctrl-C is pressed."""

    def keep(latest: Latest, stopped: Event) -> None:
        latest.refresh()
        raise KeyboardInterrupt

    monkeypatch.setattr(Latest, "keep", keep)


def preview(*words: str | Path) -> Result:
    return CliRunner().invoke(main, ["preview", *map(str, words)])


@pytest.mark.usefixtures("ended_at_once")
def test_it_says_where_to_look_and_what_each_reading_found(tmp_path: Path) -> None:
    folder = small(tmp_path)
    found = preview(folder, "--port", "0")
    assert (found.exit_code, found.stderr) == (0, "")
    where, what = found.stdout.splitlines()
    assert re.fullmatch(
        rf"http://127\.0\.0\.1:\d+/ shows {re.escape(str(folder))}; Ctrl-C .*", where
    )
    assert re.fullmatch(
        r"Prices of \d{4}-\d\d-\d\d: 1 warning, http://127\.0\.0\.1:\d+/-/warnings \(\d+\.\d s\)",
        what,
    )


@pytest.mark.usefixtures("ended_at_once")
def test_problems_are_told_as_check_tells_them(tmp_path: Path) -> None:
    folder = small(tmp_path, {"parts.yaml": ("passes: 97 %", "passes: 197 %")})
    found = preview(folder, "--port", "0")
    checked = CliRunner().invoke(main, ["check", str(folder)])
    assert found.exit_code == 0
    assert f"{found.stderr}1 problem; nothing was written\n" == checked.stderr
    assert found.stdout.splitlines()[1].startswith("1 problem (")


@pytest.mark.usefixtures("ended_at_once")
def test_a_day_and_settings_count_as_in_a_build() -> None:
    found = preview(COST_CARD, "--port", "0", "--as-of", "2026-07-01")
    assert re.search(
        r"^Prices of 2026-07-01: \d+ warnings?, http://127\.0\.0\.1:\d+/-/warnings \(",
        found.stdout,
        re.M,
    )
    found = preview(COST_CARD, "--port", "0", "--set", "price.no_such_thing=+5%")
    assert "no_such_thing" in found.stderr
    assert "1 problem (" in found.stdout


@pytest.mark.usefixtures("ended_at_once")
def test_a_browser_is_opened_only_when_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(webbrowser, "open", opened.append)
    folder = small(tmp_path)
    preview(folder, "--port", "0")
    assert opened == []
    found = preview(folder, "--port", "0", "--open")
    assert found.stdout.startswith(f"{opened[0]} shows ")


def test_a_port_that_is_taken_is_told_with_what_to_do(tmp_path: Path) -> None:
    with closing(socket.create_server((LOOPBACK, 0))) as other:
        port = other.getsockname()[1]
        found = preview(small(tmp_path), "--port", str(port))
    assert (found.exit_code, found.stdout) == (1, "")
    assert found.stderr == (
        f"port {port} can't be used: Address already in use; "
        "name another with --port, or 0 for any free one [port]\n"
    )


def test_a_port_that_can_not_be_is_wrong_usage(tmp_path: Path) -> None:
    assert preview(small(tmp_path), "--port", "65536").exit_code == 2
    assert preview(tmp_path / "nowhere").exit_code == 2


def test_control_c_ends_it_well(tmp_path: Path) -> None:
    command = [sys.executable, "-W", "error", "-m", "quoter", "preview", str(small(tmp_path))]
    with subprocess.Popen(
        [*command, "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(PROJECT)},
    ) as running:
        assert running.stdout is not None
        address = running.stdout.readline().split()[0]
        with urlopen(f"{address}en/home/index.html", timeout=PATIENCE) as page:
            assert page.status == 200
        running.send_signal(signal.SIGINT)
        told, wrong = running.communicate(timeout=PATIENCE)
    assert (running.returncode, wrong) == (0, "")
    assert told.startswith("Prices of 2026-02-01: 1 warning, http://127.0.0.1:")


def held_open(port: int, count: int) -> list[socket.socket]:
    """Connections that dribble: one letter of a header each, and again until they are cut."""
    found = []
    for _ in range(count):
        connection = socket.create_connection((LOOPBACK, port), timeout=PATIENCE)
        connection.sendall(b"GET /en/home/index.html HTTP/1.1\r\nHost: ")
        found.append(connection)
    return found


def dribble(connections: list[socket.socket], ended: Event) -> None:
    while not ended.wait(0.05):
        for connection in connections:
            with suppress(OSError):
                connection.send(b"x")


@pytest.mark.slow
def test_control_c_ends_it_at_once_while_clients_dribble(tmp_path: Path) -> None:
    """Some send a letter now and then, some ask for a page that they never read, some are silent.

    Without any of it the end takes a fraction of a second; the connections themselves would last.
    """
    command = [sys.executable, "-W", "error", "-m", "quoter", "preview", str(small(tmp_path))]
    ended = Event()
    with subprocess.Popen(
        [*command, "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(PROJECT)},
    ) as running:
        assert running.stdout is not None
        address = running.stdout.readline().split()[0]
        with urlopen(f"{address}en/home/index.html", timeout=PATIENCE) as page:
            assert page.status == 200
        port = int(address.rstrip("/").rpartition(":")[2])
        slow = held_open(port, 20)
        slow += [socket.create_connection((LOOPBACK, port)) for _ in range(5)]
        unread = [socket.create_connection((LOOPBACK, port)) for _ in range(5)]
        for connection in unread:
            connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
            connection.sendall(
                b"GET /en/home/index.html HTTP/1.1\r\nHost: localhost:%d\r\n\r\n" % port
            )
        dribbling = Thread(target=dribble, args=(slow[:20], ended))
        dribbling.start()
        try:
            running.send_signal(signal.SIGINT)
            _, wrong = running.communicate(timeout=8)
        finally:
            ended.set()
            dribbling.join()
            for connection in (*slow, *unread):
                connection.close()
    assert (running.returncode, wrong) == (0, "")
