"""An engineering formula's docstring tells its equation, units, limits, source and an example."""

from __future__ import annotations

import ast
import doctest
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from quoter.units import UnitError, unit

PROJECT = Path(__file__).resolve().parent.parent
ENGINEERING = PROJECT / "quoter" / "engineering"
PRICED = tuple(
    PROJECT / "quoter" / "pricing" / f"{name}.py"
    for name in ("margin", "exchange", "repricing", "surcharge", "chance")
)

HEADER = re.compile(r"(Args|Returns|Raises|Limits|Source):(.*)")
ENTRY = re.compile(r"( +)(\*{0,2}\w+):(.*)")
BRACKETS = re.compile(r"\[([^\[\]]*)\]")
EQUATION = re.compile(r" +\S.* = \S")


def sections(docstring: str) -> dict[str, str]:
    """The text under each header, up to the next header or unindented line."""
    found: dict[str, list[str]] = {}
    inside: list[str] | None = None
    for line in docstring.splitlines():
        if header := HEADER.fullmatch(line):
            inside = found.setdefault(header[1], [header[2]])
        elif inside is not None and (not line or line.startswith(" ")):
            inside.append(line)
        else:
            inside = None
    return {name: "\n".join(text).rstrip() for name, text in found.items()}


def described(arguments: str) -> dict[str, str]:
    """Name and description of each entry; a deeper line continues the one above."""
    entries: dict[str, str] = {}
    indent = name = ""
    for line in arguments.splitlines():
        entry = ENTRY.fullmatch(line)
        if entry and entry[1] == (indent or entry[1]):
            indent, name = entry[1], entry[2]
            entries[name] = entry[3]
        elif name:
            entries[name] += " " + line.strip()
    return entries


def parameters(function: ast.FunctionDef) -> list[str]:
    given = function.args
    names = [a.arg for a in (*given.posonlyargs, *given.args)]
    names += [f"*{given.vararg.arg}"] if given.vararg else []
    names += [a.arg for a in given.kwonlyargs]
    return names + ([f"**{given.kwarg.arg}"] if given.kwarg else [])


def unit_fault(text: str) -> str:
    """What is wrong with the [unit] of a description; money stands for the home currency."""
    brackets = BRACKETS.findall(text)
    if not brackets:
        return "has no [unit]"
    try:
        unit(brackets[-1].replace("money", "EUR"))
    except UnitError as fault:
        return str(fault)
    return "" if brackets[-1] else "has an empty [unit]; a plain number has [1]"


def function_faults(function: ast.FunctionDef) -> Iterator[str]:
    docstring = ast.get_docstring(function)
    if not docstring:
        yield "has no docstring"
        return
    if not docstring.splitlines()[0].endswith("."):
        yield "doesn't begin with a sentence on one line"
    if not any(EQUATION.match(line) for line in docstring.partition("Args:")[0].splitlines()):
        yield "shows no equation before Args:"
    found = sections(docstring)
    entries = described(found.get("Args", ""))
    if list(entries) != parameters(function):
        yield f"Args: name {list(entries)}, the signature {parameters(function)}"
    for name, text in {**entries, "Returns": found.get("Returns", "")}.items():
        if fault := unit_fault(text):
            yield f"{name}: {fault}"
    for name in ("Limits", "Source"):
        if not found.get(name, "").strip():
            yield f"has no {name}:"
    if not any(example.want for example in doctest.DocTestParser().get_examples(docstring)):
        yield "has no >>> example with its result"


def public_functions(file: Path) -> list[ast.FunctionDef]:
    module = ast.parse(file.read_text(encoding="utf-8"))
    found = [node for node in module.body if isinstance(node, ast.FunctionDef)]
    return [function for function in found if not function.name.startswith("_")]


def faults_in(where: Path, root: Path) -> list[str]:
    files = sorted(where.rglob("*.py")) if where.is_dir() else [where]
    return [
        f"{file.relative_to(root).as_posix()}:{function.lineno}: {function.name}: {fault}"
        for file in files
        for function in public_functions(file)
        for fault in function_faults(function)
    ]


def test_every_formula_tells_its_equation_units_limits_source_and_example() -> None:
    assert any(public_functions(file) for file in ENGINEERING.rglob("*.py"))
    assert all(public_functions(file) for file in PRICED)
    found = [fault for where in (ENGINEERING, *PRICED) for fault in faults_in(where, PROJECT)]
    assert "\n".join(found) == ""


GOOD = '''def resin_mass(area: N, fibre_weight: N, fibre_fraction: N) -> N:
    """Resin held by one ply, from its fibre mass fraction.

        resin = area * fibre_weight * (1 - fibre_fraction) / fibre_fraction

    Args:
        area: laminated area,
            flanges included [m2]
        fibre_weight: dry weight of the reinforcement [kg/m2]
        fibre_fraction: fibre mass / laminate mass [1]
    Returns:
        resin mass, no waste [kg]
    Limits: 0.2 <= fibre_fraction <= 0.8
    Source: mass balance (definition of the fraction);
        no empirical constant.

    >>> round(resin_mass(10.0, 0.45, 0.30), 6)
    10.5
    """
    return area * fibre_weight * (1 - fibre_fraction) / fibre_fraction
'''
PLANTED = [
    (GOOD[: GOOD.index(":\n") + 2] + "    return 1\n", ["has no docstring"]),
    (GOOD.replace("fraction.\n", "fraction\n"), ["doesn't begin with a sentence on one line"]),
    (GOOD.replace("resin = area", "area"), ["shows no equation before Args:"]),
    (GOOD.replace("(area: N", "(surface: N"), ["Args: name ['area', 'fibre_weight', "
     "'fibre_fraction'], the signature ['surface', 'fibre_weight', 'fibre_fraction']"]),
    (GOOD.replace("reinforcement [kg/m2]", "reinforcement"), ["fibre_weight: has no [unit]"]),
    (GOOD.replace("included [m2]", "included []"),
     ["area: has an empty [unit]; a plain number has [1]"]),
    (GOOD.replace("waste [kg]", "waste"), ["Returns: has no [unit]"]),
    (GOOD.replace("    Returns:\n        resin mass, no waste [kg]\n", ""),
     ["Returns: has no [unit]"]),
    (GOOD.replace("    Limits: 0.2 <= fibre_fraction <= 0.8\n", ""), ["has no Limits:"]),
    (GOOD.replace("mass balance (definition of the fraction);\n        no empirical constant.", ""),
     ["has no Source:"]),
    (GOOD.replace(">>> ", ""), ["has no >>> example with its result"]),
    (GOOD.replace("    10.5\n", ""), ["has no >>> example with its result"]),
]  # fmt: skip


@pytest.mark.parametrize(("source", "faults"), PLANTED)
def test_what_a_docstring_lacks_is_named(tmp_path: Path, source: str, faults: list[str]) -> None:
    (tmp_path / "laminate.py").write_text(source, encoding="utf-8")
    assert faults_in(tmp_path, tmp_path) == [f"laminate.py:1: resin_mass: {f}" for f in faults]


def test_a_unit_that_is_none_is_named(tmp_path: Path) -> None:
    source = GOOD.replace("[kg/m2]", "[see below]")
    (tmp_path / "laminate.py").write_text(source, encoding="utf-8")
    (fault,) = faults_in(tmp_path, tmp_path)
    assert fault.startswith("laminate.py:1: resin_mass: fibre_weight: unknown unit 'see'")


def test_the_shape_itself_is_accepted_and_private_functions_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "laminate.py").write_text(GOOD + "\n\ndef _part(x):\n    return x\n", "utf-8")
    assert faults_in(tmp_path, tmp_path) == []
