"""List prices: recommended by the policy, or as published; and what a sale at them leaves."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.figures.graph import in_order
from quoter.pricing.margin import ROUNDING
from quoter.pricing.price import Priced
from quoter.problems import CatalogueError
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue
from tests.demo import demo, everything_priced

CLOSE = 1e-12
PROVISIONS, TARGET, FLOOR, DEALER = 0.05, 0.30, 0.25, 0.20  # the demo's policy
BOOK = "date,model,option,list_price,note\n"


def unit_option(folder: Path, book: str = "", policy: tuple[str, str] | None = None) -> Priced:
    """The cost card's option, which costs 165.25, with a price book or another policy."""
    files = {"price_book.csv": BOOK + book} if book else {}
    changes = {"yard.yaml": policy} if policy else {}
    return priced(write_catalogue(folder, files, changes)).models[MODEL].options[OPTION]


def test_a_recommended_price_leaves_at_least_the_target_margin_where_it_rounds_up() -> None:
    assert demo().catalogue.yard.policy.rounding.direction == "up"
    for item in everything_priced():
        price = item.recommended.value
        net = price * (1 - DEALER)
        left = net * (1 - PROVISIONS) - item.assembly.cost.value
        assert left >= TARGET * net - 1e-9, item.assembly.name
        step_less = (price - 10) * (1 - DEALER)
        left = step_less * (1 - PROVISIONS) - item.assembly.cost.value
        assert left < TARGET * step_less, f"{item.assembly.name} could be 10 less"


def test_recommended_prices_are_multiples_of_the_step() -> None:
    for item in everything_priced():
        steps = item.recommended.value / 10
        assert steps == pytest.approx(round(steps), abs=1e-9), item.assembly.name


def test_the_price_book_outranks_the_recommendation() -> None:
    door = demo().models["weekender_86"].options["side_single"]
    assert (door.list_price.value, door.basis) == (4350.0, "price book 2026-09-01")
    assert door.recommended.value != door.list_price.value
    origin = door.list_price.args[0].origin
    assert origin is not None
    assert origin.place.file == "price_book.csv"


def test_an_option_that_is_not_in_the_book_takes_the_recommendation() -> None:
    hoist = demo().models["coastal_98"].options["ramp_hoist"]
    assert (hoist.list_price.value, hoist.basis) == (hoist.recommended.value, "recommended")


def test_a_price_for_one_model_outranks_one_for_all() -> None:
    ramp = {m: demo().models[m].options["side_ramp"] for m in ("coastal_98", "passage_120")}
    assert {m: option.list_price.value for m, option in ramp.items()} == {
        "coastal_98": 6490.0,
        "passage_120": 6590.0,
    }


@pytest.mark.parametrize("last", [MODEL, ""], ids=["model's later", "model's earlier"])
def test_a_model_s_own_price_stands_even_beside_a_newer_one_for_all(
    tmp_path: Path, last: str
) -> None:
    rows = [("2025-01-01", MODEL, 300), ("2025-01-01", "", 100)]
    rows += [("2026-01-01", last, 300 if last else 200)]
    book = "".join(f"{day},{model},{OPTION},{price} USD,\n" for day, model, price in rows)
    assert unit_option(tmp_path / "c", book).list_price.value == 300.0


def test_the_newest_published_price_in_force_counts(tmp_path: Path) -> None:
    rows = [("2025-01-01", 100), ("2026-01-01", 200), ("2026-06-01", 300)]
    book = "".join(f"{day},,{OPTION},{price} USD,\n" for day, price in rows)
    option = unit_option(tmp_path / "c", book)
    assert (option.list_price.value, option.basis) == (200.0, "price book 2026-01-01")


def test_a_boat_is_sold_at_the_price_its_model_states() -> None:
    boat = demo().models["open_68"].boat
    assert (boat.list_price.value, boat.basis) == (45900.0, "models.yaml")


def test_a_breach_of_the_floor_is_flagged_and_never_mended() -> None:
    roof = demo().models["open_68"].options["roof_panel"]
    assert [buyer.id for buyer in roof.breaches] == ["contract", "area"]
    assert roof.list_price.value == 2880.0
    assert roof.recommended.value > roof.list_price.value


def test_flags_say_what_the_margins_say() -> None:
    for item in everything_priced():
        for sale in item.sales.values():
            below = sale.margin_fraction.value < FLOOR
            assert (sale.breach.value, sale.holds.value) == (float(below), float(not below))


def test_a_margin_at_the_floor_holds(tmp_path: Path) -> None:
    """661 less 165.25 leaves exactly three quarters."""
    policy = "target_margin: {}\n  floor_margin: {}"
    change = (policy.format("20 %", "10 %"), policy.format("75 %", "75 %"))
    option = unit_option(tmp_path / "c", f"2026-01-01,,{OPTION},661 USD,\n", change)
    sale = option.sales["direct"]
    assert sale.margin_fraction.value == 0.75
    assert (sale.holds.value, sale.breach.value) == (1.0, 0.0)


def test_what_a_sale_leaves() -> None:
    for item in everything_priced():
        cost, variable = item.assembly.cost.value, item.assembly.variable.value
        for sale in item.sales.values():
            net = item.list_price.value * (1 - sale.buyer.discount.value)
            kept = net * (1 - PROVISIONS)
            assert sale.net.value == pytest.approx(net, rel=CLOSE)
            assert sale.margin.value == pytest.approx(kept - cost, rel=1e-9, abs=1e-9)
            assert sale.contribution.value == pytest.approx(kept - variable, rel=1e-9, abs=1e-9)
            assert sale.margin_fraction.value == pytest.approx((kept - cost) / net, rel=1e-9)
            fraction = sale.contribution_fraction.value
            assert fraction == pytest.approx((kept - variable) / net, rel=1e-9)
            assert sale.contribution.value >= sale.margin.value


# price, step, ending -> up, down, nearest; by hand
ROUNDED = [
    (4321.0, 10.0, 0.0, 4330.0, 4320.0, 4320.0),
    (4320.0, 10.0, 0.0, 4320.0, 4320.0, 4320.0),
    (4325.0, 10.0, 0.0, 4330.0, 4320.0, 4330.0),
    (4321.0, 100.0, 90.0, 4390.0, 4290.0, 4290.0),
    (4390.0, 100.0, 90.0, 4390.0, 4390.0, 4390.0),
    (4391.0, 100.0, 90.0, 4490.0, 4390.0, 4390.0),
    (40.0, 100.0, 90.0, 90.0, -10.0, 90.0),
    (19.9900001, 1.0, 0.99, 20.99, 19.99, 19.99),
    (-433.0, 10.0, 0.0, -430.0, -440.0, -430.0),
    (-435.0, 10.0, 0.0, -430.0, -440.0, -430.0),
    (0.1 * 3, 0.1, 0.0, 0.3, 0.3, 0.3),
]


@pytest.mark.parametrize(("price", "step", "ending", "up", "down", "nearest"), ROUNDED)
def test_rounding_directions(
    price: float, step: float, ending: float, up: float, down: float, nearest: float
) -> None:
    for direction, expected in (("up", up), ("down", down), ("nearest", nearest)):
        found = ROUNDING[direction](price, step, ending)
        assert found == pytest.approx(expected, abs=1e-9), direction


@pytest.mark.parametrize(
    ("direction", "expected"), [("up", 249.0), ("down", 149.0), ("nearest", 249.0)]
)
def test_a_policy_s_rounding_reaches_the_price(
    tmp_path: Path, direction: str, expected: float
) -> None:
    """165.25 at a margin of 20 % is 206.5625 before rounding."""
    policy = (
        "{step: 0.01 USD, direction: nearest}",
        f"{{step: 100 USD, direction: {direction}, ending: 49 USD}}",
    )
    option = unit_option(tmp_path / "c", policy=policy)
    assert option.list_price.value == expected
    behind = in_order([option.recommended])
    (exact,) = [figure for figure in behind if figure.key.endswith(".before_rounding")]
    assert exact.value == pytest.approx(206.5625, rel=CLOSE)


@pytest.mark.parametrize(
    ("book", "policy", "basis"),
    [
        (f"2026-01-01,,{OPTION},0 USD,\n", None, "price book 2026-01-01"),
        (
            "",
            ("step: 0.01 USD, direction: nearest", "step: 1000 USD, direction: down"),
            "recommended",
        ),
    ],
    ids=["published", "rounded away"],
)
def test_a_price_of_nothing_is_a_problem_not_a_crash(
    tmp_path: Path, book: str, policy: tuple[str, str] | None, basis: str
) -> None:
    with pytest.raises(CatalogueError) as caught:
        unit_option(tmp_path / "c", book, policy)
    assert str(caught.value) == (
        "options.yaml:2:5: 'unit' is listed at nothing on 'card' [zero-amount]\n"
        f"    see its list price ({basis}): it must not be 0"
    )
