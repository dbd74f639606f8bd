"""The base of every catalogue record: immutable, no unknown keys, and it knows its place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, PrivateAttr, model_validator
from pydantic.functional_validators import ModelWrapValidatorHandler

from quoter.catalogue.fields import fault, list_of_one
from quoter.catalogue.source import Block, Text
from quoter.problems import Place, quoted

NOWHERE = Place("")
EXPECTED = "expected"
R = TypeVar("R", bound="CatalogueRecord")
T = TypeVar("T")
Many = Annotated[tuple[T, ...], BeforeValidator(list_of_one)]


class CatalogueRecord(BaseModel):
    """A block of the catalogue after reading; `place` is where it begins."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)
    # Keys that earlier catalogues had here -> what to write now.
    departed: ClassVar[Mapping[str, str]] = {}
    _place: Place = PrivateAttr(default_factory=lambda: NOWHERE)
    _expected: Any = PrivateAttr(default=None)

    @model_validator(mode="wrap")
    @classmethod
    def _read(cls: type[R], raw: Any, handler: ModelWrapValidatorHandler[R]) -> R:
        if not isinstance(raw, Block):
            what = (quoted(raw) if raw else "nothing") if isinstance(raw, Text) else "a list"
            hint = f"write keys with values, for example '{next(iter(cls.model_fields))}: …'"
            raise fault("wrong-structure", f"holds {what} where keys belong", hint)
        keys = dict(raw)
        expected = keys.pop(EXPECTED, None)
        record = handler(keys)
        record._place, record._expected = raw.place, expected
        return record

    @property
    def place(self) -> Place:
        """Where the record begins."""
        return self._place

    @property
    def expected(self) -> Any:
        """What its `expected` says, as written: the values that are meant though unusual, and why.

        No field of any record's own, since a block of every kind may have it.
        """
        return self._expected
