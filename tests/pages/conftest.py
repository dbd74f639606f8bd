"""The pages of both catalogues, as bytes and as files."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.pages.internal import review_pages
from quoter.pages.public import public_pages
from quoter.pricing.price import Pricing
from quoter.problems import Place, Problem

WARNING = Problem(Place("prices/2026-02-01.csv", 5, 1), "is <old>", "list it again", warning=True)


@pytest.fixture(scope="session")
def site(small_pricing: Pricing) -> dict[str, bytes]:
    return public_pages(small_pricing)


@pytest.fixture(scope="session")
def review(small_pricing: Pricing) -> dict[str, bytes]:
    return review_pages(small_pricing, [WARNING])


@pytest.fixture(scope="session")
def demo_site(demo_pricing: Pricing) -> dict[str, bytes]:
    return public_pages(demo_pricing)


@pytest.fixture(scope="session")
def demo_folder(
    demo_site: dict[str, bytes], demo_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """site/ and internal/review/ of the demonstration yard as files."""
    folder = tmp_path_factory.mktemp("pages")
    pages = {f"site/{path}": content for path, content in demo_site.items()}
    for path, content in review_pages(demo_pricing, [WARNING]).items():
        pages[f"internal/review/{path}"] = content
    for path, content in pages.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder
