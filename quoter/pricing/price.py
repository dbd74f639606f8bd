"""List prices: recommended from cost by the policy, or as published in the price book.

A published price outranks the recommendation until someone publishes another. A margin below the
floor is flagged, never mended here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal

from babel.numbers import get_currency_precision

from quoter.catalogue.markets import DealerClass, Market, Rounding
from quoter.catalogue.options import Model, Option, Package
from quoter.catalogue.prices import Catalogue, published
from quoter.catalogue.tables import BookRow
from quoter.costing.assembly import Assembly, Recipe, Use, cost_assembly
from quoter.costing.rollup import Costing, ModelCost
from quoter.figures import Figure, constant, money_in, total
from quoter.phrases import phrase
from quoter.pricing.margin import ROUNDING, net_price, price_for_margin, rounded_down
from quoter.pricing.sale import Sale, Terms, sales, terms_of
from quoter.problems import Problems

BOAT = ""  # in the place of an option's id
PAIRED = "+"  # between the ids of an option and a hull colour; no id has one
RECOMMENDED = phrase("recommended")  # the basis of a price that nobody published


Key = tuple[str, str]  # model, and option or package, or BOAT


@dataclass(frozen=True, slots=True)
class MarketPrice:
    """A list price without tax in one market: as shown there, and in home currency.

    `basis` says where it comes from; `sales` what it leaves by class of buyer, in home currency.
    `at_home` is the home price it was exchanged from, if it was.
    """

    market: Market
    shown: Figure
    list_price: Figure
    basis: str
    sales: Mapping[str, Sale]
    at_home: Figure | None = None


@dataclass(frozen=True, slots=True)
class Priced:
    """A costed thing with its list price without tax and what each class of buyer leaves.

    `basis` says where the list price comes from: the price book's date, the model's line, or the
    recommendation.
    """

    assembly: Assembly
    recommended: Figure
    list_price: Figure
    basis: str
    sales: dict[str, Sale]
    option: Option | None = None

    @property
    def breaches(self) -> list[DealerClass]:
        """The classes of buyer at which the margin is below the floor."""
        return [sale.buyer for sale in self.sales.values() if sale.breach.value]


@dataclass(frozen=True, slots=True)
class ColourPair:
    """An option in another hull colour of its boat: what the colour changes in it.

    `option` is BOAT for all standard equipment. `surcharge` is what the catalogue charges for the
    pair on top of both prices, if it does.
    """

    option: str
    colour: str
    assembly: Assembly
    surcharge: Priced | None = None

    @property
    def id(self) -> str:
        """Names the pair among the ids of options."""
        return f"{self.option}{PAIRED}{self.colour}"


@dataclass(frozen=True, slots=True)
class PricedModel:
    """A model's boat, its options and its packages of options, by id, with prices.

    `pairs` are the options that another hull colour of this model changes.
    """

    model: Model
    boat: Priced
    options: dict[str, Priced]
    packages: dict[str, Priced] = field(default_factory=dict)
    offered_packages: tuple[Package, ...] = ()
    pairs: tuple[ColourPair, ...] = ()

    @property
    def boat_and_options(self) -> tuple[Priced, ...]:
        """All that has a costing of its own: packages are made of options."""
        return self.boat, *self.options.values()

    @property
    def everything(self) -> tuple[Priced, ...]:
        """All that has a price: the boat, its options and its packages."""
        return *self.boat_and_options, *self.packages.values()

    @property
    def extras(self) -> dict[str, Priced]:
        """What can be chosen: the options that are not standard on the model, and packages."""
        standard = self.model.standard
        options = {id: priced for id, priced in self.options.items() if id not in standard}
        return options | self.packages

    @property
    def surcharges(self) -> dict[str, Priced]:
        """What pairs of an option and a colour are charged, by the pair's id."""
        return {pair.id: pair.surcharge for pair in self.pairs if pair.surcharge is not None}


@dataclass(frozen=True, slots=True)
class Pricing:
    """The finished costing with prices: what every output reads.

    `in_markets` keeps the prices of each market, by its id, once `market_prices` was asked.
    """

    costing: Costing
    terms: Terms
    models: dict[str, PricedModel] = field(default_factory=dict)
    in_markets: dict[str, Mapping[Key, MarketPrice]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @property
    def catalogue(self) -> Catalogue:
        """The catalogue it was made from."""
        return self.costing.catalogue


def set_prices(costing: Costing) -> Pricing:
    """Price every base boat and option of a costing.

    Raises:
        CatalogueError: something is listed at nothing; a margin is a fraction of a price.
    """
    pricing, problems = prices_of(costing), Problems()
    for model in pricing.models.values():
        for priced in model.everything:
            if not priced.sales:
                place = priced.assembly.recipe.place
                what = f"'{priced.assembly.recipe.id}' is listed at nothing on '{model.model.id}'"
                problems.add(
                    place,
                    "zero-amount",
                    what,
                    f"see its list price ({priced.basis}): it must not be 0",
                )
    problems.stop_if_any()
    return pricing


def prices_of(costing: Costing) -> Pricing:
    """A costing with its prices, of which some may be nothing."""
    terms = terms_of(costing.catalogue.yard)
    models = {id: _model(costing, terms, model) for id, model in costing.models.items()}
    return Pricing(costing, terms, models)


def _model(costing: Costing, terms: Terms, cost: ModelCost) -> PricedModel:
    boat = _boat(costing, terms, cost)
    options = {
        id: _option(costing, terms, assembly, cost.model, costing.catalogue.records.options[id])
        for id, assembly in cost.options.items()
    }
    offered = _packages(costing, cost.model, options)
    packages = {str(p.id): _package(costing, terms, p, cost, options) for p in offered}
    pairs = tuple(_pairs(costing, terms, cost, options))
    return PricedModel(cost.model, boat, options, packages, tuple(offered), pairs)


def _pairs(
    costing: Costing, terms: Terms, cost: ModelCost, options: dict[str, Priced]
) -> Iterator[ColourPair]:
    """Every extra, and all standard equipment at once, in every colour that changes it."""
    standard = {*map(str, cost.model.standard)}
    for (option, colour), assembly in cost.recoloured.items():
        if option in standard or colour not in options or option not in {BOAT, *options}:
            continue
        record = options[option].option if option else None
        asked = [] if record is None else record.colour_surcharges
        price = next((each.list_price for each in asked if each.colour == colour), None)
        surcharge = None
        if price is not None and price.value:
            key = f"{assembly.recipe.key}.list_price"
            listed = price.named(key, phrase("{name}: surcharge", name=assembly.name))
            surcharge = _priced(costing, terms, assembly, listed, "options.yaml", record)
        yield ColourPair(option, colour, assembly, surcharge)


def _packages(costing: Costing, model: Model, options: dict[str, Priced]) -> list[Package]:
    """The packages whose every option the model offers and does not have as standard."""
    free = options.keys() - model.standard
    packages = costing.catalogue.records.packages.values()
    return [package for package in packages if free.issuperset(package.options)]


def _package(
    costing: Costing, terms: Terms, package: Package, cost: ModelCost, options: dict[str, Priced]
) -> Priced:
    """Options at the sum of their list prices less the saving, rounded down to the step.

    A colour among them recolours the others; the price asks no surcharge for that.
    """
    model, names = cost.model, [str(name) for name in package.options]
    inside = [options[name] for name in package.options]
    uses = [
        Use(i.assembly, constant(1.0), n.place)
        for i, n in zip(inside, package.options, strict=True)
    ]
    uses += [
        Use(assembly, constant(1.0), package.place)
        for (option, colour), assembly in cost.recoloured.items()
        if option in names and colour in names
    ]
    key, name = f"package.{model.id}.{package.id}", str(package.name)
    recipe = Recipe(str(package.id), key, name, package.place, uses=uses)
    assembly = cost_assembly(recipe, costing.rates)
    apart = total([item.list_price for item in inside], costing.rates.nothing)
    apart = apart.named(f"{key}.apart", phrase("{name}: list prices of its options", name=name))
    saved = saved_price(apart, package.saving, costing.catalogue.yard.policy.rounding)
    listed = saved.named(f"{key}.list_price", phrase("{name}: list price", name=name))
    return _priced(costing, terms, assembly, listed, "package")


def saved_price(apart: Figure, saving: Figure, rule: Rounding) -> Figure:
    """What a package costs whose options cost so much apart: less the saving, rounded down."""
    nothing = Figure(0.0, apart.unit)
    saved: Figure = rounded_down(net_price(apart, saving), rule.step, nothing)
    return saved


def _boat(costing: Costing, terms: Terms, cost: ModelCost) -> Priced:
    key, catalogue = cost.base.recipe.key, costing.catalogue
    row = published(catalogue, home_market(catalogue), str(cost.model.id), "")
    price = cost.model.list_price if row is None else row.list_price
    listed = price.named(f"{key}.list_price", phrase("{name}: list price", name=cost.model.name))
    basis = "models.yaml" if row is None else book_basis(row)
    return _priced(costing, terms, cost.base, listed, basis)


def _option(
    costing: Costing, terms: Terms, assembly: Assembly, model: Model, option: Option
) -> Priced:
    home = home_market(costing.catalogue)
    row = published(costing.catalogue, home, str(model.id), str(option.id))
    if row is None:
        return _priced(costing, terms, assembly, None, RECOMMENDED, option)
    key, name = assembly.recipe.key, assembly.name
    listed = row.list_price.named(f"{key}.list_price", phrase("{name}: list price", name=name))
    return _priced(costing, terms, assembly, listed, book_basis(row), option)


def _priced(
    costing: Costing,
    terms: Terms,
    assembly: Assembly,
    listed: Figure | None,
    basis: str,
    option: Option | None = None,
) -> Priced:
    key, name = assembly.recipe.key, assembly.name
    recommended = recommend(costing.catalogue, terms, assembly.cost, key, name)
    if listed is None:
        listed = recommended.named(f"{key}.list_price", phrase("{name}: list price", name=name))
    sold = sales(terms, listed, assembly.cost, assembly.variable, key, name) if listed.value else {}
    return Priced(assembly, recommended, listed, basis, sold, option)


def outputs_of(pricing: Pricing) -> list[Figure]:
    """Costs and prices of all that is priced: what everything else is computed from."""
    every = [item for model in pricing.models.values() for item in model.everything]
    return [figure for item in every for figure in (item.assembly.cost, item.list_price)]


def home_market(catalogue: Catalogue) -> str:
    """The id of the yard's first market."""
    return str(catalogue.yard.markets[0].id)


def book_basis(row: BookRow) -> str:
    """What a published price rests on, in words."""
    return phrase("price book {date}", date=row.date)


def recommend(catalogue: Catalogue, terms: Terms, cost: Figure, key: str, name: str) -> Figure:
    """The list price that leaves the target margin at the first dealer class, rounded by policy."""
    rule = catalogue.yard.policy.rounding
    price = price_for_margin(cost, terms.provisions, terms.target, terms.buyers[0].discount)
    price = price.named(
        f"{key}.before_rounding", phrase("{name}: list price before rounding", name=name)
    )
    ending = rule.ending if rule.ending is not None else constant(0.0, catalogue.currency)
    rounded: Figure = ROUNDING[rule.direction](price, rule.step, ending)
    return rounded.named(f"{key}.recommended", phrase("{name}: recommended list price", name=name))


def smallest_unit(currency: str) -> Decimal:
    """The smallest unit of a currency: 0.01, 1 or 0.001."""
    return Decimal(1).scaleb(-get_currency_precision(currency))


def rounded_amount(amount: Decimal, currency: str) -> Decimal:
    """An amount in whole smallest units, halves away from zero.

    >>> rounded_amount(Decimal("2.345"), "EUR"), rounded_amount(Decimal("-2.5"), "JPY")
    (Decimal('2.35'), Decimal('-3'))
    """
    return amount.quantize(smallest_unit(currency), ROUND_HALF_UP)


def public_amount(price: Figure, currency: str) -> Decimal:
    """A price of a currency as customers see it: in whole smallest units."""
    return rounded_amount(money_in(price, currency), currency)
