"""A folder that was published into before."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.publish.folders import put


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A folder published before, beside nothing else."""
    put({tmp_path / "site": {"index.html": "old", "models/a.html": "old a"}})
    return tmp_path / "site"
