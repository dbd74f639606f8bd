"""The templates of a test's own."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from quoter.pages import environment
from quoter.preview import reading
from quoter.resources import templates_folder


@pytest.fixture
def templates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the templates that pages are made from, to be broken."""
    folder = tmp_path / "templates"
    shutil.copytree(templates_folder(), folder)
    for module in (environment, reading):
        monkeypatch.setattr(module, "templates_folder", lambda: folder)
    environment._templates.cache_clear()
    yield folder
    environment._templates.cache_clear()
