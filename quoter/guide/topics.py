"""All that the guide tells, by name: written topics, then the reference made from the program."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path

import click

from quoter.guide.commands import command_text, commands_topic
from quoter.guide.data import data_topic
from quoter.guide.formulas import formula_names, formula_text, formulas_topic
from quoter.guide.keys import key_told, keys_index, keys_topics
from quoter.guide.markdown import summary_of, title_of
from quoter.guide.ranges import TOPIC as RANGES
from quoter.guide.ranges import ranges_topic
from quoter.problems import nearest

HERE = Path(__file__).parent
PROBLEMS = HERE / "problems.md"
_SECTION = re.compile(r"^## ([a-z-]+)\n.*?(?=^## |\Z)", re.MULTILINE | re.DOTALL)
# In the order in which somebody new reads them.
WRITTEN = (
    "first-hour",
    "pricing",
    "processes",
    "spraying",
    "month",
    "actuals",
    "booking-data",
    "quoting",
    "own-lines",
    "waiting",
    "quote-data",
    "approvals",
    "price-sheet",
    "drawings",
    "dealers",
    "papers",
    "job",
    "workbook",
    "certainty",
    "standards",
    "questions",
    "cautions",
    "conventions",
    "units",
    "catalogue",
    "reading",
    "capacity",
    "building",
)

Commands = Mapping[str, click.Command]


class UnknownTopicError(ValueError):
    """Raised where somebody asks for what the guide does not tell; says what is near."""


@dataclass(frozen=True, slots=True)
class Topic:
    """A page of the guide: its name, and its text as Markdown."""

    name: str
    text: str

    @property
    def title(self) -> str:
        """The words of its first heading."""
        return title_of(self.text)

    @property
    def summary(self) -> str:
        """What it is for, in a sentence or two."""
        return summary_of(self.text)


@cache
def written_topics() -> list[Topic]:
    """The topics that somebody wrote."""
    return [Topic(name, (HERE / f"{name}.md").read_text(encoding="utf-8")) for name in WRITTEN]


@cache
def sections() -> dict[str, str]:
    """Code of a problem -> its Markdown: heading, a paragraph and an example that is right."""
    text = PROBLEMS.read_text(encoding="utf-8")
    return {found[1]: f"{found[0].rstrip()}\n" for found in _SECTION.finditer(text)}


def reference_topics(commands: Commands) -> list[Topic]:
    """The topics that are made from the program.

    Args:
        commands: those that there are, by name
    """
    return [Topic(name, make()) for name, make in _makers(commands).items()]


def _makers(commands: Commands) -> dict[str, Callable[[], str]]:
    """Each topic of the reference, and what makes its text when somebody asks for it."""
    return {
        "commands": lambda: commands_topic(commands),
        **{name: partial(str, text) for name, text in keys_topics().items()},
        RANGES: ranges_topic,
        "formulas": formulas_topic,
        "data": data_topic,
        "problems": partial(PROBLEMS.read_text, encoding="utf-8"),
    }


def contents(commands: Commands) -> str:
    """Every topic with what it is for, as Markdown."""
    lines = ["# Guide", "`quoter help TOPIC` shows a page; `quoter guide --open` all of them."]
    for title, topics in groups_of(commands):
        lines += [f"## {title}", "\n".join(f"- **{t.name}**: {t.title}" for t in topics)]
    return "\n\n".join(lines)


def groups_of(commands: Commands) -> list[tuple[str, list[Topic]]]:
    """The topics under what they have in common, in the order in which they are read."""
    return [("The work", written_topics()), ("Reference", reference_topics(commands))]


def told_of(word: str, commands: Commands) -> str:
    """What the guide tells of a topic, a command, a key, a formula or the code of a problem.

    Returns:
        Markdown; of all that have the name, one below the other
    Raises:
        UnknownTopicError: nothing has that name.
    """
    topics = {each.name: partial(str, each.text) for each in written_topics()} | _makers(commands)
    if word in topics:
        return topics[word]()
    told = []
    if word in commands:
        told.append(command_text(word, commands[word]))
    if word in sections():
        told.append(sections()[word])
    if word in formula_names():
        told.append(formula_text(word))
    if word in keys_index():
        told.append(key_told(word))
    if not told:
        known = {*topics, *commands, *sections(), *formula_names(), *keys_index()}
        raise UnknownTopicError(f"the guide tells nothing of '{word}'; {nearest(word, known)}")
    return "\n\n".join(told)
