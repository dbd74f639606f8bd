"""The sheet for named figures that no table shows, and for parts of formulas that grew too long."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from quoter.figures import Figure
from quoter.figures.graph import in_order
from quoter.figures.trail import expression, is_stop
from quoter.workbook.sources import Nearest, in_words, nearest_to, source_of
from quoter.workbook.table import Column, Row, Sheet, Table

TABLE = "workings"
VALUE = "Value"
HEADING = (
    "Steps between the inputs and the results that no other sheet shows, each with its formula "
    "and, in words, what it is made of."
)
_LONGEST_WORDS = 600


@dataclass(slots=True)
class Workings:
    """Figures with a row on the sheet, in order, and the labels of those that have none."""

    title: str
    figures: list[Figure]
    labels: dict[Figure, str] = field(default_factory=dict)
    nearest: dict[Figure, Nearest] = field(default_factory=dict)

    def add_part(self, figure: Figure, whole: Figure) -> int:
        """Give a part of a formula its own row; the number of rows before it."""
        name = whole.label or self.labels.get(whole, "") or whole.key or "a formula"
        self.labels[figure] = name if name.startswith("part of ") else f"part of {name}"
        self.figures.append(figure)
        return len(self.figures) - 1

    def sheet(self) -> Sheet:
        """The sheet as it stands."""
        words = _lengths_in_words(self.figures)
        self.nearest |= nearest_to(figure for figure in self.figures if figure not in self.nearest)
        rows = tuple(self._row(figure, words) for figure in self.figures)
        columns = (Column("Figure"), Column(VALUE), Column("How it is worked out", width=64))
        return Sheet(
            self.title,
            HEADING,
            (Table(columns, rows, name=TABLE),),
        )

    def _row(self, figure: Figure, words: Mapping[Figure, int]) -> Row:
        label = figure.label or self.labels.get(figure, "") or figure.key
        how = "as given" if not figure.args else "long: see the formula in the cell"
        if figure.args and words[figure] <= _LONGEST_WORDS:
            how = expression(figure)
        return Row((label, figure, how), source_of(figure) or in_words(self.nearest[figure]))


def _lengths_in_words(figures: Iterable[Figure]) -> dict[Figure, int]:
    """About how long each figure's expression is, known without writing it out."""
    lengths: dict[Figure, int] = {}
    for figure in in_order(figures):
        lengths[figure] = 3 + sum(
            len(arg.label) if is_stop(arg) else 3 + lengths[arg] for arg in figure.args
        )
    return lengths
