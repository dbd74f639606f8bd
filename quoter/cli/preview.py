"""The command that shows the price sheet while its catalogue is edited."""

from __future__ import annotations

import webbrowser
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from threading import Event

import click

from quoter.cli.terminal import (
    Folder,
    as_of_option,
    counted,
    day,
    example_command,
    refusing,
    set_option,
    tell,
)
from quoter.preview.reading import Latest, PreviewOf, Reading, Trouble
from quoter.preview.server import PortError, serving

PORT = 8765  # the same each time, so that an open page finds the next run


class Terminal:
    """Tells a person what each reading found, in a line, and every problem."""

    address = ""

    def was_read(self, reading: Reading, seconds: float) -> None:
        """The catalogue was read."""
        if isinstance(reading.found, Trouble):
            self.page_failed(reading.found)
            said = counted(len(reading.found.problems), "problem")
        elif reading.warnings:
            said = f"{counted(len(reading.warnings), 'warning')}, {self.address}-/warnings"
        else:
            said = "no problems"
        day = f"{reading.day}: " if reading.day else ""
        click.echo(f"{day}{said} ({seconds:.1f} s)")

    def page_failed(self, trouble: Trouble) -> None:
        """Something is wrong with the catalogue, or with a page of it."""
        tell(None, trouble.problems)
        if trouble.trace:
            click.echo(trouble.trace, err=True)


@example_command(
    "preview",
    "preview demo_catalog",
    "preview demo_catalog --open --port 0",
)
@click.argument("catalogue", type=Folder)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="Where the browser finds it; 0 for any free port.",
)
@click.option("--open", "open_", is_flag=True, help="Open the browser.")
@set_option
@as_of_option
def preview_command(
    catalogue: Path, port: int, open_: bool, settings: tuple[str, ...], as_of: datetime | None
) -> None:
    """Show the price sheet in a browser of this machine, as it follows the files.

    A saved change shows by itself; what is wrong shows in place of the pages, with file and line.
    Nothing is written. Ctrl-C ends it.
    """
    terminal = Terminal()
    latest = Latest(PreviewOf(catalogue, day(as_of), settings), terminal)
    another = "; name another with --port, or 0 for any free one"
    with (
        refusing(PortError, then=another),
        serving(latest, port) as server,
        suppress(KeyboardInterrupt),
    ):
        terminal.address = server.address
        click.echo(f"{server.address} shows {catalogue}; Ctrl-C ends it")
        if open_:
            webbrowser.open(server.address)
        latest.keep(Event())
