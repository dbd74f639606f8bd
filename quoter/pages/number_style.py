"""How a locale writes numbers, learnt once from samples: for pages, and for scripts to do the same.

Babel works out its pattern anew for every number, which takes longer than all else on a page. What
it makes of two large numbers tells how it writes any other with as many decimals.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from decimal import Decimal

Write = Callable[[Decimal], str]
_BODY = re.compile(r"\d.*\d|\d", re.DOTALL)


class StyleError(ValueError):
    """Raised when a way of writing numbers can't be described; the message holds the sample."""


@dataclass(frozen=True, slots=True)
class NumberStyle:
    """What stands before and after a number, and a negative one, and between its digits.

    `sizes` are the digits of the last group of thousands and of those before it; numbers of fewer
    digits than `grouped_from` have none. `digits` are the decimals. With `whole` they are left out
    where they are all nought, as in a list whose prices all are whole.
    """

    digits: int
    before: str
    after: str
    before_negative: str
    after_negative: str
    separator: str
    decimal: str
    sizes: tuple[int, int]
    grouped_from: int
    whole: bool = False

    def as_data(self) -> dict[str, object]:
        """For a script."""
        return asdict(self)

    def written(self, amount: Decimal) -> str:
        """An amount that has just as many decimals."""
        whole, _, decimals = f"{amount.copy_abs():f}".partition(".")
        if len(whole) >= self.grouped_from:
            whole = self.separator.join(reversed([*self._groups(whole)]))
        shown = "" if self.whole and not decimals.strip("0") else f"{self.decimal}{decimals}"
        body = f"{whole}{shown}"
        if amount < 0:
            return f"{self.before_negative}{body}{self.after_negative}"
        return f"{self.before}{body}{self.after}"

    def _groups(self, whole: str) -> Iterator[str]:
        """The digits that stand together, from the last on."""
        size, others = self.sizes
        while whole:
            yield whole[-size:]
            whole, size = whole[:-size], others


def style_of(write: Write, digits: int) -> NumberStyle:
    """The style of a function that writes numbers with so many decimals.

    Raises:
        StyleError: its numbers are not built of digits, one separator and decimals.

    >>> style_of(lambda amount: f"EUR {amount:,.2f}", 2).before
    'EUR '
    """
    sample = write(Decimal(1234567890123).scaleb(-digits) if digits else Decimal(1234567890))
    before, body, after = _parted(sample)
    negative_before, negative_body, negative_after = _parted(
        write(-(Decimal(1234567890123).scaleb(-digits) if digits else Decimal(1234567890)))
    )
    whole = body[: -digits - 1] if digits else body
    decimal = body[-digits - 1] if digits else ""
    separators = {letter for letter in whole if not letter.isdigit()}
    if len(separators) > 1 or negative_body != body or not body.replace(decimal, "").strip():
        raise StyleError(f"numbers are not written as '{sample}' lets expect")
    groups = [len(group) for group in re.split(r"\D", whole)]
    separator = separators.pop() if separators else ""
    grouped_from = next(
        (count for count in (4, 5) if separator and separator in _whole(write, count, digits)), 99
    )
    sizes = (groups[-1], groups[-2]) if len(groups) > 2 else (99, 99)
    return NumberStyle(
        digits=digits,
        before=before,
        after=after,
        before_negative=negative_before,
        after_negative=negative_after,
        separator=separator,
        decimal=decimal,
        sizes=sizes,
        grouped_from=grouped_from,
    )


def _whole(write: Write, count: int, digits: int) -> str:
    """The whole places of a number of so many of them."""
    body = _parted(write(Decimal(10 ** (count - 1))))[1]
    return body[: -digits - 1] if digits else body


def _parted(written: str) -> tuple[str, str, str]:
    found = _BODY.search(written)
    if found is None:
        raise StyleError(f"there is no number in '{written}'")
    return written[: found.start()], found[0], written[found.end() :]
