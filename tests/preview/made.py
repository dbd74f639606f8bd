"""A preview that runs for one test, asked over a real connection."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from email.message import Message
from http.client import HTTPConnection
from pathlib import Path
from threading import Event, Thread

from quoter.preview.reading import Latest, PreviewOf, Reading, Trouble
from quoter.preview.server import LOOPBACK, Server, serving
from tests.catalogues.written import FOLDER, write_catalogue

SMALL = FOLDER / "small"
PATIENCE = 60  # seconds; a test that needs them all has failed


@dataclass
class Heard:
    """Keeps what a terminal would be told."""

    readings: list[Reading] = field(default_factory=list)
    failed: list[Trouble] = field(default_factory=list)

    def was_read(self, reading: Reading, seconds: float) -> None:
        assert seconds >= 0
        self.readings.append(reading)

    def page_failed(self, trouble: Trouble) -> None:
        self.failed.append(trouble)


@dataclass(frozen=True)
class Response:
    status: int
    headers: Message
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode("utf-8")


@dataclass(frozen=True)
class Preview:
    """A running preview."""

    folder: Path
    latest: Latest
    heard: Heard
    server: Server

    @property
    def port(self) -> int:
        return self.server.server_port

    def ask(self, path: str, method: str = "GET", **headers: str) -> Response:
        """One request over a connection of its own."""
        with closing(HTTPConnection(LOOPBACK, self.port, timeout=PATIENCE)) as connection:
            connection.request(method, path, headers=headers)
            response = connection.getresponse()
            return Response(response.status, response.headers, response.read())

    def id(self) -> str:
        """Of the latest reading."""
        reading = self.latest.reading()
        assert reading is not None
        return reading.id

    def edit(self, file: str, old: str, new: str) -> None:
        """Replace a text that is there once, as an editor saves: a new file takes the old name."""
        path = self.folder / file
        text = path.read_text("utf-8")
        assert text.count(old) == 1
        aside = path.with_name(f"{path.name}~")
        aside.write_text(text.replace(old, new), "utf-8")
        aside.replace(path)


@contextmanager
def served(folder: Path, port: int = 0, **asked: object) -> Iterator[Preview]:
    """A preview that reads its catalogue once, and again when a test says so."""
    heard = Heard()
    latest = Latest(PreviewOf(folder, **asked), heard)  # type: ignore[arg-type]  # a test's own words
    with serving(latest, port) as server:
        latest.refresh()
        yield Preview(folder, latest, heard, server)


@contextmanager
def followed(folder: Path, port: int = 0) -> Iterator[Preview]:
    """A preview that follows its files."""
    heard, stopped = Heard(), Event()
    latest = Latest(PreviewOf(folder), heard)
    with serving(latest, port) as server:
        thread = Thread(target=latest.keep, args=(stopped,))
        thread.start()
        try:
            yield Preview(folder, latest, heard, server)
        finally:
            stopped.set()
            thread.join()


def small(folder: Path, changes: dict[str, tuple[str, str]] | None = None) -> Path:
    """A copy of the small catalogue, with an old text replaced by a new one in some files."""
    return write_catalogue(folder / "yard", {}, changes, base=SMALL)
