"""The lines of a page of what changed, as a test sees them."""

from __future__ import annotations

from dataclasses import dataclass

from tests.pages.parsed import Page


@dataclass(frozen=True)
class Told:
    """A line of the page: under which heading, what it is of, on which models, its cells."""

    heading: str
    name: str
    models: tuple[str, ...]
    cells: tuple[str, ...]


def lines(page: Page) -> list[Told]:
    """The lines of the prices that moved; headings of their groups come before them."""
    found: list[Told] = []
    heading = ""
    for row in page.all("tr"):
        table = next(each for each in row.within if each.tag == "table")
        inside = [e for e in page.elements if row in e.within]
        (first, *cells) = [e for e in inside if e.tag in ("th", "td")]
        if table != list(page.all("table"))[-1] or first.attributes.get("scope") == "col":
            continue
        if first.attributes.get("scope") == "rowgroup":
            heading = first.text
            continue
        models = tuple(e.text for e in inside if e.tag == "li")
        name = first.text.removesuffix(" ".join(models)).strip()
        found.append(Told(heading, name, models, tuple(cell.text for cell in cells)))
    return found
