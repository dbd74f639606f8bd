"""Rules of the yard: its policy, stations and moulds; its markets; what it says on quotes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from quoter.catalogue.certainty import KINDS, Certainty, repeated
from quoter.catalogue.checks_ids import every_record, figure_place
from quoter.catalogue.checks_options import CLASSES
from quoter.catalogue.checks_prices import not_offered, unknown_names
from quoter.catalogue.markets import Market
from quoter.catalogue.quoting import QuotePolicy, unknown_letters
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.catalogue.tables import BookRow
from quoter.catalogue.yard import Policy, Yard
from quoter.figures import Figure
from quoter.problems import Problem, nearest, quoted
from quoter.units import unit

HOURS_A_DAY = 24.0
_AND = {True: "and 'account'", False: "nor 'account'"}


def check_home_currency(records: Records) -> Iterator[Problem]:
    """Only a supplier's price, or one in a market of its own currency, may be foreign: all else
    adds up without a rate."""
    if records.home is None:
        return
    priced = {id(row) for rows in records.price_lists.values() for row in rows}
    priced |= {id(row) for row in (*records.exchange, *records.book, *records.rises)}
    for market in records.yard.markets if records.yard is not None else ():
        priced.add(id(market.rounding))
    for record in every_record(records):
        if id(record) in priced:
            continue
        for name in type(record).model_fields:
            for figure in _figures(getattr(record, name)):
                foreign = {*figure.unit.currencies} - {records.home}
                if foreign:
                    what = f"{sorted(foreign)[0]} where the home currency {records.home} belongs"
                    hint = f"write it in {records.home}; only price lists may be in others"
                    yield Problem(figure_place(figure), "wrong-currency", what, hint)


def _figures(value: Any) -> Iterator[Figure]:
    if isinstance(value, Figure):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _figures(inner)


def check_policy(records: Records) -> Iterator[Problem]:
    """Provisions and target margin must leave something of the price to carry the cost."""
    if records.yard is None:
        return
    yield from _policy_faults(records.yard.policy)
    yield from _held_faults(records.yard.policy)
    yield from _yard_lists(records.yard)


def _policy_faults(policy: Policy) -> Iterator[Problem]:
    taken = sum(p.fraction.value for p in policy.provisions) + policy.target_margin.value
    if taken >= 1:
        what = f"provisions and target margin take {taken * 100:g} % of the price"
        hint = "expected less than 100 % together, so that something is left to carry the cost"
        yield Problem(figure_place(policy.target_margin), "shares", what, hint)
    if policy.floor_margin.value > policy.target_margin.value:
        what = f"the floor margin of {policy.floor_margin.value * 100:g} % is above the target"
        hint = f"expected at most the target margin of {policy.target_margin.value * 100:g} %"
        yield Problem(figure_place(policy.floor_margin), "values-disagree", what, hint)
    if policy.fibre_fraction_low.value >= policy.fibre_fraction_high.value:
        what = "the lower fibre fraction is not below the upper one"
        yield Problem(
            figure_place(policy.fibre_fraction_low),
            "values-disagree",
            what,
            "for example 10 % and 30 %",
        )
    if policy.certainty is not None:
        yield from _certainty_faults(policy.certainty)

    if policy.building is not None:
        for word in policy.building.moves:
            if word not in CLASSES:
                what = f"unknown material class {quoted(word)}"
                yield Problem(word.place, "unknown-id", what, nearest(word, CLASSES))
    if (calendar := policy.shift_calendar) is not None:
        worked = calendar.shifts.value * calendar.hours.value
        if worked > HOURS_A_DAY:
            what = f"{calendar.shifts.value:g} shifts of {calendar.hours.value:g} h are no day"
            hint = "expected 24 h at most together"
            yield Problem(figure_place(calendar.hours), "values-disagree", what, hint)


def check_accounts(records: Records) -> Iterator[Problem]:
    """An account is told by its IBAN or by the country's own number, and not by both."""
    for each in records.yard.company.bank if records.yard is not None else ():
        told = [name for name in ("iban", "account") if getattr(each, name) is not None]
        if len(told) != 1:
            what = f"an account has {'both' if told else 'neither'} 'iban' {_AND[bool(told)]}"
            yield Problem(each.place, "choose-one", what, "write the number that its country uses")
        elif each.routing is not None and each.account is None:
            what = "'routing' stands beside an IBAN, which holds the bank's number"
            yield Problem(each.routing.place, "no-effect", what, "remove it")


def _certainty_faults(certainty: Certainty) -> Iterator[Problem]:
    for line, told, first in repeated(certainty):
        what = f"{quoted(told)} is listed twice"
        yield Problem(line.place, "written-twice", what, f"the first is at {first.place.clickable}")
    for line in certainty.ranges:
        if line.basis is not None and not KINDS[line.of].by_basis:
            what = f"a {line.of} is the same on every basis"
            hint = "remove 'basis:'; only times, dimensions and quantities go by it"
            yield Problem(line.place, "no-effect", what, hint)


def _held_faults(policy: Policy) -> Iterator[Problem]:
    """What holding stock costs needs a rate and a time; waste of one class has one price."""
    for name, figure, beside, other in (
        ("holding_rate", policy.holding_rate, "months_held", policy.months_held),
        ("months_held", policy.months_held, "holding_rate", policy.holding_rate),
    ):
        if figure is not None and other is None:
            what = f"'{name}' has no '{beside}' beside it"
            hint = f"add '{beside}:', since holding stock costs a rate a year times the months"
            yield Problem(figure_place(figure), "missing-key", what, hint)
    first: dict[str, str] = {}
    for disposal in policy.waste_disposal:
        name = str(disposal.material_class)
        if name in first:
            what = f"the disposal of {name} is written twice"
            yield Problem(disposal.place, "written-twice", what, f"the first is at {first[name]}")
        first.setdefault(name, disposal.place.clickable)


def check_suppliers(records: Records) -> Iterator[Problem]:
    """What an order costs is spread over the value of one, which must then be known."""
    for supplier in records.suppliers.values():
        asked = supplier.order_freight, supplier.minimum_order
        given = [figure for figure in asked if figure is not None]
        if given and supplier.order_value is None:
            what = f"'{supplier.id}' has a cost of each order, and no order to spread it over"
            hint = "add 'order_value:', the landed value of what is needed between two orders"
            yield Problem(figure_place(given[0]), "missing-key", what, hint)
        if supplier.order_value is not None and not given:
            what = f"'{supplier.id}' has the value of an order, and nothing that an order costs"
            hint = "add 'order_freight:' or 'minimum_order:', or remove 'order_value:'"
            yield Problem(figure_place(supplier.order_value), "no-effect", what, hint)


def _yard_lists(yard: Yard) -> Iterator[Problem]:
    for name, found in (("dealer_classes", yard.dealer_classes), ("markets", yard.markets)):
        if not found:
            what = f"the list of {name.replace('_', ' ')} is empty"
            yield Problem(yard.place, "empty", what, f"give at least one under '{name}:'")
        first: dict[str, Any] = {}
        for record in found:
            if record.id in first:
                hint = f"the first is at {first[record.id].clickable}; every id must differ"
                yield Problem(
                    record.id.place, "id-twice", f"id {quoted(record.id)} is used twice", hint
                )
            first.setdefault(str(record.id), record.id.place)


def check_stations(records: Records) -> Iterator[Problem]:
    """A station's overhead is divided by its capacity, so both must be on one base."""
    for station in records.stations.values():
        base, capacity = station.overhead.base, station.overhead.capacity
        by_cost = base == "labour cost"
        if (capacity.unit == unit("h")) == by_cost:
            what = f"station '{station.id}' absorbs on {base}, its capacity is in {capacity.unit}"
            money = records.home or "EUR"
            hint = f"write it in {money} of labour cost" if by_cost else "write it in h"
            yield Problem(figure_place(capacity), "wrong-unit", what, f"{hint} a year")


def check_wages(records: Records) -> Iterator[Problem]:
    """A wage of a group that no station has is never paid: a rise may be lost by a slip."""
    groups = {str(station.wage_group) for station in records.stations.values()}
    all_read = records.stations.keys() == records.named(("station",))
    if "station" in records.unread.kinds or not all_read:
        return
    for row in records.wages:
        if row.group not in groups:
            what = f"no station has the wage group {quoted(row.group)}"
            yield Problem(
                row.group.place, "no-effect", what, nearest(row.group, groups), warning=True
            )


def check_moulds(records: Records) -> Iterator[Problem]:
    """A mould that fetches more than it cost would pay for its parts."""
    for mould in records.moulds.values():
        if mould.salvage is None:
            continue
        spent = mould.cost.value
        if mould.refurbishment is not None:
            spent += mould.refurbishment.value
        if mould.salvage.value > spent:
            what = f"mould '{mould.id}' fetches more than was spent on it"
            hint = f"expected at most {spent:g} {mould.cost.unit}"
            yield Problem(figure_place(mould.salvage), "values-disagree", what, hint)


def check_markets(records: Records) -> Iterator[Problem]:
    """The home market sells in home currency; another currency needs a rounding of its own."""
    if records.yard is None or records.home is None:
        return
    markets = records.yard.markets
    if markets and not any(market.published for market in markets):
        what = "no market has a price sheet: every one is 'published: no'"
        yield Problem(markets[0].place, "empty", what, "leave 'published' out of one")
    for index, market in enumerate(markets):
        currency = str(market.currency or records.home)
        foreign = currency != records.home
        if foreign and index == 0 and market.currency is not None:
            what = f"the home market '{market.id}' sells in {currency}"
            hint = f"prices are kept in {records.home}: list the home market first"
            yield Problem(market.currency.place, "wrong-currency", what, hint)
        if foreign and market.rounding is None:
            what = f"market '{market.id}' does not say how it rounds prices in {currency}"
            hint = f"add for example 'rounding: {{step: 10 {currency}, direction: up}}'"
            yield Problem(market.place, "missing-key", what, hint)
        yield from _rounding_faults(market, currency)


def _rounding_faults(market: Market, currency: str) -> Iterator[Problem]:
    rule = market.rounding
    for figure in (rule.step, rule.ending) if rule is not None else ():
        if figure is not None and figure.unit.currencies != (currency,):
            found = " and ".join(figure.unit.currencies)
            what = f"market '{market.id}' rounds in {found}"
            yield Problem(
                figure_place(figure),
                "wrong-currency",
                what,
                f"write it in {currency}, its currency",
            )


def check_price_book(records: Records) -> Iterator[Problem]:
    """A published price is of an option that exists, or of a boat, in the currency of its market.

    Of a boat it names the model, since no two boats are one price list line.
    """
    for row in records.book:
        yield from unknown_names(records, row.model, row.option)
        yield from not_offered(records, row.model, row.option)
        if not row.option and not row.model:
            what = "a price of neither a model nor an option"
            yield Problem(
                row.place, "choose-one", what, "name a model for the boat itself, or an option"
            )
        if records.yard is not None and records.home is not None:
            yield from _currency_faults(records.yard, records.home, row)


def _currency_faults(yard: Yard, home: str, row: BookRow) -> Iterator[Problem]:
    markets = {str(market.id): market for market in yard.markets}
    if row.market and row.market not in markets:
        what = f"unknown market {quoted(row.market)}"
        yield Problem(row.market.place, "unknown-id", what, nearest(row.market, markets))
        return
    allowed = {home}
    if row.market and (own := markets[row.market].currency) is not None:
        allowed = {str(own)}
    for foreign in sorted({*row.list_price.unit.currencies} - allowed):
        if row.market:
            what = f"{foreign} in the market '{row.market}', which sells in {min(allowed)}"
            hint = f"write it in {min(allowed)}"
        else:
            what = f"{foreign} where the home currency {home} belongs"
            hint = f"write it in {home}; only price lists may be in others"
            if any(market.currency == foreign for market in yard.markets):
                hint = f"write it in {home}, or name the market that sells in {foreign}"
        yield Problem(figure_place(row.list_price), "wrong-currency", what, hint)


NEARLY = 1e-9


def check_quotes(records: Records) -> Iterator[Problem]:
    """Instalments make up the price, a clause that is named exists, and tax has a scheme."""
    if records.yard is None or records.yard.quotes is None:
        return
    policy = records.yard.quotes
    yield from _instalments(policy)
    clauses = [clause.id for clause in records.yard.surcharges]
    if policy.surcharge is not None and policy.surcharge not in clauses:
        what = f"unknown surcharge clause {quoted(policy.surcharge)}"
        yield Problem(
            policy.surcharge.place, "unknown-id", what, nearest(policy.surcharge, clauses)
        )
    if not policy.schemes:
        hint = "list one, for example '- {id: domestic, charged: yes}'"
        yield Problem(policy.place, "empty", "the list of tax schemes is empty", hint)
    yield from _twice(scheme.id for scheme in policy.schemes)
    yield from _delivery_terms(policy)


def _delivery_terms(policy: QuotePolicy) -> Iterator[Problem]:
    """Each term has letters of its own that its rules know, and says what it means."""
    yield from _twice((each.term for each in (policy.delivery, *policy.delivery_terms)), "term")
    for term in (policy.delivery, *policy.delivery_terms):
        yield from unknown_letters(term.term, term.edition)
    if policy.delivery.named_place is None:
        what = "the usual delivery names no place"
        yield Problem(policy.delivery.place, "missing-key", what, "add 'named_place'")
    for term in policy.delivery_terms:
        if term.words is None:
            what = f"nothing says what {quoted(term.term)} means for a boat"
            hint = "add 'words', a sentence for the customer"
            yield Problem(term.place, "missing-key", what, hint)


def check_approvers(records: Records) -> Iterator[Problem]:
    """Who may let a quote pass does so for classes of buyer that there are."""
    if records.yard is None:
        return
    classes = [buyer.id for buyer in records.yard.dealer_classes]
    for approver in records.yard.approvers:
        for id in approver.classes:
            if id not in classes:
                what = f"unknown dealer class {quoted(id)}"
                yield Problem(id.place, "unknown-id", what, nearest(id, classes))


def check_dealers(records: Records) -> Iterator[Problem]:
    """A dealer hands on a price sheet that there is, and says how to reach it."""
    if records.yard is None:
        return
    markets = {str(market.id): market for market in records.yard.markets}
    yield from _twice(dealer.id for dealer in records.yard.dealers)
    for dealer in records.yard.dealers:
        market = markets.get(str(dealer.market))
        if market is None:
            what = f"unknown market {quoted(dealer.market)}"
            yield Problem(dealer.market.place, "unknown-id", what, nearest(dealer.market, markets))
        elif not market.published:
            what = f"the market '{market.id}' has no price sheet: it is 'published: no'"
            hint = "name one that is published, or leave 'published' out of it"
            yield Problem(dealer.market.place, "values-disagree", what, hint)
        if not any((dealer.email, dealer.phone, dealer.website, dealer.address)):
            what = f"nobody who reads the copy for '{dealer.id}' can reach it"
            hint = "add an 'email', a 'phone', a 'website' or an 'address'"
            yield Problem(dealer.place, "missing-key", what, hint)


def _instalments(policy: QuotePolicy) -> Iterator[Problem]:
    whole = sum(part.share.value for part in policy.deposits)
    if policy.deposits and abs(whole - 1) > NEARLY:
        what = f"the instalments make up {whole * 100:g} % of the price"
        last = policy.deposits[-1].share
        yield Problem(
            figure_place(last), "shares", what, "expected 100 % together, the last payment included"
        )


def check_taxes(records: Records) -> Iterator[Problem]:
    """A tax that an option names is one of some market's, or it would be charged nowhere."""
    if records.yard is None:
        return
    known = [tax.id for market in records.yard.markets for tax in market.other_taxes]
    for market in records.yard.markets:
        yield from _twice(tax.id for tax in market.other_taxes)
    for option in records.options.values():
        if option.tax is not None and option.tax not in known:
            what = f"no market has a tax {quoted(option.tax)} in its other_taxes"
            yield Problem(option.tax.place, "unknown-id", what, nearest(option.tax, known))


def _twice(ids: Iterable[Text], kind: str = "id") -> Iterator[Problem]:
    first: dict[str, Text] = {}
    for id in ids:
        if id in first:
            hint = f"the first is at {first[id].place.clickable}; every {kind} must differ"
            yield Problem(id.place, "id-twice", f"{kind} {quoted(id)} is used twice", hint)
        first.setdefault(id, id)
