"""What a take-off holds: material lines, drivers of labour, areas of regions, limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from quoter.catalogue.examples import thickness, told
from quoter.catalogue.factory import Ply
from quoter.catalogue.materials import Glass
from quoter.catalogue.operations import Operation
from quoter.catalogue.parts import AnyPart, CorePart, Face, Shape, Zone
from quoter.costing.cutting import Cut
from quoter.engineering import geometry
from quoter.figures import Figure, constant, total
from quoter.figures.ops import both, less, less_or_equal
from quoter.phrases import phrase, together
from quoter.problems import Place, Problem

NO_MASS, NO_AREA = constant(0.0, "kg"), constant(0.0, "m2")
ONE = constant(1.0)
ROUNDING_NOISE = 1e-9  # what fills its room exactly must not fail by the last bit


# The stage of what a base boat states: it holds per good boat, so that no operation scraps it.
STATED = "stated"


@dataclass(frozen=True, slots=True)
class GivenOff:
    """Organic HAP of resin or gelcoat that is applied openly, in kg.

    `limited_as` is the kind of material that the rule limits it as, `applied` how much of it is
    applied. `total` is None where no content is told; `substances` are parts of it.
    """

    limited_as: str
    applied: Figure
    total: Figure | None = None
    substances: Mapping[str, Figure] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """An amount of one material: net in the product, issued from stores, and mass it adds.

    `net` and `issued` are in the unit the material is counted in; `mass` in kg; `stage` says which
    operation it enters at. `area` is that of a gelcoated face or of one layer of a ply, which is
    laid `layers` times; `cut` says how. `element` is the group of cost that it counts in.
    """

    material: str
    use: str
    stage: str
    net: Figure
    issued: Figure
    mass: Figure
    place: Place
    given_off: GivenOff | None = None
    area: Figure | None = None
    layers: Figure | None = None
    cut: Cut | None = None
    element: str = "material"

    @property
    def emission(self) -> Figure | None:
        """All organic HAP that it gives off [kg]; None where nothing is known of it, or nothing."""
        return None if self.given_off is None else self.given_off.total


@dataclass(frozen=True, slots=True)
class Limit:
    """A condition that must hold: 1 where it does, else 0."""

    what: str
    holds: Figure
    place: Place


@dataclass(frozen=True, slots=True)
class LaidPly:
    """A ply of a zone: its area and layers, their areal mass in all, glass content, net glass.

    `cut` is how each layer is cut, if it is; `key` begins its figures' keys.
    """

    zone: Zone
    ply: Ply
    glass: Glass
    area: Figure
    layers: Figure
    areal_mass: Figure
    content: Figure
    net: Figure
    cut: Cut | None
    key: str
    label: str


@dataclass(slots=True)
class TakeOff:
    """The quantities of one part in one shape and hull colour.

    `corner_radius` is that of a rectangle whose edge was not written by hand; a strip inside the
    edge can be no wider than `widest_strip`.
    """

    part: AnyPart
    key: str
    name: str
    shape: Shape
    lines: list[MaterialLine] = field(default_factory=list)
    drivers: dict[str, Figure] = field(default_factory=dict)
    notable: list[Figure] = field(default_factory=list)
    limits: list[Limit] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    regions: dict[str, Figure] = field(default_factory=dict)
    corner_radius: Figure | None = None
    widest_strip: Figure | None = None


def at_operation(index: int) -> str:
    """The stage of what enters at the operation of that index, and at no other."""
    return f"operation {index + 1}"


def entry_of(route: Sequence[Operation], stage: str) -> int:
    """The operation where lines of a stage enter: that uses it, or is named; else the first."""
    for index, operation in enumerate(route):
        if stage in operation.uses or stage == at_operation(index):
            return index
    return 0


def overridden(own: Shape, other: Shape | None) -> Shape:
    """The part's own shape with the fields another one gives; new sides drop written areas."""
    if other is None:
        return own
    given = {name: getattr(other, name) for name in type(other).model_fields}
    given = {name: value for name, value in given.items() if value is not None}
    kept = {name: getattr(own, name) for name in type(own).model_fields}
    if given.keys() & {"width", "height", "diameter"}:
        kept |= {"area": None, "perimeter": None, "volume": None}
    if "diameter" in given:
        kept |= {"width": None, "height": None, "corner_radius": None}
    return own.model_copy(update=kept | given)


def add_geometry(off: TakeOff) -> None:
    """Area, perimeter and volume of the shape, as far as it gives them."""
    shape = off.shape
    area, perimeter = shape.area, shape.perimeter
    if shape.width is not None and shape.height is not None:
        radius = shape.corner_radius if shape.corner_radius is not None else constant(0.0, "m")
        sides = shape.width, shape.height, radius
        off.corner_radius = radius if perimeter is None else None
        off.widest_strip = geometry.widest_strip(shape.width, shape.height)
        area = geometry.rectangle_area(*sides) if area is None else area
        perimeter = geometry.rectangle_perimeter(*sides) if perimeter is None else perimeter
    elif shape.diameter is not None:
        off.widest_strip = geometry.widest_strip(shape.diameter, shape.diameter)
        area = geometry.circle_area(shape.diameter) if area is None else area
        perimeter = geometry.circle_perimeter(shape.diameter) if perimeter is None else perimeter
    volume = shape.volume
    if volume is None and area is not None and shape.thickness is not None:
        volume = area * shape.thickness
    for name, figure in (
        (phrase("area"), area),
        (phrase("perimeter"), perimeter),
        (phrase("volume"), volume),
    ):
        if figure is not None:
            label = together(": ", (off.name, name))
            off.drivers[name] = figure.named(f"{off.key}.{name}", label)
    if off.widest_strip is None and perimeter is not None:
        off.widest_strip = geometry.widest_strip_by_perimeter(off.drivers["perimeter"])
    off.drivers["count"] = ONE


def region(off: TakeOff, zone: Zone | Face, key: str, label: str) -> Figure:
    """The area of a zone or face: given, a strip along the edge, a share, or the rest."""
    if key not in off.regions:
        area = zone.area
        if zone.strip is not None:
            area = _strip(off, zone, zone.strip, label)
        elif isinstance(zone.share, Figure):
            area = off.drivers["area"] * zone.share
        elif isinstance(zone, Zone) and zone.is_rest:
            area = _rest(off, zone, label)
        elif area is None:
            return off.drivers["area"]
        off.regions[key] = area.named(f"{key}.area", phrase("{label}, area", label=label))
    return off.regions[key]


def fibre_within(off: TakeOff, within: Figure) -> Limit:
    """That the fibre volume of a part stays within its range: 1 where it does."""
    return Limit(
        phrase("{name}: fibre volume within its range", name=off.name), within, off.part.place
    )


def _rest(off: TakeOff, zone: Zone, label: str) -> Figure:
    """What the zones within the part leave of its area; they must leave something."""
    whole, zones = off.drivers["area"], () if isinstance(off.part, CorePart) else off.part.zones
    others = [
        region(off, each, f"{off.key}.zone{number}", f"{off.name}: {each.name}")
        for number, each in enumerate(zones, 1)
        if each is not zone and each.within
    ]
    taken = total(others, NO_AREA)
    most = whole * (1 - ROUNDING_NOISE)
    off.limits.append(
        Limit(phrase("{label}: something is left", label=label), less(taken, most), zone.place)
    )
    if taken.value >= most.value:
        what = f"the other zones of '{off.part.id}' leave nothing for '{zone.name}'"
        hint = f"they take {told(taken.value, 'm2', '.4g')} of {told(whole.value, 'm2', '.4g')}"
        hint += ": make one smaller"
        off.problems.append(Problem(zone.place, "does-not-fit", what, hint))
    return geometry.rest_of_area(whole, taken)


def _strip(off: TakeOff, zone: Zone | Face, width: Figure, label: str) -> Figure:
    """The area of a strip along the edge; inside it, each corner is counted once.

    An edge whose length was written by hand counts as rounded: its corners are not known.
    """
    edge = off.drivers["perimeter"]
    if zone.lies == "upright":
        return geometry.upright_area(edge, width)
    if zone.lies == "outside":
        return geometry.outer_strip_area(edge, width)
    if off.corner_radius is None:
        area = geometry.rounded_strip_area(edge, width)
    else:
        area = geometry.strip_area(edge, width, off.corner_radius)
    _check_strip(off, zone, width, area, label)
    return area


def _check_strip(off: TakeOff, zone: Zone | Face, width: Figure, area: Figure, label: str) -> None:
    """A strip within the edge is no wider than the part, nor larger than it."""
    widest = off.widest_strip
    if widest is None:
        return
    allowed = widest * (1 + ROUNDING_NOISE)
    fits, wide = less_or_equal(width, allowed), width.value > allowed.value
    hint = f"expected at most {thickness(widest.value, '.4g')}, or 'lies: outside' or 'upright'"
    whole = off.drivers.get("area")
    if whole is not None and off.corner_radius is None:
        most = whole * (1 + ROUNDING_NOISE)
        fits = both(fits, less_or_equal(area, most))
        if area.value > most.value and not wide:
            wide = True
            hint = f"its {told(area.value, 'm2', '.4g')} are more than the part's "
            hint += told(whole.value, "m2", ".4g")
    limit = phrase("{label}: strip no wider than the part", label=label)
    off.limits.append(Limit(limit, fits, zone.place))
    if wide:
        what = (
            f"a strip of {thickness(width.value)} along the inside of the edge of "
            f"'{off.part.id}' is wider than the part"
        )
        off.problems.append(Problem(zone.place, "does-not-fit", what, hint))
