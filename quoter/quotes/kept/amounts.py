"""The numbers that a record of a quote holds: what can be meant, and what a cell can show."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field
from pydantic_core import PydanticCustomError

MOST_DIGITS = 60  # of an amount
LARGEST, SMALLEST = 14, -60  # powers of ten; no computed amount of a record is finer
SHARE_DECIMALS = 30  # of a fraction: as many as a spreadsheet shows of a number
MOST = 999_999  # of one line, and of revisions
LONGEST_TEXT = 10_000  # characters; a catalogue's have 2,000, a spreadsheet's cell takes 32,767


def _amount(number: Decimal) -> Decimal:
    """An amount that can be written out: ``1e999999`` would fill all pages of a quote."""
    _, digits, exponent = number.as_tuple()
    far = number.adjusted() > LARGEST or not isinstance(exponent, int) or exponent < SMALLEST
    if far or len(digits) > MOST_DIGITS:
        raise PydanticCustomError("amount", "it is a number that nobody can mean")
    return number


def _share(number: Decimal) -> Decimal:
    """A fraction that a cell can show with all its decimals."""
    exponent = _amount(number).normalize().as_tuple().exponent
    if not isinstance(exponent, int) or exponent < -SHARE_DECIMALS:
        raise PydanticCustomError("share", "it is a fraction that nobody can mean")
    return number


Amount = Annotated[Decimal, AfterValidator(_amount)]
Above = Annotated[Amount, Field(gt=0)]
Share = Annotated[Decimal, AfterValidator(_share)]
Count = Annotated[int, Field(ge=0, le=MOST)]
Parts = Annotated[Above, Field(le=MOST)]
Quantity = Count | Parts  # whole numbers are always of the first kind
Currency = Annotated[str, Field(pattern="^[A-Z]{3}$")]
Number = Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{4,12}$")]  # without a revision


class Frozen(BaseModel):
    """A part of a record: immutable, and nothing in it is unknown."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_max_length=LONGEST_TEXT)
