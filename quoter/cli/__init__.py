"""The commands: parse words, call one function each, print.

Exit codes: 0 fine, 1 problems in the input, 2 wrong usage.
"""

from __future__ import annotations

import os

import click

from quoter import __version__
from quoter.cli import (
    asking,
    buying,
    looking,
    making,
    offers,
    publishing,
    quoting,
    selling,
    wording,
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="quoter")
@click.pass_context
def main(context: click.Context) -> None:
    """Cost a boat builder's options and publish their prices from a folder of text files."""
    if os.environ.get("NO_COLOR"):
        context.color = False


for _command in (
    making.build_command,
    making.check_command,
    looking.preview_command,
    asking.why_command,
    asking.compare_command,
    buying.import_prices_command,
    buying.import_rates_command,
    buying.rise_command,
    publishing.reprice_command,
    selling.surcharge_command,
    offers.quote_command,
    offers.requote_command,
    offers.quotes_command,
    offers.reprint_command,
    quoting.outcome_command,
    wording.translations_command,
    making.schema_command,
    making.demo_command,
):
    main.add_command(_command)
