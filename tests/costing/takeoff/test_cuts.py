"""Cut sizes of plies: what is cut by dimensions, in how many pieces, which way on the roll.

Trim of 25 mm and laps of 50 mm are common practice, no source; the sizes follow by definition.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from quoter.catalogue.factory import Ply
from quoter.catalogue.materials import Glass
from quoter.catalogue.parts import Shape, Zone
from quoter.catalogue.source import Text
from quoter.catalogue.yard import Policy
from quoter.costing.cutting import Cut, cut_of
from quoter.figures import Figure, constant
from quoter.units import quantity


def length(text: str) -> Figure:
    asked = quantity(text)
    return constant(asked.number * float(asked.factor), str(asked.base))


def record(kind: type[Any], **given: Any) -> Any:
    """A record with these of its keys, as if a catalogue had been read."""
    fields = {name: field.default for name, field in kind.model_fields.items()}
    figures = {
        key: length(value) if str(value)[:1].isdigit() and " " in str(value) else value
        for key, value in given.items()
    }
    return kind.model_construct(**fields | figures)


def cut(
    shape: dict[str, str],
    zone: Mapping[str, str] | None = None,
    area: str = "1 m2",
    trimmed: bool = True,
    policy: dict[str, str] | None = None,
    others: Sequence[dict[str, str]] = (),
    **glass: str,
) -> Cut:
    """How a ply is cut from a roll 1.25 m wide, unless told otherwise."""
    direction = glass.pop("direction", None)
    told = {"form": "mat", "roll_width": "1.25 m"} | glass
    own = record(Zone, name="all", laminate="stack", **(zone or {}))
    found = cut_of(
        record(Policy, **(policy or {})),
        record(Shape, **shape),
        [own, *(record(Zone, name="other", laminate="stack", **other) for other in others)],
        own,
        record(Glass, **{k: v for k, v in told.items() if v}),
        record(Ply, glass="glass", direction=direction),
        length(area),
        trimmed=trimmed,
    )
    assert found is not None
    return found


def sizes(found: Cut) -> tuple[float, ...]:
    """Pieces, width and length, and across and along the roll, in mm."""
    sides = (found.width, found.length, found.across, found.along)
    return (
        found.pieces.value,
        *(round(1000 * side.value, 3) for side in sides if side is not None),
    )


REST = {"share": Text("the rest")}
DOOR = {"width": "720 mm", "height": "840 mm", "corner_radius": "90 mm"}
LONG = {"width": "2.4 m", "height": "1.5 m"}


def test_a_rectangle_in_the_open_has_its_trim_on_both_sides() -> None:
    found = cut(DOOR)
    assert (found.form, found.turns) == ("rectangle", True)
    assert sizes(found) == (1, 770, 890, 770, 890)
    assert sizes(cut(DOOR, policy={"ply_trim": "10 mm"})) == (1, 740, 860, 740, 860)


def test_what_an_edge_strip_leaves_is_cut_as_a_rectangle_within_it() -> None:
    found = cut(DOOR, REST, others=[{"strip": "60 mm"}], trimmed=False)
    assert (found.form, sizes(found)) == ("rectangle", (1, 600, 720, 600, 720))
    two = [{"strip": "60 mm"}, {"area": "0.1 m2"}]
    assert cut(DOOR, REST, others=two).form == "contour"
    beside = [{"strip": "60 mm", "lies": "outside"}]
    assert cut(DOOR, REST, others=beside).form == "contour"


def test_the_kit_of_a_closed_mould_is_cut_without_trim() -> None:
    assert sizes(cut(DOOR, trimmed=False)) == (1, 720, 840, 720, 840)


def test_a_circle_takes_the_square_around_it() -> None:
    found = cut({"diameter": "500 mm"})
    assert found.form == "circle"
    assert sizes(found) == (1, 550, 550, 550, 550)


@pytest.mark.parametrize(
    ("shape", "zone"),
    [
        ({"area": "0.4 m2", "perimeter": "3 m"}, {}),
        (DOOR, {"area": "0.4 m2"}),
        (DOOR | {"area": "0.5 m2"}, {}),
        (DOOR, {"share": "0.6"}),
    ],
)
def test_what_is_known_by_its_area_alone_is_cut_on_the_machine(
    shape: dict[str, str], zone: dict[str, str]
) -> None:
    found = cut(shape, zone)
    assert found.form == "contour"
    assert sizes(found) == (1,)


def test_a_strip_longer_than_the_roll_is_wide_is_cut_in_lapped_lengths() -> None:
    """3 m round: three lengths of 1 m and a lap of 50 mm each; 95 mm and the trim wide."""
    found = cut(DOOR, {"strip": "95 mm"}, area="0.285 m2")
    assert found.form == "strip"
    assert sizes(found) == (3, 120, 1050, 120, 1050)
    assert sizes(cut(DOOR, {"strip": "95 mm"}, "0.285 m2", overlap="250 mm"))[:3] == (3, 120, 1250)
    own = cut(DOOR, {"strip": "95 mm"}, "0.285 m2", policy={"ply_overlap": "40 mm"})
    assert sizes(own)[:3] == (3, 120, 1040)


def test_what_has_no_roll_width_is_told_whole() -> None:
    assert sizes(cut(DOOR, {"strip": "95 mm"}, "0.285 m2", roll_width=""))[:3] == (1, 120, 3050)
    assert sizes(cut(LONG, trimmed=False, roll_width=""))[:3] == (1, 1500, 2400)


def test_a_piece_wider_than_the_roll_is_cut_in_lapped_widths_that_take_less_glass() -> None:
    """1.5 by 2.4 m: two widths of 775 by 2400 mm take 3.72 m2, two of 1225 by 1500 mm 3.675 m2."""
    found = cut(LONG, trimmed=False)
    assert sizes(found) == (2, 1225, 1500, 1225, 1500)


def test_a_direction_holds_woven_glass_and_not_mat() -> None:
    along, across = cut(DOOR, form="woven", direction="0"), cut(DOOR, form="woven", direction="90")
    assert (along.turns, sizes(along)) == (False, (1, 770, 890, 770, 890))
    assert (across.turns, sizes(across)) == (False, (1, 770, 890, 890, 770))
    assert cut(DOOR, form="woven").turns
    assert cut(DOOR, form="mat", direction="90").turns


def test_a_directed_piece_wider_than_the_roll_is_divided_across_it() -> None:
    """Across, 2.4 m take two widths of (2.4 + 0.05) / 2 m; along, the 1.5 m take two of 775 mm."""
    found = cut(LONG, trimmed=False, form="stitched", direction="90")
    assert sizes(found) == (2, 1500, 1225, 1225, 1500)
    found = cut(LONG, trimmed=False, form="stitched", direction="0")
    assert sizes(found) == (2, 775, 2400, 775, 2400)


def test_a_piece_at_45_degrees_takes_the_square_around_it() -> None:
    """(770 + 890) / sqrt 2 = 1173.8 mm; larger ones are divided until the square fits the roll."""
    found = cut(DOOR, form="woven", direction="45")
    assert sizes(found) == (1, 770, 890, 1173.797, 1173.797)
    found = cut(LONG, trimmed=False, form="woven", direction="45")
    assert found.across is not None
    assert found.pieces.value == 6
    assert found.across.value <= 1.25


def test_a_lap_is_no_more_than_half_a_narrow_tape() -> None:
    found = cut(DOOR, {"strip": "45 mm"}, "0.135 m2", trimmed=False, roll_width="60 mm")
    assert found.pieces.value == 100
    assert sizes(found)[1:3] == (45, 60)


def test_what_is_sprayed_is_not_cut() -> None:
    zone, ply = record(Zone, name="all", laminate="stack"), record(Ply, glass="glass")
    glass, shape = record(Glass, form="gun roving"), record(Shape, **DOOR)
    assert (
        cut_of(record(Policy), shape, [zone], zone, glass, ply, length("1 m2"), trimmed=True)
        is None
    )
