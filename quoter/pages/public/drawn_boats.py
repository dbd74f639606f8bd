"""The boats of a price sheet as drawings: what a page may show of each, as paths and words.

A drawing holds lengths that customers may see, and no others: length and beam, the boat's form, and
the positions of options whose positions the yard has made public. Of any other position there is no
trace. Paths are texts, in centimetres of the boat; a page writes no number of its own into one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from babel import Locale

from quoter.catalogue.forms import Form, House, Position
from quoter.catalogue.options import Model, Option
from quoter.catalogue.prices import Catalogue
from quoter.figures import Figure
from quoter.figures.readers import US
from quoter.pages import money
from quoter.pages.public import boat_pieces as pieces
from quoter.pages.public import hull_lines as hull
from quoter.pages.public.boat_pieces import Spot
from quoter.pages.public.hull_lines import Block, Lines, Pen, spelt
from quoter.pages.public.view import Coordinates, View
from quoter.pages.public.views import SheetView
from quoter.pricing.price import PricedModel, Pricing
from quoter.pricing.public import PublicMeasure, public_measure
from quoter.pricing.seen import form_seen, position_seen, seen_parts

MARGIN = 20.0  # centimetres around a drawing
TOP_TO_BAR = 26.0  # centimetres from the plan to the scale bar
FOOT = Decimal("0.3048")  # metres, exactly
METRIC_BAR, US_BAR = Decimal(2), 6 * FOOT
SHORT_BAR, SHORT_US_BAR = Decimal(1), 3 * FOOT  # for boats below it
SHORT_BOAT = 6.0  # metres


@dataclass(frozen=True, slots=True)
class DrawnMark(View):
    """An option's place on a boat: how it looks from the side and from above, nothing in the
    profile of what is on the other side.

    `within` tells that the hull hides it from the side; `standard` that it is there unless
    something takes its place. `wanted` is the option as a list's address writes it: with from how
    many of it on the mark is there, as in ``deck_hatch*2``, where that is more than one.
    """

    option: str
    name: str
    standard: bool
    within: bool
    wanted: str
    profile: Coordinates
    plan: Coordinates


@dataclass(frozen=True, slots=True)
class DrawnHouse(View):
    """What stands on the boat, in the order in which it is drawn."""

    walls: Coordinates
    windows: Coordinates
    roof: Coordinates
    plan: Coordinates


@dataclass(frozen=True, slots=True)
class DrawnColour(View):
    """A hull colour that a boat can have, by the option that gives it."""

    option: str
    swatch: str


@dataclass(frozen=True, slots=True)
class DrawnBoat(View):
    """A boat from the side and from above, to scale.

    `box` is the part of the plane that shows it, `wide_box` one that is as wide as the longest boat
    of the sheet needs, `side_box` that of the profile alone; `swatch` is its hull colour, empty
    where none is known, and `colours` those that options give it. `stated` tells whether the yard
    gave measures of its form; `bar` is drawn as long as `bar_words` say. `names` are what has a
    place on the drawing, each once.
    """

    model: str
    port: bool
    stated: bool
    box: Coordinates
    wide_box: Coordinates
    side_box: Coordinates
    swatch: str
    colours: tuple[DrawnColour, ...]
    topsides: Coordinates
    bottom: Coordinates
    boot: Coordinates
    trim: Coordinates
    rail: Coordinates
    houses: tuple[DrawnHouse, ...]
    plan: Coordinates
    deck: Coordinates
    cockpit: Coordinates
    marks: tuple[DrawnMark, ...]
    names: tuple[DrawnMark, ...]
    bar: Coordinates
    bar_words: str


def drawn_boats(pricing: Pricing, sheet: SheetView, locale: Locale) -> Mapping[str, DrawnBoat]:
    """Every boat of a price sheet by its id.

    Args:
        pricing: the finished costing, for forms and positions
        sheet: with the words of the same boats
        locale: of the sheet
    """
    longest = max((model.length.amount for model in sheet.models), default=Decimal(1))
    bar = _bar(longest, sheet.units)
    words = money.length(bar, locale, sheet.units)
    found = {}
    for model in sheet.models:
        names = {item.id: item.name for item in model.standard}
        names |= {item.id: item.name for item in model.options}
        found[model.id] = _drawn(
            pricing.catalogue, pricing.models[model.id], names, float(longest), float(bar), words
        )
    return found


def _bar(longest: Decimal, units: str) -> Decimal:
    """How long the scale bar is, in round numbers of the reader's units."""
    if longest < SHORT_BOAT:
        return SHORT_US_BAR if units == US.name else SHORT_BAR
    return US_BAR if units == US.name else METRIC_BAR


def _drawn(
    catalogue: Catalogue,
    priced: PricedModel,
    names: Mapping[str, str],
    longest: float,
    bar: float,
    bar_words: str,
) -> DrawnBoat:
    model = priced.model
    lines = lines_of(model)
    spots = [spot for option in _placed(priced) for spot in _spots(catalogue, option, model, lines)]
    port = {spot.across < 0 for _, spot, _ in spots if spot.faces == "side"} == {True}
    pen = Pen(lines, bow_left=port)
    marks = tuple(_marks(priced, spots, names, lines, pen))
    down = pen.axis + lines.beam * 50 + TOP_TO_BAR
    return DrawnBoat(
        model=str(model.id),
        port=port,
        stated=model.form is not None,
        box=Coordinates(_box(lines.length, down)),
        wide_box=Coordinates(_box(longest, down)),
        side_box=Coordinates(_box(lines.length, (lines.top + lines.draught) * 100 - MARGIN)),
        swatch=_swatch(priced),
        colours=tuple(_colours(priced)),
        topsides=Coordinates(hull.topsides(lines, pen)),
        bottom=Coordinates(hull.bottom(lines, pen)),
        boot=Coordinates(hull.boot_stripe(lines, pen)),
        trim=Coordinates(hull.trim(lines, pen)),
        rail=Coordinates(pieces.rail(lines, pen)),
        houses=tuple(_house(block, lines, pen) for block in lines.blocks),
        plan=Coordinates(hull.deck_edge(lines, pen)),
        deck=Coordinates(hull.deck_edge(lines, pen, hull.GUNWALE)),
        cockpit=Coordinates(pieces.cockpit(lines, pen)),
        marks=marks,
        names=tuple({mark.option: mark for mark in marks}.values()),
        bar=Coordinates(pieces.scale_bar(bar, 0.0, down)),
        bar_words=bar_words,
    )


def _box(length: float, down: float) -> str:
    wide, high = length * 100 + 2 * MARGIN, down + 2 * MARGIN
    return f"{spelt(-MARGIN)} {spelt(-MARGIN)} {spelt(wide)} {spelt(high)}"


def _house(block: Block, lines: Lines, pen: Pen) -> DrawnHouse:
    hidden = lines.edge((block.aft + block.fore) / 2) + 0.04
    return DrawnHouse(
        walls=Coordinates(pieces.house_profile(block, pen)),
        windows=Coordinates(pieces.windows(block, pen, hidden)),
        roof=Coordinates(pieces.roof(block, pen)),
        plan=Coordinates(pieces.house_plan(block, lines, pen)),
    )


def _swatch(priced: PricedModel) -> str:
    """The hull colour of the boat as it comes: that of a standard option, or the model's own."""
    standard = (each.option for id, each in priced.options.items() if id not in priced.extras)
    found = [each.swatch for each in standard if each is not None and each.swatch is not None]
    return str(found[0] if found else priced.model.swatch or "")


def _colours(priced: PricedModel) -> Iterator[DrawnColour]:
    for id, item in priced.options.items():
        if item.option is not None and item.option.swatch is not None:
            yield DrawnColour(str(id), str(item.option.swatch))


def lines_of(model: Model) -> Lines:
    """A boat's measures for drawing: those that the yard states, others in common proportions.

    The proportions are common practice, without a source; `catalogue.forms` says them.
    """
    form = model.form
    length, beam = _size(model.length), _size(model.beam)

    def stated(name: str, otherwise: float) -> float:
        return _metres(model, getattr(form, name, None), otherwise)

    stem = stated("freeboard_stem", 0.35 + 0.095 * length)
    transom = stated("freeboard_transom", 0.66 * stem)
    least = stated("freeboard_least", min(0.62 * stem, transom))
    plain = Lines(
        length=length,
        beam=beam,
        stem=stem,
        transom=transom,
        least=least,
        least_at=stated("least_at", 0.25 * length),
        draught=stated("draught", 0.1 + 0.045 * length),
        stem_rake=stated("stem_rake", 0.13 * length),
        transom_rake=stated("transom_rake", 0.03 * length),
        transom_beam=stated("transom_beam", 0.88 * beam),
        widest_at=stated("widest_at", 0.38 * length),
        sole=stated("sole", 0.25 * least),
    )
    return plain if form is None else _fitted_out(plain, model, form)


def _fitted_out(plain: Lines, model: Model, form: Form) -> Lines:
    """With what stands on the boat."""
    cockpit, rail = form.cockpit, form.rail
    if cockpit is not None:
        ends = _metres(model, cockpit.aft), _metres(model, cockpit.fore)
        plain = replace(plain, cockpit=(*ends, _metres(model, cockpit.width, plain.beam)))
    if rail is not None:
        measures = (_metres(model, each) for each in (rail.aft, rail.fore, rail.height))
        aft, fore, height = measures
        plain = replace(plain, rail=(aft, fore, height))
    return replace(plain, blocks=tuple(_blocks(plain, model, form.houses)))


def _blocks(lines: Lines, model: Model, houses: tuple[House, ...]) -> Iterator[Block]:
    below = 0.0
    for house in houses:
        aft, fore = _metres(model, house.aft), _metres(model, house.fore)
        # What stands on the deck is as high above its edge halfway along it.
        base = {"sole": lines.sole, "house": below}.get(str(house.stands_on))
        if base is None:
            base = lines.edge((aft + fore) / 2)
        below = base + _metres(model, house.height)
        yield Block(
            aft=aft,
            fore=fore,
            foot=base if house.stands_on == "house" else min(base, lines.sole),
            bottom=base,
            top=below,
            width=_metres(model, house.width, lines.beam * 2 / 3),
            lean=_metres(model, house.lean),
            windows=bool(house.windows),
            open_aft=bool(house.open_aft),
        )


def _size(figure: Figure) -> float:
    """Metres of a boat's length or beam."""
    return float(public_measure(figure).amount)


def _metres(model: Model, figure: Figure | None, otherwise: float = 0.0) -> float:
    """Metres of a length of a boat's form, or what it is otherwise."""
    return otherwise if figure is None else _millimetres(form_seen(model, figure))


def _millimetres(length: PublicMeasure) -> float:
    """Metres of a length that is told in millimetres."""
    return float(length.amount) / 1000


def _placed(priced: PricedModel) -> Iterator[Option]:
    """Options of a boat whose positions customers see."""
    for item in priced.options.values():
        if item.option is not None and item.option.positions == "public":
            yield item.option


Placed = tuple[Option, Spot, bool]  # and whether the hull hides it from the side


def _spots(catalogue: Catalogue, option: Option, model: Model, lines: Lines) -> Iterator[Placed]:
    for at in option.at:
        if at.model == model.id:
            spot = _spot(option, at, lines)
            outline = _outline(catalogue, option, model, spot.faces)
            yield option, replace(spot, outline=outline), _is_within(spot, lines)


def _outline(
    catalogue: Catalogue, option: Option, model: Model, faces: str
) -> tuple[float, float, float] | None:
    """Width, height and corner radius of the part that customers see as it lies there."""
    for part in seen_parts(catalogue, option, str(model.id)):
        if (part.view == "above") == (faces == "up"):
            width, height = map(_millimetres, (part.outline.width, part.outline.height))
            corner = part.outline.radius
            radius = 0.0 if corner is None else _millimetres(corner)
            return width, height, width / 2 if part.outline.round else radius
    return None


def _spot(option: Option, at: Position, lines: Lines) -> Spot:
    distance = _millimetres(position_seen(option, at.distance))
    along = distance if at.end == "transom" else lines.length - distance
    up = _millimetres(position_seen(option, at.height))
    base = {"sole": lines.sole, "waterline": 0.0, "deck": lines.edge(along)}[at.level]
    side = {"port": -1.0, "starboard": 1.0}.get(str(at.side), 0.0)
    faces = at.faces or _faces(option, along, side)
    half = lines.half(along)
    across = half if faces == "side" else half / 2
    if at.offset is not None:
        across = _millimetres(position_seen(option, at.offset))
    return Spot(along, side * across, base + up, str(faces))


def _faces(option: Option, along: float, side: float) -> str:
    if option.kind != "opening":
        return "up"
    return "aft" if along == 0 or not side else "side"


def _is_within(spot: Spot, lines: Lines) -> bool:
    """Whether the topsides hide it: no opening in them, and lower than the deck's edge."""
    return not (spot.faces == "side" or spot.at == 0) and spot.height < lines.edge(spot.at)


def _marks(
    priced: PricedModel, spots: list[Placed], names: Mapping[str, str], lines: Lines, pen: Pen
) -> Iterator[DrawnMark]:
    numbers: dict[str, int] = {}
    for option, spot, within in spots:
        id = str(option.id)
        places = sum(each.id == option.id for each, _, _ in spots)
        most = 1 if option.most is None else int(option.most.value)
        number = numbers[id] = numbers.get(id, -1) + 1
        # Where so many fit as there are places, each is there with one more of them.
        least = 1 + number * most // places
        far = spot.faces == "side" and (spot.across < 0) != pen.bow_left
        yield DrawnMark(
            option=id,
            name=names[id],
            standard=id not in priced.extras,
            within=within,
            wanted=id if least == 1 else f"{id}*{least}",
            profile=Coordinates("" if far else pieces.mark_profile(spot, lines, pen)),
            plan=Coordinates(pieces.mark_plan(spot, lines, pen)),
        )
