"""Rules of the yard's policy for quotes, and of taxes that options name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.quoting import QuotePolicy
from quoter.catalogue.records import Records
from quoter.catalogue.source import Text
from quoter.problems import Problem, nearest, quoted

NEARLY = 1e-9


def check_quotes(records: Records) -> Iterator[Problem]:
    """Instalments make up the price, a clause that is named exists, and tax has a scheme."""
    if records.yard is None or records.yard.quotes is None:
        return
    policy = records.yard.quotes
    yield from _instalments(policy)
    clauses = [str(clause.id) for clause in records.yard.surcharges]
    if policy.surcharge is not None and policy.surcharge not in clauses:
        what = f"unknown surcharge clause {quoted(policy.surcharge)}"
        yield Problem(policy.surcharge.place, what, nearest(policy.surcharge, clauses))
    if not policy.schemes:
        hint = "list one, for example '- {id: domestic, charged: yes}'"
        yield Problem(policy.place, "the list of tax schemes is empty", hint)
    yield from _twice(scheme.id for scheme in policy.schemes)


def _instalments(policy: QuotePolicy) -> Iterator[Problem]:
    whole = sum(part.share.value for part in policy.deposits)
    if policy.deposits and abs(whole - 1) > NEARLY:
        what = f"the instalments make up {whole * 100:g} % of the price"
        last = policy.deposits[-1].share
        yield Problem(
            figure_place(last), what, "expected 100 % together, the last payment included"
        )


def check_taxes(records: Records) -> Iterator[Problem]:
    """A tax that an option names is one of some market's, or it would be charged nowhere."""
    if records.yard is None:
        return
    known = [str(tax.id) for market in records.yard.markets for tax in market.other_taxes]
    for market in records.yard.markets:
        yield from _twice(tax.id for tax in market.other_taxes)
    for option in records.options.values():
        if option.tax is not None and option.tax not in known:
            what = f"no market has a tax {quoted(option.tax)} in its other_taxes"
            yield Problem(option.tax.place, what, nearest(option.tax, known))


def _twice(ids: Iterable[Text]) -> Iterator[Problem]:
    first: dict[str, Text] = {}
    for id in ids:
        if id in first:
            hint = f"the first is at {first[str(id)].place.clickable}; every id must differ"
            yield Problem(id.place, f"id {quoted(id)} is used twice", hint)
        first.setdefault(str(id), id)
