"""What an option's plies take of the rolls: every piece of a batch laid, and what that costs.

The catalogue states how much of the glass issued ends up in a part. Here the pieces that the part
is cut in are laid on rolls of the width that the glass comes in, for all boats of a batch. What the
machine cuts from a part's own contour is known by its area alone, and takes what is stated.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from quoter.analysis.nesting import TENTHS, Kind, Nest, nested
from quoter.catalogue.materials import Glass
from quoter.catalogue.prices import Catalogue
from quoter.costing.assembly import Assembly, Made, MaterialCost, in_building_order
from quoter.costing.cutting import CONTOUR, Cut
from quoter.costing.moulded import with_loss
from quoter.costing.quantities import STATED
from quoter.engineering.cutting import roll_mass, roll_utilisation
from quoter.figures import Figure, constant, round_down, round_up, total
from quoter.figures.graph import slopes_by
from quoter.phrases import phrase

SKIN = "skin"  # is laid before everything else
ONE = constant(1.0)
NO_AREA, NO_MASS = constant(0.0, "m2"), constant(0.0, "kg")


@dataclass(frozen=True, slots=True)
class CutPly:
    """A ply of a part as it is cut: its number on the list, and its pieces for a batch of boats.

    `units` are the parts of a batch of boats; `one` are the pieces of one part.
    """

    number: int
    made: Made
    material: MaterialCost
    cut: Cut
    units: Figure
    one: Figure
    pieces: int

    @property
    def area(self) -> Figure:
        """The area of all its layers in all parts of the batch [m2]."""
        line = self.material.line
        one = NO_AREA if line.area is None else line.area
        return one * (ONE if line.layers is None else line.layers) * self.units


@dataclass(frozen=True, slots=True)
class Roll:
    """A glass on its roll for a batch: the plies whose pieces are laid, those that the machine
    cuts, and where each piece lies. The kinds of the nest are the plies in their order."""

    glass: Glass
    width: Figure
    plies: tuple[CutPly, ...]
    by_machine: tuple[CutPly, ...]
    nest: Nest

    @property
    def length(self) -> Figure:
        """The length of roll that the pieces are laid on [m]."""
        label = phrase("{glass}: length of roll", glass=self.glass.name)
        return constant(self.nest.length / TENTHS, "m", label)

    @property
    def utilisation(self) -> Figure | None:
        """The area of the plies in that of the roll; None where none is laid."""
        if not self.nest.length:
            return None
        area = total([ply.area for ply in self.plies], NO_AREA)
        return roll_utilisation(area, self.length, self.width)

    @property
    def machine_area(self) -> Figure:
        """The area of what the machine cuts [m2]."""
        return total([ply.area for ply in self.by_machine], NO_AREA)


class CuttingList:
    """The plies of an option or boat, numbered in the order in which they are laid, part by part.

    What is laid on rolls is found when it is asked for.
    """

    def __init__(self, catalogue: Catalogue, whole: Assembly) -> None:
        """Take down every ply that is cut.

        Args:
            catalogue: what it is costed from
            whole: the option, or the boat
        """
        self._catalogue, self.whole = catalogue, whole
        self.boats = ONE if whole.recipe.batch is None else whole.recipe.batch
        self.plies: dict[str, list[CutPly]] = {}
        number = 0
        for made in in_building_order(whole):
            for material in in_laying_order(made.assembly):
                number += 1
                ply = self._ply(number, made, material)
                self.plies.setdefault(made.assembly.recipe.key, []).append(ply)

    def _ply(self, number: int, made: Made, material: MaterialCost) -> CutPly:
        line, units = material.line, made.quantity * self.boats
        if line.cut is None:
            raise ValueError(f"{line.use} is not cut")
        one = line.cut.pieces * (ONE if line.layers is None else line.layers)
        pieces = int(round_up(one * units).value)
        return CutPly(number, made, material, line.cut, units, one, pieces)

    @cached_property
    def rolls(self) -> tuple[Roll, ...]:
        """Each glass that has a roll's width, with its pieces laid."""
        found: dict[str, list[CutPly]] = {}
        for plies in self.plies.values():
            for ply in plies:
                found.setdefault(ply.material.line.material, []).append(ply)
        glasses: Mapping[str, Glass] = self._catalogue.records.of("glass")
        return tuple(
            _roll(glasses[id], width, plies)
            for id, plies in found.items()
            if (width := glasses[id].roll_width) is not None
        )

    def costs(self) -> list[RollCost]:
        """By glass, what laying the pieces costs against the utilisation that is stated."""
        rolls = [roll for roll in self.rolls if roll.plies]
        lines = [ply.material.line for roll in rolls for ply in roll.plies]
        slopes = slopes_by(self.whole.cost, [line.issued for line in lines]) if lines else {}
        return [_cost(roll, slopes, self.boats) for roll in rolls]


def in_laying_order(part: Assembly) -> list[MaterialCost]:
    """The plies of a part that are cut: those of the skin first, each zone's outer face first."""
    cut = [m for m in part.materials if m.line.cut is not None and m.line.stage != STATED]
    return sorted(cut, key=lambda material: material.line.stage != SKIN)


def _roll(glass: Glass, width: Figure, plies: Sequence[CutPly]) -> Roll:
    laid = tuple(ply for ply in plies if ply.cut.form != CONTOUR)
    nest = nested(_wide(width), tuple(_kinds(laid, width)))
    by_machine = tuple(ply for ply in plies if ply.cut.form == CONTOUR)
    return Roll(glass, width, laid, by_machine, nest)


def _kinds(plies: Sequence[CutPly], width: Figure) -> Iterator[Kind]:
    """The pieces in whole tenths of a millimetre; none grows beyond the roll by rounding."""
    for ply in plies:
        across, along = ply.cut.across, ply.cut.along
        if across is None or along is None:
            raise ValueError("a piece without sides can't be laid")
        sides = [_tenths(side, width) for side in (across, along)]
        yield Kind(sides[0], sides[1], ply.cut.turns, ply.pieces)


def _tenths(side: Figure, width: Figure) -> int:
    whole = int(round_up(side.value * TENTHS))
    return min(whole, _wide(width)) if side.value <= width.value else whole


def _wide(width: Figure) -> int:
    return int(round_down(width.value * TENTHS))


@dataclass(frozen=True, slots=True)
class RollCost:
    """What laying the pieces of a glass comes to for one boat, against what is stated.

    Utilisations are as the catalogue states them: glass in the parts, seams included, of the glass
    cut into. `stated_mass` and `mass` [kg] are issued for one boat; `cost` is what the cost of the
    whole would move by, in home money, handling and whatever else goes by it included.
    """

    roll: Roll
    stated: Figure
    found: Figure
    stated_mass: Figure
    mass: Figure
    cost: float


def _cost(roll: Roll, slopes: Mapping[Figure, float], boats: Figure) -> RollCost:
    """The length of roll is shared among its plies by the glass that their pieces take."""
    cut_from = roll_mass(roll.length, roll.width, roll.glass.areal_mass)
    taken = [_taken(kind) for kind in _kinds(roll.plies, roll.width)]
    moved, nets, stated, found = 0.0, [], [], []
    for ply, share in zip(roll.plies, taken, strict=True):
        line = ply.material.line
        mine = with_loss(cut_from * (share / sum(taken)), roll.glass)
        moved += slopes[line.issued] * (mine.value / ply.units.value - line.issued.value)
        nets.append(line.net * ply.units)
        stated.append(line.issued * ply.units)
        found.append(mine)
    net, gross, laid = (total(each, NO_MASS) for each in (nets, stated, found))
    whole = with_loss(net, roll.glass)  # what a loss takes is no offcut
    return RollCost(roll, whole / gross, whole / laid, gross / boats, laid / boats, moved)


def _taken(kind: Kind) -> float:
    return float(kind.across * kind.along * kind.count)
