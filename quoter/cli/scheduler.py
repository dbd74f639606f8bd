"""A build done by the workers of a dask scheduler, on other machines or this one.

The package `distributed` is needed for it alone, and not installed with the program.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from quoter.cli.terminal import refuse

if TYPE_CHECKING:
    from quoter.workers import Doing, Source

RETRIES = 3  # times that a task begins anew whose worker was lost


@contextmanager
def at_scheduler(address: str, source: Source) -> Iterator[Doing]:
    """Who does the tasks of a build: the workers of the scheduler at an address.

    What a lost worker was doing is begun anew by another one, by the scheduler itself.
    """
    try:
        from distributed import Client
        from distributed.scheduler import KilledWorker
    except ImportError as fault:
        raise click.UsageError(
            "--scheduler needs the package 'distributed': install 'quoter[distributed]' here and "
            "where the workers are"
        ) from fault
    from quoter.workers import done_by

    try:
        client = Client(address)
    except (OSError, ValueError) as fault:
        refuse(f"no scheduler answers at {address}: {fault}")
    with client:
        try:
            yield done_by(client.get_executor(retries=RETRIES), source)
        except KilledWorker as fault:
            refuse(f"workers were lost again and again over one task: {fault}")
