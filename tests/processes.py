"""Processes that tests start by the hundred: forked from one that has read what they need."""

from __future__ import annotations

import multiprocessing

# A server without threads forks them: quick, and nothing of the tests' own state is in them. There
# is one for all tests of a process, so all that is forked from it is named here.
CONTEXT = multiprocessing.get_context("forkserver")
CONTEXT.set_forkserver_preload(
    [
        "quoter.cli",
        "tests.quotes.processes",
        "tests.trials.publishing",
        "tests.trials.building",
    ]
)
