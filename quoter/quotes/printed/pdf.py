"""A quote as a PDF: its page set again on paper, element by element, word for word.

All that it says comes from the page, which says what its customer may see: nothing is worded or
counted a second time. The typesetter takes it as one text of data beside a template that is the
same for every quote. It brings its own fonts and knows no clock, so that the same page gives the
same bytes; another version of it may give others.
"""

from __future__ import annotations

import json
import re
from base64 import b64decode
from collections.abc import Iterator
from functools import cache
from typing import Any

from lxml import etree

from quoter.resources import templates_folder

_TEMPLATE = "quote/quote.typ"
_MAIN, _DATA = "main.typ", "quote.json"  # as the typesetter finds them
_STANDARD = "ua-1"  # tagged for who can't see it: ISO 14289-1, which the typesetter checks
_INLINE = frozenset({"a", "b", "br", "em", "img", "span", "strong"})
_OWN_LINES = frozenset({"what", "about"})  # classes of words in a line that have one of their own
_AS_TYPED = frozenset({"note"})  # classes of elements whose lines are those of the writer
_ON_SCREENS = frozenset({"skip", "each"})  # classes of what no paper has
_BLANKS = re.compile(r"[ \t\r\n]+")  # what stands for one blank; others are letters
_UNKNOWN = re.compile(r"the text `\"(.+?)\"` could not be displayed")

Node = dict[str, Any]


class UnprintableError(ValueError):
    """Raised for a letter that no font of the typesetter has."""

    def __init__(self, letter: str) -> None:
        """Keep the letter for whoever says what happens then."""
        self.letter = letter
        super().__init__(f"no font that the PDF is set in has a letter for '{letter}'")


def pdf_of(page: bytes, paper: str) -> bytes:
    """The page of a quote as a PDF/UA file.

    Args:
        page: as HTML
        paper: one of `figures.readers.PAPERS`
    Raises:
        UnprintableError: the page has a letter that no font of the typesetter has.
    """
    import typst  # only who prints a quote waits for it

    told = json.dumps(_told(page, paper), ensure_ascii=False, separators=(",", ":"))
    files = {_MAIN: _template(), _DATA: told.encode()}
    try:
        # It takes files by their names, which its types don't say.
        made = typst.compile(  # type: ignore[call-overload]
            files, ignore_system_fonts=True, format="pdf", pdf_standards=_STANDARD
        )
    except typst.TypstError as fault:
        if unknown := _UNKNOWN.search(fault.message):
            raise UnprintableError(unknown[1]) from fault
        raise
    return bytes(made)


@cache
def _template() -> bytes:
    return (templates_folder() / _TEMPLATE).read_bytes()


def _told(page: bytes, paper: str) -> Node:
    """All that the template is given; a picture is a list of its bytes."""
    root = etree.fromstring(
        page, etree.HTMLParser(encoding="utf-8", remove_comments=True, remove_pis=True)
    )
    language, _, region = root.get("lang", "").partition("-")
    return {
        "title": root.findtext("head/title"),
        "author": root.findtext(".//p[@class='yard']"),
        "lang": language,
        "region": region or None,
        "paper": paper,
        "body": [_read(each) for each in root.iterfind("body/*") if not _is_on_screens(each)],
    }


def strings_of(page: bytes) -> Iterator[str]:
    """Every text that goes into the PDF of a page."""
    told = _told(page, "")
    yield told["title"]
    yield told["author"]

    def within(node: Node | str) -> Iterator[str]:
        if isinstance(node, str):
            yield node
            return
        yield from (node[key] for key in ("alt", "href") if key in node)
        for each in node["holds"]:
            yield from within(each)

    for node in told["body"]:
        yield from within(node)


def _read(element: etree._Element) -> Node:
    """An element with what it holds: texts, each as a browser shows it, and elements."""
    classes = element.get("class", "").split()
    node: Node = {"tag": str(element.tag), "classes": classes}
    if element.tag == "a":
        node["href"] = element.get("href", "")
    if element.tag == "img":
        _, _, picture = element.get("src", "").partition(";base64,")
        node |= {"src": [*b64decode(picture)], "alt": element.get("alt", "")}
    if span := element.get("colspan"):
        node["span"] = int(span)
    holds: list[Node | str] = []
    text = element.text or ""
    for each in element:
        if not _is_on_screens(each):
            holds += [text, _read(each)]
            text = ""
        text += each.tail or ""
    holds.append(text)
    return node | {"holds": _as_shown(holds, not _AS_TYPED.isdisjoint(classes))}


def _is_on_screens(element: etree._Element) -> bool:
    return not _ON_SCREENS.isdisjoint(element.get("class", "").split())


def _as_shown(holds: list[Node | str], as_typed: bool) -> list[Node | str]:
    """Texts without the blanks that only lay out the file: at an end, and beside a block.

    Args:
        holds: texts and elements in turn, a text first and last
        as_typed: whether lines end where they do in the file
    """
    if as_typed:
        return [each.strip() if isinstance(each, str) else each for each in holds if each]
    shown: list[Node | str] = []
    for place, each in enumerate(holds):
        if not isinstance(each, str):
            shown.append(each)
            continue
        text = _BLANKS.sub(" ", each)
        if place == 0 or _ends_line(holds[place - 1]):
            text = text.lstrip(" ")
        if place == len(holds) - 1 or _ends_line(holds[place + 1]):
            text = text.rstrip(" ")
        if text:
            shown.append(text)
    return shown


def _ends_line(node: Node | str) -> bool:
    if isinstance(node, str):
        return False
    own = node["tag"] == "br" or not _OWN_LINES.isdisjoint(node["classes"])
    return own or node["tag"] not in _INLINE
