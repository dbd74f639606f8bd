"""Catalogues that many tests look at, read and priced once."""

from __future__ import annotations

import signal

import pytest

from quoter.pricing.price import Pricing
from tests.catalogues.written import FOLDER, priced
from tests.demo import demo

# A shell starts what runs in its background deaf to Ctrl-C, and so is all that this starts in turn;
# some of it is sent Ctrl-C.
signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(scope="session")
def small_pricing() -> Pricing:
    """Two models and five options, one price below the floor."""
    return priced(FOLDER / "small")


@pytest.fixture(scope="session")
def demo_pricing() -> Pricing:
    """The demonstration yard."""
    return demo()
