"""What every view is: a record that holds exactly what it is declared to hold."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints


@dataclass(frozen=True, slots=True)
class View:
    """What a page may show; every field holds exactly what it is declared to hold.

    A type checker sees only what it is told of: a function put in another's place, or a text that
    carries more than letters, is seen here.
    """

    def __post_init__(self) -> None:
        """Look at every field.

        Raises:
            TypeError: naming the view and the field that holds something else.
        """
        view: object = type(self)  # a type checker takes a class for no key of a cache
        for name, kind, holds in _fields(view):
            value = getattr(self, name)
            if type(value) is not kind and not holds(value):
                where = f"{type(self).__name__}.{name}"
                raise TypeError(f"{where} must not hold a {type(value).__name__}")


Test = Callable[[Any], bool]


@cache
def _fields(view: object) -> tuple[tuple[str, object, Test], ...]:
    """The fields of a view: name, kind, and whether something is of a kind that is no type."""
    return tuple((name, kind, _test_of(kind)) for name, kind in get_type_hints(view).items())


def _test_of(kind: Any) -> Test:
    """Whether something is just of a kind; a class below the declared one is another."""
    origin, inner = get_origin(kind), [_test_of(each) for each in get_args(kind) if each != ...]
    if origin in (UnionType, Union):
        if all(get_origin(each) is None for each in get_args(kind)):
            kinds = frozenset(get_args(kind))
            return lambda value: type(value) in kinds
        return lambda value: any(test(value) for test in inner)
    if origin is Mapping:
        key, item = inner
        return lambda value: (
            type(value) is dict and all(key(k) and item(i) for k, i in value.items())
        )
    if origin is tuple and get_args(kind)[-1] is ...:
        return lambda value: type(value) is tuple and all(map(inner[0], value))
    if origin is tuple:
        return lambda value: (
            type(value) is tuple
            and len(value) == len(inner)
            and all(test(each) for test, each in zip(inner, value, strict=True))
        )
    return lambda value: type(value) is kind


@dataclass(frozen=True, slots=True)
class Coordinates(View):
    """Places and lengths of a drawing as SVG writes them; no text, so it may stand in none.

    The guard takes it as the value of an attribute that places something. Whoever makes it does so
    from public measures, since a length to scale is a number told.
    """

    written: str
