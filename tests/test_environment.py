"""The one command says what is missing, and reports every step, pytest's summary last."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests import __main__ as command
from tests import environment
from tests.environment import Need, UnpreparedError

CALC = Need("soffice with LibreOffice Calc", ("libreoffice-calc",), lambda: False)
FONT = Need("a font", ("fontconfig", "fonts-dejavu-core"), lambda: False)
HERE = Need("pdftoppm", ("poppler-utils",), lambda: True)


class Commands:
    """Stands in for `environment.run`: remembers commands, fails those that hold a given word."""

    def __init__(self, failing: str = "") -> None:
        self.seen: list[str] = []
        self.failing = failing

    def __call__(self, *words: str | Path) -> int:
        self.seen.append(" ".join(str(word) for word in words))
        return int(bool(self.failing) and self.failing in self.seen[-1])


def commands(monkeypatch: pytest.MonkeyPatch, failing: str = "") -> Commands:
    stand_in = Commands(failing)
    monkeypatch.setattr(environment, "run", stand_in)
    return stand_in


def test_nothing_is_installed_when_nothing_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    run = commands(monkeypatch)
    environment.provide([HERE])
    assert run.seen == []


@pytest.mark.parametrize(
    ("apt_get", "user", "reason"),
    [
        (None, 0, "There is no apt-get here to install them with."),
        ("apt-get", 1000, "Only root can install them with apt-get."),
    ],
)
def test_missing_programs_are_named_where_they_cannot_be_installed(
    monkeypatch: pytest.MonkeyPatch, apt_get: str | None, user: int, reason: str
) -> None:
    run = commands(monkeypatch)
    monkeypatch.setattr("shutil.which", lambda _: apt_get)
    monkeypatch.setattr("os.geteuid", lambda: user)
    with pytest.raises(UnpreparedError) as caught:
        environment.provide([CALC, HERE, FONT])
    assert str(caught.value).splitlines() == [
        "the tests need what is not on this machine:",
        "    soffice with LibreOffice Calc  Debian: libreoffice-calc",
        "    a font                         Debian: fontconfig fonts-dejavu-core",
        reason,
        "On Debian, as root:",
        "    apt-get update && apt-get install --no-install-recommends "
        "libreoffice-calc fontconfig fonts-dejavu-core",
    ]
    assert run.seen == []


def test_missing_programs_are_installed_and_looked_for_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    run = commands(monkeypatch)
    monkeypatch.setattr("shutil.which", lambda _: "apt-get")
    monkeypatch.setattr("os.geteuid", lambda: 0)
    installed = Need("chromium", ("chromium",), lambda: len(run.seen) == 2)
    environment.provide([installed, HERE])
    assert [words.split()[-1] for words in run.seen] == ["update", "chromium"]
    with pytest.raises(UnpreparedError, match="apt-get was run"):
        environment.provide([CALC])


def project(folder: Path) -> Path:
    (folder / "quoter").mkdir(parents=True)
    (folder / "tests").mkdir()
    for name in environment.DECLARATIONS:
        (folder / name).write_text("1", encoding="utf-8")
    return folder


def test_environment_is_made_once_and_again_when_the_project_asks_for_other_packages(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    run = commands(monkeypatch)
    monkeypatch.setattr(environment, "PROJECT", project(tmp_path))
    monkeypatch.setattr(environment, "ENVIRONMENT", tmp_path / ".venv")
    python = tmp_path / ".venv" / "bin" / "python"
    python.parent.mkdir(parents=True)
    python.touch()
    steps = ["-m venv --clear", "-m pip install", "npm install --prefix"]
    for makes, name in ((1, ""), (1, ""), (2, "pyproject.toml"), (3, "tests/package.json")):
        if name:
            (tmp_path / name).write_text("2", encoding="utf-8")
        assert environment.provide_environment() == python
        assert [step in line for step, line in zip(steps * makes, run.seen, strict=True)] == (
            [True] * 3 * makes
        )
    packages = tmp_path / ".venv" / "npm" / "package.json"
    assert packages.read_text(encoding="utf-8") == "2"


@pytest.mark.parametrize(
    ("failing", "steps", "quoted"),
    [
        ("pip", 2, "{venv}/bin/python -m pip install --quiet --editable '.[test]'"),
        ("npm", 3, "npm install --prefix {venv}/npm " + " ".join(environment.NPM_OPTIONS)),
    ],
)
def test_failed_installation_quotes_its_command_and_is_tried_again(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, failing: str, steps: int, quoted: str
) -> None:
    run = commands(monkeypatch, failing=f"{failing} install")
    monkeypatch.setattr(environment, "PROJECT", project(tmp_path))
    monkeypatch.setattr(environment, "ENVIRONMENT", tmp_path / ".venv")
    for tries in (1, 2):
        with pytest.raises(UnpreparedError) as caught:
            environment.provide_environment()
        assert len(run.seen) == tries * steps
    command = quoted.format(venv=tmp_path / ".venv")
    assert str(caught.value) == f"no environment for the tests: exit code 1 from {command}"


def test_packages_of_npm_that_are_not_here_are_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(environment, "ENVIRONMENT", tmp_path / ".venv")
    monkeypatch.delenv(environment.MODULES, raising=False)
    with pytest.raises(UnpreparedError, match=r"run `python3 -m tests`, or name their folder"):
        environment.node_modules()
    monkeypatch.setenv(environment.MODULES, str(tmp_path))
    assert environment.node_modules() == tmp_path


def test_fingerprint_tells_one_checkout_from_another(tmp_path: Path) -> None:
    here, there = project(tmp_path / "here"), project(tmp_path / "there")
    assert environment.fingerprint(here) != environment.fingerprint(there)


PYTHON = Path("python")
ALL_STEPS = [
    "python -m ruff check",
    "python -m ruff format --check",
    "python -m mypy",
    "python -m pytest -n auto --dist loadfile -k resin --update-golden",
]


@pytest.mark.parametrize(
    ("failing", "code"), [("", 0), ("ruff check", 1), ("format", 1), ("mypy", 1), ("pytest", 1)]
)
def test_every_step_runs_and_any_failure_fails_the_whole(
    monkeypatch: pytest.MonkeyPatch, failing: str, code: int
) -> None:
    run = commands(monkeypatch, failing)
    assert command.run_all(PYTHON, ["-k", "resin", "--update-golden"]) == code
    assert run.seen == ALL_STEPS


def test_failed_lint_is_said_before_pytest_runs(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    said: list[str] = []

    def run(*words: str | Path) -> int:
        if "pytest" in words:
            said.append(capsys.readouterr().out)
            return 0
        return int("mypy" in words)

    monkeypatch.setattr(environment, "run", run)
    assert command.run_all(PYTHON, []) == 1
    assert said == ["FAILED python -m mypy\n"]
    assert capsys.readouterr().out == ""


def test_unprepared_machine_fails_with_the_reason(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def prepare() -> Path:
        raise UnpreparedError("chromium is missing")

    monkeypatch.setattr(environment, "prepare", prepare)
    assert command.main([]) == 1
    assert capsys.readouterr().err == "tests: chromium is missing\n"
