"""The server: answers this machine's own browsers, who ask for pages and change nothing."""

from __future__ import annotations

import os
import re
import socket
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import PurePosixPath
from socketserver import TCPServer
from threading import Condition, Thread
from typing import Any
from urllib.parse import quote, unquote

from quoter.pages.environment import asset
from quoter.preview.pages import missing_page, problem_page, warnings_page, with_reload
from quoter.preview.reading import Latest, Reading, Site, Trouble, trouble_of

LOOPBACK = "127.0.0.1"
OWED = 1.0  # seconds that answers are sent on when the preview ends; a browser takes far less
# On top of what a page's own policy says: no other site may take in or frame what is not out yet.
HEADERS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Content-Security-Policy": "frame-ancestors 'none'",
}


class PortError(Exception):
    """Raised when there can't be a server on a port."""

    code = "port"


class Handler(BaseHTTPRequestHandler):
    """One request: who asks is looked at first, then how, then what for."""

    server: Server
    timeout = 10  # seconds that a connection may stay silent

    def parse_request(self) -> bool:
        """Read what is asked to its end, then it is answered unless the preview has ended."""
        return super().parse_request() and self.server.asked(self.connection)

    def do_GET(self) -> None:
        """Send a page or file."""
        self._send(self._refused() or answer(self.server.latest, self.path))

    do_HEAD = do_GET

    def do_POST(self) -> None:
        """Refuse to change anything."""
        only = {"Allow": "GET, HEAD"}
        self._send(
            self._refused() or Response(405, PLAIN, b"Only GET and HEAD are answered.\n", only)
        )

    do_PUT = do_PATCH = do_DELETE = do_OPTIONS = do_POST

    def version_string(self) -> str:
        """What the server calls itself: nothing of the machine."""
        return "quoter"

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing of a request; the terminal is for what the catalogue is like."""

    def _refused(self) -> Response | None:
        """The answer to a request that is not for us.

        A page elsewhere may give its own name this machine's address, but can't call itself by ours
        (RFC 9110, section 15.5.20, has the status; RFC 9112, section 3.2, that of a missing Host).
        """
        hosts = self.headers.get_all("Host") or []
        if len(hosts) != 1 or not self.path.startswith("/"):
            return Response(400, PLAIN, b"The request names no host or no path.\n")
        if hosts[0].strip().lower() not in self.server.hosts:
            return Response(421, PLAIN, f"Open {self.server.address} instead.\n".encode())
        return None

    def _send(self, found: Response) -> None:
        self.send_response(found.status)
        self.send_header("Content-Type", found.type)
        self.send_header("Content-Length", str(len(found.content)))
        for name, value in (HEADERS | dict(found.headers)).items():
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(found.content)


class Server(ThreadingHTTPServer):
    """Listens on loopback; when it ends every connection is closed.

    A thread may still be making a page that nobody waits for: it ends with the program.
    """

    daemon_threads = True
    request_queue_size = 64
    allow_reuse_address = os.name == "posix"  # elsewhere it would share a port that is in use

    def __init__(self, latest: Latest, port: int) -> None:
        """Take a port, or any free one for 0.

        Raises:
            PortError: it is taken, or not ours to take.
        """
        self.latest = latest
        self._silent: set[socket.socket] = set()
        self._answered: set[socket.socket] = set()
        self._changed = Condition()
        self._ended = False
        try:
            super().__init__((LOOPBACK, port), Handler)
        except OSError as fault:
            raise PortError(f"port {port} can't be used: {fault.strerror}") from fault
        self.hosts = {f"{name}:{self.server_port}" for name in (LOOPBACK, "localhost")}
        self.address = f"http://{LOOPBACK}:{self.server_port}/"

    def server_bind(self) -> None:
        """Bind without asking the network what this machine is called."""
        TCPServer.server_bind(self)
        self.server_name, self.server_port = LOOPBACK, self.server_address[1]

    def process_request(self, request: Any, client_address: Any) -> None:
        """Remember a connection before a thread of its own takes it over."""
        with self._changed:
            self._silent.add(request)
        super().process_request(request, client_address)

    def asked(self, request: socket.socket) -> bool:
        """Note that a connection has asked to the end; whether it is to be answered."""
        with self._changed:
            self._silent.discard(request)
            self._answered.add(request)
            return not self._ended

    def shutdown_request(self, request: Any) -> None:
        """Close a connection and forget it."""
        super().shutdown_request(request)
        with self._changed:
            self._silent.discard(request)
            self._answered.discard(request)
            self._changed.notify_all()

    def hang_up(self) -> None:
        """End connections that have not asked to the end, whether they are held in reserve or in
        the middle of it; then those that do not take their answers in a moment.
        """
        with self._changed:
            self._ended = True
            _cut(self._silent)
            self._changed.wait_for(lambda: not self._silent and not self._answered, OWED)
            _cut(self._silent | self._answered)
            self._changed.wait_for(lambda: not self._silent and not self._answered, OWED)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away is no fault."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def _cut(connections: set[socket.socket]) -> None:
    for connection in connections:
        with suppress(OSError):  # the other side was faster
            connection.shutdown(socket.SHUT_RDWR)


@contextmanager
def serving(latest: Latest, port: int) -> Iterator[Server]:
    """Answer requests on a thread of its own for as long as the block runs.

    Raises:
        PortError: the port is taken, or not ours to take.
    """
    with Server(latest, port) as server:
        thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1})
        thread.start()
        try:
            yield server
        finally:
            latest.close()
            server.shutdown()
            thread.join()
            server.hang_up()


OWN = "-/"  # no language, so no folder of a price sheet, is called so
HELD = 10  # seconds a question for a later reading is kept, so that few connections are held
PAGE = "text/html; charset=utf-8"
PLAIN = "text/plain; charset=utf-8"
SCRIPT = "text/javascript; charset=utf-8"
# JSON is UTF-8 and has no such parameter (RFC 8259, section 11); nor has what is no text.
TYPES = {
    ".html": PAGE,
    ".css": "text/css; charset=utf-8",
    ".js": SCRIPT,
    ".svg": "image/svg+xml; charset=utf-8",
    ".jpg": "image/jpeg",
    ".png": "image/png",
    ".txt": PLAIN,
    ".csv": "text/csv; charset=utf-8",
    ".xml": "application/xml; charset=utf-8",
    ".json": "application/json",
    ".jsonld": "application/ld+json",
    ".zip": "application/zip",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
# Files that the preview's own pages ask for.
ASSETS = {
    "-/reload.js": "preview/reload.js",
    "-/assets/base.css": "shared/base.css",
    "-/assets/icon.svg": "shared/icon.svg",
    "-/assets/preview.css": "preview/preview.css",
}
CHANGED = b'document.dispatchEvent(new Event("preview:changed"));\n'
_AFTER = re.compile(r"-/after/([\w-]{1,40})\.js")


@dataclass(frozen=True, slots=True)
class Response:
    """A status of HTTP, what is sent, and headers on top of the usual ones."""

    status: int
    type: str
    content: bytes
    headers: Mapping[str, str] = field(default_factory=dict)


def answer(latest: Latest, target: str) -> Response:
    """What is answered to a request's target, which begins with a slash."""
    path = unquote(target.partition("#")[0].partition("?")[0])[1:]
    if asked := _AFTER.fullmatch(path):
        return Response(200, SCRIPT, CHANGED if latest.later_than(asked[1], HELD) else b"")
    reading = latest.reading()
    if reading is None:
        return Response(503, PLAIN, b"The preview is ending.\n")
    try:
        return _answered(reading, path)
    except Exception as fault:  # the preview's own templates may be what is being changed
        return _troubled(reading, trouble_of(fault, reading.folder), path, whole=False)


def _answered(reading: Reading, path: str) -> Response:
    if path in ASSETS:
        return Response(200, type_of(path), asset(ASSETS[path]))
    if isinstance(reading.found, Trouble):
        return _troubled(reading, reading.found, path, whole=True)
    if path == f"{OWN}warnings":
        return Response(200, PAGE, with_reload(warnings_page(reading), reading))
    return _of_site(reading, reading.found, path)


def type_of(path: str) -> str:
    """The media type of a file, with its character set."""
    return TYPES.get(PurePosixPath(path).suffix, "application/octet-stream")


def _of_site(reading: Reading, site: Site, path: str) -> Response:
    file = f"{path}index.html" if path.endswith("/") or not path else path
    if file not in site:
        if f"{file}/index.html" in site:
            return Response(302, PLAIN, b"", {"Location": f"/{quote(file)}/"})
        return Response(404, PAGE, with_reload(missing_page(reading, path), reading))
    content = site.page(file)
    if isinstance(content, Trouble):
        return _troubled(reading, content, file, whole=False)
    page = type_of(file) == PAGE
    return Response(200, type_of(file), with_reload(content, reading) if page else content)


def _troubled(reading: Reading, trouble: Trouble, path: str, *, whole: bool) -> Response:
    """Problems in place of a file, for a person or, where no page was asked for, as plain text."""
    if PurePosixPath(path).suffix not in ("", ".html"):
        told = "\n\n".join(map(str, trouble.problems))
        return Response(503, PLAIN, f"{told}\n".encode())
    page = problem_page(reading, trouble.problems, "" if whole else path)
    return Response(503, PAGE, with_reload(page, reading, troubled=True))
