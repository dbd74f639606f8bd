"""What the server answers: the published bytes, to this machine alone, and no secret."""

from __future__ import annotations

import re
import socket
from collections.abc import Iterator, Sequence
from datetime import date
from email.message import Message
from pathlib import Path
from threading import Event, Thread
from time import sleep

import pytest

from quoter.build import render
from quoter.pages.public.site import public_pages
from quoter.preview import server
from quoter.preview.reading import PreviewOf, read
from quoter.preview.server import LOOPBACK, type_of
from quoter.pricing.earlier import EarlierLists
from quoter.pricing.price import Pricing
from tests.demo import DEMO
from tests.preview.made import PATIENCE, SMALL, Heard, Preview, Response, served, small

SCRIPT = re.compile(rb'<script src="/-/reload\.js" data-reading="([\w-]+)" defer></script>\n')
INDEX = "/en/home/index.html"


@pytest.fixture(scope="module")
def preview() -> Iterator[Preview]:
    with served(SMALL) as running:
        yield running


def test_every_file_is_the_published_one_with_a_script_more_in_each_page(
    preview: Preview, small_pricing: Pricing
) -> None:
    published = public_pages(small_pricing)
    assert {"index.html", "en/home/models/skiff.html", "en/home/assets/sheet.css"} <= {*published}
    for path, content in published.items():
        shown = preview.ask(f"/{path}")
        without, count = SCRIPT.subn(b"", shown.body)
        assert (shown.status, without) == (200, content)
        assert count == path.endswith(".html"), path
        assert b"/-/" not in content, "what is published knows nothing of a preview"


class NotedError(Exception):
    """Raised where pages would be made from here on."""


def test_pages_are_made_from_what_a_build_makes_them_from(monkeypatch: pytest.MonkeyPatch) -> None:
    days: list[list[date]] = []

    def note(pricing: Pricing, earlier: Sequence[EarlierLists] = ()) -> None:
        days.append([pricing.catalogue.as_of, *(each.until for each in earlier)])
        raise NotedError

    monkeypatch.setattr("quoter.tasks.PublicSite", note)
    with pytest.raises(NotedError):
        render(DEMO, None, strict=False, say=lambda _: None)
    monkeypatch.setattr("quoter.preview.reading.PublicSite", note)
    read(PreviewOf(DEMO), "1", Heard().page_failed)
    built, shown = days
    assert built == shown


def test_the_script_stands_at_the_end_of_the_head_and_names_the_reading(preview: Preview) -> None:
    page = preview.ask(INDEX).body
    (script,) = SCRIPT.finditer(page)
    assert page[script.end() :].startswith(b"</head>")
    assert script[1].decode() == preview.id()


# Media types: the registry of IANA. JSON takes no charset: RFC 8259, section 11.
@pytest.mark.parametrize(
    ("path", "type"),
    [
        ("/", "text/html; charset=utf-8"),
        (INDEX, "text/html; charset=utf-8"),
        ("/assets/base.css", "text/css; charset=utf-8"),
        ("/assets/icon.svg", "image/svg+xml; charset=utf-8"),
        ("/-/reload.js", "text/javascript; charset=utf-8"),
        ("/-/after/another.js", "text/javascript; charset=utf-8"),
        ("/-/warnings", "text/html; charset=utf-8"),
        ("/no_such_page", "text/html; charset=utf-8"),
    ],
)
def test_an_answer_says_of_what_type_it_is(preview: Preview, path: str, type: str) -> None:
    assert preview.ask(path).headers["Content-Type"] == type


def test_files_of_other_types_are_known_too() -> None:
    assert type_of("en/home/prices.json") == "application/json"
    assert type_of("en/home/offers.jsonld") == "application/ld+json"
    assert type_of("en/home/prices.csv") == "text/csv; charset=utf-8"
    assert type_of("sitemap.xml") == "application/xml; charset=utf-8"
    assert type_of("robots.txt") == "text/plain; charset=utf-8"
    assert type_of("en/home/picture.unknown") == "application/octet-stream"


def test_nothing_is_stored_guessed_framed_or_taken_in_elsewhere(preview: Preview) -> None:
    found = [preview.ask(path) for path in ("/", "/assets/base.css", "/nowhere", "/-/reload.js")]
    found += [preview.ask("/", "POST"), preview.ask("/", Host="yard.example")]
    assert [each.status for each in found] == [200, 200, 404, 200, 405, 421]
    for each in found:
        assert each.headers["Cache-Control"] == "no-store"
        assert each.headers["X-Content-Type-Options"] == "nosniff"
        assert each.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert each.headers["Content-Security-Policy"] == "frame-ancestors 'none'"


def test_a_folder_leads_to_its_index(preview: Preview) -> None:
    found = preview.ask("/en/home?from=here")
    assert (found.status, found.headers["Location"], found.body) == (302, "/en/home/", b"")
    assert preview.ask("/en/home/").body == preview.ask(INDEX).body
    assert preview.ask("/").body == preview.ask("/index.html").body


def test_head_gives_the_headers_alone(preview: Preview) -> None:
    head, get = preview.ask(INDEX, "HEAD"), preview.ask(INDEX)
    assert head.body == b""
    assert int(head.headers["Content-Length"]) == len(get.body) > 1000
    assert {**head.headers, "Date": ""} == {**get.headers, "Date": ""}


# RFC 9110, section 15.5.6: a 405 names the methods there are.
@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS"])
def test_nothing_can_be_changed(preview: Preview, method: str) -> None:
    found = preview.ask(INDEX, method)
    assert (found.status, found.headers["Allow"]) == (405, "GET, HEAD")


# Names that lead to this machine without being its own: DNS rebinding. The statuses are those of
# RFC 9110, section 15.5.20, and RFC 9112, section 3.2.
@pytest.mark.parametrize(
    "host",
    [
        "yard.example",
        "yard.example:{port}",
        "127.0.0.1.yard.example:{port}",
        "localhost.yard.example:{port}",
        "localhost",
        "127.0.0.1:1",
        "127.0.0.2:{port}",
        "0.0.0.0:{port}",
        "",
    ],
)
def test_a_foreign_host_is_refused(preview: Preview, host: str) -> None:
    found = preview.ask(INDEX, Host=host.format(port=preview.port))
    assert found.status == 421
    assert found.text == f"Open http://127.0.0.1:{preview.port}/ instead.\n"


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}", "LocalHost:{port}"])
def test_the_machine_s_own_names_are_answered(preview: Preview, host: str) -> None:
    assert preview.ask(INDEX, Host=host.format(port=preview.port)).status == 200


def raw(preview: Preview, *lines: str) -> bytes:
    """The first line of what is answered to a request as it is written here."""
    with socket.create_connection((LOOPBACK, preview.port), timeout=PATIENCE) as connection:
        connection.sendall("\r\n".join([*lines, "", ""]).encode())
        with connection.makefile("rb") as answered:
            return answered.readline().rstrip()


def test_a_request_without_one_host_or_for_another_server_is_malformed(preview: Preview) -> None:
    own = f"Host: localhost:{preview.port}"
    assert raw(preview, "GET / HTTP/1.1", own).startswith(b"HTTP/1.0 200 ")
    for request in (
        ("GET / HTTP/1.1",),
        ("GET / HTTP/1.1", own, "Host: yard.example"),
        ("GET http://yard.example/ HTTP/1.1", own),
    ):
        assert raw(preview, *request).startswith(b"HTTP/1.0 400 "), request


def test_only_loopback_is_bound(preview: Preview) -> None:
    """Whoever listens everywhere can be reached at every address of loopback, too."""
    assert preview.server.socket.getsockname() == (LOOPBACK, preview.port)
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.2", preview.port), timeout=PATIENCE)


@pytest.mark.parametrize(
    "path",
    [
        "/en/home/models/no_such_boat.html",
        "/../yard.yaml",
        "/en/../../yard.yaml",
        "/%2e%2e/yard.yaml",
        "/en/home/assets/..%2f..%2f..%2fyard.yaml",
        "/-/../yard.yaml",
        "/-/assets/../../quoter/build.py",
        "//yard.yaml",
        "/" + str(SMALL / "yard.yaml"),
        "/yard.yaml",
        "/-/",
        "/-/after/a/b.js",
    ],
)
def test_what_is_no_page_is_not_there(preview: Preview, path: str) -> None:
    found = preview.ask(path)
    assert found.status == 404
    assert "No such page" in found.text
    assert "floor_margin" not in found.text


def test_a_name_from_the_address_is_shown_as_text(preview: Preview) -> None:
    found = preview.ask("/%3Cscript%3Ex%3C/script%3E")
    assert "&#39;/&lt;script&gt;x&lt;/script&gt;&#39;" in found.text


LATE = 0.3  # seconds that an answer takes, so that the server may have begun to end before it


class Question(Thread):
    """Asks for a reading later than the latest; `kept` is set once the server has the question."""

    def __init__(self, preview: Preview, monkeypatch: pytest.MonkeyPatch) -> None:
        super().__init__()
        self._preview, self._path = preview, f"/-/after/{preview.id()}.js"
        self.kept, self.told = Event(), Response(0, Message(), b"")
        later_than = preview.latest.later_than

        def heard(id: str, seconds: float) -> bool:
            self.kept.set()
            found = later_than(id, seconds)
            sleep(LATE)
            return found

        monkeypatch.setattr(server, "HELD", PATIENCE)
        monkeypatch.setattr(preview.latest, "later_than", heard)

    def run(self) -> None:
        self.told = self._preview.ask(self._path)


def test_a_question_for_a_later_reading_is_kept_until_there_is_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with served(small(tmp_path)) as preview:
        first = preview.id()
        question = Question(preview, monkeypatch)
        question.start()
        assert question.kept.wait(PATIENCE)
        preview.latest.refresh()
        question.join()
        assert preview.id() != first
        found = [question.told, *map(preview.ask, (f"/-/after/{first}.js", "/-/after/0a1b-7.js"))]
    for each in found:
        assert (each.status, each.body) == (200, server.CHANGED)


def test_a_question_that_took_long_is_to_be_asked_again(
    preview: Preview, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server, "HELD", 0.01)
    found = preview.ask(f"/-/after/{preview.id()}.js")
    assert (found.status, found.body) == (200, b"")


def test_the_end_leaves_no_one_waiting(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with served(small(tmp_path)) as preview:
        idle = socket.create_connection((LOOPBACK, preview.port), timeout=PATIENCE)
        question = Question(preview, monkeypatch)
        question.start()
        assert question.kept.wait(PATIENCE)
    with idle:
        assert idle.recv(1) == b"", "a connection that a browser holds in reserve ends, too"
    question.join()
    assert (question.told.status, question.told.body) == (200, b"")
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection((LOOPBACK, preview.port), timeout=PATIENCE)
