"""The pages of both catalogues, as bytes and as files."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

from quoter.actuals.account import account_of
from quoter.analysis.findings import Findings
from quoter.pages.actuals.site import actuals_files
from quoter.pages.public.site import public_pages
from quoter.pricing.earlier import earlier_lists
from quoter.pricing.price import Pricing
from quoter.pricing.priced import at_last_list
from quoter.problems import Place, Problem
from tests.demo import DEMO
from tests.outputs import paper_pages, whole_review

WARNING = Problem(
    Place("prices/2026-02-01.csv", 5, 1), "stale", "is <old>", "list it again", warning=True
)


@pytest.fixture(scope="session")
def site(small_pricing: Pricing) -> dict[str, bytes]:
    return public_pages(small_pricing)


@pytest.fixture(scope="session")
def review(small_pricing: Pricing) -> dict[str, bytes]:
    return whole_review(Findings(small_pricing), [WARNING])


@pytest.fixture(scope="session")
def demo_site(demo_pricing: Pricing) -> dict[str, bytes]:
    return public_pages(demo_pricing, earlier_lists(DEMO, demo_pricing))


@pytest.fixture(scope="session")
def demo_folder(
    demo_site: dict[str, bytes], demo_pricing: Pricing, tmp_path_factory: pytest.TempPathFactory
) -> Path:
    """site/, and review/, papers/ and actuals/ below internal/, of the demonstration as files."""
    folder = tmp_path_factory.mktemp("pages")
    pages = {f"site/{path}": content for path, content in demo_site.items()}
    review = whole_review(
        Findings(demo_pricing, partial(at_last_list, DEMO, demo_pricing)), [WARNING]
    )
    pages |= {f"internal/review/{path}": content for path, content in review.items()}
    papers = paper_pages(demo_pricing)
    pages |= {f"internal/papers/{path}": content for path, content in papers.items()}
    account, _ = account_of(DEMO, demo_pricing)
    assert account is not None
    pages |= {f"internal/actuals/{path}": page for path, page in actuals_files(account).items()}
    for path, content in pages.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder
