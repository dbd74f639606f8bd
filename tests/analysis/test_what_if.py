"""Costs as terms that factors multiply, against catalogues written anew and costed from scratch."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoter.analysis.what_if import (
    WAGES,
    Factor,
    Movable,
    Moves,
    Term,
    WhatIf,
    movable_in,
    terms_of,
    what_if_of,
)
from quoter.catalogue.rises import announced_rises
from quoter.figures import at_least, constant
from quoter.pricing.price import BOAT, Pricing
from tests.catalogues.edited import SHAPES, SMALL
from tests.catalogues.written import priced, write_catalogue
from tests.demo import DEMO, demo
from tests.figures.made import an_input

CLASSES = (
    *("glass", "resin", "gelcoat", "catalyst", "foam"),
    *("hardware", "core", "consumable", "other"),
)
CURRENCIES = ("USD", "NOK", "GBP")
DEARER: dict[Factor, float] = {
    **{Factor("class", name): 0.8 + number / 10 for number, name in enumerate(CLASSES)},
    **{Factor("currency", code): 1.3 - number / 4 for number, code in enumerate(CURRENCIES)},
    WAGES: 1.08,
}
# A station that absorbs its overhead on the cost of labour: the overhead moves with the wages.
(ON_LABOUR_COST,) = (shape for shape in SHAPES if "base: labour cost" in shape.new)
BY_LABOUR_COST = {ON_LABOUR_COST.file: (ON_LABOUR_COST.old, ON_LABOUR_COST.new)}
QUANTITY = re.compile(r"(?P<number>[\d.]+)(?P<unit>[^\[]*?) *(?:\[.*\])?")


def scaled(text: str, factor: float) -> str:
    """A quantity's number times a factor, without its range."""
    found = QUANTITY.fullmatch(text)
    assert found, text
    return f"{Decimal(found['number']) * Decimal(factor):f}{found['unit']}"


def rewritten(path: Path, column: str, by: str, factors: Mapping[str, float]) -> str:
    """A table with a column of numbers scaled by the factor of what another column says."""
    with path.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0], lineterminator="\n")
    writer.writeheader()
    for row in rows:
        writer.writerow(row | {column: scaled(row[column], factors.get(row[by], 1.0))})
    return out.getvalue()


def moved(base: Path, today: Pricing, moves: Mapping[Factor, float], folder: Path) -> Pricing:
    """A catalogue whose every price, rate and wage was written anew, read and costed."""
    of = {(factor.kind, factor.id): level for factor, level in moves.items()}
    classes = today.costing.rates.classes
    prices = {id: of.get(("class", name), 1.0) for id, name in classes.items()}
    rates = {code: 1 / of.get(("currency", code), 1.0) for code in CURRENCIES}
    wages = {str(row.group): moves.get(WAGES, 1.0) for row in today.catalogue.records.wages}
    texts = {
        f"prices/{path.name}": rewritten(path, "price", "material", prices)
        for path in (base / "prices").glob("*.csv")
    }
    texts["exchange.csv"] = rewritten(base / "exchange.csv", "rate", "currency", rates)
    texts["wages.csv"] = rewritten(base / "wages.csv", "wage", "group", wages)
    return priced(write_catalogue(folder, texts, base=base))


def assert_foretold(what_if: WhatIf, moves: Moves, then: Pricing) -> None:
    """Every cost of the moved catalogue is what the terms of the old one say."""
    keys = [(id, option) for id, model in then.models.items() for option in (BOAT, *model.extras)]
    assert list(what_if.answers) == keys
    for (model, option), answer in what_if.answers.items():
        found = then.models[model]
        assembly = (found.extras[option] if option else found.boat).assembly
        assert answer.cost.at(moves) == pytest.approx(assembly.cost.value, rel=1e-9)
        assert answer.variable.at(moves) == pytest.approx(assembly.variable.value, rel=1e-9)


def test_the_demonstration_moves_as_the_terms_say(tmp_path: Path) -> None:
    what_if = what_if_of(demo())
    then = moved(DEMO, demo(), DEARER, tmp_path / "c")
    assert_foretold(what_if, DEARER, then)
    boat, was = then.models["weekender_86"].boat, demo().models["weekender_86"].boat
    assert boat.assembly.cost.value > 1.01 * was.assembly.cost.value


def test_the_demonstration_is_exact_and_all_that_it_uses_can_move() -> None:
    what_if = what_if_of(demo())
    assert what_if.exact
    assert what_if.error < 1e-8
    kinds = {
        kind: {f.id for f in what_if.factors if f.kind == kind} for kind in ("class", "currency")
    }
    assert kinds == {
        "class": set(demo().costing.rates.classes.values()),
        "currency": {"USD", "NOK"},
    }
    assert WAGES in what_if.factors


def test_today_the_terms_add_up_to_the_costs() -> None:
    assert_foretold(what_if_of(demo()), {}, demo())


LEVEL = st.floats(0.5, 2.0)


@settings(deadline=None, derandomize=True, database=None, max_examples=25)
@given(
    classes=st.fixed_dictionaries({}, optional=dict.fromkeys(CLASSES, LEVEL)),
    currency=LEVEL,
    wages=LEVEL,
    by_labour_cost=st.booleans(),
)
def test_any_move_of_everything_at_once_is_what_costing_anew_gives(
    classes: dict[str, float], currency: float, wages: float, by_labour_cost: bool
) -> None:
    moves = {Factor("class", name): level for name, level in classes.items()}
    moves |= {Factor("currency", "GBP"): currency, WAGES: wages}
    with TemporaryDirectory() as kept:
        changes = BY_LABOUR_COST if by_labour_cost else {}
        base = write_catalogue(Path(kept) / "base", {}, changes, base=SMALL)
        today = priced(base)
        what_if = what_if_of(today)
        assert what_if.exact
        assert_foretold(what_if, moves, moved(base, today, moves, Path(kept) / "moved"))


def wages_in(terms: tuple[Term, ...]) -> float:
    return sum(term.amount for term in terms if term.factors == (WAGES,))


def test_overhead_absorbed_on_labour_cost_moves_with_the_wages(tmp_path: Path) -> None:
    by_hours = what_if_of(priced(SMALL))
    by_cost = what_if_of(priced(write_catalogue(tmp_path / "c", {}, BY_LABOUR_COST, base=SMALL)))
    more = [
        wages_in(answer.cost.terms) / wages_in(by_hours.answers[key].cost.terms)
        for key, answer in by_cost.answers.items()
    ]
    assert min(more) >= 1.0
    assert max(more) > 1.1


def test_fixed_overhead_is_in_the_full_cost_only() -> None:
    for answer in what_if_of(demo()).answers.values():
        variable = {term.factors: term.amount for term in answer.variable.terms}
        for term in answer.cost.terms:
            if term.factors == (WAGES,):
                assert 0 < variable[term.factors] < term.amount
            else:
                assert variable[term.factors] == pytest.approx(term.amount)
        assert answer.variable.rest < answer.cost.rest


RISES = """\
date,supplier,family,by,effective,state,note
2026-01-10,morgat,coats,8 %,2026-04-01,announced,
2026-01-12,brisk,polyesters,0.25 EUR/kg,2026-04-15,announced,
"""


def test_an_announced_rise_that_holds_adds_to_the_price_of_today(tmp_path: Path) -> None:
    """Written into the price list it gives the same costs; a move of the class comes on top."""
    text = (SMALL / "materials.yaml").read_text("utf-8")
    for id, family in (("hand_resin", "polyesters"), ("green", "coats")):
        text, count = re.subn(rf"(- id: {id}\n(\s+))", rf"\1family: {family}\n\2", text)
        assert count == 1
    files = {"materials.yaml": text, "rises.csv": RISES}
    today = priced(write_catalogue(tmp_path / "c", files, base=SMALL))
    what_if = what_if_of(today)
    assert [str(rise.row.family) for rise in what_if.rises.values()] == ["coats", "polyesters"]
    assert what_if.exact
    coat, resin = (Factor("rise", number) for number in what_if.rises)
    assert {coat, resin} <= set(what_if.factors)
    assert_foretold(what_if, {}, today)
    prices = tmp_path / "c" / "prices" / "2026-02-01.csv"
    text = prices.read_text("utf-8")
    # (3.35 + 0.25) x 1.2, 3.75 x 1.2 and 9.10 x 1.08
    for old, new in (("3.35 E", "4.32 E"), ("3.75 E", "4.50 E"), ("9.10 G", "9.828 G")):
        assert text.count(old) == 1
        text = text.replace(old, new)
    prices.write_text(text, "utf-8")
    moves = {Factor("class", "resin"): 1.2, coat: 1.0, resin: 1.0}
    assert_foretold(what_if, moves, priced(tmp_path / "c"))


# Where costs are not linear


def test_a_cost_that_is_not_linear_says_by_how_much() -> None:
    """A price times a wage: a rise of both by half is 2.25, of which a sum of terms has 2."""
    resin, price, wage = Factor("class", "resin"), an_input("4 EUR/kg"), an_input("5")
    movable = Movable({price: [((resin,), 1.0)]}, {price: (resin, {})}, {}, (wage,))
    crossed = price * constant(1.0, "kg") * wage
    straight = price * constant(1.0, "kg") + constant(1.0, "EUR") * wage
    kinked = at_least(price * constant(1.0, "kg"), constant(3.0, "EUR"))
    cross, line, kink = terms_of([crossed, straight, kinked], movable)
    assert (cross.rest, set(cross.terms)) == (-20.0, {Term((WAGES,), 20.0), Term((resin,), 20.0)})
    assert cross.error == pytest.approx(20 * (1.5 * 1.5 - 2.0))
    assert line.exact
    assert kink.error == pytest.approx(3.0 - 0.7 * 4.0)
    assert not cross.exact
    assert not kink.exact


def test_a_rate_counts_the_other_way_round() -> None:
    """A currency dearer by a quarter is a rate divided by 1.25."""
    foam, pound = Factor("class", "foam"), Factor("currency", "GBP")
    price, rate = an_input("10 EUR/kg"), an_input("2")
    landed = (price / rate * 1.1).named("landed", "landed")
    movable = Movable({landed: [((foam, pound), 1.0)]}, {price: (foam, {})}, {rate: pound})
    (terms,) = terms_of([landed * constant(3.0, "kg")], movable)
    assert terms.exact
    assert terms.at({foam: 1.2, pound: 1.25}) == pytest.approx(16.5 * 1.2 * 1.25)


def test_what_moves_is_every_price_rate_and_wage_in_force() -> None:
    catalogue = demo().catalogue
    rises = {str(number): rise for number, rise in enumerate(announced_rises(catalogue))}
    movable = movable_in(demo(), rises)
    assert set(movable.prices) == {row.price for row in catalogue.prices.values()}
    assert set(movable.rates) == {row.rate for row in catalogue.exchange.values()}
    assert set(movable.wages) == {row.wage for row in catalogue.wages.values()}
    assert len(movable.landed) == len(catalogue.prices) > 30
