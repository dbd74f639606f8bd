"""The synthetic book as a file, and what LibreOffice makes of it, each once a session."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.workbook import Book, write_book
from tests.workbook.margin import Built, build_review
from tests.workbook.recalculate import recalculate
from tests.workbook.synthetic import synthetic_book


@pytest.fixture(scope="session")
def book() -> Book:
    return synthetic_book()


@pytest.fixture(scope="session")
def built(book: Book, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("workbook") / "built.xlsx"
    path.write_bytes(write_book(book))
    return path


@pytest.fixture(scope="session")
def recalculated(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return recalculate([built], tmp_path_factory.mktemp("recalculated"))[0]


@pytest.fixture(scope="session")
def margin_review(tmp_path_factory: pytest.TempPathFactory) -> Built:
    return build_review(tmp_path_factory.mktemp("margin_review"))
