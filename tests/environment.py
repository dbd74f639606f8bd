"""What the tests need, made where it is missing: a virtual environment and a few programs.

Runs before anything is installed, so it uses the standard library alone. pip, npm and apt-get are
called as the machine has them set up; nothing here names an index or a mirror.
"""

from __future__ import annotations

import hashlib
import importlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

PROJECT = Path(__file__).resolve().parent.parent
ENVIRONMENT = PROJECT / ".venv"
PACKAGES = "tests/package.json"  # of npm: checkers of pages, by other hands than ours
# Only these name what gets installed; a change in anything else needs no new environment.
DECLARATIONS = ("pyproject.toml", "quoter/__init__.py", PACKAGES)
# Where the packages of npm are, for a run without `python3 -m tests`.
MODULES = "QUOTER_NODE_MODULES"


NPM_OPTIONS = ("--no-package-lock", "--no-audit", "--no-fund", "--ignore-scripts", "--silent")


class UnpreparedError(Exception):
    """The tests can't be run here; the message says what is missing and what to do."""


@dataclass(frozen=True)
class Need:
    """Something outside Python that tests use, with the Debian packages that bring it."""

    name: str
    packages: tuple[str, ...]
    is_here: Callable[[], bool]


def has_ensurepip() -> bool:
    """Debian's python3 has `venv` without it, and then can't put pip into an environment."""
    importlib.invalidate_caches()
    return importlib.util.find_spec("ensurepip") is not None


def has_calc() -> bool:
    """An office installed without its spreadsheet has the same `soffice`."""
    found = shutil.which("soffice")
    return found is not None and (Path(found).resolve().parent / "libsclo.so").exists()


def has_dejavu() -> bool:
    if not shutil.which("fc-list"):
        return False
    listed = subprocess.run(["fc-list", "DejaVu Sans"], capture_output=True, check=False)
    return bool(listed.stdout.strip())


NEEDS = (
    Need("ensurepip, for virtual environments", ("python3-venv",), has_ensurepip),
    Need("soffice with LibreOffice Calc", ("libreoffice-calc",), has_calc),
    Need("chromium", ("chromium",), lambda: shutil.which("chromium") is not None),
    Need("pdftoppm", ("poppler-utils",), lambda: shutil.which("pdftoppm") is not None),
    Need("npm", ("npm",), lambda: shutil.which("npm") is not None),
    Need("java", ("default-jre-headless",), lambda: shutil.which("java") is not None),
    Need("the DejaVu Sans font", ("fontconfig", "fonts-dejavu-core"), has_dejavu),
)


def run(*command: str | Path) -> int:
    """Run a command in the project, quoted first, and give its exit code."""
    words = [str(word) for word in command]
    print(f"$ {shlex.join(words)}", flush=True)
    return subprocess.run(words, cwd=PROJECT, check=False).returncode


def prepare() -> Path:
    """Programs, then packages; the Python to run the tests with.

    Raises:
        UnpreparedError: when something is missing and can't be installed from here.
    """
    provide(NEEDS)
    return provide_environment()


def provide(needs: Sequence[Need]) -> None:
    """Install what is missing of `needs`.

    Raises:
        UnpreparedError: naming each one that is still missing.
    """
    missing = absent(needs)
    if not missing:
        return
    if not shutil.which("apt-get"):
        raise UnpreparedError(report(missing, "There is no apt-get here to install them with."))
    if os.geteuid() != 0:
        raise UnpreparedError(report(missing, "Only root can install them with apt-get."))
    install(packages_of(missing))
    if still := absent(missing):
        raise UnpreparedError(report(still, "apt-get was run (see above), and they are not here."))


def absent(needs: Sequence[Need]) -> list[Need]:
    return [need for need in needs if not need.is_here()]


def packages_of(needs: Sequence[Need]) -> list[str]:
    return [package for need in needs for package in need.packages]


def install(packages: Sequence[str]) -> None:
    """Call apt-get; the caller looks whether it helped, so exit codes are only reported.

    A list that can't be renewed need not stop an installation from the lists already there.
    """
    os.environ["DEBIAN_FRONTEND"] = "noninteractive"
    options = ("-q", "-y", "-o", "DPkg::Lock::Timeout=300", "-o", "Dpkg::Use-Pty=0")
    for command in (["update"], ["install", "--no-install-recommends", *packages]):
        if code := run("apt-get", *options, *command):
            print(f"exit code {code} from apt-get {command[0]}", file=sys.stderr, flush=True)


def report(missing: Sequence[Need], reason: str) -> str:
    """What is missing, why it can't be had from here, and the command that would help."""
    width = max(len(need.name) for need in missing)
    lines = [f"    {n.name:<{width}}  Debian: {' '.join(n.packages)}" for n in missing]
    wanted = " ".join(packages_of(missing))
    remedy = f"    apt-get update && apt-get install --no-install-recommends {wanted}"
    return "\n".join(
        [
            "the tests need what is not on this machine:",
            *lines,
            reason,
            "On Debian, as root:",
            remedy,
        ]
    )


def provide_environment() -> Path:
    """Make `.venv` with the project and all test packages, unless it is there and up to date.

    Raises:
        UnpreparedError: quoting the command that failed.
    """
    python, stamp = ENVIRONMENT / "bin" / "python", ENVIRONMENT / "installed"
    wanted = fingerprint(PROJECT)
    if python.exists() and stamp.exists() and stamp.read_text() == wanted:
        return python
    provide_by(sys.executable, "-m", "venv", "--clear", str(ENVIRONMENT))
    provide_by(str(python), "-m", "pip", "install", "--quiet", "--editable", ".[test]")
    packages = ENVIRONMENT / "npm"
    packages.mkdir(parents=True, exist_ok=True)
    shutil.copy(PROJECT / PACKAGES, packages / "package.json")
    provide_by("npm", "install", "--prefix", str(packages), *NPM_OPTIONS)
    # Last, so that an environment cut short is made again.
    stamp.write_text(wanted)
    return python


def provide_by(*command: str) -> None:
    if code := run(*command):
        quoted = shlex.join(command)
        raise UnpreparedError(f"no environment for the tests: exit code {code} from {quoted}")


def node_modules() -> Path:
    """The folder of the packages of npm.

    Raises:
        UnpreparedError: they are not here.
    """
    folder = Path(os.environ.get(MODULES) or ENVIRONMENT / "npm" / "node_modules")
    if not folder.is_dir():
        remedy = f"run `python3 -m tests`, or name their folder in {MODULES}"
        raise UnpreparedError(f"no packages of npm in {folder}: {remedy}")
    return folder


def fingerprint(project: Path) -> str:
    """Changes with what would be installed, with the Python, and with where the project stands."""
    parts = [str(project), sys.version, *((project / name).read_text() for name in DECLARATIONS)]
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()
