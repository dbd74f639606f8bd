"""Every public formula of engineering and pricing, with its docstring's units and example."""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from quoter import engineering
from quoter.pricing import chance, exchange, margin, repricing, surcharge
from tests.test_docstrings import BRACKETS, described, sections


@dataclass(frozen=True)
class Formula:
    """A function with what its docstring says: a unit for each argument, the result's, an example.

    An example's argument is a number, or a list of numbers of one unit.
    """

    function: Callable[..., Any]
    units: tuple[str, ...]
    returns: str
    example: tuple[Any, ...]

    @property
    def name(self) -> str:
        return f"{self.function.__module__.rpartition('.')[2]}.{self.function.__name__}"

    def with_units(self, make: Callable[[float, str], Any]) -> list[Any]:
        """The example's arguments, each number made into something that carries its unit."""
        return [
            [make(number, text) for number in given]
            if isinstance(given, list)
            else make(given, text)
            for given, text in zip(self.example, self.units, strict=True)
        ]


def formula_of(function: Callable[..., Any]) -> Formula:
    docstring = inspect.getdoc(function) or ""
    found = sections(docstring)
    units = tuple(_unit(text) for text in described(found["Args"]).values())
    return Formula(function, units, _unit(found["Returns"]), _example(function, docstring))


def _unit(text: str) -> str:
    """The last [unit] of a description; empty for a plain number; money is in EUR."""
    named = str(BRACKETS.findall(text)[-1])
    return "" if named == "1" else named.replace("money", "EUR")


def _example(function: Callable[..., Any], docstring: str) -> tuple[Any, ...]:
    for example in doctest.DocTestParser().get_examples(docstring):
        for node in ast.walk(ast.parse(example.source)):
            if isinstance(node, ast.Call) and ast.unparse(node.func) == function.__name__:
                return tuple(ast.literal_eval(argument) for argument in node.args)
    raise LookupError(f"{function.__name__}: its docstring shows no call of it")


def every_formula() -> Iterator[Formula]:
    found = pkgutil.iter_modules(engineering.__path__, f"{engineering.__name__}.")
    priced = (margin, exchange, repricing, surcharge, chance)
    for name in (*(module.name for module in found), *(module.__name__ for module in priced)):
        module = importlib.import_module(name)
        for called, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == name and not called.startswith("_"):
                yield formula_of(function)


FORMULAS = tuple(every_formula())
