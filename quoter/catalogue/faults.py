"""A fault of one value, as pydantic carries it to where it becomes a Problem."""

from __future__ import annotations

from pydantic_core import PydanticCustomError


def fault(code: str, what: str, hint: str) -> PydanticCustomError:
    """A fault of one value, for `reading` to turn into a Problem at its place.

    `code` names the kind of problem; `what` goes on from the value's name: "'12' needs a unit".
    """
    return PydanticCustomError("catalogue", "{what}", {"code": code, "what": what, "hint": hint})
