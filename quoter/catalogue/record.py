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
R = TypeVar("R", bound="CatalogueRecord")
T = TypeVar("T")
Many = Annotated[tuple[T, ...], BeforeValidator(list_of_one)]


class CatalogueRecord(BaseModel):
    """A block of the catalogue after reading; `place` is where it begins."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)
    # Keys that earlier catalogues had here -> what to write now.
    departed: ClassVar[Mapping[str, str]] = {}
    _place: Place = PrivateAttr(default_factory=lambda: NOWHERE)

    @model_validator(mode="wrap")
    @classmethod
    def _read(cls: type[R], raw: Any, handler: ModelWrapValidatorHandler[R]) -> R:
        if not isinstance(raw, Block):
            what = (quoted(raw) if raw else "nothing") if isinstance(raw, Text) else "a list"
            hint = f"write keys with values, for example '{next(iter(cls.model_fields))}: …'"
            raise fault("wrong-structure", f"holds {what} where keys belong", hint)
        record = handler(dict(raw))
        record._place = raw.place
        return record

    @property
    def place(self) -> Place:
        """Where the record begins."""
        return self._place
