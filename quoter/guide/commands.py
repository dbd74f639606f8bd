"""The reference of commands: what each says of itself when asked for help."""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping

import click

from quoter.guide.markdown import cell, table


def commands_topic(commands: Mapping[str, click.Command]) -> str:
    """Every command with its arguments, options and examples, as Markdown.

    Args:
        commands: by name, in the order in which they are told of
    """
    parts = [
        "# Commands",
        "Every command with its options and examples. `quoter COMMAND --help` says the same in a "
        "terminal. Exit codes: 0 fine, 1 problems in the input, 2 wrong usage. `NO_COLOR` is "
        "honoured; in a pipe there is no progress.",
    ]
    for name, command in commands.items():
        parts += _told(name, command)
    return "\n\n".join(parts) + "\n"


def _told(name: str, command: click.Command) -> Iterator[str]:
    context = click.Context(command, info_name=f"quoter {name}")
    yield f"## {name}"
    yield f"```text\n{context.get_usage().removeprefix('Usage: ')}\n```"
    yield inspect.cleandoc(command.help or "")
    rows = [
        [", ".join(f"`{words}`" for words in _names(option)), cell(_help(option, context))]
        for option in command.params
        if isinstance(option, click.Option) and not option.hidden
    ]
    if rows:
        yield table(["option", "what it does"], rows)
    if examples := getattr(command, "examples", ()):
        lines = "\n".join(f"$ quoter {words}" for words in examples)
        yield f"```console\n{lines}\n```"


def _names(option: click.Option) -> list[str]:
    value = "" if option.is_flag else f" {option.make_metavar(click.Context(click.Command('')))}"
    return [f"{name}{value}" for name in option.opts]


def _help(option: click.Option, context: click.Context) -> str:
    """What help says of an option, what is taken unless it is given included."""
    _, words = option.get_help_record(context) or ("", "")
    return words


def command_text(name: str, command: click.Command) -> str:
    """One command as Markdown."""
    return "\n\n".join(_told(name, command)) + "\n"
