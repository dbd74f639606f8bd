"""The guide's pages: short, linked, and true to the program."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.guide.arithmetic import faults
from tests.guide.examples import ROOT, carry_out, run

GUIDE = ROOT / "quoter" / "guide"
# The reference: made from the records, commands, formulas and formats themselves, or one by kind.
GENERATED = {
    *(f"keys-{name}.md" for name in ("materials", "yard", "stations", "suppliers", "moulds")),
    *(f"keys-{name}.md" for name in ("laminates", "parts", "options", "models", "request")),
    *("keys-tables.md", "commands.md", "formulas.md", "data.md", "problems.md"),
    "usual-ranges.md",
}
TOPICS = {
    file.name: file.read_text("utf-8")
    for file in sorted(GUIDE.glob("*.md"))
    if file.name not in GENERATED
}
FIRST = "first-hour.md"
LONGEST = 120  # lines of a page
WIDEST = 110  # characters of a line, tables and output aside
_LINK = re.compile(r"\[[^\]]+\]\(([^)\s]+)\)")
_SUM = re.compile(r"`([\d(-][^`]* = [^`]*)`")
_FENCED = re.compile(r"^ *```.*?^ *```$", re.MULTILINE | re.DOTALL)

every_topic = pytest.mark.parametrize("name", TOPICS)


def words_of(page: str) -> str:
    """A page without its blocks of code."""
    return _FENCED.sub("", page)


def test_the_guide_has_a_topic_for_each_job_of_a_yard() -> None:
    assert set(TOPICS) == {
        *(
            "first-hour.md",
            "pricing.md",
            "spraying.md",
            "month.md",
            "actuals.md",
            "booking-data.md",
            "quoting.md",
            "waiting.md",
            "approvals.md",
            "own-lines.md",
            "quote-data.md",
            "price-sheet.md",
            "drawings.md",
            "dealers.md",
            "papers.md",
            "job.md",
            "reading.md",
        ),
        *(
            "workbook.md",
            "certainty.md",
            "standards.md",
            "questions.md",
            "cautions.md",
            "conventions.md",
        ),
        *("units.md", "catalogue.md", "processes.md", "capacity.md", "building.md"),
    }


@every_topic
def test_a_page_has_a_title_then_what_it_is_for_then_its_sections(name: str) -> None:
    title, _, rest = TOPICS[name].partition("\n\n")
    summary, _, body = rest.partition("\n\n")
    assert re.fullmatch(r"# \S.*", title)
    assert 1 <= len(re.findall(r"[.?](?:\s|\Z)", summary)) <= 2
    assert summary.endswith(".")
    assert not re.search(r"[\[\]`#|]", summary), "it is shown in lists, as plain words"
    assert body.startswith("## ")


@every_topic
def test_a_page_is_short_and_its_lines_fit(name: str) -> None:
    lines = TOPICS[name].splitlines()
    assert 40 <= len(lines) <= LONGEST
    text = words_of(TOPICS[name]).splitlines()
    assert not [line for line in text if len(line) > WIDEST and not line.startswith("|")]
    assert "!" not in words_of(TOPICS[name])


@every_topic
def test_every_link_names_a_topic_or_a_generated_page(name: str) -> None:
    links = set(_LINK.findall(TOPICS[name]))
    assert links
    assert links - set(TOPICS) - GENERATED == set()
    assert name not in links


def test_every_topic_but_the_first_is_linked_from_another() -> None:
    linked = {link for name, page in TOPICS.items() for link in _LINK.findall(page) if link != name}
    assert set(TOPICS) - {FIRST} - linked == set()


def test_every_generated_page_is_linked_from_a_topic() -> None:
    linked = {link for page in TOPICS.values() for link in _LINK.findall(page)}
    assert GENERATED - linked == set()


@every_topic
def test_every_worked_number_is_right(name: str) -> None:
    sums = [" ".join(found.split()) for found in _SUM.findall(words_of(TOPICS[name]))]
    assert [fault for found in sums for fault in faults(found)] == []


def test_conventions_are_worked_out_with_numbers() -> None:
    sections = re.split(r"^## ", TOPICS["conventions.md"], flags=re.MULTILINE)[1:]
    assert len(sections) >= 8
    without = [section.splitlines()[0] for section in sections if not _SUM.search(section)]
    assert without == []


def test_at_least_fifteen_questions_are_answered() -> None:
    asked = re.findall(r"^\*\*(.+?)\*\*", TOPICS["questions.md"], re.MULTILINE | re.DOTALL)
    assert len([question for question in asked if question.endswith("?")]) >= 15


@pytest.mark.slow
@every_topic
def test_every_example_runs_in_order_and_shows_what_is_so(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    page = TOPICS[name]
    done = carry_out(page, tmp_path)
    assert done.untrue == ()
    assert done.commands == len(re.findall(r"^ *\$ quoter ", page, re.MULTILINE))
    assert done.blocks == len(re.findall(r"^ *```yaml$", page, re.MULTILINE))
    assert done.changes == len(re.findall(r"`\schange\s`", page))


# Numbers of the demonstration that pages tell in words: where a build shows them.
TOLD = (
    ("certainty.md", "review/weekender_86/side_single.html", "2,152.65 2,164.09 2,221.82 110.12"),
    ("certainty.md", "review/weekender_86/side_single.html", "2,262.77 2,287.31 2,223.76 35.1"),
    ("conventions.md", "review/weekender_86/side_single.html", "1,577.33 2,152.65 3,480 1,153.35"),
    ("papers.md", "papers/weekender_86/side_single.html", "8.331 8.863 132.9 75.6"),
)


@pytest.mark.slow
def test_numbers_of_the_demonstration_are_those_of_a_build(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    run(f"build {ROOT / 'demo_catalog'} --no-site")
    for name, file, numbers in TOLD:
        built = (tmp_path / "internal" / file).read_text("utf-8")
        for number in numbers.split():
            assert number in TOPICS[name], f"{name} does not say {number}"
            assert number in built, f"{name} says {number}, a build does not"
