"""A page as a test sees it: its elements, and the faults a browser would silently mend."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "wbr"}
SHAPES = {"path", "rect", "circle", "use"}
PARTED = {"dt", "dd", "li", "th", "td", "p", "div", "h1", "h2", "h3", "h4", "caption", "tr"}


@dataclass(slots=True)
class Element:
    """A tag with its attributes, the text under it, and the elements it stands in."""

    tag: str
    attributes: dict[str, str]
    within: tuple[Element, ...]
    line: int
    pieces: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Its text with single spaces."""
        return " ".join("".join(self.pieces).split())


class Page(HTMLParser):
    """A parsed page; `faults` lists what is not properly nested or closed."""

    def __init__(self, source: bytes) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[Element] = []
        self.faults: list[str] = []
        self._open: list[Element] = []
        self.feed(source.decode("utf-8"))
        self.close()
        self.faults += [f"<{element.tag}> is never closed" for element in self._open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        if len(names) != len(set(names)):
            self.faults.append(f"line {self.getpos()[0]}: <{tag}> repeats an attribute")
        attributes = {name: value or "" for name, value in attrs}
        element = Element(tag, attributes, tuple(self._open), self.getpos()[0])
        self.elements.append(element)
        if tag not in VOID:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in SHAPES:
            self.faults.append(f"line {self.getpos()[0]}: <{tag}/> closes itself")
        self.handle_starttag(tag, attrs)
        self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open[-1].tag != tag:
            self.faults.append(f"line {self.getpos()[0]}: </{tag}> closes nothing that is open")
            return
        self._open.pop()
        if tag in PARTED:
            self.handle_data(" ")

    def handle_data(self, data: str) -> None:
        for element in self._open:
            element.pieces.append(data)

    def all(self, tag: str, **attributes: str) -> Iterator[Element]:
        """The elements of a tag with these attributes; `class_` means a word of class."""
        for element in self.elements:
            if element.tag == tag and all(
                word in element.attributes.get("class", "").split()
                if name == "class_"
                else element.attributes.get(name) == word
                for name, word in attributes.items()
            ):
                yield element

    def one(self, tag: str, **attributes: str) -> Element:
        """The only such element."""
        (found,) = self.all(tag, **attributes)
        return found

    @property
    def ids(self) -> list[str]:
        """Every id, as often as it stands there."""
        return [e.attributes["id"] for e in self.elements if "id" in e.attributes]
