"""What the commands share: kinds of arguments, a catalogue priced or its problems told."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click
from pydantic_core import PydanticCustomError

from quoter.catalogue.day import day_words
from quoter.catalogue.fields import MEANT_DAYS, is_meant, one_line
from quoter.catalogue.settings import UNITS
from quoter.catalogue.source import Text
from quoter.figures.readers import CHOICES
from quoter.problems import CatalogueError, Place, Problem, nearest

if TYPE_CHECKING:
    from quoter.pricing.price import Priced, PricedModel, Pricing

Folder = click.Path(exists=True, file_okay=False, path_type=Path)
OutFolder = click.Path(file_okay=False, path_type=Path)
OutFile = click.Path(dir_okay=False, path_type=Path)
UNWRITTEN = "; nothing was written"
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class ExampleCommand(click.Command):
    """A command whose help ends with examples that run."""

    def __init__(self, *args: object, examples: tuple[str, ...] = (), **more: object) -> None:
        """`examples` are the words after ``quoter``, as somebody would type them."""
        super().__init__(*args, **more)  # type: ignore[arg-type]
        self.examples = examples

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The examples, each on a line of its own however long it is."""
        with formatter.section("Examples"):
            for words in self.examples:
                formatter.write(f"{'':{formatter.current_indent}}$ quoter {words}\n")


def example_command(name: str, *examples: str) -> Callable[[Callable[..., None]], ExampleCommand]:
    """Make a function a command; each example is what follows ``quoter``, as somebody types it."""
    return click.command(name, cls=ExampleCommand, examples=examples)


class _Day(click.DateTime):
    """A day as a catalogue may write it."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> datetime:
        found: datetime = super().convert(value, param, ctx)
        if not is_meant(found.date()):
            self.fail(f"{value} is a day that nobody means; {MEANT_DAYS}", param, ctx)
        return found


Day = _Day(["%Y-%m-%d"])
as_of_option = click.option(
    "--as-of",
    type=Day,
    metavar="DATE",
    help="Use the prices, wages and rates in force on this day (default: the catalogue's day).",
)
set_option = click.option(
    "--set",
    "settings",
    multiple=True,
    metavar="KEY=VALUE",
    help="What if: a price, wage, rate or value were so, e.g. class.resin=+10%. May be repeated.",
)
units_option = click.option(
    "--units",
    type=click.Choice(CHOICES),
    help="The units to read in, in place of the yard's own.",
)
json_option = click.option(
    "--json", "print_json", is_flag=True, help="Print JSON instead of a table."
)
strict_option = click.option("--strict", is_flag=True, help="Treat warnings as problems.")


def read_in(settings: Sequence[str], units: str | None) -> tuple[str, ...]:
    """The settings, with the units that are asked for."""
    return (*settings, f"{UNITS}={units}") if units else tuple(settings)


def on_one_line(_: click.Context, parameter: click.Parameter, words: str | None) -> str | None:
    """A text by the rule for one-line texts of requests; a control letter is never dropped.

    An empty one stays empty, for an option to say nothing.
    """
    if not words:
        return words
    if found := _CONTROL.search(words):
        kind = "a line end or a tab" if found[0] in "\n\r\t" else "a control letter"
        told = f"holds {kind}, #x{ord(found[0]):04x}; write it on one line without [unprintable]"
        raise click.BadParameter(told, param=parameter)
    try:
        return str(one_line(Text.at(words, Place(""))))
    except PydanticCustomError as fault:
        told = "{what}; {hint} [{code}]".format_map(fault.context or {})
        raise click.BadParameter(told, param=parameter) from fault


def day(as_of: datetime | None) -> date | None:
    """The day an option names, if it names one."""
    return as_of.date() if as_of else None


def progress() -> Callable[[str], None]:
    """Says each step on a terminal and nothing in a pipe."""
    terminal = sys.stderr.isatty()

    def say(step: str) -> None:
        if terminal:
            click.secho(f"… {step}", dim=True, err=True)

    return say


def price(
    catalogue: Path,
    as_of: datetime | None,
    strict: bool,
    settings: Sequence[str] = (),
    only: str = "",
    *,
    booked: bool = False,
) -> tuple[Pricing, list[Problem]]:
    """A catalogue priced, with its warnings; its problems are told and end the command.

    Those of what was `booked` are told only where that is asked for.
    """
    from quoter.pricing.priced import price_catalogue  # not before a command needs it

    progress()("reading and costing the catalogue")
    with stopping(catalogue):
        return price_catalogue(
            catalogue, day(as_of), strict=strict, settings=settings, only=only, booked=booked
        )


def tell_day(pricing: Pricing, *, beside: Pricing | None = None, data: bool = False) -> None:
    """Print the day that is priced on, which comes first; where `data` is printed, not among it."""
    before = None if beside is None else beside.catalogue.as_of
    click.echo(day_words(pricing.catalogue.records, pricing.catalogue.as_of, before), err=data)


def wanted(pricing: Pricing, model: str, option: str | None) -> Priced:
    """The boat or option that a command's words name."""
    found: PricedModel | None = pricing.models.get(model)
    if found is None:
        raise click.UsageError(f"unknown model '{model}': {nearest(model, pricing.models)}")
    if option is None:
        return found.boat
    if option not in found.options:
        hint = nearest(option, found.options)
        raise click.UsageError(f"'{model}' has no option '{option}': {hint}")
    return found.options[option]


def counted(count: int, word: str) -> str:
    """A number of things.

    >>> counted(1, "price"), counted(2, "price")
    ('1 price', '2 prices')
    """
    return f"{count} {word}{'' if count == 1 else 's'}"


def tell(catalogue: Path | None, problems: Iterable[Problem]) -> None:
    """Print problems, those of a catalogue with its folder before their places.

    What an option of the command line says has that option for a file.
    """
    for problem in problems:
        tell_words(catalogue, str(problem), warning=problem.warning)


def tell_words(catalogue: Path | None, words: str, *, warning: bool = True) -> None:
    """Print a problem that is in words already."""
    folder = "" if catalogue is None else f"{catalogue.as_posix().rstrip('/')}/"
    first, _, rest = f"{'' if words.startswith('--') else folder}{words}".partition("\n")
    click.secho(first, fg="yellow" if warning else "red", err=True)
    if rest:
        click.echo(rest, err=True)


def warn(words: str) -> None:
    """Print what somebody should look at."""
    click.secho(f"warning: {words}", fg="yellow", err=True)


def stop(catalogue: Path | None, problems: list[Problem]) -> NoReturn:
    """Print problems and end the command."""
    tell(catalogue, problems)
    click.echo(f"{counted(len(problems), 'problem')}{UNWRITTEN}", err=True)
    sys.exit(1)


@contextmanager
def stopping(catalogue: Path, kind: type[CatalogueError] = CatalogueError) -> Iterator[None]:
    """Print the problems that something in a block is stopped by, and end the command."""
    try:
        yield
    except kind as fault:
        stop(catalogue, fault.problems)


def refuse(words: str, code: str = "") -> NoReturn:
    """Print why something is not done, with the code of its kind if it has one; end the command."""
    first, *rest = words.split("\n")
    click.secho("\n".join([f"{first} [{code}]" if code else first, *rest]), fg="red", err=True)
    sys.exit(1)


@contextmanager
def refusing(*faults: type[Exception], then: str = "") -> Iterator[None]:
    """Print what a fault in a block says, and then some words, and end the command."""
    try:
        yield
    except faults as fault:
        refuse(f"{fault}{then}", getattr(fault, "code", ""))


@contextmanager
def writing(path: Path) -> Iterator[None]:
    """End the command where a file can't be written in a block, naming it or else a path."""
    try:
        yield
    except OSError as fault:
        raise click.FileError(str(fault.filename or path), fault.strerror) from fault
