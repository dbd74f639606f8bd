"""What the pages of questions show: the planned year, and the answers of one option."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from quoter.pages.charts import Bars, Lines


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit; `percent` where people read it as a percentage."""

    value: Decimal
    unit: str
    percent: bool = False


@dataclass(frozen=True, slots=True)
class BoatRow:
    """A model: boats a year, and the margin a year with its options."""

    id: str
    name: str
    boats: Decimal
    margin: Decimal


@dataclass(frozen=True, slots=True)
class DemandRow:
    """An option or package of a model: take rate, units and margin a year.

    `page` is whether there is a page of answers about it.
    """

    model_id: str
    model: str
    id: str
    name: str
    take: Decimal
    units: Decimal
    margin: Decimal
    page: bool


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part, what tells its shapes and colours apart, and how many a year are needed."""

    name: str
    variant: str
    units: Decimal


@dataclass(frozen=True, slots=True)
class MouldRow:
    """A mould's pulls a year, and against them what its cost is spread over and what it can give.

    `occupied` is in hours a pull; `capacity` and `sets` are None without a calendar.
    """

    name: str
    pulls: Decimal
    planned: Decimal
    occupied: Decimal
    capacity: Decimal | None
    sets: Decimal | None
    over_planned: bool


@dataclass(frozen=True, slots=True)
class StationRow:
    """A station's hours a year, its load against its capacity in `unit`, and its overhead."""

    name: str
    hours: Decimal
    load: Decimal
    capacity: Decimal
    unit: str
    base: str
    utilisation: Decimal
    budget: Decimal
    absorbed: Decimal
    under: Decimal


@dataclass(frozen=True, slots=True)
class NeedRow:
    """A material a month: as counted, in the unit it is packed in, in whole packs, and its cost."""

    name: str
    need: Amount
    bought: Amount | None
    pack: str
    packs: Decimal | None
    cost: Decimal


@dataclass(frozen=True, slots=True)
class ThresholdRow:
    """A yearly threshold for emissions [kg], and how much of it the plan uses."""

    what: str
    limit: Decimal
    used: Decimal


@dataclass(frozen=True, slots=True)
class PlanView:
    """The planned year; stations stand with the busiest first, as do their bars."""

    models: tuple[BoatRow, ...]
    options: tuple[DemandRow, ...]
    parts: tuple[PartRow, ...]
    moulds: tuple[MouldRow, ...]
    stations: tuple[StationRow, ...]
    loads: Bars
    materials: tuple[NeedRow, ...]
    thresholds: tuple[ThresholdRow, ...]
    emission: Decimal
    boats: Decimal
    margin: Decimal
    material: Decimal
    hours: Decimal
    budget: Decimal
    absorbed: Decimal
    under: Decimal


@dataclass(frozen=True, slots=True)
class ElementRow:
    """An element of a cost, and its share of the whole."""

    name: str
    cost: Decimal
    share: Decimal


@dataclass(frozen=True, slots=True)
class EffectRow:
    """An input as written, where that stands, and what a rise of it does to the cost.

    `beyond` is whether a share would rise beyond 100 %.
    """

    name: str
    written: str
    place: str
    effect: Decimal
    beyond: bool


@dataclass(frozen=True, slots=True)
class RangeRow:
    """An uncertain input: low, likely and high, and its share of the cost's variance."""

    name: str
    low: Amount
    likely: Amount
    high: Amount
    shape: str
    place: str
    share: Decimal


@dataclass(frozen=True, slots=True)
class RiskView:
    """How sure a cost is; `ranges` is empty where no input carries one."""

    mean: Decimal
    deviation: Decimal
    p10: Decimal
    p50: Decimal
    p90: Decimal
    ranges: tuple[RangeRow, ...]
    shares: Bars


@dataclass(frozen=True, slots=True)
class CutRow:
    """An element group, and the cut in it alone that would close the gap; None if it costs
    nothing."""

    name: str
    cost: Decimal
    cut: Decimal | None


@dataclass(frozen=True, slots=True)
class TargetView:
    """The cost the price allows at the target margin; `gap` is cost above it."""

    buyer: str
    list_price: Decimal
    net: Decimal
    allowed: Decimal
    gap: Decimal
    met: bool
    cuts: tuple[CutRow, ...]


@dataclass(frozen=True, slots=True)
class SecondRow:
    """A mould: what one set can give, what another costs a year, and from where on it pays."""

    mould: str
    capacity: Decimal
    charge: Decimal
    contribution: Decimal
    pays_from: Decimal
    pulls: Decimal | None


@dataclass(frozen=True, slots=True)
class VolumeView:
    """A moulded part: its cost by pulls a year, with the sets that takes, as numbers and drawn."""

    name: str
    variant: str
    moulds: tuple[str, ...]
    quantity: Decimal
    volumes: tuple[int, ...]
    costs: tuple[Decimal, ...]
    sets: tuple[int, ...]
    chart: Lines
    known: bool
    second: tuple[SecondRow, ...]


@dataclass(frozen=True, slots=True)
class AlternativeRow:
    """A part laid by hand and the closed-mould panel in its place; `volume` None: never pays."""

    by_hand: str
    by_hand_cost: Decimal
    panel: str
    panel_cost: Decimal
    volume: int | None


@dataclass(frozen=True, slots=True)
class AnswerView:
    """The page of one option on one model; mass and emission in kg."""

    model_id: str
    model: str
    id: str
    name: str
    standard: bool
    cost: Decimal
    variable: Decimal
    hours: Decimal
    mass: Decimal
    emission: Decimal
    elements: tuple[ElementRow, ...]
    element_bars: Bars
    effects: tuple[EffectRow, ...]
    effect_bars: Bars
    inputs: int
    risk: RiskView
    target: TargetView | None
    volumes: tuple[VolumeView, ...]
    alternatives: tuple[AlternativeRow, ...]
