"""The page of a comparison: what moved each cost, as tables with bars by cause. For the yard."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from shlex import quote

from babel import Locale

from quoter.analysis.bridge import Bridge, Change
from quoter.analysis.finding import BY_ELEMENT, finding
from quoter.figures.exact import half_up
from quoter.figures.readers import PAPERS
from quoter.pages.charts import BAR_WIDTH, Span
from quoter.pages.environment import own_environment, render
from quoter.pages.figured import decimal
from quoter.pages.money import number
from quoter.phrases import phrase, together

COLOURS = 8  # the last is for all causes that have none of their own
PENCE = 2


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause in words, with its colour in the bars."""

    name: str
    colour: int


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change, each cause's share of it, and the bar of shares with its zero.

    Raising shares run right of the zero, lowering ones left; `about` says the same in words. `id`
    is what commands call the model or option, empty for what has none.
    """

    id: str
    change: Change
    shares: tuple[Decimal, ...]
    pieces: tuple[Span, ...]
    zero: Decimal
    about: str


@dataclass(frozen=True, slots=True)
class Why:
    """How the command begins and ends that explains a line; ids stand between the two."""

    begin: str
    end: str

    @classmethod
    def of(cls, bridge: Bridge, settings: Mapping[str, str] | None = None) -> Why | None:
        """The command for a comparison; None of two results, which no catalogue explains.

        `settings` are what the command line set on the new side, by key.
        """
        if not bridge.by_cause:
            return None
        old, _, since = bridge.old.rpartition(", ")
        new, _, until = bridge.new.rpartition(", ")
        against = f" --against {quote(old)}" if old else ""
        return cls(
            f"quoter why {quote(new) if new else 'CATALOGUE'}",
            f"{against} --since {since} --as-of {until}{_set(settings or {})}",
        )

    def line(self, *ids: str, figure: str = "") -> str:
        """The command for what the ids name."""
        asked = f" --figure {figure}" if figure else ""
        return " ".join([self.begin, *ids]) + asked + self.end


def _set(settings: Mapping[str, str]) -> str:
    return "".join(f" --set {quote(f'{key}={value}')}" for key, value in settings.items())


def change_page(
    bridge: Bridge,
    locale: Locale,
    company: str = "",
    settings: Mapping[str, str] | None = None,
    paper: str = PAPERS[0],
) -> bytes:
    """The page as one file that needs no other.

    Args:
        bridge: the comparison
        locale: whose language it is in
        company: the yard's name, where it is known
        settings: what the command line set on the new side, by key
        paper: what it is printed on
    """
    causes = _causes(bridge)
    rows = _ChangeTable(bridge, [cause.colour for cause in causes], locale)
    models = [
        (model, rows.of([("", model.boat)])[0], rows.of(model.options.items()))
        for model in bridge.models.values()
    ]
    totals = {"": bridge.total} | {id: model.total for id, model in bridge.models.items()}
    return render(
        own_environment(locale, bridge.currency, paper=paper),
        "internal/change.html",
        company=company,
        bridge=bridge,
        finding=finding(bridge),
        note="" if bridge.by_cause else BY_ELEMENT,
        causes=causes,
        colours=COLOURS,
        why=Why.of(bridge, settings),
        totals=rows.of(totals.items()),
        classes=rows.of(("", change) for change in bridge.classes.values()),
        models=models,
    )


def _causes(bridge: Bridge) -> list[Cause]:
    """The causes in their order; the largest get colours of their own."""
    words = bridge.causes.values()
    return [Cause(cause, min(place, COLOURS)) for place, cause in enumerate(words, 1)]


class _ChangeTable:
    """Changes as rows of one page."""

    def __init__(self, bridge: Bridge, colours: Sequence[int], locale: Locale) -> None:
        self._causes: Mapping[str, str] = bridge.causes
        self._colours = colours
        self._currency = bridge.currency
        self._locale = locale

    def of(self, changes: Iterable[tuple[str, Change]]) -> tuple[ChangeRow, ...]:
        """Rows of changes by id, whose bars share one scale and one zero."""
        found = list(changes)
        shares = [
            [decimal(change.shares.get(cause, 0.0)) for cause in self._causes]
            for _, change in found
        ]
        up = max((_sum(row, 1) for row in shares), default=Decimal(0))
        down = max((_sum(row, -1) for row in shares), default=Decimal(0))
        scale = BAR_WIDTH / (up + down) if up + down else Decimal(0)
        return tuple(
            self._row(id, change, row, down * scale, scale)
            for (id, change), row in zip(found, shares, strict=True)
        )

    def _row(
        self, id: str, change: Change, shares: Sequence[Decimal], zero: Decimal, scale: Decimal
    ) -> ChangeRow:
        pieces = []
        right = left = zero
        for share, colour in zip(shares, self._colours, strict=True):
            width = abs(share) * scale
            if share < 0:
                left -= width
            if share:
                start = right if share > 0 else left
                pieces.append(Span(half_up(start, 3), half_up(width, 3), f"cause-{colour}"))
            if share > 0:
                right += width
        return ChangeRow(
            id,
            change,
            tuple(shares),
            tuple(pieces),
            half_up(zero, 3),
            self._about(change, shares),
        )

    def _about(self, change: Change, shares: Sequence[Decimal]) -> str:
        told = [
            together(" ", (words, self._signed(share)))
            for words, share in zip(self._causes.values(), shares, strict=True)
            if half_up(share, PENCE)
        ]
        amount = f"{self._signed(decimal(change.change))} {self._currency}"
        whole = together(": ", (change.name, amount))
        return together(
            "; ", (whole, together(", ", told) if told else phrase("no cause moved it"))
        )

    def _signed(self, amount: Decimal) -> str:
        sign = "+" if half_up(amount, PENCE) > 0 else ""
        return sign + number(amount, self._locale, PENCE)


def _sum(shares: Sequence[Decimal], sign: int) -> Decimal:
    return sum((abs(share) for share in shares if share * sign > 0), Decimal(0))
