"""What the public templates see has no room for a cost, and nothing secret reaches the site."""

from __future__ import annotations

import dataclasses
import inspect
import io
import re
import types
import typing
import zipfile
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from babel import Locale

from quoter.catalogue.checks import every_record
from quoter.figures import Figure
from quoter.figures.exact import half_up
from quoter.pages.public import changes, compare, drawn_boats, drawn_views, view, views
from quoter.pages.public.sheet import sheet_view
from quoter.pages.public.site import public_pages
from quoter.pricing.price import Pricing, public_amount, rounded_amount
from quoter.pricing.public import PublicMeasure, PublicPrice

PLAIN = {str, Decimal, bool, int, date, type(None), PublicPrice, PublicMeasure}


def views_of(module: types.ModuleType) -> set[type]:
    """The views that a module defines for others."""
    classes = inspect.getmembers(module, inspect.isclass)
    return {
        view
        for name, view in classes
        if view.__module__ == module.__name__ and not name.startswith("_")
    }


DRAWN_VIEWS = views_of(drawn_views) | views_of(drawn_boats) | {view.Coordinates}
VIEWS = views_of(views) | DRAWN_VIEWS
# An earlier list is what changes are worked out from; no template is given one.
OTHER_VIEWS = (views_of(changes) | views_of(compare)) - {changes.PastList}
SECRET_WORDS = re.compile(
    r"cost|margin|contribution|net|supplier|note|place|origin|discount|buyer|figure"
)


def leaves(annotation: Any) -> Iterator[Any]:
    """The plain types an annotation is made of."""
    if typing.get_origin(annotation) in (tuple, types.UnionType, typing.Union):
        for inner in typing.get_args(annotation):
            yield from leaves(inner)
    elif annotation is not Ellipsis:
        yield annotation


def reachable(value: Any) -> Iterator[Any]:
    """A value and everything a template could reach from it."""
    yield value
    if dataclasses.is_dataclass(value) and type(value) not in PLAIN:
        for name in dir(type(value)):
            if not name.startswith("_"):
                yield from reachable(getattr(value, name))
    elif isinstance(value, tuple):
        for item in value:
            yield from reachable(item)


@pytest.mark.parametrize("view", sorted(VIEWS | OTHER_VIEWS, key=str))
def test_a_view_holds_plain_values_and_views_only(view: type) -> None:
    assert dataclasses.is_dataclass(view)
    parameters = vars(view)["__dataclass_params__"]
    assert parameters.frozen
    assert "__dict__" not in dir(view), "slots keep attributes from being added"
    for name, annotation in typing.get_type_hints(view).items():
        assert not SECRET_WORDS.search(name), f"{view.__name__}.{name}"
        assert set(leaves(annotation)) <= PLAIN | VIEWS | OTHER_VIEWS, f"{view.__name__}.{name}"


def test_the_check_of_annotations_sees_a_figure() -> None:
    assert set(leaves(tuple[str, ...] | Figure | None)) - PLAIN == {Figure}


def test_everything_a_template_can_reach_is_plain(small_pricing: Pricing) -> None:
    sheet = sheet_view(small_pricing, small_pricing.catalogue.yard.markets[0], Locale("en"))
    kinds = {type(value) for value in reachable(sheet)}
    # The yard charges no delivery and no surcharge, states no weeks, has no pictures and
    # no drawings, and all bears the usual tax.
    absent = {views.DeliveryView, views.LeadView, views.SurchargeView, views.TaxView}
    absent |= {views.PictureSize, views.PictureView} | DRAWN_VIEWS
    assert kinds == (PLAIN | VIEWS | {tuple}) - absent


@pytest.mark.parametrize("market", [0, 1])
def test_prices_are_the_list_prices_as_the_market_shows_them(
    small_pricing: Pricing, market: int
) -> None:
    home = small_pricing.catalogue.yard.markets[market]
    sheet = sheet_view(small_pricing, home, Locale("en"))
    assert sheet.taxed == (market == 0)

    def expected(price: Figure) -> Decimal:
        shown = public_amount(price, "EUR")
        tax = Decimal(repr(home.tax.value))
        return rounded_amount(shown * (1 + tax), "EUR") if sheet.taxed else shown

    for model in sheet.models:
        priced = small_pricing.models[model.id]
        assert model.price.amount == expected(priced.boat.list_price)
        shown = {option.id: option.price.amount for option in model.options}
        shown |= {package.id: package.price.amount for package in model.packages}
        assert shown == {id: expected(extra.list_price) for id, extra in priced.extras.items()}
    # Worked by hand: 440 EUR in the price book, 25 % tax on top.
    hatch = next(option for option in sheet.models[0].options if option.id == "hatch")
    assert hatch.price.amount == (Decimal("550.00") if market == 0 else Decimal("440.00"))


def test_rules_are_seen_from_both_sides_and_from_the_model(small_pricing: Pricing) -> None:
    sheet = sheet_view(small_pricing, small_pricing.catalogue.yard.markets[0], Locale("en"))
    skiff, cutter = ({option.id: option for option in model.options} for model in sheet.models)
    assert [other.id for other in skiff["hatch"].conflicts] == ["box"]
    assert [other.id for other in skiff["box"].conflicts] == ["hatch"]
    assert "side_door" not in skiff, "26 ft are longer than the skiff"
    (need,) = cutter["side_door"].needs
    assert (need.id, need.standard, need.offered) == ("cleats", True, True)
    assert [item.id for item in sheet.models[1].standard] == ["cleats"]
    assert [group.name for group in sheet.models[1].groups] == ["Openings", "Hatches", "Colour"]
    assert cutter["hatch"].most == 2
    assert [model.opened for model in sheet.models] == [False, True]
    assert sheet.models[0].cheapest == min(option.price for option in skiff.values())


def secret_numbers(pricing: Pricing) -> Iterator[float]:
    """Every amount of the costing that a customer must not see."""
    for model in pricing.models.values():
        for item in (model.boat, *model.options.values()):
            assembly = item.assembly
            yield from (assembly.cost.value, assembly.variable.value)
            yield from (element.value for element in assembly.elements.values())
            for sale in item.sales.values():
                yield from (sale.margin.value, sale.contribution.value)
                if sale.buyer.discount.value:
                    yield sale.net.value
    yield from (price.value for price in pricing.costing.rates.prices.values())


def secret_words(pricing: Pricing) -> Iterator[str]:
    records = pricing.catalogue.records
    for record in every_record(records):
        note = getattr(record, "note", None)
        if note and len(note) > len("(invented)"):
            yield str(note)
        for name in type(record).model_fields:
            value = getattr(record, name)
            while isinstance(value, Figure) and value.origin is None and value.args:
                value = value.args[0]
            if isinstance(value, Figure) and value.origin and len(value.origin.note) > 20:
                yield value.origin.note
    yield from (str(supplier.name) for supplier in records.suppliers.values())
    yield from (str(buyer.name) for buyer in pricing.terms.buyers)
    yield from (".yaml", ".csv", "price book", "recommended")


def unzipped(pages: Mapping[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """Every file, and those of a folder in one file each for itself."""
    for path, content in pages.items():
        if not path.endswith(".zip"):
            yield path, content
            continue
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            yield from ((name, archive.read(name)) for name in archive.namelist())


@pytest.mark.parametrize("fixture", ["small_pricing", "demo_pricing"])
def test_nothing_secret_is_in_the_bytes_of_the_site(
    fixture: str, request: pytest.FixtureRequest
) -> None:
    pricing: Pricing = request.getfixturevalue(fixture)
    pages = public_pages(pricing)
    own = re.compile(r"assets/[^/]+\.js\Z")  # the program's scripts, the same for every yard
    # Nothing in a workbook is deflated, so it is searched as it is.
    text = "\n".join(
        page.decode("utf-8", "replace") for path, page in unzipped(pages) if not own.search(path)
    )
    text = re.sub(r"prices(-local)?\.csv", "", text)  # the sheet's own tables
    html = "\n".join(page.decode("utf-8") for path, page in pages.items() if ".html" in path)
    words = re.sub(r' (?:d|x|y|width|height|viewBox|transform)="[^"]*"', "", html)
    shown = set(re.findall(r"\d+\.\d+", words.replace(",", "")))
    sheet = sheet_view(pricing, pricing.catalogue.yard.markets[0], Locale("en"))
    prices = {model.price.amount for model in sheet.models}
    prices |= {option.price.amount for model in sheet.models for option in model.options}
    assert {str(price) for price in prices} <= shown
    for value in secret_numbers(pricing):
        exact = abs(Decimal(repr(value)))
        cents = half_up(exact, 2)
        # Smaller ones also occur as masses, lengths and coordinates of drawings.
        if cents >= 20 and cents not in prices:
            assert not {str(exact), str(cents)} & shown, value
    for word in secret_words(pricing):
        assert word not in text, word


def test_the_search_for_secrets_would_find_one(small_pricing: Pricing) -> None:
    cost = small_pricing.models["cutter"].options["side_door"].assembly.cost.value
    assert cost in set(secret_numbers(small_pricing))
    words = set(secret_words(small_pricing))
    assert {"Brisk Chemicals Wholesale", "the gap is hard to hold", "agreed at the winter fair"} < (
        words
    )
