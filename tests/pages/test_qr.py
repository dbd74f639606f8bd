"""The symbol that the browser draws of an address is that of ISO/IEC 18004, module for module."""

from __future__ import annotations

import random
import string
from typing import Any

import pytest
import segno
from playwright.sync_api import Browser
from segno import encoder

from quoter.pages.environment import asset
from tests.pages.test_browser import browser

pytestmark = pytest.mark.slow

__all__ = ["browser"]  # a fixture
LETTERS = string.ascii_letters + string.digits + "_,*%/:#=&.-"
# How many bytes each version holds at level M: table 7 of ISO/IEC 18004, by heart.
MOST = [14, 26, 42, 62, 84, 106, 122, 152, 180, 213, 251, 287, 331, 362, 412, 450, 504, 560, 624]
MOST += [666, 711, 779, 857, 911, 997, 1059, 1125, 1190, 1264, 1370, 1452, 1538, 1628, 1722, 1809]
MOST += [1911, 1989, 2099, 2213, 2331]
TRIED = range(0, 40, 7)


def drawn(browser: Browser, texts: list[str]) -> list[list[str] | None]:
    """Each symbol's rows of 0 and 1, as the browser makes them."""
    with browser.new_context() as context:
        tab = context.new_page()
        tab.add_script_tag(content=asset("public/qr.js").decode())
        rows = "texts => texts.map(t => { const m = qr(t); return m && m.map(r => r.join('')); })"
        found: list[list[str] | None] = tab.evaluate(rows, texts)
        return found


def reference(text: str) -> list[str]:
    """The same by segno, an implementation by other hands."""
    made = segno.make(
        text, error="m", mode="byte", encoding="utf-8", boost_error=False, micro=False
    )
    return ["".join("01"[bool(module)] for module in row) for row in made.matrix]


def whole_bytes(buffer: Any, version: int, length: int) -> None:
    """Padding to the next whole byte, and none where a byte is whole (7.4.10 of the standard)."""
    buffer.extend([0] * (-length % 8))


@pytest.fixture
def padded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Segno 1.6.6 adds eight bits where none are missing; readers skip them as they do padding."""
    monkeypatch.setattr(encoder, "write_padding_bits", whole_bytes)


@pytest.mark.usefixtures("padded")
def test_every_version_is_drawn_as_another_implementation_draws_it(browser: Browser) -> None:
    dice = random.Random("symbols")
    lengths = [most - dice.randrange(1, 9) for most in MOST]
    texts = ["".join(dice.choices(LETTERS, k=length)) for length in lengths]
    for version, (text, rows) in enumerate(zip(texts, drawn(browser, texts), strict=True), 1):
        assert rows is not None
        assert len(rows) == 17 + 4 * version
        assert rows == reference(text), version


def test_a_full_symbol_is_the_same_without_any_padding(browser: Browser) -> None:
    texts = ["x" * MOST[at] for at in TRIED]
    for at, text, rows in zip(TRIED, texts, drawn(browser, texts), strict=True):
        assert rows is not None
        assert len(rows) == 21 + 4 * at
        assert rows == reference(text)


def test_one_byte_more_takes_the_next_version_until_there_is_none(browser: Browser) -> None:
    longer = drawn(browser, ["x" * (MOST[at] + 1) for at in (*TRIED, -1)])
    sizes = [None if rows is None else len(rows) for rows in longer]
    assert sizes == [*(25 + 4 * at for at in TRIED), None]


@pytest.mark.usefixtures("padded")
def test_letters_beyond_ascii_are_bytes_of_utf_8(browser: Browser) -> None:
    texts = ["blå skrog", "coque bleue à bâbord", "½ × 帆船"]
    assert drawn(browser, texts) == [reference(text) for text in texts]
