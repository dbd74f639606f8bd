"""A cost never becomes a public price, whatever function on the way returns one in its place."""

from __future__ import annotations

import dataclasses
import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from jinja2 import UndefinedError

from quoter.build import build
from quoter.catalogue.source import Text
from quoter.figures import Figure, constant
from quoter.pages import environment, money
from quoter.pages.environment import public_environment
from quoter.pages.public import (
    build_list,
    changes,
    compare,
    data,
    data_table,
    linked_data,
    sheet,
    site,
    views,
)
from quoter.pages.public.compare import OfferView
from quoter.pages.public.site import public_pages
from quoter.pages.public.views import DeliveryView, TaxView
from quoter.pricing import earlier, exchange, markets, price, public
from quoter.pricing.earlier import EarlierLists, earlier_lists
from quoter.pricing.markets import market_prices
from quoter.pricing.price import MarketPrice, Pricing, set_prices
from quoter.pricing.priced import price_catalogue
from quoter.pricing.public import (
    PublicPrice,
    price_list,
    public_measure,
)
from quoter.quotes import line_prices, offer
from quoter.quotes.draft import draft_of
from quoter.quotes.kept.inside import Approval
from quoter.quotes.request import read_request, sound_wish
from tests.pages.moving import BEGUN, moving
from tests.pages.variants import DELIVERED
from tests.pricing.public_prices import public as made

REQUEST = """\
market: home
model: skiff
language: en
date: 2026-05-01
prepared_by: Ilse
customer: {name: Jo}
"""
PROJECT = Path(__file__).resolve().parent.parent.parent
Made = tuple[Pricing, list[EarlierLists]]
Fake = Callable[..., Any]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A yard with two editions, a package, a charge for delivery and a market in pounds."""
    return moving(tmp_path_factory.mktemp("prices"), {"yard.yaml": DELIVERED})


@pytest.fixture(scope="module")
def yard(folder: Path) -> Made:
    pricing, _ = price_catalogue(folder, BEGUN)
    return pricing, earlier_lists(folder, pricing)


def cost_of(pricing: Pricing) -> Figure:
    return pricing.models["cutter"].boat.assembly.cost


def cents(figure: Figure) -> Decimal:
    """To the cent, as a price could be."""
    return Decimal(f"{figure.value:.2f}")


# A cost as the program could hand it on.
FORMS: dict[str, Callable[[Figure], object]] = {
    "figure": lambda cost: cost,
    "named as a price": lambda cost: cost.named("boat.cutter.list_price", "list price"),
    "float": lambda cost: cost.value,
    "decimal": cents,
}


def returns(cost: object) -> Fake:
    """A function that returns the cost whatever it is asked for."""
    return lambda *_, **__: cost


def returns_all(cost: object) -> Fake:
    """One that returns it as the price of everything."""

    def every(pricing: Pricing, market: Any, *_: object) -> dict[Any, Any]:
        return dict.fromkeys(market_prices(pricing, market), cost)

    return every


def returns_by_day(cost: object) -> Fake:
    """One that returns it as the price of everything on every day."""
    return lambda pricing, market, _, days: {
        day: returns_all(cost)(pricing, market) for day in days
    }


def returns_shown(cost: Any) -> Fake:
    """One that returns it as the list price there of everything."""

    def every(pricing: Pricing, market: Any) -> dict[Any, MarketPrice]:
        found = market_prices(pricing, market)
        return {key: dataclasses.replace(each, shown=cost) for key, each in found.items()}

    return every


def read_as(cost: object) -> Any:
    """A property that is the cost."""
    return property(lambda _: cost)


Step = tuple[object, str, Callable[[object], Any]]
# Every function that a price goes through from the pricing to the bytes of a page.
STEPS: list[Step] = [
    (public, "market_prices", returns_shown),
    (public, "untaxed_prices", returns_all),
    (public, "_list_price", returns),
    (public, "_rounded", returns),
    (public, "_price", returns),
    (public, "public_amount", returns),
    (public, "rounded_amount", returns),
    (public, "money_in", returns),
    (public, "plain_number", returns),
    (public, "public_price", returns),
    (public, "_as_listed", returns),
    (public, "stated_price", returns),
    (PublicPrice, "with_tax", returns),
    (PublicPrice, "__add__", returns),
    (PublicPrice, "__sub__", returns),
    (PublicPrice, "amount", read_as),
    (sheet, "price_list", returns_all),
    (earlier, "price_list", returns_all),
    (earlier, "listed_delivery", returns),
    (changes, "_prior_price", returns),
    (site, "shown_prices", returns_all),
    (sheet, "listed_delivery", returns),
    (sheet, "reduce", returns),
    (sheet.SheetSource, "price", returns),
    (views.ModelView, "cheapest", read_as),
    (compare, "total", returns),
    (changes.ChangedPrice, "difference", read_as),
    (environment, "_public_money", returns),
    (environment, "public_price", returns),
    (money, "money", returns),
    (data, "amount_text", returns),
    (data_table, "amount_text", returns),
    (linked_data._Offered, "_boat_price", lambda cost: returns((cost, {}))),
    (build_list, "_items", lambda cost: returns([{"price": cost}])),
    (build_list, "measure_text", returns),
    (data, "measure_text", returns),
    (data, "rate_text", returns),
    (environment, "_public_mass", returns),
    (money, "mass", returns),
]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("step", STEPS, ids=lambda step: f"{step[0].__name__}.{step[1]}")
def test_no_page_is_made_where_a_function_returns_a_cost_for_a_price(
    monkeypatch: pytest.MonkeyPatch, yard: Made, step: Step, form: str
) -> None:
    owner, name, fake = step
    pricing, past = yard
    monkeypatch.setattr(owner, name, fake(FORMS[form](cost_of(pricing))))
    with pytest.raises((TypeError, AttributeError, UndefinedError)):
        public_pages(pricing, past)


# Every function that a price of an earlier day goes through, to the list that a page is made from.
PAST: list[Step] = [
    (public, "market_prices", returns_shown),
    *((public, name, returns) for name in ("_list_price", "_rounded", "_price", "public_amount")),
    *((public, name, returns) for name in ("rounded_amount", "money_in", "_as_listed")),
    (public, "_untaxed", returns_all),
    (public, "_listed", returns_all),
    (earlier, "price_lists_by_day", returns_by_day),
    (earlier, "_shown", returns_all),
    (earlier, "listed_delivery", returns),
    (PublicPrice, "with_tax", returns),
]
DAYS_BEFORE = 3


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("step", PAST, ids=lambda step: f"{step[0].__name__}.{step[1]}")
def test_no_page_compares_with_a_cost_that_stands_for_a_price_of_an_earlier_day(
    monkeypatch: pytest.MonkeyPatch, folder: Path, yard: Made, step: Step, form: str
) -> None:
    owner, name, fake = step
    pricing, past = yard
    assert len(past) == DAYS_BEFORE

    def pages() -> dict[str, bytes]:
        with monkeypatch.context() as patched:
            patched.setattr(owner, name, fake(FORMS[form](cost_of(pricing))))
            found = earlier_lists(folder, pricing)
        return public_pages(pricing, found)

    with pytest.raises((TypeError, AttributeError)):
        pages()


# The same on the way to a list price, where figures are handed on; the cost is in euros.
MAKING: list[tuple[object, str, Callable[[Figure], Fake], str]] = [
    (price, "recommend", returns, "which is no price"),
    (price, "price_for_margin", returns, "which is no price"),
    (price, "saved_price", returns, "which is no price"),
    (exchange, "exchanged", lambda cost: lambda _, rate: cost * rate, "which is no price"),
    (markets, "exchanged_price", returns, "units differ"),
    (markets, "saved_price", returns, "is in EUR, not in NOK"),
]


def every_list(pricing: Pricing) -> int:
    """How many prices all markets show."""
    return sum(len(price_list(pricing, market)) for market in pricing.catalogue.yard.markets)


@pytest.mark.parametrize("step", MAKING, ids=lambda step: f"{step[0].__name__}.{step[1]}")
def test_a_list_price_that_is_made_of_a_cost_is_none(
    monkeypatch: pytest.MonkeyPatch,
    demo_pricing: Pricing,
    step: tuple[object, str, Callable[[Figure], Fake], str],
) -> None:
    owner, name, fake, words = step
    cost = demo_pricing.models["open_68"].boat.assembly.cost
    monkeypatch.setattr(owner, name, fake(cost))
    with pytest.raises(TypeError, match=words):
        every_list(set_prices(demo_pricing.costing))


def test_a_build_that_meets_a_cost_publishes_nothing_and_says_no_amount(
    monkeypatch: pytest.MonkeyPatch, folder: Path, tmp_path: Path, yard: Made
) -> None:
    cost = cost_of(yard[0])
    monkeypatch.setattr(sheet.SheetSource, "price", returns(cost.value))
    with pytest.raises(TypeError) as caught:
        build(folder, tmp_path / "site", tmp_path / "internal", BEGUN)
    assert str(caught.value) == "OptionView.price must not hold a float"
    assert list(tmp_path.iterdir()) == []


QUOTING: list[Step] = [
    (offer, "untaxed_prices", returns_all),
    (line_prices, "stated_price", returns),
    (offer._QuoteLines, "_price", returns),
    (line_prices, "public_price", returns),
]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("step", QUOTING, ids=lambda step: f"{step[0].__name__}.{step[1]}")
def test_no_line_of_a_quote_is_made_of_a_cost(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, yard: Made, step: Step, form: str
) -> None:
    owner, name, fake = step
    pricing, _ = yard
    (tmp_path / "request.yaml").write_text(REQUEST, encoding="utf-8")
    asked = read_request(tmp_path / "request.yaml")
    approval = Approval(name="Ilse", reason="a test of lines")
    draft = draft_of(pricing, sound_wish(asked, pricing), "", approval)
    assert [line.kind for line in draft.offer.lines if line.amount] == ["boat", "delivery"]
    monkeypatch.setattr(owner, name, fake(FORMS[form](cost_of(pricing))))
    with pytest.raises((TypeError, AttributeError)):
        draft_of(pricing, sound_wish(asked, pricing), "", approval)


WRONG: list[tuple[Callable[[Text], object], str]] = [
    (lambda _: DeliveryView("EXW", unchecked(Decimal(2))), "DeliveryView.price.*a Decimal"),
    (lambda _: DeliveryView("EXW", unchecked(2.0)), "DeliveryView.price.*a float"),
    (
        lambda _: DeliveryView("EXW", unchecked(constant(2.0, "EUR"))),
        "DeliveryView.price.*a Figure",
    ),
    (lambda _: DeliveryView("EXW", unchecked(None)), "DeliveryView.price.*a NoneType"),
    (lambda text: DeliveryView(text, made(2)), "DeliveryView.words must not hold a Text"),
    (lambda text: OfferView("a", text, False, None), "OfferView.name must not hold a Text"),
    (lambda _: OfferView("a", "b", unchecked(1), None), "OfferView.standard must not hold a int"),
    (lambda _: TaxView("VAT", unchecked(0.24)), "TaxView.rate must not hold a float"),
    (
        lambda _: views.GroupView("a", unchecked(["b"])),
        "GroupView.options must not hold a list",
    ),
    (
        lambda _: views.GroupView("a", unchecked(("b",))),
        "GroupView.options must not hold a tuple",
    ),
    (
        lambda _: changes.PastList(BEGUN, unchecked({("a", "b"): Decimal(2)})),
        "PastList.prices must not hold a dict",
    ),
]


def unchecked(value: Any) -> Any:
    """A value that a type checker lets pass, as it does a function put in another's place."""
    return value


@pytest.mark.parametrize(("make", "told"), WRONG)
def test_a_view_refuses_what_its_fields_are_not_declared_to_hold(
    small_pricing: Pricing, make: Callable[[Text], object], told: str
) -> None:
    text = small_pricing.catalogue.yard.company.name
    assert type(text) is Text
    with pytest.raises(TypeError, match=told):
        make(text)


PRINTED = [
    "{{ cost }}",
    "{{ price }}",
    "{{ decimal }}",
    "{{ decimal | money }}",
    "{{ cost | money }}",
    "{{ foreign | money }}",
    "{{ decimal | mass }}",
    "{{ mass | length }}",
    "{% trans cost %}costs {{ cost }}{% endtrans %}",
    "{% trans count=1, cost=decimal %}one, {{ cost }}{% pluralize %}{{ count }}, {{ cost }}"
    "{% endtrans %}",
]


@pytest.mark.parametrize("template", PRINTED)
def test_a_public_template_prints_no_amount_but_a_public_price(
    small_pricing: Pricing, template: str
) -> None:
    cost = cost_of(small_pricing)
    told = {"cost": cost, "decimal": cents(cost), "price": made(2), "foreign": made(2, "NOK")}
    mass = public_measure(small_pricing.models["cutter"].boat.assembly.mass)
    page = public_environment(Locale("en"), "EUR")
    with pytest.raises(TypeError):
        page.from_string(template).render(**told, mass=mass)
    sound = page.from_string("{% trans price=price | money %}now {{ price }}{% endtrans %}")
    assert sound.render(price=made(2)) == "now €2.00"


SNIPPET = """
from decimal import Decimal
from quoter.figures import Figure
from quoter.pages.public.compare import OfferView
from quoter.pages.public.views import DeliveryView
from quoter.pricing.public import PublicPrice

def views(cost: Figure, price: PublicPrice, amount: Decimal) -> None:
    OfferView("a", "b", False, price)
    OfferView("a", "b", False, cost)
    OfferView("a", "b", False, cost.value)
    DeliveryView("a", amount)
    DeliveryView("a", price + amount)
    PublicPrice(amount, "EUR")
"""


@pytest.mark.slow
def test_a_type_checker_refuses_a_cost_in_a_view(tmp_path: Path) -> None:
    path = tmp_path / "showing.py"
    path.write_text(SNIPPET, encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--no-error-summary", str(path)]
    said = subprocess.run(command, cwd=PROJECT, capture_output=True, text=True, check=False)
    assert (said.stderr, said.returncode) == ("", 1)
    assert [line.partition(".py:")[2] for line in said.stdout.splitlines()] == [
        '10: error: Argument 4 to "OfferView" has incompatible type "Figure"; '
        'expected "PublicPrice | None"  [arg-type]',
        '11: error: Argument 4 to "OfferView" has incompatible type "float"; '
        'expected "PublicPrice | None"  [arg-type]',
        '12: error: Argument 2 to "DeliveryView" has incompatible type "Decimal"; '
        'expected "PublicPrice"  [arg-type]',
        '13: error: Unsupported operand types for + ("PublicPrice" and "Decimal")  [operator]',
        '14: error: Too many arguments for "PublicPrice"  [call-arg]',
    ]
