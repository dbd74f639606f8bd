"""What a shop paper may show: materials, moulds and work with their times, and nothing of money.

No attribute here can hold a price, a cost or a supplier, so that what hangs on a wall can't
show one.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from quoter.pages.picture_views import Amount, Drawing, DrawnRow


@dataclass(frozen=True, slots=True)
class Beside:
    """What else a row's amounts are told in: so many `times` the number in this other unit."""

    times: Decimal
    unit: str
    digits: int


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """A material of one part, net in it and issued for it: of one and of a batch, all in `unit`.

    `area` is that of a gelcoated face, or of one layer of a ply that is laid `layers` times.
    What is counted in `pieces` is issued in whole ones, rounded up.
    """

    name: str
    use: str
    kind: str
    area: Amount | None
    layers: Decimal | None
    net: Decimal
    issued: Decimal
    batch_net: Decimal
    batch_issued: Decimal
    unit: str
    digits: int
    pieces: bool = False
    beside: Beside | None = None


@dataclass(frozen=True, slots=True)
class Dose:
    """Catalyst for one mix: by mass, and by volume where its density is known."""

    mass: Amount
    volume: Amount | None


@dataclass(frozen=True, slots=True)
class Pots:
    """A mix that is parted into pots that are all alike, each with the same dose.

    There are `count` pots in all: for the batch, or for each part that takes a shot of its own.
    """

    count: Decimal
    each: Amount
    dose: Dose
    per_part: bool


@dataclass(frozen=True, slots=True)
class MixRow:
    """Gelcoat, resin or a foam's component to mix, and the catalyst that goes with it, if any.

    `share` is the catalyst's, of what is issued, with `share_digits` decimals of its percentage;
    `one` and `all` are its doses for one part and for the batch. `pots` part the batch, where a
    bucket or a pot life limits a pot; `sprayed` is what a gun applies, which may dose by itself.
    """

    what: MaterialRow
    catalyst: MaterialRow | None
    share: Decimal | None
    share_digits: int = 0
    one: Dose | None = None
    all: Dose | None = None
    pots: Pots | None = None
    sprayed: bool = False


@dataclass(frozen=True, slots=True)
class CheckRow:
    """What is measured or looked at in a step, and between which limits it is right."""

    what: str
    least: Amount | None
    most: Amount | None


@dataclass(frozen=True, slots=True)
class CutRow:
    """A ply in laying order: its number, its size in words, and how many pieces one part takes.

    What the machine cuts has its area in the place of a size, and no pieces.
    """

    number: int
    what: MaterialRow
    stage: str
    direction: str
    form: str
    size: str
    pieces: Decimal | None


@dataclass(frozen=True, slots=True)
class MachineRow:
    """A ply that the machine cuts: its number, and its area for a batch of boats."""

    number: int
    area: str


@dataclass(frozen=True, slots=True)
class RollView:
    """A glass on its roll for a batch of boats: how much of the roll, and which piece lies where.

    `numbers` are plies of the list with the pieces of each.
    """

    name: str
    width: str
    length: str
    utilisation: Decimal | None
    pieces: int
    numbers: tuple[tuple[int, int], ...]
    scale: int
    rows: tuple[DrawnRow, ...]
    by_machine: tuple[MachineRow, ...]
    machine_area: str
    machine_length: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """An operation: times for one and for a batch in minutes, cure in hours.

    `enters` names what comes in here; `passes` is the fraction that goes on, None for all.
    """

    number: int
    name: str
    station: str
    crew: Decimal
    setup: Decimal | None
    one: Decimal
    batch: Decimal
    cure: Decimal | None
    machine: Decimal | None
    passes: Decimal | None
    enters: tuple[str, ...]
    hazards: tuple[str, ...]
    checks: tuple[CheckRow, ...] = ()


@dataclass(frozen=True, slots=True)
class Cavity:
    """A zone of a closed mould: the gap between its bare faces, and the core that lies in it."""

    zone: str
    gap: Amount
    core: Amount | None


@dataclass(frozen=True, slots=True)
class Clamp:
    """How far below the atmosphere flange and cavity are drawn, on which area, and what it presses.

    `force` is what closes the mould at these settings; `most` what a perfect vacuum would on both,
    which is one `atmosphere`.
    """

    flange: Amount
    flange_area: Amount
    cavity: Amount
    cavity_area: Amount
    force: Amount
    most: Amount
    atmosphere: Amount


@dataclass(frozen=True, slots=True)
class Bag:
    """How far below the atmosphere a bag is drawn, what presses the laminate."""

    drawn: Amount
    atmosphere: Amount


@dataclass(frozen=True, slots=True)
class PartPaper:
    """A part, or the option's own work: how many of it one boat takes, and its batch.

    `area`, `perimeter` and `volume` are as far as its shape gives them. `cuts` are
    cut from rolls, `goods` come ready-made, and `mix` is the parts by mass of a foam's components
    A and B. `passed` is the fraction that comes through all steps, None for all; `time` [min] is
    that of all steps for one.
    """

    id: str
    name: str
    quantity: Decimal
    batch: Decimal
    area: Amount | None
    perimeter: Amount | None
    volume: Amount | None
    passed: Decimal | None
    mix: tuple[Decimal, Decimal] | None
    cuts: tuple[CutRow, ...]
    mixes: tuple[MixRow, ...]
    goods: tuple[MaterialRow, ...]
    steps: tuple[StepRow, ...]
    time: Decimal
    batch_time: Decimal
    thickness: Amount | None = None
    cavities: tuple[Cavity, ...] = ()
    clamp: Clamp | None = None
    bag: Bag | None = None
    drawing: Drawing | None = None
    is_part: bool = False

    @property
    def plies(self) -> tuple[MaterialRow, ...]:
        """The materials of its plies, in laying order."""
        return tuple(cut.what for cut in self.cuts)


@dataclass(frozen=True, slots=True)
class DrawRow:
    """All of a material that one boat takes, and a batch of boats."""

    name: str
    kind: str
    one: Decimal
    batch: Decimal
    unit: str
    digits: int
    pieces: bool = False
    beside: Beside | None = None


@dataclass(frozen=True, slots=True)
class MouldRow:
    """A mould that must stand ready, for which part, and how often it is pulled."""

    name: str
    part: str
    one: Decimal
    batch: Decimal


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A part that is not made, or only a share of it, since the option takes its place."""

    name: str
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class ColourPaper:
    """What another hull colour changes: by part, the mixes that take the place of the usual ones.

    `colour` is that of the gelcoat, `option` what brings it.
    """

    colour: str
    option: str
    parts: tuple[PartPaper, ...]


@dataclass(frozen=True, slots=True)
class Paper:
    """The shop paper of an option on a model; `batch` is how many boats share a set-up.

    `atmosphere` is the most that a vacuum presses with, `as_load` the same as a load on an area.
    """

    model_id: str
    model: str
    hull_colour: str
    option_id: str
    option: str
    batch: Decimal
    parts: tuple[PartPaper, ...]
    left_out: tuple[LeftOut, ...]
    moulds: tuple[MouldRow, ...]
    draws: tuple[DrawRow, ...]
    atmosphere: Amount
    as_load: Amount
    rolls: tuple[RollView, ...] = ()
    colours: tuple[ColourPaper, ...] = ()

    @property
    def hazards(self) -> tuple[str, ...]:
        """The hazards of all its steps, each once."""
        found = (hazard for part in self.parts for step in part.steps for hazard in step.hazards)
        return tuple(dict.fromkeys(found))
