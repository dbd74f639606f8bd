"""The commands: parse words, call one function each, print.

Files are named by what a person types; `terminal` is the one place that prints problems.

Exit codes: 0 fine, 1 problems in the input, 2 wrong usage.
"""

from __future__ import annotations

import gc
import importlib
import os

import click
from click.shell_completion import CompletionItem

from quoter import __version__
from quoter.problems import nearest

# What each command is for, and the module that holds it; nothing of it is loaded before it is run,
# so that help and completion answer at once.
COMMANDS = {
    "build": ("build", "Build workbooks, review and price sheet."),
    "check": ("build", "List every problem of a catalogue."),
    "ranges": ("guide", "Show which values are usual, and why."),
    "sheet": ("sheet", "Write a dealer's copy of the price sheet."),
    "preview": ("preview", "Show the price sheet in a browser as you edit."),
    "why": ("why", "Explain a figure, or what moved a cost."),
    "compare": ("why", "Tell what moved costs between two days or catalogues."),
    "import-prices": ("prices", "Take in a supplier's price list."),
    "import-rates": ("prices", "Take in published exchange rates."),
    "import-actuals": ("booked", "Take in what clock, store or ledger hand out."),
    "rise": ("prices", "Note an announced or confirmed rise."),
    "reprice": ("prices", "Propose list prices, and publish those accepted."),
    "propose": ("standards", "Propose standards that the data support."),
    "accept": ("standards", "Take proposed standards into the catalogue."),
    "surcharge": ("surcharge", "Apply a surcharge clause to a quoted price."),
    "quote": ("quotes", "Turn a request into a numbered quote."),
    "requote": ("quotes", "Price a quote's request on another day."),
    "quotes": ("quotes", "List quotes with state, value and margin."),
    "reprint": ("quotes", "Print a quote's customer files again."),
    "outcome": ("waiting", "Write down what became of a quote."),
    "waiting": ("waiting", "Tell what open quotes wait for."),
    "confirm": ("orders", "Confirm the order of a won quote."),
    "actuals": ("actuals", "Show what jobs really took against standard."),
    "papers": ("papers", "Write all papers for one boat on the floor."),
    "translations": ("translations", "Ask for what is not translated yet."),
    "schema": ("build", "Write JSON Schemas for editors."),
    "demo": ("build", "Copy the demonstration catalogue."),
    "help": ("guide", "Read the guide, or what a word of it means."),
    "guide": ("guide", "Build the guide as pages, or open it."),
    "completion": ("guide", "Complete commands in a shell."),
}
# A costing is many small objects that live until the end; looking through them for garbage as
# often as Python does took an eighth of a build.
COLLECTED = (50_000, 20, 50)


class Commands(click.Group):
    """The commands by name, each loaded when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every command, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command by its name, if there is one."""
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(f"quoter.cli.{COMMANDS[cmd_name][0]}")
        command: click.Command = getattr(module, f"{cmd_name.replace('-', '_')}_command")
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names.

        Raises:
            click.UsageError: there is none, naming the one that is likely meant.
        """
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            ctx.fail(f"there is no command '{args[0]}'; {nearest(args[0], COMMANDS)}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands in the help, without loading any."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in COMMANDS.items()])

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """Names of commands that begin so."""
        found = [
            CompletionItem(name, help=words)
            for name, (_, words) in COMMANDS.items()
            if name.startswith(incomplete)
        ]
        return [*found, *click.Command.shell_complete(self, ctx, incomplete)]


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="quoter")
@click.pass_context
def main(context: click.Context) -> None:
    """Cost a boat builder's options and publish their prices from a folder of text files."""
    gc.set_threshold(*COLLECTED)
    if os.environ.get("NO_COLOR"):
        context.color = False
