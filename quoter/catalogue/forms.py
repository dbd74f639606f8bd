"""Records of a boat's shape, as far as drawings of it need one, and of where things sit on it."""

from __future__ import annotations

from typing import Annotated

from quoter.catalogue import fields as f
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Text

SIDES = ("port", "starboard", "centre")
LEVELS = ("sole", "waterline", "deck")
FACES = ("side", "aft", "up")
STANDS = ("deck", "sole", "house")


class Position(CatalogueRecord):
    """Where an option sits on one model, as the yard measures it on the boat.

    It approves no structure: an opening needs approved scantlings. Internal, unless the option's
    `positions` are public.
    """

    model: Annotated[Text, f.ref("model")]
    """The boat that it is measured on.
    Example: `weekender_86`"""
    side: Annotated[str, f.choice(*SIDES)] | None = None
    """On which side it is. Where an option has several positions on a model, its mass is shared
    between them equally.
    Unless given: on the centreline.
    Example: `starboard`"""
    end: Annotated[str, f.choice("stem", "transom")]
    """The end of the boat that the distance is taken from.
    Example: `transom`"""
    distance: f.Extent
    """How far the middle of it is from that end, along the deck line.
    Example: `2.35 m`"""
    level: Annotated[str, f.choice(*LEVELS)]
    """What the height is taken from: the cockpit sole, the waterline of the light boat, or the deck
    at its edge.
    Example: `sole`"""
    height: f.Extent
    """How high its lower edge is above that.
    Example: `40 mm`"""
    faces: Annotated[str, f.choice(*FACES)] | None = None
    """Which way it looks, for drawings: to the `side` as a door in the hull side does, `aft` as one
    in the transom or to a cabin, or `up` as a hatch.
    Unless given: an opening on a side faces that side, and one at the transom aft; all else up.
    Example: `aft`"""
    offset: f.Extent | None = None
    """How far its middle is from the centreline, for drawings.
    Unless given: what faces a side is in the hull side; all else halfway between it and the
    centreline.
    Example: `0.65 m`"""
    note: f.Note | None = None


class Cockpit(CatalogueRecord):
    """The recess in the deck; public."""

    aft: f.Extent
    """How far its after end is from the transom.
    Example: `0.45 m`"""
    fore: f.Length
    """How far its fore end is from the transom.
    Example: `3.10 m`"""
    width: f.Length | None = None
    """How wide it is.
    Unless given: as wide as the side decks leave.
    Example: `2.10 m`"""


class House(CatalogueRecord):
    """What stands on the boat: a console, a shelter, a cabin's trunk, a wheelhouse, a flying
    bridge; public."""

    aft: f.Extent
    """How far its after end is from the transom.
    Example: `3.00 m`"""
    fore: f.Length
    """How far the foot of its fore end is from the transom.
    Example: `5.20 m`"""
    height: f.Length
    """How high it is above what it stands on.
    Example: `1.40 m`"""
    stands_on: Annotated[str, f.choice(*STANDS)] | None = None
    """What it stands on: the deck at its edge, the cockpit sole, or the house before it in the
    list.
    Unless given: the deck.
    Example: `sole`"""
    width: f.Length | None = None
    """How wide it is; never wider than the deck there.
    Unless given: two thirds of the beam.
    Example: `1.90 m`"""
    lean: f.Extent | None = None
    """How far the top of its fore end lies abaft the foot, as that of a windscreen.
    Unless given: upright.
    Example: `0.55 m`"""
    windows: f.Truth | None = None
    """Whether it has windows in its sides.
    Unless given: no.
    Example: `yes`"""
    open_aft: f.Truth | None = None
    """Whether it is a roof and a windscreen, open behind.
    Unless given: no.
    Example: `yes`"""


class Rail(CatalogueRecord):
    """A rail on the deck's edge; public."""

    aft: f.Extent
    """How far its after end is from the transom.
    Example: `5.00 m`"""
    fore: f.Length
    """How far its fore end is from the transom.
    Example: `8.30 m`"""
    height: f.Length
    """How high it is above the deck's edge.
    Example: `0.60 m`"""


class Form(CatalogueRecord):
    """Measures that a boat is drawn by besides its length and beam; public, each of them.

    They make a picture to scale and no lines plan: curves between them are drawn plainly. What is
    left out is drawn in common proportions.
    """

    freeboard_stem: f.Length | None = None
    """How high the deck's edge is above the waterline at the stem.
    Unless given: 0.35 m and 9.5 % of the length.
    Example: `1.20 m`"""
    freeboard_transom: f.Length | None = None
    """The same at the transom.
    Unless given: 66 % of that at the stem.
    Example: `0.80 m`"""
    freeboard_least: f.Length | None = None
    """The same where the deck's edge is lowest.
    Unless given: 62 % of that at the stem, or that at the transom where this is less.
    Example: `0.76 m`"""
    least_at: f.Extent | None = None
    """How far the lowest place of the deck's edge is from the transom.
    Unless given: a quarter of the length.
    Example: `2.20 m`"""
    draught: f.Length | None = None
    """How deep the hull is below the waterline.
    Unless given: 0.1 m and 4.5 % of the length.
    Example: `0.50 m`"""
    stem_rake: f.Extent | None = None
    """How far the stem meets the waterline abaft its head.
    Unless given: 13 % of the length.
    Example: `1.10 m`"""
    transom_rake: f.Extent | None = None
    """How far the foot of the transom lies before its top.
    Unless given: 3 % of the length.
    Example: `0.25 m`"""
    transom_beam: f.Length | None = None
    """How wide the deck is at the transom.
    Unless given: 88 % of the beam.
    Example: `2.50 m`"""
    widest_at: f.Extent | None = None
    """How far the widest place of the deck is from the transom.
    Unless given: 38 % of the length.
    Example: `3.40 m`"""
    sole: f.Extent | None = None
    """How high the cockpit sole is above the waterline.
    Unless given: a quarter of the least freeboard.
    Example: `0.22 m`"""
    cockpit: Cockpit | None = None
    """The recess in the deck.
    Unless given: none is drawn."""
    houses: Many[House] = ()
    """What stands on the boat, from below upwards."""
    rail: Rail | None = None
    """A rail along the deck's edge.
    Unless given: none is drawn."""
