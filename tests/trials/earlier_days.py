"""Price lists of earlier days, replayed, against the catalogue costed anew on each of the days.

The tables are random: rates of nearly every day, wages, price lists from one supplier or another,
published prices of a market, a model or all that begin and are superseded, some of them nothing. At
first some of what is needed has no price yet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from quoter.pricing.earlier import EarlierLists, lists_on, priced_anew, shown_prices
from quoter.pricing.price import Pricing
from quoter.pricing.priced import price_catalogue
from tests.catalogues.written import FOLDER
from tests.pages.moving import moving
from tests.pages.variants import DELIVERED
from tests.trials.trial import Trial, Tried

FIRST = date(2026, 3, 1)
DAYS = [FIRST + timedelta(days=each) for each in range(40)]
WHOLE = DAYS[14]  # from this day on nothing is missing any more
OPTIONS = ("", "hatch", "box", "green", "cleats", "side_door")


def replayed_days(times: int) -> Tried:
    """Random tables, all their days at once."""
    tried = Tried()
    with TemporaryDirectory() as folder:
        for seed in range(times):
            random = Random(seed)
            yard = moving(Path(folder) / str(seed), {"yard.yaml": DELIVERED}, _tables(random))
            _compare(tried, yard, random, f"tables {seed}")
    return tried


def _compare(tried: Tried, folder: Path, random: Random, name: str) -> None:
    """From the last day, and from any other, as the days of a what-if are."""
    last, _ = price_catalogue(folder, DAYS[-1])
    records = last.catalogue.records
    anew = {day: priced for day in DAYS if (priced := priced_anew(records, day)) is not None}
    wanted = [_lists(priced) for priced in anew.values()]
    other = anew[random.choice([*anew])]
    for known in (last, other):
        found = lists_on(known, DAYS)
        days = [lists.until for lists in found]
        tried.expect(days == [*anew], f"{name}: priced on {days}, and anew on {[*anew]}")
        for one, each in zip(found, wanted, strict=False):
            on = f"from {known.catalogue.as_of} on {each.until}"
            tried.expect(one == each, f"{name}, {on}: {_differences(one, each)}")


def _lists(pricing: Pricing) -> EarlierLists:
    """What the lists of a day show that was costed and priced by itself."""
    catalogue = pricing.catalogue
    prices = {str(market.id): shown_prices(pricing, market) for market in catalogue.yard.markets}
    return EarlierLists(catalogue.as_of, catalogue.edition.version, prices)


def _differences(one: EarlierLists, other: EarlierLists) -> list[object]:
    return [
        (market, key, prices.get(key), price)
        for market, prices in one.prices.items()
        for key, price in other.prices[market].items()
        if prices.get(key) != price
    ]


def _tables(random: Random) -> Mapping[str, str]:
    """Dated rows; the last day has all that is needed."""
    tables = {
        "exchange.csv": _csv("date,currency,rate,note", _rates(random)),
        "wages.csv": _csv("date,group,wage,note", _wages(random)),
        "price_book.csv": _csv("date,market,model,option,list_price,note", _book(random)),
    }
    listed = (FOLDER / "small" / "prices" / "2026-02-01.csv").read_text("utf-8").splitlines()[1:]
    gap = random.choice(listed) if random.random() < 0.5 else ""
    head = "material,supplier,price,note"
    tables["prices/2026-02-01.csv"] = _csv(head, (row for row in listed if row != gap))
    for day in [*random.sample(DAYS[1:], 5), WHOLE]:
        rows = [_offer(random, row) for row in listed if day == WHOLE or random.random() < 0.3]
        if random.random() < 0.2 and day < WHOLE:  # two offers leave open which holds
            rows = [row for row in rows if not row.startswith("cleat,")]
            rows += ["cleat,morgat,16.10 GBP/each,", "cleat,brisk,17.20 EUR/each,"]
        tables[f"prices/{day}.csv"] = _csv(head, rows)
    return tables


def _csv(head: str, rows: Iterator[str] | Sequence[str]) -> str:
    return "\n".join([head, *dict.fromkeys(rows)]) + "\n"


def _offer(random: Random, row: str) -> str:
    """A line of a price list at another price, perhaps of the other supplier."""
    material, _, price, _ = row.split(",")
    amount, unit = price.split(" ")
    supplier, currency = random.choice([("brisk", "EUR"), ("morgat", "GBP")])
    moved = float(amount) * random.uniform(0.6, 1.6)
    return f"{material},{supplier},{moved:.4f} {currency}/{unit.partition('/')[2]},"


def _rates(random: Random) -> Iterator[str]:
    begun = random.choice([FIRST, *DAYS[:6]])
    for day in DAYS:
        if day >= begun and (day == WHOLE or random.random() < 0.8):
            yield f"{day},GBP,{random.uniform(0.7, 1.1):.4f} GBP/EUR,"


def _wages(random: Random) -> Iterator[str]:
    begun = random.choice([date(2026, 1, 1), *DAYS[:6]])
    for day in sorted({begun, *random.sample(DAYS, 6)}):
        if day >= begun:
            yield f"{day},hands,{random.uniform(19, 40):.2f} EUR/h,"


def _book(random: Random) -> Iterator[str]:
    """Published prices of the boats and options; a day or two nothing is asked for something."""
    told = set()
    for day in sorted(random.choices(DAYS[1:], k=random.choice([0, 4, 30]))):
        market, option = random.choice(["", "", "home", "abroad"]), random.choice(OPTIONS)
        models = ["cutter"] if option == "side_door" else ["skiff", "cutter"]
        model = random.choice([*models, ""] if option else models)
        free = random.random() < 0.05 and day < WHOLE
        amount = 0.0 if free else random.uniform(40, 900) * (1 if option else 60)
        if (day, market, model, option) not in told:
            told.add((day, market, model, option))
            currency = "GBP" if market == "abroad" else "EUR"
            yield f"{day},{market},{model},{option},{amount:.2f} {currency},"
            if free and (WHOLE, market, model, option) not in told:  # has a price again by then
                told.add((WHOLE, market, model, option))
                yield f"{WHOLE},{market},{model},{option},77.50 {currency},"


TRIALS = (
    Trial("earlier days", "Replayed lists are those of a day costed anew.", replayed_days, 6, 200),
)
