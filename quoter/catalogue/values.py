"""How a text of the catalogue is read: as a word, an id, or by a check of its own.

Quantities are read by `measures`.
Each reading stands in the `Annotated` type of a record's field: it turns a `Text` into a Figure or
a checked text, or says what was found and what would be right. Each also describes itself for the
JSON Schema that editors use.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from quoter.catalogue.faults import fault
from quoter.catalogue.source import Items, Text
from quoter.intake import LONGEST_TEXT
from quoter.problems import nearest, quoted


def text_of(raw: object) -> Text:
    """The scalar itself, refusing a block or a list where a single value is expected."""
    if isinstance(raw, Text):
        return raw
    kind = "a list" if isinstance(raw, Items) else "keys"
    raise fault(
        "wrong-structure",
        f"holds {kind} where one value belongs",
        "write a single value after the key",
    )


def need_short(text: str) -> None:
    """Refuse a text that nobody would read to its end."""
    if len(text) > LONGEST_TEXT:
        hint = f"at most {LONGEST_TEXT} characters fit"
        raise fault("too-much", f"{quoted(text)} has {len(text)} characters", hint)


class ReadAs:
    """How a text is read: stands in `Annotated[...]`, for pydantic and for the JSON Schema."""

    __slots__ = ()

    def __call__(self, raw: object) -> object:
        """The meaning of a raw value, or a fault."""
        raise TypeError(f"{type(self).__name__} does not say how to read {raw!r}")

    def schema(self) -> dict[str, Any]:
        """What an editor should know of the value."""
        return {"type": "string"}

    @property
    def in_words(self) -> str:
        """What is to be written, as the reference of keys says it."""
        return "a text"

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read with this object and nothing else."""
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(
        self, _: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Describe with this object."""
        return self.schema()


@dataclass(frozen=True, slots=True)
class Maybe(ReadAs):
    """Reads a cell that may be left empty."""

    inner: ReadAs

    def __call__(self, raw: object) -> object:
        """None for an empty cell, else what the inner reading makes of it."""
        return self.inner(raw) if text_of(raw).strip() else None

    def schema(self) -> dict[str, Any]:
        """As the inner reading."""
        return self.inner.schema()

    @property
    def in_words(self) -> str:
        """As the inner reading."""
        return self.inner.in_words


@dataclass(frozen=True, slots=True)
class OneOf(ReadAs):
    """Reads one of a few words."""

    words: tuple[str, ...]

    def __call__(self, raw: object) -> str:
        """The word itself, or a fault that names the nearest."""
        text = text_of(raw)
        if not text.strip():
            raise fault("no-value", "has no value", nearest("", self.words))
        if text not in self.words:
            raise fault(
                "unknown-word",
                f"{quoted(text)} is no word that fits here",
                nearest(text, self.words),
            )
        return str(text)

    def schema(self) -> dict[str, Any]:
        """The words to choose from."""
        return {"type": "string", "enum": list(self.words)}

    @property
    def in_words(self) -> str:
        """The words to choose from, one after the other."""
        return "one of " + ", ".join(f"`{word}`" for word in self.words)


def choice(*words: str) -> OneOf:
    """How to read one of a few words."""
    return OneOf(words)


@dataclass(frozen=True, slots=True)
class Plain(ReadAs):
    """Reads a text by a function that checks it."""

    check: Callable[[Text], Any]
    described: tuple[tuple[str, Any], ...] = (("type", ("string", "number", "boolean")),)
    called: str = "a text"

    def __call__(self, raw: object) -> Any:
        """The checked text, or a fault."""
        return self.check(text_of(raw))

    def schema(self) -> dict[str, Any]:
        """As described."""
        return dict(self.described)

    @property
    def in_words(self) -> str:
        """What such a text is called."""
        return self.called


@dataclass(frozen=True, slots=True)
class Worded(Plain):
    """Reads a text that customers read, each in their own language.

    One that `keeps` may stay as it is, as a proper name may; where a text `joins` records that
    have the same words, all of them are translated alike.
    """

    called: str = "a text for customers, which is translated"
    keeps: bool = False
    joins: bool = False


@dataclass(frozen=True, slots=True)
class Ref(ReadAs):
    """Reads an identifier that must be the id of a record of one of these kinds."""

    kinds: tuple[str, ...]

    def __call__(self, raw: object) -> Text:
        """The identifier; that the record exists is checked when all are read."""
        text = text_of(raw)
        if not text.strip():
            raise fault("no-value", "has no value", f"write the id of a {self.named}")
        return text

    def schema(self) -> dict[str, Any]:
        """What it names."""
        return {"type": "string", "description": self.in_words}

    @property
    def in_words(self) -> str:
        """Whose id is to be written."""
        return f"the id of {'an' if self.named[0] in 'aeiou' else 'a'} {self.named}"

    @property
    def named(self) -> str:
        """What people call a record of these kinds."""
        for kind, together in (("core", "part"), ("resin", "material")):
            if len(self.kinds) > 1 and kind in self.kinds:
                return together
        return "bought item" if self.kinds == ("bought",) else self.kinds[0].replace("_", " ")


def ref(*kinds: str) -> Ref:
    """How to read the id of another record."""
    return Ref(kinds)
