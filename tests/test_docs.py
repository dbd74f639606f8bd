"""README and DEVELOPERS.md tell the truth: commands, keys and paths they name exist."""

from __future__ import annotations

import json
import re
from pathlib import Path

import click
import pytest

from quoter.catalogue import factory, materials, options, parts, quoting, received, tables
from quoter.catalogue.record import CatalogueRecord
from quoter.cli import COMMANDS, main
from tests.guide.examples import ROOT, carry_out

README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
RECORDS = [
    found
    for module in (factory, materials, parts, options, quoting, received, tables)
    for found in vars(module).values()
    if isinstance(found, type)
    and issubclass(found, CatalogueRecord)
    and found.__module__ == module.__name__
]
# Common to nearly every record, and said once in words.
EVERYWHERE = {"id", "name", "note"}


def test_readme_names_every_command_and_each_has_help() -> None:
    for name in COMMANDS:
        assert f"`quoter {name} " in README or f"`quoter {name}`" in README
        assert command_named(name).help


def command_named(name: str) -> click.Command:
    found = main.get_command(click.Context(main), name)
    assert found is not None
    assert found.name == name
    return found


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_readme_names_every_option_of(name: str) -> None:
    for parameter in command_named(name).params:
        for flag in parameter.opts:
            if flag.startswith("--"):
                assert flag in README, f"README does not name {flag} of quoter {name}"


@pytest.mark.slow
def test_every_example_of_readme_runs_in_order_with_what_it_says_to_write(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = carry_out(README, tmp_path)
    assert (done.commands, done.blocks, done.untrue) == (24, 3, ())
    costing = json.loads((tmp_path / "trial_internal" / "costing.json").read_text("utf-8"))
    lid = costing["models"]["weekender_86"]["options"]["rod_lid"]
    assert 0 < lid["cost"] < lid["list_price"]


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_readme_describes_every_key_of(record: type[CatalogueRecord]) -> None:
    words = set(re.findall(r"[A-Za-z_]+", " ".join(re.findall(r"`([^`\n]+)`", README))))
    assert set(record.model_fields) - EVERYWHERE - words == set()


def test_every_path_the_developers_guide_names_exists() -> None:
    named = re.findall(r"`((?:quoter|tests|templates|demo_catalog|site)/[\w./*]*)`", DEVELOPERS)
    assert len(named) > 10
    for path in named:
        assert list(ROOT.glob(path.rstrip("/"))), f"DEVELOPERS.md names {path}, which is not there"


def test_the_changelog_is_the_last_section_and_names_this_version() -> None:
    from quoter import __version__

    last = re.split(r"^## ", DEVELOPERS, flags=re.MULTILINE)[-1]
    assert last.startswith("Changelog")
    assert f"### {__version__}" in last
