"""A page carried out: its commands run, its blocks added and its changes made, in their order.

A page says what to write in three ways, which are looked for here:

- a line ``$ quoter ...`` is a command; lines below it in the same block are of its output,
- "Under `moulds:` of `moulds.yaml`" before a yaml block adds the block at the head of that list,
- "In `yard.yaml` change `this` to `that`" changes the one place where `this` stands.

Files are those of the catalogue that the page copied last, by ``quoter demo FOLDER``.
"""

from __future__ import annotations

import re
import shlex
import shutil
import textwrap
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

from quoter.cli import main

ROOT = Path(__file__).parents[2]
_EVENT = re.compile(
    r"^(?P<indent> *)\$ quoter (?P<line>[^\n]+)$(?P<shown>(?:\n(?P=indent)(?![$`\s])[^\n]+)*)"
    r"|Under\s`(?P<list>\w+):`\sof\s`(?P<file>[\w.]+)`.*?```yaml\n(?P<block>.*?)```"
    r"|In\s`(?P<changed>[\w.]+)`\schange\s`(?P<old>[^`]+)`\sto\s`(?P<new>[^`]+)`",
    re.MULTILINE | re.DOTALL,
)
GAP = "..."  # stands in a shown line for what is left out


@dataclass
class CarriedOut:
    """How often a page had something done, and what it showed of the output that was not so."""

    commands: int = 0
    blocks: int = 0
    changes: int = 0
    untrue: tuple[str, ...] = ()


def carry_out(page: str, folder: Path) -> CarriedOut:
    """Do what a page shows, in a folder that becomes the working one and gets the demonstration.

    Raises:
        AssertionError: a command ends with anything but 0, or a place to write at is not there.
    """
    shutil.copytree(ROOT / "demo_catalog", folder / "demo_catalog")
    done, catalogue = CarriedOut(), folder / "demo_catalog"
    for event in _EVENT.finditer(page):
        if event["line"]:
            output = run(event["line"])
            done.commands += 1
            done.untrue += tuple(_missing(event["shown"], output))
            if event["line"].startswith("demo "):
                catalogue = folder / event["line"].removeprefix("demo ")
        elif event["list"]:
            _add_under(catalogue / event["file"], event["list"], event["block"])
            done.blocks += 1
        else:
            _change(catalogue / event["changed"], event["old"], event["new"])
            done.changes += 1
    return done


def run(line: str) -> str:
    """What a command prints; it ends well."""
    result = CliRunner().invoke(main, shlex.split(line))
    assert result.exit_code == 0, f"quoter {line}\n{result.output}"
    assert result.output.strip(), f"quoter {line} prints nothing"
    return result.output


def _missing(shown: str, output: str) -> list[str]:
    """Lines shown that are not in the output, spacing aside, around what a line leaves out."""
    lines = [" ".join(line.split()) for line in output.splitlines()]
    wanted = [" ".join(line.split()) for line in shown.splitlines() if line.strip()]
    return [line for line in wanted if not any(_holds(found, line) for found in lines)]


def _holds(found: str, shown: str) -> bool:
    pattern = ".*".join(re.escape(piece) for piece in shown.split(GAP))
    return re.fullmatch(pattern, found) is not None


def _add_under(file: Path, key: str, block: str) -> None:
    text = file.read_text("utf-8")
    assert len(re.findall(rf"^{key}:$", text, re.MULTILINE)) == 1
    indented = textwrap.indent(textwrap.dedent(block), "  ")
    text = re.sub(rf"^{key}:\n", lambda _: f"{key}:\n{indented}", text, flags=re.MULTILINE)
    file.write_text(text, "utf-8")


def _change(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert text.count(old) == 1, f"{file.name} has {old!r} {text.count(old)} times"
    file.write_text(text.replace(old, new), "utf-8")
