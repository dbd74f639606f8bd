"""Help answers every word of the program, and its examples run."""

from __future__ import annotations

import re
import shlex
import shutil
import webbrowser
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from quoter.cli import COMMANDS, main
from quoter.guide.formulas import formula_names
from quoter.guide.keys import keys_index
from quoter.guide.topics import reference_topics, sections, told_of, written_topics
from tests.demo import DEMO
from tests.guide.commands import command_named, every_command


def asked(*words: str) -> Result:
    return CliRunner().invoke(main, [*words])


def examples_of(name: str) -> list[str]:
    return list(getattr(command_named(name), "examples", ()))


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_has_two_examples_and_says_what_its_options_do(name: str) -> None:
    examples = examples_of(name)
    assert len(examples) == 2
    help = asked(name, "--help").stdout
    for words in examples:
        assert words.split()[0] == name
        assert f"  $ quoter {words}\n" in help
    for option in command_named(name).params:
        if isinstance(option, click.Option):
            assert option.help, f"{name} does not say what {option.opts} does"


@pytest.mark.slow
def test_the_examples_of_all_commands_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(DEMO, tmp_path / "demo_catalog")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    opened: list[str] = []
    monkeypatch.setattr(webbrowser, "open", opened.append)
    # A preview ends by Ctrl-C alone: its own tests have it run.
    names = ["demo", *(name for name in COMMANDS if name not in ("demo", "preview"))]
    for name in names:
        for words in examples_of(name):
            result = asked(*shlex.split(words))
            assert result.exit_code == 0, f"quoter {words}\n{result.output}"
    assert len(opened) == 1


def test_words_that_a_preview_s_examples_have_are_its_own(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(DEMO.parent)
    for words in examples_of("preview"):
        context = command_named("preview").make_context("preview", shlex.split(words)[1:])
        assert context.params["catalogue"] == Path("demo_catalog")


def test_without_a_word_every_page_is_named() -> None:
    told = asked("help").stdout
    for topic in (*written_topics(), *reference_topics(every_command())):
        assert f" • {topic.name}: " in told


def test_every_topic_command_formula_key_and_code_is_told_of() -> None:
    commands = every_command()
    words = [topic.name for topic in written_topics()]
    words += [*COMMANDS, *formula_names(), *keys_index(), *sections()]
    assert len(words) > 300
    for word in words:
        assert len(told_of(word, commands)) > len(word)


def test_a_formula_is_told_with_equation_units_source_and_use() -> None:
    told = asked("help", "film_mass").stdout
    assert "film = area * wet_thickness * density" in told
    assert re.search(r"density +density of the wet gelcoat +kg/m3", told)
    assert "Source: mass balance." in told
    assert "quoter/costing/moulded.py" in told


def test_a_word_that_nothing_is_called_is_refused_with_what_is_near() -> None:
    result = asked("help", "film_mas")
    assert result.exit_code == 2
    assert "the guide tells nothing of 'film_mas'; did you mean 'film_mass'?" in result.stderr


def test_a_link_to_another_page_is_a_command_in_a_terminal() -> None:
    told = " ".join(asked("help", "month").stdout.split())
    assert "(quoter help building)" in told
    assert ".md" not in told


def test_in_a_pipe_help_has_no_colours() -> None:
    assert "\x1b" not in asked("help", "cautions").stdout


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_is_installed_where_the_shell_looks(
    shell: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    result = asked("completion", shell, "--install")
    assert result.exit_code == 0
    (file,) = (path for path in tmp_path.rglob("*") if path.is_file())
    assert str(file) in result.stdout
    assert file.read_text() == asked("completion", shell).stdout
    assert "_QUOTER_COMPLETE" in file.read_text()


def test_a_guide_goes_into_a_folder_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "thesis.txt").write_text("years of work")
    refused = asked("guide", str(tmp_path / "mine"))
    assert refused.exit_code == 1
    assert "holds files this program did not write, such as thesis.txt" in refused.stderr
    assert asked("guide").exit_code == 2
    built = asked("guide", str(tmp_path / "guide"))
    assert built.exit_code == 0
    assert f"open {tmp_path / 'guide' / 'index.html'}" in built.stdout
