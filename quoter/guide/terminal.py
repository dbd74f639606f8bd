"""The guide in a terminal: Markdown as text, as wide as people read."""

from __future__ import annotations

import io
import re
from typing import ClassVar

from rich.console import Console, ConsoleOptions, RenderResult
from rich.markdown import Heading, Markdown
from rich.text import Text

WIDEST = 96
_LINK = re.compile(r"\[([^\]]+)\]\(([\w-]+)\.md(?:#[\w-]+)?\)")  # to another page
_WITHIN = re.compile(r"\[([^\]]+)\]\(#[^)]+\)")  # to another place of the same one


class _Heading(Heading):
    """A heading at the left, without a frame."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        self.text.justify = "left"
        if self.tag != "h1":
            yield Text("")
        yield self.text


class _Page(Markdown):
    elements: ClassVar = {**Markdown.elements, "heading_open": _Heading}


def in_terminal(text: str, width: int, *, colour: bool) -> str:
    """Markdown as it is shown in a terminal.

    Args:
        text: the Markdown
        width: of the terminal, in letters
        colour: whether it may have colours and weights
    """
    console = Console(
        file=io.StringIO(),
        width=min(width, WIDEST),
        force_terminal=colour,
        color_system="standard" if colour else None,
        no_color=not colour,
    )
    told = _WITHIN.sub(r"\1", _LINK.sub(r"\1 (`quoter help \2`)", text))
    console.print(_Page(told, hyperlinks=False, code_theme="bw"))
    assert isinstance(console.file, io.StringIO)
    lines = (line.rstrip() for line in console.file.getvalue().splitlines())
    return "\n".join(lines) + "\n"
