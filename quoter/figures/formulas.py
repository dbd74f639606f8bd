"""Which formulas a figure comes from: each puts its name on what it returns."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from types import FunctionType, ModuleType
from typing import Any

from quoter.figures.figure import Figure
from quoter.figures.graph import in_order


def formulas_behind(outputs: Iterable[Figure]) -> set[str]:
    """The formulas that gave the outputs or anything they rest on, as ``module.name``."""
    return {name for figure in in_order(outputs) for name in figure.by}


def remember_formulas(modules: Sequence[ModuleType]) -> None:
    """Have every public function of the modules put its name on the figures that it returns.

    It is the same function to all who call it, also to formulas of these modules. What it only
    hands through, an argument or a figure that already has a key, is no work of its own.
    """
    instead = {
        function: _remembering(function)
        for module in modules
        for name, function in vars(module).items()
        if isinstance(function, FunctionType)
        and function.__module__ == module.__name__
        and not name.startswith("_")
    }
    for module in modules:
        for name, value in list(vars(module).items()):
            if isinstance(value, FunctionType) and value in instead:
                setattr(module, name, instead[value])


def _remembering(formula: FunctionType) -> Callable[..., Any]:
    own = (f"{formula.__module__}.{formula.__name__}",)

    @wraps(formula)
    def remembered(*args: Any, **named: Any) -> Any:
        result = formula(*args, **named)
        if type(result) is Figure and not result.key and not _handed(result, args):
            object.__setattr__(result, "by", result.by + own)
        return result

    return remembered


def _handed(result: Figure, args: tuple[Any, ...]) -> bool:
    """Whether the result is one of the arguments, or of a list among them."""
    return any(
        result is arg or (type(arg) is not Figure and isinstance(arg, Sequence) and result in arg)
        for arg in args
    )
