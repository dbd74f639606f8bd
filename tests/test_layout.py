"""The house stays in order: imports run down, rooms are known, files are short, the top is tidy."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from fnmatch import fnmatch
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parent.parent

# Lowest first; rooms on one line are siblings. `__init__` is the package's own file.
LAYERS = """
__init__
problems | phrases | american | columns | disk | intake
numerals
spellings
units | resources | formats
figures
engineering | catalogue
costing | wording
plausibility
pricing
analysis
actuals | importing
workbook
pages
leaks | publish
keys
tasks
workers
build | copies
quotes | preview
guide
cli
__main__
"""
RANK = {
    room.strip(): rank
    for rank, line in enumerate(LAYERS.strip().splitlines())
    for room in line.split("|")
}

FOLDERS = ("quoter", "templates", "tests", "demo_catalog", "site")
FILES = ("README.md", "DEVELOPERS.md", "pyproject.toml")
LONGEST = 400
WRITTEN_BY_HAND = {".py", ".html", ".css", ".js", ".svg", ".jinja", ".j2", ".toml"}
# Folders of one machine, and hosts that serve packages: neither means anything to a reader.
# Spelt as patterns that don't match themselves.
NOT_OURS_TO_NAME = re.compile(
    rb"(?<![\w.])/(?:work|tmp|root)/"
    rb"|\b(?:pypi|pythonhosted|npmjs|deb\.debian)[.](?:org|com)\b"
)


def python_files(root: Path, folder: str) -> list[Path]:
    return sorted((root / folder).rglob("*.py"))


def room_of(file: Path, root: Path) -> str:
    return file.relative_to(root).parts[1].removesuffix(".py")


def shown(room: str) -> str:
    return "quoter" if room == "__init__" else room


def imported(file: Path, root: Path) -> Iterator[tuple[int, str]]:
    """Line and full dotted name of every import, wherever in the file it stands."""
    package = file.relative_to(root).parts[:-1]
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*start, *([node.module] if node.module else [])])
            yield from ((node.lineno, f"{module}.{alias.name}") for alias in node.names)


def imported_room(dotted: str) -> str | None:
    """The room an import reaches; `tests` counts as one that nobody may import."""
    top, *rest = dotted.split(".")
    if top == "tests":
        return top
    if top != "quoter":
        return None
    return rest[0] if rest and rest[0] in RANK else "__init__"


def import_faults(root: Path) -> list[str]:
    """Imports that run up or sideways; those of an unknown room are `room_faults`' business."""
    faults = set()
    for file in python_files(root, "quoter"):
        room = room_of(file, root)
        for line, dotted in imported(file, root):
            other = imported_room(dotted)
            if other is None or other == room or room not in RANK:
                continue
            if other not in RANK or RANK[other] >= RANK[room]:
                place = f"{file.relative_to(root).as_posix()}:{line}"
                faults.add((place, f"{shown(room)} may not import {shown(other)}"))
    return [f"{place}: {what}" for place, what in sorted(faults)]


def room_faults(root: Path) -> list[str]:
    """Modules and folders of quoter that LAYERS doesn't place."""
    rooms = {room_of(file, root) for file in python_files(root, "quoter")}
    return [
        f"quoter/{room}: in no layer; give it a place in LAYERS" for room in sorted(rooms - {*RANK})
    ]


def package_faults(root: Path) -> list[str]:
    """Folders of Python files whose `__init__.py` is missing or doesn't say what they are for."""
    faults = []
    for folder in sorted(
        {f.parent for part in ("quoter", "tests") for f in python_files(root, part)}
    ):
        init = folder / "__init__.py"
        if not init.exists():
            faults.append(f"{folder.relative_to(root).as_posix()}: has no __init__.py")
        elif not ast.get_docstring(ast.parse(init.read_text(encoding="utf-8"))):
            faults.append(
                f"{init.relative_to(root).as_posix()}: doesn't say what the folder is for"
            )
    return faults


def top_level_faults(root: Path) -> list[str]:
    """Files and folders at the top that have no business there; what git ignores may lie about."""
    ignored = [
        line.strip("/")
        for line in (root / ".gitignore").read_text(encoding="utf-8").splitlines()
        if line and not line.startswith("#")
    ]
    names = sorted(path.name for path in root.iterdir() if not path.name.startswith("."))
    return [
        f"{name}: not a thing of the top level"
        for name in names
        if name not in (*FOLDERS, *FILES) and not any(fnmatch(name, pattern) for pattern in ignored)
    ]


def project_files(root: Path) -> Iterator[Path]:
    dotted = (".ci/run", ".gitignore", ".gitattributes", ".editorconfig")
    yield from (root / name for name in (*FILES, *dotted) if (root / name).exists())
    for folder in FOLDERS:
        for path in sorted((root / folder).rglob("*")):
            parts = path.relative_to(root).parent.parts
            if path.is_file() and not any(p.startswith(".") or p == "__pycache__" for p in parts):
                yield path


def length_faults(root: Path) -> list[str]:
    """Files to split."""
    return [
        f"{path.relative_to(root).as_posix()}: {count} lines, {LONGEST} at most"
        for path in project_files(root)
        if path.suffix in WRITTEN_BY_HAND and "site" not in path.relative_to(root).parts[:1]
        if (count := len(path.read_text(encoding="utf-8").splitlines())) > LONGEST
    ]


def machine_faults(root: Path) -> list[str]:
    """Places of one machine in what is written for everyone."""
    return [
        f"{path.relative_to(root).as_posix()}:{number}: a machine's place: {found[0].decode()}"
        for path in project_files(root)
        for number, line in enumerate(path.read_bytes().splitlines(), start=1)
        if (found := NOT_OURS_TO_NAME.search(line))
    ]


def plant(root: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    return root


def lines(faults: Iterable[str]) -> str:
    return "\n".join(faults)


def test_imports_run_down() -> None:
    assert python_files(PROJECT, "quoter")
    assert lines(import_faults(PROJECT)) == ""


def test_every_room_has_a_layer() -> None:
    assert lines(room_faults(PROJECT)) == ""


def test_every_folder_says_what_it_is_for() -> None:
    assert lines(package_faults(PROJECT)) == ""


def test_top_level_holds_what_belongs_there() -> None:
    assert lines(top_level_faults(PROJECT)) == ""


def test_files_are_short() -> None:
    assert lines(length_faults(PROJECT)) == ""


def test_no_place_of_one_machine_is_named() -> None:
    assert lines(machine_faults(PROJECT)) == ""


UP = "may not import"
BAD_IMPORTS = [
    ("figures/ops.py", "\nfrom quoter.pricing import margin\n", f":2: figures {UP} pricing"),
    ("figures/ops.py", "import os, quoter.build as b\n", f":1: figures {UP} build"),
    ("engineering/core.py", "from quoter import catalogue\n", f":1: engineering {UP} catalogue"),
    ("pages/render.py", "from ..leaks import guard\n", f":1: pages {UP} leaks"),
    ("pages/render.py", "from .. import cli\n", f":1: pages {UP} cli"),
    ("units.py", "def f():\n    import quoter.figures.ops\n", f":2: units {UP} figures"),
    ("problems.py", "if X:\n    from quoter.units import Unit\n", f":2: problems {UP} units"),
    ("__init__.py", "from quoter.cli import main\n", f":1: quoter {UP} cli"),
    ("cli.py", "from tests import environment\n", f":1: cli {UP} tests"),
]


@pytest.mark.parametrize(("file", "source", "message"), BAD_IMPORTS)
def test_import_that_runs_up_or_sideways_is_caught(
    tmp_path: Path, file: str, source: str, message: str
) -> None:
    plant(tmp_path, {f"quoter/{file}": source})
    assert import_faults(tmp_path) == [f"quoter/{file}{message}"]


def test_imports_down_within_and_outside_are_no_fault(tmp_path: Path) -> None:
    source = (
        "import json\nfrom quoter import __version__, units\nfrom quoter.figures import Figure\n"
        "from quoter.costing.rollup import Costing\nfrom . import material\n"
    )
    plant(tmp_path, {"quoter/costing/labour.py": source})
    assert import_faults(tmp_path) == []


def test_new_room_without_a_layer_is_caught(tmp_path: Path) -> None:
    plant(tmp_path, {"quoter/units.py": "", "quoter/gadgets/a.py": "", "quoter/extras.py": ""})
    assert room_faults(tmp_path) == [
        "quoter/extras: in no layer; give it a place in LAYERS",
        "quoter/gadgets: in no layer; give it a place in LAYERS",
    ]


def test_folder_without_a_purpose_is_caught(tmp_path: Path) -> None:
    plant(tmp_path, {"quoter/__init__.py": "x = 1\n", "tests/laws/test_laws.py": ""})
    assert package_faults(tmp_path) == [
        "quoter/__init__.py: doesn't say what the folder is for",
        "tests/laws: has no __init__.py",
    ]


def test_stray_file_at_the_top_is_caught_and_an_ignored_one_is_not(tmp_path: Path) -> None:
    plant(tmp_path, {".gitignore": "# kept\n/internal/\n*.egg-info/\n", "utils.py": ""})
    plant(tmp_path, {"internal/a": "", "quoter.egg-info/b": "", "site/index.html": ""})
    assert top_level_faults(tmp_path) == ["utils.py: not a thing of the top level"]


def test_long_file_is_caught(tmp_path: Path) -> None:
    plant(tmp_path, {"quoter/long.py": "\n" * 401, "quoter/short.py": "\n" * 400})
    assert length_faults(tmp_path) == ["quoter/long.py: 401 lines, 400 at most"]


@pytest.mark.parametrize(
    "place", ["/" + "work/main", "file:///" + "tmp/x", "https://pypi" + ".org/simple"]
)
def test_place_of_one_machine_is_caught(tmp_path: Path, place: str) -> None:
    plant(tmp_path, {"tests/test_x.py": f"\nPATH = '{place}'\n", "README.md": "a framework/rule\n"})
    (found,) = machine_faults(tmp_path)
    assert found.startswith("tests/test_x.py:2: a machine's place: ")
