"""Packages: options together for less than their sum, at a price rounded down."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from quoter.pricing.controls import controls_of, master
from quoter.pricing.price import Priced, Pricing
from quoter.problems import CatalogueError
from tests.catalogues.written import FOLDER, MODEL, priced
from tests.pricing.choices import chosen, model, option, yard

CLOSE = 1e-12
STEP = ("step: 0.01 USD", "step: 10 USD")
OPTIONS = option("door") + option("step", "most: 2") + option("rail")
BOOK = f"2026-01-01,,door,120 USD,\n2026-01-01,{MODEL},step,90 USD,\n"


def package(saving: str = "10 %", options: str = "door, step") -> str:
    return (
        f"  - {{id: duo, name: Door and step, text: Two of them., options: [{options}], "
        f"saving: {saving}}}\n"
    )


def duo(pricing: Pricing) -> Priced:
    return model(pricing).packages["duo"]


# Of 120 + 90 = 210: 189.00 at a saving of 10 % and so on; the step is 10.
@pytest.mark.parametrize(
    ("saving", "price"),
    [("10 %", 180.0), ("4.9 %", 190.0), ("0 %", 210.0), ("0.1 %", 200.0), ("50 %", 100.0)],
)
def test_a_package_costs_the_sum_less_its_saving_rounded_down(
    tmp_path: Path, saving: str, price: float
) -> None:
    made = yard(tmp_path / "c", OPTIONS, packages=package(saving), book=BOOK, policy=STEP)
    assert duo(made).list_price.value == price
    assert duo(made).basis == "package"


@pytest.mark.parametrize("direction", ["up", "nearest", "down"])
def test_whatever_the_policy_rounds_to_a_package_saves_at_least_what_it_says(
    tmp_path: Path, direction: str
) -> None:
    policy = ("step: 0.01 USD, direction: nearest", f"step: 7 USD, direction: {direction}")
    made = yard(tmp_path / "c", OPTIONS, packages=package("3 %"), policy=policy)
    apart = sum(model(made).options[id].list_price.value for id in ("door", "step"))
    price = duo(made).list_price.value
    assert price <= 0.97 * apart + 1e-9
    assert price > 0.97 * apart - 7
    assert price == pytest.approx(7 * round(price / 7), abs=1e-9)


def test_a_sum_that_is_whole_to_the_last_bit_is_not_rounded_a_step_down(tmp_path: Path) -> None:
    """200 less 10 % is 180, whatever binary fractions make of it."""
    book = "2026-01-01,,door,110 USD,\n2026-01-01,,step,90 USD,\n"
    made = yard(tmp_path / "c", OPTIONS, packages=package(), book=book, policy=STEP)
    assert duo(made).list_price.value == 180.0


def test_a_package_costs_what_its_options_do_element_by_element() -> None:
    made = priced(FOLDER / "year").models["dinghy"]
    both = made.packages["both"].assembly
    apart = [made.options[id].assembly for id in ("bench", "locker")]
    for whole, parts in (
        (both.cost, [one.cost for one in apart]),
        (both.mass, [one.mass for one in apart]),
        (both.all_hours, [one.all_hours for one in apart]),
    ):
        assert whole.value == pytest.approx(sum(part.value for part in parts), rel=CLOSE)
    for element, figure in both.elements.items():
        expected = sum(one.elements[element].value for one in apart if element in one.elements)
        assert figure.value == pytest.approx(expected, rel=CLOSE), element


def test_what_a_package_leaves_is_its_own_price_less_all_its_cost() -> None:
    """Bench 1010 and locker 660 less 10 % are 1503, hence 1500; a dealer pays 1200 of it."""
    made = priced(FOLDER / "year").models["dinghy"]
    both = made.packages["both"]
    assert both.list_price.value == 1500.0
    sale = both.sales["dealer"]
    assert sale.net.value == pytest.approx(1200.0, rel=CLOSE)
    cost = made.options["bench"].assembly.cost.value + made.options["locker"].assembly.cost.value
    assert sale.margin.value == pytest.approx(1200 * 0.95 - cost, rel=1e-9)
    assert sale.margin_fraction.value == pytest.approx((1200 * 0.95 - cost) / 1200, rel=1e-9)
    assert (sale.holds.value, sale.breach.value) == (1.0, 0.0)


def test_a_saving_that_eats_the_margin_is_flagged(tmp_path: Path) -> None:
    """Half price: what the options cost is more than the package brings."""
    made = yard(tmp_path / "c", OPTIONS, packages=package("50 %"))
    assert duo(made).breaches == [made.terms.buyers[0]]
    assert model(made).options["door"].breaches == []


def test_a_package_can_be_chosen_beside_options(tmp_path: Path) -> None:
    made = yard(tmp_path / "c", OPTIONS, packages=package(), book=BOOK, policy=STEP)
    assert set(model(made).extras) == {"door", "step", "rail", "duo"}
    found = chosen(made, duo=1, rail=1)
    rail = model(made).options["rail"]
    assert found.list_price.value == pytest.approx(1 + 180 + rail.list_price.value, rel=CLOSE)
    cost = duo(made).assembly.cost.value + rail.assembly.cost.value
    assert found.cost.value == pytest.approx(cost, rel=CLOSE)
    assert found.all_kept.value == 1.0
    assert master(controls_of(made.terms, model(made), found)).value == 1.0


def test_a_package_of_something_standard_is_not_offered() -> None:
    """The launch has the locker already."""
    models = priced(FOLDER / "year").models
    assert {id: list(made.packages) for id, made in models.items()} == {
        "dinghy": ["both"],
        "launch": [],
        "dream": ["both"],
    }


def test_a_package_rounded_down_to_nothing_is_a_problem(tmp_path: Path) -> None:
    policy = ("step: 0.01 USD, direction: nearest", "step: 1000 USD, direction: up")
    book = "2026-01-01,,door,300 USD,\n2026-01-01,,step,300 USD,\n"
    with pytest.raises(CatalogueError) as caught:
        yard(tmp_path / "c", OPTIONS, packages=package(), book=book, policy=policy)
    text = (tmp_path / "c" / "options.yaml").read_text(encoding="utf-8")
    line = text[: text.index("id: duo")].count("\n") + 1
    assert str(caught.value) == (
        f"options.yaml:{line}:5: 'duo' is listed at nothing on '{MODEL}' [zero-amount]\n"
        "    see its list price (package): it must not be 0"
    )


def test_a_package_may_hold_more_than_two(tmp_path: Path) -> None:
    made = yard(tmp_path / "c", OPTIONS, packages=package("10 %", "door, step, rail"))
    prices = [item.list_price.value for item in model(made).options.values()]
    cents = math.floor(round(0.9 * sum(prices) * 100, 6))
    assert duo(made).list_price.value == pytest.approx(cents / 100, rel=CLOSE)
