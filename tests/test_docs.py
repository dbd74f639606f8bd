"""README and DEVELOPERS.md tell the truth: what they show runs, what they name is there."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from quoter import __version__
from quoter.guide.markdown import links_of
from tests.guide.commands import every_command
from tests.guide.examples import ROOT, carry_out

README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
MOST_LINES = 150


@pytest.mark.slow
def test_every_example_of_readme_runs_in_order_with_what_it_says_to_write(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = carry_out(README, tmp_path)
    assert (done.commands, done.blocks, done.untrue) == (21, 1, ())
    costing = json.loads((tmp_path / "trial_internal" / "costing.json").read_text("utf-8"))
    pad = costing["models"]["weekender_86"]["options"]["helm_pad"]
    assert 0 < pad["cost"] < pad["list_price"]


def test_readme_is_a_door() -> None:
    assert len(README.splitlines()) <= MOST_LINES
    for told in re.findall(r"`quoter ([\w-]+)", README):
        assert told in every_command()
    pictures = re.findall(r"!\[(.{40,})\]\((.+)\)", README)
    assert len(pictures) == 2
    for _, path in pictures:
        assert 1_000 < (ROOT / path).stat().st_size < 250_000


def test_every_link_of_readme_and_of_the_developers_guide_leads_somewhere() -> None:
    for link in (*links_of(README), *links_of(DEVELOPERS)):
        assert (ROOT / link.partition("#")[0]).exists()


def test_every_path_the_developers_guide_names_exists() -> None:
    named = re.findall(r"`((?:quoter|tests|templates|demo_catalog|site)/[\w./*]*)`", DEVELOPERS)
    assert len(named) > 10
    for path in named:
        assert list(ROOT.glob(path.rstrip("/"))), f"DEVELOPERS.md names {path}, which is not there"


def test_the_changelog_is_the_last_section_and_names_this_version() -> None:
    last = re.split(r"^## ", DEVELOPERS, flags=re.MULTILINE)[-1]
    assert last.startswith("Changelog")
    assert f"### {__version__}" in last
