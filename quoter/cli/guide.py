"""Commands that explain: help, ranges, guide, completion."""

from __future__ import annotations

import shutil
import sys
import webbrowser
from pathlib import Path
from tempfile import mkdtemp

import click
from click.shell_completion import get_completion_class

from quoter.cli.terminal import OutFolder, example_command, progress, refusing, writing
from quoter.publish.manifest import FolderError
from quoter.publish.outputs import held

# Where a shell looks for the completions of one person, and what else it needs to be told.
SHELLS = {
    "bash": (".local/share/bash-completion/completions/quoter", ""),
    "zsh": (
        ".local/share/zsh/site-functions/_quoter",
        "have ~/.zshrc say 'fpath+=~/.local/share/zsh/site-functions' before its compinit",
    ),
    "fish": (".config/fish/completions/quoter.fish", ""),
}


def _commands(context: click.Context) -> dict[str, click.Command]:
    """Every command by its name."""
    group = context.find_root().command
    assert isinstance(group, click.Group)
    found = {name: group.get_command(context, name) for name in group.list_commands(context)}
    return {name: command for name, command in found.items() if command is not None}


@example_command("help", "help month", "help areal_mass")
@click.argument("word", required=False, metavar="[TOPIC|COMMAND|KEY|FORMULA|CODE]")
@click.pass_context
def help_command(context: click.Context, word: str | None) -> None:
    """Read a page of the guide, or what is told of a command, a key, a formula or a problem.

    Without a word, list the pages. A problem's code stands in brackets at the end of its first
    line.
    """
    from quoter.guide.topics import UnknownTopicError, contents, told_of

    commands = _commands(context)
    try:
        text = contents(commands) if word is None else told_of(word, commands)
    except UnknownTopicError as fault:
        raise click.UsageError(str(fault)) from fault
    _show(context, text)


def _show(context: click.Context, text: str) -> None:
    """Markdown in a pager on a terminal, else as it is read there."""
    from quoter.guide.terminal import in_terminal

    terminal = sys.stdout.isatty()
    colour = terminal and context.color is not False
    told = in_terminal(text, shutil.get_terminal_size().columns, colour=colour)
    if terminal:
        click.echo_via_pager(told)
    else:
        click.echo(told, nl=False)


@example_command("ranges", "ranges", "ranges wet_thickness")
@click.argument("word", required=False, metavar="[KEY|BLOCK|FILE]")
@click.pass_context
def ranges_command(context: click.Context, word: str | None) -> None:
    """Show the usual range of every measure of a catalogue, with where the range is from.

    A check warns of what lies outside. With the name of a key, a block or a file, only its ranges
    are shown.
    """
    from quoter.guide.ranges import ranges_told, ranges_topic

    try:
        text = ranges_topic() if word is None else ranges_told(word)
    except ValueError as fault:
        raise click.UsageError(str(fault)) from fault
    _show(context, text)


@example_command("guide", "guide guide_pages", "guide --open")
@click.argument("folder", type=OutFolder, required=False, metavar="[DIR]")
@click.option("--open", "open_", is_flag=True, help="Open it in a browser; without DIR, too.")
@click.option("--wait", is_flag=True, help="Wait for another build into the same folder.")
@click.pass_context
def guide_command(context: click.Context, folder: Path | None, open_: bool, wait: bool) -> None:
    """Build the guide as pages that need no server, or open it in a browser.

    The folder is one that builds keep: what stands there of others is left alone, or refused.
    """
    from quoter.guide.pages import guide_files

    if folder is None and not open_:
        raise click.UsageError("name a folder for the pages, or read them at once with --open")
    place = folder or Path(mkdtemp(prefix="quoter-guide-"))
    say = progress()
    with refusing(FolderError), held([place], wait=wait, say=say) as outputs:
        say("writing the guide")
        made = guide_files(_commands(context))
        outputs.publish({place: made})
    first = place / "index.html"
    click.echo(f"{place}: {len(made)} files, open {first}")
    if open_:
        webbrowser.open(first.resolve().as_uri())


@example_command("completion", "completion bash", "completion fish --install")
@click.argument("shell", type=click.Choice([*SHELLS]))
@click.option("--install", is_flag=True, help="Put it where the shell looks for it.")
def completion_command(shell: str, install: bool) -> None:
    """Print what completes commands, options and files in a shell, or install it there."""
    from quoter.cli import main

    kind = get_completion_class(shell)
    assert kind is not None
    text = kind(main, {}, "quoter", "_QUOTER_COMPLETE").source()
    if not install:
        click.echo(text, nl=False)
        return
    below, besides = SHELLS[shell]
    file = Path.home() / below
    with writing(file):
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    click.echo(f"{file}: open a new shell{f'; {besides}' if besides else ''}")
