"""What is answered to a path: a page or file of the price sheet, or one of the preview's own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import PurePosixPath
from urllib.parse import quote, unquote

from quoter.pages.environment import asset
from quoter.preview.faults import Trouble, trouble_of
from quoter.preview.latest import Latest
from quoter.preview.pages import missing_page, problem_page, warnings_page, with_reload
from quoter.preview.reading import Reading, Site

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
    ".txt": PLAIN,
    ".csv": "text/csv; charset=utf-8",
    ".xml": "application/xml; charset=utf-8",
    ".json": "application/json",
    ".jsonld": "application/ld+json",
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
class Answer:
    """A status of HTTP, what is sent, and headers on top of the usual ones."""

    status: int
    type: str
    content: bytes
    headers: Mapping[str, str] = field(default_factory=dict)


def answer(latest: Latest, target: str) -> Answer:
    """What is answered to a request's target, which begins with a slash."""
    path = unquote(target.partition("#")[0].partition("?")[0])[1:]
    if asked := _AFTER.fullmatch(path):
        return Answer(200, SCRIPT, CHANGED if latest.later_than(asked[1], HELD) else b"")
    reading = latest.reading()
    if reading is None:
        return Answer(503, PLAIN, b"The preview is ending.\n")
    try:
        return _answered(reading, path)
    except Exception as fault:  # the preview's own templates may be what is being changed
        return _troubled(reading, trouble_of(fault, reading.folder), path, whole=False)


def _answered(reading: Reading, path: str) -> Answer:
    if path in ASSETS:
        return Answer(200, type_of(path), asset(ASSETS[path]))
    if isinstance(reading.found, Trouble):
        return _troubled(reading, reading.found, path, whole=True)
    if path == f"{OWN}warnings":
        return Answer(200, PAGE, with_reload(warnings_page(reading), reading))
    return _of_site(reading, reading.found, path)


def type_of(path: str) -> str:
    """The media type of a file, with its character set."""
    return TYPES.get(PurePosixPath(path).suffix, "application/octet-stream")


def _of_site(reading: Reading, site: Site, path: str) -> Answer:
    file = f"{path}index.html" if path.endswith("/") or not path else path
    if file not in site:
        if f"{file}/index.html" in site:
            return Answer(302, PLAIN, b"", {"Location": f"/{quote(file)}/"})
        return Answer(404, PAGE, with_reload(missing_page(reading, path), reading))
    content = site.page(file)
    if isinstance(content, Trouble):
        return _troubled(reading, content, file, whole=False)
    page = type_of(file) == PAGE
    return Answer(200, type_of(file), with_reload(content, reading) if page else content)


def _troubled(reading: Reading, trouble: Trouble, path: str, *, whole: bool) -> Answer:
    """Problems in place of a file, for a person or, where no page was asked for, as plain text."""
    if PurePosixPath(path).suffix not in ("", ".html"):
        told = "\n\n".join(map(str, trouble.problems))
        return Answer(503, PLAIN, f"{told}\n".encode())
    page = problem_page(reading, trouble.problems, "" if whole else path)
    return Answer(503, PAGE, with_reload(page, reading, troubled=True))
