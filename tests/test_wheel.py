"""The built wheel works by itself: in an empty folder, without the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parent.parent
pytestmark = pytest.mark.slow


@dataclass(frozen=True)
class Installed:
    """A wheel and the folder it was installed into."""

    wheel: Path
    folder: Path

    def quoter(self, *words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
        """Run the installed package; its folder stands before the checkout's on Python's path."""
        return self.python("-m", "quoter", *words, cwd=cwd)

    def python(self, *words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
        environment = os.environ | {"PYTHONPATH": str(self.folder), "NO_COLOR": "1"}
        return ran(sys.executable, *words, cwd=cwd, env=environment)


def ran(
    *command: str, cwd: Path, env: dict[str, str] | None = None
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=cwd, env=env, capture_output=True, text=True, check=False)


def succeeded(result: subprocess.CompletedProcess[str]) -> str:
    assert result.returncode == 0, f"{result.args}\n{result.stdout}\n{result.stderr}"
    return result.stdout


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """The wheel built from the source archive, as a user of the archive would build it."""
    dist, folder = tmp_path_factory.mktemp("dist"), tmp_path_factory.mktemp("installed")
    build = ("-m", "build", "--no-isolation", "--outdir", str(dist), str(PROJECT))
    succeeded(ran(sys.executable, *build, cwd=dist))
    (wheel,) = dist.glob("*.whl")
    # Without its dependencies: those are here already, and this test is about what the wheel holds.
    options = ("--quiet", "--no-deps", "--no-index", "--no-compile", "--target", str(folder))
    succeeded(ran(sys.executable, "-m", "pip", "install", *options, str(wheel), cwd=dist))
    return Installed(wheel, folder)


@pytest.fixture(scope="module")
def demo(installed: Installed, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty folder in which the demo catalogue was copied out and built."""
    folder = tmp_path_factory.mktemp("empty")
    succeeded(installed.quoter("demo", "mycatalogue", cwd=folder))
    succeeded(installed.quoter("build", "mycatalogue", cwd=folder))
    return folder


def files_under(folder: Path) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file()
        if not any(p.startswith(".") or p == "__pycache__" for p in path.relative_to(folder).parts)
    }


def test_wheel_holds_the_package_the_templates_and_the_demo_and_no_tests(
    installed: Installed,
) -> None:
    expected = {
        f"quoter/{prefix}{name}"
        for folder, prefix in (
            ("quoter", ""),
            ("templates", "templates/"),
            ("demo_catalog", "demo_catalog/"),
        )
        for name in files_under(PROJECT / folder)
    }
    with zipfile.ZipFile(installed.wheel) as archive:
        names = archive.namelist()
    assert {name for name in names if ".dist-info/" not in name} == expected


def test_the_installed_package_is_the_one_that_runs(installed: Installed, tmp_path: Path) -> None:
    where = "import quoter.resources as r; print(r.__file__, r.templates_folder())"
    shown = succeeded(installed.python("-c", where, cwd=tmp_path))
    package = installed.folder / "quoter"
    assert shown.split() == [str(package / "resources.py"), str(package / "templates")]


def test_console_command_and_module_give_the_same_help(
    installed: Installed, tmp_path: Path
) -> None:
    by_module = succeeded(installed.quoter("--help", cwd=tmp_path))
    script = str(installed.folder / "bin" / "quoter")
    environment = os.environ | {"PYTHONPATH": str(installed.folder), "NO_COLOR": "1"}
    by_script = succeeded(ran(script, "--help", cwd=tmp_path, env=environment))
    assert "build" in by_module
    # They differ in what the command is called, and nowhere else.
    assert by_script.split()[2:] == by_module.replace("python -m quoter", "quoter").split()[2:]


def test_the_guide_comes_with_it(installed: Installed, tmp_path: Path) -> None:
    told = succeeded(installed.quoter("help", "month", cwd=tmp_path))
    assert told.startswith("The month\n")
    succeeded(installed.quoter("guide", "pages", cwd=tmp_path))
    assert (tmp_path / "pages" / "month.html").stat().st_size > 0


def test_wrong_usage_gives_exit_code_2(installed: Installed, tmp_path: Path) -> None:
    assert installed.quoter("no-such-command", cwd=tmp_path).returncode == 2


def test_demo_catalogue_is_copied_out_whole(demo: Path) -> None:
    copied = files_under(demo / "mycatalogue")
    schemas = {name for name in copied if str(name).endswith(".schema.json")}
    assert schemas
    assert {*copied} - schemas == {*files_under(PROJECT / "demo_catalog")}


def test_build_in_an_empty_folder_writes_site_and_workbooks(demo: Path) -> None:
    assert (demo / "site" / "index.html").stat().st_size > 0
    assert list((demo / "internal" / "workbooks").glob("*.xlsx"))
