"""What a page may show of a drawing of parts: coordinates, words of few, and public measures."""

from __future__ import annotations

from dataclasses import dataclass

from quoter.pages.public.view import Coordinates, View
from quoter.pricing.public import PublicMeasure


@dataclass(frozen=True, slots=True)
class LabelView(View):
    """A dimension line and its length; `what` is radius or diameter, which have a sign, or side."""

    what: str
    line: Coordinates
    x: Coordinates
    y: Coordinates
    anchor: str
    turn: Coordinates
    length: PublicMeasure


@dataclass(frozen=True, slots=True)
class LayersView(View):
    """So many layers of glass in one form, and how far down the words that say so stand."""

    form: str
    count: int
    y: Coordinates


@dataclass(frozen=True, slots=True)
class FittedView(View):
    """So many fittings of a kind; `edge` is where they stand, empty where all round."""

    kind: str
    count: int
    edge: str


@dataclass(frozen=True, slots=True)
class SectionView(View):
    """A section: its edges, its core, its layers as lines.

    Its words stand at `x`: the thickness at `thickness_y`, that of the core at `core_y`.
    """

    slab: Coordinates
    core: Coordinates | None
    plies: Coordinates | None
    line: Coordinates | None
    x: Coordinates
    thickness: PublicMeasure | None
    thickness_y: Coordinates
    core_thickness: PublicMeasure | None
    core_y: Coordinates
    layers: tuple[LayersView, ...]


@dataclass(frozen=True, slots=True)
class OutlineView(View):
    """What is told of an outline in words; of a circle, the width is its diameter."""

    width: PublicMeasure
    height: PublicMeasure
    radius: PublicMeasure | None
    round: bool


@dataclass(frozen=True, slots=True)
class PartView(View):
    """A part as it is drawn: its outline, what is on it, further copies, and what words tell.

    `copies` are moves from the first; `times` is where the number stands of those not drawn.
    """

    id: str
    what: str
    view: str
    count: int
    outline: Coordinates
    clear: Coordinates | None
    fittings: Coordinates | None
    copies: tuple[Coordinates, ...]
    times: tuple[Coordinates, Coordinates] | None
    labels: tuple[LabelView, ...]
    section: SectionView | None
    told: OutlineView
    clear_told: OutlineView | None
    fitted: tuple[FittedView, ...]


@dataclass(frozen=True, slots=True)
class DrawingView(View):
    """The drawing of an option: how large it is on paper, and its parts."""

    id: str
    box: Coordinates
    width: Coordinates
    height: Coordinates
    parts: tuple[PartView, ...]
