"""What the guide says of each kind of problem, by the code that its messages end with."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

WRITTEN = Path(__file__).with_name("problems.md")
_SECTION = re.compile(r"^## ([a-z-]+)\n.*?(?=^## |\Z)", re.MULTILINE | re.DOTALL)


def problems_topic() -> str:
    """All of them, as the page that it is."""
    return WRITTEN.read_text(encoding="utf-8")


@cache
def sections() -> dict[str, str]:
    """Code -> its Markdown: heading, a paragraph and an example that is right."""
    return {found[1]: f"{found[0].rstrip()}\n" for found in _SECTION.finditer(problems_topic())}
