"""Every command by its name, as the guide is told of them."""

from __future__ import annotations

import click

from quoter.cli import COMMANDS, main


def command_named(name: str) -> click.Command:
    found = main.get_command(click.Context(main), name)
    assert found is not None
    assert found.name == name
    return found


def every_command() -> dict[str, click.Command]:
    return {name: command_named(name) for name in COMMANDS}
